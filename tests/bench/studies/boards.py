"""How near are plans for boards of mixed sizes to the least that any plan can cost?"""

from __future__ import annotations

import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from unittest.mock import patch

from plangen.description import read_description
from plangen.design.build import make_design
from plangen.findings import Findings
from plangen.takeoff import stock_plans
from plangen.takeoff.cutting import Margins, Panel, Piece, Plan, Sawing, plan_boards
from plangen.takeoff.stock_plans import plan_stock
from tests.bench.studies.lengths import Dice
from tests.bench.study import Outcome, Study
from tests.cutting.verifier import check_sawn

PROJECTS = Path(__file__).parents[3] / "projects"
COLUMNS = ("jobs", "number", "pieces", "proved", "mean gap %", "worst gap %", "mean s", "worst s")
INCH = 16  # small units


@dataclass(frozen=True)
class Job:
    """What one call of the planner was asked."""

    pieces: Sequence[Piece]
    boards: Sequence[Panel]
    sawing: Sawing


def furniture(number: int, want: int, mixed: bool) -> Job:
    """A job of tables, cases and drawers, in sixteenths of an inch, from boards of our own invention.

    Paid by the surface; ``mixed`` boards are of nine sizes, two of them on the rack, the others of one.
    """
    dice = Dice(want * 1000 + number * 2 + mixed)
    rows: list[tuple[int, int, int]] = []
    while sum(row[2] for row in rows) < want:
        kind = dice.throw(1, 4)
        long, deep = dice.throw(20, 56) * INCH, dice.throw(10, 22) * INCH
        if kind == 1:  # a table
            rows += [
                (28 * INCH, dice.throw(28, 56), 4),
                (long, dice.throw(40, 72), 2),
                (deep, dice.throw(40, 72), 2),
            ]
        elif kind == 2:  # a case of solid sides, each glued up from two boards
            width = dice.throw(72, 88)
            rows += [(dice.throw(20, 46) * INCH, width, 4), (long, width, 4)]
        elif kind == 3:  # drawers
            high, count = dice.throw(40, 88), dice.throw(1, 4)
            rows += [(deep, high, 2 * count), (dice.throw(8, 24) * INCH, high, 2 * count)]
        else:  # slats
            rows += [(long, dice.throw(20, 40), dice.throw(3, 8))]
    pieces = [Piece(f"p{at}", long, wide, count) for at, (long, wide, count) in enumerate(rows)]
    widths, lengths = ((88, 116, 148), (72, 96, 120)) if mixed else ((116,), (96,))
    boards = [
        Panel(f"{wide} x {long}", long * INCH, wide, Fraction(wide * long))
        for wide in widths
        for long in lengths
    ]
    if mixed and number % 2:
        boards.append(Panel("rack", 60 * INCH, 92, Fraction(0), 2))
    return Job(pieces, boards, Sawing(2, Margins(18, 16)))


def of_project(name: str) -> Iterator[Job]:
    """The jobs that one of the example projects asks for."""
    findings = Findings()
    file = next((PROJECTS / name).glob("*.yaml"))
    description = read_description(file.read_bytes(), file.name, findings)
    assert description is not None
    solved = make_design(description, findings)
    assert solved is not None
    asked: list[Job] = []

    def noted(pieces: Sequence[Piece], boards: Sequence[Panel], sawing: Sawing) -> Plan:
        asked.append(Job(pieces, boards, sawing))
        return plan_boards(pieces, boards, sawing)

    with patch.object(stock_plans, "plan_boards", noted):
        used = dict.fromkeys(part.stock for part in solved.design.parts)
        for stock in used:
            if solved.design.stock[stock].kind == "solid":
                plan_stock(solved.design, solved.design.stock[stock], findings, None)
    yield from asked


def measured(name: str, jobs: Sequence[Job]) -> tuple[str, int, str, int, float, float, float, float]:
    """One row of the table; every plan is replayed cut by cut."""
    gaps, seconds, proved = [], [], 0
    for job in jobs:
        begun = time.process_time()
        plan = plan_boards(job.pieces, job.boards, job.sawing)
        seconds.append(time.process_time() - begun)
        check_sawn(plan, job.pieces, job.boards, job.sawing)
        gaps.append(100 * float(plan.cost / plan.least_cost - 1) if plan.least_cost else 0.0)
        proved += plan.proved
    sizes = [sum(piece.number for piece in job.pieces) for job in jobs]
    size, count = f"{min(sizes)} to {max(sizes)}", len(jobs)
    return name, count, size, proved, sum(gaps) / count, max(gaps), sum(seconds) / count, max(seconds)


def run(quick: bool) -> Outcome:
    """Cut jobs of our own and those of the projects."""
    count = 2 if quick else 6
    own = [
        measured(
            f"{want} pieces or so, {'nine sizes' if mixed else 'one size'}",
            [furniture(number, want, mixed) for number in range(count)],
        )
        for want in ((10, 30) if quick else (10, 20, 40, 60, 120))
        for mixed in (False, True)
    ]
    names = ("step-stool", "wall-cabinet") if quick else sorted(one.name for one in PROJECTS.iterdir())
    projects = [measured(name, list(of_project(name))) for name in names]
    rows = [*own, *projects]
    jobs = sum(row[1] for row in rows)
    mean = sum(row[1] * row[4] for row in rows) / jobs
    worst = max(row[5] for row in rows)
    return Outcome(
        COLUMNS,
        rows,
        f"{sum(row[3] for row in rows)} of {jobs} proved; mean gap {mean:.2f} %, worst {worst:.2f} %",
        "mean gap 5 %; a gap above a tenth only where one board more or less is all the difference",
        mean <= 5,
    )


STUDY = Study("boards", "how near are plans for boards of mixed sizes to the least that any can cost?", run)

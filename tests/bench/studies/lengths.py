"""How many plans of lengths are the best there can be, and are proved to be?"""

from __future__ import annotations

import json
import os
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

from plangen.takeoff.cutting import Margins, Panel, Piece, Plan, Sawing, plan_lengths
from tests.bench.study import Outcome, Study
from tests.cutting.verifier import check_sawn

DATA = Path(__file__).parents[2] / "data" / "packing"
ONE_LENGTH = ("falkenauer_u120", "falkenauer_t60", "falkenauer_t120", "schwerin", "scholl")
BEYOND = "hard28"  # more than 120 pieces, and made to be hard: told, but no part of the target
MARKDOWN = "PLANGEN_BENCH_MARKDOWN"  # a file that the rows are added to, where this is set
COLUMNS = ("set", "instances", "proved", "mean s", "worst s", "mean gap %", "worst gap %")
QUICK = 10
MASK = (1 << 64) - 1


@dataclass(frozen=True)
class Case:
    """One job; ``best`` is the published number of bars, where there is one."""

    name: str
    pieces: Sequence[Piece]
    bars: Sequence[Panel]
    sawing: Sawing
    best: int | None = None


class Dice:
    """SplitMix64: the same throws on every machine and every version of the language."""

    def __init__(self, seed: int) -> None:
        self.state = seed & MASK

    def throw(self, low: int, high: int) -> int:
        """A whole number from low to high."""
        self.state = (self.state + 0x9E3779B97F4A7C15) & MASK
        mixed = ((self.state ^ (self.state >> 30)) * 0xBF58476D1CE4E5B9) & MASK
        mixed = ((mixed ^ (mixed >> 27)) * 0x94D049BB133111EB) & MASK
        return low + (mixed ^ (mixed >> 31)) % (high - low + 1)


def published(name: str) -> Iterator[Case]:
    """The instances of one open set: one kind of bar, no kerf."""
    for case in json.loads((DATA / f"{name}.json").read_text())["bars"]:
        pieces = [Piece(f"p{size}", size, 1, number) for size, number in case["items"]]
        yield Case(case["name"], pieces, [Panel("bar", case["capacity"], 1)], Sawing(0), case["best"])


def priced(parts: int, alike: int, count: int) -> Iterator[Case]:
    """Jobs of our own: two to five lengths of bars, about 5.00 a metre, 3 mm of kerf, rough ends, mm.

    ``alike`` is how many pieces have the same length; some bars are few, and on some racks lies an
    off-cut that costs nothing.
    """
    for number in range(count):
        dice = Dice(parts * 1000 + alike * 100_000 + number)
        stock = sorted({300 * dice.throw(4, 16) for _ in range(dice.throw(2, 5))})
        bars = [
            Panel(
                f"{length}",
                length,
                1,
                Fraction(length * dice.throw(85, 115) // 200, 100),
                dice.throw(1, 4) if dice.throw(1, 6) == 1 and length != stock[-1] else None,
            )
            for length in stock
        ]
        if dice.throw(1, 4) == 1:
            bars.append(Panel("off-cut", dice.throw(400, 1100), 1, Fraction(0), 1))
        longest = min(stock[-1] - 40, 2000)
        pieces = [
            Piece(f"p{at}", dice.throw(150, longest), 1, min(alike, parts - at))
            for at in range(0, parts, alike)
        ]
        ends = dice.throw(0, 2) * 10
        yield Case(f"{parts}/{alike}/{number}", pieces, bars, Sawing(3, Margins(left=ends, right=ends)))


def solved(case: Case) -> tuple[Plan, float]:
    """A plan replayed cut by cut, and the CPU seconds it took."""
    begun = time.process_time()
    plan = plan_lengths(case.pieces, case.bars, case.sawing)
    taken = time.process_time() - begun
    assert plan is not None
    check_sawn(plan, case.pieces, case.bars, case.sawing)
    if case.best is not None:
        assert plan.bound.number <= case.best <= len(plan.layouts), case.name
    return plan, taken


def measured(name: str, cases: Sequence[Case]) -> tuple[str, int, int, float, float, float, float]:
    """One row of the table."""
    results = [solved(case) for case in cases]
    gaps = [float(plan.cost / plan.least_cost - 1) * 100 for plan, _ in results]
    seconds = [taken for _, taken in results]
    proved = sum(plan.proved for plan, _ in results)
    mean = sum(seconds) / len(results)
    return name, len(results), proved, mean, max(seconds), sum(gaps) / len(gaps), max(gaps)


def run(quick: bool) -> Outcome:
    """Cut all open instances and our own priced jobs; with ``quick`` one in ten."""
    step = QUICK if quick else 1
    one_length = [measured(name, list(published(name))[::step]) for name in ONE_LENGTH]
    beyond = measured(BEYOND, list(published(BEYOND))[::step])
    count = 4 if quick else 25
    of_own = [
        measured(f"priced, {parts} parts, {words}", list(priced(parts, alike, count)))
        for parts in (10, 20, 40, 60)
        for alike, words in ((1, "all different"), (4, "four alike"))
    ]
    rows = [*one_length, beyond, *of_own]
    target = os.environ.get(MARKDOWN)
    if target:
        with Path(target).open("a", encoding="utf-8") as file:
            file.write(markdown(rows))
    cases, proved = (sum(int(row[at]) for row in one_length) for at in (1, 2))
    jobs = sum(row[1] for row in of_own)
    mean = sum(row[1] * row[5] for row in of_own) / jobs
    worst = max(row[6] for row in of_own)
    return Outcome(
        COLUMNS,
        rows,
        f"one length: {proved} of {cases} proved; priced: mean gap {mean:.2f} %, worst {worst:.2f} %",
        "one length: 99 % proved; priced: 1 % on average, 3 % at most",
        100 * proved >= 99 * cases and mean <= 1 and worst <= 3,
    )


def markdown(rows: Sequence[Sequence[object]]) -> str:
    """The table in Markdown."""
    cells = [[f"{cell:.2f}" if isinstance(cell, float) else str(cell) for cell in row] for row in rows]
    lines = [list(COLUMNS), ["---"] * len(COLUMNS), *cells]
    return "".join(f"| {' | '.join(line)} |\n" for line in lines)


STUDY = Study("lengths", "how many plans of lengths are the best there can be, and proved?", run)

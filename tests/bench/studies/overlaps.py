"""Does anything on a part sheet lie over what it should keep clear of, whatever the part and the units?

Every sheet of every project, of every example of the reference and of cabinets made by chance, each in
inches, in millimetres and in both. A sheet that fits no scale and had to be shrunk counts too.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from plangen.drawing.part_sheets import PartSheet, part_sheet
from plangen.drawing.sheet.measure import overlaps
from plangen.findings.model import ProjectError
from plangen.pipeline import Checked
from plangen.units import LengthStyle
from tests.bench.study import Outcome, Study
from tests.outside.test_random_cabinets import built
from tests.part_sheets.everything import cabinets_by_chance, examples, projects

CABINETS, FEW = 200, 12
ROOM = (178.0, 150.0)  # mm, what a page of the booklet leaves for a sheet
STYLES = {"inch": LengthStyle(), "mm": LengthStyle("mm"), "both": LengthStyle("both")}


def sheets(made: Checked, systems: Iterable[str]) -> Iterator[tuple[str, PartSheet | None]]:
    """Draw every part; None where that was refused."""
    for system in systems:
        for part in made.design.parts:
            try:
                drawn = part_sheet(
                    made.design, made.solids, part, STYLES[system], width=ROOM[0], height=ROOM[1]
                )
            except ProjectError:
                yield system, None
                continue
            yield system, drawn


def run(quick: bool) -> Outcome:
    """Count over everything; a quick run takes few cabinets and every fifth example, each in one system."""
    made = {"projects": list(projects().values())[-2 if quick else 0 :]}
    made["examples"] = list(examples().values())[:: 5 if quick else 1]
    made["cabinets"] = [built(one.text) for one in cabinets_by_chance(FEW if quick else CABINETS)]
    rows: dict[tuple[str, str], list[int]] = {}
    for kind, all_made in made.items():
        for number, one in enumerate(all_made):
            systems = [list(STYLES)[number % 3]] if quick else list(STYLES)
            for system, drawn in sheets(one, systems):
                row = rows.setdefault((kind, system), [0, 0, 0, 0])
                row[0] += 1
                if drawn is None:
                    row[3] += 1
                else:
                    row[1] += overlaps(drawn.drawing).count
                    row[2] += not drawn.scale
    counts = [sum(row[place] for row in rows.values()) for place in range(4)]
    return Outcome(
        ("of", "in", "sheets", "overlaps", "shrunk", "refused"),
        [(*key, *row) for key, row in rows.items()],
        f"{counts[1]} overlaps, {counts[2]} sheets shrunk and {counts[3]} refused, of {counts[0]} sheets",
        "none",
        not any(counts[1:]),
    )


STUDY = Study("overlaps", "does anything on a part sheet lie over what it should keep clear of?", run)

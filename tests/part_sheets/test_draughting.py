"""What a draughtsman looks for: the grain shown, lines well apart, no leader through another, real bits."""

from __future__ import annotations

from functools import cache
from itertools import combinations

import pytest

from plangen.drawing.part_sheets import PartSheet, part_sheet
from plangen.drawing.part_sheets.figures import radius_figure
from plangen.drawing.part_sheets.ground import Ground, trace
from plangen.drawing.sheet.measure import FIGURE_SHARE
from plangen.drawing.sheet.model import Meaning, Stroke, Text
from plangen.solids import build_solids
from plangen.units import LengthStyle, inches, millimetres
from tests.part_sheets.pieces import hard_design

DESIGN = hard_design()
KEYS = [part.key for part in DESIGN.parts]


@cache
def sheet(key: str) -> PartSheet:
    solids = build_solids(DESIGN)
    return part_sheet(DESIGN, solids, DESIGN.part(key), LengthStyle(), width=178, height=200)


def dimension_lines(key: str) -> list[Stroke]:
    marks = sheet(key).drawing.marks
    return [m for m in marks if isinstance(m, Stroke) and m.meaning is Meaning.DIMENSION and not m.closed]


@pytest.mark.parametrize("key", KEYS)
def test_the_way_of_the_grain_is_shown_or_said(key: str) -> None:
    words = [
        mark.text for mark in sheet(key).drawing.marks if isinstance(mark, Text) and "grain" in mark.text
    ]
    assert len(words) == 1


@pytest.mark.parametrize("key", KEYS)
def test_dimension_lines_beside_each_other_stand_twice_the_height_of_a_figure_apart(key: str) -> None:
    figures = [m.size for m in sheet(key).drawing.marks if isinstance(m, Text) and m.role == "dimension"]
    least = 2 * min(figures) * FIGURE_SHARE
    for one, two in combinations(dimension_lines(key), 2):
        for along in (0, 1):
            a, b = sorted(p[along] for p in one.points), sorted(p[along] for p in two.points)
            level = {round(p[1 - along], 6) for p in (*one.points, *two.points)}
            parallel = len({round(p[1 - along], 6) for p in one.points}) == 1 and len(level) == 2
            if parallel and min(a[-1], b[-1]) - max(a[0], b[0]) > 0.01:
                assert max(level) - min(level) >= least - 1e-6, (one.group, two.group)


@pytest.mark.parametrize(
    ("radius", "system", "shown"),
    [("3.25", "mm", "3.25"), ("6.5", "mm", "6.5"), ("3.3", "mm", "3.5"), ("9/64", "inch", "9/64")],
)
def test_a_radius_is_half_of_a_real_bit(radius: str, system: str, shown: str) -> None:
    length = millimetres(radius) if system == "mm" else inches(radius)
    assert radius_figure(length, LengthStyle(system)) == shown  # type: ignore[arg-type]


def test_a_leader_across_a_leader_is_a_clash() -> None:
    ground = Ground()
    ground.put((Stroke(((0.0, 0.0), (10.0, 10.0)), Meaning.LEADER),))
    across = Stroke(((0.0, 10.0), (10.0, 0.0)), Meaning.LEADER)
    beside = Stroke(((20.0, 10.0), (30.0, 0.0)), Meaning.LEADER)
    assert [int(ground.clashes(trace((line,)))[0]) for line in (across, beside)] == [1, 0]

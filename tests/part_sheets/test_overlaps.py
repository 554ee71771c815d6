"""Nothing on a part sheet lies over what it should keep clear of: examples, and cabinets made by chance."""

from __future__ import annotations

from dataclasses import replace

import pytest

from plangen.drawing.part_sheets import part_sheet
from plangen.drawing.sheet.measure import overlaps
from plangen.drawing.sheet.model import Meaning, Stroke, Text
from plangen.pipeline import Checked
from plangen.units import LengthStyle
from tests.outside.test_random_cabinets import Cabinet, built
from tests.part_sheets.everything import cabinets_by_chance, examples

STYLES = (LengthStyle(), LengthStyle("mm"), LengthStyle("both"))


def troubles(made: Checked, style: LengthStyle) -> list[str]:
    """What is wrong with the sheets of a project, part by part."""
    found = []
    for part in made.design.parts:
        drawn = part_sheet(made.design, made.solids, part, style, width=178, height=150)
        over = overlaps(drawn.drawing)
        if over.count or drawn.clashes or not drawn.scale:
            found.append(f"{part.title} in {style.system}: {over}, at {drawn.scale or 'no scale'}")
    return found


@pytest.mark.parametrize("cabinet", cabinets_by_chance(24), ids=lambda one: f"{one.width}x{one.height}")
def test_nothing_overlaps_in_any_cabinet(cabinet: Cabinet) -> None:
    style = STYLES[(cabinet.width + cabinet.height) % 3]
    assert troubles(built(cabinet.text), style) == []


@pytest.mark.parametrize("third", range(3))
def test_nothing_overlaps_in_any_example(third: int) -> None:
    """Every example in one system; the study ``overlaps`` draws them all in all three."""
    found = {
        name: troubles(made, STYLES[(number + third) % 3])
        for number, (name, made) in enumerate(examples().items())
        if number % 3 == third
    }
    assert {name: trouble for name, trouble in found.items() if trouble} == {}


def test_a_leader_over_a_figure_is_counted() -> None:
    made = examples()["dado"]
    part = made.design.parts[0]
    drawing = part_sheet(made.design, made.solids, part, STYLES[0], width=178, height=150).drawing
    figure = next(mark for mark in drawing.marks if isinstance(mark, Text) and mark.role == "dimension")
    x, y = figure.at
    line = Stroke(((x - 20, y + 1), (x + 20, y + 1)), Meaning.LEADER)
    assert overlaps(drawing).count == 0
    assert overlaps(replace(drawing, marks=(*drawing.marks, line))).count > 0

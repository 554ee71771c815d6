"""The tick on the small picture of a part marks wood, never a hole."""

from __future__ import annotations

import pytest
from shapely.geometry import Point, Polygon

from plangen.drawing.part_sheets import part_sheet
from plangen.drawing.sheet.measure import overlaps
from plangen.drawing.sheet.model import Fill, Text, Tone
from plangen.pipeline import Source, check
from plangen.units import LengthStyle

BOARD = """
plangen: 1
project: {title: Board with holes, units: inch}
shop: {kerf: 1/8in}
stock:
  pine: {kind: solid, species: eastern white pine, rough: 4/4, thickness: 3/4in, widths: [7-1/4in], lengths: [96in]}
parts:
  board:
    stock: pine
    runs: across
    thick: up
    cut: [{holes: {HOLES}}]
    place: {left: 0, right: 21in, front: 0, back: 7-1/4in, bottom: 0}
"""
GRID = (
    "{face: top, from left: 1in, from front: 3/4in, diameter: 1/4in, along: {number: 20, pitch: 1in}, "
    "over: {number: 9, pitch: 23/32in}}"
)
LARGE = "{face: top, from left: 10-1/2in, from front: 3-5/8in, diameter: 3in}"


@pytest.mark.parametrize("holes", [GRID, LARGE])
def test_the_tick_stands_on_wood(holes: str) -> None:
    made = check(Source("board", "project.yaml", BOARD.replace("{HOLES}", holes).encode(), {})).checked
    assert made is not None
    sheet = part_sheet(
        made.design, made.solids, made.design.parts[0], LengthStyle(), width=178, height=150
    ).drawing
    assert not overlaps(sheet).count
    tick = next(mark for mark in sheet.marks if isinstance(mark, Text) and mark.role == "face side")
    middle = Point(tick.at[0], tick.at[1] + tick.size * 0.3)
    faces = [mark for mark in sheet.marks if isinstance(mark, Fill) and mark.tone is Tone.NEW_FRONT]
    assert any(Polygon(face.loops[0], face.loops[1:]).contains(middle) for face in faces)

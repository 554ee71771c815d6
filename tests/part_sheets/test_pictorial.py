"""The tick on the small picture of a part marks wood, never a hole."""

from __future__ import annotations

import pytest
from shapely.geometry import Point, Polygon

from plangen.drawing.part_sheets import part_sheet
from plangen.drawing.sheet.measure import overlaps
from plangen.drawing.sheet.model import Drawing, Fill, Text, Tone
from plangen.pipeline import Source, check
from plangen.units import LengthStyle

BOARD = """
plangen: 1
project: {title: Board with holes, units: inch}
shop: {kerf: 1/8in}
stock:
  pine: {kind: solid, density: 400, rough: 4/4, thickness: 3/4in, widths: [7-1/4in], lengths: [96in]}
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
OPEN_GRID = GRID.replace("number: 20, pitch: 1in", "number: 10, pitch: 2in")
LARGE = "{face: top, from left: 10-1/2in, from front: 3-5/8in, diameter: 3in}"


@pytest.mark.parametrize("holes", [OPEN_GRID, LARGE])
def test_the_tick_stands_on_wood(holes: str) -> None:
    sheet = drawn(holes)
    assert not overlaps(sheet).count
    tick = next(text for text in texts(sheet) if text.role == "face side")
    middle = Point(tick.at[0], tick.at[1] + tick.size * 0.3)
    faces = [mark for mark in sheet.marks if isinstance(mark, Fill) and mark.tone is Tone.NEW_FRONT]
    assert any(Polygon(face.loops[0], face.loops[1:]).contains(middle) for face in faces)
    assert "✓ face side" in {text.text for text in texts(sheet)}


def test_a_face_without_room_for_the_tick_is_told_by_its_tint() -> None:
    sheet = drawn(GRID)
    assert not overlaps(sheet).count
    assert not [text for text in texts(sheet) if "✓" in text.text]
    assert "tinted: face side" in {text.text for text in texts(sheet)}


def drawn(holes: str) -> Drawing:
    """Draw the sheet of a board with holes."""
    made = check(Source("board", "project.yaml", BOARD.replace("{HOLES}", holes).encode(), {})).checked
    assert made is not None
    part = made.design.parts[0]
    return part_sheet(made.design, made.solids, part, LengthStyle(), width=178, height=150).drawing


def texts(sheet: Drawing) -> list[Text]:
    return [mark for mark in sheet.marks if isinstance(mark, Text)]

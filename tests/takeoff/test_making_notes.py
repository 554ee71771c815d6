"""What the cut list says of round pieces and of pieces whose ends are sawn both ways."""

from __future__ import annotations

import pytest

from plangen.takeoff.model import CutLine
from plangen.units import LengthStyle, inches, millimetres, phrase
from tests.design.small import project, solve
from tests.joinery.test_frame_and_panel import PLAIN, frame
from tests.takeoff.cases import taken

INCH = LengthStyle()
SQUARE = "oak: {kind: solid, species: red oak, rough: 8/4, thickness: 1-1/2in}"


BOLTS = """
bolt: {kind: bolt, diameter: 8mm, length: 32mm}
insert: {kind: threaded insert, thread: M8, bore: 10mm, depth: 15mm}
washer: {kind: washer, bore: 8.4mm, diameter: 24mm, thickness: 2mm}
"""
TOPS = """
cleat:
  stock: pine
  runs: deep
  thick: up
  place: {left: 15in, right: 17in, front: 2in, back: 22in, top: 29in}
top:
  stock: pine
  runs: across
  thick: up
  place: {left: 0, right: 32in, front: 0, back: 24in, bottom: 29in}
"""


def leg(keys: str, place: str) -> CutLine:
    text = f"leg:\n  stock: oak\n  runs: up\n  thick: deep\n  width: 1-1/2in\n{keys}  place: {{{place}}}\n"
    lists, _ = taken(solve(project(text, stock=SQUARE)))
    return lists.cut_list[0]


def notes(line: CutLine) -> str:
    return "; ".join(note.text(INCH) for note in line.notes).replace("\u00a0", " ")


UPRIGHT = "left: 0, front: 0, bottom: 0, top: 20in"


@pytest.mark.parametrize(
    ("stretch", "diameter"),
    [("", "5/4"), (", from bottom: 0, from top: 0", "5/4"), (", from bottom: 2in", None)],
)
def test_a_piece_round_all_over_is_listed_by_its_diameter(stretch: str, diameter: str | None) -> None:
    line = leg(f"  cut:\n    - round: {{diameter: 1-1/4in{stretch}}}\n", UPRIGHT)
    assert line.diameter == (inches(diameter) if diameter else None)
    assert ("round, diameter 1 1/4 in" in notes(line)) is (diameter is not None)
    assert (line.width, line.thickness) == (inches("3/2"), inches("3/2"))  # to be cut before it is turned


@pytest.mark.parametrize(
    ("lean", "compound"),
    [
        ("lean: {bottom: {left: 8deg, front: 8deg}, ends: level}", True),
        ("lean: {bottom: {left: 8deg, front: 8deg}, ends: square}", False),
        ("", False),
    ],
)
def test_ends_sawn_both_ways_are_noted(lean: str, compound: bool) -> None:
    line = leg("", f"{UPRIGHT}, {lean}" if lean else UPRIGHT)
    assert ("ends cut at a compound angle; the length is the blank's" in notes(line)) is compound
    if compound:
        assert line.length > inches(20)  # both slants come out of the blank


def test_a_panel_goes_into_grooves() -> None:
    lists, _ = taken(solve(frame(PLAIN)))
    (line,) = [one for one in lists.cut_list if one.part == "panel"]
    assert "into each groove" in notes(line)
    assert "frame and panel" not in notes(line)


def test_sizes_of_what_is_bought_are_read_and_not_rounded() -> None:
    """A washer's hole of 8.4 mm is no 8.5; a length of wood beside it still is printed by its step."""
    words = phrase("hole ", millimetres("8.4")).read()
    assert words.text(LengthStyle("mm"), unit=False) == "hole 8.4"
    assert phrase("hole ", millimetres("8.4")).text(LengthStyle("mm"), unit=False) == "hole 8.5"
    joint = "- top fastened: {top: top, to: cleat, with: bolt, nut: insert, washer: washer}"
    design = solve(project(TOPS, joint, hardware=BOLTS))
    assert "8.4" in design.hardware["washer"].size.text(LengthStyle("mm"), unit=False)

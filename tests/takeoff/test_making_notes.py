"""What the cut list says of round pieces and of pieces whose ends are sawn both ways."""

from __future__ import annotations

import pytest

from plangen.takeoff.model import CutLine
from plangen.units import LengthStyle, inches
from tests.design.small import project, solve
from tests.takeoff.cases import taken

INCH = LengthStyle()
SQUARE = "oak: {kind: solid, species: red oak, rough: 8/4, thickness: 1-1/2in}"


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

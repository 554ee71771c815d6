"""Shelves on pins: where the holes are, how many pins, and what can not be."""

from __future__ import annotations

import pytest

from plangen.joinery.cuts import RoundCut
from plangen.joinery.space import Axis, Side
from tests.design.small import kinds, length, line_at, project, rounds, solve, the_fault, work
from tests.joinery.together import overlap

PIN = "pin: {kind: shelf pin, diameter: 1/4in, length: 3/4in, depth: 3/8in}"
PARTS = """
side:
  stock: pine
  runs: up
  thick: across
  place:
    left side: {left: 0, front: 0, back: 8in, bottom: 0, top: 20in}
    right side: {mirror of: left side, plane: across at 10in}
shelf:
  stock: pine
  runs: across
  thick: up
  place:
    {left: left side.right + 1/16in, right: right side.left - 1/16in, front: 1/4in, back: 8in, bottom: 9in}
"""


def hung(keys: str = "", hardware: str = PIN, parts: str = PARTS) -> str:
    return project(parts, f"- hung: {{shelf: shelf, in: side, with: pin{keys}}}", hardware=hardware)


def holes(keys: str, hardware: str = PIN) -> list[RoundCut]:
    design = solve(hung(keys, hardware))
    (part,) = [part for part in design.parts if part.key in ("side", "side left")]
    return [cut for operation in work(part, "pin holes") for cut in rounds(operation)]


def test_the_shelf_lies_on_its_pins() -> None:
    cuts = holes("")
    assert {cut.mouth.up for cut in cuts} == {length("8-7/8")}  # half of the pin under the shelf
    # 1-1/2 in from the shelf's edges, the front one of which stands back by 1/4 in.
    assert sorted(cut.mouth.deep for cut in cuts) == [length("1-3/4"), length("6-1/2")]
    assert {(cut.diameter, cut.depth, cut.side.axis) for cut in cuts} == {
        (length("1/4"), length("3/8"), Axis.ACROSS)
    }


@pytest.mark.parametrize(
    ("keys", "heights"),
    [
        (", rows: 5, pitch: 2in", ["4-7/8", "6-7/8", "8-7/8", "10-7/8", "12-7/8"]),
        (", rows: 4", ["7-5/8", "8-7/8", "10-1/8", "11-3/8"]),
        (", rows: 3, pitch: 1in, below: 0", ["8-7/8", "9-7/8", "10-7/8"]),
    ],
)
def test_the_shelf_s_own_height_is_one_of_the_rows(keys: str, heights: list[str]) -> None:
    cuts = holes(keys)
    assert sorted({cut.mouth.up for cut in cuts}) == [length(one) for one in heights]
    assert len(cuts) == 2 * len(heights)


def test_four_pins_are_bought_however_many_the_heights() -> None:
    (joint,) = solve(hung(", rows: 5, pitch: 1in")).joints
    assert [(use.item, use.number) for use in joint.hardware] == [("pin", 4)]
    assert joint.apart
    assert joint.glue is None
    assert {side for _, _, side in joint.hardware[0].spots} == {Side.RIGHT, Side.LEFT}


def test_a_pin_without_a_depth_goes_in_by_half() -> None:
    assert {cut.depth for cut in holes("", "pin: {kind: shelf pin, diameter: 5mm, length: 20mm}")} == {
        length("1") * 10 / length("1").mm
    }


def test_the_shelf_stays_between_its_sides() -> None:
    assert overlap(solve(hung())) == pytest.approx(0, abs=1e-6)


def test_the_room_at_the_ends_is_the_gap() -> None:
    assert kinds(hung(", gap: 1/8in")) == ["nothing-meets"]
    assert kinds(hung(", gap: 1/8in", parts=PARTS.replace("1/16in", "1/8in"))) == []


@pytest.mark.parametrize(
    ("keys", "hardware", "kind", "at"),
    [
        (", glue: wood glue", PIN, "glued-apart", "glue"),
        ("", "pin: {kind: shelf pin, length: 3/4in}", "pin-size", "with"),
        ("", "pin: {kind: shelf pin, diameter: 1/4in}", "pin-size", "with"),
        ("", "pin: {kind: shelf pin, diameter: 1/4in, depth: 3/4in}", "hole-too-deep", "with"),
        (", rows: 0", PIN, "row", "rows"),
        (", rows: 61", PIN, "row", "rows"),
        (", pitch: 2in", PIN, "row", "pitch"),
        (", below: 2", PIN, "row", "below"),
        (", rows: 3, below: 3", PIN, "row", "below"),
        (", rows: 3, pitch: 1/2in", PIN, "row", "pitch"),
        (", rows: 9, pitch: 3in", PIN, "row", "rows"),
        (", from edges: 4in", PIN, "pins-off-shelf", "from edges"),
        (", from edges: 1/8in", PIN, "pins-off-shelf", "from edges"),
        (", with two: pin", PIN, "unknown-key", "with two"),
    ],
)
def test_what_can_not_be(keys: str, hardware: str, kind: str, at: str) -> None:
    text = hung(keys, hardware)
    assert line_at(text, the_fault(text, kind)).startswith(at)


def test_a_shelf_that_stands_does_not_lie_on_pins() -> None:
    text = hung(
        parts=PARTS.replace("thick: up", "thick: deep", 1).replace(
            "back: 8in, bottom: 9in", "bottom: 9in, top: 12in"
        )
    )
    assert kinds(text) == ["not-level"]

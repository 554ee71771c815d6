"""Tongue and groove: boards in a row, open by a gap, each tongue in the groove before it. Worked by hand."""

from __future__ import annotations

import pytest

from plangen.joinery.space import Side
from tests.design.small import box, box_cut, copy, faults, length, line_at, one, project, said, solve, work
from tests.joinery.together import filled, overlap, removed

# Three boards 4 in wide, 30 in long and 3/4 thick, standing side by side, their faces open by OPEN.
BOARDS = """
board:
  stock: pine
  runs: up
  thick: deep
  place:
    board 1: {left: 0, right: 4in, front: 0, bottom: 0, top: 30in}
    board 2: {left: 4in + OPEN, right: 8in + OPEN, front: 0, bottom: 0, top: 30in}
    board 3: {left: 8in + OPEN * 2, right: 12in + OPEN * 2, front: 0, bottom: 0, top: 30in}
"""
# The first has a groove only, the last a tongue only: three parts that must be named apart.
ROW = """
first: {like: board, place: {left: 0, right: 4in, front: 0, bottom: 0, top: 30in}}
board:
  stock: pine
  runs: up
  thick: deep
  place: {left: 4in + OPEN, right: 8in + OPEN, front: 0, bottom: 0, top: 30in}
last: {like: board, place: {left: 8in + OPEN * 2, right: 12in + OPEN * 2, front: 0, bottom: 0, top: 30in}}
"""


def row(keys: str = "", gap: str = "0in") -> str:
    names = "[first, board, last]"
    return project(
        ROW.replace("OPEN", gap), f"- tongue and groove: {{in: {names}, for: {names}, contacts: 2{keys}}}"
    )


class TestRow:
    design = solve(row(", depth: 3/8in, gap: 1/16in"))

    def test_each_but_the_first_grows_by_its_tongue(self) -> None:
        # 3/8 deep less 1/16 at the bottom.
        assert self.design.part("first").width == length("4")
        assert self.design.part("board").width == length("4-5/16")
        assert self.design.part("last").width == length("4-5/16")
        assert copy(self.design, "board").box == box("3-11/16", 0, 0, 8, "3/4", 30)

    def test_the_groove_is_a_third_wide_in_the_middle(self) -> None:
        groove = one(self.design.part("first"), "edge groove")
        assert box_cut(groove) == box("3-5/8", "1/4", 0, 4, "1/2", 30)
        assert groove.side is Side.RIGHT
        assert groove.features[0].depth == length("3/8")

    def test_the_tongue_is_left_between_two_rebates(self) -> None:
        tongue = one(self.design.part("last"), "tongue")
        assert [cut.box for cut in tongue.cuts] == [
            box(0, 0, 0, "5/16", "1/4", 30),
            box(0, "1/2", 0, "5/16", "3/4", 30),
        ]

    def test_the_middle_board_has_both(self) -> None:
        assert len(work(self.design.part("board"), "edge groove")) == 1
        assert len(work(self.design.part("board"), "tongue")) == 1

    def test_only_the_bottom_of_each_groove_stays_empty(self) -> None:
        assert overlap(self.design) == pytest.approx(0, abs=1e-9)
        assert filled(self.design) == pytest.approx(12 * 30 * 0.75 - 2 * 0.0625 * 0.25 * 30)
        assert removed(self.design, "last") == pytest.approx(0.3125 * 0.5 * 30)

    def test_nothing_is_glued(self) -> None:
        (joint,) = self.design.joints
        assert joint.glue is None
        assert [(c.fixed, c.moving, c.closes) for c in joint.contacts] == [
            ("first", "board", Side.LEFT),
            ("board", "last", Side.LEFT),
        ]


def test_boards_that_stand_open_have_longer_tongues() -> None:
    design = solve(row(", depth: 3/8in, gap: 1/16in, open: 1/8in", gap="1/8in"))
    assert design.part("last").width == length("4-7/16")
    assert overlap(design) == pytest.approx(0, abs=1e-9)
    # Between the faces the opening shows the tongue of 1/4 only.
    assert filled(design) == pytest.approx(12 * 30 * 0.75 + 2 * 30 * 0.25 * (0.125 - 0.0625))


def test_the_grooves_may_be_on_the_other_edge() -> None:
    design = solve(row(", depth: 3/8in, grooves: left"))
    assert not work(design.part("last"), "tongue")
    assert one(design.part("last"), "edge groove").side is Side.LEFT
    assert one(design.part("first"), "tongue").side is Side.RIGHT


def test_a_third_of_the_thickness_and_half_of_it_deep_unless_said() -> None:
    design = solve(row())
    groove = one(design.part("first"), "edge groove")
    # Common practice, no source: 1/4 of 3/4 wide and 3/8 deep; 1/32 free at the bottom.
    assert box_cut(groove) == box("3-5/8", "1/4", 0, 4, "1/2", 30)
    assert design.part("last").width == length("4-11/32")


@pytest.mark.parametrize(
    ("keys", "kind", "at"),
    [
        (", thickness: 3/4in", "tongue-too-thick", "thickness"),
        (", thickness: 0in", "tongue-too-thick", "thickness"),
        (", depth: 3/8in, gap: 3/8in", "bad-gap", "gap"),
        (", depth: 5in", "groove-too-deep", "depth"),
    ],
)
def test_what_cannot_be_cut(keys: str, kind: str, at: str) -> None:
    text = row(keys)
    wrong = faults(text)
    assert {item.kind for item in wrong} == {kind}
    assert line_at(text, wrong[0]).startswith(at)


def test_boards_that_are_not_flush() -> None:
    text = row().replace(
        "last: {like: board, place: {left: 8in + 0in * 2, right: 12in + 0in * 2, front: 0",
        "last: {like: board, place: {left: 8in + 0in * 2, right: 12in + 0in * 2, front: 1/4in",
    )
    assert "not-edge-to-edge" in {item.kind for item in faults(text)}


def test_faces_that_are_not_open_by_the_gap_do_not_meet() -> None:
    text = row(", open: 1/8in", gap="1/16in")
    assert {item.kind for item in faults(text)} == {"nothing-meets"}


def test_the_sentences() -> None:
    design = solve(row(", depth: 3/8in, gap: 1/16in"))
    assert "1/4 in wide and 3/8 in deep in the right edge" in said(one(design.part("first"), "edge groove"))
    assert said(one(design.part("last"), "tongue")) == (
        "Cut a tongue 1/4 in thick and 5/16 in long along the left edge."
    )

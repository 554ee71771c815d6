"""The bridle joint: fork and tenon fill their corner, at the end and along a length. Worked by hand."""

from __future__ import annotations

import pytest

from plangen.joinery.space import Side
from tests.design.small import (
    box,
    box_cut,
    faults,
    length,
    line_at,
    one,
    project,
    said,
    solve,
    the_fault,
    work,
)
from tests.joinery.corners import FRAME, FRAME_FILLED, frame
from tests.joinery.together import filled, overlap, removed


class TestCorner:
    design = solve(frame("bridle: {in: stile, for: rail, contacts: 1}"))

    def test_the_fork_is_open_to_the_end(self) -> None:
        fork = one(self.design.part("stile"), "bridle fork")
        # A third of 3/4 in, in the middle; as deep as the rail is wide.
        assert box_cut(fork) == box(0, "1/4", 17, 2, "1/2", 20)
        assert fork.side is Side.TOP
        assert fork.features[0].depth == length("3")

    def test_the_rail_loses_both_cheeks(self) -> None:
        front, back = work(self.design.part("rail"), "bridle cheek")
        assert box_cut(front) == box(0, 0, 0, 2, "1/4", 3)
        assert box_cut(back) == box(0, "1/2", 0, 2, "3/4", 3)
        assert (front.side, back.side) == (Side.FRONT, Side.BACK)

    def test_both_fill_the_corner_and_nothing_twice(self) -> None:
        assert removed(self.design, "stile") == pytest.approx(2 * 3 * 0.25)
        assert removed(self.design, "rail") == pytest.approx(2 * 3 * 0.5)
        assert overlap(self.design) == pytest.approx(0, abs=1e-9)
        assert filled(self.design) == pytest.approx(FRAME_FILLED)

    def test_the_tenon_slides_in_at_the_open_end(self) -> None:
        (joint,) = self.design.joints
        assert [(c.fixed, c.moving, c.closes) for c in joint.contacts] == [("stile", "rail", Side.BOTTOM)]
        # Two cheeks of 2 by 3.
        assert float(joint.glue_area) == pytest.approx(2 * 2 * 3 * 25.4**2)
        assert joint.glue == "wood glue"

    def test_nothing_is_added(self) -> None:
        assert self.design.part("rail").length == length("16")
        assert self.design.part("stile").length == length("20")


T_JOINT = FRAME.replace("place: {left: 0, right: 16in, front: 0, top: 20in}", "RAIL")


class TestT:
    """The stile's fork stands astride a rail that runs through."""

    design = solve(
        project(
            T_JOINT.replace("RAIL", "place: {left: -6in, right: 16in, front: 0, top: 20in}"),
            "- bridle: {in: stile, for: rail, thickness: 3/8in}",
        )
    )

    def test_the_rail_is_notched_on_both_faces(self) -> None:
        front, back = work(self.design.part("rail"), "bridle cheek")
        assert box_cut(front) == box(6, 0, 0, 8, "3/16", 3)
        assert box_cut(back) == box(6, "9/16", 0, 8, "3/4", 3)

    def test_both_fill_the_crossing(self) -> None:
        assert overlap(self.design) == pytest.approx(0, abs=1e-9)
        assert filled(self.design) == pytest.approx((2 * 20 + 3 * 22 - 2 * 3) * 0.75)


def test_pieces_of_two_thicknesses_keep_the_tenon_in_the_middle_of_what_they_share() -> None:
    text = project(
        FRAME.replace(
            "stock: pine\n  runs: up", "stock: pine\n  glue up: {layers: 2}\n  thickness: 1-1/2in\n  runs: up"
        ),
        "- bridle: {in: stile, for: rail}",
    )
    design = solve(text)
    assert box_cut(one(design.part("stile"), "bridle fork")) == box(0, "1/4", 17, 2, "1/2", 20)
    # The thinner rail leaves a hollow in the fork's front cheek only where its own cheek is cut away:
    # the fork fills it, since it keeps all its wood beside the slot.
    assert overlap(design) == pytest.approx(0, abs=1e-9)
    assert filled(design) == pytest.approx(2 * 20 * 1.5 + (3 * 16 - 2 * 3) * 0.75)


@pytest.mark.parametrize(
    ("joint", "kind", "at"),
    [
        ("bridle: {in: stile, for: rail, thickness: 3/4in}", "tenon-too-wide", "thickness"),
        ("bridle: {in: stile, for: rail, thickness: 0}", "tenon-too-wide", "thickness"),
    ],
)
def test_what_cannot_be_cut(joint: str, kind: str, at: str) -> None:
    text = frame(joint)
    assert line_at(text, the_fault(text, kind)).startswith(at)


def test_a_piece_that_does_not_end_in_the_crossing_gets_no_fork() -> None:
    text = project(FRAME.replace("top: 20in}\nrail", "top: 24in}\nrail"), "- bridle: {in: stile, for: rail}")
    assert line_at(text, the_fault(text, "not-a-bridle")).startswith("{in")
    short = project(FRAME.replace("top: 20in}\nrail", "top: 19in}\nrail"), "- bridle: {in: stile, for: rail}")
    assert [item.kind for item in faults(short)] == ["not-a-bridle"]


def test_the_sentences() -> None:
    design = solve(frame("bridle: {in: stile, for: rail}"))
    assert "1/4 in wide and 3 in deep in the top end" in said(one(design.part("stile"), "bridle fork"))
    assert "2 in wide and 1/4 in deep in the front face" in said(work(design.part("rail"), "bridle cheek")[0])

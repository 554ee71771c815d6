"""Sliding dovetails: the channel and its tail have one slope, and slide in from one side. Worked by hand."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plangen.joinery.space import Side
from tests.design.small import box, box_cut, faults, length, line_at, one, prism, said, solve, work
from tests.joinery.corners import shelf
from tests.joinery.together import filled, overlap, removed

# Both sides of 10 by 20 and the shelf of 14-1/2 by 10 between them, all 3/4 thick.
WHOLE = (2 * 10 * 20 + 14.5 * 10) * 0.75


class TestThrough:
    """3/8 deep at 1:8: the tail is 3/4 at its tip and 3/4 - 2 · 3/64 at its neck."""

    design = solve(shelf("sliding dovetail: {in: side, for: shelf, depth: 3/8in, slope: 1:8, contacts: 2}"))

    def test_the_shelf_grows_by_both_tails(self) -> None:
        assert self.design.part("shelf").length == length("15-1/4")
        assert self.design.part("shelf").shoulder_length == length("14-1/2")

    def test_the_channel_is_narrow_at_the_face_and_wide_at_the_bottom(self) -> None:
        cut = prism(one(self.design.part("side"), "dovetail channel"))
        points = [cut.loops[0].start, *(segment.to for segment in cut.loops[0].segments)]
        # The outline lies across and up: the face of the left side is at 3/4, the bottom at 3/8.
        at_face = sorted(y for x, y in points if x == length("3/4"))
        at_floor = sorted(y for x, y in points if x == length("3/8"))
        assert (at_face[0], at_face[-1]) == (length("6-3/64"), length("6-45/64"))
        assert (at_floor[0], at_floor[-1]) == (length("6"), length("6-3/4"))
        assert (cut.low, cut.high) == (length("0"), length("10"))

    def test_what_each_loses(self) -> None:
        mean = 0.75 - 3 / 64
        assert removed(self.design, "left side") == pytest.approx(mean * 0.375 * 10)
        # A wedge on each face of each tail.
        assert removed(self.design, "shelf") == pytest.approx(4 * 0.5 * (3 / 64) * 0.375 * 10)

    def test_both_fill_the_wood_and_nothing_twice(self) -> None:
        assert overlap(self.design) == pytest.approx(0, abs=1e-9)
        assert filled(self.design) == pytest.approx(WHOLE)

    def test_it_slides_in_from_behind(self) -> None:
        (joint,) = self.design.joints
        assert [(c.moving, c.closes) for c in joint.contacts] == [("shelf", Side.FRONT)] * 2


class TestStopped:
    design = solve(
        shelf("sliding dovetail: {in: side, for: shelf, depth: 3/8in, slope: 14deg, stopped: {front: 1in}}")
    )

    def test_the_channel_ends_short_and_the_tail_is_notched(self) -> None:
        cut = prism(one(self.design.part("side left"), "dovetail channel"))
        assert (cut.low, cut.high) == (length("1"), length("10"))
        left, right = work(self.design.part("shelf"), "notch")
        assert box_cut(left) == box(0, 0, 0, "3/8", 1, "3/4")
        assert box_cut(right) == box("14-7/8", 0, 0, "15-1/4", 1, "3/4")

    def test_both_fill_the_wood(self) -> None:
        assert overlap(self.design) == pytest.approx(0, abs=1e-6)
        assert filled(self.design) == pytest.approx(WHOLE)

    def test_it_slides_in_from_the_other_side(self) -> None:
        (joint,) = self.design.joints
        assert {c.closes for c in joint.contacts} == {Side.FRONT}
        behind = solve(shelf("sliding dovetail: {in: side, for: shelf, stopped: {back: 1in}}"))
        assert {c.closes for c in behind.joints[0].contacts} == {Side.BACK}


def test_the_channel_runs_out_where_the_shelf_slides_in() -> None:
    # The shelf keeps 1 in from both edges: the channel is open behind and ends with the shelf in front.
    design = solve(shelf("sliding dovetail: {in: side, for: shelf, depth: 3/8in}", front="1in", back="9in"))
    cut = prism(one(design.part("side left"), "dovetail channel"))
    assert (cut.low, cut.high) == (length("1"), length("10"))
    assert overlap(design) == pytest.approx(0, abs=1e-9)
    # Behind the shelf 1 in of each channel stays empty.
    empty = 2 * 1 * 0.375 * (0.75 - 3 / 64)
    assert filled(design) == pytest.approx((2 * 10 * 20 + 14.5 * 8) * 0.75 - empty)
    front = solve(shelf("sliding dovetail: {in: side, for: shelf, slides from: front}", front="1in"))
    assert {c.closes for c in front.joints[0].contacts} == {Side.BACK}


def test_a_gap_is_left_at_the_bottom_only() -> None:
    design = solve(shelf("sliding dovetail: {in: side, for: shelf, depth: 3/8in, gap: 1/16in}"))
    assert design.part("shelf").length == length("15-1/8")
    assert overlap(design) == pytest.approx(0, abs=1e-9)
    # The floor of 1/16 below the tip, which is 3/4 wide and widens by 2 · 1/128.
    empty = 2 * 10 * (0.75 + 1 / 128) * 0.0625
    assert filled(design) == pytest.approx(WHOLE - empty)


@settings(max_examples=10, deadline=None)
@given(
    sixteenths=st.integers(2, 8),
    slope=st.sampled_from(["1:6", "1:8", "7deg", "9deg"]),
    width=st.integers(9, 12),
)
def test_any_slope_depth_and_width_fills(sixteenths: int, slope: str, width: int) -> None:
    keys = f"depth: {sixteenths}/16in, slope: {slope}, width: {width}/16in"
    design = solve(shelf(f"sliding dovetail: {{in: side, for: shelf, {keys}}}"))
    assert overlap(design) == pytest.approx(0, abs=1e-6)
    assert filled(design) == pytest.approx(WHOLE)


@pytest.mark.parametrize(
    ("keys", "kind", "at"),
    [
        ("depth: 3/4in", "sliding-dovetail-too-deep", "depth"),
        ("depth: 3/8in, width: 1in", "tail-too-wide", "width"),
        ("depth: 1/2in, slope: 1:2, width: 1/2in", "tail-too-thin", "width"),
        ("depth: 3/8in, gap: 3/8in", "bad-gap", "gap"),
        ("slope: 1:0", "bad-slope", "slope"),
        ("stopped: {front: 1in, back: 1in}", "cannot-slide-in", "stopped"),
        ("slides from: top", "wrong-side", "slides from"),
        ("stopped: {front: 1in}, slides from: front", "cannot-slide-in", "stopped"),
    ],
)
def test_what_cannot_be_cut(keys: str, kind: str, at: str) -> None:
    text = shelf(f"sliding dovetail: {{in: side, for: shelf, {keys}}}")
    wrong = faults(text)
    assert {item.kind for item in wrong} == {kind}
    assert line_at(text, wrong[0]).startswith(at)


def test_a_shelf_at_the_very_end_has_no_wood_beside_its_channel() -> None:
    text = shelf("sliding dovetail: {in: side, for: shelf}").replace("bottom: 6in", "bottom: 0")
    assert {item.kind for item in faults(text)} == {"partly-touching"}


def test_the_sentences() -> None:
    design = solve(shelf("sliding dovetail: {in: side, for: shelf, depth: 3/8in, slope: 14deg}"))
    assert said(one(design.part("side"), "dovetail channel")) == (
        "Rout a dovetail channel 3/8 in deep in the inside face, slope 14°, "
        "with the bit at full depth in one pass."
    )
    assert said(work(design.part("shelf"), "dovetail tail")[0]) == (
        "Rout the two slopes of the tail, 3/8 in long, on the left end."
    )

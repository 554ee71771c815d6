"""Mitred corners of frames and cases, equal and unequal, with and without a spline. Worked by hand."""

from __future__ import annotations

import math

import pytest

from plangen.joinery.space import Axis
from tests.design.small import line_at, one, project, said, solve, the_fault
from tests.joinery.corners import CASE_FILLED, FRAME, FRAME_FILLED, case, frame
from tests.joinery.together import filled, overlap, removed

SPLINE = "slip: {kind: spline, title: Spline}"


class TestCase:
    design = solve(case("mitre: {between: [upright, lid], contacts: 1}"))

    def test_each_loses_half_of_the_corner(self) -> None:
        assert removed(self.design, "upright") == pytest.approx(0.75 * 0.75 / 2 * 6)
        assert removed(self.design, "lid") == pytest.approx(0.75 * 0.75 / 2 * 6)
        assert overlap(self.design) == pytest.approx(0, abs=1e-9)
        assert filled(self.design) == pytest.approx(CASE_FILLED)

    def test_the_angle_is_45_degrees(self) -> None:
        for part in ("upright", "lid"):
            (feature,) = one(self.design.part(part), "joint mitre").features
            assert feature.angle_degrees == pytest.approx(45)
            assert feature.side.axis is Axis.DEEP

    def test_the_outer_corner_stays(self) -> None:
        # The lid keeps its outside edge at the top left, and loses the inside one.
        cut = one(self.design.part("lid"), "joint mitre").cuts[0]
        points = {cut.loops[0].start, *(segment.to for segment in cut.loops[0].segments)}
        zero, edge = 0.0, 19.05
        assert {(float(x), float(y)) for x, y in points} == {(edge, zero), (zero, edge), (zero, zero)}

    def test_the_glue_is_that_of_the_sloping_face(self) -> None:
        (joint,) = self.design.joints
        assert float(joint.glue_area) == pytest.approx(0.75 * math.sqrt(2) * 6 * 25.4**2)


class TestFlatFrame:
    """A stile 2 in wide and a rail 3 in wide: the cut runs from corner to corner of 2 by 3."""

    design = solve(frame("mitre: {between: [stile, rail]}"))

    def test_the_angles_are_those_the_widths_give(self) -> None:
        (stile,) = one(self.design.part("stile"), "joint mitre").features
        (rail,) = one(self.design.part("rail"), "joint mitre").features
        assert stile.angle_degrees == pytest.approx(math.degrees(math.atan(3 / 2)))
        assert rail.angle_degrees == pytest.approx(math.degrees(math.atan(2 / 3)))
        assert stile.side.axis is Axis.DEEP

    def test_both_fill_the_corner(self) -> None:
        assert removed(self.design, "stile") == pytest.approx(2 * 3 / 2 * 0.75)
        assert overlap(self.design) == pytest.approx(0, abs=1e-9)
        assert filled(self.design) == pytest.approx(FRAME_FILLED)


def test_a_picture_frame_has_two_parts_of_two_and_no_hands() -> None:
    text = project(
        """
        stile:
          stock: pine
          runs: up
          thick: deep
          width: 2in
          place:
            left stile: {left: 0, front: 0, bottom: 0, top: 20in}
            right stile: {mirror of: left stile, plane: across at 8in}
        rail:
          stock: pine
          runs: across
          thick: deep
          width: 2in
          place:
            lower rail: {left: 0, right: 16in, front: 0, bottom: 0}
            upper rail: {same as: lower rail, top: 20in}
        """,
        "- mitre: {between: [stile, rail], contacts: 4}",
    )
    design = solve(text)
    assert [(part.key, len(part.copies)) for part in design.parts] == [("stile", 2), ("rail", 2)]
    assert overlap(design) == pytest.approx(0, abs=1e-9)
    assert filled(design) == pytest.approx((20 * 16 - 16 * 12) * 0.75)


def test_boards_mitred_along_their_edges() -> None:
    text = project(
        """
        broad:
          stock: pine
          runs: up
          thick: deep
          width: 5in
          place: {left: 0, front: 0, bottom: 0, top: 24in}
        return:
          stock: pine
          runs: up
          thick: across
          width: 4in
          place: {left: 0, front: 0, bottom: 0, top: 24in}
        """,
        "- mitre: {between: [broad, return]}",
    )
    design = solve(text)
    assert one(design.part("broad"), "joint mitre").title == "Mitred edge"
    assert overlap(design) == pytest.approx(0, abs=1e-9)
    assert filled(design) == pytest.approx(24 * 0.75 * (5 + 4 - 0.75))


class TestSpline:
    def test_of_a_case_it_lies_square_to_the_mitre(self) -> None:
        design = solve(
            case(
                "mitre: {between: [upright, lid], spline: {with: slip, thickness: 1/8in, depth: 1/4in}}",
                SPLINE,
            )
        )
        # The slot takes 1/8 by 1/4 from each, over the depth of 6 in.
        slot = 0.125 * 0.25 * 6
        assert removed(design, "upright") == pytest.approx(0.75 * 0.75 / 2 * 6 + slot)
        assert overlap(design) == pytest.approx(0, abs=1e-6)
        assert filled(design) == pytest.approx(CASE_FILLED - 2 * slot)
        (use,) = design.joints[0].hardware
        assert (use.item, use.number) == ("slip", 1)

    def test_of_a_frame_it_lies_in_the_middle_and_runs_out(self) -> None:
        design = solve(
            frame(
                "mitre: {between: [stile, rail], spline: {with: slip, thickness: 1/8in, depth: 1/2in}}",
                SPLINE,
            )
        )
        # A strip of 1/2 in on both sides of the diagonal, to where the saw leaves the wood at heel and tip.
        assert FRAME_FILLED - filled(design) == pytest.approx(_strip(2, 3, 0.5) * 0.125)
        assert overlap(design) == pytest.approx(0, abs=1e-6)

    @pytest.mark.parametrize(
        ("keys", "kind", "at"),
        [
            ("thickness: 1in", "spline-too-thick", "thickness"),
            ("thickness: 0in", "spline-too-thick", "thickness"),
            ("depth: 3/4in", "spline-too-deep", "depth"),
            ("depth: 0in", "spline-too-deep", "depth"),
        ],
    )
    def test_what_cannot_be_cut(self, keys: str, kind: str, at: str) -> None:
        text = case(f"mitre: {{between: [upright, lid], spline: {{with: slip, {keys}}}}}", SPLINE)
        assert line_at(text, the_fault(text, kind)).startswith(at)

    def test_the_hardware_must_be_known(self) -> None:
        text = case("mitre: {between: [upright, lid], spline: {with: slip}}")
        assert line_at(text, the_fault(text, "undefined-name")).startswith("slip")


def _strip(a: float, b: float, depth: float) -> float:
    """The area within ``depth`` of the diagonal of a corner of a by b, over both pieces that meet there."""
    from shapely import Polygon, box

    size = math.hypot(a, b)
    ux, uy = a / size, b / size
    nx, ny = -uy * depth, ux * depth
    # The corner is 0..a by 0..b with its heel at 0, 0: one piece goes on downward, one to the left.
    far = 5.0
    strip = Polygon(
        [
            (-ux * far + nx, -uy * far + ny),
            (a + ux * far + nx, b + uy * far + ny),
            (a + ux * far - nx, b + uy * far - ny),
            (-ux * far - nx, -uy * far - ny),
        ]
    )
    stile, rail = box(0, -20, a, b), box(-20, 0, a, b)
    return strip.intersection(stile.union(rail)).area


def test_pieces_that_do_not_make_a_corner() -> None:
    text = project(FRAME.replace("top: 20in}\nrail", "top: 24in}\nrail"), "- mitre: {between: [stile, rail]}")
    the_fault(text, "not-a-corner")


def test_the_sentences() -> None:
    keys = "spline: {with: slip, thickness: 1/8in, depth: 1/4in}"
    design = solve(case(f"mitre: {{between: [upright, lid], {keys}}}", SPLINE))
    assert said(one(design.part("lid"), "joint mitre")) == "Saw the left end to a bevel of 45° for the mitre."
    assert said(one(design.part("lid"), "spline slot")) == (
        "Cut the spline slot in the mitre of the left end: slot 1/8 in wide, 1/4 in deep, "
        "square to the mitre."
    )
    flat = solve(frame("mitre: {between: [stile, rail]}"))
    assert said(one(flat.part("stile"), "joint mitre")) == "Saw the top end to a mitre of 56.3°."

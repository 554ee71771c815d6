"""Mortise and tenon: the tongue and its pocket, worked by hand on a leg of 1-1/2 in and a rail of 3/4 in."""

from __future__ import annotations

import pytest

from plangen.joinery.cuts import BoxCut
from plangen.joinery.space import Side
from tests.design.small import (
    box,
    box_cut,
    copy,
    faults,
    kinds,
    length,
    line_at,
    one,
    project,
    said,
    solve,
    taken,
    work,
)
from tests.joinery.boards import LEGS_AND_RAIL


def railed(joint: str) -> str:
    return project(LEGS_AND_RAIL, f"- mortise and tenon: {joint}")


class TestUsual:
    """Length 1 in; all else by the usual proportions."""

    design = solve(railed("{in: leg, for: rail, length: 1in, contacts: 2}"))

    def test_the_rail_grows_by_both_tenons(self) -> None:
        rail = self.design.part("rail")
        assert rail.shoulder_length == length("16")
        assert rail.length == length("18")
        assert copy(self.design, "rail").box == box("1/2", "3/8", 15, "18-1/2", "1-1/8", 19)

    def test_the_tongue_is_a_third_thick_with_a_quarter_inch_at_each_edge(self) -> None:
        left, right = work(self.design.part("rail"), "tenon")
        spans = dict(left.features[0].spans)
        # Common practice, no source: 1/4 in thick of 3/4 in; shoulders of 1/4 in at the edges of 4 in.
        assert box(0, "1/4", "1/4", 1, "1/2", "3-3/4") == _spanned(spans)
        assert _spanned(dict(right.features[0].spans)) == box(17, "1/4", "1/4", 18, "1/2", "3-3/4")
        assert said(left) == "Cut a tenon 1 in long, 1/4 in thick and 3 1/2 in wide on the left end."

    def test_the_cheeks_leave_the_tongue_alone(self) -> None:
        # Each end: 1 in by the section of 3/4 by 4, less the tongue of 1/4 by 3-1/2.
        assert taken(self.design.part("rail")) == pytest.approx(2 * 1 * (0.75 * 4 - 0.25 * 3.5))

    def test_the_mortise_is_a_little_deeper(self) -> None:
        leg = self.design.part("leg")
        mortise = one(leg, "mortise")
        # Common practice, no source: 1/16 in deeper than the tenon is long.
        assert box_cut(mortise) == box("7/16", "5/8", "15-1/4", "1-1/2", "7/8", "18-3/4")
        assert mortise.features[0].depth == length("1-1/16")
        assert mortise.side is Side.RIGHT
        assert taken(leg) == pytest.approx(1.0625 * 0.25 * 3.5)
        assert said(mortise) == (
            "Cut a mortise 1/4 in wide, 3 1/2 in long and 1 1/16 in deep in the right edge, "
            "5/8 in from the front face and 15 1/4 in from the bottom end."
        )

    def test_the_legs_are_one_part(self) -> None:
        assert [item.name for item in self.design.part("leg").copies] == ["left leg", "right leg"]

    def test_the_joint(self) -> None:
        (joint,) = self.design.joints
        assert [(c.moving, c.closes) for c in joint.contacts] == [("rail", Side.LEFT), ("rail", Side.RIGHT)]
        # Four faces of the tongue and the shoulder's own section, twice.
        assert float(joint.glue_area) == pytest.approx(2 * (2 * 1 * (0.25 + 3.5) + 0.75 * 4) * 25.4**2)


def _spanned(spans: dict) -> object:
    from plangen.joinery.space import Axis, Box, Point

    return Box(Point(*(spans[axis].low for axis in Axis)), Point(*(spans[axis].high for axis in Axis)))


def tongue(joint: str) -> object:
    return _spanned(dict(work(solve(railed(joint)).part("rail"), "tenon")[0].features[0].spans))


def test_shoulders_thickness_and_width_as_typed() -> None:
    assert tongue(
        "{in: leg, for: rail, length: 1in, thickness: 3/8in, shoulders: {top: 1in, bottom: 0}}"
    ) == box(0, "3/16", 0, 1, "9/16", 3)
    assert tongue("{in: leg, for: rail, length: 1in, width: 3in}") == box(0, "1/4", "1/2", 1, "1/2", "3-1/2")
    assert tongue("{in: leg, for: rail, length: 1in, width: 3in, shoulders: {top: 3/4in}}") == box(
        0, "1/4", "1/4", 1, "1/2", "3-1/4"
    )
    assert tongue(
        "{in: leg, for: rail, length: 1in, width: 3in, shoulders: {top: 3/4in, bottom: 1/4in}}"
    ) == box(0, "1/4", "1/4", 1, "1/2", "3-1/4")


def test_a_through_tenon_has_a_mortise_right_through() -> None:
    design = solve(railed("{in: leg, for: rail, length: 1-1/2in}"))
    mortise = one(design.part("leg"), "mortise")
    assert box_cut(mortise) == box(0, "5/8", "15-1/4", "1-1/2", "7/8", "18-3/4")
    assert mortise.features[0].depth is None
    assert "right through" in said(mortise)
    assert design.part("rail").length == length("19")


def test_a_piece_that_enters_whole_has_no_tenon_cut() -> None:
    design = solve(railed("{in: leg, for: rail, length: 1in, width: 4in, thickness: 3/4in}"))
    assert design.part("rail").operations == ()
    assert design.part("rail").length == length("18")


def test_a_gap_of_nothing_makes_the_mortise_as_deep_as_the_tenon() -> None:
    design = solve(railed("{in: leg, for: rail, length: 1in, gap: 0}"))
    assert one(design.part("leg"), "mortise").features[0].depth == length("1")


def test_metric_proportions() -> None:
    # Common practice, no source: 20 mm in thirds is nearest the 6 mm chisel; 6 mm shoulders; 2 mm deeper.
    text = project(
        """
        leg:
          stock: pine
          runs: up
          thick: deep
          thickness: 40mm
          width: 40mm
          glue up: {layers: 2}
          place: {left: 0, front: 0, bottom: 0, top: 500mm}
        rail:
          stock: pine
          runs: across
          thick: deep
          width: 100mm
          place: {left: leg.right, right: 400mm, front: 10mm, top: 480mm}
        """,
        "- mortise and tenon: {in: leg, for: rail, length: 25mm}",
        units="mm",
    )
    design = solve(text)
    assert box_cut(one(design.part("leg"), "mortise")) == box(13, 17, 386, 40, 23, 474, unit="mm")


@pytest.mark.parametrize(
    ("joint", "kind", "at"),
    [
        ("{in: leg, for: rail, length: 2in}", "tenon-too-long", "length"),
        ("{in: leg, for: rail, length: 0}", "tenon-too-long", "length"),
        ("{in: leg, for: rail, length: -1in}", "tenon-too-long", "length"),
        ("{in: leg, for: rail, length: 1-1/2in - 1/32in}", "mortise-breaks-out", "length"),
        ("{in: leg, for: rail, length: 1in, thickness: 1in}", "tenon-too-wide", "thickness"),
        ("{in: leg, for: rail, length: 1in, thickness: 0}", "tenon-too-wide", ""),
        ("{in: leg, for: rail, length: 1in, width: 5in}", "tenon-too-wide", "width"),
        (
            "{in: leg, for: rail, length: 1in, shoulders: {top: 2in, bottom: 2in}}",
            "tenon-too-wide",
            "shoulders",
        ),
        ("{in: leg, for: rail, length: 1in, shoulders: {top: -1in}}", "bad-value", "-1in"),
        ("{in: leg, for: rail, length: 1in, shoulders: {front: 1/4in}}", "wrong-side", "front"),
        (
            "{in: leg, for: rail, length: 1in, width: 2in, shoulders: {top: 1/2in, bottom: 1/2in}}",
            "tenon-sum",
            "width",
        ),
        ("{in: leg, for: rail, length: 1in, gap: -1/8in}", "bad-gap", "gap"),
    ],
)
def test_what_cannot_be_cut(joint: str, kind: str, at: str) -> None:
    text = railed(joint)
    wrong = faults(text)
    assert {item.kind for item in wrong} == {kind}, wrong
    assert line_at(text, wrong[0]).startswith(at)


def test_a_tenon_is_cut_on_an_end() -> None:
    text = (
        railed("{in: leg, for: rail, length: 1in}")
        .replace("runs: across", "runs: up")
        .replace("width: 4in", "length: 4in")
    )
    assert set(kinds(text)) == {"tenon-not-at-end"}


def test_a_mortise_that_would_run_off_its_leg() -> None:
    text = railed("{in: leg, for: rail, length: 1in, shoulders: {top: 0}}").replace(
        "top: 19in", "top: 20-1/4in"
    )
    assert set(kinds(text)) == {"mortise-off-part"}


def test_a_rail_with_a_tenon_and_a_housing_keeps_both() -> None:
    """The stretcher is tenoned into one leg and let into a dado in the other."""
    text = project(
        LEGS_AND_RAIL.replace("    right leg: {same as: left leg, left: 17-1/2in}\n", "").replace(
            "right: right leg.left", "right: cheek.left"
        )
        + """
cheek:
  stock: pine
  runs: up
  thick: across
  place: {left: 17-1/2in, front: 0, back: 6in, bottom: 0, top: 20in}
""",
        """
        - mortise and tenon: {in: leg, for: rail, length: 1in}
        - dado: {in: cheek, for: rail, depth: 1/4in}
        """,
    )
    design = solve(text)
    rail = design.part("rail")
    assert rail.length == length("17-1/4")
    (tenon,) = work(rail, "tenon")
    assert all(isinstance(cut, BoxCut) and cut.box.high.across == length("1") for cut in tenon.cuts)
    # The dado takes the rail's whole section: 3/8 to 1-1/8 from the front, 15 to 19 up, 1/4 deep.
    assert box_cut(one(design.part("cheek"), "dado")) == box(0, "3/8", 15, "1/4", "1-1/8", 19)

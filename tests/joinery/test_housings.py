"""Dado, groove and rabbet: what is cut, what it adds, how it closes. Every size is worked by hand."""

from __future__ import annotations

from fractions import Fraction

import pytest

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
    the_fault,
    work,
)
from tests.joinery.boards import shelved


def shelves(joint: str, front: str = "0") -> str:
    return project(shelved(front), f"- {joint}")


class TestDado:
    def test_it_adds_its_depth_at_both_ends(self) -> None:
        design = solve(shelves("dado: {in: side, for: shelf, depth: 1/4in, contacts: 2}"))
        shelf = design.part("shelf")
        assert shelf.length == length("15")  # 16 less two sides of 3/4, and 1/4 in each
        assert shelf.shoulder_length == length("14-1/2")
        assert copy(design, "shelf").shoulders == box("3/4", 0, 6, "15-1/4", 10, "6-3/4")
        assert copy(design, "shelf").box == box("1/2", 0, 6, "15-1/2", 10, "6-3/4")
        assert shelf.operations == ()

    def test_its_box_runs_through_the_side(self) -> None:
        side = solve(shelves("dado: {in: side, for: shelf, depth: 1/4in}")).part("side")
        dado = one(side, "dado")
        assert box_cut(dado) == box("1/2", 0, 6, "3/4", 10, "6-3/4")
        assert dado.side is Side.RIGHT
        assert dado.features[0].depth == length("1/4")
        assert taken(side) == pytest.approx(10 * 0.75 * 0.25)
        assert said(dado) == (
            "Cut a dado 3/4 in wide and 1/4 in deep in the inside face, 6 in from the bottom end."
        )

    def test_through_dadoes_make_both_sides_one_part(self) -> None:
        side = solve(shelves("dado: {in: side, for: shelf, depth: 1/4in}")).part("side")
        assert [item.name for item in side.copies] == ["left side", "right side"]
        # The right side is the left one turned half round about its height.
        turned = side.copies[1].pose.box(box_cut(one(side, "dado")))
        assert turned == box("15-1/4", 0, 6, "15-1/2", 10, "6-3/4")

    def test_a_stopped_dado_makes_a_left_and_a_right(self) -> None:
        design = solve(shelves("dado: {in: side, for: shelf, depth: 1/4in, stopped: {front: 1/2in}}"))
        dado = one(design.part("side right"), "dado")
        assert box_cut(dado) == box(0, "1/2", 6, "1/4", 10, "6-3/4")
        assert dado.side is Side.LEFT

    def test_contacts_close_towards_the_sides(self) -> None:
        (joint,) = solve(shelves("dado: {name: housings, in: side, for: shelf, depth: 1/4in}")).joints
        assert [(c.fixed, c.moving, c.closes) for c in joint.contacts] == [
            ("left side", "shelf", Side.LEFT),
            ("right side", "shelf", Side.RIGHT),
        ]
        assert joint.contacts[0].face == box("3/4", 0, 6, "3/4", 10, "6-3/4")
        assert joint.glue == "wood glue"
        # The floor, 10 by 3/4, and two walls of 10 by 1/4, at each end.
        assert joint.glue_area == 2 * (10 * Fraction(3, 4) + 2 * 10 * Fraction(1, 4)) * Fraction(254, 10) ** 2

    def test_without_a_depth_it_takes_a_third_of_the_side(self) -> None:
        # Common practice, no source: a third of 3/4 in is 1/4 in.
        side = solve(shelves("dado: {in: side, for: shelf}")).part("side")
        assert one(side, "dado").features[0].depth == length("1/4")

    def test_a_gap_shortens_the_shelf_and_not_the_dado(self) -> None:
        design = solve(shelves("dado: {in: side, for: shelf, depth: 3/8in, gap: 1/16in}"))
        assert design.part("shelf").length == length("15-1/8")  # 14-1/2 and twice 5/16
        assert box_cut(one(design.part("side"), "dado")) == box("3/8", 0, 6, "3/4", 10, "6-3/4")

    def test_stopped_it_notches_the_shelf(self) -> None:
        design = solve(shelves("dado: {in: side, for: shelf, depth: 1/4in, stopped: {front: 1/2in}}"))
        side, shelf = design.part("side left"), design.part("shelf")
        assert box_cut(one(side, "dado")) == box("1/2", "1/2", 6, "3/4", 10, "6-3/4")
        assert taken(side) == pytest.approx(9.5 * 0.75 * 0.25)
        # In the shelf's own frame its left end is the finished one.
        assert [box_cut(notch) for notch in work(shelf, "notch")] == [
            box(0, 0, 0, "1/4", "1/2", "3/4"),
            box("14-3/4", 0, 0, 15, "1/2", "3/4"),
        ]
        assert taken(shelf) == pytest.approx(2 * 0.25 * 0.5 * 0.75)
        assert said(one(side, "dado")) == (
            "Cut a dado 3/4 in wide, 9 1/2 in long and 1/4 in deep in the inside face, "
            "6 in from the bottom end, stopped 1/2 in short of the front edge."
        )
        assert said(work(shelf, "notch")[0]) == (
            "Cut a notch reaching 1/4 in from the left end and 1/2 in from the front edge."
        )

    def test_stopped_at_both_ends(self) -> None:
        side = solve(
            shelves("dado: {in: side, for: shelf, depth: 1/4in, stopped: {front: 1/2in, back: 1in}}")
        ).part("side left")
        assert box_cut(one(side, "dado")) == box("1/2", "1/2", 6, "3/4", 9, "6-3/4")

    @pytest.mark.parametrize(
        ("joint", "kind", "at"),
        [
            ("dado: {in: side, for: shelf, depth: 3/4in}", "dado-too-deep", "depth"),
            ("dado: {in: side, for: shelf, depth: 0}", "dado-too-deep", "depth"),
            ("dado: {in: side, for: shelf, depth: 1/4in, gap: 1/4in}", "bad-gap", "gap"),
            ("dado: {in: side, for: shelf, depth: 1/4in, gap: -1/8in}", "bad-gap", "gap"),
            ("dado: {in: side, for: shelf, depth: 1/4in, stopped: {top: 1/8in}}", "wrong-side", "top"),
            ("dado: {in: side, for: shelf, depth: 1/4in, stopped: {front: -1in}}", "bad-value", "-1in"),
            (
                "dado: {in: side, for: shelf, depth: 1/4in, stopped: {front: 5in, back: 5in}}",
                "stopped-away",
                "stopped",
            ),
        ],
    )
    def test_what_cannot_be_cut_is_refused_at_its_place(self, joint: str, kind: str, at: str) -> None:
        text = shelves(joint)
        from tests.design.small import faults

        wrong = faults(text)
        assert {item.kind for item in wrong} == {kind}
        assert line_at(text, wrong[0]).startswith(at)

    def test_a_word_that_is_no_side_is_refused(self) -> None:
        text = shelves("dado: {in: side, for: shelf, depth: 1/4in, stopped: {frnt: 1/2in}}")
        assert line_at(text, the_fault(text, "unknown-word")).startswith("frnt")

    def test_a_shelf_wider_than_the_side_would_break_out(self) -> None:
        text = shelves("dado: {in: side, for: shelf, depth: 1/4in}", front="-1in")
        assert set(kinds(text)) == {"partly-touching"}

    def test_a_piece_that_meets_with_its_face_gets_no_dado(self) -> None:
        text = project(
            """
            side:
              stock: pine
              runs: up
              thick: across
              place: {left: 0, front: 0, back: 10in, bottom: 0, top: 20in}
            cleat:
              stock: pine
              runs: up
              thick: across
              width: 2in
              length: 6in
              place: {left: side.right, front: 0, bottom: 0}
            """,
            "- dado: {in: side, for: cleat, depth: 1/4in}",
        )
        assert kinds(text) == ["dado-face"]

    def test_a_typed_length_does_not_grow_in_silence(self) -> None:
        text = shelves("dado: {in: side, for: shelf, depth: 1/4in}").replace(
            "place: {left: left side.right, right: right side.left,",
            "length: 14-1/2in\n    place: {left: left side.right,",
        )
        wrong = the_fault(text, "size-and-joint")
        assert wrong.message.endswith(("add 0.5 in to it", "add 1/2 in to it"))
        assert line_at(text, wrong).startswith("length")


# A frame of two stiles and two rails about a panel of 1/4 in plywood; the rails stand between the stiles.
FRAME = """
stile:
  stock: pine
  runs: up
  thick: deep
  width: 2in
  place:
    left stile: {left: 0, front: 0, bottom: 0, top: 30in}
    right stile: {same as: left stile, right: 20in}
rail:
  stock: pine
  runs: across
  thick: deep
  width: 3in
  place:
    lower rail: {left: left stile.right, right: right stile.left, front: 0, bottom: 0}
    upper rail: {same as: lower rail, top: 30in}
panel:
  stock: ply
  runs: up
  thick: deep
  place:
    panel: {left: left stile.right, right: right stile.left, bottom: lower rail.top, top: upper rail.bottom,
            deep: PANEL}
"""
PLY = "ply: {kind: plywood, title: Plywood, label: 1/4in, thickness: 1/4in, sheet: 48in x 96in}"
TENONS = """\
- mortise and tenon: {name: ends, in: stile, for: rail, length: 1in, shoulders: {bottom: 1/2in, top: 1/2in}}
"""


def framed(groove: str, panel: str = "centred on left stile", joints: str = TENONS) -> str:
    return project(FRAME.replace("PANEL", panel), joints + f"- groove: {groove}", stock=PLY)


class TestGroove:
    def test_a_panel_grows_into_all_four(self) -> None:
        design = solve(
            framed("{in: [stile, rail], for: panel, depth: 3/8in, gap: 1/16in, floating: yes, contacts: 4}")
        )
        panel = design.part("panel")
        assert panel.width == length("16-5/8")  # 16 between the stiles and 5/16 on either side
        assert panel.length == length("24-5/8")
        assert panel.operations == ()
        joint = design.joints[1]
        assert (joint.glue, joint.glue_area) == (None, 0)

    def test_it_runs_the_whole_length_of_its_board(self) -> None:
        design = solve(framed("{in: [stile, rail], for: panel, depth: 3/8in}"))
        stile, rail = design.part("stile"), design.part("rail")
        assert box_cut(one(stile, "groove")) == box("1-5/8", "1/4", 0, 2, "1/2", 30)
        # A rail is 18 in long with its tenons; the groove runs through them.
        assert rail.length == length("18")
        assert box_cut(one(rail, "groove")) == box(0, "1/4", "2-5/8", 18, "1/2", 3)
        assert said(one(stile, "groove")) == (
            "Cut a groove 1/4 in wide and 3/8 in deep in the right edge, 1/4 in from the front face."
        )

    def test_one_joint_stops_its_grooves_both_ways(self) -> None:
        stops = "stopped: {left: 0, right: 0, bottom: 0, top: 0}"
        design = solve(framed(f"{{in: [stile, rail], for: panel, depth: 3/8in, {stops}, contacts: 4}}"))
        # Each word goes for the grooves that run towards its side: the opening is 24 in by 16 in.
        assert box_cut(one(design.part("stile"), "groove")) == box(
            "1-5/8", "1/4", "2-5/8", 2, "1/2", "27-3/8"
        )
        assert box_cut(one(design.part("rail"), "groove")) == box("5/8", "1/4", "2-5/8", "17-3/8", "1/2", 3)

    def test_a_stop_beside_the_groove_is_told_which_way_it_runs(self) -> None:
        text = framed(
            "{in: stile, for: panel, depth: 3/8in, stopped: {left: 0}}",
            joints=TENONS + "- rests: {between: [panel, rail]}\n",
        )
        finding = next(iter(faults(text)))
        assert finding.kind == "wrong-side"
        assert "the housing runs from bottom to top" in finding.message
        assert line_at(text, finding).startswith("left: 0")

    def test_stopped_by_nothing_it_ends_with_the_panel(self) -> None:
        design = solve(
            framed(
                "{in: stile, for: panel, depth: 3/8in, stopped: {bottom: 0, top: 0}}",
                joints=TENONS + "- rests: {between: [panel, rail]}\n",
            )
        )
        stile = design.part("stile")
        # The panel stands from the lower rail to the upper one: from 3 to 27.
        assert box_cut(one(stile, "groove")) == box("1-5/8", "1/4", 3, 2, "1/2", 27)
        assert work(design.part("panel"), "notch") == []

    def test_wider_than_the_panel_it_stays_about_its_middle(self) -> None:
        design = solve(framed("{in: [stile, rail], for: panel, depth: 3/8in, width: 5/16in}"))
        assert box_cut(one(design.part("stile"), "groove")) == box("1-5/8", "7/32", 0, 2, "17/32", 30)

    @pytest.mark.parametrize(
        ("groove", "kind"),
        [
            ("{in: [stile, rail], for: panel, depth: 3/8in, width: 3/16in}", "groove-too-narrow"),
            ("{in: [stile, rail], for: panel, depth: 3/8in, width: 7/8in}", "groove-too-wide"),
            ("{in: [stile, rail], for: panel, depth: 2in}", "groove-too-deep"),
            ("{in: [stile, rail], for: panel, depth: 3/8in, gap: 1/2in}", "bad-gap"),
            ("{in: stile, for: panel, depth: 3/8in, stopped: {left: 1in}}", "wrong-side"),
        ],
    )
    def test_what_cannot_be_cut_is_refused(self, groove: str, kind: str) -> None:
        assert set(kinds(framed(groove))) == {kind}

    def test_a_panel_that_hangs_over_the_edge_is_refused(self) -> None:
        text = framed("{in: [stile, rail], for: panel, depth: 3/8in}", "centred at 1/16in")
        assert set(kinds(text)) == {"partly-touching"}

    def test_rails_alike_in_different_joints_are_told_to_share_one(self) -> None:
        text = framed(
            "{name: lower, in: lower rail, for: panel, depth: 3/8in}\n- groove: "
            "{name: upper, in: upper rail, for: panel, depth: 3/8in}"
        )
        wrong = the_fault(text, "copies-differ")
        assert "`lower` cuts into lower rail what another joint cuts into upper rail" in wrong.message


# A back of 1/4 in in rabbets of a box of four boards, its top and bottom between the sides.
CASE = """
side:
  stock: pine
  runs: up
  thick: across
  place:
    left side: {left: 0, front: 0, back: 8in, bottom: 0, top: 20in}
    right side: {mirror of: left side, plane: across at 6in}
back:
  stock: ply
  runs: up
  thick: deep
  place: {left: left side.right, right: right side.left, bottom: 0, top: 20in, back: BACK}
"""


def backed(joint: str, back: str = "8in") -> str:
    return project(CASE.replace("BACK", back), f"- rabbet: {joint}", stock=PLY)


class TestRabbet:
    def test_the_lap_is_added_and_the_depth_is_the_back(self) -> None:
        design = solve(backed("{in: side, for: back, width: 3/8in, contacts: 2}"))
        assert design.part("back").width == length("11-1/4")  # 10-1/2 between, 3/8 on either side
        rabbet = one(design.part("side"), "rabbet")
        assert box_cut(rabbet) == box("3/8", "7-3/4", 0, "3/4", 8, 20)
        assert rabbet.side is Side.RIGHT
        assert rabbet.features[0].datum == (Side.BACK,)
        assert said(rabbet) == (
            "Cut a rabbet 1/4 in wide and 3/8 in deep in the inside face, along the back edge."
        )

    def test_the_back_goes_in_from_behind(self) -> None:
        (joint,) = solve(backed("{in: side, for: back, width: 3/8in}")).joints
        assert {contact.closes for contact in joint.contacts} == {Side.FRONT}
        assert joint.glue is None
        assert joint.glue_area == 0

    def test_deeper_than_the_back_the_back_is_let_in(self) -> None:
        # A rabbet of 3/8 in for a back of 1/4 in whose back stands 1/8 in forward of the edge.
        design = solve(backed("{in: side, for: back, width: 3/8in, depth: 3/8in}", "7-7/8in"))
        assert box_cut(one(design.part("side"), "rabbet")) == box("3/8", "7-5/8", 0, "3/4", 8, 20)

    @pytest.mark.parametrize(
        ("joint", "back", "kind"),
        [
            ("{in: side, for: back, width: 3/8in}", "7-1/2in", "rabbet-not-at-edge"),
            ("{in: side, for: back, width: 3/8in, depth: 3/8in}", "8in", "rabbet-not-at-edge"),
            ("{in: side, for: back, width: 3/8in, depth: 1/8in}", "8in", "rabbet-not-at-edge"),
            ("{in: side, for: back, width: 3/8in, depth: 8in}", "8in", "rabbet-too-deep"),
            ("{in: side, for: back, width: 3/4in}", "8in", "rabbet-too-deep"),
            ("{in: side, for: back, width: -1/4in}", "8in", "rabbet-too-deep"),
        ],
    )
    def test_what_cannot_be_cut_is_refused(self, joint: str, back: str, kind: str) -> None:
        assert set(kinds(backed(joint, back))) == {kind}

    def test_a_piece_as_thick_as_the_board_is_wide_leaves_no_ledge(self) -> None:
        text = backed("{in: side, for: back, width: 3/8in}").replace(
            "back: 8in, bottom", "back: 1/4in, bottom"
        )
        text = text.replace("top: 20in, back: 8in", "top: 20in, back: 1/4in")
        assert set(kinds(text)) == {"rabbet-too-deep"}


def test_joints_that_add_differently_to_one_end_disagree() -> None:
    text = project(
        """
        side:
          stock: pine
          runs: up
          thick: across
          place:
            lower side: {left: 0, front: 0, back: 5in, bottom: 0, top: 20in}
            upper side: {left: 0, front: 5in, back: 10in, bottom: 0, top: 20in}
        shelf:
          stock: pine
          runs: across
          thick: up
          place: {left: lower side.right, right: 12in, front: 0, back: 10in, bottom: 6in}
        """,
        """
        - dado: {in: lower side, for: shelf, depth: 1/4in}
        - dado: {in: upper side, for: shelf, depth: 3/8in}
        """,
    )
    assert kinds(text) == ["joints-disagree"]


def test_nothing_is_added_where_nothing_meets() -> None:
    text = shelves("dado: {in: side, for: shelf, depth: 1/4in}").replace(
        "right: right side.left", "right: 12in"
    )
    assert kinds(text) == ["copies-differ"]  # a side with a dado and one with none
    text = project(
        """
        post:
          stock: pine
          runs: up
          thick: across
          place: {left: 0, front: 0, back: 10in, bottom: 0, top: 20in}
        shelf:
          stock: pine
          runs: across
          thick: up
          place: {left: post.right, right: 12in, front: 0, back: 10in, bottom: 6in}
        """,
        "- dado: {in: post, for: shelf, depth: 1/4in}",
    )
    design = solve(text)
    assert design.part("shelf").shoulder_length == length("11-1/4")
    assert design.part("shelf").length == length("11-1/2")
    assert copy(design, "shelf").box == box("1/2", 0, 6, 12, 10, "6-3/4")

"""Joints over all pairs of copies that meet: contacts, claims, names, what is warned of."""

from __future__ import annotations

import pytest

from plangen.description import read_description
from plangen.design.joining import joint_names
from plangen.findings import Findings
from plangen.joinery.space import Side
from tests.design.small import attempt, faults, kinds, length, line_at, solve, the_fault
from tests.joinery.boards import SIDES, with_joints

SHELVES = f"""{SIDES}shelf:
  stock: pine
  runs: across
  thick: up
  place:
    low shelf: {{left: left side.right, right: right side.left, front: 0, back: 10in, bottom: 2in}}
    high shelf: {{same as: low shelf, bottom: 12in}}
"""


def joined(*joints: str, parts: str = SHELVES, hardware: str = "") -> str:
    return with_joints(parts, *joints, hardware=hardware)


class TestContacts:
    def test_every_touching_pair_is_one(self) -> None:
        (joint,) = solve(joined("dado: {in: side, for: shelf, depth: 1/4in, contacts: 4}")).joints
        assert [(item.fixed, item.moving) for item in joint.contacts] == [
            ("left side", "low shelf"),
            ("left side", "high shelf"),
            ("right side", "low shelf"),
            ("right side", "high shelf"),
        ]

    def test_a_number_that_is_not_found_is_told_with_the_pairs(self) -> None:
        text = joined("dado: {in: side, for: shelf, depth: 1/4in, contacts: 3}")
        wrong = the_fault(text, "contacts")
        assert "meets at 4 places, not 3: left side and low shelf," in wrong.message
        assert line_at(text, wrong).startswith("contacts")

    def test_copies_may_be_named_one_by_one_or_twice(self) -> None:
        (joint,) = solve(
            joined("dado: {in: [side, left side, side], for: [low shelf, shelf, low shelf], depth: 1/4in}")
        ).joints
        assert len(joint.contacts) == 4

    def test_copies_of_one_part_meet_each_other_once(self) -> None:
        parts = """
        board:
          stock: pine
          runs: up
          thick: across
          place:
            one board: {left: 0, front: 0, back: 5in, bottom: 0, top: 9in}
            two board: {same as: one board, left: one board.right}
            three board: {same as: one board, left: two board.right}
        """
        for kind in ("butt", "rests"):
            (joint,) = solve(joined(f"{kind}: {{between: [board, board]}}", parts=parts)).joints
            assert [(item.fixed, item.moving, item.closes) for item in joint.contacts] == [
                ("one board", "two board", Side.LEFT),
                ("two board", "three board", Side.LEFT),
            ]
        text = joined("screwed: {through: board, into: board, with: screw}", parts=parts, hardware=SCREW)
        assert kinds(text) == ["both-roles"]

    def test_one_piece_is_no_pair(self) -> None:
        text = joined("butt: {between: [low shelf, low shelf]}")
        assert "joins a piece with itself" in the_fault(text, "nothing-meets").message


SCREW = "screw: {kind: wood screw, gauge: 6, length: 1-1/4in, head: flat}"


class TestNothingMeets:
    def test_the_nearest_gap_is_told(self) -> None:
        text = joined("butt: {between: [low shelf, high shelf]}")
        wrong = the_fault(text, "nothing-meets")
        assert "low shelf and high shelf, are 9-1/4 in apart up" in wrong.message

    def test_pieces_that_overlap_do_not_touch(self) -> None:
        text = joined("butt: {between: [low shelf, high shelf]}").replace("bottom: 12in", "bottom: 2-1/4in")
        assert "they overlap" in the_fault(text, "nothing-meets").message

    def test_an_edge_is_no_face(self) -> None:
        text = joined("butt: {between: [low shelf, high shelf]}").replace(
            "{same as: low shelf, bottom: 12in}",
            "{same as: low shelf, bottom: 2-3/4in, front: 10in, back: 20in}",
        )
        assert "meet at an edge only" in the_fault(text, "nothing-meets").message

    def test_a_failed_part_is_not_blamed_twice(self) -> None:
        text = joined("dado: {in: side, for: shelf, depth: 1/4in}").replace("stock: pine", "stock: pin", 1)
        assert kinds(text) == ["undefined-name"]


class TestClaims:
    def test_two_joints_may_not_have_one_contact(self) -> None:
        text = joined(
            "dado: {name: first, in: side, for: shelf, depth: 1/4in}",
            "butt: {name: second, between: [shelf, side]}",
        )
        wrong = faults(text)
        assert {item.kind for item in wrong} == {"contact-claimed"}
        assert "`second` and `first`" in wrong[0].message
        assert len(wrong[0].also) == 1

    def test_both_roles_of_one_piece(self) -> None:
        text = joined("dado: {in: [side, shelf], for: [side, shelf], depth: 1/4in}")
        wrong = the_fault(text, "both-roles")
        assert line_at(text, wrong).startswith("dado")

    def test_a_piece_may_take_a_cut_in_one_joint_and_enter_another(self) -> None:
        parts = (
            SHELVES
            + """
divider:
  stock: pine
  runs: up
  thick: across
  place: {across: centred at 8in, front: 0, back: 10in, bottom: low shelf.top, top: high shelf.bottom}
"""
        )
        design = solve(
            joined(
                "dado: {in: side, for: shelf, depth: 1/4in}",
                "dado: {in: shelf, for: divider, depth: 1/4in, contacts: 2}",
                parts=parts,
            )
        )
        assert design.part("divider").length == length("9-3/4")
        # The shelves are one part: the upper one is the lower one turned over.
        assert [part.key for part in design.parts] == ["side", "shelf", "divider"]


class TestNames:
    def test_joints_without_a_name_are_numbered_by_kind(self) -> None:
        text = joined(
            "butt: {between: [side, low shelf]}",
            "butt: {name: mine, between: [side, high shelf]}",
            "butt: {between: [low shelf, high shelf]}",
            "rests: {between: [side, shelf]}",
        )
        description = read_description(text.encode(), "project.yaml", Findings())
        assert description is not None
        assert joint_names(description.joints) == ["butt", "mine", "butt 2", "rests"]

    @pytest.mark.parametrize("names", ["in: sid, for: shelf", "in: side, for: shelv"])
    def test_unknown_names(self, names: str) -> None:
        text = joined(f"dado: {{{names}, depth: 1/4in}}")
        assert the_fault(text, "undefined-name").remedy.startswith("did you mean `")


class TestLooseContacts:
    def loose(self, *joints: str) -> list[str]:
        solved, findings = attempt(joined(*joints))
        assert solved is not None
        return [item.message for item in findings if item.kind == "loose-contact"]

    def test_each_pair_of_parts_is_warned_of_once(self) -> None:
        assert self.loose() == ["left side and low shelf touch, and no joint holds them"]

    def test_resting_settles_it(self) -> None:
        assert self.loose("rests: {between: [side, shelf]}") == []

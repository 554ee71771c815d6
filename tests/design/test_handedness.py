"""Which copies are one part, which are a left and a right, and which are not the same piece at all."""

from __future__ import annotations

import pytest

from plangen.design.model import Design
from plangen.joinery.space import Axis, Box, Point
from plangen.joinery.transform import determinant
from tests.design.small import (
    box,
    box_cut,
    copy,
    faults,
    kinds,
    length,
    one,
    project,
    solve,
    taken,
    the_fault,
)

SIDES = """
side:
  stock: pine
  runs: up
  thick: across
{keys}  place:
    left side: {{left: 0, front: 0, back: 10in, bottom: 0, top: 20in}}
    right side: {right}
"""
MIRROR = "{mirror of: left side, plane: across at 8in}"
MOVED = "{same as: left side, left: 15in}"


def sides(keys: str = "", right: str = MIRROR) -> Design:
    return solve(project(SIDES.format(keys=keys, right=right)))


def shapes(design: Design) -> list[tuple[str, str, tuple[str, ...]]]:
    return [(part.key, part.mark, tuple(item.name for item in part.copies)) for part in design.parts]


class TestOwnCuts:
    def test_plain_boards_are_one_part(self) -> None:
        assert shapes(sides()) == [("side", "A", ("left side", "right side"))]

    HOLE = "hole: {face: inside, from front: FRONT, from bottom: 4in, diameter: 1/2in, depth: 1/4in}"

    def test_what_turns_onto_itself_is_one_part(self) -> None:
        # A hole in the middle of the width: the right side is the left one turned half round.
        keys = f"  cut:\n    - {self.HOLE.replace('FRONT', '5in')}\n"
        design = sides(keys)
        assert shapes(design) == [("side", "A", ("left side", "right side"))]
        first, second = design.parts[0].copies
        assert determinant(second.pose.turn) == 1
        assert first.pose.turn == ((1, 0, 0), (0, 1, 0), (0, 0, 1))

    def test_what_only_a_mirror_makes_equal_is_a_pair(self) -> None:
        keys = f"  cut:\n    - {self.HOLE.replace('FRONT', '2in')}\n"
        design = sides(keys)
        assert shapes(design) == [
            ("side left", "A-L", ("left side",)),
            ("side right", "A-R", ("right side",)),
        ]
        assert [(part.hand, part.mirror, part.title) for part in design.parts] == [
            ("left", "side right", "Side, left"),
            ("right", "side left", "Side, right"),
        ]

    def test_a_mirrored_cut_is_at_the_mirrored_place(self) -> None:
        keys = "  cut:\n    - notch: {at: [back, bottom], deep: 1in, up: 3in}\n"
        design = sides(keys)
        (side,) = design.parts  # a notch through the thickness needs no hands: the board is turned over
        cut = box_cut(one(side, "notch"))
        assert [item.pose.box(cut) for item in side.copies] == [
            box(0, 9, 0, "3/4", 10, 3),
            box("15-1/4", 9, 0, 16, 10, 3),
        ]

    def test_a_copy_that_is_only_moved_keeps_its_cuts(self) -> None:
        keys = f"  cut:\n    - {self.HOLE.replace('FRONT', '2in').replace('inside', 'right')}\n"
        design = sides(keys, MOVED)
        assert shapes(design) == [("side", "A", ("left side", "right side"))]
        assert design.parts[0].copies[1].pose.turn == ((1, 0, 0), (0, 1, 0), (0, 0, 1))

    def test_alike_no_makes_two_parts_with_letters_of_their_own(self) -> None:
        keys = f"  alike: no\n  cut:\n    - {self.HOLE.replace('FRONT', '2in')}\n"
        design = sides(keys)
        assert shapes(design) == [("side 1", "A", ("left side",)), ("side 2", "B", ("right side",))]
        assert [(part.title, part.mirror, part.hand) for part in design.parts] == [
            ("Side 1", None, None),
            ("Side 2", None, None),
        ]

    def test_mirrored_twice_is_turned_and_not_mirrored(self) -> None:
        """Four feet with a chamfer on one corner: each a mirror image of its neighbour."""
        design = solve(
            project(
                """
                foot:
                  stock: pine
                  runs: up
                  thick: deep
                  width: 1in
                  cut:
                    - hole: {face: left, from front: 1/4in, from bottom: 1in, diameter: 1/8in, depth: 1/4in}
                  place:
                    one foot: {left: 0, front: 0, bottom: 0, top: 5in}
                    two foot: {mirror of: one foot, plane: across at 10in}
                    three foot: {mirror of: two foot, plane: deep at 10in}
                    four foot: {mirror of: one foot, plane: deep at 10in}
                """
            )
        )
        assert shapes(design) == [
            ("foot left", "A-L", ("one foot", "three foot")),
            ("foot right", "A-R", ("two foot", "four foot")),
        ]
        third = design.part_of["three foot"]
        hole = third.operations[0].cuts[0]
        pose = copy(design, "three foot").pose
        mouth = pose.point(hole.mouth)  # type: ignore[union-attr]
        # One foot: left face, 1/4 in from the front. Across and deep: right face, 1/4 in from the back.
        assert (mouth.across, mouth.deep, mouth.up) == (length("20"), length("19-3/4"), length("1"))


class TestByJoints:
    LEGS = """
    leg:
      stock: pine
      runs: up
      thick: deep
      thickness: 1-1/2in
      width: 1-1/2in
      glue up: {layers: 2}
      place:
        front left leg: {left: 0, front: 0, bottom: 0, top: 20in}
        front right leg: {same as: front left leg, left: 18-1/2in}
        back left leg: {same as: front left leg, front: 10-1/2in}
        back right leg: {same as: back left leg, left: 18-1/2in}
    rail:
      stock: pine
      runs: across
      thick: deep
      width: 3in
      place:
        front rail: {left: front left leg.right, right: front right leg.left, deep: centred on front left leg,
                     top: 19in}
        back rail: {same as: front rail, deep: centred on back left leg}
    end rail:
      stock: pine
      runs: deep
      thick: across
      width: 3in
      place:
        left rail: {front: front left leg.back, back: back left leg.front, across: centred on front left leg,
                    top: RAIL}
        right rail: {same as: left rail, across: centred on front right leg}
    """

    def table(self, top: str, joints: str) -> str:
        return project(self.LEGS.replace("RAIL", top), joints)

    def test_square_legs_are_rolled_a_quarter_turn(self) -> None:
        # Both rails at one height: a leg rolled about its length fits all four corners.
        text = self.table(
            "19in", "- mortise and tenon: {in: leg, for: [rail, end rail], length: 5/8in, contacts: 8}"
        )
        design = solve(text)
        leg = design.part("leg")
        assert len(leg.copies) == 4
        assert [operation.kind for operation in leg.operations] == ["mortise", "mortise"]
        for item in leg.copies:
            assert determinant(item.pose.turn) == 1
            assert item.pose.box(leg.blank) == item.box

    def test_rails_at_two_heights_make_left_and_right_legs(self) -> None:
        text = self.table("18in", "- mortise and tenon: {in: leg, for: [rail, end rail], length: 5/8in}")
        legs = [part for part in solve(text).parts if part.name == "leg"]
        assert [(part.key, tuple(item.name for item in part.copies)) for part in legs] == [
            ("leg left", ("front left leg", "back right leg")),
            ("leg right", ("front right leg", "back left leg")),
        ]
        assert taken(legs[0]) == pytest.approx(taken(legs[1]))

    def test_every_mortise_stands_where_its_tenon_enters(self) -> None:
        text = self.table(
            "18in", "- mortise and tenon: {in: leg, for: [rail, end rail], length: 5/8in, gap: 0}"
        )
        design = solve(text)
        tongues = []
        for part in design.parts:
            for operation in part.operations:
                if operation.kind == "tenon":
                    spans = dict(operation.features[0].spans)
                    low = {axis: spans[axis].low for axis in Axis}
                    high = {axis: spans[axis].high for axis in Axis}
                    tongue = Box(Point(*low.values()), Point(*high.values()))
                    tongues += [item.pose.box(tongue) for item in part.copies]
        pockets = [
            item.pose.box(box_cut(operation))
            for part in design.parts
            if part.name == "leg"
            for operation in part.operations
            for item in part.copies
        ]
        assert len(pockets) == 8
        assert sorted(map(repr, pockets)) == sorted(map(repr, tongues))


class TestNotTheSame:
    def test_sizes(self) -> None:
        text = project(SIDES.format(keys="", right="{same as: left side, left: 15in, top: 18in, bottom: 0}"))
        wrong = the_fault(text, "copies-differ")
        assert "left side is 20 in (508 mm) long and right side 18 in (457.2 mm)" in wrong.message
        assert "`like: side`" in wrong.remedy

    SHELF = """
shelf:
  stock: pine
  runs: across
  thick: up
  place:
    one shelf: {left: left side.right, right: RIGHT, front: 0, back: 10in, bottom: 6in}
"""

    def test_counts(self) -> None:
        text = project(
            SIDES.format(keys="", right=MOVED) + self.SHELF.replace("RIGHT", "12in"),
            "- dado: {in: side, for: shelf, depth: 1/4in}",
        )
        assert "left side has 1 × dado and right side has 0" in the_fault(text, "copies-differ").message

    def test_places(self) -> None:
        shelves = self.SHELF.replace("RIGHT", "12in") + (
            "    two shelf: {right: right side.left, left: 11in, front: 0, back: 10in, bottom: 7in}\n"
        )
        text = project(
            SIDES.format(keys="", right=MOVED.replace("15in", "22-1/4in")) + shelves,
            "- dado: {in: side, for: shelf, depth: 1/4in}",
        )
        wrong = faults(text)
        assert [item.kind for item in wrong] == ["copies-differ"]
        assert "is in another place" in wrong[0].message

    def test_a_wide_board_is_not_rolled_onto_its_edge(self) -> None:
        """Length and width may be equal; the grain still tells them apart."""
        text = project(
            """
            tile:
              stock: pine
              runs: across
              thick: up
              length: 6in
              width: 6in
              place:
                one tile: {left: 0, front: 0, bottom: 0}
                two tile: {left: 10in, front: 0, bottom: 0}
            post:
              stock: pine
              runs: up
              thick: deep
              width: 1in
              place:
                one post: {left: 2in, front: 6in, bottom: -5in, top: 5in}
                two post: {left: 16in, front: 2in, bottom: -5in, top: 5in}
            """,
            "- dowelled: {between: [post, tile], with: pin}",
            hardware="pin: {kind: dowel, diameter: 1/4in, length: 1/2in}",
        )
        # One tile is bored in its edge, the other in its end.
        assert "copies-differ" in kinds(text)

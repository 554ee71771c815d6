"""Hinged joints: where the pin lies and which way it turns, what is let in, and what cannot hang."""

from __future__ import annotations

import pytest

from plangen.joinery.space import Side
from tests.design.small import box_cut, kinds, length, line_at, one, project, rounds, solve, the_fault, work

HINGE = "hinge: {{kind: butt hinge, length: 2in, leaf: 3/4in, thickness: 1/16in{more}}}"
# A door to the right of a post, a sixteenth away, both 3/4 in thick and flush in front.
DOOR = """
post:
  stock: pine
  runs: up
  thick: deep
  place: {left: 0, right: 2in, front: 0, bottom: 0, top: 30in}
door:
  stock: pine
  runs: up
  thick: deep
  place: {left: 2-1/16in, right: 14in, front: 0, bottom: 0, top: 30in}
"""
# A lid on the top edge of a back, its own back edge flush with it.
LID = """
back:
  stock: pine
  runs: across
  thick: deep
  place: {left: 0, right: 20in, back: 10in, bottom: 0, top: 8in}
lid:
  stock: pine
  runs: across
  thick: up
  place: {left: 0, right: 20in, front: 0, back: 10in, bottom: 8-1/16in}
"""


def hung(
    keys: str = "",
    *,
    parts: str = DOOR,
    leaf: str = "door",
    to: str = "post",
    swing: str = "front 110deg",
    more: str = "",
) -> str:
    joint = f"- hinged: {{leaf: {leaf}, to: {to}, with: hinge, swing: {swing}, gap: 1/16in{keys}}}"
    return project(parts, joint, hardware=HINGE.format(more=more))


class TestPin:
    def test_a_door_that_opens_to_the_front_has_its_knuckle_there(self) -> None:
        (motion,) = solve(hung()).motions
        x, y, _ = (value / 25.4 for value in motion.point)
        # Middle of the gap; half of the knuckle (three leaves thick) outside the front.
        assert (x, y) == (pytest.approx(2 + 1 / 32), pytest.approx(-3 / 32))
        # Seen from above, a door hung at its left comes forward clockwise: about the line that points down.
        assert motion.way == (0, 0, -1)
        assert (motion.kind, motion.moves, motion.most) == ("turns", ("door",), 110)

    def test_a_door_that_opens_to_the_back_turns_the_other_way(self) -> None:
        (motion,) = solve(hung(swing="back 90deg")).motions
        assert motion.point[1] / 25.4 == pytest.approx(3 / 4 + 3 / 32)
        assert motion.way == (0, 0, 1)

    def test_a_lid_goes_up_about_its_back_edge(self) -> None:
        (motion,) = solve(hung(parts=LID, leaf="lid", to="back", swing="up 95deg")).motions
        assert motion.point[1] / 25.4 == pytest.approx(10 + 3 / 32)
        # From the left, up and back is clockwise; seen from the right, anticlockwise is forward.
        assert motion.way == (-1, 0, 0)

    def test_a_lid_cannot_go_along_its_pin(self) -> None:
        text = hung(parts=LID, leaf="lid", to="back", swing="left 95deg")
        assert line_at(text, the_fault(text, "cannot-swing")).startswith("swing: left 95deg")

    @pytest.mark.parametrize("swing", ["110deg", "sideways 110deg", "front", "front 0deg", "front 400deg"])
    def test_what_does_not_say_how_it_turns(self, swing: str) -> None:
        text = hung(swing=swing)
        assert line_at(text, the_fault(text, "bad-value")).startswith(f"swing: {swing}")


class TestRecess:
    def test_each_leaf_takes_half_of_what_the_gap_leaves_of_the_closed_hinge(self) -> None:
        design = solve(hung())
        for name, side in (("post", Side.RIGHT), ("door", Side.LEFT)):
            first, second = work(design.part(name), "leaf recess")
            box = box_cut(first)
            # 3/16 in closed, less 1/16 in, is 1/16 in for each.
            assert first.side is side
            assert box.high.across - box.low.across == length("1/16")
            assert box.high.deep - box.low.deep == length("3/4") - length("3/32")
            assert box.low.deep == length("0")  # open to the front, where the knuckle stands
            # Their own length from the ends: 2 in to 4 in, and as much from the top.
            assert (box.low.up, box.high.up) == (length("2"), length("4"))
            assert box_cut(second).high.up == length("28")

    @pytest.mark.parametrize(("let_in", "post", "door"), [("frame", "1/8", None), ("leaf", None, "1/8")])
    def test_one_side_may_take_all(self, let_in: str, post: str | None, door: str | None) -> None:
        design = solve(hung(f", let in: {let_in}, number: 1"))
        for name, depth in (("post", post), ("door", door)):
            found = [operation.features[0].depth for operation in work(design.part(name), "leaf recess")]
            assert found == ([length(depth)] if depth is not None else [])

    def test_a_gap_wider_than_the_closed_hinge(self) -> None:
        text = hung().replace("2-1/16in", "2-1/4in").replace("gap: 1/16in", "gap: 1/4in")
        assert line_at(text, the_fault(text, "bad-gap")).startswith("gap: 1/4in")

    def test_the_gap_is_where_they_stand(self) -> None:
        assert kinds(hung().replace("2-1/16in", "2-1/8in")) == ["nothing-meets"]

    def test_a_leaf_wider_than_the_board(self) -> None:
        assert kinds(hung().replace("leaf: 3/4in, t", "leaf: 1in, t")) == ["leaf-too-wide"]

    def test_what_is_no_hinge(self) -> None:
        text = hung().replace(
            HINGE.format(more=""), "hinge: {kind: magnet, diameter: 1/4in, thickness: 1/8in}"
        )
        assert line_at(text, the_fault(text, "wrong-hardware")).startswith("with: hinge")


class TestScrewsAndNumber:
    def test_screws_are_counted_and_bored_where_their_places_are_known(self) -> None:
        design = solve(hung(more=", screws: {number: 4, length: 1/2in, pitch: 1in, inset: 1/4in}"))
        uses = {use.item: use.number for use in design.joints[0].hardware}
        assert uses == {"hinge": 2, "hinge screw": 8}
        leads = work(design.part("door"), "lead hole")
        assert len(leads) == 4
        (cut,) = rounds(leads[0])
        # 1/4 in from the free edge of the leaf, which lies 21/32 in in; half a pitch from its middle at 3 in.
        assert (cut.mouth.deep, cut.mouth.up) == (length("13/32"), length("2-1/2"))
        # The screw's half inch, less the leaf's sixteenth, from the floor of the recess.
        assert (cut.depth, cut.mouth.across) == (length("7/16"), length("1/16"))

    def test_screws_whose_places_are_not_known_are_counted_only(self) -> None:
        design = solve(hung(more=", screws: 6"))
        assert {use.item: use.number for use in design.joints[0].hardware} == {"hinge": 2, "hinge screw": 12}
        assert work(design.part("door"), "lead hole") == []
        screw = design.hardware["hinge screw"]
        assert screw.length == length("5/8")

    def test_a_screw_that_comes_through(self) -> None:
        text = hung(more=", screws: {number: 4, length: 12in}")
        assert "come through post" in the_fault(text, "screw-too-long").message

    @pytest.mark.parametrize(
        ("keys", "number"), [("", 2), (", number: 3", 3), (", number: 2, from ends: 5in", 2)]
    )
    def test_how_many(self, keys: str, number: int) -> None:
        assert len(work(solve(hung(keys)).part("door"), "leaf recess")) == number

    def test_a_taller_door_takes_one_more(self) -> None:
        text = hung().replace("top: 30in", "top: 50in")
        assert len(work(solve(text).part("door"), "leaf recess")) == 3

    def test_more_than_fit(self) -> None:
        text = hung(", number: 20")
        assert line_at(text, the_fault(text, "fasteners")).startswith("number: 20")

    def test_a_continuous_hinge_is_one(self) -> None:
        text = hung().replace("butt hinge, length: 2in", "continuous hinge, length: 30in")
        assert box_cut(one(solve(text).part("door"), "leaf recess")).high.up == length("30")

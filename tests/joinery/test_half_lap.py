"""Half-laps: corner, tee, cross and edge laps; what each piece loses, worked by hand."""

from __future__ import annotations

import pytest

from plangen.joinery.space import Side
from tests.design.small import (
    box,
    box_cut,
    copy,
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

# A post 30 in high and an arm 20 in long, both flat: 3/4 in thick, 2 in and 3 in wide.
FLAT = """
post:
  stock: pine
  runs: up
  thick: deep
  width: 2in
  place: {left: 4in, front: 0, bottom: 0, top: 30in}
arm:
  stock: pine
  runs: across
  thick: deep
  width: 3in
  place: ARM
"""


def lapped(arm: str, joint: str = "half-lap: {between: [post, arm]}") -> str:
    return project(FLAT.replace("ARM", arm), f"- {joint}")


CORNER = "{left: 4in, right: 24in, front: 0, top: 30in}"
TEE = "{left: 4in, right: 24in, front: 0, bottom: 10in}"
CROSS = "{left: 0, right: 20in, front: 0, bottom: 10in}"


class TestFlat:
    def test_at_a_corner_each_loses_half_at_its_end(self) -> None:
        design = solve(lapped(CORNER))
        post, arm = design.part("post"), design.part("arm")
        # The first named keeps its front: the post loses the back half.
        assert box_cut(one(post, "half-lap")) == box(0, "3/8", 27, 2, "3/4", 30)
        assert one(post, "half-lap").side is Side.BACK
        assert box_cut(one(arm, "half-lap")) == box(0, 0, 0, 2, "3/8", 3)
        assert one(arm, "half-lap").side is Side.FRONT
        assert [taken(post), taken(arm)] == pytest.approx([2 * 3 * 0.375] * 2)
        assert (post.length, arm.length) == (length("30"), length("20"))  # nothing is added
        assert said(one(post, "half-lap")) == (
            "Cut a half-lap 3 in wide and 3/8 in deep in the back face, along the top end."
        )

    @pytest.mark.parametrize(
        ("arm", "in_post", "in_arm"),
        [
            (TEE, (0, "3/8", 10, 2, "3/4", 13), (0, 0, 0, 2, "3/8", 3)),
            (CROSS, (0, "3/8", 10, 2, "3/4", 13), (4, 0, 0, 6, "3/8", 3)),
        ],
    )
    def test_tee_and_cross(self, arm: str, in_post: tuple[str | int], in_arm: tuple[str | int]) -> None:
        design = solve(lapped(arm))
        assert box_cut(one(design.part("post"), "half-lap")) == box(*in_post)
        assert box_cut(one(design.part("arm"), "half-lap")) == box(*in_arm)

    def test_the_contact_closes_towards_the_face_that_the_first_keeps(self) -> None:
        (joint,) = solve(lapped(CROSS)).joints
        (contact,) = joint.contacts
        assert (contact.fixed, contact.moving, contact.closes) == ("post", "arm", Side.FRONT)
        assert joint.glue_area == 2 * 3 * length("1").mm ** 2

    def test_keeps_and_depth(self) -> None:
        design = solve(lapped(CROSS, "half-lap: {between: [post, arm], keeps: back, depth: 1/4in}"))
        # The post keeps its back; the arm loses 1/4 in there, so the post loses the other 1/2 in.
        assert box_cut(one(design.part("post"), "half-lap")) == box(0, 0, 10, 2, "1/2", 13)
        assert box_cut(one(design.part("arm"), "half-lap")) == box(4, "1/2", 0, 6, "3/4", 3)

    def test_pieces_of_unequal_thickness_are_flush_where_the_first_keeps_its_wood(self) -> None:
        text = lapped(CROSS).replace("    width: 3in\n", "    width: 3in\n    thickness: 1/2in\n")
        design = solve(text)
        # The overlap is the arm's 1/2 in: the arm loses its front 1/4 in, the post all behind that.
        assert box_cut(one(design.part("arm"), "half-lap")) == box(4, 0, 0, 6, "1/4", 3)
        assert box_cut(one(design.part("post"), "half-lap")) == box(0, "1/4", 10, 2, "3/4", 13)

    @pytest.mark.parametrize(
        ("joint", "kind", "at"),
        [
            ("half-lap: {between: [post, arm], keeps: top}", "half-lap", "keeps"),
            ("half-lap: {between: [post, arm], depth: 3/4in}", "half-lap", "depth"),
            ("half-lap: {between: [post, arm], depth: 0}", "half-lap", "depth"),
        ],
    )
    def test_what_cannot_be_lapped(self, joint: str, kind: str, at: str) -> None:
        text = lapped(CROSS, joint)
        assert line_at(text, the_fault(text, kind)).startswith(at)

    def test_pieces_that_only_touch_do_not_lap(self) -> None:
        text = lapped("{left: 6in, right: 24in, front: 0, bottom: 10in}")
        assert "no two of these parts overlap" in the_fault(text, "nothing-meets").message


def test_screws_through_a_lap_pass_one_half_and_enter_the_other() -> None:
    text = project(
        FLAT.replace("ARM", CROSS),
        """
        - half-lap: {name: cross, between: [post, arm]}
        - screwed: {through: arm, into: post, with: screw, per joint: 1}
        """,
        hardware="screw: {kind: wood screw, gauge: 6, length: 5/8in, head: flat}",
    )
    design = solve(text)
    clearance, lead = one(design.part("arm"), "screw hole"), one(design.part("post"), "lead hole")
    # Into the arm's back, in the middle of the lap; 5/8 less the arm's half of 3/8 bites the post.
    assert clearance.side is Side.BACK
    (hole,) = clearance.cuts
    assert (hole.mouth.across, hole.mouth.deep, hole.mouth.up) == (
        length("5"),
        length("3/4"),
        length("1-1/2"),
    )
    (bored,) = lead.cuts
    assert (bored.mouth.deep, bored.depth, bored.side) == (length("3/8"), length("1/4"), Side.BACK)
    (use,) = design.joints[1].hardware
    assert (use.item, use.number) == ("screw", 1)


# Two boards on edge that cross like the walls of an egg crate.
CRATE = """
long:
  stock: pine
  runs: across
  thick: deep
  place: {left: 0, right: 20in, bottom: 0, top: 4in, front: 6in}
short:
  stock: pine
  runs: deep
  thick: across
  place: {front: 0, back: 12in, bottom: 0, top: 4in, left: 9in}
"""


class TestEdgeLap:
    def test_each_is_slotted_to_the_middle_of_its_height(self) -> None:
        design = solve(project(CRATE, "- half-lap: {between: [long, short]}"))
        long, short = design.part("long"), design.part("short")
        # The first named keeps its top: it is slotted from below.
        assert box_cut(one(long, "half-lap")) == box(9, 0, 0, "9-3/4", "3/4", 2)
        assert box_cut(one(short, "half-lap")) == box(0, 6, 2, "3/4", "6-3/4", 4)
        assert design.joints[0].contacts[0].closes is Side.TOP
        assert taken(long) == pytest.approx(0.75 * 0.75 * 2)

    def test_uprights_slide_together_along_their_run(self) -> None:
        text = project(
            """
            broad:
              stock: pine
              runs: up
              thick: deep
              place: {left: 0, right: 10in, bottom: 0, top: 24in, front: 5in}
            deep one:
              stock: pine
              runs: up
              thick: across
              place: {front: 0, back: 10in, bottom: 0, top: 24in, left: 4in}
            """,
            "- half-lap: {between: [broad, deep one]}",
        )
        design = solve(text)
        assert box_cut(one(design.part("broad"), "half-lap")) == box(4, 0, 0, "4-3/4", "3/4", 12)
        assert box_cut(one(design.part("deep one"), "half-lap")) == box(0, 5, 12, "3/4", "5-3/4", 24)


def test_a_frame_of_four_has_two_parts_of_two_copies() -> None:
    design = solve(
        project(
            """
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
                lower rail: {left: 0, right: 20in, front: 0, bottom: 0}
                upper rail: {same as: lower rail, top: 30in}
            """,
            "- half-lap: {between: [stile, rail], contacts: 4}",
        )
    )
    assert [(part.key, len(part.copies), len(work(part, "half-lap"))) for part in design.parts] == [
        ("stile", 2, 2),
        ("rail", 2, 2),
    ]
    assert copy(design, "upper rail").box == box(0, 0, 27, 20, "3/4", 30)


def test_copies_of_one_part_lap_each_other_once() -> None:
    text = project(
        """
        arm:
          stock: pine
          runs: across
          thick: up
          width: 2in
          length: 20in
          place:
            one arm: {left: 0, deep: centred at 10in, bottom: 0}
            other arm: {across: centred at 10in, front: 0, bottom: 0, turned: 90deg about up}
        """,
        "- half-lap: {between: [arm, arm], contacts: 1}",
    )
    (arm,) = solve(text).parts
    # Each loses half of its thickness in the middle; a half turn about the length makes them one part.
    assert box_cut(one(arm, "half-lap")) == box(9, 0, 0, 11, 2, "3/8")
    assert [item.name for item in arm.copies] == ["one arm", "other arm"]


@pytest.mark.parametrize("names", ["[post]", "[post, arm, arm]"])
def test_between_takes_two_names(names: str) -> None:
    assert kinds(lapped(CROSS, f"half-lap: {{between: {names}}}")) == ["bad-joint"]

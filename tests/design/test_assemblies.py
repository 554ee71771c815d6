"""Assemblies: placed, given sizes, nested, mirrored; which of their pieces are one part."""

from __future__ import annotations

import pytest

from plangen.design.marks import KeptMarks
from plangen.design.model import Design
from plangen.joinery.space import Axis
from plangen.units import millimetres
from tests.design.small import copy, faults, project, solve, the_fault

CASE = """
plangen: 1
project: {title: Two drawers, units: mm}
sizes:
  room: 400mm
stock:
  ply: {kind: plywood, label: 12mm, thickness: 12mm, sheet: 1220mm x 2440mm}
parts:
  base:
    stock: ply
    runs: across
    thick: up
    length: room
    width: 500mm
    place: {left: 0, front: 0, bottom: 0}
assemblies:
  tray:
    given: {tall: 100mm}
    parts:
      wall:
        stock: ply
        runs: deep
        thick: across
        length: 300mm
        width: tall
        place:
          left wall: {left: 0, front: 0, bottom: 0}
          right wall: {right: 200mm, front: 0, bottom: 0}
      bed:
        stock: ply
        runs: across
        thick: up
        length: 200mm
        width: 300mm
        place: {left: 0, front: 0, top: 0}
    joints:
      - butt: {name: bed joint, between: [bed, wall], contacts: 2}
    place:
PLACES
"""


def case(places: str, more: str = "") -> str:
    lines = "\n".join(f"      {line}" for line in places.strip().splitlines())
    return CASE.replace("PLACES", lines) + more


TWO = """
low tray: {left: 0, front: 0, bottom: base.top}
high tray: {same as: low tray, bottom: low tray.top + 20mm}
"""


def shapes(design: Design) -> dict[str, tuple[str, ...]]:
    return {part.key: tuple(item.name for item in part.copies) for part in design.parts}


class TestPlacing:
    def test_two_copies_are_one_assembly_of_the_same_parts(self) -> None:
        design = solve(case(TWO))
        assert shapes(design) == {
            "base": ("base",),
            "tray.wall": (
                "low tray.left wall",
                "low tray.right wall",
                "high tray.left wall",
                "high tray.right wall",
            ),
            "tray.bed": ("low tray.bed", "high tray.bed"),
        }
        (tray,) = design.assemblies
        assert (tray.key, tray.title, tray.parts) == ("tray", "Tray", ("tray.wall", "tray.bed"))
        assert [item.name for item in tray.copies] == ["low tray", "high tray"]
        assert tray.copies[0].members == ("low tray.left wall", "low tray.right wall", "low tray.bed")

    def test_pieces_stand_where_their_assembly_does(self) -> None:
        design = solve(case(TWO))
        # The bed hangs 12 below its tray's walls; the tray's sides are those of the whole of it.
        assert copy(design, "low tray.bed").box.low.up == millimetres(12)
        assert copy(design, "high tray.bed").box.low.up == millimetres(12) + millimetres(112) + millimetres(
            20
        )
        assert copy(design, "high tray.right wall").box.low.across == millimetres(188)

    def test_joints_count_every_copy(self) -> None:
        design = solve(case(TWO))
        (joint,) = design.joints
        assert (joint.name, joint.assembly, len(joint.contacts)) == ("tray.bed joint", "tray", 4)
        assert joint.contacts[2].moving.startswith("high tray.")

    def test_a_turned_copy_turns_its_pieces(self) -> None:
        design = solve(case("tray: {left: 0, front: 0, bottom: base.top, turned: 90deg about up}"))
        wall = copy(design, "tray.left wall")
        assert [wall.box.size(axis) for axis in Axis] == [millimetres(300), millimetres(12), millimetres(100)]
        # A quarter turn anticlockwise from above carries the left to the front.
        assert wall.box.low.deep == millimetres(0)

    def test_a_size_of_its_own_and_two_sides_are_one_too_many(self) -> None:
        fault = the_fault(case("tray: {left: 0, right: 200mm, front: 0, bottom: base.top}"), "over-pinned")
        assert "size across of its own" in fault.message

    def test_a_direction_left_open_is_told(self) -> None:
        fault = the_fault(case("tray: {left: 0, bottom: base.top}"), "under-pinned")
        assert "stands deep" in fault.message

    def test_what_holds_it_gives_its_sides(self) -> None:
        text = case(TWO).replace("    given: {tall: 100mm}\n", "    given: {tall: 100mm}\n    hold by: bed\n")
        design = solve(text)
        assert copy(design, "high tray.bed").box.low.up == millimetres(12) + millimetres(12) + millimetres(20)

    def test_held_by_nothing(self) -> None:
        text = case(TWO).replace("    given: {tall: 100mm}\n", "    given: {tall: 100mm}\n    hold by: lid\n")
        assert [fault.kind for fault in faults(text)] == ["hold-by"]


class TestNames:
    def test_prose_and_facts_reach_inside(self) -> None:
        facts = [
            "high tray.left wall.top = high tray.top",
            "tray.wall.length = 300mm",
            "high tray.tall = 100mm",
            "low tray.bed.length = room / 2",
        ]
        design = solve(case(TWO, "expect:\n" + "".join(f"  - {fact}\n" for fact in facts)))
        assert [fact.holds for fact in design.facts] == [True] * 4

    @pytest.mark.parametrize(
        ("fact", "kind"),
        [
            ("low tray.lid.top = 0", "undefined-name"),
            ("low tray.wide = 0", "unknown-property"),
            ("wall.length = 300mm", "undefined-name"),
        ],
    )
    def test_what_is_not_there(self, fact: str, kind: str) -> None:
        the_fault(case(TWO, f"expect:\n  - {fact}\n"), kind)

    def test_the_same_name_inside_and_outside(self) -> None:
        text = case(TWO).replace("  base:\n", "  wall:\n").replace("base.top", "wall.top")
        assert set(shapes(solve(text))) == {"wall", "tray.wall", "tray.bed"}

    def test_inside_knows_nothing_of_the_parts_outside(self) -> None:
        text = case(TWO).replace("width: tall", "width: base.length")
        assert {fault.kind for fault in faults(text)} == {"undefined-name"}


GIVEN = """
low tray: {left: 0, front: 0, bottom: base.top, given: {tall: 140mm}}
high tray: {same as: low tray, bottom: low tray.top + 20mm, given: {tall: 60mm}}
"""


class TestGiven:
    def test_other_sizes_make_other_parts_and_the_rest_stay_one(self) -> None:
        design = solve(case(GIVEN))
        assert shapes(design) == {
            "base": ("base",),
            "low tray.wall": ("low tray.left wall", "low tray.right wall"),
            "high tray.wall": ("high tray.left wall", "high tray.right wall"),
            "tray.bed": ("low tray.bed", "high tray.bed"),
        }
        assert {part.title for part in design.parts} == {
            "Base",
            "Wall, low tray",
            "Wall, high tray",
            "Tray bed",
        }
        assert [item.key for item in design.assemblies] == ["high tray", "low tray"]
        assert {joint.name for joint in design.joints} == {"low tray.bed joint", "high tray.bed joint"}

    def test_a_value_it_does_not_take(self) -> None:
        text = case("tray: {left: 0, front: 0, bottom: base.top, given: {taal: 1mm}}")
        assert the_fault(text, "undefined-name").remedy == "did you mean `tall`?"

    def test_a_ring_through_what_it_is_given(self) -> None:
        the_fault(case("tray: {left: 0, front: 0, bottom: base.top, given: {tall: tray.top}}"), "cycle")


ROW = """
trays: {left: 0, front: 0, spread: {number: 3, going: up, from: base.top, to: base.top + 636mm, gap: 9mm,
        shares: [3, 2, 1], ends: flush, names: [a tray, b tray, c tray]}, given: {tall: own.share - 12mm}}
"""


class TestShares:
    def test_a_row_of_assemblies_shares_its_room_out(self) -> None:
        design = solve(case(ROW.replace("\n        ", " ")))
        # 636 less two gaps of 9 is 618: shares of 309, 206 and 103.
        talls = [copy(design, f"{name} tray.left wall").box.size(Axis.UP) for name in "abc"]
        assert talls == [millimetres(297), millimetres(194), millimetres(91)]
        assert copy(design, "c tray.left wall").box.high.up == millimetres(12) + millimetres(636)

    def test_a_size_that_is_not_the_row_s(self) -> None:
        found = faults(case(ROW.replace("\n        ", " ").replace("own.share - 12mm", "own.share")))
        assert {fault.kind for fault in found} == {"row-size"}

    def test_as_many_shares_as_copies(self) -> None:
        found = faults(case(ROW.replace("\n        ", " ").replace("[3, 2, 1]", "[3, 2]")))
        assert {fault.kind for fault in found} == {"spread"}
        assert "2 shares for 3 copies" in found[0].message


class TestNesting:
    DEEP = """
plangen: 1
project: {title: Nest, units: mm}
stock:
  ply: {kind: plywood, label: 12mm, thickness: 12mm, sheet: 1220mm x 2440mm}
assemblies:
  rack:
    assemblies:
      bank:
        assemblies:
          box:
            parts:
              slab: {stock: ply, runs: across, thick: up, length: 90mm, width: 50mm,
                place: {left: 0, front: 0, bottom: 0}}
            place:
              one: {left: 0, front: 0, bottom: 0}
              two: {left: 100mm, front: 0, bottom: 0}
        place:
          low: {left: 0, front: 0, bottom: 0}
          high: {left: 0, front: 0, bottom: 100mm}
    place:
      near: {left: 0, front: 0, bottom: 0}
      far: {left: 0, front: 300mm, bottom: 0}
"""

    def test_three_deep(self) -> None:
        design = solve(self.DEEP)
        (slab,) = design.parts
        assert (slab.key, len(slab.copies)) == ("rack.bank.box.slab", 8)
        assert copy(design, "far.high.two.slab").path == ("far", "high", "two")
        low = copy(design, "far.high.two.slab").box.low
        assert low.floats() == (100.0, 300.0, 100.0)
        assert [(item.key, len(item.copies), item.within) for item in design.assemblies] == [
            ("rack.bank.box", 8, "rack.bank"),
            ("rack.bank", 4, "rack"),
            ("rack", 2, None),
        ]

    def test_an_assembly_inside_itself(self) -> None:
        text = self.DEEP.replace(
            "          box:\n            parts:\n"
            "              slab: {stock: ply, runs: across, thick: up, length: 90mm, width: 50mm,\n"
            "                place: {left: 0, front: 0, bottom: 0}}\n",
            "          box:\n            like: rack\n",
        )
        assert "assembly-in-itself" in {fault.kind for fault in faults(text)}

    def test_too_many_pieces_are_refused_at_once(self) -> None:
        spread = "{left: 0, front: 0, spread: {number: 200, going: up, first: 0, pitch: 13mm}}"
        text = self.DEEP.replace("{left: 0, front: 0, bottom: 100mm}", spread)
        text = text.replace("{left: 0, front: 300mm, bottom: 0}", spread)
        assert "too-many-pieces" in {fault.kind for fault in faults(text)}


class TestJoinedFromOutside:
    SHELF = """
plangen: 1
project: {title: Doors, units: mm}
stock:
  ply: {kind: plywood, label: 18mm, thickness: 18mm, sheet: 1220mm x 2440mm}
hardware:
  screw: {kind: wood screw, gauge: 4mm, length: 30mm}
parts:
  side:
    stock: ply
    runs: up
    thick: across
    length: 300mm
    width: 200mm
    place:
      left side: {left: 0, front: 0, bottom: 0}
      right side: {right: 400mm, front: 0, bottom: 0}
assemblies:
  frame:
    parts:
      rail: {stock: ply, runs: across, thick: deep, length: 164mm, width: 50mm,
        place: {left: 18mm, front: 0, bottom: 0}}
      stile: {stock: ply, runs: up, thick: deep, length: 50mm, width: 18mm,
        place: {left: 0, front: 0, bottom: 0}}
    joints:
      - butt: {between: [stile, rail]}
    place:
      left frame: {left: left side.right, front: 0, bottom: 0}
      right frame: {mirror of: left frame, plane: across at 200mm}
joints:
  - screwed: {name: hanging, through: side, into: frame.stile, with: screw, per joint: 1}
  - butt: {between: [left frame.rail, right frame.rail]}
"""

    def test_a_mirrored_copy_is_joined_from_outside(self) -> None:
        design = solve(self.SHELF)
        hanging = next(joint for joint in design.joints if joint.name == "hanging")
        assert [contact.moving for contact in hanging.contacts] == ["left frame.stile", "right frame.stile"]
        assert sum(use.number for use in hanging.hardware) == 2
        stile = next(part for part in design.parts if part.name == "frame.stile")
        assert [operation.joint for operation in stile.operations] == ["hanging"]
        assert copy(design, "right frame.stile").box.high.across == millimetres(382)


def test_one_group_names_copies_of_many_parts() -> None:
    text = project(
        """
        board: {stock: pine, runs: across, thick: up, length: 10in, width: 4in,
          place: {left: 0, front: 0, bottom: 0}}
        post: {stock: pine, runs: up, thick: deep, length: 9in, width: 2in,
          place: {left: 0, front: 0, bottom: board.top}}
        cap: {like: board, place: {left: 0, front: 0, bottom: post.top}}
        """,
        joints="- butt: {in_place}",
    ).replace("- butt: {in_place}", "- butt: {between: [boards, post]}")
    design = solve(text + "groups:\n  boards: [board, cap]\n")
    assert design.groups == {"boards": ("board", "cap")}
    assert len(design.joints[0].contacts) == 2
    assert "undefined-name" in {f.kind for f in faults(text + "groups:\n  boards: [board, lid]\n")}
    assert "cycle" in {f.kind for f in faults(text + "groups:\n  boards: [board, more]\n  more: [boards]\n")}


class TestMarks:
    def marks(self, design: Design) -> KeptMarks:
        return KeptMarks({part.name: part.mark for part in design.parts})

    def test_letters_stay_when_something_else_is_added(self) -> None:
        before = solve(case(TWO))
        shelf = (
            "  shelf:\n    stock: ply\n    runs: across\n    thick: up\n    length: room\n    width: 90mm\n"
        )
        text = case(TWO).replace(
            "parts:\n  base:", f"parts:\n{shelf}    place: {{left: 0, back: 0, top: 0}}\n  base:"
        )
        after = solve(text, self.marks(before))
        assert {part.key: part.mark for part in before.parts}.items() <= {
            part.key: part.mark for part in after.parts
        }.items()
        assert len({part.mark for part in after.parts}) == len(after.parts) == 4

    def test_letters_of_drawers_that_come_to_differ_go_to_no_other_part(self) -> None:
        before = solve(case(TWO))
        after = solve(case(GIVEN), self.marks(before))
        kept = {part.key: part.mark for part in before.parts}
        marks = {part.key: part.mark for part in after.parts}
        assert marks["tray.bed"] == kept["tray.bed"]
        assert kept["tray.wall"] not in marks.values()

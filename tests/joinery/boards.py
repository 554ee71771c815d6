"""Boards that operations and joints are tried on, each described once."""

from __future__ import annotations

from plangen.design.model import Part
from plangen.joinery.operation import Operation
from tests.design.small import project, solve, work

# A top 20 in long, 10 in deep and 3/4 in thick, its length across.
TOP = """
top:
  stock: pine
  runs: across
  thick: up
  place: {{left: 0, right: 20in, front: 0, back: 10in, bottom: 0}}
  cut:
    - {cut}
"""
# A leg 1-1/2 in square and 20 in long, upright.
LEG = """
leg:
  stock: post
  runs: up
  thick: across
  place: {{left: 0, front: 0, back: 1-1/2in, bottom: 0, top: 20in}}
  cut:
    - {cut}
"""
# Two sides 10 in deep and 20 in high, 16 in outside to outside.
SIDES = """
side:
  stock: pine
  runs: up
  thick: across
  place:
    left side: {left: 0, front: 0, back: 10in, bottom: 0, top: 20in}
    right side: {mirror of: left side, plane: across at 8in}
"""
# A shelf between them, 6 in up, and a rail 4 in wide on edge, 1 in below their tops.
SHELF = """\
shelf:
  stock: pine
  runs: across
  thick: up
  place: {left: left side.right, right: right side.left, front: FRONT, back: BACK, bottom: 6in}
"""
RAIL = """\
rail:
  stock: pine
  runs: across
  thick: deep
  width: 4in
  place: {left: left side.right, right: right side.left, back: BACK, top: 19in}
"""
# Two legs 1-1/2 in square and 20 in high, 16 in apart; a rail 4 in wide between them, its top 1 in down,
# in the middle of the legs' depth.
LEGS_AND_RAIL = """
leg:
  stock: pine
  runs: up
  thick: deep
  thickness: 1-1/2in
  width: 1-1/2in
  glue up: {layers: 2}
  place:
    left leg: {left: 0, front: 0, bottom: 0, top: 20in}
    right leg: {same as: left leg, left: 17-1/2in}
rail:
  stock: pine
  runs: across
  thick: deep
  width: 4in
  place: {left: left leg.right, right: right leg.left, deep: centred on left leg, top: 19in}
"""
POST = "post: {kind: solid, species: red oak, rough: 8/4, thickness: 1-1/2in}"
TAPE = """
birch tape: {kind: edge banding, width: 7/8in, thickness: 1/32in}
narrow tape: {kind: edge banding, width: 5/8in, thickness: 1/32in}
plain: {kind: strip}
"""


def shelved(front: str = "0", back: str = "10in") -> str:
    """The two sides with the shelf."""
    return SIDES + SHELF.replace("FRONT", front).replace("BACK", back)


def railed_sides(back: str = "10in") -> str:
    """The two sides with the rail, its back so far from the front of the sides."""
    return SIDES + RAIL.replace("BACK", back)


def with_joints(parts: str, *joints: str, hardware: str = "") -> str:
    """The project of some parts with joints between them."""
    return project(parts, "\n".join(f"- {joint}" for joint in joints), hardware=hardware)


def top_text(cut: str) -> str:
    """The project of a top with a cut."""
    return project(TOP.format(cut=cut), hardware=TAPE)


def leg_text(cut: str) -> str:
    """The project of a leg with a cut."""
    return project(LEG.format(cut=cut), stock=POST)


def top(cut: str) -> Part:
    """A top with a cut."""
    return solve(top_text(cut)).part("top")


def leg(cut: str) -> Part:
    """A leg with a cut."""
    return solve(leg_text(cut)).part("leg")


def only(part: Part) -> Operation:
    """The one operation of a part."""
    (operation,) = part.operations
    assert work(part, operation.kind) == [operation]
    return operation

"""One board with one item under ``cut``, for tests of operations."""

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
POST = "post: {kind: solid, species: red oak, rough: 8/4, thickness: 1-1/2in}"
TAPE = """
birch tape: {kind: edge banding, width: 7/8in, thickness: 1/32in}
narrow tape: {kind: edge banding, width: 5/8in, thickness: 1/32in}
plain: {kind: strip}
"""


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

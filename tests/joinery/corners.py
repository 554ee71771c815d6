"""Corners that joints are tried on: a flat frame, a case, and a case with a shelf."""

from __future__ import annotations

from tests.design.small import project
from tests.joinery.boards import shelved

# A stile 2 in by 20 in and a rail 3 in by 16 in, both 3/4 in thick, faces flush, in one corner.
FRAME = """
stile:
  stock: pine
  runs: up
  thick: deep
  width: 2in
  place: {left: 0, front: 0, bottom: 0, top: 20in}
rail:
  stock: pine
  runs: across
  thick: deep
  width: 3in
  place: {left: 0, right: 16in, front: 0, top: 20in}
"""
# What both blanks fill together: 2 by 20 and 3 by 16 less the corner of 2 by 3, all 3/4 thick.
FRAME_FILLED = (2 * 20 + 3 * 16 - 2 * 3) * 0.75

# An upright 12 in high and a top 16 in long, both 6 in deep and 3/4 in thick, in one corner.
CASE = """
upright:
  stock: pine
  runs: up
  thick: across
  place: {left: 0, front: 0, back: 6in, bottom: 0, top: 12in}
lid:
  stock: pine
  runs: across
  thick: up
  place: {left: 0, right: 16in, front: 0, back: 6in, top: 12in}
"""
CASE_FILLED = 6 * 0.75 * (12 + 16 - 0.75)


def frame(joint: str, hardware: str = "") -> str:
    """Give the flat frame with a joint."""
    return project(FRAME, f"- {joint}", hardware=hardware)


def case(joint: str, hardware: str = "") -> str:
    """Give the corner of a case with a joint."""
    return project(CASE, f"- {joint}", hardware=hardware)


def shelf(joint: str, front: str = "0", back: str = "10in") -> str:
    """Give the case with a shelf and a joint."""
    return project(shelved(front, back), f"- {joint}")

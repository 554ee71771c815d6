"""What the checks share: ways and places of a copy in the frame, and lengths in the project's units."""

from __future__ import annotations

from plangen.design.model import Copy, Design, Part
from plangen.joinery.operation import Operation
from plangen.joinery.space import Axis, Box, Point, Pose, Side
from plangen.joinery.transform import inverse
from plangen.units import ZERO, Length, LengthStyle, print_length


def printed(length: Length, design: Design) -> str:
    """Print a length with its unit, as the project measures."""
    return print_length(length, LengthStyle(design.project.units), unit=True)


def axis_in_frame(copy: Copy, axis: Axis) -> Axis:
    """Give the way of the frame that a way of the part's own frame takes where this copy stands."""
    return copy.pose.side(Side.of(axis, True)).axis


def in_own_frame(copy: Copy, box: Box) -> Box:
    """Carry a box of the frame into the part's own frame."""
    turn = inverse(copy.pose.turn)
    back = Pose(turn, Point(ZERO, ZERO, ZERO)).point(copy.pose.move)
    return Pose(turn, Point(-back.across, -back.deep, -back.up)).box(box)


def own_operations(part: Part) -> tuple[Operation, ...]:
    """Give the maker's own shaping: what no joint and no fit asked for."""
    return tuple(operation for operation in part.operations if operation.joint is None)


def called(operation: Operation) -> str:
    """Name an operation by its title and the joint that asked for it."""
    name = operation.title.lower()
    return f"{name} of `{operation.joint}`" if operation.joint is not None else name

"""The shapes that operations take away from a blank, in the part's own frame.

A part's own frame has the axes of the frame as the part's first copy stands in it, with the
origin at the low corner of the finished blank.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

from plangen.joinery.space import Axis, Box, Direction, Point, Side
from plangen.units import Length


@dataclass(frozen=True, slots=True)
class Line:
    """A straight edge of an outline, to a point given by its two coordinates."""

    to: tuple[Length, Length]


@dataclass(frozen=True, slots=True)
class Arc:
    """A circular edge to a point; ``left`` says that it turns anticlockwise on the way there.

    Always the shorter way round: at most half a circle.
    """

    to: tuple[Length, Length]
    radius: Length
    left: bool


@dataclass(frozen=True, slots=True)
class Curve:
    """A smooth edge through points, the last of which ends it: a centripetal Catmull-Rom spline."""

    through: tuple[tuple[Length, Length], ...]


Segment: TypeAlias = Line | Arc | Curve


@dataclass(frozen=True, slots=True)
class Loop:
    """A closed outline: a start point, then edges, the last of which comes back to the start."""

    start: tuple[Length, Length]
    segments: tuple[Segment, ...]


@dataclass(frozen=True, slots=True)
class BoxCut:
    """A box taken away; it may reach past the blank."""

    box: Box


@dataclass(frozen=True, slots=True)
class RoundCut:
    """A round hole: from the middle of its mouth on ``side`` inward for ``depth``.

    ``mouth`` lies in the plane the drill starts from; ``depth`` is measured from there.
    """

    mouth: Point
    side: Side
    diameter: Length
    depth: Length


@dataclass(frozen=True, slots=True)
class PrismCut:
    """Everything inside ``loops`` (outer loop, then holes) taken away along ``axis`` from low to high.

    Outline coordinates are the other two axes in the order across, deep, up.
    """

    axis: Axis
    low: Length
    high: Length
    loops: tuple[Loop, ...]


@dataclass(frozen=True, slots=True)
class PlaneCut:
    """Everything beyond a plane: a saw cut that leans two ways, as at the foot of a splayed leg.

    The plane goes ``through`` a point; ``normal`` is its unit normal, pointing to what is taken away.
    """

    through: Point
    normal: Direction


@dataclass(frozen=True, slots=True)
class BoreCut:
    """A round hole bored at an angle: from its mouth along ``way``, a unit vector into the wood.

    ``mouth`` is where the middle of the hole meets the face that the drill enters, ``depth`` is
    measured along the hole from there. The cut also clears the lip that the slope leaves there.
    """

    mouth: Point
    way: Direction
    diameter: Length
    depth: Length


Cut: TypeAlias = BoxCut | RoundCut | PrismCut | PlaneCut | BoreCut


def plane_axes(axis: Axis) -> tuple[Axis, Axis]:
    """The two axes of an outline that is square to ``axis``, in the order across, deep, up."""
    first, second = (other for other in Axis if other is not axis)
    return first, second

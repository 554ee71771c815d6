"""Saw settings and sight lines: closed forms for cuts and holes that lean two ways.

A saw's mitre is the turn of its gauge from a square cut, its tilt the lean of its blade from
upright; both are counted with the face of the board on the saw's table. All angles in degrees.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from plangen.joinery.space import Axis, Direction, Side

LEVEL = 0.05  # degrees below which an angle prints as none


@dataclass(frozen=True, slots=True)
class SawSettings:
    """What to set on the saw for one end: ``mitre`` and ``tilt``, each 0 or more.

    ``edge`` is the edge that stays long and ``face`` the face that stays long; None where the cut
    is square that way.
    """

    mitre: float
    tilt: float
    edge: Side | None
    face: Side | None


@dataclass(frozen=True, slots=True)
class Lean:
    """How far a line leans from square in all, and which way.

    ``sight`` is the angle of the sight line, in the face, from the first direction towards the
    second: seen along it, the line stands square.
    """

    resultant: float
    sight: float


def compound_mitre(slope: float, sides: int) -> tuple[float, float]:
    """Give saw mitre and blade tilt for the sides of a hopper: ``sides`` equal boards round a regular shape.

    ``slope`` is how steep each side stands: 0 lies level, a plain flat frame; 90 is upright, a box.

        tan(mitre) = cos(slope) · tan(180°/n)        sin(tilt) = sin(slope) · sin(180°/n)

    Source: D. L. Snyder and B. Gottesman, Compound-Angle Joinery (2015), the setup angles of the
    mitred joint, there with the slope counted from upright. Raises ValueError for fewer than 3 sides.
    """
    if sides < 3:
        raise ValueError("a shape has at least three sides")
    half = math.pi / sides
    steep = math.radians(slope)
    mitre = math.atan(math.cos(steep) * math.tan(half))
    tilt = math.asin(math.sin(steep) * math.sin(half))
    return math.degrees(mitre), math.degrees(tilt)


def resultant(first: float, second: float) -> Lean:
    """Give the lean of a line that is seen to lean by ``first`` in one view and ``second`` in the other.

        tan(r) = sqrt(tan²(first) + tan²(second))        tan(sight) = tan(second) / tan(first)

    For a chair leg the first is the splay, seen from the front, and the second the rake, seen from
    the side. Source: the elementary geometry of a plumb line's two projections, as the resultant
    and sight-line tables of chairmaking use it; both angles lie below 90.
    """
    one, two = math.tan(math.radians(first)), math.tan(math.radians(second))
    return Lean(math.degrees(math.atan(math.hypot(one, two))), math.degrees(math.atan2(two, one)))


def leaning(into: Side, leans: dict[Side, float]) -> Direction:
    """Give the unit vector that goes ``into`` a direction and leans towards sides by so many degrees.

    The lean towards each side is what is seen looking square to both.
    """
    way = [0.0, 0.0, 0.0]
    way[into.axis.value] = float(into.sign)
    for side, degrees in leans.items():
        way[side.axis.value] += side.sign * math.tan(math.radians(degrees))
    return _unit(way)


def lean_of(way: Direction, side: Side) -> tuple[Lean, Side, Side]:
    """Give how a hole leans that is bored from ``side`` along ``way``, and the two directions of its lean.

    The sight line is counted from the first of them towards the second. Where the hole leans in one
    direction only, that is the first, and the sight is 0.
    """
    deep = -way[side.axis.value] * side.sign
    ways = {axis: way[axis.value] / deep for axis in Axis if axis is not side.axis}
    if min(map(abs, ways.values())) < math.tan(math.radians(LEVEL)):
        order = sorted(ways, key=lambda axis: -abs(ways[axis]))
    else:
        order = list(ways)
    first, second = order
    lean = resultant(math.degrees(math.atan(abs(ways[first]))), math.degrees(math.atan(abs(ways[second]))))
    return lean, Side.of(first, ways[first] > 0), Side.of(second, ways[second] > 0)


def plane_of(end: Side, edge: Side, face: Side, mitre: float, tilt: float) -> Direction:
    """Give the unit normal, out of the wood, of a cut made with these saw settings at an end.

    ``edge`` and ``face`` stay long. The square cut is turned about the face by the mitre, then
    tilted about the line that the blade leaves on the saw's table.
    """
    turn, lean = math.radians(mitre), math.radians(tilt)
    normal = [0.0, 0.0, 0.0]
    normal[end.axis.value] = end.sign * math.cos(lean) * math.cos(turn)
    normal[edge.axis.value] = -edge.sign * math.cos(lean) * math.sin(turn)
    normal[face.axis.value] = -face.sign * math.sin(lean)
    return _unit(normal)


def settings_of(normal: Direction, end: Side, face: Axis) -> SawSettings:
    """Give the saw settings for a plane, by its normal out of the wood; the inverse of ``plane_of``.

    The board lies on the saw with a side square to ``face`` on the table. Raises ValueError for a
    plane that does not close the end.
    """
    across = next(axis for axis in Axis if axis not in (end.axis, face))
    along = normal[end.axis.value] * end.sign
    if along <= 0.0:
        raise ValueError("the plane does not close this end")
    sideways, through = normal[across.value], normal[face.value]
    mitre = math.degrees(math.atan2(abs(sideways), along))
    tilt = math.degrees(math.atan2(abs(through), math.hypot(along, sideways)))
    return SawSettings(
        mitre,
        tilt,
        Side.of(across, sideways < 0) if mitre >= LEVEL else None,
        Side.of(face, through < 0) if tilt >= LEVEL else None,
    )


def degrees_text(degrees: float) -> str:
    """Print an angle to a tenth of a degree, as a saw's scale is set: ``33.9°``, ``8°``."""
    return f"{degrees:.1f}".removesuffix(".0") + "°"


def _unit(values: list[float]) -> Direction:
    size = math.sqrt(sum(value * value for value in values))
    return values[0] / size, values[1] / size, values[2] / size

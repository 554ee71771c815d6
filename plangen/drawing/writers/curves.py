"""Exact arcs in the forms that files know: cubic curves, and radii with a turn."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from math import atan2, ceil, cos, degrees, dist, hypot, pi, sin, tan, tau
from typing import TypeAlias

from plangen.drawing.sheet.model import Arc, Stroke, Xy

Cubic: TypeAlias = tuple[Xy, Xy, Xy]  # two control points and the end; it starts where the last one ended

TOLERANCE = 0.0005  # mm between a curve and its arc
_FLAT = 1e-4  # mm; an ellipse flatter than this is a line


@dataclass(frozen=True, slots=True)
class Axes:
    """The half axes of an ellipse in millimetres, ``large`` first.

    ``turn`` is the direction of the large one in radians, anticlockwise; ``anticlockwise`` is the way an
    arc runs as its angle grows; ``lead`` is the angle on the ellipse's own axes at the arc's angle 0.
    """

    large: float
    small: float
    turn: float
    anticlockwise: bool
    lead: float


def axes(arc: Arc) -> Axes:
    """Give the half axes of the ellipse that an arc's two conjugate half diameters span.

    With half diameters u and v the points are ``u cos t + v sin t``; the square of their length is greatest
    where ``tan 2t = 2 u·v / (u·u - v·v)`` (its derivative set to zero), and least a quarter turn on.
    """
    (cx, cy), (mx, my), (nx, ny) = arc.centre, arc.major, arc.minor
    u, v = (mx - cx, my - cy), (nx - cx, ny - cy)
    peak = atan2(2 * (u[0] * v[0] + u[1] * v[1]), _square(u) - _square(v)) / 2
    large = (u[0] * cos(peak) + v[0] * sin(peak), u[1] * cos(peak) + v[1] * sin(peak))
    small = (v[0] * cos(peak) - u[0] * sin(peak), v[1] * cos(peak) - u[1] * sin(peak))
    forward = u[0] * v[1] - u[1] * v[0] >= 0
    return Axes(hypot(*large), hypot(*small), atan2(large[1], large[0]), forward, -peak)


def is_full(arc: Arc) -> bool:
    """Whether the arc is the whole circle or ellipse."""
    return arc.end - arc.start >= tau - 1e-9


def cubics(arc: Arc, tolerance: float = TOLERANCE) -> tuple[Xy, tuple[Cubic, ...]]:
    """Give the start and the cubic curves that follow an arc within ``tolerance`` mm.

    A cubic with handles of ``4/3 tan(a/4)`` along the tangents leaves a unit arc of angle a by at most
    ``2/27 sin⁶(a/4) / cos²(a/4)``; an ellipse multiplies that by at most its larger half axis.
    """
    span = arc.end - arc.start
    reach = axes(arc).large
    count = max(1, ceil(span / (pi / 2) - 1e-9))
    while reach * _miss(span / count) > tolerance:
        count += 1
    step = span / count
    handle = 4 / 3 * tan(step / 4)
    curves = []
    for number in range(count):
        low, high = arc.start + number * step, arc.start + (number + 1) * step
        (ax, ay), (bx, by) = arc.at(low), arc.at(high)
        (sx, sy), (ex, ey) = _tangent(arc, low), _tangent(arc, high)
        first = (ax + handle * sx, ay + handle * sy)
        curves.append((first, (bx - handle * ex, by - handle * ey), (bx, by)))
    return arc.at(arc.start), tuple(curves)


def is_flat(arc: Arc) -> bool:
    """Whether the arc is seen so far from aslant that it is no more than a line."""
    return axes(arc).small < _FLAT


def stroke_length(stroke: Stroke) -> float:
    """Give the length of a stroke in millimetres, along its points."""
    points = stroke.points + stroke.points[:1] if stroke.closed else stroke.points
    return sum(dist(one, two) for one, two in pairwise(points))


def svg_arc(arc: Arc, height: float) -> str:
    """Give an arc as commands of an SVG path, y downward from ``height``, for an arc that is not flat.

    A whole turn is two half ones. Others are cut so that none is longer than a third of a turn: the centre
    that a reader works out from two rounded ends is then as good as those are. Half turns come out right
    because their radii are rounded down: a reader has to enlarge them until the ends fit.
    """
    shape = axes(arc)
    span = arc.end - arc.start
    full = is_full(arc)
    count = 2 if full else max(1, ceil(span / (tau / 3) - 1e-9))
    spare = 1 - 2e-5 / shape.large if full else 1.0
    turn = -degrees(shape.turn) if shape.large - shape.small > 1e-9 else 0.0
    radii = f"{_fine(shape.large * spare)} {_fine(shape.small * spare)} {_fine(turn)}"
    sweep = 0 if shape.anticlockwise else 1
    x, y = arc.at(arc.start)
    steps = [f"M{_fine(x)} {_fine(height - y)}"]
    for number in range(1, count + 1):
        x, y = arc.at(arc.start if full and number == count else arc.start + span * number / count)
        steps.append(f"A{radii} 0 {sweep} {_fine(x)} {_fine(height - y)}")
    return " ".join(steps)


def _fine(value: float) -> str:
    text = f"{value:.5f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _miss(angle: float) -> float:
    return 2 / 27 * sin(angle / 4) ** 6 / cos(angle / 4) ** 2


def _tangent(arc: Arc, angle: float) -> Xy:
    (cx, cy), (mx, my), (nx, ny) = arc.centre, arc.major, arc.minor
    c, s = cos(angle), sin(angle)
    return ((nx - cx) * c - (mx - cx) * s, (ny - cy) * c - (my - cy) * s)


def _square(way: Xy) -> float:
    return way[0] ** 2 + way[1] ** 2

"""What is wrong with an outline before it is cut: it crosses itself, encloses nothing, leaves its blank."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import TypeAlias

from shapely import Polygon

from plangen.joinery.cuts import Arc, Curve, Loop
from plangen.joinery.space import Axis, Box
from plangen.units import Length

Xy: TypeAlias = tuple[float, float]

STEPS = 24  # points to a bend; enough to tell whether it crosses something
LEAST_AREA = 0.01  # mm2
TOLERANCE = 0.02  # mm that a bend may leave the blank; less than any saw line


def fault_of(loop: Loop) -> str | None:
    """Say in a few words what keeps an outline from being cut, or None when nothing does."""
    points = points_of(loop)
    if len(points) < 3 or Polygon(points).convex_hull.area < LEAST_AREA:
        return "encloses nothing"
    return None if Polygon(points).is_valid else "crosses or touches itself"


def leaves(loop: Loop, blank: Box, axes: tuple[Axis, Axis]) -> bool:
    """Whether any point of an outline, bends included, lies outside the blank; ``axes`` are the outline's."""
    for point in points_of(loop):
        for value, axis in zip(point, axes, strict=True):
            low, high = float(blank.low.at(axis)), float(blank.high.at(axis))
            if not low - TOLERANCE <= value <= high + TOLERANCE:
                return True
    return False


def points_of(loop: Loop) -> list[Xy]:
    """Points along an outline in mm, each place once; it is closed from the last to the first."""
    here = _xy(loop.start)
    points = [here]
    for segment in loop.segments:
        if isinstance(segment, Arc):
            points += _arc(here, _xy(segment.to), float(segment.radius), segment.left)
        elif isinstance(segment, Curve):
            points += _spline([here, *(_xy(point) for point in segment.through)])
        else:
            points.append(_xy(segment.to))
        here = points[-1]
    apart = [points[0], *(two for one, two in pairwise(points) if math.dist(one, two) > 1e-7)]
    return apart[:-1] if len(apart) > 1 and math.dist(apart[0], apart[-1]) <= 1e-7 else apart


def _xy(pair: tuple[Length, Length]) -> Xy:
    return float(pair[0]), float(pair[1])


def _arc(start: Xy, end: Xy, radius: float, left: bool) -> list[Xy]:
    """Points of the shorter arc after its start; the centre lies to the left of one that turns left."""
    chord = math.dist(start, end)
    if not chord:
        return [end]
    away = math.sqrt(max(0.0, radius * radius - chord * chord / 4)) * (1 if left else -1)
    ux, uy = (end[0] - start[0]) / chord, (end[1] - start[1]) / chord
    cx, cy = (start[0] + end[0]) / 2 - uy * away, (start[1] + end[1]) / 2 + ux * away
    first = math.atan2(start[1] - cy, start[0] - cx)
    sweep = 2 * math.asin(min(1.0, chord / (2 * radius))) * (1 if left else -1)
    angles = [first + sweep * step / STEPS for step in range(1, STEPS)]
    return [*((cx + radius * math.cos(angle), cy + radius * math.sin(angle)) for angle in angles), end]


def _spline(through: list[Xy]) -> list[Xy]:
    """Points after the first of a centripetal Catmull-Rom spline, by its recurrence (Barry, Goldman 1988).

    The ends are mirrored in the end points.
    """
    through = [through[0], *(two for one, two in pairwise(through) if math.dist(one, two) > 1e-7)]
    if len(through) < 3:
        return through[1:] or through
    before, after = _beyond(through[1], through[0]), _beyond(through[-2], through[-1])
    padded = [before, *through, after]
    points: list[Xy] = []
    for index in range(len(through) - 1):
        window = padded[index : index + 4]
        knots = [0.0]
        for one, two in pairwise(window):
            knots.append(knots[-1] + math.sqrt(math.dist(one, two)))
        for step in range(1, STEPS + 1):
            points.append(_recur(window, knots, knots[1] + (knots[2] - knots[1]) * step / STEPS))
        points[-1] = through[index + 1]
    return points


def _beyond(inner: Xy, end: Xy) -> Xy:
    return 2 * end[0] - inner[0], 2 * end[1] - inner[1]


def _recur(points: list[Xy], knots: list[float], at: float) -> Xy:
    def mix(one: Xy, two: Xy, low: float, high: float) -> Xy:
        share = (at - low) / (high - low)
        return one[0] + (two[0] - one[0]) * share, one[1] + (two[1] - one[1]) * share

    lines = [mix(points[k], points[k + 1], knots[k], knots[k + 1]) for k in range(3)]
    bows = [mix(lines[k], lines[k + 1], knots[k], knots[k + 2]) for k in range(2)]
    return mix(bows[0], bows[1], knots[1], knots[2])

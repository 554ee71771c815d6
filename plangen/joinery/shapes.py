"""Outlines that several kinds of work share, and what is wrong with one before it is cut."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import Literal, TypeAlias

from shapely import Polygon

from plangen.joinery.cuts import Arc, BoxCut, Curve, Cut, Line, Loop, PrismCut, Segment, plane_axes
from plangen.joinery.space import Axis, Box, Side
from plangen.units import ZERO, Length, millimetres

Xy: TypeAlias = tuple[float, float]
Pair: TypeAlias = tuple[Length, Length]
Ends: TypeAlias = Literal["square", "round"]

STEPS = 24  # points to a bend; enough to tell whether it crosses something
LEAST_AREA = 0.01  # mm2
TOLERANCE = 0.02  # mm that a bend may leave the blank; less than any saw line


def channel(box: Box, along: Axis, ends: Ends, into: Side, closed: tuple[bool, bool] = (True, True)) -> Cut:
    """Give the cut of a slot, a stopped groove or a mortise, with the ends that its cutter leaves.

    ``box`` is all that it takes, to the very tips of round ends; ``along`` is its length, ``into``
    the side that the cutter enters. ``closed`` says which ends (low, high) lie in the wood; one that
    runs out stays square. Raises ValueError where round ends need more length than there is.
    """
    if ends == "square" or not any(closed):
        return BoxCut(box)
    across = next(axis for axis in Axis if axis not in (along, into.axis))
    radius = box.size(across) / 2
    if box.size(along) < radius * sum(closed):
        raise ValueError("the round ends of a channel are longer than the channel")
    radii = [radius if end else ZERO for end in closed]
    return rounded_prism(box, into.axis, {
        (along, high, across, beside): radii[high] for high in (False, True) for beside in (False, True)
    })  # fmt: skip


def rounded_prism(box: Box, axis: Axis, radii: dict[tuple[Axis, bool, Axis, bool], Length]) -> PrismCut:
    """Give a rectangle with rounded corners, as deep along ``axis`` as its box.

    A corner is named by an axis and whether it is its high end, then the other axis and its end, in
    either order. A corner that is not named is square.
    """
    loop = rounded_rectangle(box, axis, radii)
    return PrismCut(axis, box.low.at(axis), box.high.at(axis), (loop,))


def rounded_rectangle(box: Box, axis: Axis, radii: dict[tuple[Axis, bool, Axis, bool], Length]) -> Loop:
    """Give a box's outline square to ``axis``, anticlockwise, with the corners rounded."""
    first, second = plane_axes(axis)

    def radius(x_high: bool, y_high: bool) -> Length:
        return radii.get((first, x_high, second, y_high), radii.get((second, y_high, first, x_high), ZERO))

    def at(x_high: bool, y_high: bool, dx: Length, dy: Length) -> Pair:
        x, y = box.side(Side.of(first, x_high)), box.side(Side.of(second, y_high))
        return x - dx if x_high else x + dx, y - dy if y_high else y + dy

    points: list[tuple[Pair, Length | None]] = []  # where to, and by an arc of which radius
    for x_high, y_high, sideways_first in (
        (True, False, True), (True, True, False), (False, True, True), (False, False, False),
    ):  # fmt: skip
        r = radius(x_high, y_high)
        before, behind = (at(x_high, y_high, r, ZERO), at(x_high, y_high, ZERO, r))
        if not sideways_first:
            before, behind = behind, before
        points.append((before, None))
        if r > ZERO:
            points.append((behind, r))
    start = here = points[-1][0]
    segments: list[Segment] = []
    for to, bend in points:
        if bend is not None:
            segments.append(Arc(to, bend, True))
        elif to != here:
            segments.append(Line(to))
        here = to
    return _with_half_circles(Loop(start, tuple(segments)))


def _with_half_circles(loop: Loop) -> Loop:
    """Make one arc of two quarter circles that follow each other, as at the round end of a slot."""
    start, segments = loop.start, list(loop.segments)
    first, second, before, last = segments[0], segments[1], segments[-2], segments[-1]
    halved = isinstance(last, Arc) and isinstance(first, Arc) and not isinstance(second, Arc)
    if halved and isinstance(before, Line):  # the start lies in the middle of a half circle
        start = before.to
        segments.insert(0, segments.pop())
    joined: list[Segment] = []
    quarter = False
    for segment in segments:
        one = joined[-1] if joined else None
        if quarter and isinstance(segment, Arc) and isinstance(one, Arc) and one.radius == segment.radius:
            joined[-1] = segment
            quarter = False
        else:
            joined.append(segment)
            quarter = isinstance(segment, Arc)
    return Loop(start, tuple(joined))


def circle_loop(centre: Pair, diameter: Length) -> Loop:
    """Give a circle as two halves, anticlockwise."""
    (x, y), radius = centre, diameter / 2
    east, west = (x + radius, y), (x - radius, y)
    return Loop(east, (Arc(west, radius, True), Arc(east, radius, True)))


def around(blank: Box, axis: Axis) -> Loop:
    """A rectangle a little outside the blank, so that what lies outside an inner loop goes whole."""
    first, second = plane_axes(axis)
    margin = millimetres(10)
    x0, x1 = blank.low.at(first) - margin, blank.high.at(first) + margin
    y0, y1 = blank.low.at(second) - margin, blank.high.at(second) + margin
    return Loop((x0, y0), (Line((x1, y0)), Line((x1, y1)), Line((x0, y1)), Line((x0, y0))))


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

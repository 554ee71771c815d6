"""Outlines as points: arcs and smooth curves broken into chords that stay within a sagitta."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TypeAlias

from plangen.joinery.cuts import Arc, Curve, Line, Loop

Xy: TypeAlias = tuple[float, float]

SAGITTA = 0.1  # mm, the farthest that a chord may leave its curve
FEWEST_FACETS = 16  # of a full circle


@dataclass(frozen=True, slots=True)
class Straight:
    """A straight run of an outline."""


@dataclass(frozen=True, slots=True)
class Round:
    """A circular run; ``left`` where it turns anticlockwise."""

    centre: Xy
    radius: float
    left: bool


@dataclass(frozen=True, slots=True)
class Smooth:
    """A run along a spline, with the true unit tangent at each of its points."""

    points: tuple[Xy, ...]
    tangents: tuple[Xy, ...]


Run: TypeAlias = Straight | Round | Smooth


@dataclass(frozen=True, slots=True)
class Ring:
    """A closed outline: ``runs[k]`` says what the chord from point k to point k + 1 belongs to."""

    points: tuple[Xy, ...]
    runs: tuple[Run, ...]

    @property
    def area(self) -> float:
        """The enclosed area in mm2, positive when the points go anticlockwise."""
        return 0.5 * sum(
            x0 * y1 - x1 * y0
            for (x0, y0), (x1, y1) in zip(self.points, self.points[1:] + self.points[:1], strict=True)
        )

    def turned_round(self) -> Ring:
        """Give the same outline walked the other way."""
        runs = tuple(
            Round(run.centre, run.radius, not run.left)
            if isinstance(run, Round)
            else Smooth(run.points[::-1], tuple((-x, -y) for x, y in run.tangents[::-1]))
            if isinstance(run, Smooth)
            else run
            for run in (*self.runs[-2::-1], self.runs[-1])
        )
        return Ring(self.points[::-1], runs)


def facets_of_circle(radius: float) -> int:
    """How many chords a full circle gets: a multiple of four, so that quarter turns map it to itself.

    A chord over the angle 2·pi/n has the sagitta r·(1 - cos(pi/n)).
    """
    if radius <= SAGITTA:
        return FEWEST_FACETS
    needed = math.pi / math.acos(1.0 - SAGITTA / radius)
    return max(FEWEST_FACETS, 4 * math.ceil(needed / 4.0 - 1e-9))


def circle(centre: Xy, radius: float) -> Ring:
    """Break a full circle into chords, anticlockwise, its points on the true circle."""
    run = Round(centre, radius, True)
    number = facets_of_circle(radius)
    points = tuple(_on_circle(centre, radius, step, number) for step in range(number))
    return Ring(points, (run,) * number)


def ring(loop: Loop) -> Ring:
    """Break an outline into chords, its points on the true outline, in the order it was written.

    Raises ``ValueError`` for an arc whose radius is too small to reach its end, or a loop that
    encloses nothing.
    """
    points: list[Xy] = []
    runs: list[Run] = []
    here = _xy(loop.start)
    for segment in loop.segments:
        if isinstance(segment, Line):
            steps, run = [_xy(segment.to)], _STRAIGHT
        elif isinstance(segment, Arc):
            steps, run = _arc(here, _xy(segment.to), float(segment.radius), segment.left)
        else:
            closed = len(loop.segments) == 1
            steps, run = _curve(segment, here, closed)
        for step in steps:
            if math.dist(here, step) > 1e-9:
                points.append(here)
                runs.append(run)
                here = step
    if len(points) < 3:
        raise ValueError("an outline has to enclose an area")
    if math.dist(here, points[0]) > 1e-6:
        points.append(here)
        runs.append(_STRAIGHT)
    return Ring(tuple(points), tuple(runs))


_STRAIGHT: Run = Straight()


def _xy(pair: tuple[object, object]) -> Xy:
    return float(pair[0]), float(pair[1])  # type: ignore[arg-type]


def _on_circle(centre: Xy, radius: float, step: int, number: int) -> Xy:
    angle = 2.0 * math.pi * step / number
    return centre[0] + radius * math.cos(angle), centre[1] + radius * math.sin(angle)


def _arc(start: Xy, end: Xy, radius: float, left: bool) -> tuple[list[Xy], Run]:
    """Chords of the shorter arc; inside points are those of the full circle, so that equal circles agree."""
    chord = math.dist(start, end)
    if chord < 1e-9 or radius < chord / 2.0 - 1e-6:
        raise ValueError(f"an arc of radius {radius:g} mm cannot span {chord:g} mm")
    rise = math.sqrt(max(0.0, radius * radius - chord * chord / 4.0))
    ux, uy = (end[0] - start[0]) / chord, (end[1] - start[1]) / chord
    turn = 1.0 if left else -1.0
    centre = (
        (start[0] + end[0]) / 2.0 - turn * uy * rise,
        (start[1] + end[1]) / 2.0 + turn * ux * rise,
    )
    number = facets_of_circle(radius)
    unit = 2.0 * math.pi / number
    first = math.atan2(start[1] - centre[1], start[0] - centre[0]) / unit
    sweep = turn * 2.0 * math.asin(min(1.0, chord / (2.0 * radius))) / unit
    low, high = sorted((first, first + sweep))
    steps = range(math.ceil(low + 1e-3), math.floor(high - 1e-3) + 1)
    inner = [_on_circle(centre, radius, step, number) for step in steps]
    return [*(inner if left else inner[::-1]), end], Round(centre, radius, left)


def _curve(curve: Curve, start: Xy, closed: bool) -> tuple[list[Xy], Run]:
    """Chords of a centripetal Catmull-Rom spline, each span as a cubic in Hermite form.

    The knots grow by the square root of the distance between points; the tangents follow from
    differentiating the spline's own recurrence at its knots (Barry and Goldman, 1988).
    An open curve gets a mirrored point beyond either end.
    """
    through = [start, *(_xy(point) for point in curve.through)]
    if len(through) == 2:
        return [through[1]], _STRAIGHT
    if closed and math.dist(through[0], through[-1]) < 1e-6:
        before, after = through[-2], through[1]
    else:
        before = (2 * through[0][0] - through[1][0], 2 * through[0][1] - through[1][1])
        after = (2 * through[-1][0] - through[-2][0], 2 * through[-1][1] - through[-2][1])
    padded = [before, *through, after]
    points, tangents = [start], []
    for index in range(len(through) - 1):
        span_points, span_tangents = _span(*padded[index : index + 4])
        points += span_points[1:]
        tangents += span_tangents if index == 0 else span_tangents[1:]
    return points[1:], Smooth(tuple(points), tuple(tangents))


def _span(p0: Xy, p1: Xy, p2: Xy, p3: Xy) -> tuple[list[Xy], list[Xy]]:
    d0, d1, d2 = (math.sqrt(math.dist(a, b)) for a, b in ((p0, p1), (p1, p2), (p2, p3)))
    enter = [(b - a) / d0 - (c - a) / (d0 + d1) + (c - b) / d1 for a, b, c in zip(p0, p1, p2, strict=True)]
    leave = [(c - b) / d1 - (d - b) / (d1 + d2) + (d - c) / d2 for b, c, d in zip(p1, p2, p3, strict=True)]

    def at(t: float) -> tuple[Xy, Xy]:
        point, slope = [], []
        for b, c, m, n in zip(p1, p2, enter, leave, strict=True):
            m, n = m * d1, n * d1
            point.append(
                b * (2 * t**3 - 3 * t**2 + 1)
                + m * (t**3 - 2 * t**2 + t)
                + c * (3 * t**2 - 2 * t**3)
                + n * (t**3 - t**2)
            )
            slope.append(
                b * (6 * t**2 - 6 * t)
                + m * (3 * t**2 - 4 * t + 1)
                + c * (6 * t - 6 * t**2)
                + n * (3 * t**2 - 2 * t)
            )
        size = math.hypot(*slope) or 1.0
        return (point[0], point[1]), (slope[0] / size, slope[1] / size)

    number = 4
    while number < 1024:
        fine = [at(step / (2 * number))[0] for step in range(2 * number + 1)]
        if max(_off_chord(*fine[k : k + 3]) for k in range(0, 2 * number, 2)) <= SAGITTA / 2.0:
            break
        number *= 2
    both = [at(step / number) for step in range(number + 1)]
    both[0], both[-1] = (p1, both[0][1]), (p2, both[-1][1])
    return [point for point, _ in both], [tangent for _, tangent in both]


def _off_chord(start: Xy, middle: Xy, end: Xy) -> float:
    chord = math.dist(start, end) or 1.0
    return (
        abs((end[0] - start[0]) * (middle[1] - start[1]) - (end[1] - start[1]) * (middle[0] - start[0]))
        / chord
    )

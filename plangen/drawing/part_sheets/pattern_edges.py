"""The edges of a pattern's outline: straight, round or smooth, and what of them shows in a window."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from math import acos, atan2, ceil, dist, hypot, pi, tau
from typing import Any, TypeAlias

from shapely.geometry import LineString, Point
from shapely.geometry import box as rectangle

from plangen.drawing.part_sheets.pattern_marks import pieces
from plangen.drawing.sheet.model import Arc, Meaning, Stroke, Xy

Window: TypeAlias = tuple[float, float, float, float]  # low x, low y, high x, high y

CLOSE = 0.01  # mm; no pencil and no printer shows less
FINE = 0.004  # mm, the farthest that a chord of a drawn arc leaves it
STRAIGHT = 1e-6  # mm


@dataclass(frozen=True, slots=True)
class Edge:
    """One edge of an outline, from its first point to its last, mm.

    Where it is part of a circle, ``arc`` is exact and ``points`` are chords within ``CLOSE``; where it is a
    smooth line, its points are; otherwise it is straight and has two points.
    """

    points: tuple[Xy, ...]
    arc: Arc | None = None
    smooth: bool = False

    @property
    def curved(self) -> bool:
        """Whether it is anything but straight."""
        return self.arc is not None or self.smooth

    @property
    def aslant(self) -> bool:
        """Whether it is straight and follows neither direction of the drawing."""
        (x0, y0), (x1, y1) = self.points[0], self.points[-1]
        return not self.curved and abs(x1 - x0) > STRAIGHT and abs(y1 - y0) > STRAIGHT

    @property
    def box(self) -> Window:
        """The box that bounds it, mm."""
        xs, ys = [x for x, _ in self.points], [y for _, y in self.points]
        return (min(xs), min(ys), max(xs), max(ys))

    @property
    def chord(self) -> float:
        """From one end to the other, mm."""
        return dist(self.points[0], self.points[-1])


@dataclass(frozen=True, slots=True)
class Track:
    """A line that edges of an outline may follow: a circle, or a smooth line through points."""

    centre: Xy = (0.0, 0.0)
    radius: float = 0.0
    line: Any = None

    def carries(self, start: Xy, end: Xy) -> bool:
        """Tell whether a chord lies along this line."""
        middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
        if self.line is None:
            return all(abs(dist(p, self.centre) - self.radius) < CLOSE for p in (start, middle, end))
        return all(float(self.line.distance(Point(p))) < CLOSE for p in (start, middle, end))


def edges_of(loop: tuple[Xy, ...], tracks: tuple[Track, ...]) -> tuple[Edge, ...]:
    """Take a closed outline (its first point not repeated) apart into its edges."""
    chords = [pair for pair in pairwise((*loop, loop[0])) if dist(*pair) > STRAIGHT]
    owners = [next((n for n, t in enumerate(tracks) if t.carries(*chord)), None) for chord in chords]
    start = next((n for n in range(len(chords)) if _turns(chords, owners, n)), 0)
    order = [(n + start) % len(chords) for n in range(len(chords))]
    runs: list[tuple[int | None, list[Xy]]] = []
    for n in order:
        if runs and not _turns(chords, owners, n):
            runs[-1][1].append(chords[n][1])
        else:
            runs.append((owners[n], list(chords[n])))
    return tuple(_edge(points, None if owner is None else tracks[owner]) for owner, points in runs)


def _turns(chords: list[tuple[Xy, Xy]], owners: list[int | None], n: int) -> bool:
    """Whether chord n begins another edge than the one before it."""
    if owners[n] != owners[n - 1]:
        return True
    if owners[n] is not None:
        return False
    (ax, ay), (bx, by) = chords[n - 1]
    (cx, cy), (dx, dy) = chords[n]
    cross = (bx - ax) * (dy - cy) - (by - ay) * (dx - cx)
    return abs(cross) > 1e-7 * dist(*chords[n - 1]) * dist(*chords[n])


def _edge(points: list[Xy], track: Track | None) -> Edge:
    if track is None:
        return Edge((points[0], points[-1]))
    if track.line is not None:
        return Edge(tuple(points), smooth=True)
    (cx, cy), radius = track.centre, track.radius
    angles = [atan2(y - cy, x - cx) for x, y in points]
    swept = sum((b - a + pi) % tau - pi for a, b in pairwise(angles))
    if abs(abs(swept) - tau) < 1e-6:
        swept = tau
    first = angles[0] if swept > 0 else angles[0] + swept
    arc = Arc(track.centre, (cx + radius, cy), (cx, cy + radius), first, first + abs(swept))
    return Edge(tuple(points), arc)


def strokes(edge: Edge, window: Window, meaning: Meaning) -> Iterator[Stroke]:
    """Draw what of an edge lies in a window."""
    if edge.arc is not None:
        for arc in clipped(edge.arc, window):
            yield arc_stroke(arc, meaning)
        return
    for piece in pieces(LineString(edge.points).intersection(rectangle(*window)), "LineString"):
        yield Stroke(tuple(piece.coords), meaning)


def arc_stroke(arc: Arc, meaning: Meaning) -> Stroke:
    """Draw an arc, its points so close that their chords are within ``FINE`` of it."""
    radius = max(dist(arc.centre, arc.major), dist(arc.centre, arc.minor))
    most = 2 * acos(max(0.0, 1 - FINE / radius)) if radius > FINE else pi / 4
    number = max(2, ceil((arc.end - arc.start) / most))
    points = tuple(arc.at(arc.start + (arc.end - arc.start) * n / number) for n in range(number + 1))
    if abs(arc.end - arc.start - tau) < 1e-9:
        return Stroke(points[:-1], meaning, closed=True, arc=arc)
    return Stroke(points, meaning, arc=arc)


def clipped(arc: Arc, window: Window) -> Iterator[Arc]:
    """Give the pieces of an arc, of a circle or an ellipse, that lie in a window.

    Along x the arc is ``centre + A cos t + B sin t``, which is ``centre + R cos(t - phase)``; so the two
    angles at which it crosses an upright line follow from one arc cosine, and likewise along y.
    """
    cuts = {arc.start, arc.end}
    for way, low, high in ((0, window[0], window[2]), (1, window[1], window[3])):
        a, b = arc.major[way] - arc.centre[way], arc.minor[way] - arc.centre[way]
        reach, phase = hypot(a, b), atan2(b, a)
        for line in (low, high):
            if reach > STRAIGHT and abs(line - arc.centre[way]) < reach:
                off = acos((line - arc.centre[way]) / reach)
                for angle in (phase + off, phase - off):
                    cuts.update(angle + tau * turn for turn in range(-2, 3))
    stops = sorted(angle for angle in cuts if arc.start <= angle <= arc.end)
    kept = [
        (low, high)
        for low, high in pairwise(stops)
        if high - low > 1e-9 and _inside(arc.at((low + high) / 2), window)
    ]
    joined: list[tuple[float, float]] = []
    for low, high in kept:
        if joined and abs(joined[-1][1] - low) < 1e-9:
            joined[-1] = (joined[-1][0], high)
        else:
            joined.append((low, high))
    for low, high in joined:
        yield Arc(arc.centre, arc.major, arc.minor, low, high)


def ellipse(centre: Xy, major: Xy, share: float) -> Arc:
    """Give a whole ellipse: the end of its long half axis from the centre, and the short over the long."""
    x, y = major
    return Arc(centre, (centre[0] + x, centre[1] + y), (centre[0] - y * share, centre[1] + x * share))


def _inside(point: Xy, window: Window) -> bool:
    return window[0] <= point[0] <= window[2] and window[1] <= point[1] <= window[3]

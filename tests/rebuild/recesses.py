"""Recesses with rounded corners and ends, and those that a disc leaves."""

from __future__ import annotations

import math
from collections.abc import Sequence

from tests.rebuild.figures import Measure
from tests.rebuild.tools import OUT, Edge, Xy, slack
from tests.rebuild.tree import HIGH, LOW, ContradictionError, UntoldError

QUARTER = 12  # chords of a quarter circle
Bounds = Sequence[tuple[Measure, Measure]]


def rounded(
    bounds: Bounds, plane: tuple[int, int], where: Sequence[str], radius: Measure | None
) -> list[Edge]:
    """Round corners, named by the two sides that meet there, or whole ends, named by their side.

    An end that is one half circle needs no radius: it is half as large as the recess is wide. Raises
    UntoldError where a corner has no radius.
    """
    corners = {_corner(word, plane) for words in where for word in _ends(words, plane)}
    whole = [words for words in where if len(words.split()) == 1]
    if whole:
        across = 1 - plane.index(_axis(whole[0]))
        half = (bounds[across][1] - bounds[across][0]).times(0.5)
        if radius is not None and abs(radius.mm - half.mm) > radius.half + half.half:
            raise ContradictionError(
                f"an end of radius {radius.mm:.2f} mm is no half circle {half.mm:.2f} mm"
            )
        radius = half
    if radius is None:
        raise UntoldError("rounded corners have no radius")
    room = min(bounds[k][1].mm - bounds[k][0].mm for k in (0, 1)) / 2
    size = min(radius.mm, room)
    edges: list[Edge] = []
    walk = ((0, 0), (1, 0), (1, 1), (0, 1))
    for number, (right, top) in enumerate(walk):
        x, y = bounds[0][right], bounds[1][top]
        side = (bounds[1][0], bounds[0][1], bounds[1][1], bounds[0][0])[number].half
        if (right, top) not in corners:
            edges.append(Edge((x.mm, y.mm), side))
            continue
        centre = (x.mm + (-size if right else size), y.mm + (-size if top else size))
        first = math.radians((180.0, 270.0, 0.0, 90.0)[number])
        centre_off = math.hypot(x.half, y.half) + radius.half * math.sqrt(2.0)
        arc = (centre, Measure(size, radius.half), centre_off)
        bow = radius.half * (math.sqrt(2.0) - 1.0)  # a corner's arc comes nearer to it by so much
        for step in range(QUARTER + 1):
            angle = first + math.pi / 2 * step / QUARTER
            point = (centre[0] + size * math.cos(angle), centre[1] + size * math.sin(angle))
            middle = first + math.pi / 2 * (step + 0.5) / QUARTER
            off = abs(math.cos(middle)) * x.half + abs(math.sin(middle)) * y.half + bow
            edges.append(
                Edge(point, off, slack(size, math.pi / 2 / QUARTER), arc)
                if step < QUARTER
                else Edge(point, side)
            )
    return [
        one
        for one, two in zip(edges, [*edges[1:], edges[0]], strict=True)
        if math.dist(one.corner, two.corner) > 1e-9
    ]


def _axis(side: str) -> int:
    return (LOW if side in LOW else HIGH).index(side)


def _ends(words: str, plane: tuple[int, int]) -> list[str]:
    """Give both corners of an end that is named by its side alone."""
    sides = words.split()
    if len(sides) == 2:
        return [words]
    other = plane[1 - plane.index(_axis(sides[0]))]
    return [f"{words} {LOW[other]}", f"{words} {HIGH[other]}"]


def _corner(words: str, plane: tuple[int, int]) -> tuple[int, int]:
    high = {_axis(side): int(side in HIGH) for side in words.split()}
    return high[plane[0]], high[plane[1]]


def dished(bounds: Bounds, plane: tuple[int, int], side: str) -> list[Edge]:
    """Cut in with a disc from a side: one arc through both ends of the mouth and the floor's middle."""
    deep = plane.index(_axis(side))
    long = 1 - deep
    mouth = bounds[deep][1 if side in HIGH else 0].mm
    depth = bounds[deep][1] - bounds[deep][0]
    chord = bounds[long][1] - bounds[long][0]
    sign = -1.0 if side in HIGH else 1.0
    half = chord.mm / 2
    size = _disc(chord.mm, depth.mm)
    middle = bounds[long][0].mm + half
    reach = math.asin(min(1.0, half / size)) if depth.mm <= half else math.pi - math.asin(half / size)
    off = math.hypot(chord.half, depth.half)

    def at(along: float, into: float) -> Xy:
        point = [0.0, 0.0]
        point[long], point[deep] = along, mouth + sign * into
        return point[0], point[1]

    size_off = max(
        abs(_disc(chord.mm + 2 * a * chord.half, depth.mm + b * depth.half) - size)
        for a, b in ((-1, -1), (-1, 1), (1, -1), (1, 1))
    )
    arc = (at(middle, depth.mm - size), Measure(size, size_off), size_off + off)
    pieces = 32
    edges = [
        Edge(
            at(middle + size * math.sin(turn), depth.mm - size + size * math.cos(turn)),
            off,
            slack(size, 2 * reach / pieces),
            arc,
        )
        for turn in (-reach + 2 * reach * step / pieces for step in range(pieces + 1))
    ]
    return [*edges, Edge(at(middle + half, -OUT), off), Edge(at(middle - half, -OUT), off)]


def _disc(chord: float, depth: float) -> float:
    """Give the radius of a disc that goes in so deep over such a length."""
    return (chord * chord / 4 + depth * depth) / (2 * depth)

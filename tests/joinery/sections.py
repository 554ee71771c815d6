"""The volume of a worked part by its sections: plane polygons and quadrature, with no solids at all.

A part is cut in slices square to one axis. The section of each cut is a polygon of its own kind, their
union is taken from the blank's rectangle, and the areas are summed over the slices by Gauss and Legendre.
Nothing here is shared with the library that makes the solids.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise, product

import numpy as np
from shapely import LineString, Point, Polygon, box, union_all
from shapely.geometry.base import BaseGeometry

from plangen.design.model import Part
from plangen.joinery.cuts import BoxCut, Cut, PlaneCut, PrismCut, RoundCut, plane_axes
from plangen.joinery.shapes import points_of
from plangen.joinery.space import Axis, Box

FAR = 10_000.0  # mm, beyond every part


def volume_by_sections(part: Part, axis: Axis, *, points: int = 3, curved: int = 64) -> float:
    """Give the volume of a worked part in mm3.

    ``points`` of the rule in each slice, which are exact for plane faces; where a round runs across the
    slices, ``curved`` slices for it. Raises TypeError for a hole bored at an angle.
    """
    cuts = [cut for operation in part.operations for cut in operation.cuts]
    blank = part.blank
    levels = sorted(
        {round(level, 9) for cut in cuts for level in _levels(cut, axis, blank, curved)}
        | {round(level, 9) for level in _crossed(cuts, axis, blank)}
        | {float(blank.low.at(axis)), float(blank.high.at(axis))}
    )
    low, high = float(blank.low.at(axis)), float(blank.high.at(axis))
    levels = [level for level in levels if low <= level <= high]
    nodes, weights = np.polynomial.legendre.leggauss(points)
    total = 0.0
    rectangle = _rectangle(blank, axis)
    for before, behind in pairwise(levels):
        half = (behind - before) / 2
        for node, weight in zip(nodes, weights, strict=True):
            level = before + half * (1 + node)
            gone = union_all([shape for cut in cuts for shape in _section(cut, axis, level)])
            total += weight * half * rectangle.difference(gone).area
    return total


def _rectangle(of: Box, axis: Axis) -> Polygon:
    first, second = plane_axes(axis)
    return box(
        float(of.low.at(first)), float(of.low.at(second)), float(of.high.at(first)), float(of.high.at(second))
    )


def _levels(cut: Cut, axis: Axis, blank: Box, curved: int) -> list[float]:
    """Where the section of a cut changes its law."""
    if isinstance(cut, BoxCut):
        return [float(cut.box.low.at(axis)), float(cut.box.high.at(axis))]
    if isinstance(cut, RoundCut):
        middle, radius = float(cut.mouth.at(axis)), float(cut.diameter) / 2
        if cut.side.axis is axis:
            return [middle, middle - float(cut.depth) * cut.side.sign]
        return [middle - radius * math.cos(math.pi * k / curved) for k in range(curved + 1)]
    if isinstance(cut, PrismCut):
        if cut.axis is axis:
            return [float(cut.low), float(cut.high)]
        index = plane_axes(cut.axis).index(axis)
        return [point[index] for loop in cut.loops for point in points_of(loop)]
    if isinstance(cut, PlaneCut):
        return list(_crossings(cut, axis, blank))
    raise TypeError("a hole bored at an angle has no section of this kind")


def _crossed(cuts: list[Cut], axis: Axis, blank: Box) -> Iterator[float]:
    """Where outlines that are seen from the side cross each other or the blank."""
    for seen in Axis:
        if seen is axis:
            continue
        lines: list[BaseGeometry] = [_rectangle(blank, seen).exterior]
        for cut in cuts:
            if isinstance(cut, BoxCut):
                lines.append(_rectangle(cut.box, seen).exterior)
            elif isinstance(cut, PrismCut) and cut.axis is seen:
                lines += [Polygon(points_of(loop)).exterior for loop in cut.loops]
        index = plane_axes(seen).index(axis)
        for line in getattr(union_all(lines), "geoms", []):
            yield from (point[index] for point in line.coords)


def _crossings(cut: PlaneCut, axis: Axis, blank: Box) -> Iterator[float]:
    """Where a plane meets the four edges of the blank that run along an axis."""
    slope = cut.normal[axis.value]
    if abs(slope) < 1e-12:
        return
    offset = sum(n * p for n, p in zip(cut.normal, cut.through.floats(), strict=True))
    for first, second in product(*((blank.low.at(a), blank.high.at(a)) for a in plane_axes(axis))):
        sideways = zip(plane_axes(axis), (first, second), strict=True)
        yield (offset - sum(cut.normal[a.value] * float(value) for a, value in sideways)) / slope


def _section(cut: Cut, axis: Axis, level: float) -> Iterator[BaseGeometry]:
    """The polygons that a cut takes out of the slice at a level."""
    if isinstance(cut, BoxCut):
        if float(cut.box.low.at(axis)) < level < float(cut.box.high.at(axis)):
            yield _rectangle(cut.box, axis)
    elif isinstance(cut, RoundCut):
        yield from _round(cut, axis, level)
    elif isinstance(cut, PrismCut):
        yield from _prism(cut, axis, level)
    elif isinstance(cut, PlaneCut):
        yield _half_plane(cut, axis, level)


def _round(cut: RoundCut, axis: Axis, level: float) -> Iterator[BaseGeometry]:
    radius, depth = float(cut.diameter) / 2, float(cut.depth)
    mouth = float(cut.mouth.at(cut.side.axis))
    ends = sorted((mouth, mouth - depth * cut.side.sign))
    first, second = plane_axes(axis)
    if cut.side.axis is axis:
        if ends[0] < level < ends[1]:
            centre = Point(float(cut.mouth.at(first)), float(cut.mouth.at(second)))
            yield centre.buffer(radius, quad_segs=64)
        return
    off = abs(level - float(cut.mouth.at(axis)))
    if off < radius:
        half = math.sqrt(radius**2 - off**2)
        spans = {other: _about(float(cut.mouth.at(other)), half) for other in (first, second)}
        spans[cut.side.axis] = (ends[0], ends[1])
        yield box(spans[first][0], spans[second][0], spans[first][1], spans[second][1])


def _about(middle: float, half: float) -> tuple[float, float]:
    return middle - half, middle + half


def _prism(cut: PrismCut, axis: Axis, level: float) -> Iterator[BaseGeometry]:
    outer, *holes = (points_of(loop) for loop in cut.loops)
    shape = Polygon(outer, holes)
    if cut.axis is axis:
        if float(cut.low) < level < float(cut.high):
            yield shape
        return
    own = plane_axes(cut.axis)
    index = own.index(axis)
    ends = [(-FAR, level), (FAR, level)] if index == 1 else [(level, -FAR), (level, FAR)]
    common = shape.intersection(LineString(ends))
    other = own[1 - index]
    first, second = plane_axes(axis)
    for piece in getattr(common, "geoms", [common]):
        if piece.is_empty or piece.length == 0:
            continue
        values = [point[1 - index] for point in piece.coords]
        spans = {other: (min(values), max(values)), cut.axis: (float(cut.low), float(cut.high))}
        yield box(spans[first][0], spans[second][0], spans[first][1], spans[second][1])


def _half_plane(cut: PlaneCut, axis: Axis, level: float) -> BaseGeometry:
    """All beyond the line in which a slice meets the plane."""
    first, second = plane_axes(axis)
    through = cut.through.floats()
    a, b = cut.normal[first.value], cut.normal[second.value]
    offset = sum(n * p for n, p in zip(cut.normal, through, strict=True)) - cut.normal[axis.value] * level
    size = math.hypot(a, b)
    if size < 1e-12:
        return box(-FAR, -FAR, FAR, FAR) if offset < 0 else Polygon()
    x, y = a * offset / size**2, b * offset / size**2
    a, b = a / size, b / size
    corners = [(-b, a), (b, -a)]
    near = [(x + u * FAR, y + v * FAR) for u, v in corners]
    return Polygon([*near, *((px + a * FAR, py + b * FAR) for px, py in reversed(near))])

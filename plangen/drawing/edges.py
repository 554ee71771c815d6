"""Edges of a projection as strokes on the paper; what is a piece of a circle or an ellipse stays one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import atan2, dist, tau

import numpy as np

from plangen.drawing.hidden_lines import Edge
from plangen.drawing.scene import Placing
from plangen.drawing.sheet.model import Arc, Meaning, Stroke, Xy

_FLAT = 1e-9  # a curve seen edge on: its two half diameters span nothing
_ROUND = 0.005  # mm at full size by which corners of a ring may leave their circle
_LEAST_CORNERS = 12  # of a ring that stands for a circle


def edge_stroke(edge: Edge, placing: Placing, meaning: Meaning) -> Stroke:
    """Carry an edge to the paper."""
    points = tuple(placing.point(point) for point in edge.points)
    return Stroke(points, meaning, arc=placing.arc(edge.arc))


def part_of_edge(edge: Edge, points: Sequence[Xy]) -> Edge:
    """Give the part of an edge that runs along ``points``, which lie on it, in its own way or back."""
    kept = tuple((float(x), float(y)) for x, y in points)
    return replace(edge, points=kept, arc=edge.arc and _part(edge.arc, kept))


def ring_edge(points: Sequence[Xy], tag: str) -> Edge:
    """Give a closed ring (its first point repeated at the end) as an edge; exact where it is a circle."""
    ring = tuple((float(x), float(y)) for x, y in points)
    return Edge(ring, tag, "edge", _circle(ring[:-1]))


def _part(arc: Arc, points: Sequence[Xy]) -> Arc | None:
    """Give what of an arc runs along points; None where the arc is seen edge on.

    A point's angle is found where the two half diameters are the unit vectors.
    """
    (cx, cy), (ax, ay), (bx, by) = arc.centre, arc.major, arc.minor
    ux, uy, vx, vy = ax - cx, ay - cy, bx - cx, by - cy
    spanned = ux * vy - uy * vx
    if abs(spanned) <= _FLAT * max(ux * ux + uy * uy, vx * vx + vy * vy):
        return None
    turned = [
        atan2((ux * (y - cy) - uy * (x - cx)) / spanned, ((x - cx) * vy - (y - cy) * vx) / spanned)
        for x, y in points
    ]
    angles = np.unwrap(turned)
    start, end = sorted((float(angles[0]), float(angles[-1])))
    return replace(arc, start=start, end=min(end, start + tau))


def _circle(corners: Sequence[Xy]) -> Arc | None:
    if len(corners) < _LEAST_CORNERS:
        return None
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    centre = ((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2)
    reaches = [dist(centre, corner) for corner in corners]
    if max(reaches) - min(reaches) > _ROUND:
        return None
    radius = max(reaches)
    return Arc(centre, (centre[0] + radius, centre[1]), (centre[0], centre[1] + radius))

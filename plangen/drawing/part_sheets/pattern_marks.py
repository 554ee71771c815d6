"""Marks of pattern sheets as shapes, and shapes taken apart again."""

from __future__ import annotations

from typing import Any

from shapely.geometry import LineString, Polygon

from plangen.drawing.sheet.measure import text_corners
from plangen.drawing.sheet.model import Stroke, Text, Xy


def line_of(stroke: Stroke) -> Any:
    """Give a stroke as a line."""
    return LineString((*stroke.points, stroke.points[0]) if stroke.closed else stroke.points)


def box_of(mark: Stroke | Text) -> Any:
    """Give the room a mark takes, with 1.5 mm of air."""
    shape = Polygon(text_corners(mark)) if isinstance(mark, Text) else line_of(mark)
    return shape.buffer(1.5)


def pieces(shape: Any, kind: str) -> list[Any]:
    """Give the pieces of a shape that are of one kind, such as ``Polygon``."""
    if shape.is_empty:
        return []
    if shape.geom_type == kind:
        return [shape]
    return [piece for part in getattr(shape, "geoms", ()) for piece in pieces(part, kind)]


def rectangle_points(x: float, y: float, width: float, height: float) -> tuple[Xy, ...]:
    """Give the corners of a rectangle, anticlockwise."""
    return ((x, y), (x + width, y), (x + width, y + height), (x, y + height))


def plus(one: Xy, two: Xy) -> Xy:
    """Move a point."""
    return (one[0] + two[0], one[1] + two[1])

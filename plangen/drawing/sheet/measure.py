"""Measure a drawing: boxes of marks and texts, and where texts lie over each other or over lines."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import cos, radians, sin
from typing import Any

import shapely
from shapely.geometry import LineString, Polygon
from shapely.strtree import STRtree

from plangen.drawing.sheet.lettering import text_width
from plangen.drawing.sheet.model import Fill, Mark, Stroke, Text, Weight, Xy

FIGURE_SHARE = 0.65  # height of a figure over the type size, from the family's own metrics
DESCENT_SHARE = 0.2  # below the baseline, for letters such as g

Bounds = tuple[float, float, float, float]  # low x, low y, high x, high y


def text_length(text: str, size: float, weight: Weight = Weight.REGULAR) -> float:
    """Give the length of a run of text in millimetres, its fractions set."""
    return text_width(text, size, weight)


def text_corners(text: Text) -> tuple[Xy, Xy, Xy, Xy]:
    """Give the corners of the box of ink round a text: from the baseline (lower for letters that descend)."""
    length = text_length(text.text, text.size, text.weight)
    low_x = {"start": 0.0, "middle": -length / 2, "end": -length}[text.anchor]
    descends = any(letter in "gjpqyQ,;()" for letter in text.text) or "/" in text.text
    low_y = -DESCENT_SHARE * text.size if descends and text.role != "dimension" else 0.0
    high_y = FIGURE_SHARE * text.size
    c, s = cos(radians(text.angle)), sin(radians(text.angle))

    def turned(x: float, y: float) -> Xy:
        return (text.at[0] + x * c - y * s, text.at[1] + x * s + y * c)

    return (
        turned(low_x, low_y),
        turned(low_x + length, low_y),
        turned(low_x + length, high_y),
        turned(low_x, high_y),
    )


def mark_points(mark: Mark) -> tuple[Xy, ...]:
    """Points whose box is the box of the mark."""
    if isinstance(mark, Stroke):
        return mark.points
    if isinstance(mark, Fill):
        return tuple(point for loop in mark.loops for point in loop)
    if isinstance(mark, Text):
        return text_corners(mark)
    return (mark.low, mark.high)


def bounds(marks: Iterable[Mark]) -> Bounds:
    """Give the box round all marks, line widths left out; ValueError when there are none."""
    points = [point for mark in marks for point in mark_points(mark)]
    if not points:
        raise ValueError("nothing to measure")
    return (
        min(x for x, _ in points),
        min(y for _, y in points),
        max(x for x, _ in points),
        max(y for _, y in points),
    )


def texts_over_texts(marks: Sequence[Mark], tolerance: float = 0.1) -> tuple[tuple[Text, Text], ...]:
    """Every pair of texts whose boxes share more than ``tolerance`` mm both ways."""
    texts = [mark for mark in marks if isinstance(mark, Text) and mark.text.strip()]
    boxes = [_shrunk(text, tolerance) for text in texts]
    return tuple((texts[i], texts[j]) for i, j in sorted(_pairs(boxes)) if boxes[i].intersects(boxes[j]))


def texts_over_strokes(marks: Sequence[Mark], tolerance: float = 0.1) -> tuple[tuple[Text, Stroke], ...]:
    """Every text with a stroke that shows under it.

    What a later fill has painted over no longer counts: that is how a balloon keeps its letter clear.
    """
    strokes = [(number, mark) for number, mark in enumerate(marks) if isinstance(mark, Stroke)]
    if not strokes:
        return ()
    lines = [_line(stroke) for _, stroke in strokes]
    tree = STRtree(lines)
    fills = [(number, _area(mark)) for number, mark in enumerate(marks) if isinstance(mark, Fill)]
    found = []
    for position, text in enumerate(marks):
        if not isinstance(text, Text) or not text.text.strip():
            continue
        box = _shrunk(text, tolerance)
        for index in sorted(int(i) for i in tree.query(box, predicate="intersects")):
            number, stroke = strokes[index]
            part = lines[index].intersection(box)
            for later, area in fills:
                if number < later < position and area.intersects(part):
                    part = part.difference(area)
            if part.length > 1e-6:
                found.append((text, stroke))
    return tuple(found)


def _pairs(shapes: Sequence[Any]) -> set[tuple[int, int]]:
    if not shapes:
        return set()
    tree = STRtree(list(shapes))
    first, second = tree.query(list(shapes))
    return {(int(i), int(j)) for i, j in zip(first, second, strict=True) if i < j}


def _shrunk(text: Text, by: float) -> Any:
    return Polygon(text_corners(text)).buffer(-by, join_style="mitre")


def _line(stroke: Stroke) -> Any:
    points = stroke.points + stroke.points[:1] if stroke.closed else stroke.points
    return LineString(points if len(points) > 1 else points * 2)


def _area(fill: Fill) -> Any:
    area = shapely.make_valid(Polygon(fill.loops[0])) if len(fill.loops[0]) > 2 else Polygon()
    for loop in fill.loops[1:]:
        if len(loop) > 2:
            area = area.symmetric_difference(shapely.make_valid(Polygon(loop)))
    return area

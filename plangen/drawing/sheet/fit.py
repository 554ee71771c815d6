"""Hold a drawing to its room, as the last resort of whoever could not lay it out any smaller."""

from __future__ import annotations

from dataclasses import replace

from plangen.drawing.sheet.measure import bounds
from plangen.drawing.sheet.model import Drawing, Mark, Text, carried


def held(drawing: Drawing, width: float, height: float) -> Drawing:
    """Give the drawing moved, and shrunk where it must be, so that every mark lies within its room (mm).

    A drawing that has to be shrunk is at no scale that could be named: it then names none. Nothing changes
    where everything lies within the room already, to a tenth of a millimetre.
    """
    if not drawing.marks:
        return replace(drawing, width=min(drawing.width, width), height=min(drawing.height, height))
    low_x, low_y, high_x, high_y = bounds(drawing.marks)
    low_x, low_y = min(low_x, 0.0), min(low_y, 0.0)
    high_x, high_y = max(high_x, drawing.width), max(high_y, drawing.height)
    if min(low_x, low_y) >= -0.1 and high_x <= width + 0.1 and high_y <= height + 0.1:
        return drawing
    factor = min(1.0, width / (high_x - low_x), height / (high_y - low_y))
    marks = tuple(
        _shrunk(mark, low_x, low_y, factor)
        for mark in drawing.marks
        if factor == 1.0 or not (isinstance(mark, Text) and mark.role == "scale")
    )
    return replace(
        drawing,
        width=min((high_x - low_x) * factor, width),
        height=min((high_y - low_y) * factor, height),
        marks=marks,
    )


def _shrunk(mark: Mark, low_x: float, low_y: float, factor: float) -> Mark:
    moved = carried(mark, lambda p: ((p[0] - low_x) * factor, (p[1] - low_y) * factor))
    return replace(moved, size=moved.size * factor) if isinstance(moved, Text) else moved

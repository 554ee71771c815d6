"""The small shapes of a cutting diagram: numbered discs, the arrow of the grain, and steps along a line."""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, pi, sin
from typing import Any

from plangen.drawing.cutting_text import FIGURE, Rect
from plangen.drawing.dimension_lines import circle
from plangen.drawing.sheet.lettering import LEAST_SIZE, text_width
from plangen.drawing.sheet.model import Fill, Mark, Meaning, Stroke, Text, Tone, Weight, Xy

DISC = 3.0  # mm: the radius of a cut's number
PILL = 1.75  # mm: half the height of a number where that has no room


def corners(rect: Rect) -> tuple[Xy, ...]:
    """Give the corners of a rectangle, anticlockwise from the low left one."""
    low_x, low_y, high_x, high_y = rect
    return (low_x, low_y), (high_x, low_y), (high_x, high_y), (low_x, high_y)


def square(centre: Xy, half: float) -> Rect:
    """Give the square round a centre."""
    return centre[0] - half, centre[1] - half, centre[0] + half, centre[1] + half


def steps(start: float, end: float, apart: float = 2.0) -> Iterator[float]:
    """Give places from start to end, about ``apart`` millimetres apart; the start alone when they meet."""
    number = max(1, int(abs(end - start) / apart))
    for index in range(number + 1):
        yield start + (end - start) * index / number


def lines_of(shape: Any) -> Iterator[tuple[Xy, ...]]:
    """Give the lines of what shapely cut out, in order, without points and slivers."""
    for part in sorted(getattr(shape, "geoms", [shape]), key=lambda part: tuple(part.bounds)):
        if part.geom_type == "LineString" and part.length > 0.3:
            yield tuple((float(x), float(y)) for x, y in part.coords)


def disc(centre: Xy, number: int) -> list[Mark]:
    """Draw a cut's number, white on a black disc."""
    text, size = str(number), LEAST_SIZE
    size = min(size, size * 1.5 * DISC / text_width(text, size, Weight.BOLD))
    return [Fill((circle(centre, DISC),), Tone.BLACK_DISC), _number(centre, text, size)]


def pill_half(number: int) -> tuple[float, float]:
    """Give half the width and half the height in mm of a cut's number where a disc has no room."""
    wide = text_width(str(number), LEAST_SIZE, Weight.BOLD) / 2 + 1.0
    return max(wide, PILL), PILL


def pill(centre: Xy, number: int) -> list[Mark]:
    """Draw a cut's number, white on a black bar with round ends, no higher than its figures need."""
    wide, high = pill_half(number)
    (x, y), reach = centre, wide - high
    turns = [pi * index / 8 for index in range(9)]
    right = [(x + reach + high * sin(turn), y + high * cos(turn)) for turn in turns]
    left = [(x - reach - high * sin(turn), y - high * cos(turn)) for turn in turns]
    return [Fill(((*right, *left),), Tone.BLACK_DISC), _number(centre, str(number), LEAST_SIZE)]


def _number(centre: Xy, text: str, size: float) -> Text:
    at = (centre[0], centre[1] - size * FIGURE / 2)
    return Text(at, text, size, "middle", Weight.BOLD, Tone.PAPER, role="cut")


def tick_box(low: Xy, side: float) -> Stroke:
    """Draw a box to tick from its low left corner."""
    x, y = low
    return Stroke(((x, y), (x + side, y), (x + side, y + side), (x, y + side)), Meaning.BALLOON, closed=True)


def grain_arrow(at: Xy, length: float) -> Iterator[Mark]:
    """Draw a line with a head at both ends: the grain runs this way."""
    x, y = at
    yield Stroke(((x, y), (x + length, y)), Meaning.LEADER)
    for tip, way in ((x, 1), (x + length, -1)):
        yield Fill((((tip, y), (tip + way * 2.6, y + 0.5), (tip + way * 2.6, y - 0.5)),), Tone.INK)

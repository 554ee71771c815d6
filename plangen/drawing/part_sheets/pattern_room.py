"""The clear ground of one pattern sheet, and where on it a word has room."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

import numpy as np
import shapely
from shapely.geometry import LineString, Polygon
from shapely.ops import unary_union

from plangen.drawing.sheet.measure import DESCENT_SHARE, FIGURE_SHARE, text_corners, text_length
from plangen.drawing.sheet.model import Fill, Mark, Stroke, Text, Tone, Weight, Xy

LABEL = 7.7  # mm of type size: figures 5.0 mm high, for a pattern is read at arm's length
SMALL_LABEL = 5.3  # 15 pt, for what is read once, before the pattern is used
LEADING = 1.3  # from line to line, over the type size
AIR = 1.5  # mm between a word and anything else
STEP = 3.0  # mm between the places that are tried


class Room:
    """What is still clear; every mark that is taken up makes it smaller, by ``air`` mm round it too."""

    def __init__(self, air: float = AIR) -> None:
        self._taken: list[Any] = []
        self._words: list[Any] = []
        self._air = air

    def take(self, marks: Iterable[Mark]) -> None:
        """Keep clear of these marks; the insides of fills may be written on."""
        for mark in marks:
            if isinstance(mark, Stroke):
                points = (*mark.points, mark.points[0]) if mark.closed else mark.points
                self._taken.append(LineString(points).buffer(self._air))
            elif isinstance(mark, Text):
                self._taken.append(Polygon(text_corners(mark)).buffer(self._air))
                self._words.append(self._taken[-1])

    def crosses_words(self, start: Xy, end: Xy) -> bool:
        """Tell whether a straight line runs over words."""
        line = LineString([start, end])
        return any(line.intersects(words) for words in self._words)

    def spot(self, area: Any, width: float, height: float, near: Xy) -> Xy | None:
        """Give the middle of a free rectangle in an area, the nearest to a point; None for none."""
        free = area.difference(unary_union(self._taken)) if self._taken else area
        if free.is_empty:
            return None
        low_x, low_y, high_x, high_y = free.bounds
        step = min(STEP, 2 * self._air)
        across = np.arange(low_x + width / 2, high_x - width / 2 + 1e-9, step)
        up = np.arange(low_y + height / 2, high_y - height / 2 + 1e-9, step)
        if not len(across) or not len(up):
            return None
        x, y = (grid.ravel() for grid in np.meshgrid(across, up))
        shapely.prepare(free)
        fits = shapely.contains(
            free, shapely.box(x - width / 2, y - height / 2, x + width / 2, y + height / 2)
        )
        if not fits.any():
            return None
        away = np.where(fits, (x - near[0]) ** 2 + (y - near[1]) ** 2, np.inf)
        best = int(np.argmin(np.round(away, 6)))
        return (float(x[best]), float(y[best]))


def block(
    words: tuple[str, ...], middle: Xy, size: float, *, first: Weight = Weight.REGULAR,
    tone: Tone = Tone.INK, upright: bool = False,
) -> tuple[Text, ...]:  # fmt: skip
    """Set lines of words centred about a point; ``upright`` ones read from the right."""
    _, height = block_size(words, size)
    found = []
    for number, word in enumerate(words):
        drop = height / 2 - FIGURE_SHARE * size - number * LEADING * size
        at = (middle[0] - drop, middle[1]) if upright else (middle[0], middle[1] + drop)
        weight = first if number == 0 else Weight.REGULAR
        found.append(Text(at, word, size, "middle", weight, tone, 90.0 if upright else 0.0, "pattern"))
    return tuple(found)


def block_size(words: tuple[str, ...], size: float) -> tuple[float, float]:
    """Give the width and the height that lines of words take, mm."""
    wide = max(text_length(word, size, Weight.SEMIBOLD) for word in words)
    return wide, (FIGURE_SHARE + DESCENT_SHARE + (len(words) - 1) * LEADING) * size


def wrapped(sentence: str, width: float, size: float = SMALL_LABEL) -> Iterator[str]:
    """Break a sentence into lines no wider than ``width`` mm."""
    line = ""
    for word in sentence.split(" "):
        longer = f"{line} {word}" if line else word
        if line and text_length(longer, size) > width:
            yield line
            line = word
        else:
            line = longer
    yield line


def inked(marks: Iterable[Mark]) -> tuple[Mark, ...]:
    """Give the marks that words must keep clear of: lines and words, not tints."""
    return tuple(mark for mark in marks if not isinstance(mark, Fill))

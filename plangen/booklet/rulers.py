"""Two rulers drawn exactly to size, level and upright, that prove how a printer scaled the page."""

from __future__ import annotations

from typing import Any

from plangen.booklet.blocks import Block, words_at
from plangen.booklet.style import MM, RING, SECONDARY, Look

INCH = 72.0
LONG_MM, LONG_INCHES = 100, 4


class Rulers(Block):
    """100 mm and 4 in, level along the top and upright at the left; nothing scales them."""

    def __init__(self, look: Look) -> None:
        self._look = look
        self.spaceBefore, self.spaceAfter = 4 * MM, 6 * MM

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """Give the size."""
        self.width, self.height = width, 4 * INCH + 26 * MM
        return self.width, self.height

    def paint(self, canvas: Any, x: float, y: float) -> None:
        """Draw; the level rulers start where the upright ones end."""
        left, top = x + 26 * MM, y + self.height - 18 * MM
        canvas.setStrokeColor("#000000")
        canvas.setLineWidth(RING)
        canvas.setLineCap(0)
        size = self._look.sizes.small
        # level: millimetres above, inches below
        canvas.line(left, top + 7 * MM, left + LONG_MM * MM, top + 7 * MM)
        for mm in range(0, LONG_MM + 1, 5):
            tall = 3.2 if mm % 50 == 0 else 2.2 if mm % 10 == 0 else 1.3
            canvas.line(left + mm * MM, top + 7 * MM, left + mm * MM, top + (7 + tall) * MM)
            if mm % 10 == 0:
                words_at(canvas, left + mm * MM, top + 11.2 * MM, str(mm), size=size, to=1)
        canvas.line(left, top, left + LONG_INCHES * INCH, top)
        for eighth in range(LONG_INCHES * 8 + 1):
            tall = 3.2 if eighth % 8 == 0 else 2.2 if eighth % 4 == 0 else 1.3
            at = left + eighth * INCH / 8
            canvas.line(at, top, at, top - tall * MM)
            if eighth % 8 == 0:
                words_at(canvas, at, top - 6.8 * MM, str(eighth // 8), size=size, to=1)
        words_at(canvas, left + LONG_MM * MM + 6 * MM, top + 7 * MM, "mm", size=size, colour=SECONDARY)
        words_at(canvas, left + LONG_INCHES * INCH + 6 * MM, top - 3 * MM, "in", size=size, colour=SECONDARY)
        # upright: inches at the left, millimetres at the right of a pair of lines
        low = top - 10 * MM
        one, two = x + 8 * MM, x + 15 * MM
        canvas.line(two, low, two, low - LONG_MM * MM)
        for mm in range(0, LONG_MM + 1, 5):
            tall = 3.2 if mm % 50 == 0 else 2.2 if mm % 10 == 0 else 1.3
            canvas.line(two, low - mm * MM, two + tall * MM, low - mm * MM)
            if mm % 10 == 0:
                words_at(canvas, two + 4 * MM, low - mm * MM - size * 0.33, str(mm), size=size)
        canvas.line(one, low, one, low - LONG_INCHES * INCH)
        for eighth in range(LONG_INCHES * 8 + 1):
            tall = 3.2 if eighth % 8 == 0 else 2.2 if eighth % 4 == 0 else 1.3
            at = low - eighth * INCH / 8
            canvas.line(one, at, one - tall * MM, at)
            if eighth % 8 == 0:
                words_at(canvas, one - 4 * MM, at - size * 0.33, str(eighth // 8), size=size, to=-1)
        words_at(canvas, two + 4 * MM, low + 4 * MM, "mm", size=size, colour=SECONDARY)
        words_at(canvas, one - 4 * MM, low + 4 * MM, "in", size=size, colour=SECONDARY, to=-1)

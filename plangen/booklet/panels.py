"""Safety panels: the signal word in the standard's colour, and words that say the same in grey."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from reportlab.lib.colors import HexColor

from plangen.booklet.blocks import Block, breadth, paragraph, words_at
from plangen.booklet.style import BOLD, INK, MM, PAPER_WHITE, Look

# Safety colours in sRGB, near those of ANSI Z535.1; the words say the same in grey (values from memory).
FIELDS = {
    "DANGER": (HexColor("#C8102E"), PAPER_WHITE),
    "WARNING": (HexColor("#FF7900"), INK),
    "CAUTION": (HexColor("#FFD100"), INK),
    "NOTICE": (HexColor("#0055A4"), PAPER_WHITE),
}


class Panel(Block):
    """A safety panel: the signal word in its field, then what can happen and how to avoid it."""

    FIELD = 40 * MM
    INSET = 4 * MM

    def __init__(self, look: Look, signal: str, texts: Sequence[str]) -> None:
        self._look, self._signal, self._texts = look, signal, tuple(texts)
        self.spaceBefore, self.spaceAfter = 2 * MM, 3 * MM

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """Give the size."""
        room = width - self.FIELD - 2 * self.INSET
        self._made = [paragraph(text, self._look.cell, room) for text in self._texts]
        text = sum(tall for _, tall in self._made) + 1.2 * MM * (len(self._made) - 1)
        self.width, self.height = width, max(13.4 * MM, text + 4.2 * MM)
        self._text = text
        return self.width, self.height

    def paint(self, canvas: Any, x: float, y: float) -> None:
        """Draw."""
        field, ink = FIELDS[self._signal]
        canvas.setFillColor(field)
        canvas.rect(x, y, self.FIELD, self.height, stroke=0, fill=1)
        canvas.setStrokeColor(INK)
        canvas.setLineWidth(0.5 * MM)
        canvas.setLineJoin(0)
        canvas.rect(x, y, self.width, self.height, stroke=1, fill=0)
        canvas.line(x + self.FIELD, y, x + self.FIELD, y + self.height)
        self._word(canvas, x, y + self.height / 2, field, ink)
        top = y + self.height - (self.height - self._text) / 2 + 0.4 * MM
        for made, tall in self._made:
            made.drawOn(canvas, x + self.FIELD + self.INSET, top - tall)
            top -= tall + 1.2 * MM

    def _word(self, canvas: Any, x: float, middle: float, field: Any, ink: Any) -> None:
        size, track = 15.0, 0.25 * MM
        wide = breadth(self._signal, BOLD, size) + track * (len(self._signal) - 1)
        symbol = 0.0 if self._signal == "NOTICE" else 6.6 * MM
        start = x + (self.FIELD - wide - symbol - (2 * MM if symbol else 0)) / 2
        if symbol:
            self._triangle(canvas, start, middle, symbol, ink, field)
            start += symbol + 2 * MM
        canvas.saveState()
        slant = 0.18 if self._signal == "NOTICE" else 0.0
        canvas.transform(1, 0, slant, 1, start, middle - size * 0.33)
        canvas.setFillColor(ink)
        text = canvas.beginText(0, 0)
        text.setFont(BOLD, size)
        text.setCharSpace(track)
        text.textOut(self._signal)
        canvas.drawText(text)
        canvas.restoreState()

    @staticmethod
    def _triangle(canvas: Any, x: float, middle: float, side: float, ink: Any, field: Any) -> None:
        tall = side * 0.8660254
        low = middle - tall / 2
        path = canvas.beginPath()
        path.moveTo(x, low)
        path.lineTo(x + side, low)
        path.lineTo(x + side / 2, low + tall)
        path.close()
        canvas.setFillColor(ink)
        canvas.setStrokeColor(ink)
        canvas.setLineJoin(1)
        canvas.setLineWidth(0.5 * MM)
        canvas.drawPath(path, stroke=1, fill=1)
        words_at(canvas, x + side / 2, low + 0.75 * MM, "!", font=BOLD, size=13, colour=field, to=1)

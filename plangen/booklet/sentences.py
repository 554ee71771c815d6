"""Sentences to follow and boxes to tick: what is done in a step or to a part, and what to check."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from plangen.booklet.blocks import Block, breadth, paragraph, rule, tick_box, words_at
from plangen.booklet.setting import Setting
from plangen.booklet.style import MM, SEMIBOLD


class Sentences(Block):
    """Numbered sentences on the same pitch as the table beside them."""

    def __init__(
        self, setting: Setting, head: str, texts: Sequence[str], *, pitch: float = 8.2 * MM, first: int = 1
    ) -> None:
        self._setting, self._head, self._texts = setting, head, tuple(texts)
        self._pitch, self._first = pitch, first

    def at_pitch(self, pitch: float) -> Sentences:
        """Give the same sentences on another pitch."""
        return Sentences(self._setting, self._head, self._texts, pitch=pitch, first=self._first)

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """Give the size at a width."""
        look = self._setting.look
        self.width = width
        self._made = [paragraph(text, look.cell, width - 6.5 * MM) for text in self._texts]
        self.height = 6.6 * MM + sum(self._tall(tall) for _, tall in self._made)
        return self.width, self.height

    def _tall(self, tall: float) -> float:
        return self._pitch + tall - float(self._setting.look.cell.leading)

    def split(self, width: float, height: float) -> list[Any]:
        """Break between sentences, at least two on each side."""
        self.wrap(width, height)
        used, fits = 6.6 * MM, 0
        for _, tall in self._made:
            if used + self._tall(tall) > height:
                break
            used += self._tall(tall)
            fits += 1
        fits = min(fits, len(self._texts) - 2)
        if fits < 2:
            return []
        low, high = self._texts[:fits], self._texts[fits:]
        return [
            Sentences(self._setting, self._head, low, pitch=self._pitch, first=self._first),
            Sentences(self._setting, self._head, high, pitch=self._pitch, first=self._first + fits),
        ]

    def paint(self, canvas: Any, x: float, y: float) -> None:
        """Draw."""
        top = y + self.height
        look = self._setting.look
        words_at(canvas, x, top - 4.3 * MM, self._head, font=SEMIBOLD, size=look.sizes.block)
        top -= 6.6 * MM
        rule(canvas, x, top, self.width)
        size = look.sizes.body
        for index, (made, tall) in enumerate(self._made):
            base = top - self._pitch / 2 - size * 0.33
            if len(self._made) > 1 or self._first > 1:
                words_at(canvas, x, base, str(index + self._first), font=SEMIBOLD, size=size)
            made.drawOn(canvas, x + 6.5 * MM, base + size - tall)
            top -= self._tall(tall)


class Checks(Block):
    """What to check before going on, each with a box to tick."""

    def __init__(self, setting: Setting, head: str, texts: Sequence[str]) -> None:
        self._setting, self._head, self._texts = setting, head, tuple(texts)

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """Give the size at a width: beside the head when the checks are short, else in two columns."""
        look = self._setting.look
        self.width = width
        self._left = breadth(self._head, SEMIBOLD, look.sizes.block) + 8 * MM
        columns = 2 if len(self._texts) > 1 else 1
        self._pitch = (width - self._left) / columns
        self._made = [paragraph(text, look.cell, self._pitch - 10 * MM) for text in self._texts]
        self._talls = [
            max(tall for _, tall in self._made[index : index + columns]) + 2 * MM
            for index in range(0, len(self._made), columns)
        ]
        self._columns = columns
        self.height = 3.2 * MM + sum(self._talls)
        return self.width, self.height

    def paint(self, canvas: Any, x: float, y: float) -> None:
        """Draw."""
        top = y + self.height
        look = self._setting.look
        size = look.sizes.body
        rule(canvas, x, top, self.width)
        top -= 3.2 * MM
        base = top - size
        words_at(canvas, x, base, self._head, font=SEMIBOLD, size=look.sizes.block)
        for line, tall in enumerate(self._talls):
            for column in range(self._columns):
                index = line * self._columns + column
                if index < len(self._made):
                    left = x + self._left + column * self._pitch
                    made, deep = self._made[index]
                    tick_box(canvas, left, top - size - 0.7 * MM)
                    made.drawOn(canvas, left + 6.5 * MM, top - deep)
            top -= tall


class TickItem(Block):
    """A list item with a box to tick."""

    def __init__(self, setting: Setting, text: str) -> None:
        self._setting, self._text = setting, text
        self.spaceAfter = 1.4 * MM

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """Give the size at a width."""
        self.width = width
        self._made, tall = paragraph(self._text, self._setting.look.cell, width - 7.5 * MM)
        self.height = max(tall, 5 * MM)
        return self.width, self.height

    def paint(self, canvas: Any, x: float, y: float) -> None:
        """Draw."""
        top = y + self.height
        tick_box(canvas, x, top - 4.6 * MM, 3.9 * MM)
        self._made.drawOn(canvas, x + 7.5 * MM, top - self._made.height)


class Numbered(Block):
    """Numbered or bulleted sentences in one or two columns under a rule; for what is done to a part."""

    def __init__(
        self,
        setting: Setting,
        head: str,
        texts: Sequence[str],
        columns: int = 1,
        *,
        first: int = 1,
        numbered: bool | None = None,
    ) -> None:
        self._setting, self._head, self._texts, self._columns = setting, head, tuple(texts), columns
        self._first, self._numbered = first, len(texts) > 1 if numbered is None else numbered
        self.spaceBefore = 3 * MM

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """Give the size at a width."""
        look = self._setting.look
        self.width = width
        self._room = (width - (self._columns - 1) * 4 * MM) / self._columns
        made = [paragraph(text, look.cell, self._room - 6.5 * MM) for text in self._texts]
        total = sum(tall + 1.2 * MM for _, tall in made)
        self._sets: list[list[tuple[int, Any, float]]] = [[]]
        used = 0.0
        for index, (one, tall) in enumerate(made):
            if used and used + tall / 2 > total / self._columns and len(self._sets) < self._columns:
                self._sets.append([])
                used = 0.0
            self._sets[-1].append((index, one, tall))
            used += tall + 1.2 * MM
        self.height = 6.5 * MM + max(sum(tall + 1.2 * MM for _, _, tall in column) for column in self._sets)
        return self.width, self.height

    def split(self, width: float, height: float) -> list[Any]:
        """Break between sentences, as many on this page as it holds; nothing where it holds none."""
        if self.wrap(width, height)[1] <= height:
            return [self]
        for fits in range(len(self._texts) - 1, 0, -1):
            here = self._part(0, fits)
            if here.wrap(width, height)[1] <= height:
                return [here, self._part(fits, len(self._texts))]
        return []

    def _part(self, start: int, end: int) -> Numbered:
        return Numbered(
            self._setting,
            self._head,
            self._texts[start:end],
            self._columns,
            first=self._first + start,
            numbered=self._numbered,
        )

    def paint(self, canvas: Any, x: float, y: float) -> None:
        """Draw."""
        top = y + self.height
        look = self._setting.look
        words_at(canvas, x, top - 3.6 * MM, self._head, font=SEMIBOLD, size=look.sizes.block)
        for place, column in enumerate(self._sets):
            low = top - 6.5 * MM
            left = x + place * (self._room + 4 * MM)
            for index, made, tall in column:
                if self._numbered:
                    base = low - look.sizes.body
                    words_at(
                        canvas, left, base, str(self._first + index), font=SEMIBOLD, size=look.sizes.body
                    )
                made.drawOn(canvas, left + 6.5 * MM, low - tall)
                low -= tall + 1.2 * MM

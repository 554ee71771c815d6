"""What has to stay together where a page ends: the checks of a step with the last of its sentences."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from plangen.booklet.blocks import Block, Gap
from plangen.booklet.sentences import Checks, Sentences
from plangen.booklet.style import MM

BETWEEN = 6 * MM


class Ending(Block):
    """Sentences with the checks that end them; a break leaves at least two sentences with the checks."""

    def __init__(self, sentences: Sentences, checks: Checks) -> None:
        self._sentences, self._checks = sentences, checks

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """Give the size at a width."""
        self.width = width
        self._above = self._sentences.wrap(width, height)[1]
        self._below = self._checks.wrap(width, height)[1]
        self.height = self._above + BETWEEN + self._below
        return self.width, self.height

    def split(self, width: float, height: float) -> list[Any]:
        """Break between sentences; nothing, to go over whole, where two can not stay on each side."""
        self.wrap(width, height)
        if self.height <= height:
            return [self]
        pieces = self._sentences.split(width, min(height, self._above - 1))
        if len(pieces) < 2:
            return []
        return [pieces[0], Ending(pieces[1], self._checks)]

    def paint(self, canvas: Any, x: float, y: float) -> None:
        """Draw the sentences over the checks."""
        self._checks.wrap(self.width, 0)
        self._sentences.wrap(self.width, 0)
        self._checks.drawOn(canvas, x, y)
        self._sentences.drawOn(canvas, x, y + self._below + BETWEEN)


def keep_checks(story: Sequence[Any]) -> list[Any]:
    """Join each block of checks with the sentences that it ends."""
    kept: list[Any] = []
    for flowable in story:
        if isinstance(flowable, Checks) and len(kept) > 1:
            gap, sentences = kept[-1], kept[-2]
            if isinstance(gap, Gap) and isinstance(sentences, Sentences):
                kept[-2:] = [Ending(sentences, flowable)]
                continue
        kept.append(flowable)
    return kept

"""What stays together over pages: a step's words with its checks, and a table with its heading."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from reportlab.platypus import Paragraph

from plangen.booklet.blocks import Block, Gap
from plangen.booklet.sentences import Checks, Sentences
from plangen.booklet.setting import Setting
from plangen.booklet.style import MM
from plangen.booklet.tables import LineTable

BETWEEN = 6 * MM
LARGE_GAP = 0.4  # of a page, left empty because a table goes over whole
WHOLE = 0.85  # of a page: what a table may take to stand whole under a running head


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


class Beside(Block):
    """What a step takes beside what to do, where one page holds both; else one under the other."""

    def __init__(
        self, setting: Setting, table: LineTable, sentences: Sentences, checks: Checks | None
    ) -> None:
        self._setting, self._table, self._sentences, self._checks = setting, table, sentences, checks

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """Give the size at a width."""
        half = self._setting.look.page.span(6)
        self.width = width
        self._above = max(self._table.wrap(half, height)[1], self._sentences.wrap(half, height)[1])
        self._below = self._checks.wrap(width, height)[1] if self._checks else 0.0
        self.height = self._above + (BETWEEN + self._below if self._checks else 0.0)
        return self.width, self.height

    def split(self, width: float, height: float) -> list[Any]:
        """Give the blocks one under the other, free to run over pages; the first has to find its room."""
        ending = Ending(self._sentences, self._checks) if self._checks else self._sentences
        _, tall = self._table.wrap(width, height)
        tables = [self._table] if tall <= height else self._table.split(width, height)
        return [*tables, Gap(BETWEEN), ending] if tables else []

    def ended(self, checks: Checks) -> Beside:
        """Give the same with checks under both."""
        return Beside(self._setting, self._table, self._sentences, checks)

    def paint(self, canvas: Any, x: float, y: float) -> None:
        """Draw the two side by side over the checks."""
        half = self._setting.look.page.span(6)
        top = y + self.height
        for block, left in ((self._table, x), (self._sentences, x + self._setting.look.page.column(6))):
            _, tall = block.wrap(half, 0)
            block.drawOn(canvas, left, top - tall)
        if self._checks:
            self._checks.wrap(self.width, 0)
            self._checks.drawOn(canvas, x, y)


class Headed(Block):
    """A table under its heading or picture. It begins on the page where it stands if much of that is left.

    A table that finds less room, but would be whole on the next page, goes over to it with its heading.
    """

    def __init__(self, setting: Setting, heading: Any, table: Block) -> None:
        self._setting, self._heading, self._table = setting, heading, table
        self.spaceBefore, self.spaceAfter = heading.getSpaceBefore(), table.getSpaceAfter()

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """Give the size at a width."""
        self.width = width
        self._above = self._heading.wrap(width, height)[1]
        self._between = max(self._heading.getSpaceAfter(), self._table.getSpaceBefore())
        self._below = self._table.wrap(width, height)[1]
        self.height = self._above + self._between + self._below
        return self.width, self.height

    def split(self, width: float, height: float) -> list[Any]:
        """Break inside the table; nothing, to go over whole, where that leaves no great gap."""
        self.wrap(width, height)
        if self.height <= height:
            return [self]
        depth = self._setting.look.page.depth
        if height < LARGE_GAP * depth and self.height <= WHOLE * depth:
            return []
        pieces = self._table.split(width, height - self._above - self._between)
        if len(pieces) < 2:
            return []
        return [Headed(self._setting, self._heading, pieces[0]), *pieces[1:]]

    def paint(self, canvas: Any, x: float, y: float) -> None:
        """Draw the heading over the table."""
        self._table.wrap(self.width, 0)
        self._heading.wrap(self.width, 0)
        self._table.drawOn(canvas, x, y)
        self._heading.drawOn(canvas, x, y + self._below + self._between)


def words_over(setting: Setting, words: str, *, after: float = 3 * MM) -> list[Paragraph]:
    """Set words, as paragraph markup, that stay with the list or picture under them; nothing without any."""
    look = setting.look
    style = look.style("words over", look.body.fontSize, look.body.leading, after=after, keep=True)
    return [Paragraph(words, style)] if words else []


def keep_heads(setting: Setting, story: Sequence[Any]) -> list[Any]:
    """Put tables under the headings, and the words that stay with them, that stand right before them."""
    kept: list[Any] = []
    for flowable in story:
        if isinstance(flowable, LineTable):
            while kept and isinstance(kept[-1], Paragraph) and kept[-1].getKeepWithNext():
                flowable = Headed(setting, kept.pop(), flowable)
        kept.append(flowable)
    return kept


def keep_checks(setting: Setting, story: Sequence[Any]) -> list[Any]:
    """Join what a step takes, what to do and what to check where they follow each other down a page."""
    kept: list[Any] = []
    for flowable in story:
        before = kept[-2] if len(kept) > 1 and isinstance(kept[-1], Gap) else None
        if isinstance(flowable, Sentences) and isinstance(before, LineTable):
            kept[-2:] = [Beside(setting, before, flowable, None)]
        elif isinstance(flowable, Checks) and isinstance(before, Sentences):
            kept[-2:] = [Ending(before, flowable)]
        elif isinstance(flowable, Checks) and isinstance(before, Beside):
            kept[-2:] = [before.ended(flowable)]
        else:
            kept.append(flowable)
    return kept

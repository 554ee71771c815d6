"""The blocks a page is built from. All draw in the page's own points, none moves the frame."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from reportlab.pdfbase.pdfmetrics import stringWidth
from reportlab.platypus import Flowable, Paragraph

from plangen.booklet.setting import Setting
from plangen.booklet.style import (
    HAIR_RULE,
    HEAD_RULE,
    INK,
    MM,
    REGULAR,
    RING,
    RING_STRONG,
    SECONDARY,
    SEMIBOLD,
    Look,
)
from plangen.drawing.sheet.lettering import text_width
from plangen.drawing.sheet.model import Drawing, Weight
from plangen.drawing.writers.pdf import paint


class Block(Flowable):  # type: ignore[misc]
    """A flowable that is drawn in absolute points, so that links and bookmarks land where it stands."""

    def drawOn(self, canvas: Any, x: float, y: float, _sW: float = 0) -> None:  # noqa: N802, N803
        """Draw with the low left corner at (x, y)."""
        self.canv = canvas
        canvas.saveState()
        self.paint(canvas, x, y)
        canvas.restoreState()
        del self.canv

    def paint(self, canvas: Any, x: float, y: float) -> None:
        """Draw; each block has its own way."""
        raise NotImplementedError

    def identity(self, maxLen: int | None = None) -> str:  # noqa: N803
        """Name the block in the library's own messages."""
        return type(self).__name__


def rule(canvas: Any, x: float, y: float, width: float, thick: float = HEAD_RULE) -> None:
    """Draw a level rule."""
    canvas.setLineWidth(thick)
    canvas.setStrokeColor(INK)
    canvas.setLineCap(0)
    canvas.line(x, y, x + width, y)


def breadth(text: str, font: str, size: float) -> float:
    """Width of a line of text as it will be drawn, in points."""
    return float(stringWidth(text, font, size))


def words_at(
    canvas: Any,
    x: float,
    y: float,
    text: str,
    *,
    font: str = REGULAR,
    size: float = 10.5,
    colour: Any = INK,
    to: int = 0,
) -> None:
    """Draw one line of text; ``to`` is -1 to end at x, 0 to start there, 1 to be centred on it."""
    canvas.setFont(font, size)
    canvas.setFillColor(colour)
    if to:
        width = breadth(text, font, size)
        x -= width if to < 0 else width / 2
    canvas.drawString(x, y, text)


def ring_width(mark: str, radius: float, size: float) -> float:
    """Width of a mark's ring; a long mark gets a pill."""
    return max(2 * radius, breadth(mark, SEMIBOLD, size) + radius * 0.95)


def ring(
    canvas: Any, x: float, y: float, mark: str, *, radius: float, size: float, strong: bool = False
) -> float:
    """Draw a part's mark in a ring whose left end is at x and middle at y; give its width."""
    width = ring_width(mark, radius, size)
    canvas.setLineWidth(RING_STRONG if strong else RING)
    canvas.setStrokeColor(INK)
    canvas.roundRect(x, y - radius, width, 2 * radius, radius, stroke=1, fill=0)
    words_at(canvas, x + width / 2, y - size * 0.33, mark, font=SEMIBOLD, size=size, to=1)
    return width


def square(canvas: Any, x: float, y: float, mark: str, *, radius: float, size: float) -> float:
    """Draw a hardware number in a square whose left side is at x and middle at y; give its width."""
    width = max(2 * radius * 0.92, breadth(mark, SEMIBOLD, size) + radius * 0.7)
    canvas.setLineWidth(RING)
    canvas.setStrokeColor(INK)
    canvas.setLineJoin(1)
    canvas.rect(x, y - radius * 0.92, width, 2 * radius * 0.92, stroke=1, fill=0)
    words_at(canvas, x + width / 2, y - size * 0.33, mark, font=SEMIBOLD, size=size, to=1)
    return width


def tick_box(canvas: Any, x: float, y: float, side: float = 4.2 * MM) -> None:
    """Draw an empty box to tick, its low left corner at (x, y)."""
    canvas.setLineWidth(RING)
    canvas.setStrokeColor(INK)
    canvas.setLineJoin(0)
    canvas.rect(x, y, side, side, stroke=1, fill=0)


def paragraph(text: str, style: Any, width: float) -> tuple[Any, float]:
    """Make a paragraph and give its height at a width; its first baseline is its type size below its top."""
    made = Paragraph(text, style)
    return made, made.wrap(width, 10_000)[1]


class PageHead(Block):
    """Eyebrow (plain words) and heading (paragraph markup) of a page that begins something."""

    HEIGHT_MM = 22.5

    def __init__(
        self,
        setting: Setting,
        eyebrow: str,
        heading: str,
        *,
        place: str = "",
        outline: tuple[str, int] | None = None,
        mark: str = "",
        more: Sequence[str] = (),
    ) -> None:
        self._setting, self._eyebrow, self._place, self._outline = setting, eyebrow, place, outline
        self._heading, self._mark, self._more = heading, mark, tuple(more)

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """Give the size; a heading of two lines takes more."""
        look = self._setting.look
        room = width - (16 * MM if self._mark else 0)
        self._made, tall = paragraph(self._heading, look.heading, room)
        self.width, self.height = width, self.HEIGHT_MM * MM + tall - look.heading.leading
        return self.width, self.height

    def paint(self, canvas: Any, x: float, y: float) -> None:
        """Draw."""
        top = y + self.height
        look = self._setting.look
        words_at(
            canvas,
            x,
            top - 5 * MM,
            self._setting.plain(self._eyebrow),
            font=SEMIBOLD,
            size=look.sizes.eyebrow,
            colour=SECONDARY,
        )
        self._made.drawOn(canvas, x - 0.4 * MM, top - 15 * MM + look.sizes.heading - self._made.height)
        if self._mark:
            size = 22.0 if len(self._mark) < 3 else 16.0
            wide = ring_width(self._mark, 6 * MM, size)
            ring(canvas, x + self.width - wide, top - 11 * MM, self._mark, radius=6 * MM, size=size)
        for place in (self._place, *self._more):
            if place:
                self._setting.anchor(canvas, place, top + 5 * MM)
        if self._outline:
            title, level = self._outline
            canvas.addOutlineEntry(title, self._place, level, closed=level == 0)


class Eyebrow(Block):
    """The small line at the head of a page that goes on with something."""

    def __init__(self, setting: Setting, text: str) -> None:
        self._setting, self._text = setting, text

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """Give the size."""
        self.width, self.height = width, 8 * MM
        return self.width, self.height

    def paint(self, canvas: Any, x: float, y: float) -> None:
        """Draw."""
        size = self._setting.look.sizes.eyebrow
        text = self._setting.plain(self._text)
        words_at(canvas, x, y + 3 * MM, text, font=SEMIBOLD, size=size, colour=SECONDARY)


class Picture(Block):
    """A drawing, in the middle of its width, with a caption of its own under it."""

    def __init__(self, setting: Setting, drawing: Drawing, caption: str = "", *, before: float = 0.0) -> None:
        self._setting, self._drawing, self._caption = setting, drawing, caption
        self.spaceBefore = before

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """Give the size."""
        self.width = width
        self._tall = self._drawing.height * MM
        under = 0.0
        if self._caption:
            self._made, under = paragraph(self._caption, self._setting.look.small, width)
            under += 2 * MM
        self.height = self._tall + under
        return self.width, self.height

    def paint(self, canvas: Any, x: float, y: float) -> None:
        """Draw."""
        left = x + (self.width - self._drawing.width * MM) / 2
        if self._setting.final:
            paint(self._drawing, canvas, left, y + self.height - self._tall, self._setting.places)
        self._setting.see_drawing(canvas, self._drawing)
        if self._caption:
            self._made.drawOn(canvas, x, y)
        if self._drawing.width * MM > self.width + 0.5:
            self._setting.defect(
                "outside", canvas.getPageNumber(), f"{self._drawing.title or 'a drawing'} is too wide"
            )


class Facts(Block):
    """A row of facts on the four stops of the grid: a small label over what it is."""

    def __init__(
        self, look: Look, facts: Sequence[tuple[str, str]], *, ruled: bool = True, big: bool = False
    ) -> None:
        self._look, self._facts, self._ruled, self._big = look, tuple(facts), ruled, big
        self.spaceBefore, self.spaceAfter = 3 * MM, 4 * MM

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """Give the size: as many rows of four as are needed."""
        look = self._look
        value = look.style("fact", 13, 16.5, weight=SEMIBOLD)
        room = look.page.span(3)
        self._rows = []
        for index in range(0, len(self._facts), 4):
            cells = []
            for label, text in self._facts[index : index + 4]:
                cells.append((paragraph(label, look.small, room), paragraph(text, value, room)))
            self._rows.append(cells)
        self._talls = [max(one[1] + two[1] for one, two in cells) + 1 * MM for cells in self._rows]
        self.width, self.height = width, sum(self._talls) + 3.5 * MM * (len(self._talls) - 1) + 4 * MM
        return self.width, self.height

    def paint(self, canvas: Any, x: float, y: float) -> None:
        """Draw."""
        top = y + self.height
        if self._ruled:
            rule(canvas, x, top, self.width)
        top -= 3.2 * MM
        for cells, tall in zip(self._rows, self._talls, strict=True):
            for index, ((label, high), (value, deep)) in enumerate(cells):
                left = x + self._look.page.column(3 * index)
                label.drawOn(canvas, left, top - high)
                value.drawOn(canvas, left, top - high - deep - 0.6 * MM)
            top -= tall + 3.5 * MM


class BigFigures(Block):
    """Up to four big numbers with their units, each with a line of what it means."""

    def __init__(self, look: Look, figures: Sequence[tuple[str, str, str]]) -> None:
        self._look, self._figures = look, tuple(figures[:4])
        self.spaceBefore, self.spaceAfter = 5 * MM, 5 * MM

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """Give the size."""
        room = self._look.page.span(3)
        self._made = [paragraph(line, self._look.small, room) for _, _, line in self._figures]
        self.width, self.height = width, 20 * MM + max((tall for _, tall in self._made), default=0.0)
        return self.width, self.height

    def paint(self, canvas: Any, x: float, y: float) -> None:
        """Draw."""
        top = y + self.height
        rule(canvas, x, top, self.width)
        size = self._look.sizes.big
        room = self._look.page.span(3)
        for index, (number, unit, _) in enumerate(self._figures):
            left = x + self._look.page.column(3 * index)
            need = (
                text_width(number, 1.0, Weight.SEMIBOLD, large=False),
                text_width(unit, 1.0, Weight.SEMIBOLD),
            )
            own = min(size, (room - need[1] * 13 - 2 * MM) / max(need[0], 0.1))
            words_at(canvas, left - 0.5 * MM, top - 14.5 * MM, number, font=SEMIBOLD, size=own)
            words_at(canvas, left + need[0] * own + 1.6 * MM, top - 14.5 * MM, unit, font=SEMIBOLD, size=13)
            made, tall = self._made[index]
            made.drawOn(canvas, left, top - 18 * MM - tall)


class Place(Block):
    """Nothing to see: a named place, a line of the outline, and the chapter that begins here."""

    def __init__(self, setting: Setting, place: str, *, outline: tuple[str, int] | None = None) -> None:
        self._setting, self._place, self._outline = setting, place, outline

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """Give the size: none."""
        self.width, self.height = width, 0.0
        return width, 0.0

    def paint(self, canvas: Any, x: float, y: float) -> None:
        """Name the place."""
        self._setting.anchor(canvas, self._place, y + 5 * MM)
        if self._outline:
            canvas.addOutlineEntry(self._outline[0], self._place, self._outline[1], closed=True)


class Composed(Block):
    """Blocks at fixed places of one box: (block, from the left, from the top, width), all measured."""

    def __init__(self, tall: float, parts: Sequence[tuple[Any, float, float, float]]) -> None:
        self.height, self._parts = tall, tuple(parts)

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """Give the size: as tall as it was composed."""
        self.width = width
        return width, self.height

    def paint(self, canvas: Any, x: float, y: float) -> None:
        """Draw each block at its place."""
        for block, left, down, width in self._parts:
            _, tall = block.wrap(width, 10_000)
            block.drawOn(canvas, x + left, y + self.height - down - tall)


class Gap(Block):
    """White space that vanishes at the top of a page."""

    def __init__(self, tall: float) -> None:
        self.height, self.width, self.spaceBefore = 0.0, 0.0, tall

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """Give the size: none but the space before."""
        return 0.0, 0.0

    def paint(self, canvas: Any, x: float, y: float) -> None:
        """Draw nothing."""


class NoteLines(Block):
    """Ruled lines to write on, to the foot of the page."""

    def __init__(self, number: int, pitch: float = 9 * MM) -> None:
        self._number, self._pitch = number, pitch

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """Give the size: no more lines than there is room."""
        self._number = max(1, min(self._number, int(height / self._pitch)))
        self.width, self.height = width, self._number * self._pitch
        return self.width, self.height

    def paint(self, canvas: Any, x: float, y: float) -> None:
        """Draw."""
        for index in range(self._number):
            rule(canvas, x, y + index * self._pitch, self.width, HAIR_RULE)

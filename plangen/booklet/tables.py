"""Tables of the house: a strong rule under the heads, a hairline under every row, and nothing else.

Sizes hang on their whole number: whole parts end at one axis down the column and fractions start
there, as on a tape. Words wrap; a column is never narrower than its longest word; when the words do
not fit, the type steps down twice, and what still does not fit is a defect that the tests see.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any, Literal

from plangen.booklet.blocks import (
    Block,
    breadth,
    paragraph,
    ring,
    ring_width,
    rule,
    square,
    tick_box,
    words_at,
)
from plangen.booklet.setting import Setting
from plangen.booklet.style import HAIR_RULE, MM, REGULAR, SECONDARY, SEMIBOLD
from plangen.drawing.sheet.lettering import READ_BACK

Kind = Literal["words", "number", "size", "ring", "square", "mark", "box", "blank"]

NO_BOX = "\x01"  # in a column of boxes, where there is nothing to tick
SQUARE = "\x00"  # before a hardware number in a column that holds both kinds of mark

_GAP = 4 * MM
_STEPS = (1.0, 0.92, 0.84)
_WHOLE_END = {chr(point) for point, sign in READ_BACK.items() if sign in " 0123456789/"}


@dataclass(frozen=True, slots=True)
class Column:
    """A column: its head, what it holds, and for words its share of the width that is free."""

    head: str
    kind: Kind = "words"
    share: float = 1.0
    right: bool = False  # words that end at the right


@dataclass(frozen=True, slots=True)
class Cell:
    """What stands in a column: paragraph markup for words, plain text else; ``place`` is where it leads."""

    text: str = ""
    place: str = ""


@dataclass(frozen=True, slots=True)
class Row:
    """One row; ``under`` is a second line across it, ``anchors`` are places that begin here."""

    cells: tuple[Cell, ...]
    under: str = ""
    anchors: tuple[str, ...] = ()
    strong: bool = False


@dataclass(frozen=True, slots=True)
class TableLook:
    """Row height in points, and sizes of what is in the rows."""

    row: float = 9 * MM
    figure: float | None = None
    heads: bool = True
    title: str = ""  # a block head in place of the column heads
    lower: bool = False  # the rows are low already, in a chapter that would run over by a few lines


FIRST_HEAD, LATER_HEAD = 22.0, 14.0  # mm of a page: the head of a chapter, and of a continued page
LOWER = 0.86  # of a row's height, that it has in a chapter that would run over by a few lines
LEAST_LAST = 0.25  # of its last page a table should fill


def evenest(tables: Sequence[LineTable]) -> LineTable:
    """Choose the first of some settings of a table that leaves no page nearly empty, else the first."""
    return next((table for table in tables if not table.leaves_a_page_empty()), tables[0])


class LineTable(Block):
    """A table that may run over pages; its heads stand again on each, and its last words stay with it."""

    def __init__(
        self,
        setting: Setting,
        columns: Sequence[Column],
        rows: Sequence[Row],
        *,
        look: TableLook | None = None,
        foot: str = "",
        first: int = 0,
    ) -> None:
        self._setting, self._columns, self._rows = setting, tuple(columns), tuple(rows)
        self._table, self._foot, self._first = look or TableLook(), foot, first
        if setting.setting in setting.tight and not self._table.lower:
            self._table = replace(self._table, row=LOWER * self._table.row, lower=True)
        self.spaceBefore, self.spaceAfter = 1 * MM, 4 * MM

    # measuring

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """Give the size at a width."""
        self.width = width
        self._overfull = ""
        for step in _STEPS:
            self._size = self._setting.look.sizes.body * step
            self._figure = (self._table.figure or self._setting.look.sizes.body) * step
            self._widths = self._fit(width)
            if self._widths is not None:
                break
        else:
            self._overfull = ", ".join(column.head for column in self._columns if column.head)
            self._widths = self._squeezed(width)
        leading = self._size * 1.35
        self._style = self._setting.look.style("cell", self._size, leading)
        self._right = self._setting.look.style("cell right", self._size, leading, right=True)
        self._laid = [self._lay(row) for row in self._rows]
        self._head = 6.6 * MM if self._table.heads else 0.0
        self._end = 0.0
        if self._foot:
            self._foot_made, tall = paragraph(self._foot, self._setting.look.cell, width)
            self._end = tall + 3.4 * MM
        self.height = self._head + sum(tall for tall, _, _ in self._laid) + self._end
        return self.width, self.height

    def leaves_a_page_empty(self) -> bool:
        """Tell whether the table, alone in its chapter, runs over onto a page that it hardly fills."""
        page = self._setting.look.page
        self.wrap(page.measure, page.depth)
        rows = [tall for tall, _, _ in self._laid]
        room, used, pages = page.depth - FIRST_HEAD * MM - self._head, 0.0, 1
        for number, tall in enumerate(rows):
            if used + tall + (self._end if number == len(rows) - 1 else 0.0) > room:
                room, used, pages = page.depth - LATER_HEAD * MM - self._head, 0.0, pages + 1
            used += tall
        return pages > 1 and used + self._end + self._head < LEAST_LAST * room

    def _fit(self, width: float) -> list[float] | None:
        """Widths of all columns, or None when the words cannot be held."""
        own = [self._natural(index) for index in range(len(self._columns))]
        free = [index for index, column in enumerate(self._columns) if column.kind == "words"]
        room = width - _GAP * (len(own) - 1) - sum(own[i][1] for i in range(len(own)) if i not in free)
        least = sum(own[index][0] for index in free)
        if room < least - 0.01 or (not free and room < -0.01):
            return None
        widths = [natural for _, natural in own]
        spare = room - least
        wanted = {index: max(own[index][1] - own[index][0], 0.0) for index in free}
        total = sum(wanted.values())
        if total <= spare:  # all words on one line: what is left goes by shares
            rest = (spare - total) / (sum(self._columns[index].share for index in free) or 1)
            for index in free:
                widths[index] = own[index][1] + rest * self._columns[index].share
        else:  # small wishes are met in full, the large ones share what is left
            waiting = sorted(free, key=lambda index: (wanted[index], index))
            while waiting:
                index = waiting.pop(0)
                given = min(wanted[index], spare / (len(waiting) + 1))
                widths[index] = own[index][0] + given
                spare -= given
        return widths

    def _squeezed(self, width: float) -> list[float]:
        own = [max(self._natural(index)) for index in range(len(self._columns))]
        room = width - _GAP * (len(own) - 1)
        return [one * room / sum(own) for one in own]

    def _natural(self, index: int) -> tuple[float, float]:
        """Least and natural width of a column."""
        column = self._columns[index]
        head = breadth(column.head, SEMIBOLD, self._setting.look.sizes.small)
        texts = [row.cells[index].text for row in self._rows if row.cells[index].text]
        if column.kind == "words":
            least = natural = head
            style = self._setting.look.style("measure", self._size, self._size * 1.35)
            for text in texts:
                made, _ = paragraph(text, style, 10_000)
                least = max(least, made.minWidth())
                natural = max(natural, max(made.getActualLineWidths0(), default=0.0))
            return least + 0.2, natural + 0.6
        if column.kind in ("ring", "square", "mark"):
            wide = max((ring_width(text, 2.8 * MM, 10.5) for text in texts), default=5.6 * MM)
            return wide, max(wide, head)
        if column.kind == "box":
            return 5 * MM, 5 * MM
        if column.kind == "size":
            texts = [line for text in texts for line in text.split("\n")]
            left = max((breadth(_parts(text)[0], REGULAR, self._figure) for text in texts), default=0.0)
            both = max((breadth(_parts(text)[1], REGULAR, self._figure) for text in texts), default=0.0)
            wide = max(left + max(both, head / 2), head / 2 + both, head)
            return wide, wide + 2 * MM
        wide = max([head, *(breadth(text, REGULAR, self._size) for text in texts)])
        return wide, wide

    def _lay(self, row: Row) -> tuple[float, list[tuple[Any, float] | None], tuple[Any, float] | None]:
        assert self._widths is not None
        made: list[tuple[Any, float] | None] = []
        extra = 0.0
        for column, cell, width in zip(self._columns, row.cells, self._widths, strict=True):
            if column.kind == "words" and cell.text:
                text = self._setting.link(cell.text, cell.place) if cell.place else cell.text
                one = paragraph(text, self._right if column.right else self._style, width)
                made.append(one)
                extra = max(extra, one[1] - self._style.leading)
            else:
                made.append(None)
        if any("\n" in cell.text for cell in row.cells):
            extra = max(extra, self._figure * 1.25)
        under = None
        if row.under:
            under = paragraph(row.under, self._style, self.width - self._indent())
            extra += under[1] + 1.2 * MM
        return self._table.row + extra, made, under

    def _indent(self) -> float:
        """Where words under a row begin: after the leading marks."""
        assert self._widths is not None
        left = 0.0
        for column, width in zip(self._columns, self._widths, strict=True):
            if column.kind not in ("ring", "square", "mark", "box"):
                break
            left += width + _GAP
        return left

    # breaking

    def split(self, width: float, height: float) -> list[Any]:
        """Break between rows; never one row alone on either side, never the last row from its words."""
        self.wrap(width, height)
        if height >= self.height:
            return [self]
        used, fits = self._head, 0
        for tall, _, _ in self._laid:
            if used + tall > height:
                break
            used += tall
            fits += 1
        count = len(self._rows)
        if fits == count:
            fits -= 1
        if count - fits == 1:
            fits -= 1
        if fits < 2:
            return []
        return [self._piece(0, fits, ""), self._piece(fits, count, self._foot)]

    def _piece(self, low: int, high: int, foot: str) -> LineTable:
        return LineTable(
            self._setting,
            self._columns,
            self._rows[low:high],
            look=self._table,
            foot=foot,
            first=self._first + low,
        )

    # drawing

    def paint(self, canvas: Any, x: float, y: float) -> None:
        """Draw."""
        assert self._widths is not None
        top = y + self.height
        lefts, left = [], x
        for width in self._widths:
            lefts.append(left)
            left += width + _GAP
        if self._overfull:
            self._setting.defect("overfull", canvas.getPageNumber(), f"table with {self._overfull}")
        if self._table.title:
            size = self._setting.look.sizes.block
            words_at(canvas, x, top - 4.3 * MM, self._table.title, font=SEMIBOLD, size=size)
            rule(canvas, x, top - self._head, self.width)
        elif self._table.heads:
            self._heads(canvas, lefts, top - self._head + 2.3 * MM)
            rule(canvas, x, top - self._head, self.width)
        top -= self._head
        for row, (tall, made, under) in zip(self._rows, self._laid, strict=True):
            for place in row.anchors:
                self._setting.anchor(canvas, place, top + 2 * MM)
            base = top - self._table.row / 2 - max(self._size, self._figure) * 0.33
            for index, cell in enumerate(row.cells):
                self._cell(canvas, index, cell, made[index], lefts[index], base, row)
            if under:
                under[0].drawOn(canvas, x + self._indent(), top - tall + 1.6 * MM)
            top -= tall
            rule(canvas, x, top, self.width, HAIR_RULE)
        if self._foot:
            self._foot_made.drawOn(canvas, x, y)

    def _heads(self, canvas: Any, lefts: list[float], base: float) -> None:
        assert self._widths is not None
        size = self._setting.look.sizes.small
        for index, (column, left, width) in enumerate(zip(self._columns, lefts, self._widths, strict=True)):
            if not column.head:
                continue
            if column.kind == "size":
                words_at(
                    canvas,
                    self._axis(index, left),
                    base,
                    column.head,
                    font=SEMIBOLD,
                    size=size,
                    colour=SECONDARY,
                    to=1,
                )
            elif column.kind == "number" or column.right:
                words_at(
                    canvas, left + width, base, column.head, font=SEMIBOLD, size=size, colour=SECONDARY, to=-1
                )
            else:
                words_at(canvas, left, base, column.head, font=SEMIBOLD, size=size, colour=SECONDARY)

    def _axis(self, index: int, left: float) -> float:
        """Where whole numbers of a column of sizes end."""
        texts = [line for row in self._rows for line in row.cells[index].text.split("\n")]
        head = breadth(self._columns[index].head, SEMIBOLD, self._setting.look.sizes.small) / 2
        whole = max((breadth(_parts(text)[0], REGULAR, self._figure) for text in texts), default=0.0)
        return left + max(head, whole)

    def _cell(
        self,
        canvas: Any,
        index: int,
        cell: Cell,
        made: tuple[Any, float] | None,
        left: float,
        base: float,
        row: Row,
    ) -> None:
        assert self._widths is not None
        column, width, setting = self._columns[index], self._widths[index], self._setting
        middle = base + max(self._size, self._figure) * 0.33
        if made:
            made[0].drawOn(canvas, left, base + self._size - made[1])
            return
        if column.kind == "box":
            if cell.text != NO_BOX:
                tick_box(canvas, left, middle - 2.1 * MM)
            return
        if not cell.text:
            return
        right = left + width
        if column.kind == "ring" or (column.kind == "mark" and not cell.text.startswith(SQUARE)):
            right = left + ring(
                canvas, left, middle, cell.text, radius=2.8 * MM, size=10.5, strong=row.strong
            )
            setting.mark(canvas, cell.text)
        elif column.kind in ("square", "mark"):
            right = left + square(
                canvas, left, middle, cell.text.removeprefix(SQUARE), radius=2.8 * MM, size=10.5
            )
        elif column.kind == "size":
            axis = self._axis(index, left)
            for line in cell.text.split("\n"):
                whole = breadth(_parts(line)[0], REGULAR, self._figure)
                words_at(canvas, axis - whole, base, line, size=self._figure)
                base -= self._figure * 1.25
        else:
            words_at(canvas, right, base, cell.text, size=self._size, to=-1)
            left = right - breadth(cell.text, REGULAR, self._size)
        if cell.place in setting.places:
            box = (left, middle - 2.8 * MM, right, middle + 2.8 * MM)
            canvas.linkRect("", cell.place, box, thickness=0, Border="[0 0 0]")


def _parts(text: str) -> tuple[str, str]:
    """Split a printed size into what stands before the axis and what hangs after it."""
    for index, sign in enumerate(text):
        if sign in _WHOLE_END or sign == ".":
            return text[:index], text[index:]
    return text, ""

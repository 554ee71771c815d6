"""Two small pictures of lists: where the hours go, and the key of the marks."""

from __future__ import annotations

from typing import Any

from plangen.booklet.blocks import Block, breadth, ring, ring_width, rule, square
from plangen.booklet.numbers import short
from plangen.booklet.setting import Setting
from plangen.booklet.style import BAR, HAIR_RULE, MM, REGULAR
from plangen.drawing.fittings import uses
from plangen.drawing.nested import inside

_LEAST_FIT = 0.78  # of the size of type in the key


class HourBars(Block):
    """Where the hours go: a bar for each phase."""

    def __init__(self, setting: Setting) -> None:
        self._setting = setting
        self._rows = setting.book.design.project.hours
        self.spaceAfter = 4 * MM

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """Give the size."""
        self.width, self.height = width, 7.5 * MM * len(self._rows) + 1 * MM
        return self.width, self.height

    def paint(self, canvas: Any, x: float, y: float) -> None:
        """Draw."""
        setting, size = self._setting, self._setting.look.sizes.body
        most = max(hours for _, hours in self._rows)
        names = max(breadth(setting.plain(phase), REGULAR, size) for phase, _ in self._rows)
        start = x + max(names + 6 * MM, setting.look.page.column(3))
        room = min(setting.look.page.span(7), x + self.width - start - 14 * MM)
        top = y + self.height
        rule(canvas, x, top, self.width)
        for phase, hours in self._rows:
            base = top - 3.75 * MM - size * 0.33
            canvas.setFillColor(BAR)
            wide = float(hours / most) * room if most else 0.0
            canvas.rect(start, base - 0.3 * MM, wide, 3.4 * MM, stroke=0, fill=1)
            canvas.setFont(REGULAR, size)
            canvas.setFillGray(0)
            canvas.drawString(x, base, setting.plain(phase))
            canvas.drawString(start + wide + 2 * MM, base, short(hours, 2))
            top -= 7.5 * MM
            rule(canvas, x, top, self.width, HAIR_RULE)


class KeyGrid(Block):
    """The key of the marks in three columns: part letters, then hardware numbers.

    With the key of an assembly, what is in one copy of it, and how many of each.
    """

    ROW = 7.8 * MM

    def __init__(self, setting: Setting, assembly: str = "") -> None:
        self._setting = setting
        take_off = setting.book.take_off
        parts = {line.part: line.number for line in take_off.cut_list}
        items = {line.item: line.count for line in take_off.hardware}
        if assembly:
            one = inside(setting.book.design, assembly)
            parts = {part.key: len(part.copies) for part in one.parts}
            used = uses(one)
            items = {item: sum(use.number for use in used if use.item == item) for item in items}
        self._entries = [
            ("ring", line.mark, line.title, str(parts[line.part]), f"part:{line.part}")
            for line in take_off.cut_list
            if line.part in parts
        ]
        self._entries += [
            ("square", str(line.number_mark), line.title, str(items[line.item]), f"hardware:{line.item}")
            for line in take_off.hardware
            if items[line.item]
        ]
        self.spaceBefore, self.spaceAfter = 3 * MM, 4 * MM

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """Give the size: down three columns, as even as they get; down two where words are long."""
        span = self._setting.look.page.span
        self._columns = 3 if all(self._fit(entry, span(4)) >= _LEAST_FIT for entry in self._entries) else 2
        self._lines = -(-len(self._entries) // self._columns)
        self.width, self.height = width, self._lines * self.ROW + 0.5 * MM
        return self.width, self.height

    def _fit(self, entry: tuple[str, str, str, str, str], wide: float) -> float:
        """Give how much of its size the type of an entry has to be to fit into a column."""
        kind, mark, title, count, _ = entry
        size = self._setting.look.sizes.body
        own = ring_width(mark, 2.8 * MM, 10.5) if kind == "ring" else 0.0
        room = wide - max(own, 6 * MM) - 4 * MM - breadth(count, REGULAR, size) - 3 * MM
        return min(1.0, room / max(breadth(self._setting.plain(title), REGULAR, size), 1.0))

    def paint(self, canvas: Any, x: float, y: float) -> None:
        """Draw."""
        setting = self._setting
        page, size = setting.look.page, setting.look.sizes.body
        across = 12 // self._columns
        wide = page.span(across)
        for index, (kind, mark, title, count, place) in enumerate(self._entries):
            left = x + page.column(across * (index // self._lines))
            top = y + self.height - self.ROW * (index % self._lines)
            if index % self._lines == 0:
                rule(canvas, left, top, wide)
            middle = top - self.ROW / 2
            draw = ring if kind == "ring" else square
            used = max(draw(canvas, left, middle, mark, radius=2.8 * MM, size=10.5), 6 * MM)
            text = setting.plain(title)
            fit = self._fit((kind, mark, title, count, place), wide)
            if fit < _LEAST_FIT:
                setting.defect("overfull", canvas.getPageNumber(), f"'{title}' in the key of marks")
            canvas.setFillGray(0)
            canvas.setFont(REGULAR, size * fit)
            canvas.drawString(left + used + 3 * MM, middle - size * 0.33, text)
            canvas.setFont(REGULAR, size)
            canvas.drawRightString(left + wide, middle - size * 0.33, count)
            rule(canvas, left, top - self.ROW, wide, HAIR_RULE)
            if kind == "ring":
                setting.mark(canvas, mark)
            if place in setting.places:
                box = (left, top - self.ROW, left + wide, top)
                canvas.linkRect("", place, box, thickness=0, Border="[0 0 0]")

"""The cover: the piece on two thirds of the page, its name, one line, and the facts a buyer asks first."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from plangen.booklet.blocks import Block, Facts, breadth, paragraph, words_at
from plangen.booklet.setting import Setting
from plangen.booklet.style import MM, REGULAR, SEMIBOLD
from plangen.drawing.writers.pdf import paint


class Cover(Block):
    """A whole page; ``facts`` are label and value as paragraph markup."""

    def __init__(self, setting: Setting, facts: Sequence[tuple[str, str]]) -> None:
        self._setting, self._facts = setting, tuple(facts)

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """Give the size: the whole text block."""
        self.width, self.height = width, self._setting.look.page.depth - 0.5
        return self.width, self.height

    def paint(self, canvas: Any, x: float, y: float) -> None:
        """Draw, from the foot upward."""
        setting = self._setting
        look, project = setting.look, setting.book.design.project
        words_at(canvas, x, look.page.foot, setting.plain(project.maker), font=SEMIBOLD, size=10.5)
        edition = setting.words("cover edition", paper=setting.words(setting.book.paper), units=self._units())
        words_at(canvas, x + self.width, look.page.foot, setting.plain(edition), size=10.5, to=-1)
        facts = Facts(look, self._facts)
        _, tall = facts.wrap(self.width, 0)
        level = y + 8 * MM
        facts.drawOn(canvas, x, level)
        level += tall + 6 * MM
        if setting.book.settings:
            made = "; ".join(" = ".join(one.split("=", 1)) for one in setting.book.settings)
            words = setting.xml(setting.words("cover variant", settings=made))
            sizes = look.sizes
            line, deep = paragraph(words, look.style("variant", sizes.body, sizes.body_leading), self.width)
            line.drawOn(canvas, x, level)
            level += deep + 4 * MM
        line, deep = paragraph(setting.xml(project.line), look.style("line", look.sizes.line, 20), self.width)
        line.drawOn(canvas, x, level)
        level += deep + 5 * MM
        title = setting.plain(project.title)
        size = min(
            look.sizes.title, look.sizes.title * self.width / breadth(title, SEMIBOLD, look.sizes.title)
        )
        words_at(canvas, x - 0.8 * MM, level, title, font=SEMIBOLD, size=size)
        level += size * 0.75 + 6 * MM
        height = y + self.height - level
        drawing = setting.book.pictures.hero(self.width / MM, height / MM)
        if setting.final:
            left = x + (self.width - drawing.width * MM) / 2
            paint(drawing, canvas, left, level + (height - drawing.height * MM) / 2, setting.places)
        setting.see_drawing(canvas, drawing)

    def _units(self) -> str:
        system = self._setting.book.style.system
        return self._setting.words({"inch": "inches", "mm": "millimetres", "both": "both units"}[system])


__all__ = ["REGULAR", "Cover"]

"""Full-size patterns: each sheet is drawn for the whole paper and nothing scales it."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from plangen.booklet.blocks import Block
from plangen.booklet.setting import Setting
from plangen.booklet.style import MM
from plangen.drawing.part_sheets.pattern_proof import proof_page
from plangen.drawing.sheet.model import Drawing
from plangen.drawing.writers.pdf import paint


class PatternPage(Block):
    """One sheet of a pattern, in the middle of the paper at full size."""

    def __init__(self, setting: Setting, drawing: Drawing, place: str, title: str) -> None:
        self._setting, self._drawing, self._place, self._title = setting, drawing, place, title

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """Give the size: the whole text block."""
        self.width, self.height = width, self._setting.look.page.depth - 0.5
        return self.width, self.height

    def paint(self, canvas: Any, x: float, y: float) -> None:
        """Draw; a sheet that would leave the paper is a defect."""
        setting, page = self._setting, self._setting.look.page
        if self._place:
            setting.anchor(canvas, self._place, page.height)
            canvas.addOutlineEntry(self._title, self._place, 1, closed=False)
        wide, tall = self._drawing.width * MM, self._drawing.height * MM
        if wide > page.width + 0.5 or tall > page.height + 0.5:
            setting.defect(
                "outside",
                canvas.getPageNumber(),
                f"the pattern {self._drawing.title} is larger than the paper",
            )
        low = (page.height - tall) / 2
        clear = page.foot + 5 * MM  # of the running foot
        if low < clear and clear + tall <= page.height - 5 * MM:
            low = clear
        if setting.final:
            paint(self._drawing, canvas, (page.width - wide) / 2, low, setting.places)
        setting.see_drawing(canvas, self._drawing)


def pattern_pages(setting: Setting) -> list[Any]:
    """Give the pages of all patterns, after the test page that proves the printer."""
    story: list[Any] = []
    if setting.book.patterns:
        sheets = [sheet for _, drawings in setting.book.patterns for sheet in drawings]
        room = (max(sheet.width for sheet in sheets), max(sheet.height for sheet in sheets))
        proof = replace(proof_page(room), standard=setting.book.design.project.standard)
        story.append(PatternPage(setting, proof, "pattern test", proof.title))
    for key, drawings in setting.book.patterns:
        part = setting.book.design.part(key)
        title = setting.words("pattern title", mark=part.mark, title=part.title)
        for index, drawing in enumerate(drawings):
            story.append(PatternPage(setting, drawing, f"pattern:{key}" if index == 0 else "", title))
    return story

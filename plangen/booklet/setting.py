"""What one pass over a booklet knows and what it finds out.

Page numbers in lists and "page x of N" are only known when all is set, so a booklet is set until the
places stop moving. Each pass has a ``Setting``: it reads where things were in the last pass and notes
where they are in this one.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping
from dataclasses import dataclass, field
from typing import Any
from xml.sax.saxutils import escape

from plangen.booklet.model import Book, DefectKind, LayoutDefect
from plangen.booklet.style import MM, Look
from plangen.booklet.words import Words
from plangen.drawing.sheet.lettering import missing_glyphs, plain_text, set_fractions
from plangen.drawing.sheet.model import Drawing, Link, Text

_REFERENCE = re.compile(r"<[=\w][^<>\n]*>")  # a reference that nobody put a value for


@dataclass
class Setting:
    """One pass; ``places`` and ``total`` come from the pass before, the rest grows."""

    book: Book
    look: Look
    words: Words
    places: Mapping[str, int]
    total: int
    final: bool = False  # pictures are painted in any pass but the first, which can not be the last
    shrink: Mapping[str, float] = field(
        default_factory=dict
    )  # chapter title: what its pictures are scaled by
    tight: Collection[str] = ()  # titles of chapters whose lists are set in lower rows
    pictured: dict[str, tuple[float, float]] = field(
        default_factory=dict
    )  # chapter title: drawn, room; points
    setting: str = ""  # title of the chapter whose flowables are being made
    titles: tuple[tuple[str, str], ...] = ()  # chapter name and title, for the contents
    chapter: str = ""  # title of the chapter that is being laid on pages
    found: dict[str, int] = field(default_factory=dict)
    marks: dict[int, set[str]] = field(default_factory=dict)
    chapter_of: dict[int, str] = field(default_factory=dict)
    filled: dict[int, float] = field(default_factory=dict)
    steps: dict[int, list[int]] = field(default_factory=dict)
    defects: list[LayoutDefect] = field(default_factory=list)
    missing: dict[str, str] = field(default_factory=dict)  # sign: a text it stands in
    unresolved: dict[str, str] = field(default_factory=dict)  # reference: a text it stands in

    def xml(self, text: str) -> str:
        """Plain words as paragraph markup, fractions set."""
        for reference in _REFERENCE.findall(text):
            self.unresolved.setdefault(reference, text)
        self.note_signs(text)
        return escape(set_fractions(text, large=False))

    def plain(self, text: str) -> str:
        """Plain words for one line drawn as it is, fractions set."""
        self.note_signs(text)
        return set_fractions(text, large=False)

    def figures(self, text: str) -> str:
        """A size in a column, its fraction as large as on a drawing: it is read at arm's length."""
        self.note_signs(text)
        return set_fractions(text)

    def note_signs(self, text: str) -> None:
        """Remember signs that cannot be printed."""
        for sign in missing_glyphs(plain_text(text)):
            self.missing.setdefault(sign, text)

    def link(self, xml: str, place: str) -> str:
        """Let words lead to a place, if the booklet has it."""
        if place not in self.places:
            return xml
        return f'<a href="#{escape(place, {chr(34): "&quot;"})}">{xml}</a>'

    def page(self, place: str) -> str:
        """Page number of a place, a dash when the booklet does not have it."""
        return str(self.places[place]) if place in self.places else "–"

    def anchor(self, canvas: Any, place: str, y: float) -> None:
        """Name a place at a height of the present page."""
        canvas.bookmarkHorizontal(place, 0, y)
        self.found.setdefault(place, canvas.getPageNumber())

    def mark(self, canvas: Any, mark: str) -> None:
        """Note that a part's mark stands on the present page."""
        self.marks.setdefault(canvas.getPageNumber(), set()).add(mark)

    def see_drawing(self, canvas: Any, drawing: Drawing) -> None:
        """Note the marks on a drawing and the signs it needs."""
        by_key = {part.key: part.mark for part in self.book.design.parts}
        for mark in drawing.marks:
            if isinstance(mark, Link) and mark.target.startswith("part:"):
                key = mark.target.removeprefix("part:")
                if key in by_key:
                    self.mark(canvas, by_key[key])
            elif isinstance(mark, Text):
                self.note_signs(mark.text)

    def note_picture(self, drawing: Drawing, room: float) -> None:
        """Remember a picture that may be made smaller, and the millimetres it would have unshrunk."""
        drawn, offered = self.pictured.get(self.setting, (0.0, 0.0))
        self.pictured[self.setting] = (drawn + drawing.height * MM, offered + room * MM)

    def defect(self, kind: DefectKind, page: int, words: str) -> None:
        """Note something that does not look right."""
        self.defects.append(LayoutDefect(kind, page, words))

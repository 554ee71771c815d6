"""From a book to a file: set it until the page numbers stand still."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from functools import cached_property
from io import BytesIO

from plangen.booklet.context import template_data
from plangen.booklet.document import Document, story_of
from plangen.booklet.model import Book, Booklet, LayoutDefect, PageRecord, Pictures
from plangen.booklet.setting import Setting
from plangen.booklet.style import MM, look_of
from plangen.booklet.templates import Chapter, chapters
from plangen.booklet.words import Words, read_words
from plangen.design.model import Part
from plangen.drawing.sheet.model import Drawing
from plangen.findings import Finding, ProjectError
from plangen.sequence.model import Step
from plangen.takeoff.model import CuttingDiagram

MOST_PASSES = 10
MOST_SHRUNK, RUNS_OVER = 0.72, 0.34  # of a picture's height, of a page
SPARE = 6 * MM
LEAST_FILLED = 0.2


def build_booklet(book: Book) -> bytes:
    """Give the PDF of a book; the same book gives the same bytes.

    Raises ``ProjectError`` with findings when a template is at fault or a sign cannot be printed.
    """
    return set_booklet(book).pdf


def set_booklet(book: Book) -> Booklet:
    """Give the PDF of a book with a record of its pages and of what is wrong with their layout."""
    words = read_words(_template(book, "words.toml"))
    book = replace(book, pictures=_Kept(book.pictures))
    made = chapters(book.templates, book.edition, template_data(book, words), words)
    if not made:
        raise ProjectError(
            [Finding("empty-booklet", f"chapters.toml has no chapter for the edition '{book.edition}'", None)]
        )
    shrink: dict[str, float] = {}
    tight: list[str] = []
    setting, write = _pass(book, words, made, None, shrink, tight)
    _refuse_what_cannot_print(setting)
    _shrink_more(setting, made, shrink)
    _tighten(setting, made, tight)
    settled = False
    for _ in range(MOST_PASSES):
        last = setting
        setting, write = _pass(book, words, made, last, shrink, tight)
        settled = setting.found == last.found and len(setting.filled) == len(last.filled)
        if settled and not (_shrink_more(setting, made, shrink) or _tighten(setting, made, tight)):
            break
    _refuse_what_cannot_print(setting)
    defects = list(setting.defects)
    if not settled:
        defects.append(LayoutDefect("unfinished", 0, "the page numbers do not come to rest"))
    pages = _records(setting)
    return Booklet(write(), pages, (*defects, *_near_empty(pages, made)), dict(setting.found))


def layout_defects(book: Book) -> tuple[LayoutDefect, ...]:
    """Give what a typesetter would not let pass: overfull tables, near-empty pages, stranded headings."""
    return set_booklet(book).defects


def _template(book: Book, name: str) -> str:
    if name not in book.templates:
        raise ProjectError(
            [Finding("template-fault", f"{name} is not among the templates", None, "copy the supplied one")]
        )
    return book.templates[name]


def _pass(
    book: Book,
    words: Words,
    made: tuple[Chapter, ...],
    before: Setting | None,
    shrink: Mapping[str, float],
    tight: Sequence[str],
) -> tuple[Setting, Callable[[], bytes]]:
    """Set the book once; the file is only written out when it is asked for."""
    setting = Setting(
        book,
        look_of(book.paper, book.edition),
        words,
        places=before.found if before else {},
        total=len(before.filled) if before else 0,
        final=before is not None,
        shrink=shrink,
        tight=tuple(tight),
        titles=tuple((chapter.name, chapter.title) for chapter in made if not chapter.unlisted),
    )
    target = BytesIO()
    document = Document(target, setting)
    document._firstPageTemplateIndex = 0 if made[0].name == "cover" else 1
    document._doSave = 0
    document.build(story_of(setting, made))

    def written() -> bytes:
        document.canv.save()
        return target.getvalue()

    return setting, written


def _shrink_more(setting: Setting, made: tuple[Chapter, ...], shrink: dict[str, float]) -> bool:
    """Where a chapter runs over by a few lines, make its pictures so much smaller; say whether any was."""
    again = False
    for title in (chapter.title for chapter in made if not chapter.plain):
        pages = sorted(page for page, chapter in setting.chapter_of.items() if chapter == title)
        drawn, room = setting.pictured.get(title, (0.0, 0.0))
        if len(pages) < 2 or not room or setting.filled[pages[-1]] > RUNS_OVER:
            continue
        left = 1.0 - setting.filled[pages[-2]]  # what the page before could still hold
        over = (setting.filled[pages[-1]] - left) * setting.look.page.depth + SPARE
        factor = round((drawn - over) / room, 6)  # a picture may be lower than its room
        if factor >= MOST_SHRUNK:
            shrink[title] = factor
            again = True
    return again


def _tighten(setting: Setting, made: tuple[Chapter, ...], tight: list[str]) -> bool:
    """Where a chapter of lists runs over by a few lines, set them in lower rows; say whether any was."""
    again = False
    for title in (chapter.title for chapter in made if not chapter.plain):
        pages = [page for page, chapter in setting.chapter_of.items() if chapter == title]
        ends_early = len(pages) > 1 and setting.filled[max(pages)] < LEAST_FILLED
        if ends_early and title not in setting.pictured and title not in tight:
            tight.append(title)
            again = True
    return again


def _records(setting: Setting) -> tuple[PageRecord, ...]:
    begun: dict[int, list[int]] = {}
    for place, page in setting.found.items():
        if place.startswith("step:"):
            begun.setdefault(page, []).append(int(place.removeprefix("step:")))
    return tuple(
        PageRecord(
            number=page,
            label=str(page),
            chapter=setting.chapter_of.get(page, ""),
            marks=tuple(sorted(setting.marks.get(page, ()))),
            steps=tuple(sorted(begun.get(page, ()))),
            filled=round(filled, 3),
        )
        for page, filled in sorted(setting.filled.items())
    )


def _near_empty(pages: Sequence[PageRecord], made: tuple[Chapter, ...]) -> list[LayoutDefect]:
    """Find pages with next to nothing on them; a chapter that is one short page may be one."""
    alone = {
        title for title in (chapter.title for chapter in made) if sum(p.chapter == title for p in pages) == 1
    }
    return [
        LayoutDefect("near-empty", page.number, f"{round(page.filled * 100)} % of '{page.chapter}' is filled")
        for page in pages
        if page.filled < LEAST_FILLED and page.chapter not in alone
    ]


def _refuse_what_cannot_print(setting: Setting) -> None:
    findings = [
        Finding(
            "missing-sign",
            f"the typeface has no '{sign}' (U+{ord(sign):04X}), seen in “{text[:60]}”",
            None,
            "write it with letters",
        )
        for sign, text in sorted(setting.missing.items())
    ]
    findings += [
        Finding(
            "unresolved-reference",
            f"`{reference}` would be printed as it stands, in “{text[:60]}”",
            None,
            "it must be the name of a size or of a part's field, and no arithmetic",
        )
        for reference, text in sorted(setting.unresolved.items())
    ]
    if findings:
        raise ProjectError(findings)


class _Kept:
    """Draws each picture once over all passes."""

    def __init__(self, pictures: Pictures) -> None:
        self._pictures = pictures
        self._drawn: dict[tuple[object, ...], Drawing] = {}

    def _once(self, key: tuple[object, ...], draw: Callable[[], Drawing]) -> Drawing:
        if key not in self._drawn:
            self._drawn[key] = draw()
        return self._drawn[key]

    def hero(self, width: float, height: float) -> Drawing:
        return self._once(("hero", width, height), lambda: self._pictures.hero(width, height))

    def views(self, width: float, height: float) -> Drawing:
        return self._once(("views", width, height), lambda: self._pictures.views(width, height))

    def exploded(self, width: float, height: float) -> Drawing:
        return self._once(("exploded", width, height), lambda: self._pictures.exploded(width, height))

    def assembly(self, key: str, width: float, height: float) -> Drawing:
        kept = ("assembly", key, width, height)
        return self._once(kept, lambda: self._pictures.assembly(key, width, height))

    def position(self, name: str, width: float, height: float) -> Drawing:
        kept = ("position", name, width, height)
        return self._once(kept, lambda: self._pictures.position(name, width, height))

    def section(self, letter: str, width: float, height: float) -> Drawing:
        kept = ("section", letter, width, height)
        return self._once(kept, lambda: self._pictures.section(letter, width, height))

    @cached_property
    def _rows(self) -> dict[tuple[float, float], tuple[Drawing, ...]]:
        return {}

    def hardware(self, width: float, height: float) -> tuple[Drawing, ...]:
        if (width, height) not in self._rows:
            self._rows[width, height] = self._pictures.hardware(width, height)
        return self._rows[width, height]

    def step(self, step: Step, width: float, height: float) -> Drawing:
        key = ("step", step.number, width, height)
        return self._once(key, lambda: self._pictures.step(step, width, height))

    def part_sheet(self, part: Part, width: float, height: float) -> Drawing:
        key = ("part", part.key, width, height)
        return self._once(key, lambda: self._pictures.part_sheet(part, width, height))

    def cutting(self, diagrams: Sequence[CuttingDiagram], width: float, height: float) -> Drawing:
        names = tuple((one.stock, one.number) for one in diagrams)
        return self._once(
            ("cutting", *names, width, height), lambda: self._pictures.cutting(diagrams, width, height)
        )

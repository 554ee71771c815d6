"""The document: page templates, running foot, outline, page labels, what a pass finds out."""

from __future__ import annotations

from datetime import date
from io import BytesIO
from typing import Any

from reportlab.platypus import BaseDocTemplate, Flowable, Frame, NextPageTemplate, PageBreak, PageTemplate

from plangen.booklet.blocks import Gap, PageHead, Place, breadth, words_at
from plangen.booklet.directives import DIRECTIVES
from plangen.booklet.keeping import keep_checks, keep_heads
from plangen.booklet.markdown import flowables, inline
from plangen.booklet.setting import Setting
from plangen.booklet.style import MM, REGULAR, SECONDARY, SEMIBOLD
from plangen.booklet.templates import Chapter

CONTINUED_MM = 14.0  # what the head of a continued page takes
_HEADS = ("section", "block")


class Document(BaseDocTemplate):  # type: ignore[misc]
    """One pass over the booklet."""

    def __init__(self, target: BytesIO, setting: Setting) -> None:
        page = setting.look.page
        project = setting.book.design.project
        revision = setting.words("revision word", revision=project.revision)
        super().__init__(
            target,
            pagesize=(page.width, page.height),
            initialFontName=REGULAR,
            initialFontSize=10,
            invariant=1,
            title=f"{project.title}, {project.code}, {revision}",
            author=project.maker,
            subject=project.line,
            keywords=project.code,
            creator="plangen",
            producer="plangen",
            allowSplitting=1,
            displayDocTitle=1,
            lang="en",
        )
        self._setting = setting
        self._last: Any = None
        self._fresh = True
        whole = self._frame(0.0)
        later = self._frame(CONTINUED_MM * MM)
        self.addPageTemplates(
            [
                PageTemplate("plain", [whole], onPageEnd=self._end_plain),
                PageTemplate("first", [self._frame(0.0)], onPageEnd=self._end),
                PageTemplate("later", [later], onPage=self._continued, onPageEnd=self._end),
            ]
        )

    def _frame(self, down: float) -> Any:
        page = self._setting.look.page
        return Frame(
            page.left,
            page.bottom,
            page.measure,
            page.depth - down,
            leftPadding=0,
            rightPadding=0,
            topPadding=0,
            bottomPadding=0,
        )

    def beforeDocument(self) -> None:  # noqa: N802
        """Set the date of the file to that of the revision, never to the clock's."""
        day = self._setting.book.design.project.revised or date(2000, 1, 1)
        self.canv._doc._timeStamp.YMDhms = (day.year, day.month, day.day, 0, 0, 0)
        self.canv.addPageLabel(0, "ARABIC", 1)
        self.canv.showOutline()

    def afterFlowable(self, flowable: Any) -> None:  # noqa: N802
        """Remember what stands last on the page."""
        if not isinstance(flowable, Gap | Place | ChapterStart):
            self._last = flowable
        page = self.canv.getPageNumber()
        if isinstance(flowable, ChapterStart):
            self._setting.chapter = flowable.title
            self._setting.chapter_of.setdefault(page, flowable.title)

    def afterPage(self) -> None:  # noqa: N802
        """Note how full the page is and whether a heading was left at its foot."""
        setting, page = self._setting, self.canv.getPageNumber()
        setting.chapter_of.setdefault(page, setting.chapter)
        frame = self.frame
        used = frame._y2 - max(frame._y, frame._y1p)
        setting.filled[page] = min(1.0, used / (frame._y2 - frame._y1p))
        last, self._last = self._last, None
        style = getattr(getattr(last, "style", None), "name", "")
        if style in _HEADS:
            setting.defect("stranded-heading", page, last.getPlainText())

    def _continued(self, canvas: Any, document: Any) -> None:
        setting, page = self._setting, self._setting.look.page
        text = setting.words("continued", chapter=setting.chapter)
        canvas.saveState()
        words_at(
            canvas,
            page.left,
            page.top - 5 * MM,
            setting.plain(text),
            font=SEMIBOLD,
            size=10.5,
            colour=SECONDARY,
        )
        canvas.restoreState()

    def _end_plain(self, canvas: Any, document: Any) -> None:
        """Leave the foot to the page itself."""

    def _end(self, canvas: Any, document: Any) -> None:
        """Set the running foot; a long title gives way with an ellipsis, the revision never."""
        setting, page, words = self._setting, self._setting.look.page, self._setting.words
        project = setting.book.design.project
        size, air = 9.0, 5 * MM
        when = words.day(project.revised)
        named = {"code": project.code, "revision": project.revision}
        edition = setting.plain(words("foot", date=when, **named) if when else words("foot undated", **named))
        units = setting.plain(words(f"all sizes {setting.book.style.system}"))
        number = words("page of", page=canvas.getPageNumber(), total=setting.total or canvas.getPageNumber())
        wide = breadth(units, REGULAR, size)
        last = page.right - breadth(number, SEMIBOLD, size) - air
        title = setting.plain(project.title)
        room = last - page.left - wide - breadth(edition, REGULAR, size) - 2 * air
        if project.maker and setting.book.edition != "binder":  # the owner, where the line has room
            owned = setting.plain(words("foot maker", edition=edition, maker=project.maker))
            more = breadth(owned, REGULAR, size) - breadth(edition, REGULAR, size)
            if breadth(title, SEMIBOLD, size) + more <= room:
                edition, room = owned, room - more
        while len(title) > 8 and breadth(title, SEMIBOLD, size) > room:
            title = title.rstrip("…")[:-1].rstrip() + "…"
        canvas.saveState()
        words_at(canvas, page.left, page.foot, title, font=SEMIBOLD, size=size, colour=SECONDARY)
        start = page.left + breadth(title, SEMIBOLD, size) + air
        words_at(canvas, start, page.foot, edition, size=size, colour=SECONDARY)
        at = max((page.left + page.right - wide) / 2, start + breadth(edition, REGULAR, size) + air)
        if at + wide > last + 0.5:
            setting.defect("overfull", canvas.getPageNumber(), "the running foot")
        words_at(canvas, at, page.foot, units, size=size, colour=SECONDARY)
        words_at(canvas, page.right, page.foot, number, font=SEMIBOLD, size=size, to=-1)
        canvas.restoreState()


class ChapterStart(Flowable):  # type: ignore[misc]
    """Nothing to see: says that a chapter begins."""

    def __init__(self, title: str) -> None:
        super().__init__()
        self.title = title
        self.width = self.height = 0.0

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """Give the size: none."""
        return 0.0, 0.0

    def draw(self) -> None:
        """Draw nothing."""


def story_of(setting: Setting, chapters: tuple[Chapter, ...]) -> list[Any]:
    """Give the flowables of all chapters in order, each from a new page on."""
    story: list[Any] = []
    for chapter in chapters:
        plain = chapter.name == "cover"
        first = "plain" if plain else "first"
        story += [NextPageTemplate(first), PageBreak()] if story else []
        place = f"chapter:{chapter.name}"
        setting.setting = chapter.title
        story.append(ChapterStart(chapter.title))
        text = chapter.text
        if chapter.plain:
            story.append(Place(setting, place, outline=(chapter.title, 0)))
            story.append(NextPageTemplate("first"))
        else:
            heading, text = _head(text, chapter.title)
            resolved = inline(setting, setting.book.resolve(heading))
            story.append(PageHead(setting, chapter.title, resolved, place=place, outline=(chapter.title, 0)))
            story += [NextPageTemplate("later"), Gap(5 * MM)]
        made = flowables(setting, setting.book.resolve(text), DIRECTIVES)
        story += keep_heads(setting, keep_checks(setting, made))
    return story


def _head(text: str, title: str) -> tuple[str, str]:
    """Take the first heading off a chapter's text; without one the chapter's title stands in."""
    lines = text.strip().splitlines()
    if lines and lines[0].startswith("# "):
        return lines[0].removeprefix("# ").strip(), "\n".join(lines[1:])
    return title, text

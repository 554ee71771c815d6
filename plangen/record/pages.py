"""Pages in the record: what each one shows, without what every page says at its foot."""

from __future__ import annotations

import re
from collections.abc import Sequence
from io import BytesIO
from typing import TYPE_CHECKING, Any

from plangen.booklet.model import PageRecord
from plangen.design.model import Project
from plangen.record.plain import digest

if TYPE_CHECKING:
    from pypdf import PageObject


# A line of a page's content that only draws: numbers, and operators that build or paint paths, or set the
# width, the dashes or the colour of lines (ISO 32000-1, tables 57, 59 to 61 and 74, by memory).
_DRAWS = rb"(?:[-+.\d\[\]]+|n|m|l|c|v|y|h|re|[SsFfBbWw]\*?|J|j|M|d|rg|RG|g|G|k|K)"
_LINES_THAT_DRAW = re.compile(rb"^" + _DRAWS + rb"(?: +" + _DRAWS + rb")* *\r?\n", re.MULTILINE)
_PICTURE = re.compile(rb"\bBI\b")  # begins a picture set into the content, whose bytes are no lines


def page_texts(pdf: bytes) -> tuple[str, ...]:
    """Read the words of every page of a finished booklet back out of the file.

    What only draws is passed over: it has no words, and is most of a page.
    """
    from pypdf import PdfReader

    return tuple(_words(page) for page in PdfReader(BytesIO(pdf)).pages)


def _words(page: PageObject) -> str:
    """Read the words of one page."""
    from pypdf.generic import DecodedStreamObject, NameObject

    content = page.get_contents()
    data = content.get_data() if content is not None else b""
    if not _PICTURE.search(data):
        words = DecodedStreamObject()
        words.set_data(_LINES_THAT_DRAW.sub(b"", data))
        page[NameObject("/Contents")] = words
    return page.extract_text()


def page_records(pages: Sequence[PageRecord], texts: Sequence[str], project: Project) -> list[dict[str, Any]]:
    """Give every page with a digest of what it shows; raises ValueError unless there is a text for each.

    The digest leaves out the page's own number, the number of pages and the revision, which stand on every
    page: a page that differs in nothing else need not be printed again.
    """
    if len(pages) != len(texts):
        raise ValueError(f"{len(pages)} pages, and the words of {len(texts)}")
    return [_page(page, text, len(pages), project) for page, text in zip(pages, texts, strict=True)]


def _page(page: PageRecord, text: str, total: int, project: Project) -> dict[str, Any]:
    words = standing_words_removed(text, page.number, total, project)
    return {
        "number": page.number,
        "label": page.label,
        "chapter": page.chapter,
        "marks": list(page.marks),
        "steps": list(page.steps),
        "filled": page.filled,
        "digest": digest([page.chapter, list(page.marks), list(page.steps), words]),
    }


def standing_words_removed(text: str, number: int, total: int, project: Project) -> str:
    """Take the page number, the revision and its date out of a page's words; runs of blanks become one."""
    plain = " ".join(text.split())
    plain = re.sub(rf"\b{number}\s*(?:of|/)\s*{total}\b", "", plain)
    if project.revision:
        plain = re.sub(rf"\b([Rr]evision)[ :]*{re.escape(project.revision)}(?!\w)", r"\1", plain)
    if project.revised is not None:
        day = project.revised
        plain = plain.replace(day.isoformat(), "")
        plain = re.sub(rf"\b0?{day.day} \w+ {day.year}\b", "", plain)
    return " ".join(plain.split())

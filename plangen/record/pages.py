"""Pages in the record: what each one shows, without what every page says at its foot."""

from __future__ import annotations

import re
from collections.abc import Sequence
from io import BytesIO
from typing import Any

from plangen.booklet.model import PageRecord
from plangen.design.model import Project
from plangen.record.plain import digest


def page_texts(pdf: bytes) -> tuple[str, ...]:
    """Read the words of every page of a finished booklet back out of the file."""
    from pypdf import PdfReader

    return tuple(page.extract_text() for page in PdfReader(BytesIO(pdf)).pages)


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

"""A finished file as two readers see it; every page as lines with common spaces."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import pypdfium2
from pypdf import PdfReader
from pypdf.generic import DictionaryObject, IndirectObject

FOOT = re.compile(r"(\d+) of (\d+)")


def plain(text: str) -> str:
    return text.replace("\u00a0", " ").replace("\u202f", " ")


@dataclass(frozen=True)
class Paper:
    """A booklet read back."""

    pdf: bytes

    @cached_property
    def reader(self) -> PdfReader:
        return PdfReader(io.BytesIO(self.pdf), strict=True)

    @cached_property
    def lines(self) -> tuple[tuple[str, ...], ...]:
        """The lines of every page, blanks taken off their ends."""
        return tuple(
            tuple(line.strip() for line in plain(page.extract_text()).split("\n") if line.strip())
            for page in self.reader.pages
        )

    @cached_property
    def texts(self) -> tuple[str, ...]:
        """The words of every page in one line."""
        return tuple(" ".join(" ".join(lines).split()) for lines in self.lines)

    @cached_property
    def second_texts(self) -> tuple[str, ...]:
        """The same as a second reader finds them."""
        document = pypdfium2.PdfDocument(self.pdf)
        found = []
        for page in document:
            words = page.get_textpage()
            found.append(" ".join(plain(words.get_text_bounded()).split()))
            words.close()
        document.close()
        return tuple(found)

    @cached_property
    def outline(self) -> tuple[tuple[int, str, int], ...]:
        """Every bookmark: its depth, its title, its page from 0."""
        return tuple(self._walk(self.reader.outline, 0))

    def _walk(self, entries: Any, depth: int) -> Iterator[tuple[int, str, int]]:
        for entry in entries:
            if isinstance(entry, list):
                yield from self._walk(entry, depth + 1)
            else:
                yield depth, plain(entry.title), self.reader.get_destination_page_number(entry)

    @cached_property
    def page_numbers(self) -> Mapping[int, int]:
        return {page.indirect_reference.idnum: index for index, page in enumerate(self.reader.pages)}  # type: ignore[union-attr]

    def links(self, index: int) -> list[tuple[tuple[float, ...], Any]]:
        """The links of a page: the area, and the page from 0 that it leads to (None: nowhere)."""
        found = []
        for one in self.reader.pages[index].get("/Annots") or ():
            note = one.get_object()
            if note.get("/Subtype") != "/Link" or "/URI" in note.get("/A", {}):
                continue
            to = note.get("/Dest") or note.get("/A", {}).get("/D")
            target = to[0] if to else None
            number = self.page_numbers.get(target.idnum) if isinstance(target, IndirectObject) else None
            found.append((tuple(float(value) for value in note["/Rect"]), number))
        return found

    def fonts(self) -> dict[str, DictionaryObject]:
        """Every font of the file by its name."""
        found: dict[str, DictionaryObject] = {}
        for page in self.reader.pages:
            self._fonts(page.get("/Resources"), found)
        return found

    def _fonts(self, resources: Any, found: dict[str, DictionaryObject]) -> None:
        if resources is None:
            return
        resources = resources.get_object()
        for font in (resources.get("/Font") or {}).values():
            one = font.get_object()
            found[f"{one['/BaseFont']} {one.get('/Name')}"] = one
        for form in (resources.get("/XObject") or {}).values():
            self._fonts(form.get_object().get("/Resources"), found)

    def chapter(self, title: str) -> range:
        """The pages of a chapter, from 0: from its bookmark to that of the next."""
        tops = [(words, page) for depth, words, page in self.outline if depth == 0]
        place = next(index for index, (words, _) in enumerate(tops) if words == title)
        end = tops[place + 1][1] if place + 1 < len(tops) else len(self.reader.pages)
        return range(tops[place][1], end)


def table(files: Mapping[str, bytes], name: str) -> list[dict[str, str]]:
    """The rows of a list that was written as CSV."""
    return list(csv.DictReader(io.StringIO(files[f"lists/{name}.csv"].decode("utf-8"), newline="")))

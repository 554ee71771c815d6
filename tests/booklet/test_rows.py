"""Copies spread at equal gaps are told with the gap, where they are called alike."""

from __future__ import annotations

from dataclasses import replace

import pypdfium2

from plangen.booklet import set_booklet
from plangen.design.model import Row
from plangen.joinery.space import Axis
from plangen.units import millimetres
from tests.booklet.sample_book import book


def _text(rows: tuple[Row, ...], edition: str = "publish") -> str:
    plain = book()
    made = replace(plain, design=replace(plain.design, rows=rows), edition=edition)  # type: ignore[arg-type]
    pages = pypdfium2.PdfDocument(set_booklet(made).pdf)
    return " ".join(" ".join(page.get_textpage().get_text_range() for page in pages).split())


def test_a_row_of_equal_pieces_is_told_once_with_its_gap() -> None:
    part = next(part for part in book().design.parts if len(part.copies) > 1)
    names = tuple(copy.name for copy in part.copies)
    row = Row(names, Axis.UP, millimetres("50.8"), millimetres("76.2"))
    said = _text((row, row))
    assert (
        said.count(f"{part.title}: {len(names)} in a row from below upward, 2 in apart, 3 in from one to")
        == 1
    )
    assert "to the same side of the next" not in _text((replace(row, pitch=None),))
    assert "in a row from below" not in _text((row,), "sample")
    other = next(one for one in book().design.parts if one is not part)
    mixed = replace(row, copies=(names[0], other.copies[0].name))
    assert "in a row from below" not in _text((mixed,)), "pieces of two names are no row of one"

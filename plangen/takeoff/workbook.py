"""All lists in one workbook, a sheet for each."""

from __future__ import annotations

import io
from collections.abc import Sequence
from datetime import date, datetime
from fractions import Fraction
from typing import Any, Final, Literal

from plangen.takeoff.tables import FileCell, FileColumn, FileTable, decimal

_NO_DATE: Final = date(2000, 1, 1)  # of a project that gives no date of revision
_OPTIONS: Final = {
    "in_memory": True,
    "strings_to_formulas": False,
    "strings_to_numbers": False,
    "strings_to_urls": False,
    "use_future_functions": False,
}
_PAPER_CODE: Final[dict[Literal["letter", "a4"], int]] = {"letter": 1, "a4": 9}
_NARROWEST, _WIDEST = 7, 44  # characters
_LINE, _TALLEST = 15, 400  # points; a row of a workbook is 409 at most
_WIDE_SHEET: Final = 90  # characters; wider lists are printed on the paper's long side


def workbook_bytes(
    tables: Sequence[FileTable],
    paper: Literal["letter", "a4"],
    *,
    title: str = "",
    maker: str = "",
    revised: date | None = None,
) -> bytes:
    """Write the lists as a workbook, a sheet for each: the rows of the CSV files, then totals and the note.

    Numbers are numbers, and totals formulas that hold their value, so that a program that works nothing out
    shows them too. Text stays text, whatever it begins with. ``revised`` is the date that the file bears.
    The same lists make the same bytes.
    """
    import xlsxwriter

    out = io.BytesIO()
    book = xlsxwriter.Workbook(out, _OPTIONS)
    day = revised or _NO_DATE
    book.set_properties({"title": title, "author": maker, "created": datetime(day.year, day.month, day.day)})
    for table in tables:
        _Sheet(book, table).write(paper, title)
    book.close()
    return out.getvalue()


class _Sheet:
    """One list on its sheet."""

    def __init__(self, book: Any, table: FileTable) -> None:
        self._book, self._table = book, table
        self._sheet = book.add_worksheet(table.title)
        self._formats: dict[tuple[tuple[str, object], ...], Any] = {}

    def write(self, paper: Literal["letter", "a4"], title: str) -> None:
        """Write heads, rows, totals and the note, and set it up for reading and for printing."""
        table, sheet = self._table, self._sheet
        for index, column in enumerate(table.columns):
            head = self._format(bold=True, text_wrap=True, valign="top", bottom=1, **_side(column))
            sheet.write_string(0, index, column.head, head)
            for number, row in enumerate(table.rows, 1):
                self._cell(number, index, row[index], column)
            sheet.set_column(index, index, _breadth(table, index))
        end = self._totals()
        if table.note:
            span = max(1, len(table.columns) - 1)
            sheet.merge_range(
                end + 1, 0, end + 1, span, table.note, self._format(text_wrap=True, valign="top")
            )
            room = sum(_breadth(table, index) for index in range(span + 1) if index < len(table.columns))
            lines = 1 + len(table.note) // max(1, int(room))
            sheet.set_row(end + 1, min(_TALLEST, _LINE * lines))
        sheet.freeze_panes(1, 0)
        sheet.repeat_rows(0)
        sheet.set_paper(_PAPER_CODE[paper])
        if sum(_breadth(table, index) for index in range(len(table.columns))) > _WIDE_SHEET:
            sheet.set_landscape()
        sheet.fit_to_pages(1, 0)
        sheet.hide_gridlines(0)
        sheet.set_header(f"&L{_printed(title, 100)}&R{_printed(table.title, 40)}")
        sheet.set_footer("&R&P / &N")

    def _cell(self, row: int, index: int, cell: FileCell, column: FileColumn) -> None:
        if cell is None:
            return
        if isinstance(cell, str):
            self._sheet.write_string(row, index, cell, self._format(text_wrap=True, valign="top"))
        else:
            look = self._format(num_format=_number_format(column), valign="top")
            self._sheet.write_number(row, index, float(cell), look)

    def _totals(self) -> int:
        """Write the sums under their columns and give the last row that is used."""
        totals, last = self._table.totals, len(self._table.rows)
        if all(total is None for total in totals):
            return last
        named = False
        for index, (total, column) in enumerate(zip(totals, self._table.columns, strict=True)):
            if total is None:
                self._sheet.write_blank(last + 1, index, None, self._format(bold=True, top=1))
                if not named and column.words:
                    self._sheet.write_string(last + 1, index, "Total", self._format(bold=True, top=1))
                    named = True
                continue
            place = _letters(index)
            look = self._format(bold=True, top=1, num_format=_number_format(column))
            formula = f"=SUM({place}2:{place}{last + 1})"
            self._sheet.write_formula(last + 1, index, formula, look, float(total))
        return last + 1

    def _format(self, **fields: object) -> Any:
        key = tuple(sorted(fields.items()))
        if key not in self._formats:
            self._formats[key] = self._book.add_format(fields)
        return self._formats[key]


def _side(column: FileColumn) -> dict[str, object]:
    return {} if column.words else {"align": "right"}


def _number_format(column: FileColumn) -> str:
    if not column.places:
        return "0"
    return f"0.{'0' * column.places}" if column.fixed else "General"


def _letters(index: int) -> str:
    """Give the letters of a column: A for 0, AA for 26."""
    letters = ""
    index += 1
    while index:
        index, rest = divmod(index - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return letters


def _breadth(table: FileTable, index: int) -> int:
    """Give how wide a column is, in characters: as its longest cell, within bounds."""
    column = table.columns[index]
    words = max((len(word) for word in column.head.split()), default=0)
    texts = [
        decimal(cell, column.places, fixed=column.fixed) if isinstance(cell, Fraction) else cell
        for row in table.rows
        if (cell := row[index]) is not None
    ]
    return min(
        _WIDEST, max(_NARROWEST, words + 2, *(len(text) + 2 for text in texts)) if texts else words + 2
    )


def _printed(text: str, most: int) -> str:
    """Give text for the head of a printed page, where an ampersand would give an order."""
    return text[:most].replace("&", "&&")

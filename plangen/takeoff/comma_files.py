"""Lists as files of comma-separated values."""

from __future__ import annotations

import csv
import io
from fractions import Fraction
from typing import Final

from plangen.takeoff.tables import FileCell, FileColumn, FileTable, decimal

# What makes a sheet of figures take text for a formula, or for something to run; the tab and the returns
# because it passes over them before it looks.
_TAKEN_FOR_FORMULAS: Final = ("=", "+", "-", "@", "\t", "\r", "\n")
_GUARD: Final = "'"


def csv_bytes(table: FileTable) -> bytes:
    """Write one list as RFC 4180 has it: UTF-8, commas, CRLF, quotes where they are needed, a header row.

    No note and no totals, so that every row below the first is a row of the list.
    """
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow([guarded(column.head) for column in table.columns])
    for row in table.rows:
        writer.writerow([_text(cell, column) for cell, column in zip(row, table.columns, strict=True)])
    return out.getvalue().encode("utf-8")


def guarded(text: str) -> str:
    """Give text that no program runs as a formula.

    An apostrophe goes before it, which marks text wherever formulas are known; the words themselves stay
    as they are.
    """
    return _GUARD + text if text.lstrip(" ").startswith(_TAKEN_FOR_FORMULAS) else text


def _text(cell: FileCell, column: FileColumn) -> str:
    if isinstance(cell, Fraction):
        return decimal(cell, column.places, fixed=column.fixed)
    return guarded(cell) if cell else ""

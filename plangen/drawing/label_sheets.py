"""Sheets of labels as they are sold: by the paper and the size of a label.

Sizes of labels and how many stand on a sheet: common practice, no source. Margins are the arithmetic of the
sheet: what the labels and the gaps between them leave of the paper, the same on both sides.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Final, Literal

Paper = Literal["letter", "a4"]
PAPER_SIZES: Final[dict[Paper, tuple[Fraction, Fraction]]] = {
    "letter": (Fraction("215.9"), Fraction("279.4")),  # 8-1/2 by 11 in
    "a4": (Fraction(210), Fraction(297)),  # ISO 216
}
UNPRINTED: Final = (
    5.0  # mm at the edges of the paper that many printers leave white: common practice, no source
)


@dataclass(frozen=True, slots=True)
class LabelSheet:
    """A sheet of equal labels; all sizes in mm. ``said`` is how a maker asks for it."""

    paper: Paper
    columns: int
    rows: int
    width: Fraction
    height: Fraction
    gap_across: Fraction
    gap_up: Fraction
    said: str

    @property
    def number(self) -> int:
        """How many labels stand on one sheet."""
        return self.columns * self.rows

    @property
    def margins(self) -> tuple[Fraction, Fraction]:
        """What is left of the paper at the left and at the top."""
        wide, tall = PAPER_SIZES[self.paper]
        across = wide - self.columns * self.width - (self.columns - 1) * self.gap_across
        up = tall - self.rows * self.height - (self.rows - 1) * self.gap_up
        return across / 2, up / 2

    def corner(self, place: int) -> tuple[float, float]:
        """Give the low left corner of a label in mm from that of the paper; 0 is the first, then along rows.

        Raises ValueError for a place that is not on the sheet.
        """
        if not 0 <= place < self.number:
            raise ValueError(f"there are {self.number} labels on a sheet, and no label {place + 1}")
        row, column = divmod(place, self.columns)
        left, top = self.margins
        x = left + column * (self.width + self.gap_across)
        y = PAPER_SIZES[self.paper][1] - top - (row + 1) * self.height - row * self.gap_up
        return float(x), float(y)


def _inch(number: str) -> Fraction:
    return sum((Fraction(part) for part in number.split("-")), Fraction(0)) * Fraction(254, 10)


def _letter(columns: int, rows: int, height: str, width: str, gap: str) -> LabelSheet:
    said = f"{height} x {width} in"
    return LabelSheet("letter", columns, rows, _inch(width), _inch(height), _inch(gap), Fraction(0), said)


def _a4(columns: int, rows: int, width: str, height: str, gap: str) -> LabelSheet:
    said = f"{width} x {height} mm"
    sizes = Fraction(width), Fraction(height), Fraction(gap), Fraction(0)
    return LabelSheet("a4", columns, rows, *sizes, said)


SHEETS: Final[tuple[LabelSheet, ...]] = (
    _letter(3, 10, "1", "2-5/8", "1/8"),
    _letter(2, 10, "1", "4", "3/16"),
    _letter(2, 5, "2", "4", "3/16"),
    _a4(3, 8, "70", "37", "0"),
    _a4(3, 7, "63.5", "38.1", "2.54"),
    _a4(2, 4, "99.1", "67.7", "2.54"),
)
USUAL: Final[dict[Paper, LabelSheet]] = {
    paper: next(sheet for sheet in SHEETS if sheet.paper == paper) for paper in PAPER_SIZES
}


def find_sheet(words: str) -> LabelSheet | None:
    """Give the sheet with so many labels, ``30``, or with labels of a size, ``1 x 2-5/8 in``."""
    wanted = _plain(words)
    return next(
        (one for one in SHEETS if wanted in (str(one.number), _plain(one.said), _plain(one.said)[:-2])), None
    )


def _plain(words: str) -> str:
    return re.sub(r"\s", "", words.lower().replace("×", "x").replace("by", "x"))


def sheets_said() -> str:
    """Give all sheets in words: how many labels, of which size, on which paper."""
    names: dict[Paper, str] = {"letter": "Letter", "a4": "A4"}
    return ", ".join(f"{one.number} ({names[one.paper]}, {one.said})" for one in SHEETS)

"""One model of a list: typed columns and typed cells, and the same rows as every file shows them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Final, Literal, TypeAlias

from plangen.design.model import Money
from plangen.handbook.currencies import minor_places, payable
from plangen.takeoff.practice import SQUARE_FOOT
from plangen.units import Length, LengthStyle, Phrase, print_length, print_reading

# A reading is a length as a caliper shows it; money is rounded as it is paid, a price is not.
Kind: TypeAlias = Literal[
    "words", "whole", "number", "length", "reading", "money", "price", "share", "mass", "area"
]
Cell: TypeAlias = str | int | Length | Fraction | Money | Phrase | None
FileCell: TypeAlias = str | Fraction | None

_AMOUNTS: Final = ("money", "price")
POUND: Final = Fraction(45359237, 100_000_000)  # kg, exact (international yard and pound agreement, 1959)
MOST_TITLE: Final = 31  # characters
_NOT_IN_TITLES: Final = "[]:*?/\\'"
MOST_TEXT: Final = 32_000  # characters; a cell of a workbook holds 32,767
_PRICE_PLACES: Final = 4
_TYPES: Final[dict[Kind, tuple[type, ...]]] = {
    "words": (str, Phrase),
    "whole": (int,),
    "number": (Fraction,),
    "length": (Length,),
    "reading": (Length,),
    "money": (Money,),
    "price": (Money,),
    "share": (Fraction,),
    "mass": (Fraction,),
    "area": (Fraction,),
}


@dataclass(frozen=True, slots=True)
class Column:
    """A column by its head and what its cells are.

    Masses are in kg, areas in mm2, shares of one. ``total`` says that the sum over all rows means
    something.
    """

    head: str
    kind: Kind = "words"
    total: bool = False


@dataclass(frozen=True, slots=True)
class Table:
    """One list: rows of as many cells as there are columns, each of its column's kind or None.

    ``name`` is that of its file, ``title`` at most 31 characters, as a sheet of a workbook takes it.
    Raises ValueError where a row or a cell does not fit its columns.
    """

    name: str
    title: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]
    note: Phrase = field(default_factory=Phrase)

    def __post_init__(self) -> None:
        if len(self.title) > MOST_TITLE or set(self.title) & set(_NOT_IN_TITLES):
            raise ValueError(f"{self.name} has a title that no sheet of a workbook takes: {self.title}")
        heads = [column.head for column in self.columns]
        if len(set(heads)) != len(heads):
            raise ValueError(f"{self.name} has two columns with one head")
        for row in self.rows:
            if len(row) != len(self.columns):
                raise ValueError(f"a row of {self.name} has {len(row)} cells for {len(heads)} columns")
            for cell, column in zip(row, self.columns, strict=True):
                if cell is not None and not isinstance(cell, _TYPES[column.kind]):
                    raise ValueError(f"{self.name}, {column.head}: {cell!r} is no {column.kind}")

    @property
    def currency(self) -> str | None:
        """The currency of the amounts; None where there are none."""
        codes = dict.fromkeys(cell.currency for row in self.rows for cell in row if isinstance(cell, Money))
        if len(codes) > 1:
            raise ValueError(f"{self.name} has amounts in {' and '.join(codes)}")
        return next(iter(codes), None)


@dataclass(frozen=True, slots=True)
class FileColumn:
    """A column of a file: words, or numbers with so many decimal places at most.

    ``fixed`` numbers show all their places, as money does.
    """

    head: str
    words: bool
    places: int = 0
    fixed: bool = False
    total: bool = False


@dataclass(frozen=True, slots=True)
class FileTable:
    """A list as every file holds it: text, and numbers rounded to what their column shows."""

    name: str
    title: str
    columns: tuple[FileColumn, ...]
    rows: tuple[tuple[FileCell, ...], ...]
    note: str

    @property
    def totals(self) -> tuple[Fraction | None, ...]:
        """The sum of each column that has one, of the numbers as they are shown."""
        return tuple(
            sum((cell for row in self.rows if isinstance(cell := row[index], Fraction)), Fraction(0))
            if column.total
            else None
            for index, column in enumerate(self.columns)
        )


def file_table(table: Table, style: LengthStyle) -> FileTable:
    """Give the rows as files hold them, sizes printed in ``style`` with their unit.

    A length makes two columns: what is printed, where it stands, and the exact millimetres behind all
    others. (With its unit because a sheet of figures reads a bare ``3/4`` as a date.) A mass is in kg, and
    where inches are used in lb before that; an area likewise in sq ft and m². The currency of all amounts
    is a column of its own.
    """
    last_money = max((n for n, column in enumerate(table.columns) if column.kind in _AMOUNTS), default=None)
    columns: list[FileColumn] = []
    behind: list[FileColumn] = []
    for index, column in enumerate(table.columns):
        near, far = _columns(column, style, table.currency)
        columns += near
        behind += far
        if index == last_money:
            columns.append(FileColumn("Currency", words=True))
    every = (*columns, *behind)
    rows = []
    for row in table.rows:
        cells: list[FileCell] = []
        ends: list[FileCell] = []
        for index, (cell, column) in enumerate(zip(row, table.columns, strict=True)):
            near_cells, far_cells = _cells(cell, column, style)
            cells += near_cells
            ends += far_cells
            if index == last_money:
                paid = any(isinstance(one, Money) for one in row)
                cells.append(table.currency if paid else None)
        rows.append(
            tuple(
                cell if not isinstance(cell, Fraction) else shown(cell, column.places)
                for cell, column in zip((*cells, *ends), every, strict=True)
            )
        )
    return FileTable(table.name, table.title, every, tuple(rows), plain(table.note.text(style)))


def shown(value: Fraction, places: int) -> Fraction:
    """Round a number to so many places, halves away from zero."""
    scale = 10**places
    whole = int(abs(value) * scale + Fraction(1, 2))
    return Fraction(whole if value >= 0 else -whole, scale)


def decimal(value: Fraction, places: int, *, fixed: bool = False) -> str:
    """Print a number with so many places at most, a point before them; ``fixed`` prints them all."""
    scaled = int(shown(value, places) * 10**places)
    sign, digits = ("-" if scaled < 0 else ""), f"{abs(scaled):0{places + 1}}"
    if not places:
        return sign + digits
    text = f"{digits[:-places]}.{digits[-places:]}"
    return sign + (text if fixed else text.rstrip("0").rstrip("."))


def plain(text: str) -> str:
    """Give text with common spaces, which other programs read better, and no longer than a cell holds."""
    text = text.replace("\u00a0", " ")
    return text if len(text) <= MOST_TEXT else f"{text[: MOST_TEXT - 1]}…"


def _columns(
    column: Column, style: LengthStyle, currency: str | None
) -> tuple[list[FileColumn], list[FileColumn]]:
    """Give the columns that one makes in a file: where it stands, and behind all others."""
    head, total = column.head, column.total
    if column.kind == "words":
        return [FileColumn(head, words=True)], []
    if column.kind in ("length", "reading"):
        exact = FileColumn(f"{head} exact, mm", words=False, places=6, total=total)
        return [FileColumn(head, words=True)], [exact]
    if column.kind == "money":
        places = minor_places(currency or "")
        return [FileColumn(head, words=False, places=places, fixed=True, total=total)], []
    if column.kind == "price":
        return [FileColumn(head, words=False, places=_PRICE_PLACES)], []
    if column.kind == "share":
        return [FileColumn(f"{head}, %", words=False)], []
    if column.kind in ("mass", "area"):
        inch, metric = ("lb", "kg") if column.kind == "mass" else ("sq ft", "m²")
        found = [FileColumn(f"{head}, {metric}", words=False, places=3, total=total)]
        if style.system != "mm":
            found.insert(0, FileColumn(f"{head}, {inch}", words=False, places=2, total=total))
        return found, []
    return [FileColumn(head, words=False, places=3 if column.kind == "number" else 0, total=total)], []


def _cells(cell: Cell, column: Column, style: LengthStyle) -> tuple[list[FileCell], list[FileCell]]:
    """Give the cells that one makes in a file, as many as ``_columns`` does."""
    if column.kind in ("length", "reading"):
        if not isinstance(cell, Length):
            return [None], [None]
        show = print_reading if column.kind == "reading" else print_length
        return [plain(show(cell, style, unit=True))], [cell.mm]
    if column.kind in ("mass", "area"):
        return list(_measures(cell, column, style)), []
    if isinstance(cell, Phrase):
        return [plain(cell.text(style)) or None], []
    if isinstance(cell, str):
        return [plain(cell) or None], []
    if isinstance(cell, Money):
        return [payable(cell.amount, cell.currency) if column.kind == "money" else cell.amount], []
    if isinstance(cell, Fraction):
        return [cell * 100 if column.kind == "share" else cell], []
    return [None if cell is None else Fraction(int(cell)) if isinstance(cell, int) else cell.mm], []


def _measures(cell: Cell, column: Column, style: LengthStyle) -> Iterator[Fraction | None]:
    inch, metric = (POUND, Fraction(1)) if column.kind == "mass" else (SQUARE_FOOT, Fraction(10**6))
    for unit in (metric,) if style.system == "mm" else (inch, metric):
        yield cell / unit if isinstance(cell, Fraction) else None

"""The table model, and that both kinds of file hold the same rows whatever stands in them."""

from __future__ import annotations

import csv
import io
from dataclasses import replace
from datetime import date
from fractions import Fraction
from typing import Any

import openpyxl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plangen.design.model import Money
from plangen.takeoff.comma_files import csv_bytes
from plangen.takeoff.lists import file_tables
from plangen.takeoff.tables import Column, FileTable, Table, decimal, file_table
from plangen.takeoff.workbook import workbook_bytes
from plangen.units import Length, LengthStyle, TradeSize, inches, millimetres, phrase
from tests.sample_design import sample_design
from tests.takeoff.cases import pine, plain_design, taken

STYLES = [LengthStyle(), LengthStyle("mm"), LengthStyle("both")]
FORMULAS = [
    "=1+1",
    "+1",
    "-2",
    "@here",
    '=HYPERLINK("x")',
    "\t=1",
    " =1+1",
    "{=A1}",
    "http://a.example",
    "007",
]


def read_csv(data: bytes) -> list[list[str]]:
    return list(csv.reader(io.StringIO(data.decode("utf-8"), newline="")))


def read_book(data: bytes, *, values: bool = True) -> Any:
    return openpyxl.load_workbook(io.BytesIO(data), data_only=values)


def same_cell(of_csv: str, of_book: object) -> bool:
    """Whether two files say one thing: a number is the same number, text the same text."""
    if of_book is None:
        return of_csv == ""
    if isinstance(of_book, str):
        return of_csv in (of_book, f"'{of_book}")
    return float(of_csv) == float(of_book)  # type: ignore[arg-type]


def assert_same_rows(tables: list[FileTable] | tuple[FileTable, ...]) -> None:
    book = read_book(workbook_bytes(tables, "letter"))
    assert book.sheetnames == [table.title for table in tables]
    for table in tables:
        rows = read_csv(csv_bytes(table))
        sheet = book[table.title]
        assert len(rows) == len(table.rows) + 1
        for number, row in enumerate(rows, 1):
            assert len(row) == len(table.columns)
            for index, cell in enumerate(row, 1):
                found = sheet.cell(number, index).value
                assert same_cell(cell, found), (table.name, number, index, cell, found)


@pytest.mark.parametrize("style", STYLES, ids=lambda style: style.system)
def test_both_files_hold_the_same_rows(style: LengthStyle) -> None:
    design = sample_design()
    assert_same_rows(file_tables(design, taken(design)[0], style))


@pytest.mark.parametrize("words", FORMULAS)
def test_text_stays_text_and_runs_nowhere(words: str) -> None:
    """Formulas are told from their first sign: = + - @, spaces and tabs passed over."""
    design = plain_design(pine(title=words), [(2, inches(6), inches(40))])
    parts = (replace(design.parts[0], title=words, note=words),)
    design = replace(design, parts=parts)
    tables = file_tables(design, taken(design)[0], LengthStyle())
    assert_same_rows(tables)
    for table in tables:
        for row in read_csv(csv_bytes(table)):
            for cell in row:
                numeric = cell.replace(".", "", 1).removeprefix("-").isdigit()
                assert numeric or not cell.strip(" ").startswith(("=", "+", "-", "@", "\t", "\r"))
    book = read_book(workbook_bytes(tables, "a4"), values=False)
    sheet = book["Cut list"]
    assert sheet.cell(2, 2).value == words
    assert sheet.cell(2, 2).data_type == "s"
    formulas = [cell for one in book for row in one.iter_rows() for cell in row if cell.data_type == "f"]
    assert formulas
    assert all(str(cell.value).startswith("=SUM(") for cell in formulas)
    assert not [one for one in book if one._hyperlinks]


CELLS = st.one_of(
    st.none(), st.text(st.characters(codec="utf-8", exclude_categories=("Cs", "Cc")), max_size=30)
)
NUMBERS = st.fractions(min_value=-(10**6), max_value=10**6, max_denominator=10**4)


@given(
    st.lists(
        st.tuples(
            CELLS,
            st.none() | st.integers(-(10**9), 10**9),
            st.none() | NUMBERS.map(Length),
            st.none() | NUMBERS.map(lambda amount: Money(amount, "USD")),
            st.none() | NUMBERS,
        ),
        min_size=1,
        max_size=6,
    ),
    st.sampled_from(STYLES),
)
@settings(max_examples=25, deadline=None)
def test_any_rows_are_the_same_in_both_files(rows: list[tuple[Any, ...]], style: LengthStyle) -> None:
    columns = (
        Column("Words"),
        Column("Whole", "whole", total=True),
        Column("Size", "length"),
        Column("Cost", "money", total=True),
        Column("Mass", "mass", total=True),
    )
    assert_same_rows([file_table(Table("any", "Any", columns, tuple(rows)), style)])


@pytest.mark.parametrize("style", STYLES, ids=lambda style: style.system)
def test_totals_are_formulas_that_hold_their_value(style: LengthStyle) -> None:
    design = sample_design()
    lists, _ = taken(design)
    tables = file_tables(design, lists, style)
    data = workbook_bytes(tables, "letter")
    values, formulas = read_book(data), read_book(data, values=False)
    seen = 0
    for table in tables:
        last = len(table.rows) + 2
        for index, column in enumerate(table.columns, 1):
            formula = formulas[table.title].cell(last, index).value
            if not column.total:
                assert not str(formula or "").startswith("=")
                continue
            seen += 1
            letter = formulas[table.title].cell(1, index).column_letter
            assert formula == f"=SUM({letter}2:{letter}{last - 1})"
            added = sum(Fraction(row[index - 1] or "0") for row in read_csv(csv_bytes(table))[1:])
            assert values[table.title].cell(last, index).value == pytest.approx(float(added), abs=1e-9)
    assert seen >= 4
    costs = next(table for table in tables if table.name == "costs")
    total = values["Costs"].cell(len(costs.rows) + 2, 3).value
    assert lists.total_cost is not None
    assert total == float(lists.total_cost.amount)


def test_the_workbook_has_the_same_bytes_each_time_and_bears_the_revision() -> None:
    design = sample_design()
    tables = file_tables(design, taken(design)[0], LengthStyle())
    one = workbook_bytes(tables, "letter", title="Stool & bench", revised=date(2026, 3, 4))
    assert one == workbook_bytes(tables, "letter", title="Stool & bench", revised=date(2026, 3, 4))
    book = read_book(one)
    assert book.properties.created.date() == date(2026, 3, 4)
    assert book.properties.title == "Stool & bench"


@pytest.mark.parametrize(("paper", "code"), [("letter", 1), ("a4", 9)])
def test_sheets_are_set_up_to_read_and_to_print(paper: Any, code: int) -> None:
    """Paper codes: ECMA-376-1:2016, 18.3.1.63 pageSetup: 1 is Letter, 9 is A4."""
    design = sample_design()
    book = read_book(workbook_bytes(file_tables(design, taken(design)[0], LengthStyle()), paper))
    for sheet in book:
        assert sheet.freeze_panes == "A2"
        assert sheet.print_title_rows == "$1:$1"
        assert int(sheet.page_setup.paperSize) == code
        assert sheet.sheet_properties.pageSetUpPr.fitToPage
        assert sheet.page_setup.fitToWidth in (None, 1)  # one page is what the file format takes for granted
        assert sheet.page_setup.fitToHeight == 0
        assert 1 <= len(sheet.title) <= 31


def test_sizes_are_never_read_as_dates() -> None:
    """A bare 3/4 is the fourth of March to a sheet of figures; with its unit it is text."""
    design = plain_design(
        pine(label=phrase(TradeSize("4/4", inches(1)))),
        [(2, inches("3/4"), inches(40)), (1, inches(2), inches(5))],
    )
    for table in file_tables(design, taken(design)[0], LengthStyle()):
        for row in read_csv(csv_bytes(table))[1:]:
            assert not [cell for cell in row if cell.count("/") == 1 and cell.replace("/", "").isdigit()]


def test_a_table_refuses_what_does_not_fit() -> None:
    columns = (Column("Mark"), Column("Length", "length"))
    Table("x", "X", columns, (("A", millimetres(3)), (None, None)))
    for rows in ((("A",),), (("A", "3 mm"),), (("A", Fraction(3)),)):
        with pytest.raises(ValueError, match="x"):
            Table("x", "X", columns, rows)
    for title in ("x" * 32, "Boards/sheets", "What?"):
        with pytest.raises(ValueError, match="no sheet"):
            Table("x", title, columns, ())
    with pytest.raises(ValueError, match="one head"):
        Table("x", "X", (Column("Mark"), Column("Mark")), ())
    money = (Column("Cost", "money"),)
    mixed = Table("x", "X", money, ((Money(Fraction(1), "USD"),), (Money(Fraction(1), "EUR"),)))
    with pytest.raises(ValueError, match="USD and EUR"):
        file_table(mixed, LengthStyle())


def test_money_is_shown_as_it_is_paid() -> None:
    """ISO 4217: the yen has no smaller unit, the dollar has hundredths; a price may be finer than a coin."""
    columns = (Column("Each", "price"), Column("Cost", "money", total=True))

    def shown(currency: str) -> list[list[str]]:
        amount = Money(Fraction("12.345"), currency)
        return read_csv(csv_bytes(file_table(Table("x", "X", columns, ((amount, amount),)), LengthStyle())))

    assert shown("USD")[1] == ["12.345", "12.35", "USD"]
    assert shown("JPY")[1] == ["12.345", "12", "JPY"]


def test_measures_in_both_systems() -> None:
    """1 lb is 0.453 592 37 kg and 1 ft is 304.8 mm (international yard and pound agreement, 1959)."""
    columns = (Column("Each", "mass"), Column("Face", "area"), Column("Used", "share"))
    row = (Fraction("4.5359237"), Fraction("929030.4"), Fraction(7, 8))
    table = Table("x", "X", columns, (row,))
    assert read_csv(csv_bytes(file_table(table, LengthStyle()))) == [
        ["Each, lb", "Each, kg", "Face, sq ft", "Face, m²", "Used, %"],
        ["10", "4.536", "10", "0.929", "88"],
    ]
    metric = read_csv(csv_bytes(file_table(table, LengthStyle("mm"))))
    assert metric == [["Each, kg", "Face, m²", "Used, %"], ["4.536", "0.929", "88"]]


@given(NUMBERS, st.integers(0, 6))
@settings(max_examples=50, deadline=None)
def test_decimals_are_within_half_a_place(value: Fraction, places: int) -> None:
    assert abs(Fraction(decimal(value, places)) - value) <= Fraction(1, 2 * 10**places)
    text = decimal(value, places, fixed=True)
    assert len(text.partition(".")[2]) == places

"""The files of the lists of finished builds: CSV and workbook agree, add up, and follow what was set."""

from __future__ import annotations

import csv
import io
import json
from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from typing import Any

import openpyxl
import pypdf
import pytest

from plangen.pipeline import BuildOptions, Source, build, check
from plangen.takeoff import list_files
from plangen.units import LengthStyle
from tests.whole.expected import pieces
from tests.whole.making import PROJECTS, Made, Variant, templates
from tests.whole.sums import MM

Built = Callable[[Variant], Made]
POUND = Fraction("0.45359237")  # kg, by definition (international yard and pound agreement, 1959)
LISTS = {
    "to-buy", "cut-list", "boards-and-sheets", "cutting-orders", "hardware", "consumables", "tools", "costs",
    "weights", "part-labels",
}  # fmt: skip

STAND = """\
plangen: 1
project: {title: Little stand, units: inch, revised: 2026-03-04}
sizes: {height: 12in}
stock:
  pine: {kind: solid, species: white pine, rough: 4/4, thickness: 3/4in, widths: 8in, lengths: 8ft,
         price: 4 USD/bdft}
  oak: {kind: solid, species: white oak, rough: 4/4, thickness: 3/4in, widths: 8in, lengths: 8ft,
        price: 11 USD/bdft}
parts:
  side:
    stock: pine
    runs: up
    thick: across
    place:
      left side: {left: 0, front: 0, back: 6in, bottom: 0, top: height}
      right side: {mirror of: left side, plane: across at 8in}
  shelf:
    stock: pine
    runs: across
    thick: up
    place: {left: left side.right, right: right side.left, front: 0, back: 6in, top: height}
joints:
  - dado: {in: side, for: shelf, depth: 1/4in, contacts: 2}
"""


@pytest.fixture(params=PROJECTS)
def made(request: pytest.FixtureRequest, built: Built) -> Made:
    return built(Variant(str(request.param)))


def rows_of(made: Made, name: str) -> list[dict[str, str]]:
    data = made.files[f"lists/{name}.csv"].decode("utf-8")
    return list(csv.DictReader(io.StringIO(data, newline="")))


def book_of(made: Made) -> Any:
    data = made.files[f"lists/{made.variant.project}.xlsx"]
    return openpyxl.load_workbook(io.BytesIO(data), data_only=True)


def test_every_list_has_its_file_and_its_sheet(made: Made) -> None:
    names = {name for name in made.files if name.startswith("lists/")}
    wanted = {f"lists/{name}.csv" for name in LISTS} | {f"lists/{made.variant.project}.xlsx"}
    assert wanted <= names
    sheets = book_of(made).sheetnames
    assert len(sheets) == len(names)  # one for each list, and the first that says what they are of
    assert sheets[0] == "Project"


def test_the_workbook_says_what_the_csv_files_say(made: Made) -> None:
    book = book_of(made)
    seen = 0
    for name, data in made.files.items():
        if not name.startswith("lists/") or not name.endswith(".csv"):
            continue
        heads, *rows = csv.reader(io.StringIO(data.decode("utf-8"), newline=""))
        title = name.removeprefix("lists/").removesuffix(".csv").replace("-", " ")
        (sheet,) = [one for one in book if one.title.lower().startswith(title)]
        assert [cell.value for cell in sheet[1]][: len(heads)] == heads
        for number, row in enumerate(rows, 2):
            for index, text in enumerate(row, 1):
                value = sheet.cell(number, index).value
                same = (value or "") == text if isinstance(value, str | None) else float(text) == float(value)
                assert same, (name, number, heads[index - 1], text, value)
                seen += 1
    assert seen > 300


def test_totals_of_the_workbook_by_other_sums(made: Made) -> None:
    """Pieces from the drawing worked out by hand; the cost from the record; the weight by its pounds."""
    book = book_of(made)
    record = json.loads(made.files["record.json"])
    totals = {one["name"]: one for one in record["totals"]}
    wanted = pieces(made.variant.project)

    def total(sheet: str, head: str) -> float:
        page = book[sheet]
        column = [cell.value for cell in page[1]].index(head) + 1
        row = next(row for row in range(2, page.max_row + 1) if page.cell(row, 1).value == "Total")
        return float(page.cell(row, column).value)

    assert total("Cut list", "Number") == sum(piece.number for piece in wanted)
    length = sum(piece.length * MM for piece in wanted)
    exact = [Fraction(row["Length exact, mm"]) for row in rows_of(made, "cut-list")]
    assert sum(exact) == pytest.approx(float(length), abs=1e-4)
    paid = sum(Fraction(row["Cost"]) for row in rows_of(made, "costs") if row["Cost"])
    assert total("Costs", "Cost") == pytest.approx(float(paid), abs=1e-9)
    assert paid == Fraction(totals["cost"]["exact"])
    assert total("To buy", "Cost") == pytest.approx(float(paid), abs=1e-9)
    kilograms, pounds = total("Weights", "Together, kg"), total("Weights", "Together, lb")
    assert kilograms == pytest.approx(float(Fraction(totals["weight"]["exact"])), abs=0.01)
    assert pounds == pytest.approx(kilograms / float(POUND), abs=0.05)


def test_what_is_bought_is_what_the_diagrams_cut(made: Made) -> None:
    bought = Counter[str]()
    for row in rows_of(made, "to-buy"):
        if row["Unit"] in ("board", "sheet"):
            bought[f"{row['Item']} {row['Width']} {row['Length']}"] += int(row["Number"])
    cut = Counter(
        f"{row['Stock']} {row['Width']} {row['Length']}" for row in rows_of(made, "boards-and-sheets")
    )
    assert bought == cut
    boards = {(row["Stock"], row["No."]) for row in rows_of(made, "boards-and-sheets")}
    assert {(row["Stock"], row["No."]) for row in rows_of(made, "cutting-orders")} == boards


def test_every_piece_has_its_label(made: Made) -> None:
    rows = rows_of(made, "part-labels")
    counts = {row["Mark"]: int(row["Number"]) for row in rows_of(made, "cut-list")}
    assert Counter(row["Mark"] for row in rows) == counts
    reader = pypdf.PdfReader(io.BytesIO(made.files["labels.pdf"]))
    words = " ".join(" ".join(page.extract_text().split()) for page in reader.pages)
    assert words.count("grain") == len(rows)
    for row in rows:
        assert f"{row['Piece']} of {row['Pieces']}" in words
        assert row["Cut from"]


def test_a_sample_gives_no_lists_away(built: Built) -> None:
    made = built(Variant("step-stool", "sample", "letter", "inch"))
    assert [name for name in made.files if name.startswith("lists/") or name == "labels.pdf"] == []


def stand(*settings: str) -> Source:
    return Source("little stand", "project.yaml", STAND.encode(), templates=templates(), settings=settings)


def test_a_variant_says_what_it_was_made_with_and_every_list_follows() -> None:
    result = build(stand("pine=oak", "height=14in"), BuildOptions())
    assert result.files is not None, [finding.message for finding in result.findings]
    record = json.loads(result.files["record.json"])
    assert record["edition"]["settings"] == ["pine=oak", "height=14in"]
    cover = " ".join(pypdf.PdfReader(io.BytesIO(result.files["booklet.pdf"])).pages[0].extract_text().split())
    assert "Variant: pine = oak; height = 14in" in cover
    for name, data in result.files.items():
        if name.startswith("lists/") and name.endswith(".csv"):
            assert "pine" not in data.decode("utf-8").lower(), name
    lists = {name: list(csv.DictReader(io.StringIO(result.files[f"lists/{name}.csv"].decode(), newline="")))
             for name in ("cut-list", "costs", "part-labels")}  # fmt: skip
    assert {row["Stock"] for row in lists["cut-list"]} == {"White oak"}
    assert {row["Length"] for row in lists["cut-list"] if row["Part"] != "Shelf"} == {"14 in"}
    assert {row["Stock"] for row in lists["part-labels"]} == {"White oak"}
    # one board of 8 in by 8 ft is 16/3 board feet as sold by 4/4
    assert [row["Cost"] for row in lists["costs"] if row["Item"] == "White oak"] == ["58.67"]
    book = openpyxl.load_workbook(io.BytesIO(result.files["lists/little-stand.xlsx"]))
    said = [(row[0].value, row[1].value) for row in book["Project"].iter_rows()]
    assert ("Made with", "pine=oak") in said
    assert book.properties.created.isoformat() == "2026-03-04T00:00:00"


def test_another_variant_is_no_change_of_the_last() -> None:
    first = build(stand("pine=oak"), BuildOptions())
    assert first.files is not None
    again = Source("little stand", "project.yaml", STAND.encode(), templates=templates(),
                   settings=("pine=oak",), last_record=first.files["record.json"])  # fmt: skip
    assert build(again, BuildOptions()).comparison is not None
    other = build(replace(again, settings=()), BuildOptions())
    assert other.comparison is None
    assert other.files is not None
    assert "changes.md" not in other.files


def test_without_settings_nothing_is_said_of_a_variant(built: Built) -> None:
    made = built(Variant("step-stool"))
    assert json.loads(made.files["record.json"])["edition"]["settings"] == []
    assert "Variant" not in pypdf.PdfReader(io.BytesIO(made.pdf)).pages[0].extract_text()


def test_lists_of_one_check_are_the_same_bytes_each_time() -> None:
    checked = check(stand()).checked
    assert checked is not None
    files = [
        list_files(checked.design, checked.take_off, LengthStyle("both"), "a4", "little stand")
        for _ in range(2)
    ]
    assert files[0] == files[1]


def test_titles_that_look_like_formulas_stay_words() -> None:
    """From the maker's file to both files: as typed in the workbook, behind an apostrophe in the CSV."""
    project, maker, part, stock = (f'{sign}HYPERLINK("x","y")' for sign in "=@+-")
    text = (
        STAND.replace("title: Little stand", f"title: '{project}', maker: '{maker}'")
        .replace("species: white pine", f"species: white pine, title: '{stock}'")
        .replace("  shelf:\n", f"  shelf:\n    title: '{part}'\n    note: '{project}'\n")
    )
    result = build(replace(stand(), text=text.encode()), BuildOptions())
    assert result.files is not None, [finding.message for finding in result.findings]
    plain: Counter[str] = Counter()
    for name, data in result.files.items():
        if name.startswith("lists/") and name.endswith(".csv"):
            for row in csv.reader(io.StringIO(data.decode("utf-8"), newline="")):
                plain.update(row)
    for words in (part, stock):
        assert plain[f"'{words}"] > 2
    assert not [cell for cell in plain if cell.lstrip().startswith(("=", "+", "@", "-H"))]
    book = openpyxl.load_workbook(io.BytesIO(result.files["lists/little-stand.xlsx"]))
    cells = [cell for sheet in book for row in sheet.iter_rows() for cell in row]
    said = Counter(cell.value for cell in cells if cell.data_type == "s")
    assert all(said[words] for words in (project, maker, part, stock))
    assert {str(cell.value)[:5] for cell in cells if cell.data_type == "f"} == {"=SUM("}


def test_a_label_sheet_that_cannot_be_printed_on_is_refused() -> None:
    for options in (
        BuildOptions(labels="31"),
        BuildOptions(first_label=31),
        BuildOptions(labels="8", first_label=9),
    ):
        result = build(stand(), options)
        assert result.files is None
        assert [finding.kind for finding in result.findings if finding.kind == "label-sheet"] == [
            "label-sheet"
        ]

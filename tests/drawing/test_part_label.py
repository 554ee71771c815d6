"""Labels for pieces: on their sheets, legible, inside their label, one for each piece."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import replace
from fractions import Fraction
from io import BytesIO

import pypdf
import pytest

from plangen.booklet.label_file import label_pdf
from plangen.cli.main import main
from plangen.drawing.label_sheets import PAPER_SIZES, SHEETS, USUAL, LabelSheet, find_sheet
from plangen.drawing.part_label import label_pages
from plangen.drawing.sheet.lettering import figure_height
from plangen.drawing.sheet.measure import bounds, overlaps
from plangen.drawing.sheet.model import Drawing, Mark, Text
from plangen.takeoff.part_labels import PartLabel, part_labels
from plangen.units import LengthStyle, inches, phrase
from tests.sample_design import sample_design
from tests.takeoff.cases import pine, plain_design, taken

STYLES = [LengthStyle(), LengthStyle("mm"), LengthStyle("both")]
LEAST_FIGURES = 2.5  # mm, what is read at arm's length: ISO 3098-1 has it as its smallest lettering

# Inches from the low left corner of Letter to that of the first and of the last label; common practice for
# sheets of 30 (the margins are 3/16 and 1/2 in, the gap 1/8 in).
THIRTY = ((0.1875, 9.5), (5.6875, 0.5))


def sample_labels() -> tuple[PartLabel, ...]:
    design = sample_design()
    return part_labels(design, taken(design)[0])


def hard_labels() -> tuple[PartLabel, ...]:
    """Long names, many copies, long sizes, a starred size, a place and an assembly."""
    labels = []
    for label in sample_labels():
        for copy in (1, 12):
            labels.append(
                replace(
                    label,
                    mark=f"A{label.mark}",
                    title="Loose-tongued drawer bottom bearer, lower left",
                    copy=copy,
                    copies=12,
                    length=inches("9959/64"),
                    width=inches("1447/64"),
                    thickness=inches("31/32"),
                    from_work=True,
                    stock=phrase("Baltic birch plywood, nine plies, both faces clear"),
                    panels=(11, 12, 13, 14),
                    assembly="top drawer of the left pedestal",
                    place="upper bearer of the top drawer of the left pedestal",
                )
            )
    return tuple(labels)


def own(page: Drawing, sheet: LabelSheet, place: int) -> list[Mark]:
    """The marks whose middle lies on a label."""
    x, y = sheet.corner(place)
    found = []
    for mark in page.marks:
        low_x, low_y, high_x, high_y = bounds([mark])
        across, up = (low_x + high_x) / 2, (low_y + high_y) / 2
        if x <= across <= x + sheet.width and y <= up <= y + sheet.height:
            found.append(mark)
    return found


def test_the_sheet_of_thirty_is_where_it_is_sold() -> None:
    sheet = find_sheet("30")
    assert sheet is not None
    corners = [tuple(side / 25.4 for side in sheet.corner(place)) for place in (0, 29)]
    assert corners == [pytest.approx(corner) for corner in THIRTY]


@pytest.mark.parametrize("sheet", SHEETS, ids=lambda sheet: f"{sheet.paper}-{sheet.number}")
def test_labels_lie_on_the_paper_side_by_side(sheet: LabelSheet) -> None:
    wide, tall = PAPER_SIZES[sheet.paper]
    spans = []
    for place in range(sheet.number):
        x, y = (Fraction(side).limit_denominator(10**6) for side in sheet.corner(place))
        assert 0 <= x <= x + sheet.width <= wide + Fraction(1, 10**5)
        assert 0 <= y <= y + sheet.height <= tall + Fraction(1, 10**5)
        spans.append((x, y))
    near = Fraction(1, 10**5)
    for number, (x, y) in enumerate(spans):
        for other_x, other_y in spans[:number]:
            apart = abs(x - other_x) >= sheet.width - near or abs(y - other_y) >= sheet.height - near
            assert apart
    left, top = sheet.margins
    assert left >= 0
    assert top >= 0
    with pytest.raises(ValueError, match="no label"):
        sheet.corner(sheet.number)


@pytest.mark.parametrize("style", STYLES, ids=lambda style: style.system)
@pytest.mark.parametrize("sheet", SHEETS, ids=lambda sheet: f"{sheet.paper}-{sheet.number}")
@pytest.mark.parametrize("labels", [sample_labels(), hard_labels()], ids=["sample", "hard"])
def test_every_label_is_legible_and_stays_inside(
    labels: tuple[PartLabel, ...], sheet: LabelSheet, style: LengthStyle
) -> None:
    (page,) = label_pages(labels[: sheet.number], sheet, style)
    assert str(overlaps(page)) == "nothing overlaps"
    counted = 0
    for place in range(len(labels[: sheet.number])):
        marks = own(page, sheet, place)
        counted += len(marks)
        x, y = sheet.corner(place)
        low_x, low_y, high_x, high_y = bounds(marks)
        assert low_x >= max(x + 1, 4.9)
        assert low_y >= max(y + 1, 4.9)
        assert high_x <= min(x + float(sheet.width) - 1, page.width - 4.9)
        assert high_y <= min(y + float(sheet.height) - 1, page.height - 4.9)
        texts = [mark for mark in marks if isinstance(mark, Text)]
        assert min(figure_height(text.size) for text in texts) >= LEAST_FIGURES - 0.01
        roles = Counter(text.role for text in texts)
        assert {"balloon", "copy", "title", "size", "source", "grain", "face side"} <= set(roles)
    assert counted == len(page.marks)


def test_a_label_says_what_the_piece_is() -> None:
    """Worked out by hand: the stretcher's size is 3/4 by 2-1/2 by 18 in, and it is one of one."""
    design = plain_design(pine(), [(3, inches("5/2"), inches(18))])
    labels = part_labels(design, taken(design)[0])
    sheet = USUAL["letter"]
    (page,) = label_pages(labels, sheet, LengthStyle())
    for place, copy in enumerate(("1 of 3", "2 of 3", "3 of 3")):
        said = {mark.role: mark.text for mark in own(page, sheet, place) if isinstance(mark, Text)}
        assert said["balloon"] == "A"
        assert said["copy"] == copy
        assert said["title"] == "Piece 0"
        assert said["size"].replace("\u00a0", " ") == "3/4 × 2 1/2 × 18 in"
        assert said["source"] == "White pine · board 1"
        assert said["face side"].startswith("✓ face side: ")


def test_every_piece_has_one_label_and_comes_from_the_board_that_the_diagram_shows() -> None:
    design = plain_design(pine(), [(7, inches(6), inches(40)), (2, inches(3), inches(20))])
    lists, _ = taken(design)
    labels = part_labels(design, lists)
    assert [(label.mark, label.copy) for label in labels] == [
        *(("A", n) for n in range(1, 8)),
        ("B", 1),
        ("B", 2),
    ]
    on_boards = Counter(
        (piece.mark, diagram.number)
        for plan in lists.plans
        for diagram in plan.diagrams
        for piece in diagram.pieces
    )
    assert Counter((label.mark, number) for label in labels for number in label.panels) == on_boards
    pages = label_pages(labels, USUAL["letter"], LengthStyle())
    assert sum(isinstance(mark, Text) and mark.role == "copy" for page in pages for mark in page.marks) == 9


@pytest.mark.parametrize("first", [1, 5, 30])
def test_a_part_used_sheet_begins_where_it_is_told(first: int) -> None:
    sheet = USUAL["letter"]
    labels = sample_labels()
    pages = label_pages(labels, sheet, LengthStyle(), first)
    assert len(pages) == -(-(len(labels) + first - 1) // sheet.number)
    for place in range(sheet.number):
        assert bool(own(pages[0], sheet, place)) == (first - 1 <= place < first - 1 + len(labels))


@pytest.mark.parametrize("first", [0, 31])
def test_a_place_that_is_not_on_the_sheet_is_refused(first: int) -> None:
    with pytest.raises(ValueError, match="30 labels"):
        label_pages(sample_labels(), USUAL["letter"], LengthStyle(), first)


def test_the_file_is_the_same_each_time_at_actual_size_with_its_fonts() -> None:
    design = sample_design()
    pages = label_pages(sample_labels(), USUAL["a4"], LengthStyle("mm"))
    data = label_pdf(pages, design.project)
    assert data == label_pdf(pages, design.project)
    reader = pypdf.PdfReader(BytesIO(data))
    (page,) = reader.pages
    assert [float(side) / 72 * 25.4 for side in page.mediabox[2:]] == pytest.approx([210, 297], abs=0.01)
    assert reader.trailer["/Root"]["/ViewerPreferences"]["/PrintScaling"] == "/None"
    for font in page["/Resources"]["/Font"].values():
        assert "/FontFile2" in font.get_object()["/FontDescriptor"]
    words = page.extract_text()
    assert "face side" in words
    assert "1 of 1" in words


@pytest.mark.parametrize(
    ("words", "number"),
    [
        ("30", 30),
        ("1 x 2-5/8 in", 30),
        ("1 × 2-5/8", 30),
        ("2 by 4 in", 10),
        ("70x37mm", 24),
        ("63.5 x 38.1 mm", 21),
    ],
)
def test_a_sheet_is_asked_for_by_number_or_size(words: str, number: int) -> None:
    sheet = find_sheet(words)
    assert sheet is not None
    assert sheet.number == number
    assert find_sheet("31") is None


def test_the_help_names_every_sheet(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["build", "--help"]) == 0
    words = " ".join(capsys.readouterr().out.split())
    for sheet in SHEETS:
        assert re.search(rf"\b{sheet.number}\b", words)
        assert sheet.said in words

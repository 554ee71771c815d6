"""Texts and drawings held to their place: never past it, never too small to read."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from plangen.drawing.sheet.fit import fitted_lines, held
from plangen.drawing.sheet.lettering import LEAST_SIZE, figure_height, text_width
from plangen.drawing.sheet.measure import bounds, overlaps
from plangen.drawing.sheet.model import Drawing, Meaning, Stroke, Text, Weight
from plangen.drawing.title_block import BLOCK_HEIGHT, TitleBlock, block_height, title_block

words = st.text(st.sampled_from("abcdefghij MWil.,/1234567890 éß"), min_size=1, max_size=90)


def test_the_least_size_has_figures_of_two_and_a_half_millimetres() -> None:
    # ISO 3098-1:2015: the series of heights, whose 2.5 is the least for drawings on A4 (from memory).
    assert 2.5 <= figure_height(LEAST_SIZE) < 2.51


@given(words, st.floats(8, 120), st.floats(LEAST_SIZE, 7), st.sampled_from(Weight))
def test_a_text_goes_into_its_room_and_says_all_its_words(
    text: str, room: float, size: float, weight: Weight
) -> None:
    fitted, lines = fitted_lines(text, room, size, weight)
    assert LEAST_SIZE - 1e-9 <= fitted <= size
    assert all(text_width(line, fitted, weight) <= room + 1e-6 for line in lines)
    if len(lines) > 1:
        assert "".join(lines).replace(" ", "") == text.replace(" ", "")
    else:
        assert lines[0].split() == text.split()


def test_a_text_that_fits_is_left_alone_and_one_that_nearly_does_is_set_smaller() -> None:
    assert fitted_lines("Shelf", 40, 4.5) == (4.5, ("Shelf",))
    size, lines = fitted_lines("Shelf", text_width("Shelf", 4.2), 4.5)
    assert lines == ("Shelf",)
    assert size == pytest.approx(4.2)


def _block(title: str, **others: str) -> TitleBlock:
    fields = {"owner": "Shop", "number": "S-1", "approved": "Shop", "creator": "Shop", "document": "Views"}
    return TitleBlock(
        issued=date(2026, 3, 14), sheet=3, sheets=12, title=title, scale="1:8", **{**fields, **others}
    )  # type: ignore[arg-type]


@pytest.mark.parametrize("width", [140.0, 178.0])
@pytest.mark.parametrize(
    "block",
    [
        _block("Stool"),
        _block("A very long title of a chest with three drawers and a lid that closes by itself"),
        _block("Donaudampfschifffahrtsgesellschaftskapitänskajütenschrank"),
        _block("Stool", owner="The Workshop of the Society for Well-Made Useful Furniture and Other Things"),
        _block("Stool", number="A-PLAN-NUMBER-2026-11", document="Part AB-L: Top rail, left, of the door"),
    ],
)  # fmt: skip
def test_a_title_block_holds_values_of_any_length(block: TitleBlock, width: float) -> None:
    marks = title_block(block, width)
    low_x, low_y, high_x, high_y = bounds(marks)
    assert (low_x, low_y) == pytest.approx((0, 0))
    assert high_x <= width + 0.6
    assert high_y == pytest.approx(block_height(block, width))
    assert overlaps(Drawing(width, high_y, marks)).count == 0
    assert all(mark.size >= LEAST_SIZE - 1e-9 for mark in marks if isinstance(mark, Text))


def test_a_plain_title_block_has_its_plain_height() -> None:
    assert block_height(_block("Stool"), 178) == BLOCK_HEIGHT
    assert block_height(_block("Stool " * 20), 178) > BLOCK_HEIGHT


def _wide_drawing() -> Drawing:
    marks = (
        Stroke(((-20, -10), (300, 200)), Meaning.VISIBLE),
        Text((250, 100), "a note at the right", 4.0, role="note"),
        Text((10, 10), "1:4", 4.0, role="scale"),
    )
    return Drawing(300, 200, marks)


def test_a_drawing_too_large_is_shrunk_into_its_room_and_its_words_stay_legible() -> None:
    shown = held(_wide_drawing(), 150, 120)
    low_x, low_y, high_x, high_y = bounds(shown.marks)
    assert min(low_x, low_y) >= -1e-6
    assert high_x <= 150 + 1e-6
    assert high_y <= 120 + 1e-6
    texts = [mark for mark in shown.marks if isinstance(mark, Text)]
    assert [text.role for text in texts] == ["note"]  # it is at no scale that could be named
    assert texts[0].size == LEAST_SIZE


def test_a_drawing_that_fits_is_left_alone() -> None:
    drawing = Drawing(300, 200, (Stroke(((0, 0), (290, 190)), Meaning.VISIBLE),))
    assert held(drawing, 300, 200) == drawing

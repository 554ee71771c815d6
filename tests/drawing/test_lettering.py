"""Lettering: widths, true fractions that read back, and the signs added to the typeface."""

from __future__ import annotations

from io import BytesIO

import pypdf
import pypdfium2
import pytest
from hypothesis import given
from hypothesis import strategies as st

from plangen.drawing.sheet.lettering import (
    cap_height,
    figure_height,
    font_bytes,
    missing_glyphs,
    plain_text,
    set_fractions,
    size_for_figures,
    text_width,
)
from plangen.drawing.sheet.model import Weight
from plangen.drawing.writers.pdf_fonts import font_name, register_fonts

SET = [
    "3\u00a013/16",
    "3 13/16",
    "3/4",
    "(1/2)",
    "−1/8",
    "⌀3/8",
    "R6\u00a05/8",
    "R 3/4",
    "×\u00a07/8",
    "cut 1/2, then",
    "1/64",
]
LEFT = [
    "3/14/2026",
    "1:4",
    "and/or",
    "4/4",
    "8/4",
    "5/4",
    "A1/2",
    "1/2x",
    "1/2.5",
    "0/3",
    "x/2",
    "km/h",
    "12-1/2",
    "1/2:3",
]


@pytest.mark.parametrize("text", SET)
def test_fractions_are_set(text: str) -> None:
    assert set_fractions(text) != text
    assert "/" not in set_fractions(text)
    assert plain_text(set_fractions(text)) == text.replace("\u00a01", " 1").replace("\u00a05", " 5")


@pytest.mark.parametrize("text", LEFT)
def test_what_is_no_fraction_stays_as_typed(text: str) -> None:
    assert set_fractions(text) == text


@given(st.text(alphabet="0123456789/ \u00a0-.:(R⌀ab", max_size=20))
def test_setting_fractions_loses_nothing(text: str) -> None:
    for large in (True, False):
        back = plain_text(set_fractions(text, large=large))
        assert back.replace("\u00a0", " ") == text.replace("\u00a0", " ")
        assert not missing_glyphs(set_fractions(text, large=large))


@pytest.mark.parametrize("large", [True, False])
def test_fractions_read_back_through_two_readers(large: bool) -> None:
    from reportlab.pdfgen.canvas import Canvas

    register_fonts()
    target = BytesIO()
    canvas = Canvas(target, pagesize=(400, 200), initialFontName=font_name())
    for line, weight in enumerate(Weight):
        canvas.setFont(font_name(weight), 11)
        canvas.drawString(
            20, 150 - 20 * line, set_fractions("Cut 3\u00a013/16 × 23\u00a01/2, ⌀3/8 □ ★", large=large)
        )
    canvas.save()
    wanted = ["Cut 3 13/16 × 23 1/2, ⌀3/8 □ ★"] * 3
    assert pypdf.PdfReader(target).pages[0].extract_text().splitlines() == wanted
    page = pypdfium2.PdfDocument(target.getvalue())[0]
    assert page.get_textpage().get_text_range().splitlines() == wanted


@pytest.mark.parametrize("weight", list(Weight))
def test_width_agrees_with_the_pdf_library(weight: Weight) -> None:
    from reportlab.pdfbase.pdfmetrics import stringWidth

    register_fonts()
    text = "Stretcher 28\u00a01/2 × 3\u00a013/16 ⌀5 ★ □ −½"
    for large in (True, False):
        drawn = stringWidth(set_fractions(text, large=large), font_name(weight), 10.5)
        assert text_width(text, 10.5, weight, large=large) == pytest.approx(drawn, abs=1e-6)


def test_heights_are_those_of_the_typeface() -> None:
    # Source Sans Pro 2.020: capital height 660, figures about 650 of 1000 (read from the font file)
    assert cap_height(10) == pytest.approx(6.6)
    assert figure_height(10) == pytest.approx(6.4, abs=0.15)
    assert figure_height(size_for_figures(3.5)) == pytest.approx(3.5)


def test_large_fractions_are_larger() -> None:
    assert text_width("13/16", 10) > 1.15 * text_width("13/16", 10, large=False)


def test_missing_signs_are_named_once_and_sorted() -> None:
    assert missing_glyphs("a漢字漢b\n⌀□★✓→☐") == "字漢"


def test_the_font_file_is_the_same_every_time() -> None:
    from plangen.drawing.sheet import lettering

    first = font_bytes(Weight.SEMIBOLD)
    lettering._made.cache_clear()
    assert font_bytes(Weight.SEMIBOLD) == first


@pytest.mark.parametrize("large", [True, False])
def test_a_whole_number_stands_clear_of_its_fraction(large: bool) -> None:
    """No less than a twelfth of an em, so that 1 7/32 is not read as 17/32 (common practice, no source)."""
    apart = (
        text_width("1 7/32", 1.0, large=large) - text_width("1", 1.0) - text_width("7/32", 1.0, large=large)
    )
    assert apart > 1 / 12

"""Markdown of steps and chapters."""

from __future__ import annotations

import pytest

from plangen.booklet.markdown import inline, plain_words, sentences
from plangen.booklet.numbers import Numbers, rounded, short
from plangen.booklet.setting import Setting
from plangen.booklet.style import look_of
from plangen.booklet.words import read_words
from plangen.units import LengthStyle, inches, millimetres
from tests.booklet.sample_book import book, templates


@pytest.fixture
def setting() -> Setting:
    made = book()
    return Setting(
        made, look_of("letter", "publish"), read_words(templates()["words.toml"]), {"part:side left": 7}, 9
    )


def test_sentences_are_cut_at_their_ends_and_nowhere_else() -> None:
    text = "Cut the rail. Drive 4 screws No. 8 × 1 1/2 in. Check **A-L** first! Is it square? Go on."
    assert sentences(text) == [
        "Cut the rail.",
        "Drive 4 screws No. 8 × 1 1/2 in.",
        "Check **A-L** first!",
        "Is it square?",
        "Go on.",
    ]


def test_items_of_a_list_are_not_cut() -> None:
    assert sentences("- One. Still one.\n- Two.\n\n1. Three.\n") == ["One. Still one.", "Two.", "Three."]


def test_links_lead_only_where_the_booklet_goes(setting: Setting) -> None:
    assert inline(setting, "[A](<part:side left>)") == '<a href="#part:side left">A</a>'
    assert inline(setting, "[Z](<part:gone>)") == "Z"
    assert inline(setting, "[x](javascript:alert(1))") == "[x](javascript:alert(1))"
    assert inline(setting, "[x](file:///etc/passwd)") in ("x", "[x](file:///etc/passwd)")


def test_markup_cannot_be_smuggled_in(setting: Setting) -> None:
    assert (
        inline(setting, "a < b & <font size=99>c</font>")
        == "a &lt; b &amp; &lt;font size=99&gt;c&lt;/font&gt;"
    )


def test_plain_words_lose_their_marks() -> None:
    assert plain_words("Glue **B** to [A](<part:side left>)") == "Glue B to A"


@pytest.mark.parametrize(
    ("value", "places", "text"),
    [("1/2", 0, "1"), ("-1/2", 0, "−1"), ("1/3", 2, "0.33"), ("2.675", 2, "2.68"), ("0", 1, "0.0")],
)
def test_rounding_is_exact_and_halves_go_away_from_zero(value: str, places: int, text: str) -> None:
    from fractions import Fraction

    assert rounded(Fraction(value), places) == text


def test_numbers_speak_the_units_of_the_edition() -> None:
    from fractions import Fraction

    inch, metric, both = (Numbers(LengthStyle(system)) for system in ("inch", "mm", "both"))
    assert inch.mass(Fraction("4.5359237")) == ("10", "lb")  # exact pound, 1959 agreement
    assert metric.mass(Fraction("4.5359237")) == ("4.5", "kg")
    assert inch.wood(Fraction(12), Fraction(0)) == ("12", "board feet")
    # 12 board feet are one cubic foot, 0.0283168 m3
    assert metric.wood(Fraction(12), Fraction(28_316_847)) == ("0.028", "m³")
    assert inch.area(Fraction(3048, 10) ** 2) == ("1", "sq ft")
    assert inch.thickness(inches("0.22"), unit=True) == "0.22\u00a0in"
    assert both.column(millimetres(254)) == "10\n(254)"
    assert both.product([inches(1), inches(2)]) == "1 × 2\u00a0in (25.5 × 51\u00a0mm)"
    assert short(Fraction(3), 2) == "3"

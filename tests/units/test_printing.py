import re
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from plangen.units import (
    ZERO,
    Length,
    LengthStyle,
    inches,
    millimetres,
    phrase,
    print_chain,
    print_length,
)
from plangen.units.printing import NO_BREAK_SPACE, printed_step, rounded, rounded_chain

STYLES = st.sampled_from([
    LengthStyle("inch", 16), LengthStyle("inch", 32), LengthStyle("inch", 8), LengthStyle("mm"),
    LengthStyle("mm", step=Fraction(1)), LengthStyle("mm", step=Fraction(1, 10)),
])  # fmt: skip
LINKS = st.fractions(min_value=0, max_value=5000, max_denominator=6400).map(Length)
LENGTHS = st.fractions(min_value=-5000, max_value=5000, max_denominator=6400).map(Length)


def read(text: str, style: LengthStyle) -> Length:
    """Read printed text back as a person at a tape does."""
    sign = -1 if text.startswith("−") else 1
    words = text.lstrip("−").replace(NO_BREAK_SPACE, " ").split()
    value = sum((Fraction(word) for word in words), Fraction(0)) * sign
    return millimetres(value) if style.system == "mm" else inches(value)


@given(LENGTHS, STYLES)
def test_reading_back_is_within_half_a_step(length: Length, style: LengthStyle) -> None:
    assert abs(read(print_length(length, style), style) - length) <= printed_step(style) / 2


@given(st.integers(-100_000, 100_000), STYLES)
def test_exact_multiples_print_exactly(number: int, style: LengthStyle) -> None:
    length = printed_step(style) * number
    assert read(print_length(length, style), style) == length


@given(LENGTHS, STYLES)
def test_what_is_printed_prints_the_same_again(length: Length, style: LengthStyle) -> None:
    text = print_length(length, style)
    assert print_length(read(text, style), style) == text


@given(LENGTHS, STYLES)
def test_fractions_are_in_lowest_terms(length: Length, style: LengthStyle) -> None:
    for top, bottom in re.findall(r"(\d+)/(\d+)", print_length(length, style)):
        assert Fraction(int(top), int(bottom)).numerator == int(top)
        assert int(top) < int(bottom)
        assert style.denominator % int(bottom) == 0 or (abs(length) < inches(1) and 64 % int(bottom) == 0)


@given(st.lists(LINKS, min_size=1, max_size=9), STYLES)
def test_printed_links_add_up_to_the_printed_whole(links: list[Length], style: LengthStyle) -> None:
    whole = sum(links, ZERO)
    printed = [read(text, style) for text in print_chain(links, style)]
    assert sum(printed, ZERO) == read(print_length(whole, style), style)


@given(st.lists(LINKS, min_size=1, max_size=9), STYLES)
def test_no_link_is_off_by_a_step(links: list[Length], style: LengthStyle) -> None:
    for link, shown in zip(links, rounded_chain(links, style), strict=True):
        assert abs(link - shown) < printed_step(style)


@given(st.lists(st.integers(0, 900), min_size=1, max_size=9), STYLES)
def test_a_chain_of_exact_links_is_left_alone(counts: list[int], style: LengthStyle) -> None:
    links = tuple(printed_step(style) * count for count in counts)
    assert rounded_chain(links, style) == links


def test_rounding_alone_would_not_add_up() -> None:
    style = LengthStyle("inch", 16)
    third = inches(1) / 3  # 5.33 sixteenths each: alone they print 5/16, which makes 15/16
    assert print_chain([third] * 3, style) == ("3/8", "5/16", "5/16")


def test_equal_losses_go_to_the_earlier_link() -> None:
    half = millimetres("1/4")
    assert rounded_chain([half, half], LengthStyle("mm")) == (millimetres("1/2"), ZERO)


# Shop practice, no source: mixed fractions in lowest terms, a leading zero for millimetres below one.
@pytest.mark.parametrize(
    ("length", "style", "text"),
    [(inches("61/16"), LengthStyle(), "3 13/16"), (inches("3/4"), LengthStyle(), "3/4"),
     (inches(12), LengthStyle(), "12"), (inches("33/32"), LengthStyle(denominator=16), "1 1/16"),
     (inches("11/64"), LengthStyle(), "11/64"), (inches("3/100"), LengthStyle(), "1/32"),
     (inches("4/100"), LengthStyle(), "3/64"), (ZERO, LengthStyle(), "0"),
     (inches("33/32"), LengthStyle(), "1 1/32"), (-inches("9/2"), LengthStyle(), "−4 1/2"),
     (millimetres("825/2"), LengthStyle("mm"), "412.5"), (millimetres(1000), LengthStyle("mm"), "1000"),
     (millimetres("1/2"), LengthStyle("mm"), "0.5"), (-millimetres("1/10"), LengthStyle("mm"), "0"),
     (-millimetres(3), LengthStyle("mm"), "−3")],
)  # fmt: skip
def test_print(length: Length, style: LengthStyle, text: str) -> None:
    assert print_length(length, style) == text.replace(" ", NO_BREAK_SPACE)


def test_units_and_both_systems() -> None:
    style = LengthStyle("both")
    assert print_length(inches("3/4"), LengthStyle(), unit=True) == f"3/4{NO_BREAK_SPACE}in"
    assert print_length(inches("3/4"), style) == "3/4 in (19 mm)".replace(" ", NO_BREAK_SPACE)
    assert print_chain([inches("3/4"), inches("3/4")], style) == (
        "3/4 in (19 mm)".replace(" ", NO_BREAK_SPACE),
        "3/4 in (19 mm)".replace(" ", NO_BREAK_SPACE),
    )


def test_an_inch_is_exact() -> None:
    # International yard and pound agreement (1959): 1 in = 25.4 mm.
    assert inches(1).mm == Fraction(254, 10)


@given(LENGTHS, STYLES)
def test_rounding_twice_changes_nothing(length: Length, style: LengthStyle) -> None:
    assert rounded(rounded(length, style), style) == rounded(length, style)


def test_a_chain_within_a_drill_size_keeps_its_whole() -> None:
    links = [inches("11/64"), inches("1/3"), inches("1/6")]
    whole = sum(links, ZERO)
    assert print_length(whole, LengthStyle()) == "43/64"
    assert sum((read(text, LengthStyle()) for text in print_chain(links, LengthStyle())), ZERO) == whole


@given(LENGTHS, LENGTHS)
def test_arithmetic_is_exact(one: Length, two: Length) -> None:
    assert one + two - two == one
    assert ZERO - one == -one
    assert bool(one - one) is False
    if two:
        assert two * (one / two) == one
        assert abs(two).mm > 0


def test_a_phrase_keeps_its_lengths_until_it_is_printed() -> None:
    words = phrase("Cut ", inches("3/4"), phrase(" off ", millimetres(10)), ".")
    assert words.text(LengthStyle("mm"), unit=False) == "Cut 19 off 10."
    assert words.text(LengthStyle()) == f"Cut 3/4{NO_BREAK_SPACE}in off 25/64{NO_BREAK_SPACE}in."
    assert not phrase()
    assert (words + phrase(" Go.")).pieces == (*words.pieces, " Go.")

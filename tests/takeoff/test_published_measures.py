"""Board feet against printed sums. The sources are old trade books, named at each."""

from __future__ import annotations

from fractions import Fraction

import pytest

from plangen.handbook.lumber import board_feet
from plangen.units import Length, inches
from tests.takeoff.cases import pine, plain_design, taken


def feet(thick: object, wide: object, long: object, number: int = 1) -> Fraction:
    return board_feet(
        inches(Fraction(str(thick))), inches(Fraction(str(wide))), inches(Fraction(str(long)) * 12), number
    )


@pytest.mark.parametrize(
    ("number", "thick", "wide", "long", "printed"),
    [
        (1, 2, 4, 14, "28/3"),  # NAVEDTRA engineering-aid text: 14 ft of 2 × 4 is 9 1/3
        (1, 1, 10, 10, "25/3"),  # the same: 8 4/12
        (1, 1, 7, 33, "77/4"),  # the same: 19 3/12
        (12, "1/2", 8, 12, "96"),  # G. W. Danforth (1911), specimen bill, item 2: under 1 in counts as 1 in
        (80, "3/2", 6, 16, "960"),  # the same, item 3
        (1, 1, 6, 12, "6"),  # W. Noyes, Handwork in Wood (1910)
        (1, 1, 6, 15, "15/2"),  # the same
        (1, 1, 11, 14, "77/6"),  # the same, Essex table: 12 ft 10 in
        (1, 1, 9, 5, "15/4"),  # the same: 3 ft 9 in
        (1, 1, 13, 23, "299/12"),  # the same: 13 + 11 11/12
        (1, 6, 8, 16, "64"),  # I. S. Griffith: girder
        (4, 1, 8, 14, "112/3"),  # US Army EN5155: 37 1/3
        (1, 1, 12, 10, "10"),  # E. W. Foster, Carpentry and Woodwork (1913), Mensuration
        (1, 6, 12, 16, "96"),  # the same: joist
        (1, 6, 9, 14, "63"),  # the same: beam
        (1, 4, 8, 18, "48"),  # the same
        (1, 3, 10, 20, "50"),  # Building Trades Pocketbook (c. 1905)
        (1, 2, 6, 26, "26"),  # the same
        (1, 2, 10, 18, "30"),  # the same
    ],
)
def test_board_feet(number, thick, wide, long, printed):
    assert feet(thick, wide, long, number) == Fraction(printed)


def test_foster_packing_case():
    """E. W. Foster, Carpentry and Woodwork (1913), Fig. 235: a case 56 × 38 × 32 of 1-in stock takes
    2 of 56 × 38, 2 of 56 × 30 and 2 of 36 × 30 in, 67 8/9 board feet with no waste."""
    outside = [inches(size) for size in (56, 38, 32)]
    inch = inches(1)
    sides = [
        (2, outside[1], outside[0]),
        (2, outside[2] - inch * 2, outside[0]),
        (2, outside[2] - inch * 2, outside[1] - inch * 2),
    ]
    assert [(number, wide.inches, long.inches) for number, wide, long in sides] == [
        (2, 38, 56), (2, 30, 56), (2, 30, 36),
    ]  # fmt: skip
    goods = pine(thickness=inch, species="unknown", widths=(inches(40),), lengths=(inches(96),))
    lists, findings = taken(plain_design(goods, sides))
    assert not list(findings)
    assert lists.plans[0].net_board_feet == Fraction("67") + Fraction(8, 9)


# Building Construction, vol. 4 (correspondence-school text, c. 1899-1905), article 67: pieces, length in ft.
SECOND_STORY = (
    (15, "14"), (2, "15.5"), (5, "17"), (3, "15"), (14, "16"), (2, "7"), (2, "10"), (4, "11"), (7, "24"),
    (3, "20.5"), (4, "12.5"), (2, "13.5"),
)  # fmt: skip
HEADERS = ((2, "8.75"), (2, "6"), (5, "9.75"), (11, "19.5"))


@pytest.mark.parametrize(
    ("rows", "thick", "lineal", "printed", "exact"),
    [
        (SECOND_STORY, 2, "979.5", "1632.5", "1632.5"),
        (HEADERS, 3, "292.75", "731.87", "731.875"),  # the book cuts the last figure off
        (((1, "8.75"),), 6, "8.75", "52.5", "52.5"),
    ],
)
def test_floor_lists(rows, thick, lineal, printed, exact):
    wide = 12 if thick == 6 else 10
    assert sum(number * Fraction(long) for number, long in rows) == Fraction(lineal)
    total = sum(feet(thick, wide, long, number) for number, long in rows)
    assert total == Fraction(exact)
    assert total - Fraction(printed) < Fraction(1, 100)


def test_small_lengths_stay_exact():
    third = Length(Fraction(1000, 3))
    assert board_feet(third, third, third) * inches(12).mm ** 2 * inches(1).mm == third.mm**3

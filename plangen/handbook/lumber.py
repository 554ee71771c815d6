"""Sizes of lumber: quarters, dressed softwood, and the board foot."""

from __future__ import annotations

from fractions import Fraction
from types import MappingProxyType
from typing import Final

from plangen.units import Length, inches

# Hardwood quarters, rough inches -> surfaced two sides (S2S): NHLA rules as reprinted in a hardwood
# lumber chart. The surfaced figure is for grading, not a promise; measure what you bought.
_SURFACED: Final = MappingProxyType({
    "3/8": "3/16", "1/2": "5/16", "5/8": "7/16", "3/4": "9/16", "1": "13/16", "5/4": "17/16", "3/2": "21/16",
    "7/4": "3/2", "2": "7/4", "3": "11/4", "7/2": "13/4", "4": "15/4",
})  # fmt: skip

# American Softwood Lumber Standard, PS 20, Table 3, dry (19 % or less): nominal -> least dressed size.
_BOARD_THICKNESS: Final = MappingProxyType({
    "3/8": "5/16", "1/2": "7/16", "5/8": "9/16", "3/4": "5/8", "1": "3/4", "5/4": "1", "3/2": "5/4",
})  # fmt: skip
_DIMENSION_THICKNESS: Final = MappingProxyType({
    "2": "3/2", "5/2": "2", "3": "5/2", "7/2": "3", "4": "7/2", "9/2": "4",
})  # fmt: skip
# Timbers of 5 and 6 in nominal are half an inch less, dry or green.
_TIMBER_THICKNESS: Final = MappingProxyType({"5": "9/2", "6": "11/2"})
_WIDTH: Final = MappingProxyType({
    "2": "3/2", "3": "5/2", "4": "7/2", "5": "9/2", "6": "11/2", "7": "13/2", "8": "29/4", "9": "33/4",
    "10": "37/4", "11": "41/4", "12": "45/4", "14": "53/4", "16": "61/4",
})  # fmt: skip

BOARD_FOOT: Final = inches(1).mm * inches(12).mm * inches(12).mm  # mm3; 144 cubic inches


def rough_thickness(quarters: str) -> Length:
    """Give the rough thickness of a quarters mark such as ``5/4``: a quarter of an inch each.

    Raises ValueError for text that is not so many fourths.
    """
    count, slash, four = quarters.strip().partition("/")
    if not slash or four != "4" or not count.isdigit() or int(count) == 0:
        raise ValueError(f"'{quarters}' is not a quarters mark such as 4/4")
    return inches(Fraction(int(count), 4))


def surfaced_thickness(quarters: str) -> Length | None:
    """Give the S2S thickness of a quarters mark; None where the table has none (say 10/4)."""
    rough = rough_thickness(quarters)
    return next((inches(to) for of, to in _SURFACED.items() if inches(of) == rough), None)


def dressed_thickness(nominal: Length) -> Length | None:
    """Give the dry dressed thickness of nominal softwood by PS 20; None outside its table."""
    table = {**_BOARD_THICKNESS, **_DIMENSION_THICKNESS, **_TIMBER_THICKNESS}
    return next((inches(to) for of, to in table.items() if inches(of) == nominal), None)


def dressed_width(nominal: Length) -> Length | None:
    """Give the dry dressed width of nominal softwood by PS 20; None outside its table."""
    return next((inches(to) for of, to in _WIDTH.items() if inches(of) == nominal), None)


def board_feet(thickness: Length, width: Length, length: Length, number: int = 1) -> Fraction:
    """Give the board feet of ``number`` boards by the trade rule, on nominal sizes.

    One board foot is 1 × 12 × 12 in. Stock thinner than 1 in counts as 1 in thick (NAVEDTRA
    engineering-aid text; W. Noyes, Handwork in Wood, 1910).
    """
    return max(thickness, inches(1)).mm * width.mm * length.mm * number / BOARD_FOOT

"""Sizes in which drill bits, router bits and chisels are sold. Common practice, no source."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from fractions import Fraction
from typing import Final

from plangen.units import Length, inches, millimetres

INCH_DRILLS: Final = tuple(inches(Fraction(n, 64)) for n in range(2, 33))  # 1/32 to 1/2 in, a drill index
MM_DRILLS: Final = tuple(millimetres(Fraction(n, 2)) for n in range(2, 27))  # 1 to 13 mm
INCH_BORING_BITS: Final = tuple(
    inches(Fraction(n, 16)) for n in (4, 5, 6, 7, 8, 10, 12, 14, 16, 18, 20, 22, 24, 28, 32)
)
MM_BORING_BITS: Final = tuple(
    millimetres(n) for n in (6, 8, 10, 12, 15, 16, 18, 20, 22, 25, 28, 30, 32, 35, 40, 45, 50)
)
INCH_STRAIGHT_BITS: Final = tuple(
    inches(size) for size in ("1/8", "3/16", "1/4", "5/16", "3/8", "1/2", "5/8", "3/4", "7/8", "1")
)
MM_STRAIGHT_BITS: Final = tuple(millimetres(n) for n in (3, 4, 5, 6, 8, 10, 12, 14, 16, 18, 20, 22, 25))
INCH_CHISELS: Final = tuple(inches(size) for size in ("1/8", "1/4", "3/8", "1/2", "5/8", "3/4", "1"))
MM_CHISELS: Final = tuple(millimetres(n) for n in (3, 4, 6, 8, 10, 12, 16, 20, 25))


def nearest(size: Length, sold: tuple[Length, ...]) -> Length:
    """Give the size sold that is nearest to ``size``; of two as near, the smaller."""
    return min(sold, key=lambda one: (abs(one - size), one))


def at_most(size: Length, sold: tuple[Length, ...]) -> Length | None:
    """Give the largest size sold that is no larger than ``size``; None when all are larger."""
    index = bisect_right(sold, size)
    return sold[index - 1] if index else None


def at_least(size: Length, sold: tuple[Length, ...]) -> Length | None:
    """Give the smallest size sold that is no smaller than ``size``; None when all are smaller."""
    index = bisect_left(sold, size)
    return sold[index] if index < len(sold) else None


def nearest_drill(size: Length, *, metric: bool) -> Length:
    """Give the twist drill nearest to ``size``: by 1/64 in to 1/2 in, or by 0.5 mm to 13 mm.

    Raises ValueError for a size more than 1 mm past the largest drill of the set.
    """
    sold = MM_DRILLS if metric else INCH_DRILLS
    if size > sold[-1] + millimetres(1):
        raise ValueError(f"no twist drill as large as {float(size):g} mm in the set")
    return nearest(size, sold)


def straight_bit(width: Length, *, metric: bool) -> Length | None:
    """Give the widest straight router bit that cuts no wider than ``width``."""
    return at_most(width, MM_STRAIGHT_BITS if metric else INCH_STRAIGHT_BITS)

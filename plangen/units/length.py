"""Exact lengths: a fraction of millimetres, so that 3/4 in and 19 mm both stay what they are."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import overload

MM_PER_INCH = Fraction(254, 10)  # exact by definition (international yard and pound agreement, 1959)


@dataclass(frozen=True, order=True, slots=True)
class Length:
    """A length; ``mm`` is exact. ``float(length)`` gives millimetres for geometry and drawing."""

    mm: Fraction

    @property
    def inches(self) -> Fraction:
        """The exact number of inches."""
        return self.mm / MM_PER_INCH

    def __add__(self, other: Length) -> Length:
        return Length(self.mm + other.mm)

    def __sub__(self, other: Length) -> Length:
        return Length(self.mm - other.mm)

    def __neg__(self) -> Length:
        return Length(-self.mm)

    def __abs__(self) -> Length:
        return Length(abs(self.mm))

    def __mul__(self, factor: int | Fraction) -> Length:
        return Length(self.mm * factor)

    __rmul__ = __mul__

    @overload
    def __truediv__(self, other: Length) -> Fraction: ...
    @overload
    def __truediv__(self, other: int | Fraction) -> Length: ...
    def __truediv__(self, other: Length | int | Fraction) -> Length | Fraction:
        if isinstance(other, Length):
            return self.mm / other.mm
        return Length(self.mm / other)

    def __float__(self) -> float:
        return float(self.mm)

    def __bool__(self) -> bool:
        return self.mm != 0


ZERO = Length(Fraction(0))


def inches(value: int | str | Fraction) -> Length:
    """Give a length from a number of inches: ``inches(3)``, ``inches("3/4")``."""
    return Length(Fraction(value) * MM_PER_INCH)


def millimetres(value: int | str | Fraction) -> Length:
    """Give a length from a number of millimetres."""
    return Length(Fraction(value))

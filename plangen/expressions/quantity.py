"""Exact quantities: a fraction and its kind, and the limits on both."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from plangen.units import Length

Kind = Literal["number", "length", "area", "volume", "angle"]
Units = Literal["inch", "mm"]

KIND_WORDS: dict[Kind, str] = {
    "number": "a plain number",
    "length": "a length",
    "area": "an area",
    "volume": "a volume",
    "angle": "an angle",
}
BY_POWER: tuple[Kind, ...] = ("number", "length", "area", "volume")
POWERS: dict[Kind, int] = {kind: power for power, kind in enumerate(BY_POWER)}

# What is no longer exact (after a root or an angle) is kept on a grid: lengths to 1 nm, plain
# numbers fine enough that a thousand metres times one of them is still good to 1 nm.
GRID: dict[Kind, Fraction] = {
    "number": Fraction(1, 10**15),
    "length": Fraction(1, 10**6),
    "area": Fraction(1, 10**6),
    "volume": Fraction(1, 10**6),
    "angle": Fraction(1, 10**12),
}
LARGEST = 10**15
MOST_BITS = 256


@dataclass(frozen=True, slots=True)
class Quantity:
    """A value in millimetres to the power of its kind, in degrees, or a plain number.

    ``exact`` is False once a root or an angle has been taken that has no exact fraction.
    """

    value: Fraction
    kind: Kind
    exact: bool = True

    @property
    def length(self) -> Length:
        """The value as a length; ValueError for any other kind."""
        if self.kind != "length":
            raise ValueError(f"{KIND_WORDS[self.kind]} is not a length")
        return Length(self.value)

    @property
    def too_large(self) -> bool:
        """Whether the value is beyond what any project needs, in size or in digits."""
        return abs(self.value) > LARGEST or self.value.denominator.bit_length() > MOST_BITS

    def on_grid(self) -> Quantity:
        """Give the value rounded to its grid, unless it is exact."""
        if self.exact:
            return self
        step = GRID[self.kind]
        return Quantity(round(self.value / step) * step, self.kind, False)

    def printed(self, units: Units) -> str:
        """Print for a message, as it would be typed: ``8-1/8in``, ``412.5mm``, ``30deg``, ``5``."""
        if self.kind == "length":
            if units == "mm":
                return f"{_decimal(self.value)}mm"
            return f"{_tape(self.value / Fraction(254, 10))}in"
        if self.kind == "angle":
            return f"{_decimal(self.value)}deg"
        if self.kind == "number":
            return _tape(self.value)
        if units == "inch":
            return f"{_decimal(self.value / Fraction(254, 10) ** POWERS[self.kind])} {self.kind} in inches"
        return f"{_decimal(self.value)} {self.kind} in mm"


def length_of(value: Length) -> Quantity:
    """Give the quantity of a length."""
    return Quantity(value.mm, "length")


def number_of(value: int | Fraction) -> Quantity:
    """Give the quantity of a plain number."""
    return Quantity(Fraction(value), "number")


def _decimal(value: Fraction) -> str:
    text = f"{float(round(value, 6)):.6f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _tape(value: Fraction) -> str:
    whole, rest = divmod(abs(value), 1)
    sign = "-" if value < 0 else ""
    if not rest:
        return f"{sign}{whole}"
    if rest.denominator not in (2, 4, 8, 16, 32, 64):
        return _decimal(value)
    return f"{sign}{whole}-{rest}" if whole else f"{sign}{rest}"

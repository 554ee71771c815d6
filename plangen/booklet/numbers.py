"""Numbers as the booklet prints them: lengths, weights, areas, money. One place, so none differs."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from plangen.design.model import Money
from plangen.handbook.currencies import amount_words
from plangen.units import Length, LengthStyle, Phrase, print_length, print_reading

POUND = Fraction(45359237, 100_000_000)  # kg, exact (international yard and pound agreement, 1959)
SQUARE_FOOT = Fraction(3048, 10) ** 2  # mm2, exact from the foot of 304.8 mm


def rounded(value: Fraction, places: int = 0) -> str:
    """Print a number with so many decimal places, halves away from zero."""
    factor = 10**places
    whole = int(abs(value) * factor + Fraction(1, 2))
    sign = "−" if value < 0 and whole else ""
    if not places:
        return f"{sign}{whole}"
    return f"{sign}{whole // factor}.{whole % factor:0{places}d}"


def short(value: Fraction, places: int = 1) -> str:
    """Print a number with at most so many places and no idle zeros."""
    text = rounded(value, places)
    return text.rstrip("0").rstrip(".") if "." in text else text


def _mass(value: Fraction) -> str:
    return rounded(value) if value >= 10 else short(value)


class Numbers:
    """Prints in one edition's units."""

    def __init__(self, style: LengthStyle) -> None:
        self.style = style
        self.metric = style.system == "mm"

    def length(self, length: Length, *, unit: bool = False) -> str:
        """Print a length."""
        return print_length(length, self.style, unit=unit)

    def column(self, length: Length, *, reading: bool = False) -> str:
        """Print a length for a column of sizes; of both systems, one under the other without units."""
        show = print_reading if reading else print_length
        if self.style.system != "both":
            return show(length, self.style)
        inch, metric = show(length, self.style.only("inch")), show(length, self.style.only("mm"))
        return f"{inch}\n({metric})"

    def product(self, lengths: Sequence[Length]) -> str:
        """Print sizes as ``24 × 18 × 9 in``; of both systems, millimetres follow in parentheses."""

        def joined(style: LengthStyle) -> str:
            return f"{' × '.join(print_length(one, style) for one in lengths)}\u00a0{style.unit_word}"

        if self.style.system != "both":
            return joined(self.style)
        return f"{joined(self.style.only('inch'))} ({joined(self.style.only('mm'))})"

    def thickness(self, length: Length, *, unit: bool = False) -> str:
        """Print the thickness of stock as a caliper reads it: plywood of 0.22 in is not 1/4 in."""
        return print_reading(length, self.style, unit=unit)

    def words(self, phrase: Phrase, *, unit: bool = True) -> str:
        """Print a phrase."""
        return phrase.text(self.style, unit=unit)

    def mass(self, kilograms: Fraction) -> tuple[str, str]:
        """Print a weight and its unit; under ten with one decimal, in both units the kilograms second."""
        metric, inch = _mass(kilograms), _mass(kilograms / POUND)
        if self.metric:
            return metric, "kg"
        return inch, f"lb ({metric}\u00a0kg)" if self.style.system == "both" else "lb"

    def area(self, square_mm: Fraction) -> tuple[str, str]:
        """Print an area and its unit."""
        if self.metric:
            return short(square_mm / 1_000_000, 2), "m²"
        return short(square_mm / SQUARE_FOOT), "sq ft"

    def wood(self, board_feet: Fraction, volume: Fraction) -> tuple[str, str]:
        """Print how much solid wood and its unit: board feet, or cubic metres of ``volume`` (mm3)."""
        if self.metric:
            return rounded(volume / 10**9, 3), "m³"
        return short(board_feet), "board feet"

    def sheets(self, square_feet: Fraction) -> tuple[str, str]:
        """Print an area of sheets."""
        return self.area(square_feet * SQUARE_FOOT)

    @staticmethod
    def money(money: Money | None) -> str:
        """Print an amount as it is paid, with its currency; empty without one."""
        return f"{amount_words(money.amount, money.currency)} {money.currency}" if money else ""

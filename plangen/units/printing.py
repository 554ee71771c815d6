"""Print lengths as a maker reads them: nearest tape fraction, or millimetres."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Literal

from plangen.units.length import MM_PER_INCH, Length

NO_BREAK_SPACE = "\u00a0"
System = Literal["inch", "mm", "both"]
_SIXTY_FOURTHS = 64


@dataclass(frozen=True, slots=True)
class LengthStyle:
    """How one edition prints lengths.

    ``denominator`` is the finest tape fraction (16 or 32); ``step`` the finest millimetre (1 or 1/2).
    """

    system: System = "inch"
    denominator: int = 16
    step: Fraction = Fraction(1, 2)

    @property
    def unit_word(self) -> str:
        """The word for the unit in prose: ``in`` or ``mm``."""
        return "mm" if self.system == "mm" else "in"

    def only(self, system: System) -> LengthStyle:
        """Give the same style for one system."""
        return replace(self, system=system)


def rounded(length: Length, style: LengthStyle) -> Length:
    """Round to what the style can print, halves away from zero.

    Inches under one that are exact 64ths stay as they are: drills are sold in them.
    """
    if style.system == "mm":
        unit = Length(style.step)
    else:
        if abs(length.inches) < 1 and _SIXTY_FOURTHS % length.inches.denominator == 0:
            return length
        unit = Length(MM_PER_INCH / style.denominator)
    steps = abs(length.mm) / unit.mm
    whole = int(steps + Fraction(1, 2))
    return unit * (whole if length.mm >= 0 else -whole)


def print_length(length: Length, style: LengthStyle, *, unit: bool = False) -> str:
    """Print a length as plain text: ``3 13/16`` (a no-break space inside), ``412`` or ``412.5``.

    With ``unit`` the unit's word follows after a no-break space; the style ``both`` always names
    units, millimetres in parentheses.
    """
    if style.system == "both":
        inch = print_length(length, style.only("inch"), unit=True)
        metric = print_length(length, style.only("mm"), unit=True)
        return f"{inch}{NO_BREAK_SPACE}({metric})"
    value = rounded(length, style)
    if style.system == "mm":
        text = f"{float(value):.3f}".rstrip("0").rstrip(".")
        text = text.replace("-", "−")
    else:
        text = _inch_fraction(value.inches)
    return f"{text}{NO_BREAK_SPACE}{style.unit_word}" if unit else text


def print_reading(length: Length, style: LengthStyle, *, unit: bool = False) -> str:
    """Print what a caliper reads: a fraction where it is one of 64ths, else ``0.703``; ``17.8`` in mm."""
    if style.system == "both":
        inch = print_reading(length, style.only("inch"), unit=True)
        metric = print_reading(length, style.only("mm"), unit=True)
        return f"{inch}{NO_BREAK_SPACE}({metric})"
    if style.system == "inch" and _SIXTY_FOURTHS % length.inches.denominator == 0:
        text = _inch_fraction(length.inches)
    else:
        value, digits = (length.inches, 3) if style.system == "inch" else (length.mm, 1)
        text = f"{float(value):.{digits}f}".rstrip("0").rstrip(".").replace("-", "−")
    return f"{text}{NO_BREAK_SPACE}{style.unit_word}" if unit else text


def _inch_fraction(value: Fraction) -> str:
    sign = "−" if value < 0 else ""
    whole, rest = divmod(abs(value), 1)
    if not rest:
        return f"{sign}{whole}"
    fraction = f"{rest.numerator}/{rest.denominator}"
    return f"{sign}{whole}{NO_BREAK_SPACE}{fraction}" if whole else f"{sign}{fraction}"

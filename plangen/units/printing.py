"""Print lengths as a maker reads them: nearest tape fraction, or millimetres."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from math import floor
from typing import Literal

from plangen.units.length import MM_PER_INCH, ZERO, Length

NO_BREAK_SPACE = "\u00a0"
System = Literal["inch", "mm", "both"]
_SIXTY_FOURTHS = 64


@dataclass(frozen=True, slots=True)
class LengthStyle:
    """How one edition prints lengths.

    ``denominator`` is the finest tape fraction (16 or 32); ``step`` the finest millimetre (1 or 1/2).
    """

    system: System = "inch"
    denominator: int = 32
    step: Fraction = Fraction(1, 2)

    @property
    def unit_word(self) -> str:
        """The word for the unit in prose: ``in`` or ``mm``."""
        return "mm" if self.system == "mm" else "in"

    def only(self, system: System) -> LengthStyle:
        """Give the same style for one system."""
        return replace(self, system=system)


def printed_step(style: LengthStyle) -> Length:
    """Give the step the style prints lengths by; for ``both``, that of the inches."""
    return Length(style.step) if style.system == "mm" else Length(MM_PER_INCH / style.denominator)


def rounded(length: Length, style: LengthStyle) -> Length:
    """Round to what the style can print, halves away from zero.

    Under one inch the step is 1/64: drills are sold in it, and a groove for sheet goods needs it.
    """
    small = style.system != "mm" and abs(length.inches) < 1
    unit = Length(MM_PER_INCH / _SIXTY_FOURTHS) if small else printed_step(style)
    whole = int(abs(length) / unit + Fraction(1, 2))
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


def rounded_chain(lengths: Sequence[Length], style: LengthStyle) -> tuple[Length, ...]:
    """Round the links of a chain, none negative, so that they add up to the rounded whole.

    Largest remainders: each link is rounded down to a printed step (a 64th of an inch where the whole
    prints in 64ths), then the steps that the whole still lacks go one each to the links that lost most,
    of equal losses to the earlier one. No link is off by a whole step, and a chain whose links are
    printed steps already stays as it is.
    """
    unit = printed_step(style)
    whole = rounded(sum(lengths, ZERO), style)
    if (whole / unit).denominator != 1:
        unit = Length(MM_PER_INCH / _SIXTY_FOURTHS)
    steps = [floor(length / unit) for length in lengths]
    lost = [length / unit - count for length, count in zip(lengths, steps, strict=True)]
    lacking = int(whole / unit) - sum(steps)
    by_loss = sorted(range(len(lengths)), key=lambda index: (-lost[index], index))
    for index in by_loss[:lacking]:
        steps[index] += 1
    return tuple(unit * count for count in steps)


def print_chain(lengths: Sequence[Length], style: LengthStyle, *, unit: bool = False) -> tuple[str, ...]:
    """Print the links of a chain so that the printed links add up to the printed whole.

    See ``rounded_chain``; the style ``both`` rounds inches and millimetres each for themselves.
    """
    if style.system != "both":
        return tuple(print_length(length, style, unit=unit) for length in rounded_chain(lengths, style))
    inch = print_chain(lengths, style.only("inch"), unit=True)
    metric = print_chain(lengths, style.only("mm"), unit=True)
    return tuple(f"{one}{NO_BREAK_SPACE}({two})" for one, two in zip(inch, metric, strict=True))


def _inch_fraction(value: Fraction) -> str:
    sign = "−" if value < 0 else ""
    whole, rest = divmod(abs(value), 1)
    if not rest:
        return f"{sign}{whole}"
    fraction = f"{rest.numerator}/{rest.denominator}"
    return f"{sign}{whole}{NO_BREAK_SPACE}{fraction}" if whole else f"{sign}{fraction}"

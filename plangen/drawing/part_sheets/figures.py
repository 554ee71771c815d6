"""Figures as a part sheet prints them; one place, so that no two sheets print a value differently."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from itertools import count

from plangen.units import Length, LengthStyle, print_length

NO_BREAK_SPACE = "\u00a0"
MULTIPLY = "\u00a0×\u00a0"
BIT_DENOMINATOR = 64  # drill bits are sold in 64ths of an inch (common practice, no source)
BIT_STEP = Fraction(1, 10)  # and in tenths of a millimetre (common practice, no source)
LARGEST_TENTH = 13  # mm; larger bits are not sold in tenths (common practice, no source)


def figure(length: Length, style: LengthStyle) -> str:
    """Print a length without its unit; the style ``both`` gives ``3 13/16 (97 mm)``.

    A length that is not zero never prints as 0: it is given in decimals until it shows.
    """
    if style.system == "both":
        metric = figure(length, style.only("mm"))
        return f"{figure(length, style.only('inch'))}{NO_BREAK_SPACE}({metric}{NO_BREAK_SPACE}mm)"
    shown = print_length(length, style)
    if length and shown == "0":
        value = abs(length.mm if style.system == "mm" else length.inches)
        digits = next(digits for digits in count(1) if round(value * 10**digits) > 0)
        return f"{'−' if length.mm < 0 else ''}{float(value):.{digits}f}"
    return shown


def bit(diameter: Length, style: LengthStyle) -> str:
    """Print a diameter so that the right drill bit is taken, without its unit where that is the style's own.

    Inches go to 64ths; a bit that is made in millimetres keeps them (``5 mm``) in an inch edition. In
    millimetres a bit that is sold in tenths keeps them; what is not such a bit is printed as in the prose.
    """
    if style.system == "both":
        metric = bit(diameter, style.only("mm"))
        word = "" if metric.endswith("in") else f"{NO_BREAK_SPACE}mm"
        inch = bit(diameter, style.only("inch"))
        return f"{inch}{NO_BREAK_SPACE}({metric}{word})" if not inch.endswith("mm") else inch
    if style.system == "inch":
        if (diameter.inches * BIT_DENOMINATOR).denominator == 1:
            return print_length(diameter, replace(style, denominator=BIT_DENOMINATOR))
        if (diameter.mm * 2).denominator == 1:
            return f"{figure(diameter, LengthStyle('mm'))}{NO_BREAK_SPACE}mm"
        return figure(diameter, replace(style, denominator=BIT_DENOMINATOR))
    tenths = (diameter.mm / BIT_STEP).denominator == 1 and diameter.mm <= LARGEST_TENTH
    return figure(diameter, replace(style, step=BIT_STEP) if tenths else style)


def radius_figure(radius: Length, style: LengthStyle) -> str:
    """Print a radius so that the right bit is taken: half a diameter keeps half of the usual step.

    ``3.25`` in millimetres, for a bit of 6.5 mm; inches go to 64ths.
    """
    if style.system == "both":
        metric = radius_figure(radius, style.only("mm"))
        return f"{radius_figure(radius, style.only('inch'))}{NO_BREAK_SPACE}({metric}{NO_BREAK_SPACE}mm)"
    if style.system == "inch":
        return figure(radius, replace(style, denominator=BIT_DENOMINATOR))
    halved = style.step / 2
    return figure(radius, replace(style, step=halved) if (radius.mm / halved).denominator == 1 else style)


def times(number: int, text: str) -> str:
    """Print ``3 × 3/4`` for several equals, the text alone for one."""
    return f"{number}{MULTIPLY}{text}" if number > 1 else text


def row_figure(number: int, pitch: Length, style: LengthStyle) -> str | None:
    """Print ``5 × 32 = 160``; None when the printed pitch times the number is not the printed total.

    Nobody may lay out a row from figures that do not add up: such a row is dimensioned hole by hole. In the
    style ``both`` the millimetres then only tell the total: ``13 × 1 1/4 = 16 1/4 (412.5 mm)``.
    """
    if style.system == "both":
        inch = row_figure(number, pitch, style.only("inch"))
        metric_style = style.only("mm")
        metric = row_figure(number, pitch, metric_style) or figure(pitch * number, metric_style)
        return inch and f"{inch}{NO_BREAK_SPACE}({metric}{NO_BREAK_SPACE}mm)"
    step, total = figure(pitch, style), figure(pitch * number, style)
    if _value(step) * number != _value(total):
        return None
    return f"{number}{MULTIPLY}{step} = {total}"


def _value(text: str) -> Fraction:
    """Read back a printed figure of one system."""
    sign = -1 if text.startswith("−") else 1
    return sign * sum((Fraction(piece) for piece in text.lstrip("−").split(NO_BREAK_SPACE)), Fraction(0))

"""Read printed lengths and angles, and how far each may be from what it was rounded from.

A length in inches is printed to the nearest 1/64 under one inch and to the nearest 1/32 above it, one in
millimetres to the nearest half; an angle to a tenth of a degree. What is printed lies at most half such a
step from the true value.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

System = Literal["inch", "mm"]

INCH = 25.4
FIGURE = r"[−-]?(?:\d+ \d+/\d+|\d+/\d+|\d+\.\d+|\d+)"
ANGLE_HALF = 0.05  # degrees


@dataclass(frozen=True, slots=True)
class Measure:
    """A printed length in millimetres; the true one is at most ``half`` away."""

    mm: float
    half: float

    def __add__(self, other: Measure) -> Measure:
        return Measure(self.mm + other.mm, self.half + other.half)

    def __sub__(self, other: Measure) -> Measure:
        return Measure(self.mm - other.mm, self.half + other.half)

    def times(self, factor: float) -> Measure:
        return Measure(self.mm * factor, self.half * abs(factor))


EXACT = Measure(0.0, 0.0)


def plain(text: str) -> str:
    """Give a printed text with ordinary spaces."""
    return re.sub(r"\s+", " ", text.replace("\u00a0", " ").replace("\u202f", " ")).strip()


def one_system(text: str, system: System) -> str:
    """Keep the figures of one system of a text that gives inches with millimetres in parentheses."""
    words = plain(text)
    pair = re.compile(rf"({FIGURE})( in)? \(({FIGURE})( mm| in)?\)")
    if system == "inch":
        return pair.sub(r"\1\2", words)
    return pair.sub(r"\3", words)


def length(text: str, system: System) -> Measure:
    """Read one length, with or without a unit. Raises ValueError where there is none."""
    words = plain(text).strip("()")
    found = re.fullmatch(rf"({FIGURE})(?: (in|mm))?", words)
    if found is None:
        raise ValueError(f"{text!r} is no length")
    number, decimal = _number(found[1]), "." in found[1]
    unit = found[2] or ("mm" if system == "mm" else "in")
    if unit == "mm":
        return Measure(float(number), 0.25 if (number * 2).denominator == 1 else _last_digit(found[1]))
    if decimal:
        return Measure(float(number) * INCH, _last_digit(found[1]) * INCH)
    return Measure(float(number) * INCH, INCH / 128 if abs(number) < 1 else INCH / 64)


def _number(text: str) -> Fraction:
    sign = -1 if text[0] in "−-" else 1
    return sign * sum((Fraction(piece) for piece in text.lstrip("−-").split()), Fraction(0))


def _last_digit(text: str) -> float:
    """Half a unit of the last decimal that is printed."""
    return 0.5 * 10.0 ** -len(text.partition(".")[2])


def in_words(pattern: str, words: str, system: System) -> Measure | None:
    """Find a length in a note; ``pattern`` has ``#`` where it stands."""
    found = re.search(pattern.replace("#", rf"({FIGURE}(?: in| mm)?)"), words)
    return length(found[1], system) if found else None


def angle(pattern: str, words: str) -> float | None:
    """Find an angle in degrees in a note; ``pattern`` has ``#`` where it stands."""
    found = re.search(pattern.replace("#", r"(\d+(?:\.\d+)?)°"), words)
    return float(found[1]) if found else None

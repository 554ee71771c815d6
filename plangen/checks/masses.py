"""What pieces weigh, near enough for checks: their finished blanks by the density of their stock."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from plangen.design.model import Design

MM3_PER_M3 = 10**9


def mass_of(design: Design, copies: Iterable[str]) -> Fraction:
    """Give the mass of copies in kg; a stock with no known density weighs nothing here."""
    part_of = design.part_of
    total = Fraction(0)
    for name in copies:
        part = part_of[name]
        density = design.stock[part.stock].density
        if density is not None:
            total += part.length.mm * part.width.mm * part.thickness.mm * density / MM3_PER_M3
    return total

"""Sheets: sizes sold, and how thick a panel really is.

Plywood thickness limits are those of NIST PS 1 (PS 1-19 and PS 1-22, Structural Plywood) as the
trade association's tables give them. Hardwood plywood follows other rules and is often thinner than
its label by more; a plan must say: measure your sheet.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from plangen.units import Length, inches, millimetres


@dataclass(frozen=True, slots=True)
class PanelThickness:
    """A performance category with the least and greatest thickness allowed, and the one on the label."""

    category: Length
    least: Length
    greatest: Length
    label: Length


# Category, then least, greatest and label thickness in thousandths of an inch.
_PS1: Final = (
    ("1/4", 219, 281, 225), ("11/32", 313, 375, 322), ("3/8", 344, 406, 354), ("7/16", 406, 469, 418),
    ("15/32", 438, 500, 451), ("1/2", 469, 531, 483), ("19/32", 563, 625, 578), ("5/8", 594, 656, 609),
    ("23/32", 688, 750, 703), ("3/4", 719, 781, 734), ("7/8", 831, 919, 849), ("1", 950, 1050, 970),
    ("9/8", 1069, 1181, 1091),
)  # fmt: skip
PANELS: Final = tuple(
    PanelThickness(inches(name), *(inches(Fraction(value, 1000)) for value in values))
    for name, *values in _PS1
)

# PS 1-19: length and width +0, -1/16 in; square within 1/64 in per foot.
SIZE_SHORTFALL: Final = inches("1/16")
OUT_OF_SQUARE_PER_FOOT: Final = inches("1/64")

# Width and length as sold. 48 × 96 in is PS 1's standard panel; the others from memory of trade lists.
SHEETS: Final = (
    (inches(48), inches(96)),
    (inches(49), inches(97)),
    (inches(60), inches(60)),
    (millimetres(1220), millimetres(2440)),
    (millimetres(1250), millimetres(2500)),
    (millimetres(1525), millimetres(1525)),
    (millimetres(2070), millimetres(2800)),
)


def panel_thickness(category: Length) -> PanelThickness | None:
    """Give the PS 1 row of a performance category such as 3/4 in; None when there is none."""
    return next((row for row in PANELS if row.category == category), None)

"""How many hinges a leaf wants, by its height and by its weight.

Common practice, no source: two hinges up to 40 in (1016 mm) of leaf, one more for each further 20 in
(508 mm); and a pair of ordinary cabinet hinges for each 7 kg (15 lb).
"""

from __future__ import annotations

from fractions import Fraction
from typing import Final

from plangen.units import Length, inches

TWO_UP_TO: Final = inches(40)
EACH_FURTHER: Final = inches(20)
KG_PER_HINGE: Final = Fraction(7, 2)


def usual_number(length: Length) -> int:
    """Give the number of hinges along a leaf of this length; at least two."""
    over = length - TWO_UP_TO
    return 2 if over.mm <= 0 else 2 + -(-over.mm // EACH_FURTHER.mm)


def number_for_mass(kilograms: Fraction) -> int:
    """Give the number of hinges that carry a leaf of this mass; at least two."""
    return max(2, -(-kilograms // KG_PER_HINGE))

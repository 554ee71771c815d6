"""Pocket screws: the angle and width of the pocket, and the screw for each thickness of stock.

Every value here: common practice, no source.
"""

from __future__ import annotations

from bisect import bisect_right
from typing import Final

from plangen.units import Length, inches, millimetres

ANGLE: Final = 15  # degrees between the pocket and the face that it is bored in
INCH_BIT: Final = inches("3/8")  # the wide part of the stepped bit
MM_BIT: Final = millimetres("9.5")

# Stock from this thickness on, and the length of its screw, in inches.
_LENGTHS: Final = tuple(
    (inches(stock), inches(screw))
    for stock, screw in (
        ("1/2", "1"),
        ("3/4", "5/4"),
        ("7/8", "3/2"),
        ("9/8", "7/4"),
        ("5/4", "2"),
        ("3/2", "5/2"),
    )
)


def screw_length(stock: Length) -> Length | None:
    """Give the usual length of a pocket screw for stock so thick; None below 1/2 in (12 mm)."""
    # Metric boards are sold a little under the inch size that they stand for.
    index = bisect_right([thickness for thickness, _ in _LENGTHS], stock + millimetres("3/2"))
    return _LENGTHS[index - 1][1] if index else None

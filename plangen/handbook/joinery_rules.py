"""The trade's rules of thumb for joints. Every value here: common practice, no source."""

from __future__ import annotations

from fractions import Fraction
from typing import Final

from plangen.handbook.drills import INCH_CHISELS, MM_CHISELS, nearest
from plangen.units import Length, inches, millimetres

INCH_DOWELS: Final = tuple(inches(size) for size in ("1/4", "5/16", "3/8", "7/16", "1/2"))
MM_DOWELS: Final = tuple(millimetres(n) for n in (6, 8, 10, 12))

SCREW_FIRST_FROM_END: Final = Fraction(4)  # at least four shank diameters from an end, less one splits
SCREW_EDGE: Final = Fraction(2)  # at least two shank diameters from an edge
SCREW_SPACING_AT_MOST: Final = inches(6)  # one screw at least every 6 in along a panel
PENETRATION: Final = Fraction(7)  # seven shank diameters of thread in the second piece is full holding


def tenon_thickness(thickness: Length, *, metric: bool) -> Length:
    """Give a tenon's thickness: the mortise chisel nearest to a third of the piece."""
    return nearest(thickness / 3, MM_CHISELS if metric else INCH_CHISELS)


def mortise_extra(*, metric: bool) -> Length:
    """Give how much deeper a mortise is cut than its tenon is long: room for glue and chips."""
    return millimetres(2) if metric else inches("1/16")


def dowel_diameter(thickness: Length, *, metric: bool) -> Length:
    """Give a dowel's diameter for the thinner piece: the smallest sold from a third, at most half, of it.

    Raises ValueError when no dowel sold fits in half the thickness.
    """
    sold = MM_DOWELS if metric else INCH_DOWELS
    fitting = [size for size in sold if size <= thickness / 2]
    if not fitting:
        raise ValueError(f"{float(thickness):g} mm is too thin for a dowel")
    return next((size for size in fitting if size >= thickness / 3), fitting[-1])


def dowel_hole_extra(*, metric: bool) -> Length:
    """Give how much deeper each dowel hole is bored than half the dowel."""
    return millimetres(2) if metric else inches("1/16")


def housing_depth(thickness: Length, *, metric: bool) -> Length:
    """Give the depth of a dado or rabbet: a third of the piece it is cut in, to 1/16 in or 1 mm."""
    step = millimetres(1) if metric else inches("1/16")
    return step * max(1, round(thickness / 3 / step))

"""Wood screws: diameters, heads, and the holes to drill for them.

A gauge is a screw number (8) or, for metric screws, the nominal diameter as a Length (4 mm).

Lead holes follow one published chart (called chart B here), which works the rule of the Wood
Handbook (FPL-GTR-190, 2010, chapter 8): about 70 % of the root diameter in softwood and 90 % in
hardwood. A second trade chart (chart A) agrees in softwood and is 1/64 in larger in hardwood for
Nos. 8 and 10; charts commonly differ by 1/64 to 1/32 in, so the step should say: try it in scrap.
"""

from __future__ import annotations

from fractions import Fraction
from types import MappingProxyType
from typing import Final, TypeAlias

from plangen.handbook.drills import INCH_DRILLS, MM_DRILLS, nearest, nearest_drill
from plangen.units import Length, inches, millimetres

Gauge: TypeAlias = int | Length

NUMBERS: Final = (*range(13), 14, 16, 18, 20, 24)  # the numbers of ASME B18.6.1

# Flat (82 degree) head, largest diameter to a sharp edge, in thousandths of an inch: the wood-screw
# table of ASME B18.6.1 as reprinted, the same in tables of tapping screws up to No. 14; Nos. 16 and up
# from memory.
_HEAD: Final = MappingProxyType({
    0: 119, 1: 146, 2: 172, 3: 199, 4: 225, 5: 252, 6: 279, 7: 305, 8: 332, 9: 358, 10: 385, 12: 438, 14: 491,
    16: 544, 18: 597, 20: 650, 24: 756,
})  # fmt: skip

# Chart B: root diameter in thousandths of an inch, then softwood lead, hardwood lead and shank drill
# in 64ths of an inch. A published wood-screw pilot table worked by the 70 % and 90 % rule.
_CHART_B: Final = MappingProxyType({
    2: (54, 2, 3, 6),
    4: (75, 3, 4, 7),
    6: (94, 4, 5, 9),
    8: (112, 5, 6, 11),
    10: (130, 6, 7, 12),
    12: (148, 7, 8, 14),
    14: (165, 7, 9, 16),
    16: (184, 9, 10, 17),
})  # fmt: skip

# Chart A: counterbore for a plug over the head, in 16ths of an inch ("Plate 6B", an archived
# boatbuilders' newsletter). Below No. 6: the next plug that covers the head; common practice, no source.
_COUNTERBORE: Final = MappingProxyType({
    2: 3, 3: 4, 4: 4, 5: 5, 6: 5, 7: 5, 8: 6, 9: 6, 10: 6, 11: 7, 12: 7, 14: 8, 16: 9, 18: 10,
})  # fmt: skip
_METRIC_PLUGS: Final = tuple(
    millimetres(n) for n in (6, 8, 10, 12, 15)
)  # cutters sold; common practice, no source

SOFT_SHARE: Final = Fraction(7, 10)  # Wood Handbook, FPL-GTR-190 (2010), chapter 8
HARD_SHARE: Final = Fraction(9, 10)
ROOT_SHARE: Final = Fraction(2, 3)  # root over shank, Wood Handbook chapter 8, for screws without a table


def screw_diameter(gauge: Gauge) -> Length:
    """Give the shank diameter: 0.060 + 0.013 × number inches (ASME B18.6.1), or the metric nominal.

    Raises ValueError for a number that is not made.
    """
    if isinstance(gauge, Length):
        if not gauge.mm > 0:
            raise ValueError("a screw's diameter must be greater than zero")
        return gauge
    if gauge not in NUMBERS:
        raise ValueError(f"no wood screw has the number {gauge}")
    return inches(Fraction(60 + 13 * gauge, 1000))


def head_diameter(gauge: Gauge) -> Length:
    """Give the diameter of a flat head: table of ASME B18.6.1; metric screws and No. 11, twice the shank.

    The rule "twice the shank" is a furniture-making text's; raises ValueError as ``screw_diameter``.
    """
    diameter = screw_diameter(gauge)
    if isinstance(gauge, int) and gauge in _HEAD:
        return inches(Fraction(_HEAD[gauge], 1000))
    return diameter * 2


def clearance_hole(gauge: Gauge) -> Length:
    """Give the drill for the hole that the shank passes through.

    Numbers 2 to 16, even: the shank drill on which charts A and B agree; other numbers: the nearest
    1/64 in to the shank, which is what the charts do. Wood yields the hundredths by which a shank may
    exceed it. Metric: 0.5 mm over the diameter, rounded up to 0.5 mm; common practice, no source.
    """
    diameter = screw_diameter(gauge)
    if isinstance(gauge, Length):
        return _up_to_half_millimetre(diameter + millimetres("1/2"))
    if gauge in _CHART_B:
        return inches(Fraction(_CHART_B[gauge][3], 64))
    return nearest(diameter, INCH_DRILLS)


def lead_hole(gauge: Gauge, hard: bool) -> Length:
    """Give the drill for the hole that the thread bites into; ``hard`` for hardwoods.

    Even numbers 2 to 16 are chart B's; others take 70 % or 90 % of the root, rounded to a drill that
    is sold, where the root is interpolated in chart B or, outside it and for metric screws, two
    thirds of the shank. Raises ValueError as ``screw_diameter``.
    """
    if isinstance(gauge, int) and gauge in _CHART_B:
        return inches(Fraction(_CHART_B[gauge][2 if hard else 1], 64))
    root = root_diameter(gauge)
    return nearest_drill(root * (HARD_SHARE if hard else SOFT_SHARE), metric=isinstance(gauge, Length))


def root_diameter(gauge: Gauge) -> Length:
    """Give the diameter under the thread: chart B, interpolated between rows, else 2/3 of the shank."""
    if isinstance(gauge, int):
        if gauge in _CHART_B:
            return inches(Fraction(_CHART_B[gauge][0], 1000))
        below = max((number for number in _CHART_B if number < gauge), default=None)
        above = min((number for number in _CHART_B if number > gauge), default=None)
        if below is not None and above is not None:
            share = Fraction(gauge - below, above - below)
            low, high = _CHART_B[below][0], _CHART_B[above][0]
            return inches((low + (high - low) * share) / 1000)
    return screw_diameter(gauge) * ROOT_SHARE


def plug_diameter(gauge: Gauge) -> Length:
    """Give the counterbore over a flat head, which is also the plug's diameter.

    Numbers: chart A. Metric: the smallest plug that covers twice the shank. Raises ValueError for a
    screw with no plug that covers it.
    """
    if isinstance(gauge, Length):
        for plug in _METRIC_PLUGS:
            if plug >= head_diameter(gauge):
                return plug
    elif gauge in _COUNTERBORE:
        return inches(Fraction(_COUNTERBORE[gauge], 16))
    raise ValueError(f"no plug is made for a screw of {float(screw_diameter(gauge)):.1f} mm")


# Lengths in which wood screws are sold: from memory of trade lists; metric after DIN 95, 96 and 97.
INCH_LENGTHS: Final = tuple(
    inches(Fraction(n, 8)) for n in (*range(2, 8), *range(8, 24, 2), *range(24, 41, 4))
)
MM_LENGTHS: Final = tuple(millimetres(n) for n in (12, 16, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80))


def _up_to_half_millimetre(size: Length) -> Length:
    return next((drill for drill in MM_DRILLS if drill >= size), size)

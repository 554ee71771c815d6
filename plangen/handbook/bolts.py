"""Machine bolts: the holes they pass through, their heads, nuts and washers.

A bolt is known by its nominal diameter. Metric, each compared with a reprint of its table: holes after
ISO 273:1979 (BS EN 20273:1992), medium series; hexagon heads after ISO 4014; socket heads, plain, after
ISO 4762:2004, largest diameter; nuts after BS EN ISO 4032:2001, table 1, largest height; washers after
ISO 7089. Inch: hexagon heads after ASME B18.2.1, hex bolts, compared with a reprint: the width is the
table's largest, the height its basic, which lies between its limits. Holes after ASME B18.2.8 (normal
fit), nuts after ASME B18.2.2, socket heads after ASME B18.3 and washers after ASME B18.21.1 (type A,
narrow) are from memory of those tables.
"""

from __future__ import annotations

from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from plangen.handbook.drills import INCH_BORING_BITS, MM_BORING_BITS, MM_DRILLS
from plangen.units import Length, inches, millimetres


@dataclass(frozen=True, slots=True)
class Bolt:
    """What goes with a bolt of one diameter; ``washer`` and ``socket`` are diameters."""

    diameter: Length
    hole: Length
    nut: Length  # height
    head: Length  # height of a hexagon head
    flats: Length  # of a hexagon head
    socket: Length
    washer: Length
    washer_thickness: Length


# diameter: hole, nut height, head height, across flats, socket head, washer, washer thickness, in mm
_METRIC: Final = MappingProxyType({
    "4": ("4.5", "3.2", "2.8", "7", "7", "9", "0.8"),
    "5": ("5.5", "4.7", "3.5", "8", "8.5", "10", "1"),
    "6": ("6.6", "5.2", "4", "10", "10", "12", "1.6"),
    "8": ("9", "6.8", "5.3", "13", "13", "16", "1.6"),
    "10": ("11", "8.4", "6.4", "16", "16", "20", "2"),
    "12": ("13.5", "10.8", "7.5", "18", "18", "24", "2.5"),
})  # fmt: skip
# the same in inches; a washer's thickness is the nominal
_INCH: Final = MappingProxyType({
    "1/4": ("9/32", "7/32", "11/64", "7/16", "3/8", "5/8", "1/16"),
    "5/16": ("11/32", "17/64", "7/32", "1/2", "15/32", "11/16", "1/16"),
    "3/8": ("13/32", "21/64", "1/4", "9/16", "9/16", "13/16", "1/16"),
    "1/2": ("9/16", "7/16", "11/32", "3/4", "3/4", "17/16", "3/32"),
})  # fmt: skip

BOLTS: Final[tuple[Bolt, ...]] = (
    *(Bolt(*map(millimetres, (size, *row))) for size, row in _METRIC.items()),
    *(Bolt(*map(inches, (size, *row))) for size, row in _INCH.items()),
)


def find_bolt(diameter: Length) -> Bolt | None:
    """Give the row of a nominal diameter; None where no such bolt is in the tables."""
    return next((bolt for bolt in BOLTS if bolt.diameter == diameter), None)


def drilled_hole(bolt: Bolt) -> Length:
    """Give the drill for the hole a bolt passes through: the standard hole, metric ones up to 0.5 mm."""
    if bolt.diameter in (millimetres(size) for size in _METRIC):
        return next((drill for drill in MM_DRILLS if drill >= bolt.hole), bolt.hole)
    return bolt.hole


def counterbore(bolt: Bolt, *, metric: bool) -> Length | None:
    """Give the boring bit that makes room for the washer, a size sold; None when none is as large."""
    sold = MM_BORING_BITS if metric else INCH_BORING_BITS
    return next((bit for bit in sold if bit >= bolt.washer), None)

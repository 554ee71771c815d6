"""How wood swells and shrinks across the grain.

Coefficients per 1 % change of moisture content, between 6 and 14 %: Wood Handbook (FPL-GTR-190,
2010), Table 13-5. Rows read in a copy of the table are marked so; the others are from memory.
Movement along the grain is left out, as the book does.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from types import MappingProxyType
from typing import Final, Literal

from plangen.handbook.densities import find_species
from plangen.units import Length

Sawn = Literal["flat", "quarter"]


@dataclass(frozen=True, slots=True)
class Coefficients:
    """Change per 1 % of moisture content, as a share of the dimension."""

    radial: Fraction
    tangential: Fraction
    status: Literal["read", "memory"]


# name: radial, tangential, in hundred-thousandths
_READ: Final = MappingProxyType({
    "Alder, red": (151, 256), "Ash, black": (172, 274), "Ash, white": (169, 274),
    "Aspen, quaking": (119, 234), "Basswood, American": (230, 330), "Beech, American": (190, 431),
    "Birch, paper": (219, 304), "Birch, sweet": (256, 338), "Birch, yellow": (256, 338),
    "Butternut": (116, 223), "Cherry, black": (126, 248), "Chestnut, American": (116, 234),
    "Elm, American": (144, 338), "Hickory, pecan": (169, 315), "Maple, bigleaf": (126, 248),
    "Maple, black": (165, 353), "Maple, red": (137, 289), "Maple, silver": (102, 252),
    "Maple, sugar": (165, 353), "Red oak, commercial": (158, 369), "White oak, commercial": (180, 365),
    "Sweetgum": (183, 365), "Sycamore, American": (172, 296), "Walnut, black": (190, 274),
})  # fmt: skip
_MEMORY: Final = MappingProxyType({
    "Yellow-poplar": (158, 289), "Baldcypress": (130, 216), "Cedar, eastern redcedar": (106, 162),
    "Cedar, western redcedar": (111, 234), "Douglas-fir, coast-type": (165, 267), "Fir, white": (112, 245),
    "Hemlock, western": (144, 274), "Pine, eastern white": (71, 212), "Pine, lodgepole": (148, 234),
    "Pine, ponderosa": (133, 216), "Pine, red": (130, 252), "Pine, longleaf": (176, 263),
    "Pine, loblolly": (165, 259), "Pine, shortleaf": (158, 271), "Pine, sugar": (99, 194),
    "Pine, western white": (141, 259), "Redwood, old-growth": (120, 205),
    "Redwood, young-growth": (101, 229), "Spruce, Engelmann": (130, 248), "Spruce, Sitka": (148, 263),
    "Mahogany, true": (172, 238), "Teak": (101, 186),
})  # fmt: skip
MOST_TANGENTIAL: Final = Fraction(431, 100000)  # American beech, the liveliest species of the table read
# Where Table 13-5 names a commercial group for the species of Table 5-3.
_SAME: Final = MappingProxyType({
    "Oak, northern red": "Red oak, commercial", "Oak, white": "White oak, commercial",
    "Hickory, shagbark": "Hickory, pecan",
})  # fmt: skip

SOURCE: Final = "Wood Handbook, FPL-GTR-190 (2010), Table 13-5"
LEAST_MOISTURE: Final = 6  # percent, where Eq. 13-2 begins to hold
MOST_MOISTURE: Final = 14


def coefficients(species: str) -> Coefficients | None:
    """Give the coefficients of a species by trade or table name; None when the table has none."""
    known = find_species(species)
    name = known.name if known else species
    name = _SAME.get(name, name)
    for table, status in ((_READ, True), (_MEMORY, False)):
        if name in table:
            radial, tangential = (Fraction(value, 100000) for value in table[name])
            return Coefficients(radial, tangential, "read" if status else "memory")
    return None


def movement(width: Length, species: str, change: Fraction | int, sawn: Sawn = "flat") -> Length | None:
    """Give how much a width grows (or, negative, shrinks) for a change of moisture content in percent.

    Wood Handbook, FPL-GTR-190 (2010), Eq. 13-2: width × coefficient × change, tangential for
    flat-sawn and radial for quarter-sawn boards. None for a species without coefficients.
    """
    found = coefficients(species)
    if found is None:
        return None
    return width * ((found.tangential if sawn == "flat" else found.radial) * Fraction(change))

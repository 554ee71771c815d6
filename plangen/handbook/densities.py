"""Species: specific gravity, density and stiffness, and whether the trade calls them hardwood.

Specific gravity at 12 % moisture content, modulus of rupture and modulus of elasticity come from
the Wood Handbook (FPL-GTR-190, 2010), Tables 5-3a and 5-3b; each row says whether it was read in a
reprint of the table or set down from memory of it. Density follows from Eq. 4-12 of the same book.
European woods have the middle densities of EN 350, from memory.
"""

from __future__ import annotations

from dataclasses import dataclass
from difflib import get_close_matches
from fractions import Fraction
from types import MappingProxyType
from typing import Final, Literal

WATER: Final = 1000  # kg/m3
MOISTURE: Final = 12  # percent, the tables' basis
HANDBOOK: Final = "Wood Handbook, FPL-GTR-190 (2010)"
EUROPEAN_SOURCE: Final = "EN 350, middle density"
PSI_TO_MPA: Final = Fraction(6894757, 1000000000)  # 1 psi = 6894.757 Pa


@dataclass(frozen=True, slots=True)
class Species:
    """One wood. ``gravity`` is specific gravity at 12 %; stiffness in MPa along the grain, where known."""

    name: str
    hard: bool
    gravity: Fraction
    elasticity: Fraction | None  # MPa
    status: Literal["read", "memory"]
    source: str

    @property
    def density(self) -> Fraction:
        """Density in kg/m3 at 12 % moisture content."""
        return density_of(self.gravity)


def density_of(gravity: Fraction, moisture: Fraction | int = MOISTURE) -> Fraction:
    """Give density in kg/m3 from specific gravity at a moisture content in percent.

    Wood Handbook, FPL-GTR-190 (2010), Eq. 4-12: water's density × gravity × (1 + moisture/100).
    """
    return WATER * gravity * (1 + Fraction(moisture) / 100)


def gravity_from_green(green: Fraction, moisture: Fraction | int = MOISTURE) -> Fraction:
    """Give specific gravity at a moisture content (below 30 %) from basic (green) specific gravity.

    Wood Handbook, FPL-GTR-190 (2010), Eqs. 4-7 to 4-11, after Simpson, FPL-GTR-76 (1993); from memory.
    """
    return green / (1 - Fraction(265, 1000) * green * (1 - Fraction(moisture) / 30))


# name, specific gravity in hundredths, modulus of elasticity in 10 000 psi
_HARD_READ: Final = (
    ("Alder, red", 41, 138), ("Ash, black", 49, 160), ("Ash, blue", 58, 140), ("Ash, green", 56, 166),
    ("Ash, Oregon", 55, 136), ("Ash, white", 60, 174), ("Aspen, bigtooth", 39, 143),
    ("Aspen, quaking", 38, 118), ("Basswood, American", 37, 146), ("Beech, American", 64, 172),
    ("Birch, paper", 55, 159), ("Birch, sweet", 65, 217), ("Birch, yellow", 62, 201), ("Butternut", 38, 118),
    ("Cherry, black", 50, 149), ("Chestnut, American", 43, 123), ("Cottonwood, black", 35, 127),
    ("Elm, American", 50, 134), ("Elm, rock", 63, 154), ("Elm, slippery", 53, 149), ("Hackberry", 53, 119),
    ("Hickory, bitternut", 66, 179), ("Hickory, mockernut", 72, 222), ("Hickory, pecan", 66, 173),
    ("Hickory, pignut", 75, 226), ("Hickory, shagbark", 72, 216), ("Hickory, shellbark", 69, 189),
    ("Locust, black", 69, 205), ("Magnolia, cucumbertree", 48, 182), ("Magnolia, southern", 50, 140),
    ("Maple, bigleaf", 48, 145), ("Maple, black", 57, 162), ("Maple, red", 54, 164),
    ("Maple, sugar", 63, 183), ("Oak, white", 68, 178), ("Walnut, black", 55, 168),
    ("Yellow-poplar", 42, 158),
)  # fmt: skip
_SOFT_READ: Final = (("Douglas-fir, coast-type", 48, 195),)
# Table 5-3a, read: name, specific gravity in hundredths, modulus of elasticity in MPa
_PINES_READ: Final = (
    ("Pine, pond", 56, 12100), ("Pine, ponderosa", 40, 8900), ("Pine, red", 46, 11200),
    ("Pine, sand", 48, 9700), ("Pine, shortleaf", 51, 12100), ("Pine, slash", 59, 13700),
    ("Pine, spruce", 44, 8500), ("Pine, sugar", 36, 8200), ("Pine, Virginia", 48, 10500),
    ("Pine, western white", 35, 10100), ("Redwood, old-growth", 40, 9200),
    ("Redwood, young-growth", 35, 7600),
)  # fmt: skip
_HARD_MEMORY: Final = (
    ("Cottonwood, eastern", 40, 137), ("Maple, silver", 47, 114), ("Oak, bur", 64, 103),
    ("Oak, cherrybark", 68, 228), ("Oak, chestnut", 66, 159), ("Oak, northern red", 63, 182),
    ("Oak, pin", 63, 173), ("Oak, scarlet", 67, 191), ("Oak, southern red", 59, 149),
    ("Oak, swamp white", 72, 205), ("Sassafras", 46, 112), ("Sweetgum", 52, 164),
    ("Sycamore, American", 49, 142), ("Tupelo, black", 50, 120),
)  # fmt: skip
_SOFT_MEMORY: Final = (
    ("Baldcypress", 46, 144), ("Cedar, Atlantic white", 32, 93), ("Cedar, eastern redcedar", 47, 88),
    ("Cedar, incense", 37, 104), ("Cedar, northern white", 31, 80), ("Cedar, Port-Orford", 43, 170),
    ("Cedar, western redcedar", 32, 111), ("Cedar, yellow", 44, 142), ("Fir, balsam", 35, 145),
    ("Fir, grand", 37, 157), ("Fir, noble", 39, 173), ("Fir, white", 39, 150), ("Hemlock, eastern", 40, 120),
    ("Hemlock, western", 45, 163), ("Larch, western", 52, 187), ("Pine, eastern white", 35, 124),
    ("Pine, jack", 43, 135), ("Pine, loblolly", 51, 179), ("Pine, longleaf", 59, 198),
    ("Pine, lodgepole", 41, 134), ("Spruce, Engelmann", 35, 130), ("Spruce, red", 40, 161),
    ("Spruce, Sitka", 40, 157), ("Spruce, white", 36, 143), ("Tamarack", 53, 164),
)  # fmt: skip
# Table 5-5b, from memory (teak's green gravity read): name, basic specific gravity in hundredths
_IMPORTED: Final = (
    ("Iroko", 54, 146), ("Jatoba", 71, 216), ("Khaya", 42, 140), ("Mahogany, true", 45, 150),
    ("Purpleheart", 67, 227), ("Sapele", 55, 182), ("Spanish-cedar", 41, 144), ("Teak", 55, 155),
)  # fmt: skip
# EN 350, table of natural durability, from memory: name, whether a hardwood, middle density at 12 %
# in kg/m3. Its stiffness is in no table here.
_EUROPEAN: Final = (
    ("Ash, European", True, 700), ("Beech, European", True, 710), ("Larch, European", False, 600),
    ("Oak, European", True, 710), ("Pine, Scots", False, 520), ("Spruce, Norway", False, 460),
    ("Sycamore, European", True, 640), ("Walnut, European", True, 670),
)  # fmt: skip


def _rows() -> dict[str, Species]:
    found: list[Species] = []
    for rows, hard, status, table in (
        (_HARD_READ, True, "read", "Table 5-3b"),
        (_SOFT_READ, False, "read", "Table 5-3b"),
        (_HARD_MEMORY, True, "memory", "Table 5-3b"),
        (_SOFT_MEMORY, False, "memory", "Table 5-3b"),
    ):
        for name, gravity, stiffness in rows:
            elasticity = stiffness * 10000 * PSI_TO_MPA
            found.append(_species(name, hard, Fraction(gravity, 100), elasticity, status, table))
    for name, gravity, mpa in _PINES_READ:
        found.append(_species(name, False, Fraction(gravity, 100), Fraction(mpa), "read", "Table 5-3a"))
    for name, green, stiffness in _IMPORTED:
        gravity_12 = gravity_from_green(Fraction(green, 100))
        found.append(_species(name, True, gravity_12, stiffness * 10000 * PSI_TO_MPA, "memory", "Table 5-5b"))
    for name, hard, density in _EUROPEAN:
        gravity_12 = Fraction(density, WATER) / (1 + Fraction(MOISTURE, 100))
        found.append(Species(name, hard, gravity_12, None, "memory", EUROPEAN_SOURCE))
    return {one.name: one for one in sorted(found, key=lambda one: one.name)}


def _species(
    name: str, hard: bool, gravity: Fraction, elasticity: Fraction, status: str, table: str
) -> Species:
    return Species(
        name, hard, gravity, elasticity, "read" if status == "read" else "memory", f"{HANDBOOK}, {table}"
    )


SPECIES: Final = MappingProxyType(_rows())

# What the trade says for what the handbook says; common practice, no source.
_TRADE_NAMES: Final = MappingProxyType({
    "white pine": "Pine, eastern white", "eastern white pine": "Pine, eastern white",
    "pine": "Pine, eastern white", "yellow pine": "Pine, loblolly",
    "southern yellow pine": "Pine, loblolly", "southern pine": "Pine, loblolly", "poplar": "Yellow-poplar",
    "tulipwood": "Yellow-poplar", "tulip poplar": "Yellow-poplar", "hard maple": "Maple, sugar",
    "rock maple": "Maple, sugar", "maple": "Maple, sugar", "soft maple": "Maple, red",
    "red oak": "Oak, northern red", "oak": "Oak, white", "cherry": "Cherry, black",
    "walnut": "Walnut, black", "ash": "Ash, white", "beech": "Beech, American", "birch": "Birch, yellow",
    "alder": "Alder, red", "basswood": "Basswood, American", "aspen": "Aspen, quaking",
    "hickory": "Hickory, shagbark", "elm": "Elm, American", "chestnut": "Chestnut, American",
    "sycamore": "Sycamore, American", "cypress": "Baldcypress", "cedar": "Cedar, western redcedar",
    "western red cedar": "Cedar, western redcedar", "aromatic cedar": "Cedar, eastern redcedar",
    "douglas fir": "Douglas-fir, coast-type", "fir": "Douglas-fir, coast-type",
    "hemlock": "Hemlock, western", "spruce": "Spruce, Engelmann", "redwood": "Redwood, young-growth",
    "mahogany": "Mahogany, true", "african mahogany": "Khaya", "pecan": "Hickory, pecan",
    "cottonwood": "Cottonwood, eastern", "black locust": "Locust, black", "locust": "Locust, black",
    "larch": "Larch, western", "scots pine": "Pine, Scots", "norway spruce": "Spruce, Norway",
    "white cedar": "Cedar, northern white", "gum": "Sweetgum", "tupelo": "Tupelo, black",
    "balsam fir": "Fir, balsam",
})  # fmt: skip

# kg/m3, mid of the usual range; from memory of ANSI A208.1, A208.2, A135.4 and Wood Handbook chapter 12.
PANEL_DENSITIES: Final = MappingProxyType({
    "softwood plywood": 525, "hardwood plywood": 670, "mdf": 750, "particleboard": 680, "hardboard": 900,
})  # fmt: skip
PANEL_SOURCE: Final = "usual range of panel makers' figures (from memory of ANSI A208.1, A208.2, A135.4)"


def find_species(name: str) -> Species | None:
    """Give the species of a trade name such as ``white pine``; None when it is not in the tables."""
    wanted = " ".join(name.lower().replace("-", " ").split())
    if wanted in _TRADE_NAMES:
        return SPECIES[_TRADE_NAMES[wanted]]
    for one in SPECIES.values():
        for spelling in _spellings(one.name):
            if spelling == wanted:
                return one
    return None


def nearest_species(name: str) -> str | None:
    """Give the known trade name closest to one that is not known, for an error's remedy."""
    known = sorted({*_TRADE_NAMES, *(spelling for one in SPECIES for spelling in _spellings(one))})
    return next(iter(get_close_matches(name.lower(), known, 1)), None)


def panel_density(species: str) -> tuple[Fraction, str]:
    """Give the density of a plywood or other panel in kg/m3, and where it is from.

    Softwood faces take the softwood figure, all else the hardwood one, unless the name is a panel's own.
    """
    words = species.lower().replace("-", " ")
    for kind in ("mdf", "particleboard", "hardboard"):
        if kind in words:
            return Fraction(PANEL_DENSITIES[kind]), PANEL_SOURCE
    face = find_species(words.replace("plywood", "").strip())
    soft = "softwood" in words or (face is not None and not face.hard)
    return Fraction(PANEL_DENSITIES["softwood plywood" if soft else "hardwood plywood"]), PANEL_SOURCE


def _spellings(name: str) -> tuple[str, ...]:
    """Spell ``Pine, western white`` as ``western white pine`` too."""
    plain = name.lower().replace("-", " ")
    noun, comma, kind = plain.partition(", ")
    if not comma:
        return (plain,)
    joined = kind if kind.endswith(noun) else f"{kind} {noun}"
    return (joined, f"{noun} {kind}", plain)

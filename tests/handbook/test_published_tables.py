"""Every value of the tables of lumber, panels and woods beside the print that it was read in.

Each table is set down here a second time, from its source and not from the module.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from plangen.handbook.densities import SPECIES, WATER, find_species, panel_density
from plangen.handbook.lumber import dressed_thickness, dressed_width, surfaced_thickness
from plangen.handbook.panels import PANELS, SHEETS, panel_thickness
from plangen.units import inches, millimetres


def inch(text: str) -> Fraction:
    """``1-1/2`` in inches."""
    return sum((Fraction(word) for word in text.split("-")), Fraction(0))


# PS 20, Table 3 (boards, dimension), nominal and least dressed size, dry; read in a reprint of the table.
BOARDS = "3/8 5/16, 1/2 7/16, 5/8 9/16, 3/4 5/8, 1 3/4, 1-1/4 1, 1-1/2 1-1/4"
DIMENSION = "2 1-1/2, 2-1/2 2, 3 2-1/2, 3-1/2 3, 4 3-1/2, 4-1/2 4"
# Timbers of 5 and 6 in are half an inch less; the same table.
TIMBERS = "5 4-1/2, 6 5-1/2"
WIDTHS = (
    "2 1-1/2, 3 2-1/2, 4 3-1/2, 5 4-1/2, 6 5-1/2, 7 6-1/2, 8 7-1/4, 9 8-1/4, 10 9-1/4, 11 10-1/4, "
    "12 11-1/4, 14 13-1/4, 16 15-1/4"
)
# Hardwood quarters, rough and surfaced on two sides: NHLA rules as reprinted in a hardwood lumber chart.
QUARTERS = "1 13/16, 1-1/4 1-1/16, 1-1/2 1-5/16, 1-3/4 1-1/2, 2 1-3/4, 3 2-3/4, 3-1/2 3-1/4, 4 3-3/4"


def rows(text: str) -> list[tuple[Fraction, Fraction]]:
    return [(inch(a), inch(b)) for a, b in (pair.split() for pair in text.split(", "))]


@pytest.mark.parametrize(("nominal", "dressed"), rows(f"{BOARDS}, {DIMENSION}, {TIMBERS}"))
def test_softwood_thickness(nominal: Fraction, dressed: Fraction) -> None:
    assert dressed_thickness(inches(nominal)) == inches(dressed)


@pytest.mark.parametrize(("nominal", "dressed"), rows(WIDTHS))
def test_softwood_width(nominal: Fraction, dressed: Fraction) -> None:
    assert dressed_width(inches(nominal)) == inches(dressed)


@pytest.mark.parametrize(("rough", "surfaced"), rows(QUARTERS))
def test_hardwood_quarters(rough: Fraction, surfaced: Fraction) -> None:
    assert surfaced_thickness(f"{rough * 4}/4") == inches(surfaced)


# PS 1 performance categories as the trade association's table has them: category, then least, greatest and
# label thickness in thousandths of an inch.
PS1 = """
1/4 219 281 225, 11/32 313 375 322, 3/8 344 406 354, 7/16 406 469 418, 15/32 438 500 451, 1/2 469 531 483,
19/32 563 625 578, 5/8 594 656 609, 23/32 688 750 703, 3/4 719 781 734, 7/8 831 919 849, 1 950 1050 970,
1-1/8 1069 1181 1091"""
PANEL_ROWS = [row.split() for row in PS1.replace("\n", " ").strip().split(", ")]


@pytest.mark.parametrize(("category", "least", "greatest", "label"), PANEL_ROWS)
def test_plywood(category: str, least: str, greatest: str, label: str) -> None:
    row = panel_thickness(inches(inch(category)))
    assert row is not None
    thousandths = [size.mm / Fraction(254, 10) * 1000 for size in (row.least, row.greatest, row.label)]
    assert thousandths == [int(least), int(greatest), int(label)]


def test_plywood_rows_are_complete_and_follow_the_rule() -> None:
    """PS 1: ±1/32 in up to 13/16 in, ±5 % above. The table cuts off its thousandths."""
    assert [row.category for row in PANELS] == [inches(inch(row[0])) for row in PANEL_ROWS]
    for row in PANELS:
        over = inches("1/32") if row.category <= inches("13/16") else row.category / 20
        for side in (row.category - row.least, row.greatest - row.category):
            assert abs(side - over) <= inches("0.007"), row.category


# Common practice, no source: what sheets are sold as.
def test_sheets_as_sold() -> None:
    assert (inches(48), inches(96)) in SHEETS
    assert (inches(49), inches(97)) in SHEETS, "particleboard and MDF are sold an inch over"
    assert (millimetres(2070), millimetres(2800)) in SHEETS
    assert all(width <= length for width, length in SHEETS)
    assert len(set(SHEETS)) == len(SHEETS)


# Specific gravity (hundredths) and modulus of elasticity (10 000 psi) at 12 %: Forest Products Laboratory,
# Wood Handbook, Table 5-3b, as a reprint of the strength table prints them.
HARDWOODS = """
red alder 41 138, black ash 49 160, blue ash 58 140, green ash 56 166, Oregon ash 55 136, white ash 60 174,
bigtooth aspen 39 143, quaking aspen 38 118, American basswood 37 146, American beech 64 172,
paper birch 55 159, sweet birch 65 217, yellow birch 62 201, butternut 38 118, black cherry 50 149,
American chestnut 43 123, black cottonwood 35 127, American elm 50 134, rock elm 63 154, slippery elm 53 149,
hackberry 53 119, bitternut hickory 66 179, pecan hickory 66 173, mockernut hickory 72 222,
pignut hickory 75 226, shagbark hickory 72 216, shellbark hickory 69 189, black locust 69 205,
southern magnolia 50 140, bigleaf maple 48 145, black maple 57 162, red maple 54 164, sugar maple 63 183,
white oak 68 178, black walnut 55 168, yellow poplar 42 158"""
# Table 5-3a, in MPa: pines and redwood.
SOFTWOODS = """
pond pine 56 12100, ponderosa pine 40 8900, red pine 46 11200, sand pine 48 9700, shortleaf pine 51 12100,
slash pine 59 13700, spruce pine 44 8500, sugar pine 36 8200, virginia pine 48 10500,
western white pine 35 10100, old growth redwood 40 9200, young growth redwood 35 7600"""


def woods(text: str) -> list[tuple[str, int, int]]:
    found = [row.rsplit(" ", 2) for row in text.replace("\n", " ").strip().split(", ")]
    return [(name, int(gravity), int(stiffness)) for name, gravity, stiffness in found]


@pytest.mark.parametrize(("name", "gravity", "stiffness"), woods(HARDWOODS))
def test_hardwoods(name: str, gravity: int, stiffness: int) -> None:
    found = find_species(name)
    assert found is not None
    assert found.hard
    assert found.status == "read"
    assert found.gravity == Fraction(gravity, 100)
    assert found.elasticity is not None
    assert found.elasticity == stiffness * 10_000 * Fraction("0.006894757")


@pytest.mark.parametrize(("name", "gravity", "stiffness"), woods(SOFTWOODS))
def test_softwoods(name: str, gravity: int, stiffness: int) -> None:
    found = find_species(name)
    assert found is not None
    assert not found.hard
    assert found.status == "read"
    assert (found.gravity, found.elasticity) == (Fraction(gravity, 100), stiffness)


def test_what_is_read_is_in_these_lists_and_the_rest_says_that_it_is_from_memory() -> None:
    listed = {find_species(name) for name, _, _ in woods(HARDWOODS) + woods(SOFTWOODS)}
    others = {"Douglas-fir, coast-type", "Magnolia, cucumbertree"}  # read, tested or told elsewhere
    for name, one in SPECIES.items():
        assert (one in listed or name in others) == (one.status == "read"), name


# Record, Mechanical Properties of Wood (1914), gives
# 35 pounds a cubic foot for specific gravity 0.561 by the weight of dry wood.
def test_a_cubic_foot_weighs_as_record_says() -> None:
    pounds_per_kg, cubic_feet_per_m3 = Fraction("2.2046226"), Fraction("35.3146667")
    assert round(float(Fraction("0.561") * WATER * pounds_per_kg / cubic_feet_per_m3), 1) == 35.0


# EN 350, middle densities at 12 % in kg/m3, from memory.
@pytest.mark.parametrize(
    ("name", "density"),
    [("European oak", 710), ("European beech", 710), ("European ash", 700), ("Scots pine", 520),
     ("Norway spruce", 460), ("European larch", 600)],
)  # fmt: skip
def test_european_woods(name: str, density: int) -> None:
    found = find_species(name)
    assert found is not None
    assert found.density == density
    assert "EN 350" in found.source
    assert found.status == "memory"


def test_every_wood_floats_and_is_plausible() -> None:
    for name, one in SPECIES.items():
        assert 300 < one.density < 1000, name
        assert one.elasticity is None or 5000 < one.elasticity < 17000, name


def test_a_sheet_weighs_what_it_does_in_the_hand() -> None:
    """3/4 in MDF, 4 by 8 ft: about 96 lb; the same of softwood plywood 65 to 70 lb (from memory)."""
    cubic_metres = inches("3/4").mm * inches(48).mm * inches(96).mm / 10**9
    pounds = {
        kind: panel_density(kind)[0] * cubic_metres * Fraction("2.2046226")
        for kind in ("mdf", "softwood plywood")
    }
    assert 90 < pounds["mdf"] < 100
    assert 64 < pounds["softwood plywood"] < 71

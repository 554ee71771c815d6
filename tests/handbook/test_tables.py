from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from plangen.handbook import joinery_rules as rules
from plangen.handbook.densities import (
    SPECIES,
    density_of,
    find_species,
    gravity_from_green,
    nearest_species,
    panel_density,
)
from plangen.handbook.drills import INCH_DRILLS, at_least, at_most, nearest, nearest_drill, straight_bit
from plangen.handbook.lumber import (
    board_feet,
    dressed_thickness,
    dressed_width,
    rough_thickness,
    surfaced_thickness,
)
from plangen.handbook.movement import coefficients, movement
from plangen.handbook.panels import PANELS, panel_thickness
from plangen.handbook.saws import KERFS, ROUGH_LENGTH_OVER, ROUGH_WIDTH_OVER
from plangen.units import Length, inches, millimetres


# NHLA rules as reprinted in a hardwood lumber chart: quarters, rough inches, surfaced two sides.
@pytest.mark.parametrize(
    ("mark", "rough", "surfaced"),
    [("4/4", "1", "13/16"), ("5/4", "5/4", "17/16"), ("6/4", "3/2", "21/16"), ("8/4", "2", "7/4"),
     ("12/4", "3", "11/4"), ("16/4", "4", "15/4"), ("10/4", "5/2", None)],
)  # fmt: skip
def test_quarters(mark: str, rough: str, surfaced: str | None) -> None:
    assert rough_thickness(mark) == inches(rough)
    assert surfaced_thickness(mark) == (inches(surfaced) if surfaced else None)


@pytest.mark.parametrize("mark", ["4", "4/5", "x/4", "0/4", ""])
def test_no_quarters(mark: str) -> None:
    with pytest.raises(ValueError, match="quarters mark"):
        rough_thickness(mark)


# PS 20, Table 3, dry: nominal -> dressed.
@pytest.mark.parametrize(
    ("thick", "wide", "dressed"),
    [(1, 2, ("3/4", "3/2")), (1, 4, ("3/4", "7/2")), (1, 6, ("3/4", "11/2")), (1, 8, ("3/4", "29/4")),
     (1, 10, ("3/4", "37/4")), (1, 12, ("3/4", "45/4")), (2, 4, ("3/2", "7/2")), (2, 6, ("3/2", "11/2")),
     (2, 8, ("3/2", "29/4")), (2, 10, ("3/2", "37/4")), (2, 12, ("3/2", "45/4")), (4, 4, ("7/2", "7/2"))],
)  # fmt: skip
def test_dressed_softwood(thick: int, wide: int, dressed: tuple[str, str]) -> None:
    assert dressed_thickness(inches(thick)) == inches(dressed[0])
    assert dressed_width(inches(wide)) == inches(dressed[1])


# W. Noyes, Handwork in Wood (1910); G. W. Danforth (1911); NAVEDTRA; a US Army engineer subcourse:
# number, T in, W in, L ft, board feet as printed.
@pytest.mark.parametrize(
    ("number", "thick", "wide", "feet", "printed"),
    [(1, "2", "4", "14", "28/3"), (12, "1/2", "8", "12", "96"), (80, "3/2", "6", "16", "960"),
     (1, "1", "6", "12", "6"), (1, "1", "6", "15", "15/2"), (1, "1", "11", "14", "77/6"),
     (4, "1", "8", "14", "112/3"), (1, "1", "10", "10", "25/3"), (1, "2", "4", "18", "12")],
)  # fmt: skip
def test_board_feet(number: int, thick: str, wide: str, feet: str, printed: str) -> None:
    length = inches(Fraction(feet) * 12)
    assert board_feet(inches(thick), inches(wide), length, number) == Fraction(printed)


# NIST PS 1: category, least and greatest thickness; ±1/32 in up to 13/16 in.
@pytest.mark.parametrize(
    ("category", "least", "greatest"),
    [("1/4", "0.219", "0.281"), ("3/8", "0.344", "0.406"), ("1/2", "0.469", "0.531"),
     ("5/8", "0.594", "0.656"),
     ("3/4", "0.719", "0.781"), ("9/8", "1.069", "1.181")],
)  # fmt: skip
def test_plywood_thickness(category: str, least: str, greatest: str) -> None:
    row = panel_thickness(inches(category))
    assert row is not None
    assert (row.least, row.greatest) == (inches(least), inches(greatest))


def test_plywood_rows_follow_the_tolerance_they_state() -> None:
    for row in PANELS:
        assert row.least < row.label < row.category < row.greatest
        if row.category <= inches("13/16"):
            assert abs(row.category - row.least - inches("1/32")) < inches("0.001")
    assert panel_thickness(inches("0.3")) is None


# Wood Handbook, FPL-GTR-190 (2010), Eq. 4-12 with its own example (white ash, 678 kg/m3 printed) and
# a published example for G = 0.4 (448 kg/m3).
def test_density() -> None:
    assert abs(density_of(Fraction(605, 1000)) - 678) <= Fraction(1, 2)
    assert density_of(Fraction(4, 10)) == 448


def test_green_gravity_agrees_with_the_book_s_graph() -> None:
    # FPL-GTR-190 chapter 4: white ash 0.55 green reads 0.605 at 12 %, off a graph.
    assert abs(gravity_from_green(Fraction(55, 100)) - Fraction(605, 1000)) <= Fraction(5, 1000)


# Table 5-3a and 5-3b of FPL-GTR-190 (2010): specific gravity at 12 %.
@pytest.mark.parametrize(
    ("name", "gravity", "hard"),
    [("white ash", "0.60", True), ("cherry", "0.50", True), ("hard maple", "0.63", True),
     ("white oak", "0.68", True),
     ("walnut", "0.55", True), ("poplar", "0.42", True), ("Yellow-poplar", "0.42", True),
     ("Douglas fir", "0.48", False), ("ponderosa pine", "0.40", False), ("western white pine", "0.35", False),
     ("white pine", "0.35", False), ("red oak", "0.63", True)],
)  # fmt: skip
def test_species(name: str, gravity: str, hard: bool) -> None:
    found = find_species(name)
    assert found is not None
    assert found.gravity == Fraction(gravity)
    assert found.hard is hard
    assert "Wood Handbook" in found.source


def test_elasticity_reads_the_same_in_both_units() -> None:
    # Table 5-3b: hard maple 1.83 million psi is 12 600 MPa in Table 5-3a.
    maple = SPECIES["Maple, sugar"]
    assert maple.elasticity is not None
    assert abs(maple.elasticity - 12600) < 50


def test_unknown_species() -> None:
    assert find_species("unobtainium") is None
    assert nearest_species("wite pine") == "white pine"


def test_every_species_is_found_by_its_own_name() -> None:
    for name, one in SPECIES.items():
        assert find_species(name) is one


def test_panels_weigh_as_panels() -> None:
    assert panel_density("birch plywood")[0] > panel_density("Douglas fir plywood")[0]
    assert panel_density("MDF")[0] > panel_density("birch plywood")[0]


# FPL-GTR-190 (2010), chapter 13: white fir 232 mm wide at 8 % goes to 11 %: +1.7 mm printed.
def test_movement_reproduces_the_book() -> None:
    grown = movement(millimetres(232), "Fir, white", 3)
    assert grown is not None
    assert abs(float(grown) - 1.7) < 0.05


# Computed from Table 13-5 (commercial red oak 0.00369, sugar maple 0.00353); not printed anywhere.
def test_movement_of_a_top() -> None:
    assert movement(inches(12), "red oak", 4) == inches("0.17712")
    assert movement(inches(36), "hard maple", 3) == inches("0.38124")
    assert movement(inches(36), "hard maple", -3, "quarter") == -inches("0.1782")
    assert movement(inches(36), "unobtainium", 3) is None


# A flooring trade table after the 1987 Wood Handbook prints these tangential coefficients.
@pytest.mark.parametrize(
    ("name", "tangential"),
    [("cherry", "0.00248"), ("white ash", "0.00274"), ("walnut", "0.00274"), ("yellow birch", "0.00338"),
     ("hard maple", "0.00353"), ("beech", "0.00431"), ("Douglas fir", "0.00267")],
)  # fmt: skip
def test_coefficients_agree_with_another_print(name: str, tangential: str) -> None:
    found = coefficients(name)
    assert found is not None
    assert found.tangential == Fraction(tangential)


def test_across_the_rings_moves_less_than_along_them() -> None:
    for name in SPECIES:
        found = coefficients(name)
        if found:
            assert found.radial < found.tangential


def test_kerf_and_allowances() -> None:
    # I. S. Griffith (1912-1916): 1/4 in over in width, 1/2 in over in length.
    assert (inches("1/4"), inches("1/2")) == (ROUGH_WIDTH_OVER, ROUGH_LENGTH_OVER)
    assert KERFS["table saw"] == inches("1/8")


# Common practice, no source.
def test_rules_of_thumb() -> None:
    assert rules.tenon_thickness(inches("3/4"), metric=False) == inches("1/4")
    assert rules.tenon_thickness(inches("9/8"), metric=False) == inches("3/8")
    assert rules.tenon_thickness(millimetres(19), metric=True) == millimetres(6)
    assert rules.mortise_extra(metric=False) == inches("1/16")
    assert rules.dowel_diameter(inches("3/4"), metric=False) == inches("1/4")
    assert rules.dowel_diameter(inches("1"), metric=False) == inches("3/8")
    assert rules.dowel_diameter(millimetres(18), metric=True) == millimetres(6)
    assert rules.housing_depth(inches("3/4"), metric=False) == inches("1/4")
    with pytest.raises(ValueError, match="too thin"):
        rules.dowel_diameter(inches("1/4"), metric=False)


@given(st.fractions(min_value=Fraction(1, 2), max_value=12, max_denominator=1000))
def test_the_nearest_drill_is_nearest(mm: Fraction) -> None:
    size = Length(mm)
    chosen = nearest_drill(size, metric=False)
    assert all(abs(chosen - size) <= abs(other - size) for other in INCH_DRILLS)
    below, above = at_most(size, INCH_DRILLS), at_least(size, INCH_DRILLS)
    assert nearest(size, INCH_DRILLS) in (below, above)


def test_bits() -> None:
    assert straight_bit(inches("0.70"), metric=False) == inches("5/8")
    assert straight_bit(inches("1/16"), metric=False) is None
    with pytest.raises(ValueError, match="no twist drill"):
        nearest_drill(inches(1), metric=False)

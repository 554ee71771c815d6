from fractions import Fraction

import pytest

from plangen.handbook.drills import INCH_DRILLS, MM_DRILLS
from plangen.handbook.screws import (
    NUMBERS,
    clearance_hole,
    head_diameter,
    lead_hole,
    plug_diameter,
    root_diameter,
    screw_diameter,
)
from plangen.units import inches, millimetres

# Published wood-screw tables after ASME B18.6.1: number, shank diameter in inches.
SHANKS = {2: "0.086", 4: "0.112", 6: "0.138", 8: "0.164", 10: "0.190", 12: "0.216", 14: "0.242", 16: "0.268",
          18: "0.294", 20: "0.320"}  # fmt: skip

# Published pilot table worked by the Wood Handbook's 70 % and 90 % rule ("chart B"):
# number: root in inches, softwood lead, hardwood lead, shank drill.
CHART_B = {
    2: ("0.054", "1/32", "3/64", "3/32"),
    4: ("0.075", "3/64", "1/16", "7/64"),
    6: ("0.094", "1/16", "5/64", "9/64"),
    8: ("0.112", "5/64", "3/32", "11/64"),
    10: ("0.130", "3/32", "7/64", "3/16"),
    12: ("0.148", "7/64", "1/8", "7/32"),
    14: ("0.165", "7/64", "9/64", "1/4"),
    16: ("0.184", "9/64", "5/32", "17/64"),
}

# Wood-screw chart, "Plate 6B", archived boatbuilders' newsletter ("chart A"):
# number: hardwood lead (None where the chart has a dash), softwood lead, shank drill, counterbore in 16ths.
CHART_A = {
    6: (None, "1/16", "9/64", 5),
    7: (None, "1/16", "5/32", 5),
    8: ("7/64", "5/64", "11/64", 6),
    9: ("7/64", "5/64", "3/16", 6),
    10: ("1/8", "3/32", "3/16", 6),
    12: (None, "7/64", "7/32", 7),
    14: (None, "7/64", "1/4", 8),
}


@pytest.mark.parametrize(("number", "inch"), SHANKS.items())
def test_shank_diameters(number: int, inch: str) -> None:
    assert screw_diameter(number) == inches(inch)


@pytest.mark.parametrize(("number", "row"), CHART_B.items())
def test_the_chosen_chart(number: int, row: tuple[str, str, str, str]) -> None:
    root, soft, hard, shank = row
    assert root_diameter(number) == inches(root)
    assert lead_hole(number, hard=False) == inches(soft)
    assert lead_hole(number, hard=True) == inches(hard)
    assert clearance_hole(number) == inches(shank)


@pytest.mark.parametrize("number", CHART_B)
def test_the_chart_follows_its_own_rule(number: int) -> None:
    # Wood Handbook, FPL-GTR-190 (2010), chapter 8: about 70 % and 90 % of root.
    assert abs(lead_hole(number, hard=False) - root_diameter(number) * Fraction(7, 10)) <= inches("1/64")
    assert abs(lead_hole(number, hard=True) - root_diameter(number) * Fraction(9, 10)) <= inches("1/64")


@pytest.mark.parametrize(("number", "row"), CHART_A.items())
def test_the_other_chart_is_never_far(number: int, row: tuple[str | None, str, str, int]) -> None:
    hard, soft, shank, counterbore = row
    assert abs(lead_hole(number, hard=False) - inches(soft)) <= inches("1/64")
    if hard:
        assert abs(lead_hole(number, hard=True) - inches(hard)) <= inches("1/32")
    assert abs(clearance_hole(number) - inches(shank)) <= inches("1/64")
    assert plug_diameter(number) == inches(Fraction(counterbore, 16))


def test_heads() -> None:
    # Flat-head table after ASME B18.6.1.
    assert head_diameter(8) == inches("0.332")
    assert head_diameter(10) == inches("0.385")
    assert head_diameter(millimetres(4)) == millimetres(8)


@pytest.mark.parametrize("number", [n for n in NUMBERS if n >= 2])
def test_holes_are_drills_one_can_buy_and_grow_with_the_screw(number: int) -> None:
    for hard in (False, True):
        assert lead_hole(number, hard) in INCH_DRILLS
        assert lead_hole(number, hard) < screw_diameter(number)
    assert lead_hole(number, False) <= lead_hole(number, True)
    assert clearance_hole(number) in INCH_DRILLS


@pytest.mark.parametrize("size", ["3", "7/2", "4", "9/2", "5", "6"])
def test_metric_screws_take_metric_drills(size: str) -> None:
    gauge = millimetres(size)
    assert lead_hole(gauge, True) in MM_DRILLS
    assert lead_hole(gauge, False) in MM_DRILLS
    assert clearance_hole(gauge) == gauge + millimetres("1/2")
    assert plug_diameter(gauge) >= head_diameter(gauge)


def test_a_screw_that_is_not_made_is_refused() -> None:
    for number in (13, 25, -1):
        with pytest.raises(ValueError, match="no wood screw"):
            screw_diameter(number)
    with pytest.raises(ValueError, match="no plug"):
        plug_diameter(24)

"""Printed bills with totals, reproduced through whole descriptions and through the planner.

Each bill names its book. Where a book rounds a figure, the test says how. What a book does not tell, such
as which face a board's joint is on, is ours.
"""

from __future__ import annotations

from fractions import Fraction
from functools import cache

import pytest

from plangen.handbook.lumber import board_feet
from plangen.pipeline import Checked, Source, check
from plangen.takeoff.cutting import Panel, Piece, Sawing, plan_lengths
from plangen.units import inches
from tests.cutting.verifier import check_sawn

INCH = Fraction(254, 10)


@cache
def described(text: str) -> Checked:
    result = check(Source("bill", "bill.yaml", text.encode()))
    assert result.checked is not None, [f"{one.message} ({one.place})" for one in result.findings]
    return result.checked


# E. W. Foster, Carpentry and Woodwork (1913), Fig. 235 (d), Project Gutenberg 43574: a packing case, outside
# 4 ft 8 in by 3 ft 2 in by 2 ft 8 in, of 1-inch stock. The book takes the parts from the outside sizes and
# butt joints: two of 56 × 38, two of 56 × 30, two of 36 × 30 in, in all 67 8/9 board feet without waste.
PACKING_CASE = """\
plangen: 1
project: {title: Packing Case, units: inch}
sizes:
  length: 56in
  depth: 38in
  height: 32in
stock:
  inch pine: {kind: solid, species: white pine, rough: 4/4, thickness: 1in, widths: [12in], lengths: [10ft]}
parts:
  floor board:
    stock: inch pine
    runs: across
    thick: up
    glue up: {boards: 4}
    place:
      bottom: {left: 0, right: length, front: 0, back: depth, bottom: 0}
      lid: {same as: bottom, top: height}
  side:
    stock: inch pine
    runs: across
    thick: deep
    glue up: {boards: 3}
    place:
      front side: {left: 0, right: length, front: 0, bottom: bottom.top, top: lid.bottom}
      back side: {same as: front side, back: depth}
  end:
    stock: inch pine
    runs: deep
    thick: across
    glue up: {boards: 3}
    place:
      left end: {left: 0, front: front side.back, back: back side.front, bottom: bottom.top, top: lid.bottom}
      right end: {same as: left end, right: length}
"""


def test_foster_s_packing_case_from_its_outside_sizes() -> None:
    take_off = described(PACKING_CASE).take_off
    sizes = {
        (line.number, *(size.mm / INCH for size in (line.thickness, line.length, line.width)))
        for line in take_off.cut_list
    }
    assert sizes == {(2, 1, 56, 38), (2, 1, 56, 30), (2, 1, 36, 30)}
    (plan,) = take_off.plans
    assert plan.net_board_feet == Fraction(67) + Fraction(8, 9)


# H. M. Dunphy, One Thousand Ways to Make a Living (1919), bill of material of a poultry house: number of
# pieces, thickness and width in inches, length in feet; the board measure printed at each.
POULTRY_HOUSE = {
    "frame": (81, [(5, 2, 4, 8), (2, 2, 4, 8), (4, 2, 4, 8), (3, 2, 4, 6), (2, 2, 4, 4), (1, 2, 4, 8)]),
    "roosts": (13, [(1, 2, 3, 16), (1, 2, 3, 10)]),
    "dropping board": (32, [(2, 1, 12, 16)]),
    "sheathing": (
        216,
        [(5, 1, 12, 16), (2, 1, 12, 10), (3, 1, 12, 12), (2, 1, 12, 14), (2, 1, 12, 10), (2, 1, 12, 16)],
    ),
}


@pytest.mark.parametrize("name", POULTRY_HOUSE)
def test_the_poultry_house_of_1919(name: str) -> None:
    """The book drops the third of a foot of the frame's 81 1/3; the other totals come out whole."""
    printed, rows = POULTRY_HOUSE[name]
    total = sum(
        (
            board_feet(inches(thick), inches(wide), inches(long * 12), number)
            for number, thick, wide, long in rows
        ),
        Fraction(0),
    )
    assert int(total) == printed
    assert total - printed < Fraction(1, 2)


def test_the_frame_of_the_poultry_house_is_bought_as_the_book_buys_it() -> None:
    """The same bill buys the frame as seven pieces of 16 ft and one of 12 ft, and counts no kerf: 124 ft for
    122 ft of parts. No plan from those two lengths is cheaper, and what the planner buys costs as much."""
    _, rows = POULTRY_HOUSE["frame"]
    pieces = [Piece(f"row {index}", long, 4, number) for index, (number, _, _, long) in enumerate(rows)]
    assert sum(piece.length * piece.number for piece in pieces) == 122
    bars = [Panel(f"{feet} ft", feet, 4, Fraction(feet)) for feet in (16, 12)]
    plan = plan_lengths(pieces, bars, Sawing(0))
    assert plan is not None
    check_sawn(plan, pieces, bars, Sawing(0))
    assert plan.cost == 7 * 16 + 12
    assert plan.proved


# US Army engineer subcourse EN01136, lesson 5, answers: a tent floor 106 in wide of boards 10 ft long that
# cover 5-1/2 in each, with 15 % waste, takes 106 / 5-1/2 / 0.85 = 22.67, so 23 boards. Here the same
# floor, 106 by 120 in, lies the other way, so that a board of 10 ft leaves room to square its ends.
TENT_FLOOR = """\
plangen: 1
project: {title: Tent Floor, units: inch}
stock:
  floor board:
    kind: solid
    species: white pine
    rough: 4/4
    thickness: 3/4in
    widths: [5-1/2in]
    lengths: [10ft]
    price: 1 USD/piece
    waste: 15%
    buy: by waste rule
parts:
  board:
    stock: floor board
    runs: across
    thick: up
    width: 5in
    length: 106in
    place:
"""
TENT_FLOOR += "".join(
    f"      board {index}: {{left: 0, front: {5 * index}in, bottom: 0}}\n" for index in range(24)
)


def test_the_army_s_tent_floor_by_the_waste_rule() -> None:
    (rule,) = described(TENT_FLOOR).take_off.waste_rules
    assert rule.need == Fraction(106 * 2, 11)
    assert rule.least == Fraction(106 * 2, 11) / Fraction(85, 100)
    assert abs(float(rule.least) - 22.67) < 0.005
    assert rule.buy == 23
    assert rule.cost is not None
    assert rule.cost.amount == 23


# I. S. Griffith, Correlated Courses in Woodwork and Mechanical Drawing (1912), estimating: both surfaces are
# finished, so the finish is twice the square feet of lumber; edges are not counted.
SHELF = """\
plangen: 1
project: {title: Board, units: inch}
stock:
  chestnut: {kind: solid, species: chestnut, rough: 4/4, thickness: 3/4in, widths: [12in], lengths: [10ft]}
parts:
  board:
    stock: chestnut
    runs: across
    thick: up
    width: 8in
    length: 36in
    place: {left: 0, front: 0, bottom: 0}
"""


def test_finish_is_twice_the_lumber_and_its_edges() -> None:
    square_feet = described(SHELF).take_off.finish_area / (144 * INCH**2)
    lumber = Fraction(8 * 36, 144)
    edges = Fraction(3, 4) * 2 * (8 + 36) / 144
    assert square_feet == 2 * lumber + edges

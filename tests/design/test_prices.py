"""Prices by the surface, and what hardware can not be priced by."""

from __future__ import annotations

from fractions import Fraction

import pytest

from tests.design.small import line_at, project, solve, the_fault

BOARD = """
board: {stock: STOCK, runs: across, thick: up, length: 300mm, width: 90mm,
  place: {left: 0, front: 0, bottom: 0}}
"""


@pytest.mark.parametrize(
    ("row", "amount", "per"),
    [
        # 2.5 m by 1.25 m is 3.125 m2; 8 ft by 4 ft is 32 square feet.
        ("{kind: plywood, thickness: 18mm, sheet: 1250mm x 2500mm, price: 40 EUR/m2}", 125, "sheet"),
        ("{kind: plywood, thickness: 18mm, sheet: 4ft x 8ft, price: 2 USD/sqft}", 64, "sheet"),
        # A square metre of 25 mm is a fortieth of a cubic metre.
        ("{kind: solid, rough: 25mm, thickness: 20mm, price: 50 EUR/m2}", 2000, "cubic metre"),
        ("{kind: solid, rough: 8/4, thickness: 45mm, price: 12 USD/sq ft}", 6, "board foot"),
        # Under an inch a board foot is a square foot, however thin.
        ("{kind: solid, rough: 3/4, thickness: 16mm, price: 6 USD/sq ft}", 6, "board foot"),
    ],
)  # fmt: skip
def test_a_price_by_the_surface_is_worked_out(row: str, amount: int, per: str) -> None:
    design = solve(project(BOARD.replace("STOCK", "panel"), stock=f"panel: {row}", units="mm"))
    stock = design.stock["panel"]
    assert stock.price is not None
    assert (stock.price.amount, stock.price_per) == (Fraction(amount), per)


@pytest.mark.parametrize("unit", ["m2", "bdft", "m", "sheet"])
def test_hardware_is_bought_by_the_piece(unit: str) -> None:
    text = project(
        BOARD.replace("STOCK", "pine"), hardware=f"knob: {{kind: knob, price: 3 EUR/{unit}}}", units="mm"
    )
    assert line_at(text, the_fault(text, "price-unit")).startswith("price: 3 EUR")


def test_a_board_of_no_thickness_has_no_price() -> None:
    row = "panel: {kind: solid, species: white ash, rough: 0mm, thickness: 20mm, price: 50 EUR/m2}"
    text = project(BOARD.replace("STOCK", "panel"), stock=row, units="mm")
    assert line_at(text, the_fault(text, "zero-size")).startswith("rough: 0mm")

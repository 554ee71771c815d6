"""What is asked of boards at the yard, counted again from the diagrams."""

from __future__ import annotations

from plangen.takeoff.at_the_yard import yard_words
from plangen.units import LengthStyle, millimetres
from tests.takeoff.cases import metric_plywood, pine, plain_design, taken

MM, INCH = LengthStyle("mm"), LengthStyle("inch")


def plan_of(*rows: tuple[int, int, int], goods=None):
    stock = goods or pine(widths=(millimetres(140),), lengths=(millimetres(2400),))
    sizes = [(number, millimetres(wide), millimetres(long)) for number, wide, long in rows]
    [plan] = taken(plain_design(stock, sizes, "mm"))[0].plans
    return plan


def test_only_the_boards_with_a_longest_piece_must_be_so_long() -> None:
    """Two pieces of 1500 do not come out of 2400, so they take two boards; 2 × 2.4 m is 15.7 ft."""
    plan = plan_of((2, 130, 1500), (1, 130, 600), (3, 60, 700))
    said = yard_words(plan).text(MM)
    boards = len(plan.diagrams)
    longest = max(piece.length for board in plan.diagrams for piece in board.pieces)
    giving = sum(any(piece.length == longest for piece in board.pieces) for board in plan.diagrams)
    assert (boards > giving, giving) == (True, 2)
    assert said.startswith(f"{boards * 2.4:.2f}\u00a0m of board in all. At least two boards must give")
    assert f"{int(longest.mm)}" in said
    assert "(A)" in said
    assert yard_words(plan).text(INCH).startswith(f"{boards * 2400 / 304.8:.1f}\u00a0feet")


def test_one_board_and_both_boards_are_called_so() -> None:
    assert "It must give" in yard_words(plan_of((1, 130, 600))).text(MM)
    assert "Both boards must give" in yard_words(plan_of((2, 130, 1500))).text(MM)


def test_sheets_come_in_one_size() -> None:
    assert not yard_words(plan_of((2, 300, 1500), goods=metric_plywood()))

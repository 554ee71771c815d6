"""Plans of a handful of pieces against the best there is, found by trying everything.

A bound above the optimum would tell a maker that no plan can do what a neighbour's plan does; a plan that
is called proved and is not the best would be no better. Both must never happen, with whatever kerf,
margins, turning, numbers on hand and pieces that belong together.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from plangen.takeoff.cutting import (
    Margins,
    Panel,
    Piece,
    TooLargeError,
    plan_boards,
    plan_lengths,
    plan_sheets,
)
from plangen.takeoff.cutting.model import Plan, Sawing, TooFewError
from tests.cutting.oracle import Best, best, cheapest_bars
from tests.cutting.test_verifier import spiral
from tests.cutting.verifier import check_sawn


def held_against(plan: Plan, optimum: Best) -> None:
    """The plan and what it claims, beside the optimum."""
    assert optimum.panels is not None
    assert optimum.cost is not None
    assert plan.bound.number <= optimum.panels <= len(plan.layouts)
    assert plan.least_cost <= optimum.cost <= plan.cost
    assert not plan.proved or plan.cost == optimum.cost


# The oracle itself.


def test_two_halves_and_a_kerf():
    halves, sheet = [Piece("half", 48, 40, 2)], Panel("sheet", 96, 40)
    assert best(halves, [sheet], Sawing(0)).panels == 1
    assert best(halves, [sheet], Sawing(1)).panels == 2


def test_three_stages_and_no_fourth():
    for depth in range(1, 5):
        layout, pieces = spiral(depth)
        one = best(pieces, [layout.panel], Sawing(0)).panels == 1
        assert one == (depth <= 3), depth


def test_a_pinwheel_is_no_guillotine():
    pieces = [Piece(f"arm{index}", 6, 4, may_turn=True) for index in range(4)]
    pieces.append(Piece("middle", 2, 2))
    square = Panel("square", 10, 10)
    assert best(pieces, [square], Sawing(0)).panels == 2
    assert best(pieces[:3], [square], Sawing(0)).panels == 1


def test_too_few_and_two_sizes():
    one, two = Panel("small", 10, 10, Fraction(1), 1), Panel("large", 20, 10, Fraction(3))
    pieces = [Piece("a", 10, 10, 3)]
    assert best(pieces, [one], Sawing(0)) == Best(None, None)
    assert best(pieces, [one, two], Sawing(0)) == Best(2, Fraction(4))
    both = [replace(pieces[0], together="pair")]
    assert best(both, [one, two], Sawing(0)) == Best(None, None)


def test_the_general_solver_and_the_search_agree_on_bars():
    pieces = [Piece("a", 40, 1, 2), Piece("b", 27, 1, 2), Piece("c", 33, 1)]
    bars = [Panel("long", 100, 1, Fraction(10)), Panel("short", 70, 1, Fraction(15, 2), 1)]
    for kerf in (0, 3):
        assert cheapest_bars(pieces, bars, Sawing(kerf)) == best(pieces, bars, Sawing(kerf)).cost


# The plans. What is claimed must be true however short the search.

EFFORT = 20_000
QUICK = (Phase.explicit, Phase.generate)  # a smaller example of a fault is not worth minutes of planning
kerfs = st.integers(0, 4)


@st.composite
def jobs(draw: st.DrawFn) -> list[Piece]:
    groups = st.sampled_from(["", "", "", "fronts"])
    pieces = [
        Piece(
            f"p{index}",
            draw(st.integers(6, 58)),
            draw(st.integers(6, 40)),
            draw(st.sampled_from([1, 1, 2])),
            draw(st.booleans()),
            together=draw(groups),
        )
        for index in range(draw(st.integers(1, 4)))
    ]
    while sum(piece.number for piece in pieces) > 5:
        pieces.pop()
    return pieces


def margins_of(sides: tuple[int, int, int, int], kerf: int) -> Margins:
    left, right, low, high = sides
    return Margins(left and left + kerf + 1, right, low and low + kerf + 1, high)


margins = st.sampled_from([(0, 0, 0, 0), (0, 0, 0, 0), (3, 3, 3, 3), (2, 0, 0, 5)])


@settings(max_examples=60, deadline=None, derandomize=True, phases=QUICK)
@given(
    jobs(),
    kerfs,
    margins,
    st.sampled_from([None, "x", "y"]),
    st.sampled_from([None, 1, 2]),
    st.booleans(),
)
def test_sheets(pieces, kerf, sides, first, half_sheets, several):
    sawing = Sawing(kerf, margins_of(sides, kerf), first=first)
    sheets = [Panel("whole", 80, 60, Fraction(78), None if several else 3)]
    if half_sheets:
        sheets.append(Panel("half", 60, 40, Fraction(0 if half_sheets == 1 else 40), half_sheets))
    optimum = best(pieces, sheets, sawing)
    try:
        plan = plan_sheets(pieces, sheets, sawing, EFFORT)
    except TooFewError:
        assert best(pieces, sheets, sawing, trimmed=False).cost is None, "there are enough"
        return
    except TooLargeError as error:
        alone = replace(error.piece, number=1, together="")
        assert all(best([alone], [replace(sheet, available=None)], sawing).panels is None for sheet in sheets)
        return
    check_sawn(plan, pieces, sheets, sawing)
    held_against(plan, optimum)


@settings(max_examples=50, deadline=None, derandomize=True, phases=QUICK)
@given(jobs(), kerfs, st.integers(0, 3), st.sampled_from([None, 1, 3]), st.sampled_from([None, "x", "y"]))
def test_boards(pieces, kerf, narrower, own, first):
    pieces = [replace(piece, may_turn=False, least_width=max(1, piece.width - narrower)) for piece in pieces]
    sawing = Sawing(kerf, Margins(4 + kerf, 2), first=first)
    boards = [
        Panel("a", 100, 40, Fraction(41)),
        Panel("b", 140, 30, Fraction(43)),
        Panel("c", 140, 45, Fraction(65)),
    ]
    if own:
        boards.append(Panel("rack", 70, 45, Fraction(0), own))
    optimum = best(pieces, boards, sawing)
    try:
        plan = plan_boards(pieces, boards, sawing, 20)
    except TooFewError:
        assert best(pieces, boards, sawing, trimmed=False).cost is None, "there are enough"
        return
    check_sawn(plan, pieces, boards, sawing)
    held_against(plan, optimum)


@settings(max_examples=60, deadline=None, derandomize=True, phases=QUICK)
@given(
    st.lists(st.tuples(st.integers(5, 60), st.integers(1, 3), st.booleans()), min_size=1, max_size=5),
    kerfs,
    st.sampled_from([None, 1, 2]),
    st.booleans(),
)
def test_lengths_are_proved(rows, kerf, own, only_own):
    pieces = [
        Piece(f"p{index}", length, 10, number, together="pair" if pair and number > 1 else "")
        for index, (length, number, pair) in enumerate(rows)
    ]
    sawing = Sawing(kerf, Margins(kerf + 2, 3))
    bars = [Panel("long", 96, 10, Fraction(96)), Panel("short", 72, 10, Fraction(73, 2))]
    if own:
        rack = Panel("rack", 80, 10, Fraction(0), own)
        bars = [rack] if only_own else [*bars, rack]
    optimum = cheapest_bars(pieces, bars, sawing)
    try:
        plan = plan_lengths(pieces, bars, sawing)
    except (TooFewError, TooLargeError):
        assert optimum is None
        return
    assert plan is not None
    assert optimum is not None
    check_sawn(plan, pieces, bars, sawing)
    assert plan.proved, "so few pieces are tried completely"
    assert plan.cost == optimum


@pytest.mark.parametrize("kerf", [0, 2])
def test_pieces_of_two_widths_are_no_matter_of_length(kerf):
    pieces = [Piece("a", 30, 10, 2), Piece("b", 30, 4, 2)]
    assert plan_lengths(pieces, [Panel("board", 96, 10)], Sawing(kerf)) is None

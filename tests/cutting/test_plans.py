"""Plans replayed cut by cut, small ones by reasoning, random ones and published ones by machine."""

from __future__ import annotations

import json
from dataclasses import replace
from fractions import Fraction
from itertools import permutations
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plangen.takeoff.cutting import (
    Margins,
    Panel,
    Piece,
    Sawing,
    TooLargeError,
    fewest,
    plan_boards,
    plan_sheets,
)
from tests.cutting.verifier import check_layout, check_plan

DATA = Path(__file__).parent.parent / "data"
BOARD = Panel("eight feet", 96 * 8, 58)  # eighths of an inch: 96 long, 7-1/4 wide


def test_two_halves_do_not_come_out_of_a_board_with_a_kerf():
    halves = [Piece("half", 48 * 8, 40, 2)]
    with_kerf = plan_boards(halves, [BOARD], Sawing(1))
    check_plan(with_kerf, halves, [BOARD], 1)
    assert len(with_kerf.layouts) == 2
    assert with_kerf.bound.number == 2
    without = plan_boards(halves, [BOARD], Sawing(0))
    check_plan(without, halves, [BOARD], 0)
    assert len(without.layouts) == 1


def test_two_halves_of_a_sheet():
    sheet = Panel("sheet", 96 * 8, 48 * 8)
    halves = [Piece("half", 96 * 8, 24 * 8, 2)]
    assert len(plan_sheets(halves, [sheet], Sawing(1)).layouts) == 2
    assert len(plan_sheets(halves, [sheet], Sawing(0)).layouts) == 1


def test_narrow_pieces_lie_side_by_side():
    pieces = [Piece("slat", 90 * 8, 3 * 8, 2)]
    plan = plan_boards(pieces, [BOARD], Sawing(1))
    check_plan(plan, pieces, [BOARD], 1)
    assert len(plan.layouts) == 1
    rips = [cut for cut in plan.layouts[0].cuts if cut.along == "x"]
    assert [cut.at for cut in rips] == [24, 24], "one fence setting serves both"


def test_crosscuts_read_from_the_end_with_kerf():
    """As on the mock page: 1 in of end, pieces of 21-1/2 in, 1/8 in of kerf: 1, 22-5/8, 44-1/4."""
    pieces = [Piece("side", 172, 58, 2)]
    plan = plan_boards(pieces, [BOARD], Sawing(1, Margins(9, 8)))
    check_plan(plan, pieces, [BOARD], 1, (9, 8, 0, 0))
    assert [cut.position for cut in plan.layouts[0].cuts] == [8, 181, 354]
    assert [cut.at for cut in plan.layouts[0].cuts] == [8, 172, 172]


def test_full_width_needs_no_rip():
    pieces = [Piece("side", 100, 59, 1, least_width=58)]
    plan = plan_boards(pieces, [BOARD], Sawing(1))
    check_plan(plan, pieces, [BOARD], 1)
    assert plan.layouts[0].pieces[0].width == 58
    assert all(cut.along == "y" for cut in plan.layouts[0].cuts)


def test_a_shaving_thinner_than_the_kerf_is_sawn_off():
    pieces = [Piece("side", 100, 57)]
    plan = plan_boards(pieces, [BOARD], Sawing(2))
    check_plan(plan, pieces, [BOARD], 2)
    assert [cut.at for cut in plan.layouts[0].cuts if cut.along == "x"] == [57]


def test_cheaper_board_is_chosen():
    long, short = Panel("long", 960, 50, Fraction(96)), Panel("short", 720, 50, Fraction(72))
    pieces = [Piece("rail", 700, 50)]
    plan = plan_boards(pieces, [long, short], Sawing(1))
    assert [layout.panel.name for layout in plan.layouts] == ["short"]
    pieces = [Piece("rail", 470, 50, 4)]
    plan = plan_boards(pieces, [long, short], Sawing(1))
    assert [layout.panel.name for layout in plan.layouts] == ["long", "long"]


def test_grain_locks_or_frees():
    sheet = Panel("sheet", 100, 50)
    plan_sheets([Piece("tall", 40, 60, may_turn=True)], [sheet], Sawing(1))
    with pytest.raises(TooLargeError, match="tall"):
        plan_sheets([Piece("tall", 40, 60)], [sheet], Sawing(1))


def test_refusals():
    with pytest.raises(ValueError, match="positive"):
        plan_sheets([Piece("nothing", 0, 10)], [Panel("sheet", 100, 50)], Sawing(1))
    with pytest.raises(ValueError, match="margin"):
        plan_sheets([Piece("a", 10, 10)], [Panel("sheet", 100, 50)], Sawing(3, Margins(2, 2, 2, 2)))
    with pytest.raises(ValueError, match="different names"):
        plan_sheets([Piece("a", 10, 10), Piece("a", 12, 10)], [Panel("sheet", 100, 50)], Sawing(3))


def test_nothing_to_cut():
    plan = plan_sheets([], [Panel("sheet", 100, 50)], Sawing(3))
    assert plan.layouts == ()
    assert plan.bound.number == 0


def test_the_verifier_catches_a_cut_that_stops_short():
    pieces = [Piece("a", 40, 20, 2), Piece("b", 30, 30)]
    plan = plan_sheets(pieces, [Panel("sheet", 100, 50)], Sawing(2))
    layout = plan.layouts[0]
    check_layout(layout, 2)

    first = layout.cuts[0]
    for wrong in (replace(first, high=first.high - 1), replace(first, position=first.position + 1)):
        with pytest.raises(AssertionError):
            check_layout(replace(layout, cuts=(wrong, *layout.cuts[1:])), 2)
    with pytest.raises(AssertionError):
        check_layout(layout, 3)


sizes = st.integers(5, 60)


@st.composite
def jobs(draw):
    return [
        Piece(f"p{index}", draw(sizes), draw(sizes), draw(st.integers(1, 3)), draw(st.booleans()))
        for index in range(draw(st.integers(1, 7)))
    ]


@settings(max_examples=60, deadline=None, derandomize=True)
@given(jobs(), st.integers(0, 4), st.sampled_from([0, 6]))
def test_random_sheets(pieces, kerf, trim):
    sheet = Panel("sheet", 100, 75)
    plan = plan_sheets(pieces, [sheet], Sawing(kerf, Margins(trim, trim, trim, trim)), 5_000)
    check_plan(plan, pieces, [sheet], kerf, (trim,) * 4)
    assert plan == plan_sheets(pieces, [sheet], Sawing(kerf, Margins(trim, trim, trim, trim)), 5_000)


@settings(max_examples=60, deadline=None, derandomize=True)
@given(jobs(), st.integers(0, 4))
def test_random_boards(pieces, kerf):

    pieces = [replace(piece, may_turn=False, least_width=max(1, piece.width - 2)) for piece in pieces]
    boards = [
        Panel("a", 100, 60, Fraction(60)),
        Panel("b", 140, 40, Fraction(56)),
        Panel("c", 140, 60, Fraction(80)),
    ]
    plan = plan_boards(pieces, boards, Sawing(kerf, Margins(6, 2)), 10)
    check_plan(plan, pieces, boards, kerf, (6, 2, 0, 0))


@settings(max_examples=40, deadline=None, derandomize=True)
@given(st.lists(st.integers(5, 60), min_size=1, max_size=6), st.integers(0, 3))
def test_bound_never_passes_the_optimum_in_a_row(lengths, kerf):
    """Small enough to try every order: first-fit over all orders finds the fewest bars."""
    bar = 80

    def bars(order):
        count, left = 0, -1
        for length in order:
            if length > left:
                count, left = count + 1, bar
            left -= length + kerf
        return count

    best = min(bars(order) for order in permutations(lengths))
    pieces = [Piece(str(index), length, 10) for index, length in enumerate(lengths)]
    bound = fewest(pieces, [Panel("bar", bar, 10)], kerf, Margins())
    plan = plan_boards(pieces, [Panel("bar", bar, 10)], Sawing(kerf))
    assert bound.number <= best <= len(plan.layouts)


PUBLISHED = json.loads((DATA / "cutting_instances.json").read_text())


@pytest.mark.parametrize("case", PUBLISHED["bars"], ids=lambda case: case["name"])
def test_published_bars(case):
    """Best known numbers are proved there; a first plan may need one bar in ten more."""
    pieces = [Piece(f"p{size}", size, 1, number) for size, number in case["items"]]
    bar = Panel("bar", case["capacity"], 1)
    plan = plan_boards(pieces, [bar], Sawing(0), 10)
    check_plan(plan, pieces, [bar], 0)
    assert plan.bound.number <= case["best"] <= len(plan.layouts) <= case["best"] * 1.1 + 1


@pytest.mark.parametrize("case", PUBLISHED["sheets"], ids=lambda case: case["name"])
def test_published_sheets(case):
    """``bk_o_free`` is the best known without any rule of sawing, so no honest bound is above it."""
    width, height = case["sheet"]
    pieces = [Piece(f"p{index}", w, h) for index, (w, h) in enumerate(case["items"])]
    sheet = Panel("sheet", width, height)
    plan = plan_sheets(pieces, [sheet], Sawing(0), 20_000)
    check_plan(plan, pieces, [sheet], 0)
    assert plan.bound.number <= case["bk_o_free"]
    assert len(plan.layouts) <= case["bk_o_3stage"] + 1


def test_army_subcourse_frame():
    """US Army engineer subcourse EN01136, lesson 5 (as quoted): two 10 ft, four 5 ft 1 in and two 3 ft 7 in
    rails come out of six 10-foot pieces; six is also what a 1/8 in kerf allows (own check)."""
    bar = Panel("10 ft", 120 * 8, 28)
    pieces = [Piece("top", 960, 28, 2), Piece("upright", 61 * 8, 28, 4), Piece("centre", 43 * 8, 28, 2)]
    for kerf in (0, 1):
        plan = plan_boards(pieces, [bar], Sawing(kerf))
        check_plan(plan, pieces, [bar], kerf)
        assert len(plan.layouts) == 6
        assert plan.bound.number == 6

"""Boards of mixed sizes and prices: plans replayed by the saw, bounds held against full enumeration."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plangen.takeoff.cutting import (
    Margins,
    Panel,
    Piece,
    Sawing,
    TogetherError,
    TooFewError,
    TooLargeError,
    plan_boards,
)
from plangen.takeoff.cutting.boards_fill import Shape, Table, most_by_area, scale, shared
from tests.cutting.verifier import check_sawn

EFFORT = 20


def yard(widths: tuple[int, ...] = (44, 58), lengths: tuple[int, ...] = (576, 768)) -> list[Panel]:
    """Boards in eighths of an inch, paid by their area."""
    return [
        Panel(f"{width} x {length}", length, width, Fraction(length * width))
        for width in widths
        for length in lengths
    ]


def test_rip_first_where_that_is_cheaper():
    """Three long slats side by side, and a short one: crosscut first would take two boards."""
    pieces = [Piece("long", 500, 18, 2), Piece("mid", 240, 18, 2), Piece("wide", 240, 58)]
    plan = plan_boards(pieces, yard((58,), (768,)), Sawing(1), EFFORT)
    check_sawn(plan, pieces, yard((58,), (768,)), Sawing(1))
    assert len(plan.layouts) == 1
    assert plan.proved


def test_the_cheapest_boards_are_not_the_fewest():
    """Two short boards at 3 each hold what one long one at 10 does."""
    pieces = [Piece("rail", 300, 30, 2), Piece("slat", 300, 12, 2)]
    boards = [Panel("long", 640, 44, Fraction(10)), Panel("short", 320, 44, Fraction(3))]
    plan = plan_boards(pieces, boards, Sawing(1, Margins(4, 4)), EFFORT)
    check_sawn(plan, pieces, boards, Sawing(1, Margins(4, 4)))
    assert [layout.panel.name for layout in plan.layouts] == ["short", "short"]
    assert (plan.cost, plan.least_cost) == (6, 6)
    assert plan.bound.number <= 2


def test_boards_on_the_rack_come_first_and_run_out():
    pieces = [Piece("rail", 300, 20, 5)]
    boards = [Panel("rack", 620, 44, Fraction(0), 1), Panel("bought", 320, 44, Fraction(3))]
    plan = plan_boards(pieces, boards, Sawing(1), EFFORT)
    check_sawn(plan, pieces, boards, Sawing(1))
    assert sorted(layout.panel.name for layout in plan.layouts) == ["bought", "rack"]
    assert plan.proved
    with pytest.raises(TooFewError, match="rail"):
        plan_boards(pieces, boards[:1], Sawing(1), EFFORT)


def test_what_belongs_together_comes_from_one_board():
    fronts = [Piece("top", 200, 20, 2, together="fronts"), Piece("low", 200, 24, together="fronts")]
    pieces = [*fronts, Piece("rail", 500, 30, 2)]
    boards = yard((44,), (576, 768))
    plan = plan_boards(pieces, boards, Sawing(1), EFFORT)
    check_sawn(plan, pieces, boards, Sawing(1))
    with pytest.raises(TogetherError):
        plan_boards([replace(one, number=4) for one in fronts], boards[:1], Sawing(1), EFFORT)


def test_no_piece_turns():
    with pytest.raises(TooLargeError):
        plan_boards([Piece("shelf", 40, 300, may_turn=True)], yard(), Sawing(1), EFFORT)


def test_a_job_that_greed_does_badly():
    """Fourteen pieces: the cost stays within a tenth of what is proved, and areas alone prove less."""
    pieces = [
        Piece("a", 470, 29, 2), Piece("b", 380, 43, 1), Piece("c", 250, 20, 4), Piece("d", 188, 50, 2),
        Piece("e", 560, 13, 2), Piece("f", 90, 36, 3),
    ]  # fmt: skip
    boards, sawing = yard((44, 58, 74), (576, 768, 960)), Sawing(1, Margins(9, 8))
    plan = plan_boards(pieces, boards, sawing)
    check_sawn(plan, pieces, boards, sawing)
    area = sum(piece.length * piece.width * piece.number for piece in pieces)
    assert plan.least_cost > area * Fraction(11, 10)
    assert plan.cost <= plan.least_cost * Fraction(11, 10)
    assert plan == plan_boards(pieces, boards, sawing)


def test_five_thousand_pieces_have_an_answer_and_a_bound():
    pieces = [Piece(f"p{index}", 60 + index % 97, 8 + index % 23, 10) for index in range(500)]
    boards = yard((58,), (768, 960))
    plan = plan_boards(pieces, boards, Sawing(1, Margins(9, 8)), 2)
    assert sum(len(layout.pieces) for layout in plan.layouts) == 5000
    assert 0 < plan.least_cost <= plan.cost <= plan.least_cost * Fraction(13, 10)


# The most that a board can give.

shapes = st.lists(
    st.builds(Shape, st.integers(3, 30), st.integers(3, 14), st.integers(1, 3)), min_size=1, max_size=4
)


def most_by_trying(shapes: list[Shape], prices: list[int], along: int, across: int) -> int:
    """Every straight cut of every rectangle, whole unit by whole unit."""
    known: dict[tuple[int, int], int] = {}

    def most(long: int, wide: int) -> int:
        if (long, wide) not in known:
            best = max(
                (
                    price
                    for shape, price in zip(shapes, prices, strict=True)
                    if shape.along <= long and shape.across <= wide
                ),
                default=0,
            )
            for cut in range(1, long // 2 + 1):
                best = max(best, most(cut, wide) + most(long - cut, wide))
            for cut in range(1, wide // 2 + 1):
                best = max(best, most(long, cut) + most(long, wide - cut))
            known[long, wide] = best
        return known[long, wide]

    return most(along, across)


@settings(max_examples=60, deadline=None, derandomize=True)
@given(shapes, st.data())
def test_a_table_gives_the_most_and_a_fill_that_is_worth_it(shapes, data):
    prices = [data.draw(st.integers(1, 50)) for _ in shapes]
    along, across = data.draw(st.integers(10, 34)), data.draw(st.integers(5, 16))
    scales = [
        scale([one.along for one in shapes], along, 999),
        scale([one.across for one in shapes], across, 999),
    ]
    table = Table(shapes, prices, *scales)
    most = table.most(along, across)
    assert most == most_by_trying(shapes, prices, along, across)
    assert sum(prices[item] * number for item, number in table.fill(along, across).items()) == most


@settings(max_examples=60, deadline=None, derandomize=True)
@given(shapes, st.data())
def test_coarse_steps_never_give_less(shapes, data):
    shapes = [Shape(one.along * 8, one.across * 8, one.number) for one in shapes]
    prices = [data.draw(st.integers(1, 50)) for _ in shapes]
    along, across = data.draw(st.integers(80, 270)), data.draw(st.integers(40, 130))
    tables = [
        Table(
            shapes, prices,
            scale([one.along for one in shapes], along, most),
            scale([one.across for one in shapes], across, most),
        )
        for most in (999, 6)
    ]  # fmt: skip
    exact, coarse = (table.most(along, across) for table in tables)
    assert coarse >= exact
    coarse_fill: Counter[int] = tables[1].fill(along, across)
    assert sum(prices[item] * number for item, number in coarse_fill.items()) == coarse


def test_worth_is_shared_without_loss():
    given_out = shared(100, {1: 3, 2: 3, 5: 1})
    assert sum(given_out.values()) == 100
    assert given_out[1] >= given_out[2] > given_out[5]


@settings(max_examples=60, deadline=None, derandomize=True)
@given(shapes, st.data())
def test_areas_never_give_less_than_a_fill_within_the_numbers(shapes, data):
    """Held against every choice of numbers that a straight row of pieces can hold."""
    prices = [data.draw(st.integers(1, 50)) for _ in shapes]
    along, across = data.draw(st.integers(10, 34)), data.draw(st.integers(5, 16))
    scales = (
        scale([one.along for one in shapes], along, 999),
        scale([one.across for one in shapes], across, 999),
    )
    most = most_by_area(shapes, prices, (along, across), scales)
    for side in ("along", "across"):
        room, other = (along, across) if side == "along" else (across, along)
        best = {0: 0}
        for shape, price in zip(shapes, prices, strict=True):
            size, breadth = getattr(shape, side), shape.across if side == "along" else shape.along
            for _ in range(shape.number if breadth <= other else 0):
                for used, worth in sorted(best.items(), reverse=True):
                    if used + size <= room:
                        best[used + size] = max(best.get(used + size, 0), worth + price)
        assert most >= max(best.values())

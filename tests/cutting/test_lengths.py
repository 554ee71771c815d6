"""Plans of lengths: by reasoning, against published numbers, and against a solver that knows no patterns."""

from __future__ import annotations

import json
from collections import Counter
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from ortools.sat.python import cp_model

from plangen.takeoff.cutting import (
    Margins,
    Panel,
    Piece,
    Sawing,
    TogetherError,
    TooFewError,
    TooLargeError,
    plan_lengths,
)
from tests.cutting.verifier import check_sawn

DATA = Path(__file__).parent.parent / "data" / "packing"
FEET = 12 * 8  # in eighths of an inch
EIGHT, TEN = Panel("8 ft", 8 * FEET, 28, Fraction(8)), Panel("10 ft", 10 * FEET, 28, Fraction(11))


def planned(pieces, bars, sawing):
    plan = plan_lengths(pieces, bars, sawing)
    assert plan is not None
    check_sawn(plan, pieces, bars, sawing)
    return plan


def test_two_halves_do_not_come_out_of_one_bar():
    halves = [Piece("half", 4 * FEET, 28, 2)]
    plan = planned(halves, [EIGHT], Sawing(1))
    assert (len(plan.layouts), plan.bound.number, plan.least_cost) == (2, 2, 16)
    assert len(planned(halves, [EIGHT], Sawing(0)).layouts) == 1


def test_mixed_bars_are_cheapest_together():
    """Five pieces of 4 ft less a kerf: two to a bar of either size, so two bars of 8 ft and one more."""
    pieces = [Piece("rail", 4 * FEET - 1, 28, 5)]
    plan = planned(pieces, [EIGHT, TEN], Sawing(1))
    assert [layout.panel for layout in plan.layouts] == [EIGHT] * 3
    assert plan.proved
    few = replace(EIGHT, available=1)
    plan = planned(pieces, [few, TEN], Sawing(1))
    assert Counter(layout.panel.name for layout in plan.layouts) == {"8 ft": 1, "10 ft": 2}
    assert plan.least_cost == plan.cost == 30


def test_a_price_in_fractions_is_exact():
    bars = [replace(EIGHT, cost=Fraction(10, 3)), replace(TEN, cost=Fraction(29, 7))]
    plan = planned([Piece("rail", 4 * FEET - 1, 28, 3)], bars, Sawing(1))
    assert plan.least_cost == plan.cost == Fraction(20, 3)


def test_an_off_cut_on_the_rack_is_used_first():
    rack = Panel("off-cut", 3 * FEET, 28, Fraction(0), 1)
    pieces = [Piece("rail", 2 * FEET, 28, 7)]
    plan = planned(pieces, [EIGHT, rack], Sawing(1))
    assert Counter(layout.panel.name for layout in plan.layouts) == {"8 ft": 2, "off-cut": 1}
    assert plan.proved


def test_what_belongs_together_comes_out_of_one_bar():
    pair = [Piece("a", 60, 28, 2), Piece("b", 40, 28, 2)]
    bar = Panel("bar", 104, 28)
    assert len(planned(pair, [bar], Sawing(2)).layouts) == 2
    together = [replace(pair[0], number=1, together="pair"), Piece("c", 40, 28, together="pair"), pair[1]]
    plan = planned(together, [bar], Sawing(2))
    assert {laid.name for laid in plan.layouts[0].pieces} in ({"a", "c"}, {"b"})
    with pytest.raises(TogetherError):
        plan_lengths([replace(pair[0], together="pair")], [bar], Sawing(2))


def test_ends_are_trimmed_and_a_short_rest_is_cut_through():
    bar = Panel("bar", 100, 28)
    plan = planned([Piece("a", 42, 28, 2)], [bar], Sawing(3, Margins(left=9, right=1)))
    (layout,) = plan.layouts
    assert [(cut.at, cut.position) for cut in layout.cuts] == [(6, 6), (42, 51), (42, 96)]
    assert [(rest.x, rest.length) for rest in layout.rests] == [(0, 6), (99, 1)]


def test_one_rip_does_for_all_pieces_of_one_width():
    plan = planned([Piece("a", 42, 20, 2)], [Panel("bar", 100, 28)], Sawing(3))
    assert [(cut.along, cut.at) for cut in plan.layouts[0].cuts] == [("x", 20), ("y", 42), ("y", 42)]


def test_pieces_of_two_widths_are_ripped_when_they_are_cut_off():
    plan = planned([Piece("a", 42, 20), Piece("b", 40, 24)], [Panel("bar", 100, 28)], Sawing(3))
    assert [cut.along for cut in plan.layouts[0].cuts] == ["y", "y", "x", "x"]
    assert {(cut.along, cut.at) for cut in plan.layouts[0].cuts} == {
        ("y", 42),
        ("y", 40),
        ("x", 20),
        ("x", 24),
    }


@pytest.mark.parametrize(
    ("pieces", "bars"),
    [
        ([Piece("a", 40, 12, 2)], [Panel("bar", 100, 28)]),
        ([Piece("a", 20, 25, may_turn=True)], [Panel("bar", 100, 28)]),
        ([Piece("a", 40, 20), Piece("b", 40, 20)], [Panel("bar", 100, 28), Panel("wide", 100, 44)]),
    ],
)
def test_where_width_matters_it_is_no_matter_of_lengths(pieces, bars):
    assert plan_lengths(pieces, bars, Sawing(2)) is None


def test_equal_lengths_stand_together():
    pieces = [Piece("a", 30, 28, 4), Piece("b", 20, 28, 4), Piece("c", 30, 28, 2)]
    for layout in planned(pieces, [Panel("bar", 104, 28)], Sawing(1)).layouts:
        lengths = [laid.length for laid in layout.pieces]
        assert lengths == sorted(lengths, reverse=True)


def test_refusals():
    bar = Panel("bar", 100, 28, available=2)
    with pytest.raises(TooLargeError):
        plan_lengths([Piece("a", 100, 28)], [bar], Sawing(2, Margins(left=3)))
    with pytest.raises(TooFewError):
        plan_lengths([Piece("a", 60, 28, 3)], [bar], Sawing(2))
    with pytest.raises(ValueError, match="positive"):
        plan_lengths([Piece("a", 0, 28)], [bar], Sawing(2))


def published(name):
    return json.loads((DATA / f"{name}.json").read_text())["bars"]


SAMPLE = [
    pytest.param(case, name != "hard28", id=case["name"])
    for name, every in (
        ("falkenauer_u120", 6), ("falkenauer_t60", 7), ("falkenauer_t120", 11),
        ("schwerin", 40), ("scholl", 6), ("hard28", 28),
    )
    for case in published(name)[::every]
]  # fmt: skip


@pytest.mark.parametrize(("case", "to_the_end"), SAMPLE)
def test_published_bars(case, to_the_end):
    """``best`` is proved there: no honest bound is above it; hard28 may take one bar more."""
    pieces = [Piece(f"p{size}", size, 1, number) for size, number in case["items"]]
    plan = planned(pieces, [Panel("bar", case["capacity"], 1)], Sawing(0))
    assert plan.bound.number <= case["best"] <= len(plan.layouts)
    assert plan.proved or not to_the_end
    assert len(plan.layouts) <= case["best"] + 1


def cheapest(pieces, bars, sawing):
    """The least cost by a general solver: every single piece on a numbered bar, no patterns; None: none."""
    model = cp_model.CpModel()
    single = [piece for piece in pieces for _ in range(piece.number)]
    slots = [(bar, at) for bar in bars for at in range(bar.available or len(single))]
    bought = {slot: model.new_bool_var("") for slot in slots}
    on = [{slot: model.new_bool_var("") for slot in slots} for _ in single]
    ends = sawing.margins.left + sawing.margins.right
    for places in on:
        model.add_exactly_one(places.values())
    for slot in slots:
        taken = sum(
            (piece.length + sawing.kerf) * places[slot] for piece, places in zip(single, on, strict=True)
        )
        model.add(taken <= (slot[0].length - ends + sawing.kerf) * bought[slot])
    for one, places in zip(single, on, strict=True):
        for other, others in zip(single, on, strict=True):
            if one.together and one.together == other.together:
                for slot in slots:
                    model.add(places[slot] == others[slot])
    for (bar, at), (other, after) in pairwise(slots):
        if bar == other:
            model.add(bought[bar, at] >= bought[other, after])
    model.minimize(sum(int(bar.cost) * bought[bar, at] for bar, at in slots))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    status = solver.solve(model)
    assert status in (cp_model.OPTIMAL, cp_model.INFEASIBLE)
    return round(solver.objective_value) if status == cp_model.OPTIMAL else None


@st.composite
def jobs(draw):
    bars = [
        Panel(f"bar {at}", draw(st.integers(60, 130)), 10, Fraction(draw(st.integers(5, 20))), available)
        for at, available in enumerate(
            draw(st.lists(st.sampled_from([None, None, 1, 2]), min_size=1, max_size=3))
        )
    ]
    group = st.sampled_from(["", "", "", "x"])
    pieces = [
        Piece(f"p{at}", draw(st.integers(10, 50)), 10, draw(st.integers(1, 3)), together=draw(group))
        for at in range(draw(st.integers(1, 4)))
    ]
    return pieces, bars, Sawing(draw(st.integers(0, 3)), Margins(left=draw(st.sampled_from([0, 5])), right=1))


@settings(max_examples=60, deadline=None, derandomize=True)
@given(jobs())
def test_small_jobs_are_solved_to_the_end(job):
    pieces, bars, sawing = job
    optimum = cheapest(pieces, bars, sawing)
    if optimum is None:
        with pytest.raises(TooFewError):
            plan_lengths(pieces, bars, sawing)
        return
    plan = planned(pieces, bars, sawing)
    assert plan.least_cost == plan.cost == optimum


@settings(max_examples=30, deadline=None, derandomize=True)
@given(jobs(), st.randoms(use_true_random=False))
def test_the_same_plan_again_and_the_same_cost_in_another_order(job, random):
    pieces, bars, sawing = job
    bars = [replace(bar, available=None) for bar in bars]
    try:
        plan = planned(pieces, bars, sawing)
    except TogetherError:
        return
    assert plan == plan_lengths(pieces, bars, sawing)
    shuffled, others = random.sample(pieces, len(pieces)), random.sample(bars, len(bars))
    again = planned(shuffled, others, sawing)
    assert (again.cost, again.least_cost) == (plan.cost, plan.least_cost)


def test_five_thousand_pieces_have_an_answer_and_a_bound():
    pieces = [Piece(f"p{at}", 200 + 7 * at % 1900, 90, 5) for at in range(1000)]
    bars = [Panel("short", 2400, 90, Fraction(5)), Panel("long", 4800, 90, Fraction(9))]
    plan = planned(pieces, bars, Sawing(3))
    assert plan.least_cost >= plan.cost * Fraction(97, 100)


def test_bars_are_cut_alike_where_that_costs_nothing():
    """Twelve of 40 and twelve of 50: mixed three to a bar or each by itself, the same number of bars."""
    pieces = [Piece("a", 40, 28, 12), Piece("b", 50, 28, 12)]
    plan = planned(pieces, [Panel("bar", 101, 28)], Sawing(1))
    assert len(plan.layouts) == 12
    assert {len({laid.length for laid in layout.pieces}) for layout in plan.layouts} == {1}


def test_what_is_preferred_is_made_large_or_small():
    """The same job under both orders: neither beats the other at what the other asks for first."""
    lengths = (61, 58, 47, 44, 39, 36, 31, 29, 23, 22, 18, 12)
    pieces = [Piece(f"p{length}", length, 28, 1 + length % 3) for length in lengths]
    bar = Panel("bar", 120, 28)

    def measures(*prefer):
        plan = planned(pieces, [bar], Sawing(1, prefer=prefer))
        longest = max(rest.length for layout in plan.layouts for rest in layout.rests)
        different = {tuple(laid.length for laid in layout.pieces) for layout in plan.layouts}
        return len(plan.layouts), sum(len(set(lengths)) for lengths in different), longest

    bars, few, short = measures("stock", "settings", "off-cut")
    same, many, long = measures("stock", "off-cut", "settings")
    assert bars == same
    assert few <= many
    assert short <= long
    assert few < many or short < long, "a job on which the two do not differ tests nothing"

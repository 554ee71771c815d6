"""Arcs and curves as chords."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plangen.joinery.cuts import Arc, Curve, Line, Loop
from plangen.solids.outline import SAGITTA, Round, circle, facets_of_circle, ring
from tests.solids.making import mm, pair


@given(st.floats(0.5, 5000.0))
@settings(max_examples=60)
def test_chords_of_a_circle_stay_within_the_sagitta(radius: float) -> None:
    number = facets_of_circle(radius)
    assert number % 4 == 0
    assert number >= 16
    assert radius * (1.0 - math.cos(math.pi / number)) <= SAGITTA + 1e-9
    # and no finer than needed: four facets fewer would leave it, or be fewer than sixteen
    fewer = number - 4
    assert fewer < 16 or radius * (1.0 - math.cos(math.pi / fewer)) > SAGITTA - 1e-9


def test_a_quarter_arc_takes_the_points_of_its_circle() -> None:
    loop = Loop(pair(0, 0), (Line(pair(76, 0)), Arc(pair(0, 76), mm(76), True), Line(pair(0, 0))))
    walked = ring(loop)
    whole = set(circle((0.0, 0.0), 76.0).points)
    inside = [p for p, run in zip(walked.points, walked.runs, strict=True) if isinstance(run, Round)][1:]
    assert len(inside) == facets_of_circle(76.0) // 4 - 1
    assert all(min(math.dist(p, q) for q in whole) < 1e-9 for p in inside)
    exact = math.pi * 76.0**2 / 4
    assert exact - 76.0 * math.pi / 2 * SAGITTA <= walked.area <= exact


@pytest.mark.parametrize("left", [True, False])
def test_an_arc_bulges_to_the_side_it_turns_from(left: bool) -> None:
    # From (0, 0) to (100, 0), radius 130: rise of the middle 130 - sqrt(130² - 50²) = 10.
    loop = Loop(pair(0, 0), (Arc(pair(100, 0), mm(130), left), Line(pair(50, 300)), Line(pair(0, 0))))
    lowest = min(y for _, y in ring(loop).points)
    assert lowest == pytest.approx(-10.0 if left else 0.0, abs=SAGITTA)


def test_an_arc_too_small_for_its_ends_is_refused() -> None:
    loop = Loop(pair(0, 0), (Arc(pair(100, 0), mm(40), True), Line(pair(50, 300)), Line(pair(0, 0))))
    with pytest.raises(ValueError, match="cannot span 100 mm"):
        ring(loop)


def test_a_smooth_curve_goes_through_its_points_and_is_the_same_walked_back() -> None:
    through = ((30, 20), (70, 25), (100, 0))
    out = Loop(pair(0, 0), (Curve(tuple(pair(*p) for p in through)), Line(pair(50, -80)), Line(pair(0, 0))))
    back = Loop(
        pair(100, 0),
        (Curve((pair(70, 25), pair(30, 20), pair(0, 0))), Line(pair(50, -80)), Line(pair(100, 0))),
    )
    one, two = ring(out).points, ring(back).points
    for wanted in through:
        assert min(math.dist(wanted, p) for p in one) < 1e-9
    assert all(min(math.dist(p, q) for q in two) < 1e-6 for p in one)


def test_points_spaced_evenly_on_a_line_give_the_line() -> None:
    loop = Loop(
        pair(0, 0), (Curve((pair(10, 0), pair(20, 0), pair(30, 0))), Line(pair(15, 9)), Line(pair(0, 0)))
    )
    assert all(abs(y) < 1e-9 for x, y in ring(loop).points if (x, y) != (15.0, 9.0))


def test_a_loop_walked_the_other_way_keeps_its_runs_with_its_chords() -> None:
    loop = Loop(pair(0, 0), (Line(pair(76, 0)), Arc(pair(0, 76), mm(76), True), Line(pair(0, 0))))
    walked, turned = ring(loop), ring(loop).turned_round()
    assert turned.area == pytest.approx(-walked.area)

    def round_chords(some: object) -> set[frozenset[tuple[float, float]]]:
        points, runs = some.points, some.runs  # type: ignore[attr-defined]
        return {
            frozenset((points[k], points[(k + 1) % len(points)]))
            for k, run in enumerate(runs)
            if isinstance(run, Round)
        }

    assert round_chords(walked) == round_chords(turned)

"""What is wrong with an outline before it is cut."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from shapely import Polygon

from plangen.joinery.cuts import Arc, Curve, Line, Loop
from plangen.joinery.shapes import fault_of, leaves, points_of
from plangen.joinery.space import ORIGIN, Axis, Box, Point
from plangen.solids.outline import ring
from plangen.units import Length


def at(x: int, y: int) -> tuple[Length, Length]:
    return Length(Fraction(x)), Length(Fraction(y))


def loop(*points: tuple[int, int]) -> Loop:
    return Loop(at(*points[0]), tuple(Line(at(*point)) for point in (*points[1:], points[0])))


def radius(r: int) -> Length:
    return Length(Fraction(r))


DISC = Loop(at(0, 0), (Arc(at(20, 0), radius(10), True), Arc(at(0, 0), radius(10), True)))
WAVE = Loop(at(0, 0), (Curve((at(10, 8), at(30, -5), at(40, 12))), Line(at(40, -40)), Line(at(0, -40))))


def test_a_square_is_sound() -> None:
    assert fault_of(loop((0, 0), (10, 0), (10, 10), (0, 10))) is None
    assert len(points_of(loop((0, 0), (10, 0), (10, 10), (0, 10)))) == 4


def test_two_half_circles_are_a_disc() -> None:
    assert Polygon(points_of(DISC)).area == pytest.approx(math.pi * 100, rel=0.01)
    assert fault_of(DISC) is None


@pytest.mark.parametrize("shape", [DISC, WAVE])
def test_the_points_are_those_that_the_solid_is_cut_by(shape: Loop) -> None:
    """Two ways of working out the same curve: the recurrence here, the Hermite form where solids are cut."""
    here, there = Polygon(points_of(shape)), Polygon(ring(shape).points)
    assert here.symmetric_difference(there).area < 0.01 * here.area
    assert here.area == pytest.approx(there.area, rel=0.01)


def test_what_crosses_itself() -> None:
    assert fault_of(loop((0, 0), (10, 10), (10, 0), (0, 10))) == "crosses or touches itself"
    assert fault_of(loop((0, 0), (10, 0), (10, 10), (5, 0), (0, 10))) == "crosses or touches itself"


def test_what_encloses_nothing() -> None:
    assert fault_of(loop((0, 0), (10, 0))) == "encloses nothing"
    assert fault_of(loop((0, 0), (10, 0), (20, 0))) == "encloses nothing"


def test_a_bow_may_leave_the_blank_where_its_ends_do_not() -> None:
    blank = Box(ORIGIN, Point(Length(Fraction(20)), Length(Fraction(9)), Length(Fraction(1))))
    plane = (Axis.ACROSS, Axis.DEEP)
    half = Loop(at(0, 0), (Line(at(20, 0)), Arc(at(0, 0), radius(10), True)))
    assert leaves(half, blank, plane)
    flat = Loop(at(0, 0), (Line(at(20, 0)), Arc(at(0, 0), radius(13), True)))
    assert not leaves(flat, blank, plane)
    assert leaves(loop((0, 0), (21, 0), (0, 5)), blank, plane)

"""The geometry behind patterns: exact edges, windows, tiles, offsets, wraps; which parts get a pattern."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from math import acos, cos, degrees, dist, hypot, pi, radians, sin, sqrt, tan, tau

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon

from plangen.design.model import Part
from plangen.drawing.part_sheets.pattern_edges import Edge, Track, arc_stroke, clipped, edges_of, ellipse
from plangen.drawing.part_sheets.pattern_grid import BEYOND, cutting_of, half_of, is_alike
from plangen.drawing.part_sheets.pattern_offsets import offset_at, stations
from plangen.drawing.part_sheets.pattern_outline import FullSize
from plangen.drawing.part_sheets.pattern_wrap import wrap_of
from plangen.drawing.sheet.model import Arc, Meaning
from plangen.joinery.cuts import Arc as ArcCut
from plangen.joinery.cuts import Cut, Line, Loop, PlaneCut
from plangen.joinery.operation import Feature, Form, Operation, Span
from plangen.joinery.shaped import shaped_axes, wants_pattern, wrapped_ends
from plangen.joinery.space import Axis, Side
from tests.solids.making import box, box_cut, mm, pair, part, point, polygon, prism
from tests.solids.making import operation as made_operation

FRAME = (180.0, 210.0)


def worked(form: Form, *cuts: Cut) -> Operation:
    spans = tuple((axis, Span(mm(0), mm(10))) for axis in Axis)
    return replace(made_operation(*cuts), features=(Feature(form, Side.TOP, spans),))


# --- which parts get one -----------------------------------------------------------------------------------

BLANK = box((0, 0, 0), (600, 200, 19))


def shaped(*operations: Operation) -> tuple[Axis, ...]:
    return shaped_axes(operations, BLANK, Axis.ACROSS, Axis.UP)


def bow(up: tuple[int, int] = (0, 19)) -> Cut:
    loop = Loop(pair(100, 0), (ArcCut(pair(500, 0), mm(500), False), Line(pair(100, 0))))
    return prism(Axis.UP, *up, loop)


def test_what_is_curved_or_aslant_gets_a_pattern() -> None:
    assert shaped(worked(Form.OUTLINE, bow())) == (Axis.UP,)
    taper = prism(Axis.UP, 0, 19, polygon((100, 0), (600, 0), (600, 60)))
    assert shaped(worked(Form.OUTLINE, taper)) == (Axis.UP,)


@pytest.mark.parametrize(
    "operation",
    [
        worked(Form.SLOT, box_cut((0, 0, 0), (100, 50, 19))),  # a square notch
        worked(Form.OUTLINE, bow((0, 10))),  # it does not go through
        worked(Form.EDGE, bow()),  # a bit makes it
        worked(Form.OUTLINE, prism(Axis.UP, 0, 19, polygon((0, 0), (200, 0), (0, 200)))),  # 45 degrees
        worked(Form.SLOT, prism(Axis.UP, 0, 19, Loop(pair(200, 80), (
            Line(pair(300, 80)), ArcCut(pair(300, 100), mm(10), True), Line(pair(200, 100)),
            ArcCut(pair(200, 80), mm(10), True))))),  # a slot inside: its ends are the bit's
        worked(Form.OUTLINE, prism(Axis.DEEP, 0, 200, polygon((0, 0), (30, 0), (0, 19)))),  # blade tilted
    ],
)  # fmt: skip
def test_what_a_tool_gives_by_itself_gets_none(operation: Operation) -> None:
    assert shaped(operation) == ()


@pytest.mark.parametrize(("angle", "wanted"), [(10.0, False), (22.5, False), (8.3, True)])
def test_a_mitre_at_an_angle_of_the_saws_scale_gets_none(angle: float, wanted: bool) -> None:
    run = round(200 * tan(radians(angle)), 6)
    cut = prism(Axis.UP, 0, 19, polygon((0, 0), (run, 0), (0, 200)))
    assert bool(shaped(worked(Form.OUTLINE, cut))) is wanted


LEG = box((0, 0, 0), (40, 40, 600))
LEAN = (sin(radians(8)), 0.0, -cos(radians(8)))


def foot(low: float = 0) -> Operation:
    spans = tuple((axis, Span(mm(0), mm(20))) for axis in Axis)
    feature = Feature(Form.PLANE, Side.BOTTOM, spans)
    return replace(made_operation(PlaneCut(point(0, 0, 6), LEAN)), features=(feature,))


def test_a_leaning_foot_gets_a_wrap_unless_it_is_round_or_broad() -> None:
    assert len(wrapped_ends((foot(),), LEG, Axis.UP)) == 1
    assert wants_pattern((foot(),), LEG, Axis.UP, Axis.DEEP)
    assert wrapped_ends((foot(),), box((0, 0, 0), (120, 40, 600)), Axis.UP) == ()
    rounded = worked(Form.ROUND, box_cut((0, 0, 0), (1, 1, 1)))
    assert wrapped_ends((rounded, foot()), LEG, Axis.UP) == ()


# --- edges and windows -------------------------------------------------------------------------------------


def test_an_outline_comes_apart_into_its_edges() -> None:
    """A square of 100 with one corner rounded by 30: five straight edges become four and an exact arc."""
    corner = [(70 + 30 * cos(t), 70 + 30 * sin(t)) for t in (pi / 2 * n / 40 for n in range(41))]
    loop = ((0.0, 0.0), (50.0, 0.0), (100.0, 0.0), *corner, (0.0, 100.0))
    edges = edges_of(loop, (Track((70.0, 70.0), 30.0),))
    assert [edge.curved for edge in edges].count(True) == 1
    assert len(edges) == 5
    (arc,) = [edge.arc for edge in edges if edge.arc is not None]
    assert arc.end - arc.start == pytest.approx(pi / 2)
    assert all(one.points[-1] == pytest.approx(two.points[0]) for one, two in pairwise((*edges, edges[0])))


@settings(max_examples=150, deadline=None)
@given(
    st.tuples(*[st.floats(-60, 60)] * 2), st.floats(5, 80), st.floats(0.2, 1.0), st.floats(0, tau),
    st.floats(0, tau), st.floats(0.2, tau),
)  # fmt: skip
def test_what_a_window_leaves_of_an_arc(
    centre: tuple[float, float], long: float, share: float, turn: float, start: float, sweep: float
) -> None:
    """Every piece lies inside; and every point of the arc that lies well inside is on a piece."""
    whole = ellipse(centre, (long * cos(turn), long * sin(turn)), share)
    arc = replace(whole, start=start, end=start + sweep)
    window = (-40.0, -30.0, 50.0, 45.0)
    pieces = list(clipped(arc, window))
    for piece in pieces:
        for x, y in arc_stroke(piece, Meaning.VISIBLE).points:
            assert window[0] - 1e-6 <= x <= window[2] + 1e-6
            assert window[1] - 1e-6 <= y <= window[3] + 1e-6
    for n in range(41):
        angle = start + sweep * n / 40
        x, y = arc.at(angle)
        inside = window[0] + 0.01 < x < window[2] - 0.01 and window[1] + 0.01 < y < window[3] - 0.01
        if inside:
            assert any(piece.start - 1e-6 <= angle <= piece.end + 1e-6 for piece in pieces)


def test_chords_of_a_drawn_arc_stay_within_a_hundredth() -> None:
    for radius in (0.5, 12.7, 300.0, 5000.0):
        arc = Arc((0.0, 0.0), (radius, 0.0), (0.0, radius), 0.2, 1.4)
        for one, two in pairwise(arc_stroke(arc, Meaning.VISIBLE).points):
            assert radius - hypot((one[0] + two[0]) / 2, (one[1] + two[1]) / 2) < 0.01


# --- tiles -------------------------------------------------------------------------------------------------


def outline(*points: tuple[float, float]) -> FullSize:
    """A straight-sided shape; its aslant edges are what needs a pattern."""
    edges = tuple(Edge(pair_) for pair_ in pairwise((*points, points[0])))
    width, height = max(x for x, _ in points), max(y for _, y in points)
    return FullSize(Polygon(points), edges, (), (), width, height)


def test_a_long_straight_taper_prints_its_two_ends() -> None:
    """700 long: four sheets in one row, or two sheets with a straight line drawn between."""
    shape = outline((0, 0), (700, 0), (700, 50), (60, 90), (0, 90))
    cutting = cutting_of(shape, FRAME)
    assert cutting.sheets == 2
    names = [cutting.name(grid) for grid in cutting.grids]
    assert names == ["left-hand end", "right-hand end"]
    for x, y in ((60, 90), (700, 50)):
        assert any(
            low_x < x and low_y < y < high_y and high_x > x
            for low_x, low_y, high_x, high_y in (grid.whole for grid in cutting.grids)
        )


def test_half_of_a_part_that_is_alike_goes_past_its_middle() -> None:
    shape = outline((0, 200), (100, 0), (800, 0), (900, 200), (800, 400), (100, 400))
    assert is_alike(shape, "left")
    assert is_alike(shape, "low")
    half = half_of(shape, FRAME)
    assert half is not None
    assert half.sheets < cutting_of(shape, FRAME).sheets
    middle = {"left": 450.0, "low": 200.0}[half.half]
    way = 0 if half.half == "left" else 1
    assert all(grid.whole[way] < middle for grid in half.grids)
    spans = half.shows_middle(shape)
    assert spans == any(grid.whole[way + 2] >= middle + BEYOND for grid in half.grids)
    lame = outline((0, 200), (100, 0), (800, 0), (900, 210), (800, 400), (150, 400))
    assert not is_alike(lame, "left")
    assert half_of(lame, FRAME) is None


# --- offsets -----------------------------------------------------------------------------------------------


def test_stations_are_whole_steps_of_the_board() -> None:
    assert stations(50.0, 130.0, 25.0) == (50.0, 75.0, 100.0, 125.0, 130.0)
    assert stations(50.2, 75.9, 25.0) == (50.2, 75.9)  # one so near the end says nothing new


def test_an_offset_on_an_arc_is_exact() -> None:
    """Chords of a mesh lie off the arc; the table does not: y = √(r² - x²)."""
    radius = 200.0
    chords = tuple((-radius * cos(t), radius * sin(t)) for t in (0.5 + 2.0 * n / 8 for n in range(9)))
    arc = Arc((0.0, 0.0), (radius, 0.0), (0.0, radius), pi - 2.5, pi - 0.5)
    edge = Edge(chords, arc)
    for x in (-120.0, -33.0, 0.0, 77.0):
        assert offset_at(edge, 0, x) == pytest.approx(sqrt(radius**2 - x**2), abs=1e-9)
    assert offset_at(edge, 0, 190.0) is None


# --- wraps -------------------------------------------------------------------------------------------------


def leg(
    normal: tuple[float, float, float], through: tuple[float, float, float], end: Side
) -> tuple[Part, PlaneCut]:
    made = replace(part((40, 30, 600)), runs=Axis.UP, wide=Axis.ACROSS, thick=Axis.DEEP)
    assert (normal[2] > 0) == end.high
    return made, PlaneCut(point(*through), normal)


def normal_of(lean_x: float, lean_y: float, sign: float) -> tuple[float, float, float]:
    x, y = tan(radians(lean_x)), tan(radians(lean_y))
    size = sqrt(1 + x * x + y * y)
    return (x / size, y / size, sign / size)


@pytest.mark.parametrize("end", [Side.TOP, Side.BOTTOM])
def test_a_wrap_folds_round_the_leg(end: Side) -> None:
    """Each fold's height is where the plane meets that corner of the section, solved here by the slopes."""
    sign = 1.0 if end.high else -1.0
    made, cut = leg(normal_of(8, 5, sign), (20, 15, 580 if end.high else 20), end)
    wrap = wrap_of(made, cut, 190.0)
    assert wrap.folds == pytest.approx((0, 40, 70, 110, 140))
    assert wrap.sides[0] is Side.FRONT
    # From outside, the end upward: right of the front comes the right side; head down, the left.
    assert wrap.sides[1] is (Side.RIGHT if end.high else Side.LEFT)
    assert wrap.sides[2] is Side.BACK
    right_first = [(0, 0), (40, 0), (40, 30), (0, 30), (0, 0)]
    corners = right_first if end.high else [(40, 0), (0, 0), (0, 30), (40, 30), (40, 0)]
    for (x, y), height in zip(corners, wrap.line, strict=True):
        along = sign * (tan(radians(8)) * (x - 20) + tan(radians(5)) * (y - 15))
        up = (580 if end.high else 20) - along
        assert height == pytest.approx(up if end.high else 600 - up, abs=1e-9)


def test_the_lines_of_a_wrap_show_the_angles_of_the_lean() -> None:
    """On each face the line climbs by the lean across that face: a bevel gauge set to it agrees."""
    made, cut = leg(normal_of(8, 5, 1.0), (20, 15, 580), Side.TOP)
    wrap = wrap_of(made, cut, 190.0)
    rises = [
        degrees(acos((b[0] - a[0]) / dist(a, b)))
        for a, b in pairwise(tuple(zip(wrap.folds, wrap.line, strict=True)))
    ]
    assert rises == pytest.approx([8, 5, 8, 5])


def test_two_faces_are_enough_where_four_do_not_fit() -> None:
    made, cut = leg(normal_of(8, 5, 1.0), (20, 15, 580), Side.TOP)
    wrap = wrap_of(made, cut, 100.0)
    assert wrap.sides == (Side.FRONT, Side.RIGHT)
    assert len(wrap.line) == 3

"""Hatching: it stays inside, keeps clear, tells materials and neighbours apart, and bends exactly."""

from __future__ import annotations

from itertools import combinations, pairwise
from math import atan2, degrees, hypot
from typing import Any, get_args

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from plangen.drawing.hatching import (
    LEAST,
    VARIANTS,
    Cut,
    Kind,
    hatch,
    hatch_all,
    kind_of,
    spacing,
    variants,
)
from plangen.drawing.sheet.model import Meaning, Stroke

KINDS: tuple[Kind, ...] = get_args(Kind)
BLOCK = shapely.box(10.0, 20.0, 50.0, 32.0)
WITH_HOLE = BLOCK.difference(shapely.Point(30.0, 26.0).buffer(4.0))
ELL = shapely.union_all([shapely.box(0, 0, 40, 6), shapely.box(0, 0, 6, 30)])
APART = shapely.union_all([shapely.box(0, 0, 12, 8), shapely.box(20, 0, 34, 8)])


def lines(strokes: list[Stroke]) -> Any:
    return shapely.union_all([shapely.LineString(stroke.points) for stroke in strokes])


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("region", [BLOCK, WITH_HOLE, ELL, APART])
@pytest.mark.parametrize("direction", [0.0, 90.0, 37.0])
@pytest.mark.parametrize("variant", range(VARIANTS))
def test_hatching_stays_inside_its_area_and_fills_it(
    kind: Kind, region: Any, direction: float, variant: int
) -> None:
    strokes = hatch(region, kind, direction, variant=variant)
    assert strokes
    assert all(stroke.meaning is Meaning.HATCH for stroke in strokes)
    assert lines(strokes).difference(region.buffer(0.011)).is_empty
    reach = 14.0 if kind == "long grain" else 7.0  # long strokes are sparse on purpose
    bare = region.difference(lines(strokes).buffer(reach))
    assert bare.area < 0.02 * region.area


@given(
    st.floats(4.0, 60.0), st.floats(2.0, 30.0), st.floats(-180.0, 180.0), st.sampled_from(KINDS),
    st.integers(0, VARIANTS - 1),
)  # fmt: skip
@settings(max_examples=60, deadline=None)
def test_any_board_at_any_turn_is_hatched_inside(
    wide: float, high: float, turn: float, kind: Kind, variant: int
) -> None:
    region = shapely.affinity.rotate(shapely.box(0, 0, wide, high), turn)
    strokes = hatch(region, kind, turn, variant=variant)
    assert strokes == hatch(region, kind, turn, variant=variant)
    assert lines(strokes).difference(region.buffer(0.011)).is_empty


@pytest.mark.parametrize("kind", KINDS)
def test_hatching_is_interrupted_round_a_figure_and_nowhere_else(kind: Kind) -> None:
    clear = shapely.box(28.0, 23.0, 36.0, 27.0)
    kept = lines(hatch(BLOCK, kind, clear=clear))
    assert kept.distance(clear) > 0.7
    whole = lines(hatch(BLOCK, kind))
    assert kept.difference(whole.buffer(0.02)).is_empty
    gone = whole.difference(kept.buffer(0.02))
    assert not gone.is_empty
    assert gone.difference(clear.buffer(1.6)).is_empty


def signs(kind: Kind, variant: int) -> tuple[object, ...]:
    """What the eye takes in: the ways strokes run, how long they are, how many there are, what bends."""
    strokes = hatch(BLOCK, kind, variant=variant)
    ways = {
        round(degrees(atan2(b[1] - a[1], b[0] - a[0])) % 180 / 5) % 36
        for (a, b) in ((stroke.points[0], stroke.points[-1]) for stroke in strokes)
    }
    longest = max(shapely.LineString(stroke.points).length for stroke in strokes)
    return (
        tuple(sorted(ways)), round(longest), len(strokes), any(stroke.arc for stroke in strokes)
    )  # fmt: skip


def test_every_material_looks_different() -> None:
    seen = {kind: signs(kind, 0) for kind in KINDS}
    assert len(set(seen.values())) == len(KINDS)
    assert seen["end grain"][3]
    assert not any(seen[kind][3] for kind in KINDS if kind != "end grain")


@pytest.mark.parametrize("kind", KINDS)
def test_every_variant_looks_different(kind: Kind) -> None:
    drawn = []
    for variant in range(VARIANTS):
        strokes = hatch(BLOCK, kind, variant=variant)
        if kind == "plywood":  # the glue lines are where they are: the ticks tell neighbours apart
            strokes = [s for s in strokes if s.points[0][1] != pytest.approx(s.points[1][1])]
        drawn.append(lines(strokes))
    for one, two in combinations(drawn, 2):
        assert one.intersection(two.buffer(0.05)).length < 0.6 * one.length


def test_pieces_that_touch_are_hatched_in_different_ways() -> None:
    row = [Cut(shapely.box(x, 0, x + 10, 10), "metal") for x in (0, 10, 20, 30)]
    meeting = [Cut(shapely.box(0, 10, 40, 14), "metal")]
    chosen = variants([*row, *meeting])
    assert all(one != two for one, two in pairwise(chosen))
    assert chosen[4] not in chosen[:4]
    assert len(hatch_all([*row, *meeting])) == 5
    assert variants([row[0], Cut(row[1].region, "plywood")]) == (0, 0)


def test_metal_is_hatched_at_45_degrees_and_its_neighbour_at_135() -> None:
    # ISO 128-50:2001 and ASME Y14.2-2014: thin lines at 45° (both from memory)
    for variant, angle in ((0, 45.0), (1, 135.0)):
        for stroke in hatch(BLOCK, "metal", 20.0, variant=variant):
            (ax, ay), (bx, by) = stroke.points
            assert degrees(atan2(by - ay, bx - ax)) % 180 == pytest.approx(angle, abs=1e-6)


def test_lines_stand_farther_apart_in_a_large_area_and_never_too_close() -> None:
    assert spacing(4.0) < spacing(400.0) < spacing(2000.0)
    assert spacing(0.1) >= LEAST  # ISO 128-50:2001: no closer than 0.7 mm (from memory)


def test_plies_lie_parallel_to_the_faces_and_are_odd() -> None:
    for thick in (2.2, 3.6, 6.0, 12.0):
        strokes = hatch(shapely.box(0, 0, 40, thick), "plywood")
        heights = {round(s.points[0][1], 3) for s in strokes if abs(s.points[0][1] - s.points[1][1]) < 1e-9}
        assert len(heights) % 2 == 0
        assert len(heights) >= 2
        gaps = sorted({0.0, thick, *heights})
        assert min(b - a for a, b in pairwise(gaps)) >= LEAST - 1e-3


def test_rings_are_exact_arcs_that_their_points_follow() -> None:
    strokes = hatch(WITH_HOLE, "end grain", 25.0, variant=1)
    assert len(strokes) > 8
    for stroke in strokes:
        arc = stroke.arc
        assert arc is not None
        assert (
            hypot(stroke.points[0][0] - arc.at(arc.start)[0], stroke.points[0][1] - arc.at(arc.start)[1])
            < 1e-6
        )
        radius = hypot(arc.major[0] - arc.centre[0], arc.major[1] - arc.centre[1])
        for x, y in stroke.points:
            assert hypot(x - arc.centre[0], y - arc.centre[1]) == pytest.approx(radius, abs=1e-6)


def test_a_strip_too_narrow_for_lines_has_none() -> None:
    assert hatch(shapely.box(0, 0, 40, 0.4), "metal") == []
    assert hatch(shapely.Polygon(), "plywood") == []
    assert hatch(shapely.box(0, 0, 40, 1.0), "plywood")


def test_the_stock_and_the_grain_say_how_wood_is_hatched() -> None:
    assert kind_of("solid", "White pine", 1.0) == "end grain"
    assert kind_of("solid", "White pine", -1.0) == "end grain"
    assert kind_of("solid", "White pine", 0.0) == "long grain"
    assert kind_of("plywood", "Birch plywood", 0.0) == "plywood"
    assert kind_of("plywood", "MDF", 1.0) == "board"

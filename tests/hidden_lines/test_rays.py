"""Lines and faces against rays cast at every triangle.

A point counts as decided only where the rays leave no doubt within MARGIN: 0.3 mm, above the depth
at which a line on a curved surface begins to count as hidden (0.25 mm) and the sagitta of its
chords (0.1 mm). A line that ought to be seen has to lie within NEAR of one that is drawn: 0.12 mm,
the sagitta and the width within which lines are merged (0.02 mm).
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from plangen.drawing.hidden_lines import (
    Body,
    View,
    VisibleFace,
    isometric,
    orthographic,
    pictorial,
    project,
    projected_box,
    visible_faces,
)
from plangen.joinery.space import Side
from tests.hidden_lines.scenes import (
    Array,
    Judge,
    about_across,
    about_up,
    along,
    board,
    distance_to_lines,
    peg,
    sample_bodies,
)
from tests.solids.making import box_cut, hole, operation

MARGIN = 0.3
NEAR = 0.12


def check_lines(bodies: Sequence[Body], view: View, step: float = 7.0, shares_of_edge: int = 5) -> None:
    judge = Judge.of(bodies, view)
    lines = project(bodies, view).visible
    creases = judge.creases(30.0)  # above the angle between two facets of any round surface here

    # Every point of a sharp edge that is surely seen has a line.
    shares = (np.arange(shares_of_edge) + 0.5) / shares_of_edge
    points = (creases[:, None, 0] + (creases[:, 1] - creases[:, 0])[:, None] * shares[None, :, None]).reshape(
        -1, 3
    )
    seen = points[judge.surely_seen(points, MARGIN)]
    assert len(seen)
    assert distance_to_lines(seen[:, :2], lines).max() < NEAR

    # No point of a line lies where every edge under it is surely hidden. Silhouettes have no crease.
    drawn = along((e for e in lines if e.kind != "silhouette"), step)
    start, way = creases[:, 0], creases[:, 1] - creases[:, 0]
    rest = drawn[:, None] - start[None, :, :2]
    flat = (way[:, :2] ** 2).sum(axis=1)
    share = np.clip((rest * way[None, :, :2]).sum(axis=2) / np.maximum(flat, 1e-18), 0.0, 1.0)
    off = np.linalg.norm(rest - share[..., None] * way[None, :, :2], axis=2)
    row, edge = np.nonzero((off < NEAR) & (flat > 1e-12)[None])
    spots = start[edge] + way[edge] * share[row, edge][:, None]
    maybe = ~judge.surely_hidden(spots, MARGIN)
    explained = np.zeros(len(drawn), dtype=bool)
    explained[row[maybe]] = True
    # What is left would be a line without cause; a line end on is a point, and has no share.
    assert drawn[~explained].tolist() == []


def check_faces(bodies: Sequence[Body], view: View, number: int, overlap: float = 0.05) -> None:
    judge = Judge.of(bodies, view)
    faces = visible_faces(bodies, view)
    areas = [_area(face) for face in faces]
    x0, y0, x1, y1 = projected_box(bodies, view)
    points = np.random.default_rng(5).uniform((x0 - 2, y0 - 2), (x1 + 2, y1 + 2), (number, 2))
    clear = np.array([all(a.boundary.distance(shapely.Point(p)) > MARGIN for a in areas) for p in points])
    points = points[clear]
    heights = judge.heights(points)
    nearest = heights.argmax(axis=1)
    nothing = ~np.isfinite(heights.max(axis=1))
    tags = [body.tag for body in bodies]
    decided = 0
    for point, triangle, empty, height in zip(points, nearest, nothing, heights, strict=True):
        holding = [k for k, area in enumerate(areas) if area.contains(shapely.Point(point))]
        if empty:
            assert holding == []
            continue
        best = np.sort(height)[::-1][:2]
        if best[0] - best[1] < MARGIN and len(holding) == 1:
            continue  # two surfaces touch there; either may be shown
        assert len(holding) == 1, point
        face = faces[holding[0]]
        assert face.tag == tags[judge.body[triangle]], point
        if face.surface == "plane":
            assert np.array(face.normal) @ view.matrix.T == pytest.approx(judge.normals[triangle], abs=1e-6)
        decided += 1
    assert decided > number // 10
    # No two faces overlap, and together they fill the outline of all that there is.
    whole = shapely.union_all(
        [shapely.Polygon(c[:, :2]).buffer(0) for c in judge.corners[judge.normals[:, 2] > 1e-4]]
    )
    assert sum(area.area for area in areas) == pytest.approx(whole.area, abs=overlap)


def _area(face: VisibleFace) -> shapely.Geometry:
    area = shapely.Polygon()
    for loop in face.loops:
        area = area.symmetric_difference(shapely.Polygon(loop))
    return area


def leaning_scene() -> list[Body]:
    """Turned and tilted boards, pegs with mismatched chords, a plate with holes; none cut into another."""
    plate = board(
        (200, 120, 18),
        (0, 0, 0),
        "plate",
        operation(hole((50, 60, 18), Side.TOP, 24, 18)),
        operation(hole((120, 60, 18), Side.TOP, 40, 10)),
        operation(box_cut((150, 0, 9), (165, 120, 18))),
    )
    leaning = Body(
        board((90, 12, 140), (0, 0, 0), "x").mesh,
        about_across(-25.0),
        np.array([60.0, 130.0, 40.0]),
        "leaning",
    )
    turned = Body(
        board((70, 30, 25), (0, 0, 0), "x").mesh, about_up(33.0), np.array([40.0, -60.0, 10.0]), "turned"
    )
    return [plate, peg(12, 60, (50, 60, 0), "peg", 9.0), peg(20, 50, (120, 60, 8), "stub"), leaning, turned]


VIEWS = [
    pictorial(),
    pictorial(-32, 20),
    pictorial(15, 55),
    isometric(),
    *(orthographic(side) for side in (Side.FRONT, Side.TOP, Side.RIGHT, Side.BOTTOM)),
]


@pytest.mark.parametrize("view", VIEWS)
def test_lines_of_the_sample(view: View) -> None:
    check_lines(sample_bodies(60), view, 13.0, 2)


@pytest.mark.parametrize("view", VIEWS)
def test_faces_of_the_sample(view: View) -> None:
    check_faces(sample_bodies(60), view, 250)


@pytest.mark.parametrize("view", [*VIEWS, pictorial(120, -20), pictorial(-70, 8)])
def test_leaning_boards_and_pegs(view: View) -> None:
    check_lines(leaning_scene(), view, 3.0)
    # The turned peg's chords cross those of its hole: they overlap by part of a sagitta all round.
    check_faces(leaning_scene(), view, 250, overlap=0.02 * 2 * np.pi * 12)


def boxes(draw: st.DrawFn) -> list[tuple[Array, Array]]:
    found: list[tuple[Array, Array]] = []
    for _ in range(draw(st.integers(2, 7))):
        low = np.array([draw(st.integers(0, 5)) * 20.0 for _ in range(3)])
        size = np.array([draw(st.integers(1, 4)) * 20.0 for _ in range(3)])
        if all(((low >= h) | (low + size <= l)).any() for l, h in found):  # noqa: E741
            found.append((low, low + size))
    return found


@st.composite
def stacks(draw: st.DrawFn) -> list[Body]:
    """Boxes on a coarse grid that touch often and never overlap."""
    return [
        board(tuple(high - low), tuple(low), f"box {k}")
        for k, (low, high) in enumerate(boxes(draw))  # type: ignore[arg-type]
    ]


@given(stacks(), st.integers(-80, 80), st.integers(-60, 80))
@settings(max_examples=25, deadline=None)
def test_stacks_of_boxes(bodies: list[Body], yaw: int, pitch: int) -> None:
    check_lines(bodies, pictorial(yaw + 0.37, pitch + 0.21), 5.0)
    check_faces(bodies, pictorial(yaw + 0.37, pitch + 0.21), 120)


@given(stacks(), st.sampled_from(list(Side)))
@settings(max_examples=15, deadline=None)
def test_stacks_of_boxes_seen_squarely(bodies: list[Body], side: Side) -> None:
    check_lines(bodies, orthographic(side), 5.0)
    check_faces(bodies, orthographic(side), 120)

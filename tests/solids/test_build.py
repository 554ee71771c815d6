"""Volumes and labels of parts against closed forms, and against another mesh library."""

from __future__ import annotations

import math

import numpy as np
import pytest
import trimesh
from hypothesis import given, settings
from hypothesis import strategies as st

from plangen.joinery.cuts import Arc, Curve, Line, Loop
from plangen.joinery.space import Axis, Side
from plangen.solids import PartSolid, build_solids, part_solid, transform
from plangen.solids.outline import facets_of_circle
from tests.sample_design import sample_design
from tests.solids.making import box_cut, design, hole, mm, operation, pair, part, point, polygon, prism

EXACT = 1e-9  # relative: only floating-point rounding


def round_area(radius: float) -> float:
    """The area of the regular polygon with its corners on the circle: n/2 · r² · sin(2 pi/n)."""
    number = facets_of_circle(radius)
    return number / 2 * radius**2 * math.sin(2 * math.pi / number)


def checked(solid: PartSolid) -> PartSolid:
    """Check that the mesh is closed, encloses the volume stated, and that labels tell the truth."""
    mesh = solid.mesh
    other = trimesh.Trimesh(mesh.vertices, mesh.triangles, process=False)
    assert other.is_watertight
    assert other.volume == pytest.approx(solid.volume, rel=1e-9)
    assert set(mesh.labels.tolist()) == set(range(len(mesh.surfaces)))
    corners = mesh.vertices[mesh.triangles]
    normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    for triangle, normal, label in zip(corners, normals, mesh.labels, strict=True):
        surface = mesh.surfaces[label]
        if surface.kind == "plane":
            assert surface.normal is not None
            assert triangle @ surface.normal == pytest.approx(np.full(3, surface.offset), abs=1e-6)
            if np.linalg.norm(normal) > 1e-3:
                assert normal @ surface.normal / np.linalg.norm(normal) == pytest.approx(1.0, abs=1e-6)
        elif surface.kind == "cylinder":
            axis = np.array(surface.axis)
            out = triangle - surface.centre
            out -= np.outer(out @ axis, axis)
            assert surface.radius is not None
            assert np.linalg.norm(out, axis=1) == pytest.approx(np.full(3, surface.radius), abs=0.1)
            assert (normal @ out.mean(axis=0) < 0.0) == surface.hollow
    return solid


def test_a_blank_is_its_box() -> None:
    solid = checked(part_solid(part((600, 200, 19))))
    assert solid.volume == pytest.approx(600 * 200 * 19, rel=EXACT)
    assert len(solid.mesh.surfaces) == 6


def test_a_dado_through_takes_its_box_and_leaves_no_skin() -> None:
    board = part((600, 200, 19), operation(box_cut((100, 0, 13), (119, 200, 19))))
    solid = checked(part_solid(board))
    assert solid.volume == pytest.approx(600 * 200 * 19 - 19 * 200 * 6, rel=EXACT)
    assert len(solid.mesh.surfaces) == 9  # six of the blank, two walls and a floor


def test_a_through_hole_takes_its_polygon_times_the_thickness() -> None:
    board = part((600, 200, 19), operation(hole((300, 100, 19), Side.TOP, 30, 19)))
    solid = checked(part_solid(board))
    assert solid.volume == pytest.approx(600 * 200 * 19 - round_area(15.0) * 19, rel=EXACT)
    true = math.pi * 15.0**2 * 19
    assert 0.0 < 600 * 200 * 19 - solid.volume < true
    assert true - (600 * 200 * 19 - solid.volume) < 2 * math.pi * 15.0 * 0.1 * 19  # circumference · sagitta


@pytest.mark.parametrize("side", list(Side))
def test_a_counterbored_hole_from_every_side(side: Side) -> None:
    size = (90, 80, 70)
    mouth = [45, 40, 35]
    mouth[side.axis.value] = size[side.axis.value] if side.high else 0
    through = size[side.axis.value]
    at = (mouth[0], mouth[1], mouth[2])
    board = part(size, operation(hole(at, side, 5, through), hole(at, side, 12, 8)))
    gone = round_area(2.5) * (through - 8) + round_area(6.0) * 8
    assert checked(part_solid(board)).volume == pytest.approx(90 * 80 * 70 - gone, rel=EXACT)


def test_a_hole_drilled_from_the_floor_of_a_dado_opens_into_it() -> None:
    board = part(
        (600, 200, 19),
        operation(box_cut((100, 0, 13), (119, 200, 19))),
        operation(hole((109.5, 100, 13), Side.TOP, 8, 13)),
    )
    gone = 19 * 200 * 6 + round_area(4.0) * 13
    assert checked(part_solid(board)).volume == pytest.approx(600 * 200 * 19 - gone, rel=EXACT)


def test_an_arc_prism_taken_from_a_corner() -> None:
    quarter = Loop(pair(0, 0), (Line(pair(76, 0)), Arc(pair(0, 76), mm(76), True), Line(pair(0, 0))))
    board = part((19, 200, 400), operation(prism(Axis.ACROSS, 0, 19, quarter)))
    gone = round_area(76.0) / 4 * 19
    solid = checked(part_solid(board))
    assert solid.volume == pytest.approx(19 * 200 * 400 - gone, rel=EXACT)
    kinds = sorted(surface.kind for surface in solid.mesh.surfaces)
    assert kinds == ["cylinder"] + ["plane"] * 6


@pytest.mark.parametrize("axis", list(Axis))
def test_a_kept_round_inside_a_sawn_off_outline(axis: Axis) -> None:
    """Everything outside a disc goes: the disc touches the blank on all four sides."""
    disc = Loop(
        pair(100, 50),
        (Arc(pair(0, 50), mm(50), True), Arc(pair(100, 50), mm(50), True)),
    )
    square = polygon((0, 0), (100, 0), (100, 100), (0, 100))
    size = [100, 100, 100]
    size[axis.value] = 19
    board = part((size[0], size[1], size[2]), operation(prism(axis, 0, 19, square, disc)))
    assert checked(part_solid(board)).volume == pytest.approx(round_area(50.0) * 19, rel=1e-6)


def test_a_kept_outline_may_share_straight_sides_with_the_blank() -> None:
    """A rail with its upper edge arched, written as what is kept: three of its sides are the blank's."""
    kept = Loop(
        pair(0, 0),
        (Line(pair(400, 0)), Line(pair(400, 60)), Arc(pair(0, 60), mm(520), True), Line(pair(0, 0))),
    )
    rise = 520 - math.sqrt(520**2 - 200**2)
    square = polygon((0, 0), (400, 0), (400, 101), (0, 101))
    board = part((400, 19, 101), operation(prism(Axis.DEEP, 0, 19, square, kept)))
    half = math.asin(200 / 520)
    segment = 520**2 / 2 * (2 * half - math.sin(2 * half))
    assert rise + 60 < 101
    volume = checked(part_solid(board)).volume
    assert volume == pytest.approx((400 * 60 + segment) * 19, abs=400 * 0.1 * 19)
    assert volume < (400 * 60 + segment) * 19


def test_a_smooth_curve_takes_the_area_under_it() -> None:
    """Symmetric points on a level line with one raised: the area by Simpson's rule over the chords."""
    loop = Loop(
        pair(0, 0),
        (
            Line(pair(120, 0)),
            Curve((pair(90, 20), pair(60, 30), pair(30, 20), pair(0, 0))),
        ),
    )
    board = part((120, 19, 80), operation(prism(Axis.DEEP, 0, 19, loop)))
    solid = checked(part_solid(board))
    gone = (120 * 19 * 80 - solid.volume) / 19
    polygon_area = 0.5 * (20 * 30 + 50 * 30 + 50 * 30 + 20 * 30)  # under the straight lines: 2100
    assert polygon_area < gone < polygon_area * 1.15
    assert "swept" in {surface.kind for surface in solid.mesh.surfaces}


sizes = st.tuples(st.integers(20, 200), st.integers(20, 200), st.integers(20, 200))


@given(sizes, st.data())
@settings(max_examples=25, deadline=None)
def test_boxes_taken_from_boxes_take_their_union(size: tuple[int, int, int], data: st.DataObject) -> None:
    """Against counting cells: cut sides lie on whole numbers, often in the blank's faces."""
    boxes = []
    for _ in range(data.draw(st.integers(1, 3))):
        low, high = [], []
        for extent in size:
            step = extent // 5
            a = data.draw(st.integers(-1, 5)) * step
            low.append(a)
            high.append(a + data.draw(st.integers(1, 5)) * step)
        boxes.append((tuple(low), tuple(high)))
    cuts = [box_cut(low, high) for low, high in boxes]  # type: ignore[arg-type]
    solid = part_solid(part(size, operation(*cuts)))
    left = np.ones(size, dtype=bool)
    for low, high in boxes:
        left[tuple(slice(max(0, a), max(0, b)) for a, b in zip(low, high, strict=True))] = False
    assert solid.volume == pytest.approx(float(left.sum()), abs=1e-3)


def test_the_sample_design() -> None:
    made = sample_design()
    solids = build_solids(made)
    inch = 25.4**3
    side = 0.75 * 9 * 18 - 2 * 0.25 * 0.75 * (9 - 0.22) - 0.375 * 0.22 * 18
    # The scooped foot and the lower dado overlap, so the closed form only bounds it.
    assert solids.parts["side left"].volume < side * inch
    assert solids.parts["side left"].volume > (side - 0.75 * math.pi * 9 / 4 - 0.1) * inch
    assert solids.parts["side left"].volume == pytest.approx(solids.parts["side right"].volume, rel=1e-9)
    for solid in solids.parts.values():
        checked(solid)


def test_the_same_part_gives_the_same_mesh() -> None:
    one, two = (build_solids(sample_design()).parts["side left"].mesh for _ in range(2))
    assert np.array_equal(one.vertices, two.vertices)
    assert np.array_equal(one.triangles, two.triangles)
    assert one.surfaces == two.surfaces


def test_a_copy_is_carried_by_its_pose() -> None:
    made = design(part((60, 20, 10), at=((5, 6, 7),)))
    turn, move = transform(made.copies["board"])
    assert turn.tolist() == np.eye(3).tolist()
    assert move.tolist() == list(point(5, 6, 7).floats())

"""Files for machines, read back by another library and measured against the part.

What is expected is worked out here from the numbers of the description, or from the mesh of the solid.
"""

from __future__ import annotations

from io import StringIO
from itertools import pairwise, product
from math import asin, atan, atan2, cos, dist, sin

import ezdxf
import numpy as np
import pytest
import shapely
import trimesh
from shapely.affinity import affine_transform, translate

from plangen.plates import Plates
from tests.outside.test_drawing_files import plates_of

INCH = 25.4
CLOSE = 0.01  # mm


@pytest.fixture(scope="module")
def stool() -> Plates:
    return plates_of("step-stool")


@pytest.fixture(scope="module")
def splayed() -> Plates:
    return plates_of("splayed-stool")


def read(data: bytes):  # type: ignore[no-untyped-def]
    document = ezdxf.read(StringIO(data.decode("cp1252")))
    audit = document.audit()
    assert not audit.errors
    assert not audit.fixes
    assert document.header["$INSUNITS"] == 4  # millimetres
    return document


def test_every_file_of_the_projects_is_sound(stool: Plates, splayed: Plates) -> None:
    for plates in (stool, splayed):
        for data in plates.dxf_files().values():
            assert len(read(data).modelspace()) > 4


def _side() -> shapely.Polygon:
    """The side as described: 15-1/2 by 16 in, a notch of 7-1/2 by 8, an arch 1-3/4 high."""
    chord, rise = 15.5 - 2 * 2.75, 1.75
    radius = (chord**2 / 4 + rise**2) / (2 * rise)
    half = asin(chord / 2 / radius)
    arch = [(7.75 + radius * sin(a), rise - radius + radius * cos(a)) for a in np.linspace(half, -half, 2001)]
    corners = [(0, 0), (0, 8), (7.5, 8), (7.5, 16), (15.5, 16), (15.5, 0), *arch]
    return shapely.Polygon([(x * INCH, y * INCH) for x, y in corners])


def _apart(one: shapely.Polygon, two: shapely.Polygon) -> float:
    """How far the edges of two shapes are apart, mm, whichever way the second is turned or mirrored."""
    found = []
    for turned, sx, sy in product((False, True), (1, -1), (1, -1)):
        a, b, c, d = (0, sx, sy, 0) if turned else (sx, 0, 0, sy)
        moved = affine_transform(two, [a, b, c, d, 0, 0])
        moved = translate(moved, one.bounds[0] - moved.bounds[0], one.bounds[1] - moved.bounds[1])
        found.append(max(_farthest(one, moved), _farthest(moved, one)))
    return min(found)


def _farthest(one: shapely.Polygon, two: shapely.Polygon) -> float:
    points = shapely.points(shapely.get_coordinates(shapely.segmentize(one.exterior, 5.0)))
    return float(shapely.distance(points, two.exterior).max())


def _shape(entity) -> shapely.Polygon:  # type: ignore[no-untyped-def]
    """The shape of a closed line; an arc of bulge b turns by four times the arc tangent of b."""
    points: list[tuple[float, float]] = []
    corners = [tuple(float(value) for value in corner) for corner in entity.get_points("xyb")]
    for (x, y, bulge), (u, v, _) in pairwise([*corners, corners[0]]):
        points.append((x, y))
        if bulge:
            turn = 4 * atan(bulge)
            reach = dist((x, y), (u, v)) / 2 / sin(turn / 2)
            middle, away = ((x + u) / 2, (y + v) / 2), reach * cos(turn / 2) / dist((x, y), (u, v))
            centre = (middle[0] - (v - y) * away, middle[1] + (u - x) * away)
            begin = atan2(y - centre[1], x - centre[0])
            steps = [begin + turn * n / 2000 for n in range(1, 2000)]
            points += [(centre[0] + abs(reach) * cos(t), centre[1] + abs(reach) * sin(t)) for t in steps]
    return shapely.Polygon(points)


def test_the_pattern_of_a_side_is_its_shape(stool: Plates) -> None:
    outline = next(
        one
        for one in read(stool.dxf_files()["pattern-A-L.dxf"]).modelspace()
        if one.dxftype() == "LWPOLYLINE" and one.closed and any(bulge for *_, bulge in one.get_points("xyb"))
    )
    shape = _shape(outline)
    assert _apart(_side(), shape) < CLOSE
    assert _apart(_side(), shapely.affinity.scale(shape, 1.001, 1.001)) > CLOSE
    assert len(outline.get_points()) == 8


def test_the_arch_of_a_side_is_one_arc_of_its_radius(stool: Plates) -> None:
    radius = (5.0**2 + 1.75**2) / (2 * 1.75) * INCH
    for name in ("part-A-L.dxf", "part-A-R.dxf"):
        arcs = read(stool.dxf_files()[name]).modelspace().query('ARC[layer=="visible"]')
        assert [arc.dxf.radius for arc in arcs] == pytest.approx([radius], abs=CLOSE)
        (arc,) = arcs
        assert dist(arc.start_point, arc.end_point) == pytest.approx(10 * INCH, abs=CLOSE)


def test_the_holes_of_a_side_are_circles_in_their_places(stool: Plates) -> None:
    """Screws stand in the middle of what they hold: treads 3/4 in thick, the rail at the back."""
    circles = read(stool.dxf_files()["part-A-L.dxf"]).modelspace().query("CIRCLE")
    at = {(round(c.dxf.center.x / INCH, 4), round(c.dxf.center.y / INCH, 4)) for c in circles}
    assert len(at) == 6
    assert sorted({y for _, y in at}) == pytest.approx(
        sorted({7.625, 15.625, *(y for _, y in at if 12 < y < 15)})
    )
    assert sum(abs(y - 7.625) < 1e-4 for _, y in at) == 2
    assert sum(abs(y - 15.625) < 1e-4 for _, y in at) == 2
    assert sum(min(x, 15.5 - x) == pytest.approx(0.375) for x, _ in at) >= 2
    widths = {round(2 * c.dxf.radius / INCH, 6) for c in circles}
    assert widths == {0.375, round(11 / 64, 6)}


def test_the_seat_has_corners_of_two_inches_where_they_belong(splayed: Plates) -> None:
    width, depth, radius = 15 * INCH, 11.5 * INCH, 2 * INCH
    centres = {(x, y) for x in (radius, width - radius) for y in (radius, depth - radius)}
    arcs = read(splayed.dxf_files()["part-D.dxf"]).modelspace().query('ARC[layer=="visible"]')
    found = [arc for arc in arcs if arc.dxf.radius == pytest.approx(radius, abs=CLOSE)]
    assert len(found) == 4
    for x, y in sorted(centres):
        assert min(dist((arc.dxf.center.x, arc.dxf.center.y), (x, y)) for arc in found) < CLOSE


def test_every_line_of_the_views_is_an_edge_of_the_solid(stool: Plates) -> None:
    """In the mesh's own projection, for whichever of the eight ways to lay it the first view takes."""
    files = stool.dxf_files()
    for part in stool.design.parts:
        solid = stool.solids.parts[part.key].mesh
        mesh = trimesh.Trimesh(solid.vertices, solid.triangles, process=False)
        lines = [
            one
            for one in read(files[f"part-{part.mark}.dxf"]).modelspace()
            if one.dxf.layer in ("visible", "hidden") and one.dxftype() == "LINE"
        ]
        extent = mesh.bounds[1] - mesh.bounds[0]
        first = [one for one in lines if _within(one, extent)]
        assert len(first) >= 4
        assert min(_worst(first, mesh, axis) for axis in range(3)) < CLOSE, part.mark


def _within(line, extent: np.ndarray) -> bool:  # type: ignore[no-untyped-def]
    """Whether a line belongs to the first view, whose low left corner is the origin."""
    far = float(extent.max()) + CLOSE
    return all(-CLOSE <= v <= far for end in (line.dxf.start, line.dxf.end) for v in (end.x, end.y))


def _worst(lines: list, mesh: trimesh.Trimesh, axis: int) -> float:  # type: ignore[type-arg]
    """How far the farthest point of any line is from the projected edges, for the best way to lay them."""
    others = [a for a in range(3) if a != axis]
    best = float("inf")
    for (a, b), sa, sb in product((others, others[::-1]), (1.0, -1.0), (1.0, -1.0)):
        points = np.column_stack([mesh.vertices[:, a] * sa, mesh.vertices[:, b] * sb])
        points -= points.min(axis=0)
        tree = shapely.STRtree(shapely.linestrings(points[mesh.edges_unique]))
        high = points.max(axis=0) + CLOSE
        ends = np.array([[tuple(one.dxf.start)[:2], tuple(one.dxf.end)[:2]] for one in lines])
        ends = ends[(ends <= high).all(axis=(1, 2))]
        if not len(ends) or (ends.max(axis=(0, 1)) < high - 2 * CLOSE).any():
            continue  # the view is not as large as the solid seen this way
        shares = np.array([0.0, 0.31, 0.5, 0.77, 1.0])[:, None, None]
        points = shapely.points((ends[:, 0] + (ends[:, 1] - ends[:, 0]) * shares).reshape(-1, 2))
        worst = float(shapely.distance(points, tree.geometries[tree.nearest(points)]).max())
        best = min(best, worst)
    return best


def test_a_circle_goes_through_the_corners_of_the_mesh(splayed: Plates) -> None:
    """The chords of the solid have their corners on the true circle, which the file holds."""
    part = next(one for one in splayed.design.parts if one.mark == "B")
    solid = splayed.solids.parts[part.key].mesh
    circles = read(splayed.dxf_files()["part-B.dxf"]).modelspace().query('CIRCLE[layer=="visible"]')
    wanted = 0.625 * INCH / 2
    assert any(circle.dxf.radius == pytest.approx(wanted, abs=CLOSE) for circle in circles)
    along = int(np.argmax(np.ptp(solid.vertices, axis=0)))
    others = [axis for axis in range(3) if axis != along]
    ends = solid.vertices[np.isclose(solid.vertices[:, along], solid.vertices[:, along].max(), atol=1e-6)]
    middle = (ends[:, others].max(axis=0) + ends[:, others].min(axis=0)) / 2
    reach = np.hypot(*(ends[:, others] - middle).T)
    assert reach.max() == pytest.approx(wanted, abs=CLOSE)

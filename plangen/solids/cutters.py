"""Cuts as closed labelled meshes: every cut is a prism along one axis of the part's own frame."""

from __future__ import annotations

import math

import manifold3d
import numpy as np

from plangen.joinery.cuts import BoreCut, BoxCut, Cut, PlaneCut, PrismCut, RoundCut, plane_axes
from plangen.joinery.space import Axis, Box
from plangen.solids.labels import Labels, Numbers3, clean
from plangen.solids.model import Floats, Surface
from plangen.solids.outline import Ring, Round, Smooth, Straight, Xy, circle, ring
from plangen.solids.slanted import bore, half_space

PAST = 1.0  # mm that a cut is taken past a face of the blank that it reaches exactly
SAME = 1e-6  # mm within which two coordinates are the same place


def blank_solid(blank: Box, labels: Labels) -> manifold3d.Manifold:
    """Give the blank as a solid whose faces look outward."""
    return _prism(
        Axis.UP, _low(blank, Axis.UP), _high(blank, Axis.UP), (_rectangle(blank),), labels, outward=1.0
    )


def cutter(cut: Cut, blank: Box, labels: Labels) -> manifold3d.Manifold:
    """Give the solid that a cut takes away, taken past each face of the blank that it reaches exactly.

    Raises ``ValueError`` for a cut without volume or an outline that crosses itself.
    """
    if isinstance(cut, PlaneCut):
        return half_space(cut, blank, labels)
    if isinstance(cut, BoreCut):
        return bore(cut, blank, labels)
    if isinstance(cut, BoxCut):
        axis = Axis.UP
        low, high = _past(_low(cut.box, axis), _high(cut.box, axis), axis, blank)
        rings: tuple[Ring, ...] = (_ring_past(_rectangle(cut.box), axis, blank, PAST),)
    elif isinstance(cut, RoundCut):
        axis = cut.side.axis
        mouth, end = cut.mouth.at(axis), cut.mouth.at(axis) - cut.depth * cut.side.sign
        low, high = _past(float(min(mouth, end)), float(max(mouth, end)), axis, blank)
        first, second = plane_axes(axis)
        centre = (float(cut.mouth.at(first)), float(cut.mouth.at(second)))
        rings = (circle(centre, float(cut.diameter) / 2.0),)
    else:
        axis = cut.axis
        low, high = _past(float(cut.low), float(cut.high), axis, blank)
        rings = _prism_rings(cut, blank)
    if high - low < SAME:
        raise ValueError("a cut has to have a depth")
    solid = _prism(axis, low, high, rings, labels, outward=-1.0)
    if isinstance(cut, PrismCut) and not _is_sound(solid):
        # An outline that bulges out of the blank crosses its own chord where that is taken past the face.
        solid = _prism(axis, low, high, _prism_rings(cut, blank, 0.0), labels, outward=-1.0)
    if not _is_sound(solid):
        raise ValueError("the outline of a cut crosses itself or encloses nothing")
    return solid


def _is_sound(solid: manifold3d.Manifold) -> bool:
    return solid.status() == manifold3d.Error.NoError and float(solid.volume()) > 0.0


def _prism_rings(cut: PrismCut, blank: Box, past: float = PAST) -> tuple[Ring, ...]:
    rings = []
    for index, loop in enumerate(cut.loops):
        walked = ring(loop)
        if (walked.area > 0.0) != (index == 0):  # the outer one anticlockwise, holes clockwise
            walked = walked.turned_round()
        # A kept island moves out by less, so that it never crosses the outer loop.
        by = past if index == 0 else past / 10.0
        rings.append(_ring_past(walked, cut.axis, blank, by) if by else walked)
    return tuple(rings)


def _low(box: Box, axis: Axis) -> float:
    return float(box.low.at(axis))


def _high(box: Box, axis: Axis) -> float:
    return float(box.high.at(axis))


def _past(low: float, high: float, axis: Axis, blank: Box) -> tuple[float, float]:
    """Take the ends of a cut past the blank where they lie in its faces."""
    if abs(low - _low(blank, axis)) < SAME:
        low -= PAST
    if abs(high - _high(blank, axis)) < SAME:
        high += PAST
    return low, high


def _rectangle(box: Box) -> Ring:
    x0, y0, x1, y1 = (float(v) for v in (box.low.across, box.low.deep, box.high.across, box.high.deep))
    return Ring(((x0, y0), (x1, y0), (x1, y1), (x0, y1)), (Straight(),) * 4)


def _ring_past(walked: Ring, axis: Axis, blank: Box, by: float) -> Ring:
    """Move the straight runs that lie in a face of the blank outward, squarely to that face."""
    first, second = plane_axes(axis)
    sides = tuple(
        (index, end(blank, at), sign)
        for index, at in enumerate((first, second))
        for end, sign in ((_low, -1.0), (_high, 1.0))
    )

    def outward(a: Xy, b: Xy) -> Xy | None:
        for index, at, sign in sides:
            if abs(a[index] - at) < SAME and abs(b[index] - at) < SAME:
                return (sign * by, 0.0) if index == 0 else (0.0, sign * by)
        return None

    number = len(walked.points)
    ways = [
        outward(walked.points[k], walked.points[(k + 1) % number])
        if isinstance(walked.runs[k], Straight)
        else None
        for k in range(number)
    ]
    points: list[Xy] = []
    runs: list[Straight | Round | Smooth] = []
    for k, (x, y) in enumerate(walked.points):
        come, go, run = ways[k - 1], ways[k], walked.runs[k]
        if come is None and go is None:
            corner = [((x, y), run)]
        elif go is None and come is not None:
            corner = [((x + come[0], y + come[1]), Straight()), ((x, y), run)]
        elif come is None and go is not None:
            corner = [((x, y), Straight()), ((x + go[0], y + go[1]), run)]
        elif come == go and go is not None:
            corner = [((x + go[0], y + go[1]), run)]
        else:
            assert come is not None
            assert go is not None
            corner = [((x + come[0] + go[0], y + come[1] + go[1]), run)]
        points += [point for point, _ in corner]
        runs += [kind for _, kind in corner]
    return Ring(tuple(points), tuple(runs))


def _prism(
    axis: Axis, low: float, high: float, rings: tuple[Ring, ...], labels: Labels, outward: float
) -> manifold3d.Manifold:
    """Build the prism; ``outward`` is -1 where its faces, once cut, look into it."""
    first, second = plane_axes(axis)
    flat = [np.asarray(walked.points, dtype=np.float64) for walked in rings]
    corners = np.vstack(flat)
    count = len(corners)
    vertices = np.empty((2 * count, 3))
    vertices[:, first.value] = np.tile(corners[:, 0], 2)
    vertices[:, second.value] = np.tile(corners[:, 1], 2)
    vertices[:count, axis.value], vertices[count:, axis.value] = low, high

    cap = np.asarray(manifold3d.triangulate(flat), dtype=np.int64)
    along = np.zeros(3)
    along[axis.value] = outward
    low_label = labels.plane(_three(-along), _three(vertices[0]))
    high_label = labels.plane(_three(along), _three(vertices[count]))
    triangles = [cap[:, ::-1], cap + count]
    facets = [low_label] * len(cap) + [high_label] * len(cap)

    start = 0
    for walked in rings:
        number = len(walked.points)
        here = np.arange(start, start + number)
        there = np.roll(here, -1)
        quads = np.stack([here, there, there + count, here, there + count, here + count], axis=1)
        triangles.append(quads.reshape(-1, 3))
        for k in range(number):
            facets += [_side_facet(walked, k, axis, low, labels, outward)] * 2
        start += number

    faces = np.vstack(triangles)
    if axis is Axis.DEEP:  # its two outline axes are left-handed
        faces = faces[:, ::-1]
    mesh = manifold3d.Mesh64(
        vert_properties=np.ascontiguousarray(vertices),
        tri_verts=np.ascontiguousarray(faces.astype(np.uint64)),
        face_id=np.asarray(facets, dtype=np.uint64),
    )
    return manifold3d.Manifold(mesh)


def _side_facet(walked: Ring, k: int, axis: Axis, low: float, labels: Labels, outward: float) -> int:
    first, second = plane_axes(axis)

    def lifted(pair: Xy, along: float) -> Numbers3:
        values = [0.0, 0.0, 0.0]
        values[first.value], values[second.value], values[axis.value] = *pair, along
        return values[0], values[1], values[2]

    run, a = walked.runs[k], walked.points[k]
    along = lifted((0.0, 0.0), 1.0)
    if isinstance(run, Round):
        # Walked with the solid on the left, a left turn goes round it: a cutter's makes a hole.
        hollow = run.left == (outward < 0.0)
        centre = lifted(run.centre, 0.0)
        key = ("cylinder", axis, *(round(c, 6) for c in centre), round(run.radius, 6), hollow)
        return labels.facet(
            Surface("cylinder", axis=along, centre=centre, radius=run.radius, hollow=hollow), key
        )
    if isinstance(run, Smooth):
        profile = tuple(lifted(point, low) for point in run.points)
        normals = tuple(clean(lifted((outward * ty, -outward * tx), 0.0)) for tx, ty in run.tangents)
        surface = Surface("swept", axis=along, profile=profile, profile_normals=normals)
        return labels.facet(surface, ("swept", axis, low, run.points, outward))
    b = walked.points[(k + 1) % len(walked.points)]
    size = math.dist(a, b)
    normal = lifted((outward * (b[1] - a[1]) / size, -outward * (b[0] - a[0]) / size), 0.0)
    return labels.plane(normal, lifted(a, low))


def _three(values: Floats) -> Numbers3:
    return float(values[0]), float(values[1]), float(values[2])

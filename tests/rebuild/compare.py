"""Compare a part made from its sheet with the part as it should be.

Every corner of either solid is looked for on the surface of the other. How far away a corner may be
follows from the surfaces that meet in it: each was placed by printed figures, and may be off by the halves
of their rounding steps. Where surfaces with the normals n and the errors e meet, the corner moves by the d
that solves n · d = ± e for all of them; the longest such d is allowed. The middle of a face is allowed no
more than the error of that face.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from tests.rebuild.part import Made
from tests.rebuild.tools import Error, Floats

Ints = NDArray[np.int64]
NOISE = 2e-3  # mm, of coordinates in nanometres and of the library's own arithmetic
BLUNT = 0.4  # sine of the angle under which a corner of two blunt surfaces lies on either
KNIFE = 0.02  # the same for a sharp edge, whose tip goes back the farther the sharper it is
CHUNK = 500_000
SIGNS = {number: np.array([*itertools.product((-1.0, 1.0), repeat=number)]).T for number in (1, 2, 3)}
NEAR = 3.0  # mm
MOST = 50
LARGE = 2.5  # mm; the middle of a face with so much round it moves square to the face alone


@dataclass(frozen=True, slots=True)
class Difference:
    """How far two solids are apart, mm; ``worst`` is the share of what is allowed, over 1 if too far."""

    deviation: float
    allowed: float  # at the place of the worst
    worst: float


def difference(
    made: Made, vertices: Floats, triangles: Ints, cylinders: Sequence[Cylinder] = ()
) -> Difference:
    """Compare what was made with a closed mesh, by corners and by faces, both ways.

    ``cylinders`` are those that the mesh stands for; each has to be made too, with its own radius.
    """
    mine = _measured(made)
    if not len(mine.faces) or not len(triangles):
        same = len(mine.faces) == len(triangles)
        return Difference(0.0 if same else np.inf, 0.0, 0.0 if same else np.inf)
    none = np.zeros(len(triangles))
    corners, _ = _from_surface(mine.vertices, vertices, triangles, none)
    inner, radius = _inside(mine.vertices, mine.faces)
    large = radius > mine.corners_moved[mine.faces].max(axis=1)
    faces, _ = _from_surface(inner[large], vertices, triangles, none)
    flats, flats_off = _flats(mine)
    flat, _ = _from_surface(flats, vertices, triangles, none)
    found = [(corners, mine.corners_off), (faces, mine.faces_off[large]), (flat, flats_off)]
    theirs, radius = _inside(vertices, triangles)
    for points, slack in (
        (vertices, mine.corners_off[mine.faces].max(axis=1)),
        (theirs[radius > LARGE], mine.faces_off),
    ):
        distance, excess = _from_surface(points, mine.vertices, mine.faces, slack)
        found.append((distance, np.maximum(distance - excess, NOISE)))  # what is allowed where it has to be
    distances = np.concatenate([distance for distance, _ in found])
    limits = np.concatenate([limit for _, limit in found])
    place = int((distances / limits).argmax())
    worst = max(float((distances / limits)[place]), *(_unlike(one, made) for one in cylinders), 0.0)
    return Difference(float(distances.max()), float(limits[place]), worst)


@dataclass(frozen=True, slots=True)
class Cylinder:
    """A round surface as it should be."""

    point: Floats
    way: Floats
    radius: float


def _unlike(one: Cylinder, made: Made) -> float:
    """Give the share of its rounding by which the round that is most like a cylinder differs from it."""
    found = [np.inf]
    for tool in made.tools:
        for other in tool.rounds:
            turned = float(np.linalg.norm(np.cross(one.way, other.way)))
            aside = float(np.linalg.norm(np.cross(one.point - other.point, other.way)))
            found.append(
                max(
                    turned / (other.lean + 1e-6),
                    aside / (other.off + NOISE),
                    abs(one.radius - other.radius.mm) / (other.radius.half + NOISE),
                )
            )
    return min(found)


@dataclass(frozen=True, slots=True)
class _Measured:
    """A mesh, with how far each corner may be off the surface and may move along it, and each face be off."""

    vertices: Floats
    faces: Ints
    corners_off: Floats
    corners_moved: Floats
    faces_off: Floats
    flats: tuple[Ints, ...]  # the faces of each flat surface of one cut


def _measured(made: Made) -> _Measured:
    mesh = made.body.to_mesh64()
    vertices = np.array(mesh.vert_properties[:, :3], dtype=np.float64)
    faces = np.array(mesh.tri_verts, dtype=np.int64)
    vertices, faces = _welded(vertices, faces)
    one, two, three = (vertices[faces[:, k]] for k in range(3))
    normals = np.cross(two - one, three - one)
    sizes = np.linalg.norm(normals, axis=1)
    normals /= np.maximum(sizes, 1e-12)[:, None]
    middles = (one + two + three) / 3
    errors: dict[int, Error] = {key: error for tool in made.tools for key, error in tool.errors.items()}
    off = np.zeros((len(faces), 2))  # by the figures, and by chords
    runs = [int(index) // 3 for index in mesh.run_index]
    for source, start, end in zip(mesh.run_original_id, runs, runs[1:], strict=False):
        if end > start:
            off[start:end] = errors[int(source)](middles[start:end], normals[start:end])
    real = np.flatnonzero(sizes > 1e-9)
    sources = np.repeat(np.array(mesh.run_original_id), np.diff(runs))
    meeting: list[dict[object, int]] = [{} for _ in vertices]  # of a round only one facet at each corner
    for face in real:
        key = int(sources[face]) if off[face, 1] else (int(sources[face]), *np.round(normals[face], 6))
        for corner in faces[face]:
            meeting[corner].setdefault(key, int(face))
    allowed, moves = np.full(len(vertices), np.inf), np.zeros(len(vertices))
    for corner, those in enumerate(meeting):
        if those:
            here = [*those.values()]
            allowed[corner] = _longest(normals[here], off[here, 0], BLUNT) + off[here, 1].max()
            moves[corner] = _longest(normals[here], off[here, 0], KNIFE) + off[here, 1].max()
    flats: dict[object, list[int]] = {}
    for number, face in enumerate(real):
        if not off[face, 1]:
            level = round(float(middles[face] @ normals[face]), 4)
            key = (int(sources[face]), *np.round(normals[face], 4), level)
            flats.setdefault(key, []).append(number)
    return _Measured(
        vertices, faces[real], allowed + NOISE, moves, off[real].sum(axis=1) + NOISE,
        tuple(np.array(those) for those in flats.values()),
    )  # fmt: skip


def _flats(mine: _Measured) -> tuple[Floats, Floats]:
    """Give the middles of flat surfaces, such as the floors of holes, that their rims cannot reach."""
    points, allowed = [], []
    for those in mine.flats:
        faces = mine.faces[those]
        corners = mine.vertices[faces]
        areas = np.linalg.norm(np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]), axis=1)
        middle = (corners.mean(axis=1) * areas[:, None]).sum(axis=0) / areas.sum()
        edges = np.sort(np.vstack([faces[:, [0, 1]], faces[:, [1, 2]], faces[:, [2, 0]]]), axis=1)
        once, counts = np.unique(edges, axis=0, return_counts=True)
        rim = mine.vertices[once[counts == 1]]
        if not len(rim):
            continue
        room = _to_edges(np.tile(middle, (len(rim), 1)), rim[:, 0], rim[:, 1]).min()
        inside = _to_triangles(np.tile(middle, (len(faces), 1)), corners).min() < NOISE
        if inside and room > mine.corners_moved[faces].max():
            points.append(middle)
            allowed.append(mine.faces_off[those].max())
    return np.array(points).reshape(-1, 3), np.array(allowed)


def _inside(vertices: Floats, faces: Ints) -> tuple[Floats, Floats]:
    """Give the middle of the circle inside each face, and its radius."""
    a, b, c = (vertices[faces[:, k]] for k in range(3))
    sides = [np.linalg.norm(two - one, axis=1) for one, two in ((b, c), (c, a), (a, b))]
    whole = np.maximum(sum(sides), 1e-12)
    middle = (
        sum(side[:, None] * corner for side, corner in zip(sides, (a, b, c), strict=True)) / whole[:, None]
    )
    return middle, np.linalg.norm(np.cross(b - a, c - a), axis=1) / whole


def _welded(vertices: Floats, faces: Ints) -> tuple[Floats, Ints]:
    """Make corners at one place one."""
    _, first, place = np.unique(np.round(vertices, 6), axis=0, return_index=True, return_inverse=True)
    return vertices[first], place.reshape(-1)[faces]


def _longest(normals: Floats, errors: Floats, apart: float) -> float:
    """Give the longest move of a corner that lets every surface through it be off by its error.

    Surfaces that turn less than ``apart`` (the sine of the angle) from each other count as one.
    """
    chosen: list[int] = []
    basis: list[Floats] = []
    for index in np.argsort(-errors, kind="stable"):
        normal = normals[index]
        rest = normal - sum(((normal @ one) * one for one in basis), np.zeros(3))
        size = math.sqrt(rest @ rest)
        sharp = any(normals[other] @ normal < 0.0 for other in chosen)
        if not chosen or size > (KNIFE if sharp else apart):
            chosen.append(int(index))
            basis.append(rest / size)
            if len(chosen) == 3:
                break
    square = all(abs(normals[one] @ normals[two]) < 1e-9 for one, two in itertools.combinations(chosen, 2))
    if square:
        return math.sqrt(float((errors[chosen] ** 2).sum()))
    solve = np.linalg.pinv(normals[chosen])
    return float(np.linalg.norm(solve @ (errors[chosen, None] * SIGNS[len(chosen)]), axis=0).max())


def _from_surface(points: Floats, vertices: Floats, triangles: Ints, slack: Floats) -> tuple[Floats, Floats]:
    """Give how far points are from a surface, and by how much they exceed the ``slack`` of its triangles.

    What lies within ``NEAR`` of a point, or the largest slack, is looked at first; where that is nothing,
    all of the surface is, for the first ``MOST`` of such points: with one of them the part is wrong anyway.
    """
    corners = vertices[triangles]
    low, high = corners.min(axis=1), corners.max(axis=1)
    reach = max(NEAR, float(slack.max(initial=0.0)))
    long = np.argsort(vertices.min(axis=0) - vertices.max(axis=0))[:2]  # the axes that part the most
    tree = shapely.STRtree(shapely.box(*low[:, long].T, *high[:, long].T))
    here = points[:, long]
    rows, columns = tree.query(shapely.box(*(here - reach).T, *(here + reach).T))
    gap = np.maximum(0.0, np.maximum(low[columns] - points[rows], points[rows] - high[columns]))
    close = np.linalg.norm(gap, axis=1) <= reach
    distance, excess = _nearest(points, corners, slack, rows[close], columns[close])
    lost = np.flatnonzero(distance > reach)
    distance[lost] = excess[lost] = reach
    far = lost[:MOST]
    if far.size:
        rows, columns = np.repeat(far, len(corners)), np.tile(np.arange(len(corners)), far.size)
        all_of_it = _nearest(points, corners, slack, rows, columns)
        distance[far], excess[far] = all_of_it[0][far], all_of_it[1][far]
    return distance, excess


def _nearest(
    points: Floats, corners: Floats, slack: Floats, rows: Ints, columns: Ints
) -> tuple[Floats, Floats]:
    """Give the least distance and excess of each point over the triangles that are paired with it."""
    distance, excess = np.full(len(points), np.inf), np.full(len(points), np.inf)
    for start in range(0, len(rows), CHUNK):
        some, those = rows[start : start + CHUNK], columns[start : start + CHUNK]
        measured = _to_triangles(points[some], corners[those])
        np.minimum.at(distance, some, measured)
        np.minimum.at(excess, some, measured - slack[those])
    return distance, excess


def _to_triangles(points: Floats, corners: Floats) -> Floats:
    """Give how far each point is from its triangle: from the plane where it lies over it, else an edge."""
    a, b, c = corners[:, 0], corners[:, 1], corners[:, 2]
    normal = np.cross(b - a, c - a)
    size = np.linalg.norm(normal, axis=1)
    flat = size < 1e-12
    normal = normal / np.where(flat, 1.0, size)[:, None]
    inside = ~flat
    for one, two in ((a, b), (b, c), (c, a)):
        inside &= np.einsum("ij,ij->i", np.cross(two - one, points - one), normal) >= -1e-12
    plane = np.abs(np.einsum("ij,ij->i", points - a, normal))
    edges = np.min([_to_edges(points, one, two) for one, two in ((a, b), (b, c), (c, a))], axis=0)
    return np.asarray(np.where(inside, plane, edges))


def _to_edges(points: Floats, starts: Floats, ends: Floats) -> Floats:
    along = ends - starts
    share = np.einsum("ij,ij->i", points - starts, along) / np.maximum((along**2).sum(axis=1), 1e-18)
    return np.asarray(np.linalg.norm(points - starts - np.clip(share, 0, 1)[:, None] * along, axis=1))


def worst_of(found: Sequence[Difference]) -> Difference:
    """Give the one that comes nearest to what is allowed, or goes farthest past it."""
    return max(found, key=lambda one: one.worst)

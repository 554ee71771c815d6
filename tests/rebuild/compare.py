"""Compare a part made from its sheet with the part as it should be.

Every corner of either solid is looked for on the surface of the other. How far away a corner may be
follows from the surfaces that meet in it: each was placed by printed figures, and may be off by the halves
of their rounding steps. Where surfaces with the normals n and the errors e meet, the corner moves by the d
that solves n · d = ± e for all of them; the longest such d is allowed.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from tests.rebuild.part import Made
from tests.rebuild.tools import Error, Floats

Ints = NDArray[np.int64]
NOISE = 2e-3  # mm, of coordinates in nanometres and of the library's own arithmetic
APART = 0.4  # sine of the angle from which two surfaces pin a corner down in two directions
CHUNK = 500_000
NEAR = 3.0  # mm


@dataclass(frozen=True, slots=True)
class Difference:
    """How far two solids are apart, mm; ``worst`` is the share of what is allowed, over 1 if too far."""

    deviation: float
    allowed: float  # at the place of the worst
    worst: float


def difference(made: Made, vertices: Floats, triangles: Ints) -> Difference:
    """Compare what was made with a closed mesh, by corners both ways."""
    mine, faces, allowed = _allowances(made)
    if not len(faces) or not len(triangles):
        same = len(faces) == len(triangles)
        return Difference(0.0 if same else np.inf, 0.0, 0.0 if same else np.inf)
    there, _ = _from_surface(mine, vertices, triangles, np.zeros(len(triangles)))
    back, excess = _from_surface(vertices, mine, faces, allowed[faces].max(axis=1))
    limit = np.maximum(back - excess, NOISE)  # what is allowed where each corner has to be
    ratio = np.concatenate([there / allowed, back / limit])
    distances, limits = np.concatenate([there, back]), np.concatenate([allowed, limit])
    place = int(ratio.argmax())
    return Difference(float(distances.max()), float(limits[place]), float(ratio[place]))


def _allowances(made: Made) -> tuple[Floats, Ints, Floats]:
    """Give the corners and faces of what was made, and how far each corner may be off."""
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
    off = np.zeros(len(faces))
    runs = [*(int(index) // 3 for index in mesh.run_index)]
    for source, start, end in zip(mesh.run_original_id, runs, runs[1:], strict=False):
        if end > start:
            off[start:end] = errors[int(source)](middles[start:end], normals[start:end])
    real = np.flatnonzero(sizes > 1e-9)
    meeting: list[list[int]] = [[] for _ in vertices]
    for face in real:
        for corner in faces[face]:
            meeting[corner].append(int(face))
    allowed = np.array([_longest(normals[here], off[here]) if here else np.inf for here in meeting])
    return vertices, faces[real], allowed + NOISE


def _welded(vertices: Floats, faces: Ints) -> tuple[Floats, Ints]:
    """Make corners at one place one."""
    _, first, place = np.unique(np.round(vertices, 6), axis=0, return_index=True, return_inverse=True)
    return vertices[first], place.reshape(-1)[faces]


def _longest(normals: Floats, errors: Floats) -> float:
    """Give the longest move of a corner that lets every surface through it be off by its error."""
    chosen: list[int] = []
    for index in np.argsort(-errors, kind="stable"):
        if len(chosen) == 3:
            break
        normal = normals[index]
        if chosen:
            basis = np.linalg.qr(normals[chosen].T)[0]
            normal = normal - basis @ (basis.T @ normal)
        if np.linalg.norm(normal) > APART or not chosen:
            chosen.append(int(index))
    matrix = normals[chosen]
    solve = np.linalg.pinv(matrix)
    signs = itertools.product((-1.0, 1.0), repeat=len(chosen))
    return max(float(np.linalg.norm(solve @ (errors[chosen] * sign))) for sign in map(np.array, signs))


def _from_surface(points: Floats, vertices: Floats, triangles: Ints, slack: Floats) -> tuple[Floats, Floats]:
    """Give how far points are from a surface, and by how much they exceed the ``slack`` of its triangles.

    What lies within ``NEAR`` of a point, or the largest slack, is looked at first; where that is nothing,
    all of the surface is.
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
    far = np.flatnonzero(distance > reach)
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
    return np.where(inside, plane, edges)


def _to_edges(points: Floats, starts: Floats, ends: Floats) -> Floats:
    along = ends - starts
    share = np.einsum("ij,ij->i", points - starts, along) / np.maximum((along**2).sum(axis=1), 1e-18)
    return np.asarray(np.linalg.norm(points - starts - np.clip(share, 0, 1)[:, None] * along, axis=1))


def worst_of(found: Sequence[Difference]) -> Difference:
    """Give the one that comes nearest to what is allowed, or goes farthest past it."""
    return max(found, key=lambda one: one.worst)

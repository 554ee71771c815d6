"""Blind pockets in flat faces: drilled holes, mortises, stopped cuts, which can be plugged for hiding.

Whoever looks into a pocket sees its inside or what stands in it, and never through it. So for a line that
does not reach into the pocket its face hides as if it were whole, and what is inside it is seen through
its mouth alone. One whole face takes the place of the many facets round its holes and of their walls.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import manifold3d
import numpy as np

from plangen.drawing.hidden_lines.facets import convex_facets, open_twins
from plangen.solids.model import Floats, Ints

MOST_PATCHES = 16  # in one pocket; more are no simple pocket, and searching on would take long
FLUSH = 1e-6  # mm within which points lie in the plane of the mouth
BULGE = 1e-3  # mm by which the inside of a pocket may bulge into it and still count as convex


@dataclass(frozen=True, eq=False, slots=True)
class Pocket:
    """A recess behind a whole loop of a flat face, out of which nothing else leads."""

    patch: int  # the face with the mouth
    mouth: Ints  # its vertices, anticlockwise from outside
    inside: frozenset[int]  # the patches within
    convex: bool


def find_pockets(
    vertices: Floats,
    triangles: Ints,
    normals: Floats,
    patch: Ints,
    flat: Sequence[bool],
    twin: Ints,
    loops: Sequence[Sequence[Ints]],
) -> list[Pocket]:
    """Find the pockets of a mesh, save those that lie within another pocket.

    ``flat`` is by patch; ``loops`` are the borders of each patch as half-edges, the outline first.
    """
    own = np.repeat(patch, 3)
    beyond = own[twin]
    border = np.flatnonzero(own != beyond)
    pairs = np.unique(np.column_stack([own[border], beyond[border]]), axis=0)
    meets: dict[int, list[int]] = {}
    for one, two in pairs.tolist():
        meets.setdefault(one, []).append(two)
    corner = triangles.reshape(-1)
    by_patch = np.argsort(patch, kind="stable")
    first = np.searchsorted(patch[by_patch], np.arange(len(loops) + 1))
    found: list[Pocket] = []
    for index, walks in enumerate(loops):
        if not flat[index]:
            continue
        for walk in walks[1:]:
            inside = _flood(meets, index, sorted(set(beyond[walk].tolist())))
            mouth = corner[walk]
            if not inside or len(np.unique(mouth)) < len(mouth):
                continue
            rows = np.concatenate([by_patch[first[k] : first[k + 1]] for k in sorted(inside)])
            way = normals[by_patch[first[index]]]
            points = vertices[np.unique(triangles[rows])]
            back = border[(own[border] == index) & np.isin(beyond[border], sorted(inside))]
            if len(back) != len(walk) or ((points - vertices[mouth[0]]) @ way).max() > FLUSH:
                continue
            height = points @ normals[rows].T - (vertices[triangles[rows, 0]] * normals[rows]).sum(axis=1)
            found.append(Pocket(index, mouth[::-1].copy(), inside, bool(height.min() >= -BULGE)))
    inner = {k for pocket in found for k in pocket.inside}
    return [pocket for pocket in found if pocket.patch not in inner]


def _flood(meets: dict[int, list[int]], away: int, start: Sequence[int]) -> frozenset[int]:
    """Give the patches reached without crossing ``away``; none where they are too many."""
    seen = dict.fromkeys(start)
    todo = list(start)
    while todo:
        for other in meets[todo.pop()]:
            if other != away and other not in seen:
                seen[other] = None
                todo.append(other)
        if len(seen) > MOST_PATCHES:
            return frozenset()
    return frozenset(seen)


def plugged(vertices: Floats, normal: Floats, loops: Sequence[Ints]) -> list[Ints]:
    """Give a flat face as convex polygons of vertex indices, anticlockwise from outside.

    ``loops`` are vertex indices, the outline first; none touches another.
    """
    across = np.eye(3)[int(np.argmin(np.abs(normal)))]
    right = np.cross(across, normal)
    right /= np.linalg.norm(right)
    plane = np.column_stack([right, np.cross(normal, right)])
    flat = [vertices[loop] @ plane for loop in loops]
    if len(loops) == 1 and len(corners := _corners(flat[0])):
        return [loops[0][corners]]
    every = np.concatenate(loops)
    triangles = every[np.asarray(manifold3d.triangulate(flat), dtype=np.int64)]
    normals = np.repeat(np.asarray(normal)[None], len(triangles), axis=0)
    start, members, _ = convex_facets(
        vertices, triangles, normals, np.zeros(len(triangles), dtype=np.int64), open_twins(triangles)
    )
    return np.split(members, start[1:-1])


def _corners(loop: Floats) -> Ints:
    """Give the true corners of a loop where all of them turn left, and none else."""
    before, after = loop - np.roll(loop, 1, axis=0), np.roll(loop, -1, axis=0) - loop
    turn = before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0]
    turn /= np.maximum(np.hypot(*before.T) * np.hypot(*after.T), 1e-300)
    return np.flatnonzero(turn > 1e-9) if turn.min() > -1e-9 else np.empty(0, dtype=np.int64)

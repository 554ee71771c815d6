"""Coplanar triangles joined into convex polygons: fewer and larger things to hide behind."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeAlias

import numpy as np

from plangen.solids.model import Floats, Ints

Numbers: TypeAlias = Sequence[float]

COPLANAR = 1.0 - 1e-10  # cosine; the facets of a round surface differ by degrees
BEND = 1e-9  # sine of the angle by which a corner may bend inward and still count as straight


def convex_facets(
    vertices: Floats, triangles: Ints, normals: Floats, patch: Ints, twin: Ints
) -> tuple[Ints, Ints, Ints]:
    """Join triangles across their longest common edges while the result stays convex.

    Returns the starts (p + 1,) of the polygons in the list of vertex indices, that list, and one
    triangle (p,) of each polygon, whose normal and patch are the polygon's. Points on straight
    sides are left out. This is the greedy scheme of Hertel and Mehlhorn (1983).
    """
    owner, other = np.arange(len(twin)) // 3, twin // 3
    tails = triangles.reshape(-1)
    heads = np.roll(triangles, -1, axis=1).reshape(-1)
    ready = (owner < other) & (patch[owner] == patch[other])
    ready &= np.einsum("ij,ij->i", normals[owner], normals[other]) > COPLANAR
    halves = np.flatnonzero(ready)
    lengths = np.linalg.norm(vertices[heads[halves]] - vertices[tails[halves]], axis=1)
    halves = halves[np.argsort(-lengths, kind="stable")]

    points: list[list[float]] = vertices.tolist()
    ways: list[list[float]] = normals.tolist()
    polygons: list[list[int]] = triangles.tolist()
    parent = list(range(len(triangles)))

    def root(index: int) -> int:
        while parent[index] != index:
            parent[index] = parent[parent[index]]
            index = parent[index]
        return index

    owners, others, tail_list, head_list = owner.tolist(), other.tolist(), tails.tolist(), heads.tolist()
    for half in halves.tolist():
        one, two = root(owners[half]), root(others[half])
        if one == two:
            continue
        joined = _joined(polygons[one], polygons[two], tail_list[half], head_list[half], points, ways[one])
        if joined:
            polygons[one], polygons[two], parent[two] = joined, [], one

    kept = [index for index, polygon in enumerate(polygons) if polygon]
    cleaned = [_without_straight(polygons[index], points, ways[index]) for index in kept]
    start = np.concatenate([[0], np.cumsum([len(polygon) for polygon in cleaned])]).astype(np.int64)
    members = np.array([vertex for polygon in cleaned for vertex in polygon], dtype=np.int64)
    return start, members, np.array(kept, dtype=np.int64)


def open_twins(triangles: Ints) -> Ints:
    """Give each half-edge's twin, and itself where it has none."""
    tails, heads = triangles.reshape(-1), np.roll(triangles, -1, axis=1).reshape(-1)
    size = int(triangles.max(initial=0)) + 1
    key, back = tails * size + heads, heads * size + tails
    order = np.argsort(key, kind="stable")
    at = np.minimum(np.searchsorted(key, back, sorter=order), max(len(key) - 1, 0))
    return np.where(key[order[at]] == back, order[at], np.arange(len(key)))


def _joined(
    one: list[int],
    two: list[int],
    tail: int,
    head: int,
    points: Sequence[Numbers],
    way: Numbers,
) -> list[int]:
    """Join two polygons across the edge tail to head of the first; empty where that bends inward."""
    at, back = one.index(head), two.index(tail)
    if one[at - 1] != tail or two[back - 1] != head:  # an earlier joint took the edge away
        return []
    ahead, behind = one[at:] + one[:at], two[back:] + two[:back]  # head … tail, tail … head
    while len(ahead) > 2 and len(behind) > 2 and ahead[1] == behind[-2]:  # a longer common side
        ahead, behind = ahead[1:], behind[:-1]
    while len(ahead) > 2 and len(behind) > 2 and ahead[-2] == behind[1]:
        ahead, behind = ahead[:-1], behind[1:]
    first = _bend(points[behind[-2]], points[ahead[0]], points[ahead[1]], way)
    second = _bend(points[ahead[-2]], points[behind[0]], points[behind[1]], way)
    return ahead + behind[1:-1] if first >= -BEND and second >= -BEND else []


def _bend(before: Numbers, at: Numbers, after: Numbers, way: Numbers) -> float:
    """Give the sine of the turn at a corner, positive to the left seen against ``way``."""
    ax, ay, az = at[0] - before[0], at[1] - before[1], at[2] - before[2]
    bx, by, bz = after[0] - at[0], after[1] - at[1], after[2] - at[2]
    turn = (ay * bz - az * by) * way[0] + (az * bx - ax * bz) * way[1] + (ax * by - ay * bx) * way[2]
    size = ((ax * ax + ay * ay + az * az) * (bx * bx + by * by + bz * bz)) ** 0.5
    return turn / size if size else 0.0


def _without_straight(polygon: list[int], points: Sequence[Numbers], way: Numbers) -> list[int]:
    number = len(polygon)
    kept = [
        polygon[k]
        for k in range(number)
        if _bend(points[polygon[k - 1]], points[polygon[k]], points[polygon[(k + 1) % number]], way) > BEND
    ]
    return kept if len(kept) >= 3 else polygon

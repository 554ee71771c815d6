"""Which stretches of the edges are hidden: every edge against every facet that may lie before it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely

from plangen.drawing.hidden_lines.scene import Scene
from plangen.solids.model import Floats, Ints

BEHIND = 0.05  # mm behind a facet's plane from which an edge counts as hidden
BEHIND_CURVED = 0.25  # mm, where either is curved: more than twice the sagitta of its chords
OUTSET = 0.001  # mm that facets are grown by, so that none lets a line through at a shared side
FRAGMENT = 0.05  # mm; shorter stretches go the way of their neighbours
SHORT = 1e-3  # mm in the picture; a shorter edge is seen end on
SIDE_CLASSES = (3, 4, 6, 8, 12, 16, 32, 64, 1 << 30)


@dataclass(frozen=True, eq=False, slots=True)
class Stretches:
    """Pieces of edges, each from ``begin`` to ``end`` as shares of the edge's length."""

    edge: Ints
    begin: Floats
    end: Floats


def candidates(scene: Scene) -> tuple[Ints, Ints]:
    """Give the edges that may be seen, and those that can only be drawn hidden.

    An edge may be seen when one of its faces looks to the viewer, unless it is an inside corner
    one of whose faces looks away. Between two faces of one smooth surface there is an edge only
    where the surface turns away.
    """
    front, back = (scene.facing == 1).any(axis=1), (scene.facing == -1).any(axis=1)
    turning = (front & ~(scene.facing == 1).all(axis=1)) & ~scene.edge_feature
    inside_back = ~scene.edge_convex & back
    flat = scene.vertices[scene.edge_ends][:, :, :2]
    long = np.abs(flat[:, 1] - flat[:, 0]).max(axis=1, initial=0.0) > SHORT
    seen = long & front & ~inside_back & (scene.edge_feature | turning)
    return np.flatnonzero(seen), np.flatnonzero(long & ~seen & (scene.edge_feature | turning))


def hidden_stretches(scene: Scene, edges: Ints) -> Stretches:
    """Find the stretches of some edges that facets hide; they may overlap one another."""
    facets = np.flatnonzero(scene.facet_facing == 1)
    ends = scene.vertices[scene.edge_ends[edges]]
    row, facet = _pairs(scene, ends, facets)

    normal, offset = scene.facet_normal[facet], scene.facet_offset[facet]
    start_above = np.einsum("ij,ij->i", ends[row, 0], normal) - offset
    end_above = np.einsum("ij,ij->i", ends[row, 1], normal) - offset
    depth = np.where(scene.facet_curved[facet] | scene.edge_curved[edges[row]], BEHIND_CURVED, BEHIND)
    below = np.minimum(start_above, end_above) < -depth
    row, facet, depth = row[below], facet[below], depth[below]
    start_above, end_above = start_above[below], end_above[below]

    low, high = _behind(start_above, end_above)
    _clip(scene, ends, row, facet, low, high)
    deepest = np.minimum(
        start_above + (end_above - start_above) * low, start_above + (end_above - start_above) * high
    )
    found = (high > low) & (deepest < -depth)
    return Stretches(row[found], low[found], high[found])


def split(count: int, lengths: Floats, hidden: Stretches) -> tuple[Stretches, Stretches]:
    """Give the seen and the hidden stretches of ``count`` edges with their lengths in the picture, mm.

    Sorted by edge · 4 + share, a running maximum of the ends leaves the gaps, which are seen.
    """
    order = np.lexsort((hidden.end, hidden.begin, hidden.edge))
    edge, begin, end = hidden.edge[order], hidden.begin[order], hidden.end[order]
    reach = np.maximum.accumulate(edge * 4.0 + end) if len(edge) else np.empty(0)
    # One sentinel before each edge's stretches at share 0, and one after at share 1.
    every = np.arange(count)
    tail_edge = np.concatenate([every, edge])
    tail = np.concatenate([np.zeros(count), reach - edge * 4.0])
    rank = np.concatenate([np.full(count, -1), np.arange(len(edge))])
    order = np.lexsort((rank, tail_edge))
    tail_edge, tail = tail_edge[order], tail[order]
    # The next stretch's begin; 1 at the end of an edge.
    head = np.ones(len(tail_edge))
    same = np.concatenate([tail_edge[1:] == tail_edge[:-1], [False]]) if len(tail_edge) else np.empty(0, bool)
    head[np.flatnonzero(same)] = begin
    tail = np.clip(tail, 0.0, 1.0)
    head = np.clip(head, 0.0, 1.0)
    gap = (head - tail) * lengths[tail_edge] > FRAGMENT
    # A whole edge shorter than a fragment is still an edge.
    gap |= (head - tail > 1.0 - 1e-9) & (lengths[tail_edge] > 0.0)
    seen = Stretches(tail_edge[gap], tail[gap], head[gap])
    seen = _absorb(seen, lengths)
    return seen, _complement(count, seen)


def _absorb(seen: Stretches, lengths: Floats) -> Stretches:
    """Close hidden gaps shorter than a fragment."""
    if not len(seen.edge):
        return seen
    size = lengths[seen.edge]
    begin, end = seen.begin.copy(), seen.end.copy()
    begin[begin * size < FRAGMENT] = 0.0
    end[(1.0 - end) * size < FRAGMENT] = 1.0
    joins = (seen.edge[1:] == seen.edge[:-1]) & ((begin[1:] - end[:-1]) * size[1:] < FRAGMENT)
    first = np.concatenate([[True], ~joins])
    last = np.concatenate([~joins, [True]])
    return Stretches(seen.edge[first], begin[first], end[last])


def _complement(count: int, seen: Stretches) -> Stretches:
    every = np.arange(count)
    edge = np.concatenate([every, seen.edge])
    tail = np.concatenate([np.zeros(count), seen.end])
    order = np.lexsort((np.concatenate([np.full(count, -1.0), seen.begin]), edge))
    edge, tail = edge[order], tail[order]
    head = np.ones(len(edge))
    same = np.concatenate([edge[1:] == edge[:-1], [False]]) if len(edge) else np.empty(0, bool)
    head[np.flatnonzero(same)] = seen.begin
    gap = head > tail
    return Stretches(edge[gap], tail[gap], head[gap])


def _pairs(scene: Scene, ends: Floats, facets: Ints) -> tuple[Ints, Ints]:
    """Pair each edge with the facets whose box in the picture meets its own and that reach before it."""
    if not len(facets) or not len(ends):
        return np.empty(0, np.int64), np.empty(0, np.int64)
    low, high = scene.facet_low[facets] - OUTSET, scene.facet_high[facets] + OUTSET
    edge_low, edge_high = ends.min(axis=1), ends.max(axis=1)
    tree = shapely.STRtree(shapely.box(low[:, 0], low[:, 1], high[:, 0], high[:, 1]))
    row, column = tree.query(shapely.box(edge_low[:, 0], edge_low[:, 1], edge_high[:, 0], edge_high[:, 1]))
    nearer = high[column, 2] > edge_low[row, 2]
    row, column = row[nearer].astype(np.int64), column[nearer].astype(np.int64)
    order = np.lexsort((column, row))
    return row[order], facets[column[order]]


def _behind(start_above: Floats, end_above: Floats) -> tuple[Floats, Floats]:
    """Give the share of each edge that lies behind its facet's plane."""
    fall = start_above - end_above
    with np.errstate(divide="ignore", invalid="ignore"):
        crossing = np.where(fall != 0.0, start_above / fall, 0.0)
    low = np.where(start_above > 0.0, np.clip(crossing, 0.0, 1.0), 0.0)
    high = np.where(end_above > 0.0, np.clip(crossing, 0.0, 1.0), 1.0)
    return low, high


def _clip(scene: Scene, ends: Floats, row: Ints, facet: Ints, low: Floats, high: Floats) -> None:
    """Narrow the shares to those inside the facets, in place; by classes of how many sides they have."""
    sides = np.diff(scene.facet_start)[facet]
    fewest = 0
    for most in SIDE_CLASSES:
        chosen = np.flatnonzero((sides > fewest) & (sides <= most))
        fewest = most
        if not len(chosen):
            continue
        width = int(sides[chosen].max())
        which, count = facet[chosen], sides[chosen]
        steps = np.minimum(np.arange(width + 1)[None], count[:, None])
        index = scene.facet_start[which][:, None] + np.where(steps == count[:, None], 0, steps)
        corner = scene.vertices[scene.facet_vertices[index]][:, :, :2]
        side = corner[:, 1:] - corner[:, :-1]
        size = np.maximum(np.hypot(side[..., 0], side[..., 1]), 1e-12)
        inward = np.stack([-side[..., 1], side[..., 0]], axis=-1) / size[..., None]
        start, end = ends[row[chosen], 0, :2], ends[row[chosen], 1, :2]
        a = ((start[:, None] - corner[:, :-1]) * inward).sum(axis=-1) + OUTSET
        b = ((end[:, None] - corner[:, :-1]) * inward).sum(axis=-1) + OUTSET
        fall = a - b
        with np.errstate(divide="ignore", invalid="ignore"):
            crossing = a / fall
        enters, leaves = (a < 0.0) & (b > 0.0), (a > 0.0) & (b < 0.0)
        low[chosen] = np.maximum(low[chosen], np.where(enters, crossing, 0.0).max(axis=1))
        high[chosen] = np.minimum(high[chosen], np.where(leaves, crossing, 1.0).min(axis=1))
        outside = ((a <= 0.0) & (b <= 0.0)).any(axis=1)
        high[chosen[outside]] = -1.0

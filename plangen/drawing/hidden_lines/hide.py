"""Which stretches of the edges are hidden: every edge against every facet that may lie before it.

Most of a large scene is hidden by a few large faces. So bodies, then edges and facets, that lie wholly behind
one of these are taken out first; only what is left is paired.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import shapely

from plangen.drawing.hidden_lines.aspect import Edges, Facets
from plangen.drawing.hidden_lines.rounds import behind_pegs, filled
from plangen.drawing.hidden_lines.runs import Runs, boxes, runs_of
from plangen.drawing.hidden_lines.scene import Scene
from plangen.drawing.hidden_lines.topology import Flags, Role
from plangen.solids.model import Floats, Ints

BEHIND = 0.05  # mm behind a facet's plane from which an edge counts as hidden
BEHIND_CURVED = 0.25  # mm, where either is curved: more than twice the sagitta of its chords
OUTSET = 0.001  # mm that facets are grown by, so that none lets a line through at a shared side
FRAGMENT = 0.05  # mm; shorter stretches go the way of their neighbours
SIDE_CLASSES = (3, 4, 6, 8, 12, 16, 32, 64, 1 << 30)
LARGE = (4, 8, 16, 32, 64)  # how many facets, the largest first, each round of taking out tries
FEW = 200  # below this many things to take out, pairing them is as fast


@dataclass(frozen=True, eq=False, slots=True)
class Stretches:
    """Pieces of edges, each from ``begin`` to ``end`` as shares of the edge's length."""

    edge: Ints
    begin: Floats
    end: Floats


def bodies_in_sight(scene: Scene) -> Flags:
    """Tell of each body whether it may be seen: no large facet hides all of the box round it."""
    return ~behind_one(scene.covers, boxes(scene.low, scene.high, BEHIND_CURVED))


def hidden_stretches(scene: Scene, edges: Edges) -> Stretches:
    """Find the stretches of some edges that facets hide; they may overlap one another."""
    covers = scene.covers
    if not len(edges) or not len(covers):
        return Stretches(np.empty(0, np.int64), np.empty(0), np.empty(0))
    depth = np.where(edges.curved, BEHIND_CURVED, BEHIND)
    runs = runs_of(edges, depth)
    gone = np.zeros(len(runs), dtype=bool)
    if len(edges) > FEW:
        shut = np.flatnonzero(edges.mouth[runs.start] < 0)
        gone[shut] = behind_one(covers, runs.chosen(shut))
        covers = in_sight(covers)
    whole = runs.chosen(np.flatnonzero(gone)).edges()
    found = [Stretches(whole, np.zeros(len(whole)), np.ones(len(whole)))]
    left = runs.chosen(np.flatnonzero(~gone))

    bodies = edges.body[left.start]
    run, facet = _pairs(left, covers, np.where(scene.bulging[bodies], bodies, -1))
    first = left.start[run]
    one, other = edges.body[first], covers.body[facet]
    deep = edges.deep[first] & (one == other)
    apart = (scene.standing_in[one, other] | deep) & (covers.role[facet] == Role.PLUGGED)
    mouth = edges.mouth[first]
    through = (mouth >= 0) & (one == other)
    through &= covers.patch[facet] == np.append(scene.mouths.patch, -1)[mouth]
    fills = _fillings(scene, edges, left)
    # On a round solid its own facets and their margin would blur where it turns away.
    number = len(scene.bodies)
    known = np.isin(run * number + other, fills[0] * number + scene.peg_body[fills[1]]) & covers.curved[facet]
    kept = np.flatnonzero(~(apart | through | known))
    found.append(_hidden(edges, covers, *left.spread(run[kept], facet[kept]), depth))

    row, peg = left.spread(*fills)
    low, high = behind_pegs(edges.ends[row], scene.pegs[peg])
    found.append(Stretches(row[high > low], low[high > low], high[high > low]))
    found += _behind_real_faces(scene, edges, left, depth)
    found.append(_outside_mouths(edges, scene.mouths, left.chosen(edges.mouth[left.start] >= 0).edges()))
    return Stretches(
        np.concatenate([some.edge for some in found]),
        np.concatenate([some.begin for some in found]),
        np.concatenate([some.end for some in found]),
    )


def in_sight(covers: Facets) -> Facets:
    """Leave out the facets that lie wholly behind a large one: what they hide, that hides too."""
    return covers.chosen(np.flatnonzero(~behind_one(covers, boxes(covers.low, covers.high, BEHIND_CURVED))))


def _behind_real_faces(scene: Scene, edges: Edges, left: Runs, depth: Floats) -> list[Stretches]:
    """Hide what stands in pockets by the faces of their bodies as they are."""
    standing = scene.standing_in
    deep = edges.deep[left.start]
    holders = np.union1d(np.flatnonzero(standing.any(axis=0)), edges.body[left.start[deep]])
    if not len(holders):
        return []
    stands = np.isin(edges.body[left.start], np.flatnonzero(standing.any(axis=1)))
    some = left.chosen(np.flatnonzero(stands | deep))
    real = scene.facets(lambda one: one.holed, holders)
    run, facet = _pairs(some, real, np.full(len(some), -1))
    first = some.start[run]
    one, other = edges.body[first], real.body[facet]
    kept = np.flatnonzero(standing[one, other] | (edges.deep[first] & (one == other)))
    return [_hidden(edges, real, *some.spread(run[kept], facet[kept]), depth)]


def _fillings(scene: Scene, edges: Edges, left: Runs) -> tuple[Ints, Ints]:
    """Pair the runs that are circles round pegs with these."""
    rows = np.flatnonzero(edges.circle[left.start] >= 0)
    which, peg = filled(scene.circles[edges.circle[left.start[rows]]], scene.pegs)
    return rows[which], peg


def _outside_mouths(edges: Edges, mouths: Facets, rows: Ints) -> Stretches:
    """Hide what is inside a convex pocket save where it is seen through the mouth."""
    low, high = np.zeros(len(rows)), np.ones(len(rows))
    _clip(edges.ends[rows], mouths, np.arange(len(rows)), edges.mouth[rows], low, high)
    missed = high <= low
    low, high = np.where(missed, 1.0, low), np.where(missed, 1.0, high)
    return Stretches(
        np.concatenate([rows, rows]),
        np.concatenate([np.zeros(len(rows)), high]),
        np.concatenate([low, np.ones(len(rows))]),
    )


def _hidden(edges: Edges, facets: Facets, row: Ints, facet: Ints, depth: Floats) -> Stretches:
    """Give what facets hide of edges, pair by pair; ``depth`` (mm) is by edge."""
    normal, offset = facets.normal[facet], facets.offset[facet]
    ends = edges.ends
    start_above = np.einsum("ij,ij->i", ends[row, 0], normal) - offset
    end_above = np.einsum("ij,ij->i", ends[row, 1], normal) - offset
    deep = np.where(facets.curved[facet], BEHIND_CURVED, depth[row])
    below = np.flatnonzero(np.minimum(start_above, end_above) < -deep)
    row, facet, deep = row[below], facet[below], deep[below]
    start_above, end_above = start_above[below], end_above[below]
    low, high = _behind(start_above, end_above)
    _clip(ends, facets, row, facet, low, high)
    deepest = np.minimum(
        start_above + (end_above - start_above) * low, start_above + (end_above - start_above) * high
    )
    found = (high > low) & (deepest < -deep)
    return Stretches(row[found], low[found], high[found])


def behind_one(covers: Facets, runs: Runs) -> Flags:
    """Tell which runs lie wholly behind one of the largest flat facets."""
    gone = np.zeros(len(runs), dtype=bool)
    order = np.argsort(-covers.area, kind="stable")
    order = order[~covers.curved[order]]
    begin = 0
    for number in LARGE:
        chosen, begin = order[begin : begin + number], begin + number
        left = np.flatnonzero(~gone)
        if not len(chosen) or not len(left):
            break
        low, high = runs.low[left], runs.high[left]
        near = low[:, 2, None] < covers.high[chosen, 2]
        for axis in (0, 1):
            near &= low[:, axis, None] >= covers.low[chosen, axis] - OUTSET
            near &= high[:, axis, None] <= covers.high[chosen, axis] + OUTSET
        run, facet = np.nonzero(near)
        run, facet = left[run], chosen[facet]
        above = (runs.middle[run] * covers.normal[facet]).sum(axis=1) - covers.offset[facet]
        below = np.flatnonzero(above + runs.reach(run, covers.normal[facet]) < -runs.depth[run])
        run, facet = run[below], facet[below]
        for which, inward, offset in _sides(covers, facet):
            inside = runs.across(run[which], inward, offset)[0] >= -OUTSET
            gone[run[which[inside.all(axis=1)]]] = True
    return gone


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


def _pairs(runs: Runs, facets: Facets, own: Ints) -> tuple[Ints, Ints]:
    """Pair each run with the facets that it may lie behind, at least in part.

    ``own`` (r,) is the body whose facets hide nothing of the run, or -1.
    """
    if not len(facets) or not len(runs):
        return np.empty(0, np.int64), np.empty(0, np.int64)
    low, high = facets.low - OUTSET, facets.high + OUTSET
    tree = shapely.STRtree(shapely.box(low[:, 0], low[:, 1], high[:, 0], high[:, 1]))
    run, facet = tree.query(shapely.box(runs.low[:, 0], runs.low[:, 1], runs.high[:, 0], runs.high[:, 1]))
    nearer = (facets.high[facet, 2] > runs.low[run, 2]) & (facets.body[facet] != own[run])
    run, facet = run[nearer], facet[nearer]
    above = (runs.middle[run] * facets.normal[facet]).sum(axis=1) - facets.offset[facet]
    below = np.flatnonzero(above - runs.reach(run, facets.normal[facet]) < -runs.depth[run])
    run, facet = run[below], facet[below]
    over = np.ones(len(run), dtype=bool)
    for which, inward, offset in _sides(facets, facet):
        over[which] = (runs.across(run[which], inward, offset)[1] > -OUTSET).all(axis=1)
    return run[over], facet[over]


def _behind(start_above: Floats, end_above: Floats) -> tuple[Floats, Floats]:
    """Give the share of each edge that lies behind its facet's plane."""
    fall = start_above - end_above
    with np.errstate(divide="ignore", invalid="ignore"):
        crossing = np.where(fall != 0.0, start_above / fall, 0.0)
    low = np.where(start_above > 0.0, np.clip(crossing, 0.0, 1.0), 0.0)
    high = np.where(end_above > 0.0, np.clip(crossing, 0.0, 1.0), 1.0)
    return low, high


def _sides(facets: Facets, facet: Ints) -> Iterator[tuple[Ints, Floats, Floats]]:
    """Give the sides of the facets of pairs, by classes of how many there are.

    Each class comes as the pairs (n,) that it holds, unit vectors (n, sides, 2) that point inward square to
    the sides, and the products (n, sides) of these with the points of the side. A facet with fewer sides
    repeats one.
    """
    count = facets.count[facet]
    fewest = 0
    for most in SIDE_CLASSES:
        which = np.flatnonzero((count > fewest) & (count <= most))
        fewest = most
        if not len(which):
            continue
        width = int(count[which].max())
        step = np.arange(width)[None]
        number = count[which][:, None]
        index = facets.start[facet[which]][:, None] + np.where(step < number, step, 0)
        yield which, facets.inward[index], facets.inward_offset[index]


def _clip(ends: Floats, facets: Facets, row: Ints, facet: Ints, low: Floats, high: Floats) -> None:
    """Narrow the shares to those inside the facets, in place."""
    for which, inward, offset in _sides(facets, facet):
        start, end = ends[row[which], 0, :2], ends[row[which], 1, :2]
        a = inward[..., 0] * start[:, None, 0] + inward[..., 1] * start[:, None, 1] - offset + OUTSET
        b = inward[..., 0] * end[:, None, 0] + inward[..., 1] * end[:, None, 1] - offset + OUTSET
        with np.errstate(divide="ignore", invalid="ignore"):
            crossing = a / (a - b)
        enters, leaves = (a < 0.0) & (b > 0.0), (a > 0.0) & (b < 0.0)
        low[which] = np.maximum(low[which], np.where(enters, crossing, 0.0).max(axis=1))
        high[which] = np.minimum(high[which], np.where(leaves, crossing, 1.0).min(axis=1))
        outside = ((a <= 0.0) & (b <= 0.0)).any(axis=1)
        high[which[outside]] = -1.0

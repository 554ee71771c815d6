"""Stretches of edges made into the lines of a picture: coincident ones merged, arcs kept, runs chained."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np

from plangen.drawing.hidden_lines.aspect import Edges
from plangen.drawing.hidden_lines.chains import chained
from plangen.drawing.hidden_lines.hide import FRAGMENT, Stretches
from plangen.drawing.hidden_lines.intervals import clusters, clusters_within, merged
from plangen.drawing.hidden_lines.model import Edge, EdgeKind, Projection, Xy
from plangen.drawing.hidden_lines.scene import Scene
from plangen.drawing.hidden_lines.topology import Flags
from plangen.drawing.sheet.model import Arc
from plangen.solids.model import Floats, Ints
from plangen.solids.outline import facets_of_circle

Line: TypeAlias = tuple[int, tuple[Xy, ...], Arc | None]  # rank, points

SAME_ANGLE = 1e-5  # radians between lines that are one
SAME_PLACE = 0.02  # mm between lines, or ends of lines, that are one
THIN = 1e-3  # of its length; a thinner ellipse is a line
KINDS: tuple[EdgeKind, ...] = ("rim", "silhouette", "edge")  # a later one covers an earlier one


class Ranks:
    """Who wins where lines coincide: seen before hidden, a later body's tag, then an edge before a rim.

    Tags rank by the last body that bears them.
    """

    def __init__(self, scene: Scene) -> None:
        last = {body.tag: index for index, body in enumerate(scene.bodies)}
        self.tags = sorted(last, key=lambda tag: last[tag])
        place = {tag: index for index, tag in enumerate(self.tags)}
        self.of_body = np.array([place[body.tag] for body in scene.bodies], dtype=np.int64)

    def encode(self, seen: Flags, body: Ints, kind: Ints) -> Ints:
        """Give the rank of stretches; ``kind`` indexes ``KINDS``."""
        result: Ints = (seen * len(self.tags) + self.of_body[body]) * len(KINDS) + kind
        return result

    def decode(self, rank: int) -> tuple[bool, str, EdgeKind]:
        """Give whether it is seen, the tag and the kind."""
        upper, kind = divmod(rank, len(KINDS))
        seen, tag = divmod(upper, len(self.tags))
        return bool(seen), self.tags[tag], KINDS[kind]


def lines(scene: Scene, edges: Edges, stretches: Stretches, seen: Flags) -> Projection:
    """Merge and chain stretches, each seen or not, into the lines of a view."""
    edge = stretches.edge
    ends = edges.ends[edge][:, :, :2]
    way = ends[:, 1] - ends[:, 0]
    points = ends[:, :1] + way[:, None] * np.column_stack([stretches.begin, stretches.end])[:, :, None]
    ranks = Ranks(scene)
    rank = ranks.encode(seen.astype(np.int64), edges.body[edge], edges.kind[edge])

    ovals = _ovals(scene.circles)
    circle = edges.circle[edge]
    wide = np.append(ovals.low > THIN * ovals.high, False)
    on_circle = wide[circle]
    rest = ~on_circle
    found = _arcs(ovals, circle[on_circle], points[on_circle], rank[on_circle])
    found += _straights(points[rest], rank[rest], edges.curve[edge[rest]])

    visible: list[Edge] = []
    hidden: list[Edge] = []
    known = {line_rank: ranks.decode(line_rank) for line_rank in {line[0] for line in found}}
    for line_rank, line, arc in found:
        is_seen, tag, kind = known[line_rank]
        (visible if is_seen else hidden).append(Edge(line, tag, kind, arc))
    return Projection(tuple(visible), tuple(hidden))


def _straights(points: Floats, rank: Ints, curve: Ints) -> list[Line]:
    """Merge straight pieces that lie on one line; then chain those that belong to one curve."""
    way = points[:, 1] - points[:, 0]
    size = np.hypot(way[:, 0], way[:, 1])
    keep = size > 1e-9
    points, rank, curve, way, size = points[keep], rank[keep], curve[keep], way[keep], size[keep]
    if not len(points):
        return []
    angle = np.arctan2(way[:, 1], way[:, 0]) % math.pi
    angle = np.where(angle > math.pi - 10.0 * SAME_ANGLE, angle - math.pi, angle)  # the seam, away from level
    bundle = clusters(angle, SAME_ANGLE)
    # The longest piece of a bundle knows its direction best.
    order = np.lexsort((-size, bundle))
    lead = order[np.searchsorted(bundle[order], np.arange(int(bundle.max()) + 1))]
    direction = np.column_stack([np.cos(angle[lead]), np.sin(angle[lead])])[bundle]
    normal = np.column_stack([-direction[:, 1], direction[:, 0]])
    offset = (points.mean(axis=1) * normal).sum(axis=1)
    line = clusters_within(bundle, offset, SAME_PLACE)
    along = (points * direction[:, None, :]).sum(axis=2)

    # Pieces of a curve stay apart from straight ones of the same rank, and come back together below.
    table, detail = np.unique(np.column_stack([rank, curve]), axis=0, return_inverse=True)
    detail = detail.reshape(-1)
    low, high = along.min(axis=1), along.max(axis=1)
    group, low, high, which = merged(line, low, high, detail.astype(np.int64), SAME_PLACE)
    some = np.zeros(int(line.max()) + 1, dtype=np.int64)
    some[line] = np.arange(len(line))
    direction, normal = direction[some[group]], normal[some[group]]
    base = normal * offset[some[group]][:, None]
    starts, stops = base + direction * low[:, None], base + direction * high[:, None]

    ranks, curves = table[which, 0], table[which, 1]
    result: list[Line] = [
        (r, ((ax, ay), (bx, by)), None)
        for r, (ax, ay), (bx, by) in zip(
            ranks[curves < 0].tolist(),
            (starts[curves < 0] + 0.0).tolist(),
            (stops[curves < 0] + 0.0).tolist(),
            strict=True,
        )
    ]
    bent = curves >= 0
    for number, chain in chained(which[bent], starts[bent], stops[bent], SAME_PLACE):
        result.append((int(table[number, 0]), chain, None))
    return result


@dataclass(frozen=True, eq=False, slots=True)
class _Ovals:
    """Circles and ellipses as they lie in the picture."""

    centre: Floats  # (c, 2)
    way: Floats  # (c, 2) unit vector along the longer half axis
    high: Floats  # (c,) the longer half axis, mm
    low: Floats  # (c,) the shorter
    form: Floats  # (c, 3) alike where they are the same but for their place, mm


def _ovals(circles: Floats) -> _Ovals:
    """Find the axes of what pairs of half axes (c, 9) span when seen from aslant.

    With the half axes u and v as columns of a matrix, its product with its own transpose has the squares
    of the axes that are wanted as its eigenvalues: the same for every pair that spans one ellipse.
    """
    u, v = circles[:, 3:5], circles[:, 6:8]
    xx, yy = u[:, 0] ** 2 + v[:, 0] ** 2, u[:, 1] ** 2 + v[:, 1] ** 2
    xy = u[:, 0] * u[:, 1] + v[:, 0] * v[:, 1]
    spread = np.hypot(xx - yy, 2.0 * xy)
    high = np.sqrt((xx + yy + spread) / 2.0)
    low = np.abs(u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0]) / np.maximum(high, 1e-12)
    angle = np.where(spread > 1e-9 * (xx + yy), np.arctan2(2.0 * xy, xx - yy) / 2.0, 0.0)
    form = np.column_stack([xx, xy, yy]) / np.maximum(high, 1e-12)[:, None]
    return _Ovals(circles[:, :2], np.column_stack([np.cos(angle), np.sin(angle)]), high, low, form)


def _arcs(ovals: _Ovals, circle: Ints, points: Floats, rank: Ints) -> list[Line]:
    """Merge pieces of circles and ellipses along them, where these coincide in the picture."""
    if not len(circle):
        return []
    key = np.column_stack([ovals.centre, ovals.form])[circle]
    group = np.zeros(len(circle), dtype=np.int64)
    for column in key.T:
        group = clusters_within(group, column, SAME_PLACE)
    lead = np.zeros(int(group.max()) + 1, dtype=np.int64)
    lead[group[::-1]] = circle[::-1]
    centre, major, radius, short = (item[lead] for item in (ovals.centre, ovals.way, ovals.high, ovals.low))
    minor = np.column_stack([-major[:, 1], major[:, 0]])

    local = points - centre[group][:, None]
    across = (local * major[group][:, None]).sum(axis=2)
    upward = (local * minor[group][:, None]).sum(axis=2) * (radius / short)[group][:, None]
    angle = np.arctan2(upward, across)
    sweep = (angle[:, 1] - angle[:, 0] + math.pi) % math.tau - math.pi
    size, turn = radius[group], radius[group] * math.tau  # along the circle, mm
    low = (np.where(sweep >= 0.0, angle[:, 0], angle[:, 1]) % math.tau) * size
    high = low + np.abs(sweep) * size
    # What runs over the seam at angle 0 is cut there, and joined again below.
    over = high > turn
    group, low, high, rank = merged(
        np.concatenate([group, group[over]]),
        np.concatenate([low, np.zeros(int(over.sum()))]),
        np.concatenate([np.minimum(high, turn), (high - turn)[over]]),
        np.concatenate([rank, rank[over]]),
        FRAGMENT,
    )
    turn = radius[group] * math.tau
    first = np.flatnonzero(np.diff(group, prepend=-1))
    last = np.append(first[1:], len(group)) - 1
    joins = (first != last) & (rank[first] == rank[last]) & (low[first] < FRAGMENT)
    joins &= high[last] > (turn - FRAGMENT)[last]
    high[last[joins]] = (high[first] + turn[first])[joins]
    kept = np.delete(np.arange(len(group)), first[joins])
    group, low, high, rank, turn = group[kept], low[kept], high[kept], rank[kept], turn[kept]

    whole = high - low > turn - FRAGMENT
    begin = low / radius[group]
    end = np.where(whole, begin + math.tau, high / radius[group])
    facets = np.array([facets_of_circle(value) for value in radius.tolist()])[group]
    number = np.maximum(1, np.rint((end - begin) / math.tau * facets)).astype(np.int64)
    start = np.cumsum(number + 1) - (number + 1)
    row = np.repeat(np.arange(len(group)), number + 1)
    step = np.arange(len(row)) - start[row]
    at = (begin + 0.0)[row] + (end - begin)[row] * step / number[row]
    at = np.where(whole[row] & (step == number[row]), begin[row], at)
    tip, side = radius[:, None] * major, short[:, None] * minor
    owner = group[row]
    curve = centre[owner] + np.cos(at)[:, None] * tip[owner] + np.sin(at)[:, None] * side[owner] + 0.0
    xy = list(map(tuple, curve.tolist()))
    middle, tips, sides = (list(map(tuple, item.tolist())) for item in (centre, centre + tip, centre + side))
    return [
        (r, tuple(xy[a : a + n + 1]), Arc(middle[g], tips[g], sides[g], b, e))
        for r, a, n, g, b, e in zip(
            rank.tolist(),
            start.tolist(),
            number.tolist(),
            group.tolist(),
            begin.tolist(),
            end.tolist(),
            strict=True,
        )
    ]

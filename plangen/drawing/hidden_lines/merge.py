"""Stretches of edges made into the lines of a picture: coincident ones merged, arcs kept, runs chained."""

from __future__ import annotations

import math
from typing import TypeAlias

import numpy as np

from plangen.drawing.hidden_lines.aspect import EDGE_ON, Edges
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
SEAM = 0.6180339887  # slope of a line that axes of furniture do not lie along, to tell two ways apart
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

    circle = edges.circle[edge]
    tilt = np.abs(scene.circles[circle, 5]) if len(scene.circles) else np.zeros(len(edge))
    on_circle = (circle >= 0) & (tilt > 10.0 * EDGE_ON)
    rest = ~on_circle
    found = _arcs(scene.circles[circle[on_circle]], points[on_circle], rank[on_circle])
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


def _arcs(circles: Floats, points: Floats, rank: Ints) -> list[Line]:
    """Merge pieces of circles along them, where the circles coincide in the picture.

    A circle is an ellipse there: its long half axis ``major`` is its radius, square to the way its own axis
    leans, and its short one ``minor`` is shortened by the share of the axis that points to the viewer.
    """
    if not len(circles):
        return []
    axis = circles[:, 3:6] * np.where(circles[:, 5:6] < 0.0, -1.0, 1.0)
    radius = circles[:, 6]
    lean = np.hypot(axis[:, 0], axis[:, 1])
    square = (lean < 1e-6)[:, None]
    # A circle that leans back looks like one that leans forward: one of both ways stands for it.
    same = np.where(axis[:, 1:2] + SEAM * axis[:, 0:1] < 0.0, -axis[:, :2], axis[:, :2])
    minor = np.where(square, np.array([0.0, 1.0]), same / np.maximum(lean, 1e-12)[:, None])
    key = np.column_stack([circles[:, :2], radius, radius[:, None] * np.where(square, 0.0, same)])
    group = np.zeros(len(circles), dtype=np.int64)
    for column in key.T:
        group = clusters_within(group, column, SAME_PLACE)
    lead = np.zeros(int(group.max()) + 1, dtype=np.int64)
    lead[group[::-1]] = np.arange(len(group))[::-1]
    centre, minor, radius, ratio = circles[lead, :2], minor[lead], radius[lead], axis[lead, 2]
    major = np.column_stack([minor[:, 1], -minor[:, 0]])

    local = points - centre[group][:, None]
    across = (local * major[group][:, None]).sum(axis=2)
    upward = (local * minor[group][:, None]).sum(axis=2) / ratio[group][:, None]
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
    tip, side = radius[:, None] * major, (radius * ratio)[:, None] * minor
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

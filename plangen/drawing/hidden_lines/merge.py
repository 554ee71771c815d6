"""Stretches of edges made into the lines of a picture: coincident ones merged, arcs and runs chained."""

from __future__ import annotations

import math
from typing import TypeAlias

import numpy as np

from plangen.drawing.hidden_lines.chains import chained
from plangen.drawing.hidden_lines.intervals import clusters, clusters_within, merged
from plangen.drawing.hidden_lines.model import Edge, EdgeKind, Projection, Xy
from plangen.drawing.hidden_lines.scene import EDGE_ON, Scene
from plangen.drawing.hidden_lines.topology import Flags
from plangen.solids.model import Floats, Ints

Line: TypeAlias = tuple[int, tuple[Xy, ...]]  # rank, points

SAME_ANGLE = 1e-5  # radians between lines that are one
SAME_PLACE = 0.02  # mm between lines, or ends of lines, that are one
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


def lines(scene: Scene, edge: Ints, begin: Floats, end: Floats, seen: Flags) -> Projection:
    """Merge and chain stretches (rows of edge, share, share, whether seen) into the lines of a view."""
    ends = scene.vertices[scene.edge_ends[edge]][:, :, :2]
    way = ends[:, 1] - ends[:, 0]
    points = np.stack([ends[:, 0] + way * begin[:, None], ends[:, 0] + way * end[:, None]], axis=1)
    ranks = Ranks(scene)
    rank = ranks.encode(seen.astype(np.int64), scene.edge_body[edge], _kinds(scene, edge))

    circle = scene.edge_circle[edge]
    tilt = np.abs(scene.circles[circle, 5]) if len(scene.circles) else np.zeros(len(edge))
    on_circle = (circle >= 0) & (tilt > 10.0 * EDGE_ON)
    rest = ~on_circle
    found = _arcs(scene.circles[circle[on_circle]], points[on_circle], rank[on_circle])
    found += _straights(points[rest], rank[rest], scene.edge_curve[edge[rest]])

    visible: list[Edge] = []
    hidden: list[Edge] = []
    for line_rank, line in found:
        is_seen, tag, kind = ranks.decode(line_rank)
        (visible if is_seen else hidden).append(Edge(line, tag, kind))
    return Projection(tuple(visible), tuple(hidden))


def _kinds(scene: Scene, edge: Ints) -> Ints:
    interior = scene.edge_narrow[edge] & (scene.facing[edge] == 1).all(axis=1)
    rim = scene.edge_small[edge] | interior
    return np.where(rim, 0, np.where(scene.edge_feature[edge], 2, 1)).astype(np.int64)


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
        (int(r), (_xy(a), _xy(b)))
        for r, a, b in zip(ranks[curves < 0], starts[curves < 0], stops[curves < 0], strict=True)
    ]
    bent = curves >= 0
    for number, chain in chained(which[bent], starts[bent], stops[bent], SAME_PLACE):
        result.append((int(table[number, 0]), chain))
    return result


def _arcs(circles: Floats, points: Floats, rank: Ints) -> list[Line]:
    """Merge pieces of circles in angle, where the circles coincide in the picture."""
    if not len(circles):
        return []
    axis = circles[:, 3:6] * np.where(circles[:, 5:6] < 0.0, -1.0, 1.0)
    radius = circles[:, 6]
    lean = np.hypot(axis[:, 0], axis[:, 1])
    square = (lean < 1e-6)[:, None]
    minor = np.where(square, np.array([0.0, 1.0]), axis[:, :2] / np.maximum(lean, 1e-12)[:, None])
    key = np.column_stack([circles[:, :2], radius, radius[:, None] * np.where(square, 0.0, axis[:, :2])])
    group = np.zeros(len(circles), dtype=np.int64)
    for column in key.T:
        group = clusters_within(group, column, SAME_PLACE)
    lead = np.zeros(int(group.max()) + 1, dtype=np.int64)
    lead[group[::-1]] = np.arange(len(group))[::-1]
    first = lead[group]
    centre, minor, radius, ratio = circles[first, :2], minor[first], radius[first], axis[first, 2]
    major = np.column_stack([minor[:, 1], -minor[:, 0]])

    local = points - centre[:, None]
    across = (local * major[:, None]).sum(axis=2)
    upward = (local * minor[:, None]).sum(axis=2) / ratio[:, None]
    angle = np.arctan2(upward, across)
    sweep = (angle[:, 1] - angle[:, 0] + math.pi) % (2.0 * math.pi) - math.pi
    low = np.where(sweep >= 0.0, angle[:, 0], angle[:, 1]) % (2.0 * math.pi)
    high = low + np.abs(sweep)
    # What runs over the seam at angle 0 is cut there, and joined again below.
    over = high > 2.0 * math.pi
    g = np.concatenate([group, group[over]])
    lows = np.concatenate([low, np.zeros(int(over.sum()))])
    highs = np.concatenate([np.minimum(high, 2.0 * math.pi), high[over] - 2.0 * math.pi])
    out_group, out_low, out_high, out_rank = merged(g, lows, highs, np.concatenate([rank, rank[over]]), 2e-3)

    result: list[Line] = []
    for index in range(len(lead)):
        rows = np.flatnonzero(out_group == index)
        k = lead[index]
        knots = np.sort(np.concatenate([lows[g == index], highs[g == index]]))
        spans = [(float(out_low[r]), float(out_high[r]), int(out_rank[r])) for r in rows]
        spans = _over_seam(spans)
        for begin, end, span_rank in spans:
            both = np.concatenate([knots, knots + 2.0 * math.pi])
            inner = both[(both > begin + 1e-3) & (both < end - 1e-3)]
            inner = inner[np.concatenate([[True], np.diff(inner) > 1e-3])] if len(inner) else inner
            u = np.concatenate([[begin], inner, [end]])
            line = (
                centre[k]
                + radius[k] * np.cos(u)[:, None] * major[k]
                + radius[k] * ratio[k] * np.sin(u)[:, None] * minor[k]
            )
            if end - begin > 2.0 * math.pi - 1e-3:
                line[-1] = line[0]
            result.append((span_rank, tuple(_xy(point) for point in line)))
    return result


def _over_seam(spans: list[tuple[float, float, int]]) -> list[tuple[float, float, int]]:
    """Join the span that ends at a full turn with the one that starts at none."""
    if len(spans) < 2:
        return spans
    first, last = spans[0], spans[-1]
    if first[2] == last[2] and first[0] < 1e-3 and last[1] > 2.0 * math.pi - 1e-3:
        return [*spans[1:-1], (last[0], first[1] + 2.0 * math.pi, first[2])]
    return spans


def _xy(point: Floats) -> Xy:
    return float(point[0]) + 0.0, float(point[1]) + 0.0

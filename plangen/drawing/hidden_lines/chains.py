"""Pieces that share end points, joined end to end into polylines."""

from __future__ import annotations

import numpy as np

from plangen.drawing.hidden_lines.intervals import clusters, clusters_within
from plangen.drawing.hidden_lines.model import Xy
from plangen.solids.model import Floats, Ints


def chained(group: Ints, starts: Floats, stops: Floats, join: float) -> list[tuple[int, tuple[Xy, ...]]]:
    """Join pieces of one group that end within ``join`` mm of each other.

    ``starts`` and ``stops`` have the shape (n, 2). A chain runs from a loose end, or from where
    more than two pieces meet; what has neither is a closed loop, whose last point is its first.
    """
    if not len(group):
        return []
    ends = np.vstack([starts, stops])
    place = clusters(ends[:, 0], join)
    place = clusters_within(place, ends[:, 1], join)
    number = len(group)
    tails, heads = place[:number].tolist(), place[number:].tolist()
    points: dict[int, Xy] = {}
    for node, point in zip(place.tolist(), ends.tolist(), strict=True):
        points.setdefault(node, (point[0] + 0.0, point[1] + 0.0))

    result: list[tuple[int, tuple[Xy, ...]]] = []
    members: dict[int, list[int]] = {}
    for row, key in enumerate(group.tolist()):
        if tails[row] != heads[row]:
            members.setdefault(key, []).append(row)
    for key in sorted(members):
        meeting: dict[int, list[int]] = {}
        for row in members[key]:
            meeting.setdefault(tails[row], []).append(row)
            meeting.setdefault(heads[row], []).append(row)
        loose = [node for node in sorted(meeting) if len(meeting[node]) != 2]
        unused = dict.fromkeys(members[key])
        for node in [*loose, *(tails[row] for row in members[key])]:
            for row in list(meeting[node]):
                if row in unused:
                    walk = _walk(node, row, tails, heads, meeting, unused)
                    result.append((key, tuple(points[step] for step in walk)))
    return result


def _walk(
    node: int,
    row: int,
    tails: list[int],
    heads: list[int],
    meeting: dict[int, list[int]],
    unused: dict[int, None],
) -> list[int]:
    walk = [node]
    while True:
        del unused[row]
        node = heads[row] if tails[row] == node else tails[row]
        walk.append(node)
        onward = [other for other in meeting[node] if other in unused]
        if len(meeting[node]) != 2 or not onward or node == walk[0]:
            return walk
        row = onward[0]

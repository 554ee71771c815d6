"""Where balloons stand: round the picture, with leaders that cross nothing.

Item references as ISO 6433 has them: rings of one size outside the outline, leaders that end in a dot
inside the face. The places of all balloons lie on lines round the picture, as labels on the border of a map
do: there short straight leaders that do not cross always exist, and the marks follow each other round the
view as their parts do. The first line hugs the picture, and leads into no gap of it that is narrower than
``_GAP``; the next ones are for what finds no room. What must not be (a leader across another, across a
balloon or a dot, balloons that touch) costs far more than any length, so it is given up only where no place
is free of it; ``labels_conflicts`` counts what was left.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray

from plangen.drawing.balloons import (
    AIR,
    DOT,
    LETTER,
    RADIUS,
    Label,
    PlacedLabel,
    balloon,
    label_marks,
    ring_edge,
)
from plangen.drawing.sheet.measure import Bounds

__all__ = [
    "AIR", "DOT", "LETTER", "RADIUS", "Label", "PlacedLabel",
    "balloon", "label_marks", "labels_conflicts", "place_labels", "ring_edge",
]  # fmt: skip

GRID = 1e-3  # mm on paper, to which areas are rounded so that their sums stay valid
_CLASH = 1000.0  # what a conflict costs, in millimetres of leader
_FOREIGN = 1.2  # what a millimetre of leader over another part costs on top
_TAKEN = 300.0  # and over what else stands on the sheet, such as a detail
_GAP = 26.0  # mm: a gap of the picture that is narrower takes no balloon, which could pass for a hole's mark
_LAYERS = 3  # lines round the picture on which balloons stand
_STEP = 1.5  # mm between the places on a line
_KEPT = 140  # places of a balloon that are weighed against those of the others
_ROUNDS = 12

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class _Places:
    """The places open to one balloon: row by row its middle, its anchor and what the place costs alone."""

    centres: Floats
    anchors: Floats
    costs: Floats
    half: float  # half the width of its ring


def place_labels(
    labels: Sequence[Label], ink: Any, room: Bounds, *, lines: Any = None, taken: Any = None
) -> tuple[PlacedLabel, ...]:
    """Place every balloon outside ``ink`` (a shapely area) and inside ``room``.

    ``lines`` (shapely) are thin lines that a balloon must not cover either; ``taken`` is an area beside the
    picture that balloons and leaders keep off. Deterministic: places are taken in the order of the labels,
    then bettered one by one and, where two are still in each other's way, two by two until nothing changes.
    """
    if not labels:
        return ()
    blocked = [shape for shape in (ink, lines, taken) if shape is not None and not shape.is_empty]
    for shape in blocked:  # each by itself: a collection is not indexed
        shapely.prepare(shape)
    around = _round_about(ink, room)
    places = [_places(label, ink, taken, blocked, around, room) for label in labels]
    order = sorted(range(len(labels)), key=lambda i: (float(places[i].costs.min()), i))
    taken_rows: dict[int, int] = {}
    for i in order:
        taken_rows[i] = int(np.argmin(_weighed(i, places, taken_rows)))
    for _ in range(_ROUNDS):
        before = dict(taken_rows)
        for i in order:
            taken_rows[i] = int(np.argmin(_weighed(i, places, taken_rows)))
        _freed(order, places, taken_rows)
        if taken_rows == before:
            break
    return tuple(
        PlacedLabel(
            label,
            (float(mine.centres[row][0]), float(mine.centres[row][1])),
            (float(mine.anchors[row][0]), float(mine.anchors[row][1])),
        )
        for label, mine, row in zip(labels, places, (taken_rows[i] for i in range(len(labels))), strict=True)
    )


def labels_conflicts(placed: Sequence[PlacedLabel]) -> int:
    """Count leaders that cross leaders, balloons or dots, and balloons that touch (rule: none)."""
    count = 0
    for i, one in enumerate(placed):
        for two in placed[i + 1 :]:
            found = _clashes(
                np.array([one.centre]),
                np.array([one.anchor]),
                one.label.half_width,
                np.array([two.centre]),
                np.array([two.anchor]),
                np.array([two.label.half_width]),
                air=0.3,
            )
            count += round(float(found[0, 0]))
    return count


def _round_about(ink: Any, room: Bounds) -> Floats:
    """Give the places on the lines round the picture, from the nearest line outward."""
    hull = ink.buffer(_GAP / 2, quad_segs=4).buffer(-_GAP / 2, quad_segs=4)
    inside = shapely.box(
        room[0] + RADIUS + 0.3, room[1] + RADIUS + 0.3, room[2] - RADIUS - 0.3, room[3] - RADIUS - 0.3
    )
    found: list[Floats] = []
    for layer in range(_LAYERS):
        far = RADIUS + AIR + 0.05 + layer * (2 * RADIUS + AIR)
        area = hull.buffer(far, quad_segs=6).intersection(inside)
        for part in shapely.get_parts(area).tolist():
            if part.geom_type != "Polygon" or part.is_empty:
                continue
            ring = part.exterior
            ways = np.arange(0.0, ring.length, _STEP)
            found.append(shapely.get_coordinates(shapely.line_interpolate_point(ring, ways)))
    return np.concatenate(found) if found else np.zeros((0, 2))


def _places(
    label: Label, ink: Any, taken: Any, blocked: Sequence[Any], around: Floats, room: Bounds
) -> _Places:
    half = label.half_width
    low_x, low_y = room[0] + half + 0.3, room[1] + RADIUS + 0.3
    high_x, high_y = room[2] - half - 0.3, room[3] - RADIUS - 0.3
    at = np.clip(around, (low_x, low_y), (max(low_x, high_x), max(low_y, high_y)))
    if not len(at):
        ax = label.anchors[0][0]
        at = np.array([(min(max(ax, low_x), high_x), y) for y in (low_y, high_y)])
    # A wide ring stands beside the line and not across it.
    middle = (shapely.box(*ink.bounds) if not ink.is_empty else shapely.Point(0, 0)).centroid
    straight = half - RADIUS
    at = np.clip(
        at + np.stack([straight * np.sign(at[:, 0] - middle.x), np.zeros(len(at))], axis=1)
        if straight > 1e-6
        else at,
        (low_x, low_y),
        (max(low_x, high_x), max(low_y, high_y)),
    )
    ends = np.array(label.anchors, dtype=np.float64)
    far = np.hypot(*(at[:, None] - ends[None]).transpose(2, 0, 1)) + 3.0 * np.arange(len(ends))
    # The nearest of the anchors counts, and all of them near the best places.
    centre, anchor = np.unravel_index(np.argsort(far, axis=None, kind="stable")[: 3 * _KEPT], far.shape)
    costs = far[centre, anchor]
    at, to = at[centre], ends[anchor]
    shift = np.array([straight, 0.0])
    rings = (
        shapely.points(at)
        if straight < 1e-6
        else shapely.linestrings(np.stack([at - shift, at + shift], axis=1))
    )
    clear = _clearance(rings, blocked)
    costs = costs + np.where(clear < RADIUS + AIR, _CLASH / 2 + 20 * (RADIUS + AIR - clear), 0.0)
    keep = np.argsort(costs, kind="stable")[:_KEPT]
    at, to, costs = at[keep], to[keep], costs[keep]
    low, high = np.minimum(at, to).min(axis=0) - 1.0, np.maximum(at, to).max(axis=0) + 1.0
    near = shapely.clip_by_rect(ink, *low.tolist(), *high.tolist())
    others = shapely.difference(near, label.region, grid_size=GRID).simplify(0.1)
    costs = costs + _FOREIGN * _length_over(others, at, to)
    if taken is not None:
        costs = costs + _TAKEN * _length_over(taken, at, to)
    return _Places(at, to, costs, half)


def _length_over(area: Any, start: Floats, end: Floats) -> Floats:
    """Give how much of each way from start to end lies over an area, to about a millimetre."""
    if area.is_empty or not len(start):
        return np.zeros(len(start))
    shapely.prepare(area)
    length = np.hypot(*(end - start).T)
    number = max(2, int(np.ceil(float(length.max()))))
    share = (np.arange(number) + 0.5) / number
    points = start[:, None] + (end - start)[:, None] * share[None, :, None]
    within = shapely.contains_xy(area, points[..., 0].ravel(), points[..., 1].ravel())
    return np.asarray(within.reshape(len(start), number).mean(axis=1) * length, dtype=np.float64)


def _clearance(rings: Any, blocked: Sequence[Any]) -> Floats:
    """Give how far each ring lies from what is blocked, as far as that is less than a balloon needs."""
    need = RADIUS + AIR
    clear = np.full(len(rings), need)
    for shape in blocked:
        close = shapely.dwithin(shape, rings, need)
        clear[close] = np.minimum(clear[close], shapely.distance(shape, rings[close]))
    return clear


def _weighed(i: int, places: Sequence[_Places], rows: dict[int, int]) -> Floats:
    """Give what each place of a balloon costs with the others where they stand."""
    mine = places[i]
    others = [j for j in sorted(rows) if j != i]
    if not others:
        return mine.costs
    clashes = _clashes(
        mine.centres,
        mine.anchors,
        mine.half,
        np.array([places[j].centres[rows[j]] for j in others]),
        np.array([places[j].anchors[rows[j]] for j in others]),
        np.array([places[j].half for j in others]),
    )
    return np.asarray(mine.costs + _CLASH * clashes.sum(axis=1), dtype=np.float64)


def _freed(order: Sequence[int], places: Sequence[_Places], rows: dict[int, int]) -> None:
    """Move two balloons at once where they are in each other's way and neither finds a place alone."""
    for i in order:
        for j in order:
            if i >= j or not _between(places[i], [rows[i]], places[j], [rows[j]]).any():
                continue
            rest_of = {key: row for key, row in rows.items() if key not in (i, j)}
            one, two = _weighed(i, places, rest_of), _weighed(j, places, rest_of)
            first, second = (np.argsort(cost, kind="stable")[:60] for cost in (one, two))
            total = one[first][:, None] + two[second][None, :]
            total = total + _CLASH * _between(places[i], first, places[j], second)
            best = np.unravel_index(int(np.argmin(total)), total.shape)
            if total[best] < one[rows[i]] + two[rows[j]] + _CLASH - 1e-6:
                rows[i], rows[j] = int(first[best[0]]), int(second[best[1]])


def _between(one: _Places, rows: Any, two: _Places, others: Any) -> Floats:
    return _clashes(
        one.centres[rows],
        one.anchors[rows],
        one.half,
        two.centres[others],
        two.anchors[others],
        np.full(len(others), two.half),
    )


def _clashes(
    centres: Floats,
    anchors: Floats,
    half: float,
    centre: Floats,
    anchor: Floats,
    halves: Floats,
    air: float = AIR,
) -> Floats:
    """Count the conflicts of every place of one balloon (n) with every place of others (m), as (n, m)."""
    mine, to = centres[:, None], anchors[:, None]
    theirs, their_to = centre[None], anchor[None]
    apart = np.abs(mine - theirs)
    touch = (apart[..., 0] < half + halves + air) & (apart[..., 1] < 2 * RADIUS + air)
    crossing = _cross(mine, to, theirs, their_to)
    reach = air / 2
    over_theirs = _near(mine, to, theirs, reach, np.broadcast_to(halves, touch.shape))
    over_mine = _near(theirs, their_to, mine, reach, np.full(touch.shape, half))
    other_dot = np.hypot(*np.moveaxis(to - their_to, -1, 0)) > 1e-6
    dots = _close(mine, to, their_to, DOT + 0.6) | _close(theirs, their_to, to, DOT + 0.6)
    total = touch.astype(float) + crossing + over_theirs + over_mine + (dots & other_dot)
    return np.asarray(total, dtype=np.float64)


def _cross(a: Floats, b: Floats, c: Floats, d: Floats) -> NDArray[np.bool_]:
    def turn(p: Floats, q: Floats, r: Floats) -> Floats:
        return np.asarray(
            (q[..., 0] - p[..., 0]) * (r[..., 1] - p[..., 1])
            - (q[..., 1] - p[..., 1]) * (r[..., 0] - p[..., 0]),
            dtype=np.float64,
        )

    return np.asarray(
        (turn(a, b, c) * turn(a, b, d) < 0) & (turn(c, d, a) * turn(c, d, b) < 0), dtype=np.bool_
    )


def _near(start: Floats, end: Floats, ring: Floats, air: float, half: Floats) -> NDArray[np.bool_]:
    """Whether the way from start to end comes nearer than ``air`` to a ring of half the width ``half``."""
    straight = np.stack([half - RADIUS, np.zeros_like(half)], axis=-1)
    found = _close(start, end, ring, RADIUS + air)
    if straight.any():
        for spot in (ring - straight, ring + straight):
            found = found | _close(start, end, spot, RADIUS + air)
        found = found | _cross(start, end, ring - straight, ring + straight)
    return found


def _close(start: Floats, end: Floats, point: Floats, reach: float) -> NDArray[np.bool_]:
    """Whether the way from start to end comes nearer to the point than ``reach``."""
    way, out = end - start, point - start
    x, y = way[..., 0], way[..., 1]
    square = np.maximum(x * x + y * y, 1e-12)
    share = np.minimum(np.maximum((out[..., 0] * x + out[..., 1] * y) / square, 0.0), 1.0)
    off = start + way * share[..., None] - point
    return np.asarray(np.hypot(off[..., 0], off[..., 1]) < reach, dtype=np.bool_)

"""Balloons: a mark in a ring beside the picture, with a straight leader to a dot inside its own part.

Placing is a search over a fixed list of places for every balloon. What must not be (a leader across
another, across a balloon or a dot, balloons that touch) costs far more than any length, so it is given
up only where no place is free of it; ``labels_conflicts`` counts what was left.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, hypot, pi, sin
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray

from plangen.drawing.dimension_lines import circle
from plangen.drawing.sheet.measure import FIGURE_SHARE, Bounds, text_length
from plangen.drawing.sheet.model import Fill, Link, Mark, Meaning, Stroke, Text, Tone, Weight, Xy

RADIUS = 3.5  # mm, of a balloon in a picture
LETTER = 4.586  # mm of type size, 13 pt
DOT = 0.55  # mm, radius of the dot that ends a leader
AIR = 1.2  # mm, between a balloon and anything else

GRID = 1e-3  # mm on paper, to which areas are rounded so that their sums stay valid
_CLASH = 1000.0  # what a conflict costs, in millimetres of leader
_FOREIGN = 1.2  # what a millimetre of leader over another part costs on top
_WITHIN = 14.0  # what a place in a gap of the picture costs: it could be taken for a hole's mark
_DIRECTIONS = 32
_KEPT = 320  # places of a balloon that are weighed against those of the others

Floats = NDArray[np.float64]


def _round_about() -> Floats:
    """Give the ways from an anchor to the places of its balloon: outward in each direction in turn."""
    angles = 2 * pi * (np.arange(_DIRECTIONS) + 0.5) / _DIRECTIONS
    far = RADIUS + 3.0 + 2.0 * np.arange(40)
    ways = np.stack([np.cos(angles), np.sin(angles)], axis=1)
    return np.asarray(ways[:, None] * far[None, :, None], dtype=np.float64).reshape(-1, 2)


_ROUND_ABOUT = _round_about()


@dataclass(frozen=True, slots=True)
class Label:
    """A balloon to place: its text, its shape, where it leads, and where its leader may end.

    ``anchors`` are points inside the visible part, best first; ``region`` is that part (a shapely
    area in paper millimetres), over which the leader runs freely.
    """

    text: str
    anchors: tuple[Xy, ...]
    region: Any
    square: bool = False
    new: bool = False
    target: str = ""

    @property
    def half_width(self) -> float:
        """Half the width of the ring; a long text makes it a pill."""
        return max(RADIUS, text_length(self.text, LETTER, Weight.SEMIBOLD) / 2 + 1.7)


@dataclass(frozen=True, slots=True)
class PlacedLabel:
    """A balloon in its place: the middle of the ring and the end of the leader."""

    label: Label
    centre: Xy
    anchor: Xy


@dataclass(frozen=True)
class _Places:
    """The places open to one balloon: row by row its middle, its anchor and what the place costs alone."""

    centres: Floats
    anchors: Floats
    costs: Floats


def place_labels(
    labels: Sequence[Label], ink: Any, room: Bounds, *, lines: Any = None
) -> tuple[PlacedLabel, ...]:
    """Place every balloon outside ``ink`` (a shapely area) and inside ``room``.

    ``lines`` (shapely) are thin lines that a balloon must not cover either. Deterministic; places are
    taken in the order of the labels and then bettered in turn until nothing changes.
    """
    blocked = ink if lines is None else shapely.GeometryCollection([ink, lines])
    shapely.prepare(blocked)
    open_places = [_places(label, ink, blocked, room) for label in labels]
    chosen: list[int] = []
    order = sorted(range(len(labels)), key=lambda i: (float(open_places[i].costs.min()), i))
    taken: dict[int, int] = {}
    for i in order:
        taken[i] = _best(i, labels, open_places, taken)
    for _ in range(12):
        before = dict(taken)
        for i in order:
            others = {j: place for j, place in taken.items() if j != i}
            taken[i] = _best(i, labels, open_places, others)
        if taken == before:
            break
    chosen = [taken[i] for i in range(len(labels))]
    return tuple(
        PlacedLabel(
            label,
            (float(places.centres[row][0]), float(places.centres[row][1])),
            (float(places.anchors[row][0]), float(places.anchors[row][1])),
        )
        for label, places, row in zip(labels, open_places, chosen, strict=True)
    )


def label_marks(placed: Sequence[PlacedLabel]) -> tuple[Mark, ...]:
    """Draw leaders and dots, then rings and letters, then the links."""
    marks: list[Mark] = []
    for item in placed:
        start = ring_edge(item)
        if start is not None:
            marks.append(Stroke((start, item.anchor), Meaning.LEADER))
            marks.append(Fill((circle(item.anchor, DOT, 20),), Tone.INK))
    for item in placed:
        marks += balloon(
            item.centre,
            item.label.text,
            square=item.label.square,
            new=item.label.new,
            target=item.label.target,
        )
    return tuple(marks)


def balloon(
    centre: Xy,
    text: str,
    *,
    square: bool = False,
    new: bool = False,
    target: str = "",
    radius: float = RADIUS,
    size: float | None = None,
) -> tuple[Mark, ...]:
    """Draw one ring (circle, pill or square) with its text, and its link when it has a target."""
    letter = size if size is not None else LETTER * radius / RADIUS
    half = max(radius, text_length(text, letter, Weight.SEMIBOLD) / 2 + 1.7 * radius / RADIUS)
    x, y = centre
    side = radius * 0.92
    if square:
        width = max(side, half - radius + side)
        outline: tuple[Xy, ...] = (
            (x - width, y - side),
            (x + width, y - side),
            (x + width, y + side),
            (x - width, y + side),
        )
    elif half > radius + 1e-6:
        outline = _pill(centre, half, radius)
    else:
        outline = circle(centre, radius)
    meaning = Meaning.BALLOON_NEW if new else Meaning.BALLOON
    marks: list[Mark] = [
        Fill((outline,), Tone.PAPER),
        Stroke(outline, meaning, closed=True),
        Text((x, y - letter * FIGURE_SHARE / 2), text, letter, "middle", Weight.SEMIBOLD, role="balloon"),
    ]
    if target:
        marks.append(Link((x - half, y - radius), (x + half, y + radius), target))
    return tuple(marks)


def ring_edge(item: PlacedLabel) -> Xy | None:
    """Give the point of the ring where the leader starts; None where the ring covers the anchor."""
    (cx, cy), (ax, ay) = item.centre, item.anchor
    dx, dy = ax - cx, ay - cy
    far = hypot(dx, dy)
    if far < 1e-9:
        return None
    ux, uy = dx / far, dy / far
    half, radius = item.label.half_width, RADIUS
    if item.label.square:
        side = radius * 0.92
        width = max(side, half - radius + side)
        reach = min(width / abs(ux) if ux else 1e9, side / abs(uy) if uy else 1e9)
    else:
        straight = half - radius
        reach = radius
        if straight > 0:
            if uy and abs(radius / uy * ux) <= straight:
                reach = radius / abs(uy)
            else:
                along = straight * abs(ux)
                reach = along + (max(radius**2 - straight**2 + along**2, 0.0)) ** 0.5
    return None if reach >= far else (cx + ux * reach, cy + uy * reach)


def labels_conflicts(placed: Sequence[PlacedLabel]) -> int:
    """Count leaders that cross leaders, balloons or dots, and balloons that touch (rule: none)."""
    count = 0
    for i, one in enumerate(placed):
        for two in placed[i + 1 :]:
            cost = _pair_costs(
                np.array([one.centre]),
                np.array([one.anchor]),
                one.label.half_width,
                np.array([two.centre]),
                np.array([two.anchor]),
                two.label.half_width,
                air=0.3,
            )
            count += round(float(cost[0]) / _CLASH)
    return count


def _pill(centre: Xy, half: float, radius: float) -> tuple[Xy, ...]:
    x, y = centre
    straight = half - radius
    right = [
        (x + straight + radius * cos(a), y + radius * sin(a))
        for a in np.linspace(-pi / 2, pi / 2, 17).tolist()
    ]
    left = [
        (x - straight - radius * cos(a), y - radius * sin(a))
        for a in np.linspace(-pi / 2, pi / 2, 17).tolist()
    ]
    return (*right, *left)


def _places(label: Label, ink: Any, blocked: Any, room: Bounds) -> _Places:
    half = label.half_width
    low_x, low_y = room[0] + half + 0.3, room[1] + RADIUS + 0.3
    high_x, high_y = room[2] - half - 0.3, room[3] - RADIUS - 0.3
    ends = np.array(label.anchors, dtype=np.float64)
    at = (ends[:, None] + _ROUND_ABOUT[None]).reshape(-1, 2)
    to = np.repeat(ends, len(_ROUND_ABOUT), axis=0)
    ranks = np.repeat(3.0 * np.arange(len(ends)), len(_ROUND_ABOUT))
    inside = (at >= (low_x, low_y)).all(axis=1) & (at <= (high_x, high_y)).all(axis=1)
    at, to, ranks = at[inside], to[inside], ranks[inside]
    if not len(at):
        ax, ay = label.anchors[0]
        at = np.array([(min(max(ax, low_x), high_x), y) for y in (low_y, high_y)])
        to, ranks = np.array([(ax, ay)] * 2), np.zeros(2)
    straight = half - RADIUS
    shift = np.array([straight, 0.0])
    rings = (
        shapely.points(at)
        if straight < 1e-6
        else shapely.linestrings(np.stack([at - shift, at + shift], axis=1))
    )
    clear = _clearance(rings, blocked)
    within = shapely.contains_xy(shapely.convex_hull(ink), at[:, 0], at[:, 1])
    costs = np.hypot(*(at - to).T) + ranks + np.where(within, _WITHIN, 0.0)
    costs += np.where(clear < RADIUS + AIR, _CLASH / 2 + 20 * (RADIUS + AIR - clear), 0.0)
    keep = np.argsort(costs, kind="stable")[:_KEPT]
    at, to, costs = at[keep], to[keep], costs[keep]
    low, high = np.minimum(at, to).min(axis=0) - 1.0, np.maximum(at, to).max(axis=0) + 1.0
    near = shapely.clip_by_rect(ink, *low.tolist(), *high.tolist())
    others = shapely.difference(near, label.region, grid_size=GRID).simplify(0.1)
    leaders = shapely.linestrings(np.stack([at, to], axis=1))
    shapely.prepare(others)
    over = shapely.intersects(others, leaders)
    costs[over] += _FOREIGN * shapely.length(shapely.intersection(leaders[over], others))
    return _Places(at, to, costs)


def _clearance(rings: Any, blocked: Any) -> Floats:
    """Give how far each ring lies from what is blocked, as far as that is less than a balloon needs."""
    need = RADIUS + AIR
    clear = np.full(len(rings), need)
    close = shapely.dwithin(blocked, rings, need)
    over = np.zeros(len(rings), dtype=bool)
    over[close] = shapely.intersects(blocked, rings[close])
    clear[over] = 0.0
    beside = close & ~over
    clear[beside] = shapely.distance(rings[beside], blocked)
    return clear


def _best(i: int, labels: Sequence[Label], places: Sequence[_Places], taken: dict[int, int]) -> int:
    mine = places[i]
    costs = mine.costs.copy()
    for j, row in sorted(taken.items()):
        costs += _pair_costs(
            mine.centres,
            mine.anchors,
            labels[i].half_width,
            places[j].centres[row : row + 1],
            places[j].anchors[row : row + 1],
            labels[j].half_width,
        )
    return int(np.argmin(costs))


def _pair_costs(
    centres: Floats,
    anchors: Floats,
    half: float,
    centre: Floats,
    anchor: Floats,
    other_half: float,
    air: float = AIR,
) -> Floats:
    """Give the cost of the conflicts of many places of one balloon with one place of another."""
    apart = np.abs(centres - centre)
    touch = (apart[:, 0] < half + other_half + air) & (apart[:, 1] < 2 * RADIUS + air)
    crossing = _cross(centres, anchors, centre, anchor)
    ring = RADIUS + air / 2
    over_other = _near(centres, anchors, centre, ring + (other_half - RADIUS))
    over_mine = _near(
        np.broadcast_to(centre, centres.shape),
        np.broadcast_to(anchor, anchors.shape),
        centres,
        ring + (half - RADIUS),
    )
    dots = _near(centres, anchors, anchor, DOT + 0.6) & (np.hypot(*(anchors - anchor).T) > 1e-6)
    dots |= _near(
        np.broadcast_to(centre, centres.shape), np.broadcast_to(anchor, anchors.shape), anchors, DOT + 0.6
    ) & (np.hypot(*(anchors - anchor).T) > 1e-6)
    total = touch.astype(float) + crossing + over_other + over_mine + dots
    return np.asarray(total * _CLASH, dtype=np.float64)


def _cross(a: Floats, b: Floats, c: Floats, d: Floats) -> NDArray[np.bool_]:
    def turn(p: Floats, q: Floats, r: Floats) -> Floats:
        return np.asarray(
            (q[:, 0] - p[:, 0]) * (r[:, 1] - p[:, 1]) - (q[:, 1] - p[:, 1]) * (r[:, 0] - p[:, 0]),
            dtype=np.float64,
        )

    c, d = np.broadcast_to(c, a.shape), np.broadcast_to(d, a.shape)
    return np.asarray(
        (turn(a, b, c) * turn(a, b, d) < 0) & (turn(c, d, a) * turn(c, d, b) < 0), dtype=np.bool_
    )


def _near(start: Floats, end: Floats, point: Floats, reach: float) -> NDArray[np.bool_]:
    """Whether the way from start to end comes nearer to the point than ``reach``."""
    way = end - start
    square = np.maximum((way**2).sum(axis=1), 1e-12)
    share = np.clip(((point - start) * way).sum(axis=1) / square, 0.0, 1.0)
    nearest = start + way * share[:, None]
    return np.asarray(np.hypot(*(nearest - point).T) < reach, dtype=np.bool_)

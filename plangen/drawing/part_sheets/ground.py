"""What already stands on a view, and what a new piece of drawing would disturb there.

Texts are boxes, everything else is short straight lines, dimension lines also keep a lane free at
both sides. All in millimetres on the paper. A piece of drawing is tried at many places at once: its
``Trace`` then has one layer for each place.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from plangen.drawing.sheet.measure import FIGURE_SHARE, Bounds, text_corners
from plangen.drawing.sheet.model import Fill, Mark, Meaning, Stroke, Text

Floats = NDArray[np.float64]
Counts = NDArray[np.int64]

AIR = 0.5  # mm kept free round a text
LEAST_LANE = 2.5  # mm kept free at each side of a leader's shelf
_CROSSABLE = (Meaning.VISIBLE, Meaning.HIDDEN, Meaning.RIM, Meaning.CENTRE, Meaning.CUT)
_NOTHING = (np.inf, np.inf, -np.inf, -np.inf)


@dataclass(frozen=True, slots=True)
class Trace:
    """What marks take up at one or more places: arrays of shape (places, number, 4).

    ``boxes`` and ``lanes`` are low x, low y, high x, high y; ``lines`` go from x, y to x, y. ``drawn`` tells
    line by line whether it is an edge of the part and not a dimension's, ``leads`` whether it is a leader.
    """

    boxes: Floats
    lines: Floats
    lanes: Floats
    drawn: NDArray[np.bool_]
    leads: NDArray[np.bool_]

    @property
    def places(self) -> int:
        """At how many places."""
        return len(self.lines)

    @property
    def box(self) -> Bounds:
        """The box round all that is drawn, the air round texts left out."""
        whole = _NOTHING
        if self.boxes.size:
            flat = self.boxes.reshape(-1, 4)
            low, high = flat[:, :2].min(axis=0) + AIR, flat[:, 2:].max(axis=0) - AIR
            whole = (float(low[0]), float(low[1]), float(high[0]), float(high[1]))
        if self.lines.size:
            ends = self.lines.reshape(-1, 2)
            low, high = ends.min(axis=0), ends.max(axis=0)
            whole = joined(whole, (float(low[0]), float(low[1]), float(high[0]), float(high[1])))
        return whole

    def towards(self, other: Trace, shares: Floats) -> Trace:
        """Give the places that lie at ``shares`` of the way from this one place to another's."""
        by = shares[:, None, None]
        return Trace(
            self.boxes + by * (other.boxes - self.boxes),
            self.lines + by * (other.lines - self.lines),
            self.lanes + by * (other.lanes - self.lanes),
            self.drawn,
            self.leads,
        )

    def moved(self, moves: Floats) -> Trace:
        """Give the places moved, each by its own (x, y)."""
        by = np.tile(moves, 2)[:, None, :]
        return Trace(self.boxes + by, self.lines + by, self.lanes + by, self.drawn, self.leads)

    def at(self, places: NDArray[np.bool_] | NDArray[np.int64] | slice) -> Trace:
        """Give some of the places."""
        return Trace(self.boxes[places], self.lines[places], self.lanes[places], self.drawn, self.leads)

    def like(self, other: Trace) -> bool:
        """Tell whether both have the same pieces, so that one can be moved into the other."""
        return self.boxes.shape[1:] == other.boxes.shape[1:] and self.lines.shape[1:] == other.lines.shape[1:]


def stacked(traces: Sequence[Trace]) -> Trace:
    """Put traces of like pieces together, place after place."""
    return Trace(
        np.concatenate([one.boxes for one in traces]),
        np.concatenate([one.lines for one in traces]),
        np.concatenate([one.lanes for one in traces]),
        traces[0].drawn,
        traces[0].leads,
    )


def joined(one: Bounds, two: Bounds) -> Bounds:
    """Give the box round two boxes."""
    return (min(one[0], two[0]), min(one[1], two[1]), max(one[2], two[2]), max(one[3], two[3]))


class Ground:
    """The marks of one view so far."""

    def __init__(self) -> None:
        self.marks: list[Mark] = []
        self.box: Bounds = _NOTHING
        self._boxes = self._lines = self._lanes = np.zeros((0, 4))
        self._drawn = self._leads = np.zeros(0, dtype=bool)

    def copy(self) -> Ground:
        """Give another ground with the same marks."""
        other = Ground()
        other.marks, other.box = list(self.marks), self.box
        other._boxes, other._lines, other._lanes = self._boxes, self._lines, self._lanes
        other._drawn, other._leads = self._drawn, self._leads
        return other

    def put(self, marks: Iterable[Mark]) -> None:
        """Add marks for good."""
        added = tuple(marks)
        found = trace(added)
        self.marks += added
        self.box = joined(self.box, found.box)
        self._boxes = np.concatenate([self._boxes, found.boxes[0]])
        self._lines = np.concatenate([self._lines, found.lines[0]])
        self._lanes = np.concatenate([self._lanes, found.lanes[0]])
        self._drawn = np.concatenate([self._drawn, found.drawn])
        self._leads = np.concatenate([self._leads, found.leads])

    def clashes(self, tried: Trace) -> Counts:
        """Count for each place what must not be: text on text or line, lanes that meet, leaders that cross.

        What is worse is looked at first; lines under texts are only counted where the rest is in order.
        """
        found = _meetings(tried.boxes, self._boxes) + _meetings(tried.lanes, self._lanes)
        (clear,) = np.nonzero(found == 0)
        if clear.size and (tried.boxes.size or self._boxes.size):
            found[clear] = self._lines_on_texts(tried.at(clear))
        if tried.leads.any() and self._leads.any():
            found += self._leaders_crossed(tried)
        return found

    def crossings(self, tried: Trace) -> tuple[int, int]:
        """Count what lines at one place cross: other lines of dimensions, and edges of the part."""
        mine = tried.lines[0]
        near = self._near(mine)
        crossed = _lines_cross(mine, self._lines[near]).sum(axis=0)
        edges = int(crossed[self._drawn[near]].sum())
        return int(crossed.sum()) - edges, edges

    def _leaders_crossed(self, tried: Trace) -> Counts:
        mine = tried.lines[:, tried.leads]
        crossed = _lines_cross(mine.reshape(-1, 4), self._lines[self._leads]).sum(axis=1)
        return np.asarray(crossed.reshape(mine.shape[:2]).sum(axis=1), dtype=np.int64)

    def _lines_on_texts(self, tried: Trace) -> Counts:
        boxes, lines = tried.boxes, tried.lines
        flat = boxes.reshape(-1, 4)
        found = np.zeros(tried.places, dtype=np.int64)
        if flat.size:
            there = self._lines[self._near(flat)]
            on_mine = _inside(there[None, :, :], flat[:, None, :]).sum(axis=1)
            found += on_mine.reshape(boxes.shape[:2]).sum(axis=1)
            found += _inside(lines[:, :, None, :], boxes[:, None, :, :]).sum(axis=(1, 2))
        if self._boxes.size:
            mine = lines.reshape(-1, 1, 4)
            found += _inside(mine, self._boxes[None, :, :]).sum(axis=1).reshape(lines.shape[:2]).sum(axis=1)
        return found

    def _near(self, boxes_or_lines: Floats) -> NDArray[np.bool_]:
        """Tell of each line here whether it comes into the box round some boxes or lines."""
        ends = boxes_or_lines.reshape(-1, 2)
        low, high = ends.min(axis=0), ends.max(axis=0)
        x, y = self._lines[:, 0::2], self._lines[:, 1::2]
        near: NDArray[np.bool_] = (
            (x.min(axis=1) <= high[0]) & (x.max(axis=1) >= low[0])
            & (y.min(axis=1) <= high[1]) & (y.max(axis=1) >= low[1])
        )  # fmt: skip
        return near


def trace(marks: Sequence[Mark]) -> Trace:
    """Take the trace of marks at their own place.

    A dimension line keeps the height of its own figures free at each side, so that two never come nearer
    than twice that.
    """
    boxes: list[Bounds] = []
    lines: list[Bounds] = []
    drawn: list[bool] = []
    leads: list[bool] = []
    lanes: list[Bounds] = []
    lane = _lane(marks)
    note: list[tuple[float, float]] = []  # a note of several lines is one box: nothing goes between its lines
    for mark in marks:
        if isinstance(mark, Text):
            corners = list(text_corners(mark))
            if mark.role == "note":
                note += corners
            else:
                boxes.append(_box(corners))
        elif isinstance(mark, Stroke):
            points = (*mark.points, mark.points[0]) if mark.closed else mark.points
            leader = mark.meaning is Meaning.LEADER
            laned = (mark.meaning is Meaning.DIMENSION and not mark.closed) or leader
            crossable = mark.meaning in _CROSSABLE
            for (x0, y0), (x1, y1) in pairwise(points):
                lines.append((x0, y0, x1, y1))
                drawn.append(crossable)
                leads.append(leader)
                if laned and not (leader and y0 != y1):
                    wide = lane if abs(y1 - y0) > abs(x1 - x0) else 0.0
                    high = lane - wide
                    lanes.append(
                        (min(x0, x1) - wide, min(y0, y1) - high, max(x0, x1) + wide, max(y0, y1) + high)
                    )
        elif isinstance(mark, Fill):
            for loop in mark.loops:
                for (x0, y0), (x1, y1) in zip(loop, (*loop[1:], loop[0]), strict=True):
                    lines.append((x0, y0, x1, y1))
                    drawn.append(False)
                    leads.append(False)
    if note:
        boxes.append(_box(note))
    return Trace(_array(boxes), _array(lines), _array(lanes), np.array(drawn, bool), np.array(leads, bool))


def _lane(marks: Iterable[Mark]) -> float:
    figures = (
        mark.size * FIGURE_SHARE for mark in marks if isinstance(mark, Text) and mark.role == "dimension"
    )
    return next(figures, LEAST_LANE)


def _box(points: Sequence[tuple[float, float]]) -> Bounds:
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return (min(xs) - AIR, min(ys) - AIR, max(xs) + AIR, max(ys) + AIR)


def _array(rows: Sequence[Bounds]) -> Floats:
    return np.array(rows, dtype=np.float64).reshape(1, -1, 4)


def _meetings(one: Floats, two: Floats) -> Counts:
    """Count for each place how many of its boxes meet each of some boxes that stand fast."""
    if not one.size or not two.size:
        return np.zeros(len(one), dtype=np.int64)
    a, b = one[:, :, None, :], two[None, None, :, :]
    meet = (
        (a[..., 0] < b[..., 2]) & (b[..., 0] < a[..., 2]) & (a[..., 1] < b[..., 3]) & (b[..., 1] < a[..., 3])
    )
    return np.asarray(meet.sum(axis=(1, 2)), dtype=np.int64)


def _inside(lines: Floats, boxes: Floats) -> NDArray[np.bool_]:
    """Tell whether some of a line lies inside a box (separating axes); both shapes are broadcast."""
    x0, y0, x1, y1 = (lines[..., number] for number in range(4))
    near: NDArray[np.bool_] = (
        (np.minimum(x0, x1) < boxes[..., 2]) & (np.maximum(x0, x1) > boxes[..., 0])
        & (np.minimum(y0, y1) < boxes[..., 3]) & (np.maximum(y0, y1) > boxes[..., 1])
    )  # fmt: skip
    which = np.nonzero(near)
    if not which[0].size:
        return near
    a = np.broadcast_to(lines, (*near.shape, 4))[which]
    b = np.broadcast_to(boxes, (*near.shape, 4))[which]
    dx, dy = a[:, 2] - a[:, 0], a[:, 3] - a[:, 1]
    sides = np.stack(
        [dx * (b[:, y] - a[:, 1]) - dy * (b[:, x] - a[:, 0]) for x, y in ((0, 1), (2, 1), (2, 3), (0, 3))]
    )
    near[which] = sides.min(axis=0) * sides.max(axis=0) < 0
    return near


def _lines_cross(one: Floats, two: Floats) -> NDArray[np.bool_]:
    """Tell line by line whether they cross well inside both, so that a touch or a shared end is none."""
    a, b = one[:, None, :], two[None, :, :]
    dx, dy = a[..., 2] - a[..., 0], a[..., 3] - a[..., 1]
    ex, ey = b[..., 2] - b[..., 0], b[..., 3] - b[..., 1]
    across = dx * ey - dy * ex
    safe = np.where(np.abs(across) < 1e-9, 1.0, across)
    fx, fy = b[..., 0] - a[..., 0], b[..., 1] - a[..., 1]
    t, u = (fx * ey - fy * ex) / safe, (fx * dy - fy * dx) / safe
    edge = 1e-3
    found: NDArray[np.bool_] = (
        (np.abs(across) >= 1e-9) & (t > edge) & (t < 1 - edge) & (u > edge) & (u < 1 - edge)
    )
    return found

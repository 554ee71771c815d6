"""What already stands on a view, and what a new piece of drawing would disturb there.

Texts are boxes, everything else is short straight lines, dimension lines also keep a lane free at
both sides. All in millimetres on the paper.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from plangen.drawing.sheet.measure import text_corners
from plangen.drawing.sheet.model import Fill, Mark, Meaning, Stroke, Text

Floats = NDArray[np.float64]

AIR = 0.5  # mm kept free round a text
LANE = 2.9  # mm kept free at each side of a dimension line, so that two never come nearer than twice this
_CROSSABLE = (Meaning.VISIBLE, Meaning.HIDDEN, Meaning.RIM, Meaning.CENTRE, Meaning.CUT)


@dataclass(frozen=True, slots=True)
class Trouble:
    """What would be wrong: ``clashes`` must not be (text on text or line, lanes that meet), the rest may."""

    clashes: int
    crossings: int
    over_edges: int


class Ground:
    """The marks of one view so far."""

    def __init__(self) -> None:
        self.marks: list[Mark] = []
        self._boxes = self._lines = self._lanes = _array(())
        self._drawn = np.zeros(0, dtype=bool)  # line by line: an edge of the part, not a dimension's

    def copy(self) -> Ground:
        """Give another ground with the same marks."""
        other = Ground()
        other.marks = list(self.marks)
        other._boxes, other._lines, other._lanes, other._drawn = (
            self._boxes, self._lines, self._lanes, self._drawn,
        )  # fmt: skip
        return other

    def put(self, marks: Iterable[Mark]) -> None:
        """Add marks for good."""
        added = tuple(marks)
        boxes, lines, drawn, lanes = _parts(added)
        self.marks += added
        self._boxes = np.vstack([self._boxes, _array(boxes)])
        self._lines = np.vstack([self._lines, _array(lines)])
        self._drawn = np.concatenate([self._drawn, np.array(drawn, dtype=bool)])
        self._lanes = np.vstack([self._lanes, _array(lanes)])

    def trouble(self, marks: Sequence[Mark]) -> Trouble:
        """Tell what would be wrong if the marks were added; what is worse is looked at first.

        The rest is only counted where that is in order.
        """
        boxes, lines, _, lanes = _parts(marks)
        mine, new = _array(boxes), _array(lines)
        clashes = int(_boxes_meet(mine, self._boxes).sum()) + int(
            _boxes_meet(_array(lanes), self._lanes).sum()
        )
        if not clashes:
            boxes_too = np.vstack([self._boxes, mine])
            clashes = _lines_in_boxes(self._lines, mine) + _lines_in_boxes(new, boxes_too)
        if clashes:
            return Trouble(clashes, 0, 0)
        crossed = _lines_cross(new, self._lines).sum(axis=0)
        edges = int(crossed[self._drawn].sum())
        return Trouble(0, int(crossed.sum()) - edges, edges)


def _parts(
    marks: Iterable[Mark],
) -> tuple[
    list[tuple[float, float, float, float]],
    list[tuple[float, float, float, float]],
    list[bool],
    list[tuple[float, float, float, float]],
]:
    boxes, lines, drawn, lanes = [], [], [], []
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
            for (x0, y0), (x1, y1) in pairwise(points):
                lines.append((x0, y0, x1, y1))
                drawn.append(mark.meaning in _CROSSABLE)
                if mark.meaning is Meaning.DIMENSION and not mark.closed:
                    wide = LANE if abs(y1 - y0) > abs(x1 - x0) else 0.0
                    high = LANE - wide
                    lanes.append(
                        (min(x0, x1) - wide, min(y0, y1) - high, max(x0, x1) + wide, max(y0, y1) + high)
                    )
        elif isinstance(mark, Fill):
            for loop in mark.loops:
                for (x0, y0), (x1, y1) in zip(loop, (*loop[1:], loop[0]), strict=True):
                    lines.append((x0, y0, x1, y1))
                    drawn.append(False)
    if note:
        boxes.append(_box(note))
    return boxes, lines, drawn, lanes


def _box(points: Sequence[tuple[float, float]]) -> tuple[float, float, float, float]:
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return (min(xs) - AIR, min(ys) - AIR, max(xs) + AIR, max(ys) + AIR)


def _array(rows: Sequence[tuple[float, float, float, float]]) -> Floats:
    return np.array(rows, dtype=np.float64).reshape(-1, 4)


def _boxes_meet(one: Floats, two: Floats) -> NDArray[np.bool_]:
    a, b = one[:, None, :], two[None, :, :]
    found: NDArray[np.bool_] = (
        (a[..., 0] < b[..., 2]) & (b[..., 0] < a[..., 2]) & (a[..., 1] < b[..., 3]) & (b[..., 1] < a[..., 3])
    )
    return found


def _lines_in_boxes(lines: Floats, boxes: Floats) -> int:
    """Count how often some of a line lies inside a box (separating axes)."""
    low_x, high_x = np.minimum(lines[:, 0], lines[:, 2]), np.maximum(lines[:, 0], lines[:, 2])
    low_y, high_y = np.minimum(lines[:, 1], lines[:, 3]), np.maximum(lines[:, 1], lines[:, 3])
    near = (
        (low_x[:, None] < boxes[:, 2]) & (high_x[:, None] > boxes[:, 0])
        & (low_y[:, None] < boxes[:, 3]) & (high_y[:, None] > boxes[:, 1])
    )  # fmt: skip
    which, where = np.nonzero(near)
    if not which.size:
        return 0
    a, b = lines[which], boxes[where]
    dx, dy = a[:, 2] - a[:, 0], a[:, 3] - a[:, 1]
    sides = np.stack(
        [dx * (b[:, y] - a[:, 1]) - dy * (b[:, x] - a[:, 0]) for x, y in ((0, 1), (2, 1), (2, 3), (0, 3))]
    )
    return int((sides.min(axis=0) * sides.max(axis=0) < 0).sum())


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

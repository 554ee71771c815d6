"""Lines so close beside each other that they would print as one: which of them gives way."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Any

import shapely

from plangen.drawing.sheet.model import Meaning, Stroke

CLOSE = 0.95  # mm on paper between the middles of two wide lines that print as one bold one


def unclogged(strokes: Sequence[Stroke], outline: Callable[[], Any]) -> list[Stroke]:
    """Draw fine one of every two wide straight lines that run closer than ``CLOSE`` beside each other.

    The one farther from the border of ``outline`` (gives a shapely area) gives way, else the shorter one.
    """
    wide = [
        number
        for number, stroke in enumerate(strokes)
        if stroke.meaning is Meaning.VISIBLE and len(stroke.points) == 2
    ]
    found = list(strokes)
    if len(wide) < 2:
        return found
    lines = _Lines([strokes[number] for number in wide])
    pairs = [(i, j) for i, j in lines.close(range(len(wide))) if i < j and lines.beside(i, j)]
    if not pairs:
        return found
    border = shapely.boundary(outline())
    involved = sorted({i for pair in pairs for i in pair})
    middles = shapely.line_interpolate_point(lines.shapes[involved], 0.5, normalized=True)
    depths = zip(involved, shapely.distance(border, middles).tolist(), strict=True)
    inner = {i: (round(depth, 2), -lines.lengths[i]) for i, depth in depths}
    for i, j in pairs:
        loser = i if (inner[i], i) > (inner[j], j) else j
        found[wide[loser]] = replace(strokes[wide[loser]], meaning=Meaning.RIM)
    return found


def apart_from(hidden: Sequence[Stroke], strokes: Sequence[Stroke]) -> list[Stroke]:
    """Give the hidden lines that do not run closer than ``CLOSE`` beside a seen or a longer hidden one."""
    kept = [stroke for stroke in hidden if len(stroke.points) != 2]
    rest = [stroke for stroke in hidden if len(stroke.points) == 2]
    if not rest:
        return kept
    straight = [stroke for stroke in strokes if len(stroke.points) == 2]
    lines = _Lines([*straight, *rest])
    standing = set(range(len(straight)))
    numbers = range(len(straight), len(lines.strokes))
    near: dict[int, list[int]] = {}
    for i, j in lines.close(numbers):
        near.setdefault(i, []).append(j)
    for i in sorted(numbers, key=lambda i: (-round(lines.lengths[i], 3), lines.strokes[i].points)):
        if not any(j in standing and lines.beside(j, i) for j in near.get(i, ())):
            kept.append(lines.strokes[i])
            standing.add(i)
    return kept


class _Lines:
    """Straight strokes and their lines, for finding those that run beside each other."""

    def __init__(self, strokes: Sequence[Stroke]) -> None:
        self.strokes = strokes
        self.shapes = shapely.linestrings([stroke.points for stroke in strokes])
        self.lengths: list[float] = shapely.length(self.shapes).tolist()

    def close(self, numbers: Sequence[int]) -> list[tuple[int, int]]:
        """Give the pairs of some of the lines with any line that comes closer than ``CLOSE``, in order."""
        one, two = shapely.STRtree(self.shapes).query(
            self.shapes[list(numbers)], predicate="dwithin", distance=CLOSE
        )
        return sorted((numbers[i], j) for i, j in zip(one.tolist(), two.tolist(), strict=True))

    def beside(self, one: int, two: int) -> bool:
        """Tell whether two lines run beside each other, close, for most of the shorter one."""
        (ax, ay), (bx, by) = self.strokes[one].points
        (cx, cy), (dx, dy) = self.strokes[two].points
        length, other = self.lengths[one], self.lengths[two]
        if min(length, other) < CLOSE:
            return False
        ux, uy = (bx - ax) / length, (by - ay) / length
        if abs(ux * (dy - cy) - uy * (dx - cx)) > 0.08 * other:
            return False
        apart = [abs(ux * (y - ay) - uy * (x - ax)) for x, y in ((cx, cy), (dx, dy))]
        low, high = sorted(ux * (x - ax) + uy * (y - ay) for x, y in ((cx, cy), (dx, dy)))
        common = min(high, length) - max(low, 0.0)
        return bool(max(apart) < CLOSE and common > 0.5 * min(length, other))

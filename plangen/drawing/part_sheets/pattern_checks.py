"""What proves a pattern that was joined: two crosses a round distance apart, and lines to lay it by."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product
from math import ceil, dist
from typing import Any

from shapely.geometry import LineString, Point
from shapely.ops import unary_union

from plangen.drawing.part_sheets.pattern_grid import AIR, OVERLAP, PLAIN, Grid
from plangen.drawing.part_sheets.pattern_outline import FullSize
from plangen.drawing.sheet.model import Xy
from plangen.units import Length, LengthStyle, inches, millimetres

ARM = 4.0  # mm, half a check cross
CLEAR = 9.0  # mm round a check cross that nothing else crosses
INSET = OVERLAP + CLEAR + 1.0  # mm from a tile's frame, clear of what is joined
TRY = 8.0  # mm between the places that are tried


@dataclass(frozen=True, slots=True)
class Diagonal:
    """Two crosses on the first and the last tile, ``length`` apart: a whole inch, or ten millimetres."""

    start: Xy
    end: Xy
    length: Length


def diagonal_of(grid: Grid, shape: FullSize, style: LengthStyle) -> Diagonal | None:
    """Find the longest round distance between a corner tile and the one opposite, clear of all lines.

    None for a single tile, or where the lines of the part leave no room.
    """
    if grid.sheets == 1:
        return None
    lines = unary_union([LineString(edge.points) for edge in shape.edges]
                        + [Point(bore.at).buffer(bore.reach + 2.0) for bore in shape.bores]
                        + [LineString([*one.loop, one.loop[0]]) for one in shape.marked])  # fmt: skip
    step = millimetres(10) if style.system == "mm" else inches(1)
    for rows in ((0, grid.rows - 1), (grid.rows - 1, 0)):
        starts = _places(grid, 0, rows[0], lines)
        ends = _places(grid, grid.columns - 1, rows[1], lines)
        found = _farthest(starts, ends, grid, (grid.columns - 1, rows[1]), lines, step)
        if found is not None:
            return found
    return None


def _places(grid: Grid, column: int, row: int, lines: Any) -> list[Xy]:
    """Give the clear places of a tile."""
    low_x, low_y, high_x, high_y = grid.window(column, row)
    return [
        (x, y)
        for x, y in product(_steps(low_x + INSET, high_x - INSET), _steps(low_y + INSET, high_y - INSET))
        if lines.distance(Point(x, y)) > CLEAR
    ]


def _steps(low: float, high: float) -> list[float]:
    return [low + TRY * n for n in range(int(max(0.0, high - low) / TRY) + 1)]


def _farthest(
    starts: list[Xy], ends: list[Xy], grid: Grid, last: tuple[int, int], lines: Any, step: Length
) -> Diagonal | None:
    """Move the far cross along its line, inward to the next round distance, and see that it stays clear."""
    low_x, low_y, high_x, high_y = grid.window(*last)
    pairs = sorted(((dist(a, b), a, b) for a in starts for b in ends), reverse=True)
    for far, start, end in pairs[:4000]:
        number = int(far / float(step) + 1e-9)
        if number < 1:
            return None
        share = number * float(step) / far
        x, y = (a + (b - a) * share for a, b in zip(start, end, strict=True))
        inside = low_x + INSET <= x <= high_x - INSET and low_y + INSET <= y <= high_y - INSET
        if inside and lines.distance(Point(x, y)) > CLEAR:
            return Diagonal(start, (x, y), step * number)
    return None


@dataclass(frozen=True, slots=True)
class LayLine:
    """A line across a pattern at a round distance from one side of the board, to lay the pattern by.

    ``way`` 0: an upright line, measured from the left; 1: a level one, measured from below.
    """

    way: int
    at: float  # mm from the low side
    length: Length


def lay_lines(grid: Grid, shape: FullSize, style: LengthStyle) -> Iterator[LayLine]:
    """Give a line for each direction in which a pattern shows neither side of the board.

    It lies in the plain stretch beside what is sawn, at a whole quarter inch or five millimetres.
    """
    step = millimetres(5) if style.system == "mm" else inches("1/4")
    low_x, low_y, high_x, high_y = grid.whole
    for way, low, high, size in ((0, low_x, high_x, shape.width), (1, low_y, high_y, shape.height)):
        if low <= 0.0 or high >= size:
            continue
        first = max(low + AIR, _first(shape, way, low, high) - PLAIN)
        number = ceil(first / float(step))
        if number * float(step) < high:
            yield LayLine(way, number * float(step), step * number)


def _first(shape: FullSize, way: int, low: float, high: float) -> float:
    """Where along a direction what is followed by eye begins, inside a stretch."""
    starts = [
        edge.box[way] for edge in shape.edges
        if (edge.curved or edge.aslant) and edge.box[way] < high and edge.box[way + 2] > low
    ]  # fmt: skip
    return max(low + PLAIN, min(starts, default=low + PLAIN))

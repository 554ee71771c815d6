"""The lines of one view of a part on the paper, and where a coordinate of the part lies in it.

A long plain stretch may be left out of the length: the view is then interrupted, and dimensions
across the gap still give the true size.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

import numpy as np

from plangen.design.model import Part
from plangen.drawing.hidden_lines import Body, View, project
from plangen.drawing.part_sheets.sights import Sight
from plangen.drawing.sheet.model import Xy
from plangen.joinery.space import Axis, Side
from plangen.solids.model import Mesh, Solids
from plangen.units import Length

GAP = 5.0  # mm on the paper between the two ends of an interrupted view

Polyline = tuple[Xy, ...]
Stretches = tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class Line:
    """A polyline at full size in a view, with its kind: 'edge', 'silhouette' or 'rim'."""

    points: Polyline
    kind: str


@dataclass(frozen=True, slots=True)
class Outline:
    """What one sees of a part from one side, full size in mm, low left corner of the blank at the origin."""

    visible: tuple[Line, ...]
    hidden: tuple[Line, ...]


@dataclass(frozen=True, slots=True)
class Ruler:
    """Where the coordinates along one axis come to lie: ``at`` gives mm on the paper from the low end.

    ``left_out`` are stretches (low, high in mm of the part, low to high) that are not drawn.
    """

    length: float
    scale: float
    left_out: Stretches = ()

    def at(self, coordinate: float) -> float:
        """Give the place of a coordinate (mm of the part)."""
        place = coordinate * self.scale
        for low, high in self.left_out:
            if coordinate > low:
                passed = min(coordinate, high) - low
                place += GAP * passed / (high - low) - passed * self.scale
        return place

    @property
    def extent(self) -> float:
        """The whole length on the paper."""
        return self.at(self.length)


@dataclass(frozen=True, slots=True)
class Picture:
    """One view laid on the paper with its low left corner at the origin."""

    part: Part
    sight: Sight
    across: Ruler
    upward: Ruler
    outline: Outline

    @property
    def width(self) -> float:
        """Width of the blank on the paper."""
        return self.across.extent

    @property
    def height(self) -> float:
        """Height of the blank on the paper."""
        return self.upward.extent

    def place(self, axis: Axis, value: Length) -> float:
        """Give the place on the paper of a coordinate of the part, along whichever way the axis lies."""
        side, ruler = (
            (self.sight.right, self.across) if self.sight.is_across(axis) else (self.sight.up, self.upward)
        )
        return ruler.at(float(value) if side.high else ruler.length - float(value))

    def lines(self, *, hidden: bool = False) -> tuple[Line, ...]:
        """Give the visible or the hidden lines on the paper, cut where the view is interrupted."""
        source = self.outline.hidden if hidden else self.outline.visible
        found: list[Line] = []
        for line in source:
            pieces: Iterable[Polyline] = (line.points,)
            for index, ruler in ((0, self.across), (1, self.upward)):
                for stretch in ruler.left_out:
                    pieces = [rest for piece in pieces for rest in _outside(piece, index, stretch)]
            for piece in pieces:
                laid = tuple((self.across.at(x), self.upward.at(y)) for x, y in piece)
                found.append(Line(laid, line.kind))
        return tuple(found)


def rulers(part: Part, sight: Sight, scale: float, left_out: Stretches) -> tuple[Ruler, Ruler]:
    """Give the rulers across and upward; ``left_out`` are stretches of the part's length from its low end."""

    def one(side: Side) -> Ruler:
        length = float(part.blank.size(side.axis))
        if side.axis is not part.runs:
            return Ruler(length, scale)
        if side.high:
            return Ruler(length, scale, left_out)
        return Ruler(length, scale, tuple((length - high, length - low) for low, high in reversed(left_out)))

    return one(sight.right), one(sight.up)


class Outlines:
    """The outlines of one part, each view worked out once."""

    def __init__(self, part: Part, solids: Solids) -> None:
        self._part = part
        self._mesh = solids.parts[part.key].mesh
        self.seen_from = lru_cache(maxsize=None)(self._seen_from)

    def _seen_from(self, sight: Sight) -> Outline:
        moves = tuple(
            0.0 if side.high else float(self._part.blank.size(side.axis)) for side in (sight.right, sight.up)
        )
        projection = project((body_of(self._mesh),), view_of(sight), hidden=True)

        def laid(edges: Iterable[object]) -> tuple[Line, ...]:
            return tuple(
                Line(tuple((x + moves[0], y + moves[1]) for x, y in edge.points), edge.kind)  # type: ignore[attr-defined]
                for edge in edges
            )

        return Outline(laid(projection.visible), laid(projection.hidden))


def body_of(mesh: Mesh) -> Body:
    """Give the part as a body in its own frame."""
    return Body(mesh, np.eye(3), np.zeros(3), "part")


def view_of(sight: Sight) -> View:
    """Give the view of the hidden-line remover."""
    return View(_unit(sight.right), _unit(sight.up), _unit(sight.side))


def _unit(side: Side) -> tuple[float, float, float]:
    values = [0.0, 0.0, 0.0]
    values[side.axis.value] = float(side.sign)
    return (values[0], values[1], values[2])


def _outside(points: Polyline, index: int, stretch: tuple[float, float]) -> list[Polyline]:
    """Cut a polyline where its coordinate ``index`` enters the stretch; give what lies outside."""
    low, high = stretch
    found: list[list[Xy]] = []
    for start, end in pairwise(points):
        a, b = start[index], end[index]
        if a == b:
            if not low < a < high:
                _append(found, start, end)
            continue
        for piece_low, piece_high in ((float("-inf"), low), (high, float("inf"))):
            if max(a, b) < piece_low or min(a, b) > piece_high:
                continue
            one = _at(start, end, index, min(max(a, piece_low), piece_high))
            two = _at(start, end, index, min(max(b, piece_low), piece_high))
            if one != two:
                _append(found, one, two)
    return [tuple(piece) for piece in found]


def _append(found: list[list[Xy]], one: Xy, two: Xy) -> None:
    if found and found[-1][-1] == one:
        found[-1].append(two)
    else:
        found.append([one, two])


def _at(start: Xy, end: Xy, index: int, value: float) -> Xy:
    share = (value - start[index]) / (end[index] - start[index])
    if share <= 0:
        return start
    if share >= 1:
        return end
    return (start[0] + (end[0] - start[0]) * share, start[1] + (end[1] - start[1]) * share)

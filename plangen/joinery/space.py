"""Directions, sides, boxes and quarter turns, all exact.

The frame: ``across`` grows to the right, ``deep`` to the back, ``up`` to the top.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction
from typing import TypeAlias

from plangen.units import ZERO, Length


class Axis(Enum):
    """A direction of the frame; the value is its index in a point."""

    ACROSS = 0
    DEEP = 1
    UP = 2

    @property
    def word(self) -> str:
        """The maker's word for it."""
        return self.name.lower()


class Side(Enum):
    """A side of a box: its axis, and whether it is the high end of it."""

    LEFT = (Axis.ACROSS, False)
    RIGHT = (Axis.ACROSS, True)
    FRONT = (Axis.DEEP, False)
    BACK = (Axis.DEEP, True)
    BOTTOM = (Axis.UP, False)
    TOP = (Axis.UP, True)

    @property
    def axis(self) -> Axis:
        """The axis the side is square to."""
        return self.value[0]

    @property
    def high(self) -> bool:
        """Whether it is the high end of its axis."""
        return self.value[1]

    @property
    def sign(self) -> int:
        """+1 for the high end, -1 for the low end: the way the side faces."""
        return 1 if self.value[1] else -1

    @property
    def opposite(self) -> Side:
        """The side across the box."""
        return Side((self.axis, not self.high))

    @property
    def word(self) -> str:
        """The maker's word for it."""
        return self.name.lower()

    @classmethod
    def of(cls, axis: Axis, high: bool) -> Side:
        """Give the side at one end of an axis."""
        return cls((axis, high))


SIDE_WORDS = {side.word: side for side in Side}
AXIS_WORDS = {axis.word: axis for axis in Axis}


@dataclass(frozen=True, slots=True)
class Point:
    """A point, or a vector, in the frame or in a part's own frame."""

    across: Length
    deep: Length
    up: Length

    def at(self, axis: Axis) -> Length:
        """The coordinate along an axis."""
        return (self.across, self.deep, self.up)[axis.value]

    def moved(self, axis: Axis, by: Length) -> Point:
        """Give the point moved along an axis."""
        return self.with_(axis, self.at(axis) + by)

    def with_(self, axis: Axis, value: Length) -> Point:
        """Give the point with one coordinate replaced."""
        values = [self.across, self.deep, self.up]
        values[axis.value] = value
        return Point(*values)

    def __add__(self, other: Point) -> Point:
        return Point(self.across + other.across, self.deep + other.deep, self.up + other.up)

    def __sub__(self, other: Point) -> Point:
        return Point(self.across - other.across, self.deep - other.deep, self.up - other.up)

    def floats(self) -> tuple[float, float, float]:
        """The coordinates in millimetres."""
        return float(self.across), float(self.deep), float(self.up)


ORIGIN = Point(ZERO, ZERO, ZERO)


@dataclass(frozen=True, slots=True)
class Box:
    """A box square to the axes, from its low corner to its high corner."""

    low: Point
    high: Point

    def side(self, side: Side) -> Length:
        """The coordinate of a side along its axis."""
        return (self.high if side.high else self.low).at(side.axis)

    def size(self, axis: Axis) -> Length:
        """The extent along an axis."""
        return self.high.at(axis) - self.low.at(axis)

    def middle(self, axis: Axis) -> Length:
        """The middle along an axis."""
        return (self.high.at(axis) + self.low.at(axis)) / 2

    def with_side(self, side: Side, value: Length) -> Box:
        """Give the box with one side put elsewhere."""
        if side.high:
            return Box(self.low, self.high.with_(side.axis, value))
        return Box(self.low.with_(side.axis, value), self.high)

    def grown(self, side: Side, by: Length) -> Box:
        """Give the box with one side moved outward (inward for a negative length)."""
        return self.with_side(side, self.side(side) + by * side.sign)

    def shifted(self, by: Point) -> Box:
        """Give the box moved."""
        return Box(self.low + by, self.high + by)

    def overlap(self, other: Box) -> Box:
        """The common box; a size of zero or less along an axis means that they do not overlap there."""
        low = Point(*(max(self.low.at(a), other.low.at(a)) for a in Axis))
        high = Point(*(min(self.high.at(a), other.high.at(a)) for a in Axis))
        return Box(low, high)

    @property
    def empty(self) -> bool:
        """Whether the box has no volume."""
        return any(self.size(axis) <= ZERO for axis in Axis)


@dataclass(frozen=True, slots=True)
class Pose:
    """A quarter-turn rotation, then a move: ``frame = turn · part + move``.

    ``turn`` is three rows of a signed permutation matrix with determinant +1.
    """

    turn: tuple[tuple[int, int, int], tuple[int, int, int], tuple[int, int, int]]
    move: Point

    def point(self, point: Point) -> Point:
        """Carry a point of the part into the frame."""
        turned = Point(*(sum((point.at(axis) * row[axis.value] for axis in Axis), ZERO) for row in self.turn))
        return turned + self.move

    def side(self, side: Side) -> Side:
        """Give the side of the frame that a side of the part faces."""
        for row_index, row in enumerate(self.turn):
            factor = row[side.axis.value]
            if factor:
                return Side.of(Axis(row_index), (factor > 0) == side.high)
        raise AssertionError("a turn always carries a side somewhere")

    def box(self, box: Box) -> Box:
        """Carry a box of the part into the frame."""
        one, two = self.point(box.low), self.point(box.high)
        return Box(
            Point(*(min(one.at(a), two.at(a)) for a in Axis)),
            Point(*(max(one.at(a), two.at(a)) for a in Axis)),
        )


IDENTITY_TURN = ((1, 0, 0), (0, 1, 0), (0, 0, 1))


Direction: TypeAlias = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Stance:
    """How something solved upright really stands: ``frame = rows · upright + move``, millimetres.

    ``rows`` is a rotation by any angle. Leaning pieces, and pieces in another position than the one
    described, have a stance; everything exact about them is worked out upright.
    """

    rows: tuple[Direction, Direction, Direction]
    move: Direction

    def point(self, point: Direction) -> Direction:
        """Carry a point, in millimetres."""
        turned = self.direction(point)
        return turned[0] + self.move[0], turned[1] + self.move[1], turned[2] + self.move[2]

    def direction(self, way: Direction) -> Direction:
        """Carry a direction."""
        across, deep, up = (sum(row[k] * way[k] for k in range(3)) for row in self.rows)
        return across, deep, up

    def back(self) -> Stance:
        """The stance that undoes this one."""
        (a, b, c), (d, e, f), (g, h, i) = self.rows
        undone = Stance(((a, d, g), (b, e, h), (c, f, i)), (0.0, 0.0, 0.0))
        x, y, z = undone.direction(self.move)
        return Stance(undone.rows, (-x, -y, -z))

    def after(self, first: Stance) -> Stance:
        """The stance that is ``first`` and then this one."""
        columns = [self.direction((row0, row1, row2)) for row0, row1, row2 in zip(*first.rows, strict=True)]
        rows = tuple(zip(*columns, strict=True))
        return Stance(rows, self.point(first.move))  # type: ignore[arg-type]

    def bounds(self, box: Box) -> Box:
        """The box square to the frame that holds a box once it stands so; to a nanometre."""
        corners = [
            self.point((float(x), float(y), float(z)))
            for x in (box.low.across, box.high.across)
            for y in (box.low.deep, box.high.deep)
            for z in (box.low.up, box.high.up)
        ]
        low = Point(*(to_nanometre(min(corner[k] for corner in corners)) for k in range(3)))
        high = Point(*(to_nanometre(max(corner[k] for corner in corners)) for k in range(3)))
        return Box(low, high)


def unit(side: Side) -> Direction:
    """The way a side faces."""
    across, deep, up = (float(side.sign) if axis is side.axis else 0.0 for axis in Axis)
    return across, deep, up


def nearest_side(way: Direction) -> Side:
    """The side that faces most nearly that way."""
    return max(Side, key=lambda side: (round(way[side.axis.value] * side.sign, 9), -side.axis.value))


def to_nanometre(value: float) -> Length:
    """Give millimetres worked out with angles or roots as a length on a grid of one nanometre."""
    return Length(Fraction(round(value * 1_000_000), 1_000_000))


def turn_about(way: Direction, degrees: float, through: Direction) -> Stance:
    """Give the turn about a line, anticlockwise when the line points at the eye (Rodrigues' formula)."""
    size = math.sqrt(sum(part * part for part in way))
    x, y, z = (part / size for part in way)
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    t = 1.0 - c
    rows = (
        (c + x * x * t, x * y * t - z * s, x * z * t + y * s),
        (y * x * t + z * s, c + y * y * t, y * z * t - x * s),
        (z * x * t - y * s, z * y * t + x * s, c + z * z * t),
    )
    turned = Stance(rows, (0.0, 0.0, 0.0)).direction(through)
    return Stance(rows, (through[0] - turned[0], through[1] - turned[1], through[2] - turned[2]))

"""Quarter turns and mirrorings of operations, and signatures by which equal pieces are known.

A transform is a signed permutation of the axes, then a move. Determinant +1 is a turn,
-1 a mirroring.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cache
from itertools import permutations, product
from typing import TypeAlias

from plangen.joinery.cuts import (
    Arc,
    BoreCut,
    BoxCut,
    Curve,
    Cut,
    Line,
    Loop,
    PlaneCut,
    PrismCut,
    RoundCut,
    Segment,
    plane_axes,
)
from plangen.joinery.operation import Corner, Feature, Operation, Repeat, Span
from plangen.joinery.space import IDENTITY_TURN, Axis, Box, Direction, Point, Pose, Side, Stance
from plangen.units import ZERO, Length

Turn: TypeAlias = tuple[tuple[int, int, int], tuple[int, int, int], tuple[int, int, int]]
Signature: TypeAlias = tuple[object, ...]


@dataclass(frozen=True, slots=True)
class Transform:
    """``image = turn · point + move``; like a pose, but it may mirror."""

    turn: Turn
    move: Point

    @property
    def pose(self) -> Pose:
        """The same as a pose (meaningful for turns)."""
        return Pose(self.turn, self.move)

    @property
    def mirrors(self) -> bool:
        """Whether it makes a left piece a right one."""
        return determinant(self.turn) < 0

    def point(self, point: Point) -> Point:
        """The image of a point."""
        return self.pose.point(point)

    def box(self, box: Box) -> Box:
        """The image of a box."""
        return self.pose.box(box)

    def side(self, side: Side) -> Side:
        """The image of a side."""
        return self.pose.side(side)

    def axis(self, axis: Axis) -> Axis:
        """The axis that an axis is carried onto."""
        return self.side(Side.of(axis, True)).axis


def composed(second: Transform, first: Transform) -> Transform:
    """Give the transform that is the first and then the second."""
    return Transform(after(second.turn, first.turn), second.point(first.move))


UNMOVED = Transform(IDENTITY_TURN, Point(ZERO, ZERO, ZERO))


def carried_stance(stance: Stance, by: Transform) -> Stance:
    """Give how something stands once it is carried along: seen in a mirror it leans the other way."""
    rows = [[float(value) for value in row] for row in by.turn]
    there = _times(rows, _times(stance.rows, list(zip(*rows, strict=True))))
    turned_rows = Stance((there[0], there[1], there[2]), (0.0, 0.0, 0.0))
    move = by.move.floats()
    about = turned_rows.direction(move)
    shift = tuple(sum(row[k] * stance.move[k] for k in range(3)) for row in rows)
    across, deep, up = (shift[k] + move[k] - about[k] for k in range(3))
    return Stance(turned_rows.rows, (across, deep, up))


def _times(one: Sequence[Sequence[float]], two: Sequence[Sequence[float]]) -> list[Direction]:
    found = []
    for row in one:
        first, second, third = (sum(row[k] * two[k][column] for k in range(3)) for column in range(3))
        found.append((first, second, third))
    return found


def moved(by: Point) -> Transform:
    """Give the transform that only moves."""
    return Transform(IDENTITY_TURN, by)


def determinant(turn: Turn) -> int:
    """+1 for a turn, -1 for a mirroring."""
    (a, b, c), (d, e, f), (g, h, i) = turn
    return a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g)


def after(second: Turn, first: Turn) -> Turn:
    """Give the turn that is the first and then the second."""
    rows = tuple(
        tuple(sum(second[row][k] * first[k][column] for k in range(3)) for column in range(3))
        for row in range(3)
    )
    return rows  # type: ignore[return-value]


def inverse(turn: Turn) -> Turn:
    """Give the turn that undoes one: its rows are the columns."""
    return tuple(zip(*turn, strict=True))  # type: ignore[return-value]


def mirroring(axis: Axis) -> Turn:
    """Give the mirroring that reverses an axis."""
    rows = tuple(
        tuple((-1 if row == axis.value else 1) * (row == column) for column in range(3)) for row in range(3)
    )
    return rows  # type: ignore[return-value]


@cache
def all_turns() -> tuple[Turn, ...]:
    """All 48 signed permutations, the plainest first: turns before mirrorings, few reversals."""
    found: list[Turn] = []
    for order in permutations(range(3)):
        for signs in product((1, -1), repeat=3):
            rows = tuple(
                tuple(signs[row] if column == order[row] else 0 for column in range(3)) for row in range(3)
            )
            found.append(rows)  # type: ignore[arg-type]
    return tuple(sorted(found, key=lambda t: (determinant(t) < 0, -sum(t[k][k] for k in range(3)), t)))


def box_onto_box(turn: Turn, source: Box, target: Box) -> Transform | None:
    """Give the transform with this turn that carries one box onto another, if the sizes agree."""
    image = Pose(turn, Point(ZERO, ZERO, ZERO)).box(source)
    if any(image.size(axis) != target.size(axis) for axis in Axis):
        return None
    return Transform(turn, target.low - image.low)


def transform_cut(cut: Cut, by: Transform) -> Cut:
    """Carry a cut."""
    if isinstance(cut, BoxCut):
        return BoxCut(by.box(cut.box))
    if isinstance(cut, RoundCut):
        return RoundCut(by.point(cut.mouth), by.side(cut.side), cut.diameter, cut.depth)
    if isinstance(cut, PlaneCut):
        return PlaneCut(by.point(cut.through), turned(cut.normal, by.turn))
    if isinstance(cut, BoreCut):
        return BoreCut(by.point(cut.mouth), turned(cut.way, by.turn), cut.diameter, cut.depth)
    ends = [
        by.point(_lift(cut.axis, (ZERO, ZERO), level)).at(by.axis(cut.axis)) for level in (cut.low, cut.high)
    ]
    plane = _PlaneMap(cut.axis, by)
    return PrismCut(by.axis(cut.axis), min(ends), max(ends), tuple(plane.loop(loop) for loop in cut.loops))


def turned(way: Direction, turn: Turn) -> Direction:
    """Carry a direction."""
    across, deep, up = (sum(row[k] * way[k] for k in range(3)) for row in turn)
    return across, deep, up


def _lift(axis: Axis, at: tuple[Length, Length], level: Length) -> Point:
    first, second = plane_axes(axis)
    point = Point(ZERO, ZERO, ZERO).with_(axis, level)
    return point.with_(first, at[0]).with_(second, at[1])


class _PlaneMap:
    """Carries two-dimensional outlines that are square to an axis."""

    def __init__(self, axis: Axis, by: Transform) -> None:
        self.axis = axis
        self.by = by
        self.image = by.axis(axis)
        origin = self.at((ZERO, ZERO))
        one = Length(ZERO.mm + 1)
        first, second = self.at((one, ZERO)), self.at((ZERO, one))
        turn = (first[0] - origin[0]).mm * (second[1] - origin[1]).mm
        turn -= (first[1] - origin[1]).mm * (second[0] - origin[0]).mm
        self.reversed = turn < 0

    def at(self, point: tuple[Length, Length]) -> tuple[Length, Length]:
        image = self.by.point(_lift(self.axis, point, ZERO))
        first, second = plane_axes(self.image)
        return image.at(first), image.at(second)

    def segment(self, segment: Segment) -> Segment:
        if isinstance(segment, Line):
            return Line(self.at(segment.to))
        if isinstance(segment, Arc):
            return Arc(self.at(segment.to), segment.radius, segment.left != self.reversed)
        return Curve(tuple(self.at(point) for point in segment.through))

    def loop(self, loop: Loop) -> Loop:
        return Loop(self.at(loop.start), tuple(self.segment(segment) for segment in loop.segments))


def transform_feature(feature: Feature, by: Transform) -> Feature:
    """Carry a feature; a row still grows upward along its axis."""
    spans: dict[Axis, Span] = {}
    repeats: list[Repeat] = []
    reach = {repeat.axis: repeat.pitch * (repeat.number - 1) for repeat in feature.repeat}
    for axis, span in feature.spans:
        image = by.axis(axis)
        one, two = (by.point(_on(axis, value)).at(image) for value in (span.low, span.high))
        low, high = min(one, two), max(one, two)
        if axis in reach and not by.side(Side.of(axis, True)).high:
            low, high = low - reach[axis], high - reach[axis]
        spans[image] = Span(low, high)
    for repeat in feature.repeat:
        repeats.append(replace(repeat, axis=by.axis(repeat.axis)))
    corners = feature.corners
    if corners:
        plane = _PlaneMap(feature.side.axis, by)
        corners = tuple(Corner(plane.at(corner.at), corner.radius) for corner in corners)
    return replace(
        feature,
        side=by.side(feature.side),
        spans=tuple((axis, spans[axis]) for axis in Axis if axis in spans),
        datum=tuple(by.side(side) for side in feature.datum),
        repeat=tuple(repeats),
        corners=corners,
        way=turned(feature.way, by.turn) if feature.way is not None else None,
    )


def _on(axis: Axis, value: Length) -> Point:
    return Point(ZERO, ZERO, ZERO).with_(axis, value)


def transform_operation(operation: Operation, by: Transform) -> Operation:
    """Carry an operation with its cuts and features; its words are said anew later."""
    return replace(
        operation,
        side=by.side(operation.side),
        cuts=tuple(transform_cut(cut, by) for cut in operation.cuts),
        features=tuple(transform_feature(feature, by) for feature in operation.features),
        adds=tuple(replace(added, side=by.side(added.side)) for added in operation.adds),
        seats=tuple(by.point(seat) for seat in operation.seats),
    )


def signature(operations: tuple[Operation, ...], blank: Box) -> Signature:
    """Give what makes two worked blanks equal: kinds and shapes, whatever order they were said in.

    Coordinates are rounded to a nanometre, which is the grid of everything computed with roots.
    """
    return tuple(sorted((_operation_signature(operation, blank) for operation in operations), key=repr))


def _operation_signature(operation: Operation, blank: Box) -> Signature:
    sided = any(feature.countersink for feature in operation.features)
    cuts = tuple(sorted((_cut_signature(cut, blank, sided) for cut in operation.cuts), key=repr))
    adds = tuple(sorted((added.side.word, _number(added.thickness), added.item) for added in operation.adds))
    seats = () if operation.cuts else tuple(sorted(_numbers(seat) for seat in operation.seats))
    return (operation.kind, operation.joint or "", cuts, adds, seats)


def _number(length: Length) -> int:
    return round(length.mm * 1_000_000)


def _coarse(value: float) -> int:
    """A micrometre grid for what comes of angles, its steps shifted off the marks of rules and tapes."""
    return round((value - 0.000317) * 1_000)


def _numbers(point: Point) -> tuple[int, ...]:
    return tuple(_number(point.at(axis)) for axis in Axis)


def _cut_signature(cut: Cut, blank: Box, sided: bool) -> Signature:
    if isinstance(cut, BoxCut):
        inside = cut.box.overlap(blank)
        return ("box", _numbers(inside.low), _numbers(inside.high))
    if isinstance(cut, RoundCut):
        axis = cut.side.axis
        mouth, floor = cut.mouth.at(axis), cut.mouth.at(axis) - cut.depth * cut.side.sign
        through = min(mouth, floor) <= blank.low.at(axis) and max(mouth, floor) >= blank.high.at(axis)
        if through and not sided:  # the same from either face, unless a head is let in at one
            there = tuple(_number(cut.mouth.at(other)) for other in plane_axes(axis))
            return ("through", axis.word, there, _number(cut.diameter))
        return ("round", _numbers(cut.mouth), cut.side.word, _number(cut.diameter), _number(cut.depth))
    if isinstance(cut, PlaneCut):
        offset = sum(n * p for n, p in zip(cut.normal, cut.through.floats(), strict=True))
        return ("plane", _coarse(offset), tuple(map(_coarse, cut.normal)))
    if isinstance(cut, BoreCut):
        at = tuple(map(_coarse, cut.mouth.floats()))
        return ("bore", at, tuple(map(_coarse, cut.way)), _number(cut.diameter), _number(cut.depth))
    low = max(cut.low, blank.low.at(cut.axis))
    high = min(cut.high, blank.high.at(cut.axis))
    loops = tuple(sorted((_loop_signature(loop) for loop in cut.loops), key=repr))
    return ("prism", cut.axis.word, _number(low), _number(high), loops)


def _loop_signature(loop: Loop) -> Signature:
    edges: list[Signature] = []
    here = loop.start
    for segment in loop.segments:
        if isinstance(segment, Curve):
            points = [here, *segment.through]
            numbers = [tuple(map(_number, point)) for point in points]
            edges.append(("curve", min(tuple(numbers), tuple(reversed(numbers)))))
            here = segment.through[-1]
            continue
        ends = (tuple(map(_number, here)), tuple(map(_number, segment.to)))
        if isinstance(segment, Arc):
            forward = ends[0] <= ends[1]
            edges.append(("arc", min(ends), max(ends), _number(segment.radius), segment.left == forward))
        elif ends[0] != ends[1]:
            edges.append(("line", min(ends), max(ends)))
        here = segment.to
    return tuple(sorted(edges, key=repr))

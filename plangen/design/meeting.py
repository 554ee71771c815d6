"""How two boxes meet: face to face, overlapping, across a gap that hardware bridges, or at a slope."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from plangen.design.leaning import CentreLine, stands_off
from plangen.joinery.body import Meeting, Slope
from plangen.joinery.piece import Piece
from plangen.joinery.space import Axis, Box, Direction, Point, Side, Stance, to_nanometre
from plangen.units import ZERO, Length

ROUNDING = 1e-6  # mm
CLOSE = 0.02  # mm within which the end of a middle line lies on a face


def touching(one: Box, two: Box) -> tuple[Side, Box] | None:
    """The side of the first box that the second touches, and the touching area; None when they are apart."""
    common = one.overlap(two)
    flat = [axis for axis in Axis if not common.size(axis)]
    if len(flat) != 1 or any(common.size(axis) < ZERO for axis in Axis):
        return None
    return Side.of(flat[0], one.high.at(flat[0]) == two.low.at(flat[0])), common


def may_touch(boxes: Sequence[Box]) -> Iterator[tuple[int, int]]:
    """Places in the list of every pair that touches, in order, and of few that do not: told in floats."""
    low = np.array([box.low.floats() for box in boxes]).reshape(-1, 3)
    high = np.array([box.high.floats() for box in boxes]).reshape(-1, 3)
    for index in range(len(boxes)):
        common = np.minimum(high[index], high[index + 1 :]) - np.maximum(low[index], low[index + 1 :])
        least = common.min(axis=1)
        for other in np.flatnonzero(np.abs(least) < ROUNDING):
            yield index, index + 1 + int(other)


def overlapping(one: Box, two: Box) -> tuple[Side, Box] | None:
    """The common box of two that overlap, with a side for form's sake."""
    common = one.overlap(two)
    return None if common.empty else (Side.FRONT, common)


def facing(one: Box, two: Box, clearance: Length) -> tuple[Side, Box] | None:
    """The side of the first box that faces the second across a gap, and the facing area on that side."""
    common = one.overlap(two)
    apart = [axis for axis in Axis if common.size(axis) <= ZERO]
    if len(apart) != 1 or -common.size(apart[0]) != clearance:
        return None
    side = Side.of(apart[0], one.high.at(apart[0]) <= two.low.at(apart[0]))
    return side, common.with_side(side, one.side(side)).with_side(side.opposite, one.side(side))


@dataclass(frozen=True)
class Sloping:
    """Where a leaning piece's middle line ends on a face of another piece."""

    side: Side  # of the other piece, upright
    mouth: Direction  # mm, as that piece stands upright
    way: Direction  # into it
    end: Side  # of the leaning piece, upright
    face: Direction  # normal of the face, as the leaning piece stands upright
    tip: Direction  # mm, as the leaning piece stands upright

    def meeting(self, one: Piece, two: Piece) -> Meeting:
        """The meeting of the two as they are."""
        sizes = {axis: two.shoulders.size(axis) for axis in Axis if axis is not self.end.axis}
        mouth, tip = (Point(*(to_nanometre(value) for value in at)) for at in (self.mouth, self.tip))
        back = (tip.at(self.end.axis) - two.shoulders.side(self.end)) * self.end.sign
        assert stands_off(self.face, self.end.axis, sizes) >= 0
        slope = Slope(mouth, self.way, self.end, back, self.face, tip)
        half = max(sizes.values(), key=lambda size: size.mm) / 2
        rect = Box(
            Point(*(mouth.at(axis) - (ZERO if axis is self.side.axis else half) for axis in Axis)),
            Point(*(mouth.at(axis) + (ZERO if axis is self.side.axis else half) for axis in Axis)),
        )
        return Meeting(one, two, self.side, rect, slope=slope)


def sloping(stood: tuple[Box, Stance], line: CentreLine) -> Sloping | None:
    """Find the face of a piece on which a middle line ends, going into it; None when there is none."""
    box, stance = stood
    back, upright = stance.back(), line.stance.back()
    for end, tip in line.tips.items():
        other = line.tips[end.opposite]
        size = sum((a - b) ** 2 for a, b in zip(tip, other, strict=True)) ** 0.5
        x, y, z = ((a - b) / size for a, b in zip(tip, other, strict=True))
        way = back.direction((x, y, z))
        mouth = back.point(tip)
        for side in Side:
            if (
                abs(mouth[side.axis.value] - float(box.side(side))) > CLOSE
                or way[side.axis.value] * side.sign > -0.1
            ):
                continue
            inside = all(
                float(box.low.at(axis)) < mouth[axis.value] < float(box.high.at(axis))
                for axis in Axis
                if axis is not side.axis
            )
            if inside:
                normal = [0.0, 0.0, 0.0]
                normal[side.axis.value] = float(side.sign)
                face = upright.direction(stance.direction((normal[0], normal[1], normal[2])))
                return Sloping(side, mouth, way, end, face, upright.point(tip))
    return None

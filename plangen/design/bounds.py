"""What bounds pieces: all of several, or a leaning one by the corners left once its ends are sawn."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations

from plangen.joinery.cuts import PlaneCut
from plangen.joinery.operation import Operation
from plangen.joinery.space import Axis, Box, Direction, Point, Side, Stance, to_nanometre

Plane = tuple[Direction, float]  # unit normal out of the piece, distance from the origin
NEAR = 1e-6  # mm within which a corner lies on a plane


def bounds(box: Box, operations: Sequence[Operation], stance: Stance) -> Box:
    """Give what bounds a piece that stands so, to a nanometre.

    ``box`` and ``operations`` are upright; of what is cut away only plane cuts count.
    """
    corners = [stance.point(corner) for corner in _corners(box, operations)]
    low = Point(*(to_nanometre(min(corner[k] for corner in corners)) for k in range(3)))
    high = Point(*(to_nanometre(max(corner[k] for corner in corners)) for k in range(3)))
    return Box(low, high)


def _corners(box: Box, operations: Sequence[Operation]) -> Iterator[Direction]:
    planes = list(_planes(box, operations))
    for three in combinations(planes, 3):
        corner = _meet(*three)
        if corner is not None and all(_outside(corner, plane) <= NEAR for plane in planes):
            yield corner


def _planes(box: Box, operations: Sequence[Operation]) -> Iterator[Plane]:
    for axis in Axis:
        x, y, z = (1.0 if other is axis else 0.0 for other in Axis)
        yield (x, y, z), float(box.high.at(axis))
        yield (-x, -y, -z), -float(box.low.at(axis))
    for operation in operations:
        for cut in operation.cuts:
            if isinstance(cut, PlaneCut):
                yield cut.normal, sum(n * p for n, p in zip(cut.normal, cut.through.floats(), strict=True))


def _outside(corner: Direction, plane: Plane) -> float:
    normal, offset = plane
    return sum(n * c for n, c in zip(normal, corner, strict=True)) - offset


def _meet(one: Plane, two: Plane, three: Plane) -> Direction | None:
    """Where three planes meet, by Cramer's rule; None where they do not meet in a point."""
    rows = (one[0], two[0], three[0])
    offsets = (one[1], two[1], three[1])
    whole = _determinant(rows)
    if abs(whole) < 1e-9:
        return None
    found = []
    for column in range(3):
        replaced = tuple(
            tuple(offset if k == column else row[k] for k in range(3))
            for row, offset in zip(rows, offsets, strict=True)
        )
        found.append(_determinant(replaced) / whole)
    return found[0], found[1], found[2]


def _determinant(rows: Sequence[Sequence[float]]) -> float:
    (a, b, c), (d, e, f), (g, h, i) = rows
    return a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g)


def bounding(boxes: Sequence[Box]) -> Box:
    """The box that holds all of some boxes."""
    box = boxes[0]
    for other in boxes[1:]:
        for side in Side:
            if (other.side(side) - box.side(side)).mm * side.sign > 0:
                box = box.with_side(side, other.side(side))
    return box

"""Space measured without a solid modeller: boxes by exact cells, round holes along their own line."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Sequence
from fractions import Fraction
from itertools import pairwise, product

from plangen.design.model import Copy, Part
from plangen.joinery.cuts import BoxCut, RoundCut
from plangen.joinery.space import Axis, Box

Bounds = tuple[tuple[Fraction, Fraction], ...]  # low and high across, deep and up, mm


def bounds(box: Box) -> Bounds:
    return tuple((box.low.at(axis).mm, box.high.at(axis).mm) for axis in Axis)


def common(one: Bounds, two: Bounds) -> Bounds | None:
    """The room that two boxes share; None where they do not."""
    shared = tuple((max(a, c), min(b, d)) for (a, b), (c, d) in zip(one, two, strict=True))
    return shared if all(low < high for low, high in shared) else None


def room_left(box: Bounds, taken: Iterable[Bounds]) -> Fraction:
    """The volume of a box that none of others takes, exactly, by cutting it into cells; mm3."""
    inside = [shared for other in taken if (shared := common(box, other)) is not None]
    edges = [sorted({*box[axis], *(at for other in inside for at in other[axis])}) for axis in range(3)]
    left = Fraction(0)
    for cell in product(*(list(pairwise(line)) for line in edges)):
        if not any(
            all(low <= a and b <= high for (a, b), (low, high) in zip(cell, other, strict=True))
            for other in inside
        ):
            left += math.prod((b - a for a, b in cell), start=Fraction(1))
    return left


def box_cuts(part: Part) -> list[Box]:
    """The boxes that are cut from a part, in its own frame."""
    return [cut.box for operation in part.operations for cut in operation.cuts if isinstance(cut, BoxCut)]


def shared_room(one: Copy, of_one: Part, two: Copy, of_two: Part) -> Fraction:
    """The volume that two copies both take, mm3: at most that, as their round holes are not counted."""
    both = common(bounds(one.box), bounds(two.box))
    if both is None:
        return Fraction(0)
    cut = [bounds(one.pose.box(box)) for box in box_cuts(of_one)]
    cut += [bounds(two.pose.box(box)) for box in box_cuts(of_two)]
    return room_left(both, cut)


def removed(part: Part) -> tuple[float, float]:
    """What is cut from a part whose cuts are boxes and round holes: by boxes, and by holes besides; mm3."""
    blank, boxes = bounds(part.blank), [bounds(box) for box in box_cuts(part)]
    whole = math.prod((high - low for low, high in blank), start=Fraction(1))
    return float(whole - room_left(blank, boxes)), sum(_bored(blank, boxes, line) for line in _lines(part))


Hole = tuple[Fraction, Fraction, Fraction]  # from, to along the line; radius
Line = tuple[int, tuple[Fraction, Fraction], list[Hole]]  # axis, where it is square to that, its holes


def _lines(part: Part) -> list[Line]:
    found: dict[tuple[int, tuple[Fraction, Fraction]], list[Hole]] = defaultdict(list)
    for operation in part.operations:
        for cut in operation.cuts:
            if isinstance(cut, RoundCut):
                axis = cut.side.axis
                x, y = (cut.mouth.at(other).mm for other in Axis if other is not axis)
                mouth = cut.mouth.at(axis).mm
                end = mouth - cut.depth.mm * cut.side.sign
                found[axis.value, (x, y)].append((min(mouth, end), max(mouth, end), cut.diameter.mm / 2))
    return [(axis, centre, holes) for (axis, centre), holes in found.items()]


def _bored(blank: Bounds, boxes: Sequence[Bounds], line: Line) -> float:
    """What the holes on one line take from the wood that the boxes have left."""
    axis, centre, holes = line
    across = [other for other in range(3) if other != axis]
    marks = {
        *blank[axis],
        *(at for hole in holes for at in hole[:2]),
        *(at for box in boxes for at in box[axis]),
    }
    volume = 0.0
    for low, high in pairwise(sorted(marks)):
        radius = max((radius for a, b, radius in holes if a <= low and high <= b), default=None)
        if radius is None or low < blank[axis][0] or high > blank[axis][1]:
            continue
        here = [box for box in boxes if box[axis][0] <= low and high <= box[axis][1]]
        covered = [_covers(box, across, centre, radius) for box in here]
        if not any(covered):
            volume += math.pi * float(radius) ** 2 * float(high - low)
    return volume


def _covers(box: Bounds, across: Sequence[int], centre: tuple[Fraction, Fraction], radius: Fraction) -> bool:
    """Whether a box takes all of a line of holes sideways; it may not take a part of it."""
    gaps = [
        (centre[index] - radius - box[axis][0], box[axis][1] - centre[index] - radius)
        for index, axis in enumerate(across)
    ]
    covered = all(gap >= 0 for pair in gaps for gap in pair)
    beside = any(gap <= -2 * radius for pair in gaps for gap in pair)
    assert covered or beside, "a hole is cut by the side of a box; measure it otherwise"
    return covered

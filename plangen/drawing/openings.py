"""The clear heights between level pieces: the room to put things in that a buyer asks about."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from plangen.design.model import Copy, Design
from plangen.joinery.space import Axis, Box
from plangen.solids.model import Floats
from plangen.units import Length

_LEAST_OPENING = 50.0  # mm at full size: less is no opening to put things in
_NEAR = 0.01  # mm: nearer than this, exact lengths decide


@dataclass(frozen=True, slots=True)
class Opening:
    """A clear height between two level pieces, seen from the front: where it is, all lengths exact."""

    low: Length
    high: Length
    left: Length
    right: Length


def clear_openings(design: Design) -> tuple[Opening, ...]:
    """Give the clear heights between level pieces that lie one right above the other, lowest first.

    Pieces whose thickness is upright count as level; loose ones, such as shelves on pins, do not. An
    opening that another piece blocks for more than half of its depth is
    none, nor is one of which a piece in front hides an end. Lengths are
    those of the design, never measured from a picture.
    """
    held = {name for joint in design.joints for c in joint.contacts for name in (c.fixed, c.moving)}
    level = [
        copy
        for part in design.parts
        if part.thick is Axis.UP
        for copy in part.copies
        if copy.name in held and copy.stance is None
    ]
    level.sort(key=lambda copy: (copy.box.low.up, copy.name))
    copies = list(design.copies.values())
    lows, highs = _corners([copy.box for copy in copies])
    found: list[Opening] = []
    for one, two in _above_each_other(level):
        low, high = one.box.high.up, two.box.low.up
        common = one.shoulders.overlap(two.shoulders)
        across, deep = common.size(Axis.ACROSS), common.size(Axis.DEEP)
        narrow = min(one.box.size(Axis.ACROSS), two.box.size(Axis.ACROSS))
        shallow = min(one.box.size(Axis.DEEP), two.box.size(Axis.DEEP))
        if float(high - low) < _LEAST_OPENING or across * 2 < narrow or deep * 2 < shallow:
            continue
        room = Box(common.low.with_(Axis.UP, low), common.high.with_(Axis.UP, high))
        within = (lows < np.array(room.high.floats()) + _NEAR) & (highs > np.array(room.low.floats()) - _NEAR)
        if any(
            _blocks(copies[at], one, two, room, held, design) for at in np.flatnonzero(within.all(axis=1))
        ):
            continue
        beside = within[:, Axis.ACROSS.value] & within[:, Axis.UP.value]
        if any(_covers(copies[at], one, two) for at in np.flatnonzero(beside)):
            continue
        found.append(Opening(low, high, common.low.across, common.high.across))
    return tuple(found)


def _corners(boxes: Sequence[Box]) -> tuple[Floats, Floats]:
    """Give the low and the high corners of boxes in mm, (n, 3) each."""
    ends = np.array([(box.low.floats(), box.high.floats()) for box in boxes], dtype=np.float64)
    ends = ends.reshape(-1, 2, 3)
    return ends[:, 0], ends[:, 1]


def _above_each_other(level: Sequence[Copy]) -> Iterator[tuple[Copy, Copy]]:
    """Give the pairs, the lower first, that may lie one right above the other; floats leave out the rest."""
    lows, highs = _corners([copy.shoulders for copy in level])
    tops = np.array([float(copy.box.high.up) for copy in level])
    feet = np.array([float(copy.box.low.up) for copy in level])
    for number, one in enumerate(level):
        later = slice(number + 1, None)
        common = np.minimum(highs[later], highs[number]) - np.maximum(lows[later], lows[number])
        met = (common[:, :2] > -_NEAR).all(axis=1) & (feet[later] - tops[number] > _LEAST_OPENING - _NEAR)
        for other in np.flatnonzero(met):
            yield one, level[number + 1 + int(other)]


def _blocks(other: Copy, one: Copy, two: Copy, room: Box, held: Collection[str], design: Design) -> bool:
    if other in (one, two) or other.name not in held:
        return False
    shared = room.overlap(other.box)
    if shared.empty:
        return False
    level = design.part_of[other.name].thick is Axis.UP
    wide = shared.size(Axis.ACROSS) * 2 > room.size(Axis.ACROSS)
    return wide and (level or shared.size(Axis.DEEP) * 2 > room.size(Axis.DEEP))


def _covers(other: Copy, one: Copy, two: Copy) -> bool:
    """Tell whether a piece stands before the opening and hides where it starts or ends."""
    common = one.shoulders.overlap(two.shoulders)
    if other in (one, two) or other.box.high.deep > max(one.box.low.deep, two.box.low.deep):
        return False
    if other.box.overlap(common).size(Axis.ACROSS) * 2 < common.size(Axis.ACROSS):
        return False
    return any(other.box.low.up < at < other.box.high.up for at in (one.box.high.up, two.box.low.up))

"""Whether points lie in the wood, from a part's blank and cuts alone: no mesh, no solid modeller.

A hole is a true cylinder here, and an arc has a thousand chords to its circle. Lengths are millimetres.
"""

from __future__ import annotations

import math
from typing import Any, TypeAlias

import numpy as np
import shapely
from numpy.typing import NDArray

from plangen.design.model import Copy, Part
from plangen.joinery.cuts import Arc, BoreCut, BoxCut, Cut, Line, Loop, PlaneCut, PrismCut, RoundCut
from plangen.joinery.space import Axis, Box, Side

Floats: TypeAlias = NDArray[np.float64]
Flags: TypeAlias = NDArray[np.bool_]
CHORDS = 1000  # to a full circle


def corners(box: Box) -> tuple[Floats, Floats]:
    return np.array(box.low.floats()), np.array(box.high.floats())


def spread(box: Box, number: int) -> Floats:
    """Points spread evenly through a box: Halton's sequence in the bases 2, 3 and 5.

    It is shifted by irrational shares, so that no point falls into a face that is at a round fraction.
    """
    low, high = corners(box)
    shares = [(_halton(base, number) + math.sqrt(base)) % 1.0 for base in (2, 3, 5)]
    return low + np.column_stack(shares) * (high - low)


def _halton(base: int, number: int) -> Floats:
    """The whole numbers from 1, their digits mirrored at the point."""
    left, found, place = np.arange(1, number + 1), np.zeros(number), 1.0
    while np.any(left):
        place /= base
        found += left % base * place
        left //= base
    return found


def in_wood(part: Part, points: Floats) -> Flags:
    """Which of the points (n, 3), in the part's own frame, lie in the part; TypeError for a spline."""
    low, high = corners(part.blank)
    kept: Flags = np.all((points > low) & (points < high), axis=1)
    for operation in part.operations:
        for cut in operation.cuts:
            kept &= ~_taken(cut, part.blank, points)
    return kept


def own_frame(copy: Copy, points: Floats) -> Floats:
    """Carry points of the frame into the frame of the part that stands there."""
    if copy.stance is not None:
        points = (points - np.array(copy.stance.move)) @ np.array(copy.stance.rows)
    return (points - np.array(copy.pose.move.floats())) @ np.array(copy.pose.turn, dtype=float)


def slope_of(cut: BoreCut, blank: Box) -> float:
    """How squarely a drill enters: the sine of its angle to the face that its mouth lies in.

    Of two faces at an edge it is the one that is met more squarely; for a mouth in no face, the one it faces.
    """
    met = [
        -cut.way[side.axis.value] * side.sign
        for side in Side
        if abs(float(blank.side(side)) - float(cut.mouth.at(side.axis))) < 1e-9
    ]
    return max((sine for sine in met if sine > 0.05), default=max(map(abs, cut.way)))


def _taken(cut: Cut, blank: Box, points: Floats) -> Flags:
    if isinstance(cut, BoxCut):
        low, high = corners(cut.box)
        return np.asarray(np.all((points > low) & (points < high), axis=1))
    if isinstance(cut, RoundCut):
        way = np.zeros(3)
        way[cut.side.axis.value] = -cut.side.sign
        return _bored(np.array(cut.mouth.floats()), way, cut, points, 0.0)
    if isinstance(cut, BoreCut):
        way = np.array(cut.way)
        # As far behind its mouth as the slope of the face lets the bit's rim reach.
        steep = slope_of(cut, blank)
        behind = float(cut.diameter) / 2 * math.sqrt(max(0.0, 1 / steep**2 - 1))
        return _bored(np.array(cut.mouth.floats()), way, cut, points, behind)
    if isinstance(cut, PlaneCut):
        return np.asarray((points - np.array(cut.through.floats())) @ np.array(cut.normal) > 0)
    assert isinstance(cut, PrismCut)
    first, second = (axis.value for axis in Axis if axis is not cut.axis)
    outer, *islands = (_ring(loop) for loop in cut.loops)
    shape = shapely.Polygon(outer, islands)
    at = points[:, cut.axis.value]
    inside = shapely.contains_xy(shape, points[:, first], points[:, second])
    return np.asarray(inside & (at > float(cut.low)) & (at < float(cut.high)))


def _bored(mouth: Floats, way: Floats, cut: Any, points: Floats, behind: float) -> Flags:
    from_mouth = points - mouth
    deep = from_mouth @ way
    off = np.linalg.norm(from_mouth - deep[:, None] * way, axis=1)
    return np.asarray((off < float(cut.diameter) / 2) & (deep > -behind - 1e-9) & (deep < float(cut.depth)))


def _ring(loop: Loop) -> list[tuple[float, float]]:
    here = (float(loop.start[0]), float(loop.start[1]))
    found = [here]
    for segment in loop.segments:
        if not isinstance(segment, Arc | Line):
            raise TypeError("a smooth curve is not told by its points alone")
        end = (float(segment.to[0]), float(segment.to[1]))
        if isinstance(segment, Arc):
            found += _arc(here, end, float(segment.radius), segment.left)
        found.append(end)
        here = end
    return found


def _arc(
    start: tuple[float, float], end: tuple[float, float], radius: float, left: bool
) -> list[tuple[float, float]]:
    """Points along the shorter arc, its ends left out."""
    half = math.dist(start, end) / 2
    sign = 1 if left else -1
    off = sign * math.sqrt(max(0.0, radius**2 - half**2)) / (2 * half)
    x = (start[0] + end[0]) / 2 - off * (end[1] - start[1])
    y = (start[1] + end[1]) / 2 + off * (end[0] - start[0])
    begin = math.atan2(start[1] - y, start[0] - x)
    sweep = sign * 2 * math.asin(min(1.0, half / radius))
    number = max(2, math.ceil(abs(sweep) / math.tau * CHORDS))
    angles = [begin + sweep * k / number for k in range(1, number)]
    return [(x + radius * math.cos(a), y + radius * math.sin(a)) for a in angles]

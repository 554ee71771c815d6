"""Which shapes are sawn to a line that neither square nor stop gives: those want a full-size pattern.

The rule looks at what is cut, never at what it is called. A curve, or a line aslant, that goes through
the part and opens its edge is followed by eye, so it gets a pattern. No pattern is wanted for what a tool
gives by itself: square cuts, holes, edges routed or planed, openings with the corners of a bit, a line at
45 degrees (combination square), and a mitre across the whole part at a whole or half degree (the saw's
scale). Ends that lean two ways get a wrap, unless they are round or too large. Common practice, no source.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from plangen.joinery.cuts import Arc, Line, Loop, PlaneCut, PrismCut, plane_axes
from plangen.joinery.operation import Feature, Form, Operation
from plangen.joinery.space import Axis, Box
from plangen.units import ZERO, Length, millimetres

WRAP_MOST = millimetres(150)  # two neighbouring faces of a wrap have to fit on any paper
BOARD = 3  # a part this many times as wide as thick shows no shape on its edges that a blade does not give
_GIVEN = (Form.EDGE, Form.ROUND, Form.HOLE, Form.MARK)
_ANGLE = 0.01  # degrees that count as none


def shaped_axes(operations: Sequence[Operation], blank: Box, runs: Axis, thick: Axis) -> tuple[Axis, ...]:
    """Give the axes along which one looks at shapes that want a pattern, the face's first."""
    wide = next(axis for axis in Axis if axis not in (runs, thick))
    looks = [thick] if blank.size(wide) >= blank.size(thick) * BOARD else [thick, wide]
    return tuple(
        axis
        for axis in looks
        if any(
            _is_shaped(cut, blank, runs)
            for operation in operations
            if not any(feature.form in _GIVEN for feature in operation.features)
            for cut in operation.cuts
            if isinstance(cut, PrismCut) and cut.axis is axis
        )
    )


def wrapped_ends(operations: Sequence[Operation], blank: Box, runs: Axis) -> tuple[PlaneCut, ...]:
    """Give the cuts that lean two ways and that a paper wrapped round the part shows, in order of work."""
    one, two = (axis for axis in Axis if axis is not runs)
    if blank.size(one) + blank.size(two) > WRAP_MOST:
        return ()
    rounds = [f for o in operations for f in o.features if f.form is Form.ROUND]
    return tuple(
        cut
        for operation in operations
        for feature in operation.features
        if feature.form is Form.PLANE and not _meets(feature, rounds, runs)
        for cut in operation.cuts
        if isinstance(cut, PlaneCut)
    )


def wants_pattern(operations: Sequence[Operation], blank: Box, runs: Axis, thick: Axis) -> bool:
    """Tell whether a part gets a full-size pattern unless its maker refuses it."""
    return bool(shaped_axes(operations, blank, runs, thick) or wrapped_ends(operations, blank, runs))


def _meets(feature: Feature, rounds: Sequence[Feature], runs: Axis) -> bool:
    here = feature.span(runs)
    return any(one.span(runs).low < here.high and here.low < one.span(runs).high for one in rounds)


def _is_shaped(cut: PrismCut, blank: Box, runs: Axis) -> bool:
    if cut.low > blank.low.at(cut.axis) or cut.high < blank.high.at(cut.axis):
        return False
    axes = plane_axes(cut.axis)
    points = [point for loop in cut.loops for point in _corners(loop)]
    opens = any(
        not blank.low.at(axis) < point[index] < blank.high.at(axis)
        for point in points
        for index, axis in enumerate(axes)
    )
    return opens and any(_follows(loop, blank, axes, runs) for loop in cut.loops)


def _corners(loop: Loop) -> Iterator[tuple[Length, Length]]:
    yield loop.start
    for segment in loop.segments:
        if isinstance(segment, Line):
            yield segment.to
        else:
            yield segment.to if isinstance(segment, Arc) else segment.through[-1]


def _follows(loop: Loop, blank: Box, axes: tuple[Axis, Axis], runs: Axis) -> bool:
    """Whether an edge of the loop has to be followed by eye: it is curved, or aslant at an odd angle."""
    here = loop.start
    for segment in loop.segments:
        if not isinstance(segment, Line):
            return True
        steps = {axis: abs(segment.to[index] - here[index]) for index, axis in enumerate(axes)}
        here = segment.to
        if all(step > ZERO for step in steps.values()) and not _by_a_stop(steps, blank, runs):
            return True
    return False


def _by_a_stop(steps: dict[Axis, Length], blank: Box, runs: Axis) -> bool:
    across = next(axis for axis in steps if axis is not runs)
    along = next(axis for axis in steps if axis is not across)
    angle = math.degrees(math.atan2(float(steps[along]), float(steps[across])))
    if abs(angle - 45.0) < _ANGLE:
        return True
    return steps[across] >= blank.size(across) and abs(2 * angle - round(2 * angle)) < 2 * _ANGLE

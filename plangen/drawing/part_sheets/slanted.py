"""Where a saw cut that leans two ways comes out at the long edges of its part, and how its saw is set."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from itertools import product
from typing import TypeVar

from plangen.design.model import Part
from plangen.joinery.angles import SawSettings, settings_of
from plangen.joinery.cuts import PlaneCut
from plangen.joinery.operation import Feature, Form, Operation, Span
from plangen.joinery.space import Axis, Point, Side, to_nanometre
from plangen.units import ZERO, Length

LEVEL = 1e-6  # of a unit normal, below which a cut is square that way
LEAST_FALL = 0.4  # mm; what falls less from corner to corner is not worth a figure


@dataclass(frozen=True, slots=True)
class Slant:
    """A plane across an end, where it lies on the part.

    ``tip`` is the coordinate along the end's axis where the part stays longest and the cut is on the
    wood, ``low`` and ``high`` how far it reaches. ``falls`` are what it falls from the tip over each
    face beside it: from, to, and the look that shows it. ``section`` is the extent of the wood along
    the other axes; ``round`` says that it is the circle in them. ``tip_at`` are the two sides that meet
    where the tip is, none on a round.
    """

    tip: Length
    low: Length
    high: Length
    falls: tuple[tuple[Length, Length, Axis], ...]
    section: tuple[tuple[Axis, Span], ...]
    round: bool
    tip_at: tuple[Side, ...] = ()


def plane_of_feature(operation: Operation, feature: Feature) -> PlaneCut | None:
    """The cut of a feature that leans two ways: the one of its operation with the same normal."""
    planes = [cut for cut in operation.cuts if isinstance(cut, PlaneCut)]
    same = [cut for cut in planes if feature.way is None or cut.normal == feature.way]
    return next(iter(same), None)


def slant_of(cut: PlaneCut, end: Side, part: Part) -> Slant:
    """Work out where a plane meets the long edges that run to an end, or the round that the end is.

    Raises ValueError for a plane that does not close the end.
    """
    if cut.normal[end.axis.value] * end.sign <= 0.0:
        raise ValueError("the plane does not close this end")
    turned = _round_at(end, part)
    return _across_edges(cut, end, part) if turned is None else _across_round(cut, end, turned, part)


def _across_edges(cut: PlaneCut, end: Side, part: Part) -> Slant:
    first, second = (axis for axis in Axis if axis is not end.axis)
    free: dict[tuple[bool, bool], Length] = {}
    for one, two in product((False, True), repeat=2):
        corner = part.blank.low.with_(first, part.blank.side(Side.of(first, one)))
        free[one, two] = _met(cut, end, corner.with_(second, part.blank.side(Side.of(second, two))))
    tip = _longest(free, end, part)
    at = {key: _held(value, end, part) for key, value in free.items()}
    over = (((not tip[0], tip[1]), second), ((tip[0], not tip[1]), first))
    falls = tuple(
        (at[tip], at[there], look) for there, look in over if abs(float(at[there] - at[tip])) >= LEAST_FALL
    )
    section = tuple((axis, Span(ZERO, part.blank.size(axis))) for axis in (first, second))
    tip_at = (Side.of(first, tip[0]), Side.of(second, tip[1]))
    return Slant(at[tip], min(at.values()), max(at.values()), falls, section, False, tip_at)


def _across_round(cut: PlaneCut, end: Side, turned: Feature, part: Part) -> Slant:
    """The tip lies on the rim where the plane rises most, the heel across from it."""
    section = tuple((axis, turned.span(axis)) for axis in Axis if axis is not end.axis)
    middle = part.blank.low
    for axis, span in section:
        middle = middle.with_(axis, (span.low + span.high) / 2)
    sideways = [cut.normal[axis.value] for axis, _ in section]
    slope = math.hypot(*sideways) / abs(cut.normal[end.axis.value])
    rise = to_nanometre(float(turned.diameter or ZERO) / 2 * slope) * end.sign
    centre = _met(cut, end, middle)
    free = {True: centre + rise, False: centre - rise}
    tip = _longest(free, end, part)
    at = {key: _held(value, end, part) for key, value in free.items()}
    falls: tuple[tuple[Length, Length, Axis], ...] = ()
    level = [axis for (axis, _), part_of in zip(section, sideways, strict=True) if abs(part_of) < LEVEL]
    if level and abs(float(at[not tip] - at[tip])) >= LEAST_FALL:
        falls = ((at[tip], at[not tip], level[0]),)
    return Slant(at[tip], min(at.values()), max(at.values()), falls, section, True)


def _round_at(end: Side, part: Part) -> Feature | None:
    """What makes an end of the part round, if something does."""
    for operation in part.operations:
        for feature in operation.features:
            if feature.form is not Form.ROUND or feature.side.axis is not end.axis:
                continue
            span = feature.span(end.axis)
            if span.low <= part.blank.side(end) <= span.high:
                return feature
    return None


_Where = TypeVar("_Where")


def _longest(free: Mapping[_Where, Length], end: Side, part: Part) -> _Where:
    """Where the part stays longest, of the places where the cut is on the wood."""
    on_part = [key for key, value in free.items() if ZERO <= value <= part.blank.size(end.axis)]
    return max(on_part or free, key=lambda key: free[key] * end.sign)


def _held(value: Length, end: Side, part: Part) -> Length:
    return max(ZERO, min(part.blank.size(end.axis), value))


def saw_settings(feature: Feature, part: Part) -> SawSettings:
    """The settings for a cut, the part lying on the saw with a face on the table."""
    assert feature.way is not None, "a plane has its normal"
    face = part.thick if part.thick is not feature.side.axis else part.wide
    return settings_of(feature.way, feature.side, face)


def _met(cut: PlaneCut, end: Side, corner: Point) -> Length:
    """The coordinate at which a plane cuts the line through a corner along the end's axis."""
    lateral = sum(
        cut.normal[axis.value] * float(corner.at(axis) - cut.through.at(axis))
        for axis in Axis
        if axis is not end.axis
    )
    return cut.through.at(end.axis) - to_nanometre(lateral / cut.normal[end.axis.value])

"""Where a saw cut that leans two ways comes out at the long edges of its part, and how its saw is set."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from plangen.design.model import Part
from plangen.joinery.angles import SawSettings, settings_of
from plangen.joinery.cuts import PlaneCut
from plangen.joinery.operation import Feature, Operation
from plangen.joinery.space import Axis, Point, Side, to_nanometre
from plangen.units import ZERO, Length

LEAST_FALL = 0.4  # mm; what falls less from corner to corner is not worth a figure


@dataclass(frozen=True, slots=True)
class Slant:
    """A plane across an end: how long the part is left at each of its four long edges.

    ``at`` gives the coordinate along the end's axis for each pair of sides that meet in an edge, held
    to the blank; ``tip`` is the edge where the part stays longest and the cut lies on it.
    """

    end: Side
    at: dict[frozenset[Side], Length]
    tip: frozenset[Side]

    def fall(self, side: Side) -> Length:
        """The coordinate at the edge across the face ``side`` of the tip: at the tip but for that side."""
        return self.at[frozenset(one if one is not side else one.opposite for one in self.tip)]

    def falls(self) -> Iterator[tuple[Length, Length, Axis]]:
        """Give how far the cut falls over each face beside the tip: from, to, and the look that shows it."""
        tip = self.at[self.tip]
        for side in sorted(self.tip, key=lambda side: side.axis.value):
            other = self.fall(side)
            if abs(float(other - tip)) >= LEAST_FALL:
                yield tip, other, next(one for one in Axis if one not in (self.end.axis, side.axis))

    @property
    def low(self) -> Length:
        """The lowest coordinate that the cut reaches on the edges."""
        return min(self.at.values())

    @property
    def high(self) -> Length:
        """The highest coordinate that the cut reaches on the edges."""
        return max(self.at.values())


def plane_of_feature(operation: Operation, feature: Feature) -> PlaneCut | None:
    """The cut of a feature that leans two ways: the one of its operation with the same normal."""
    planes = [cut for cut in operation.cuts if isinstance(cut, PlaneCut)]
    same = [cut for cut in planes if feature.way is None or cut.normal == feature.way]
    return next(iter(same), None)


def slant_of(cut: PlaneCut, end: Side, part: Part) -> Slant:
    """Work out where a plane meets the four long edges that run to an end.

    Raises ValueError for a plane that does not close the end.
    """
    if cut.normal[end.axis.value] * end.sign <= 0.0:
        raise ValueError("the plane does not close this end")
    first, second = (axis for axis in Axis if axis is not end.axis)
    size = part.blank.size(end.axis)
    free: dict[frozenset[Side], Length] = {}
    for one in (Side.of(first, False), Side.of(first, True)):
        for two in (Side.of(second, False), Side.of(second, True)):
            corner = part.blank.low.with_(first, part.blank.side(one)).with_(second, part.blank.side(two))
            free[frozenset((one, two))] = _met(cut, end, corner)
    on_part = [key for key, value in free.items() if ZERO <= value <= size]
    order = {key: (-value * end.sign, sorted(side.word for side in key)) for key, value in free.items()}
    tip = min(on_part or free, key=lambda key: order[key])
    held = {key: max(ZERO, min(size, value)) for key, value in free.items()}
    return Slant(end, held, tip)


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

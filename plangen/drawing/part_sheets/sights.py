"""Which sides of a part are drawn, how they lie on the sheet, and what they are called."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

from plangen.design.faces import face_side
from plangen.drawing.part_sheets.plan import PartPlan
from plangen.drawing.part_sheets.shapes import Shape, through, touches
from plangen.joinery.operation import Form
from plangen.joinery.space import Axis, Side

Station: TypeAlias = Literal["middle", "right", "left", "above", "below"]

NATURAL = {  # (to the right, upward) for each side looked at, as the piece stands (third angle)
    Side.FRONT: (Side.RIGHT, Side.TOP),
    Side.BACK: (Side.LEFT, Side.TOP),
    Side.RIGHT: (Side.BACK, Side.TOP),
    Side.LEFT: (Side.FRONT, Side.TOP),
    Side.TOP: (Side.RIGHT, Side.BACK),
    Side.BOTTOM: (Side.RIGHT, Side.FRONT),
}


@dataclass(frozen=True, slots=True)
class Sight:
    """One view on the sheet: the side looked at, and which sides lie to the right and upward in it."""

    side: Side
    right: Side
    up: Side
    station: Station

    def is_along(self, axis: Axis) -> bool:
        """Tell whether one looks along the axis, so that it does not show."""
        return self.side.axis is axis

    def is_across(self, axis: Axis) -> bool:
        """Tell whether the axis lies across the sheet."""
        return self.right.axis is axis


@dataclass(frozen=True, slots=True)
class Arrangement:
    """The views of one part; the first is the principal one, the others are placed by third angle.

    Where they are ``stacked``, the views of the ends or edges beside the principal one stand under it
    instead, each by its caption: for sheets that are too narrow for both.
    """

    sights: tuple[Sight, ...]
    stacked: bool = False

    def showing(self, axis: Axis, looks: tuple[Axis, ...]) -> Sight:
        """Give the view for a dimension along ``axis``; ``looks`` are the ways to see it, best first."""
        for look in looks:
            for sight in self.sights:
                if sight.is_along(look):
                    return sight
        return next(sight for sight in self.sights if not sight.is_along(axis))


def arrangements(plan: PartPlan) -> tuple[Arrangement, ...]:
    """Give the ways the views may lie on the sheet: first as the part stands in the piece, then turned.

    Last come the same without the views that only repeat what others give, for sheets with little room.
    """
    principal = principal_side(plan)
    right, up = NATURAL[principal]
    all_looks = needed_looks(plan, principal, references=True)
    few_looks = needed_looks(plan, principal, references=False)
    ways = [(right, up)]
    if plan.part.runs is not principal.axis:
        if up.axis is plan.part.runs:
            # a quarter turn clockwise: what was up lies to the right, so that the low end comes to the left
            ways.append((up, right.opposite))
        elif plan.part.length * 2 <= plan.part.width * 3:
            ways.append((up.opposite, right))
    return tuple(
        _around(plan, looks, principal, *way)
        for looks in dict.fromkeys((all_looks, few_looks))
        for way in ways
    )


def principal_side(plan: PartPlan) -> Side:
    """Give the side of the main view: the face side, or for a square section the side most is cut from."""
    part = plan.part
    face = face_side(part)
    weight = dict.fromkeys(Side, 0)
    for shape in plan.shapes:
        weight[shape.side] += 2 if shape.feature.form is Form.SLOT else 1
    square = part.width * 3 < part.thickness * 5
    if square:
        best = max(
            (side for side in Side if side.axis is not part.runs),
            key=lambda side: (weight[side] + weight[side.opposite], weight[side], side is face),
        )
        if weight[best] + weight[best.opposite] > weight[face] + weight[face.opposite]:
            return best
    return face


def needed_looks(plan: PartPlan, principal: Side, *, references: bool) -> tuple[Axis, ...]:
    """Give the axes to look along besides the principal one: those that something is seen along best.

    ``references`` tells whether values in parentheses, which follow from others, ask for a view of their own.
    """
    part = plan.part
    others = [axis for axis in (part.runs, part.wide, part.thick) if axis is not principal.axis]
    needed: list[Axis] = []
    for dimension in plan.dimensions:
        if dimension.kind == "reference" and not references:
            continue
        if dimension.looks and principal.axis not in dimension.looks[:1]:
            needed.append(dimension.looks[0])
    needed += [note.looks[0] for note in plan.notes if note.kind in ("hole", "radius")]
    chosen = [axis for axis in others if axis in needed]
    return tuple(chosen or others[:1])


def _around(plan: PartPlan, looks: tuple[Axis, ...], principal: Side, right: Side, up: Side) -> Arrangement:
    sights = [Sight(principal, right, up, "middle")]
    for axis in looks:
        side = _better_side(plan, axis, principal)
        if side is right:
            sights.append(Sight(side, principal.opposite, up, "right"))
        elif side is right.opposite:
            sights.append(Sight(side, principal, up, "left"))
        elif side is up:
            sights.append(Sight(side, right, principal.opposite, "above"))
        else:
            sights.append(Sight(side, right, principal, "below"))
    return Arrangement(tuple(sights))


def _better_side(plan: PartPlan, axis: Axis, principal: Side) -> Side:
    """Choose the end of an axis that more is worked from, or that more cuts run out at."""
    part = plan.part
    low, high = Side.of(axis, False), Side.of(axis, True)
    weight = {low: 0, high: 0}
    for shape in plan.shapes:
        if shape.side in weight:
            weight[shape.side] += 4
        elif not through(shape, part, axis) and shape.feature.form not in (Form.HOLE, Form.MARK):
            for side, open_there in zip((low, high), touches(shape.span(axis), part, axis), strict=True):
                weight[side] += _runs_out(shape) * open_there
    favoured = low if axis is Axis.ACROSS else high
    return max((favoured, favoured.opposite), key=lambda side: weight[side])


def _runs_out(shape: Shape) -> int:
    return 2 if shape.feature.form is Form.SLOT else 1

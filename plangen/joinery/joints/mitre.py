"""A mitred corner: two pieces in one corner, each sawn along its diagonal; a spline if wanted."""

from __future__ import annotations

import math

from plangen.expressions import Entry, LengthExpr, Name, Names
from plangen.joinery.angles import degrees_text
from plangen.joinery.body import Expansion, JointBody, JointKind, Meeting, Spot, between
from plangen.joinery.corner import (
    Ends,
    Pair,
    at,
    corner_of,
    known_hardware,
    outline_feature,
    outline_work,
    polygon,
)
from plangen.joinery.cuts import PrismCut, plane_axes
from plangen.joinery.operation import Operation
from plangen.joinery.piece import Bench, Piece
from plangen.joinery.space import Axis, Box, Side, to_nanometre
from plangen.units import Length, Phrase, inches, millimetres, phrase


class Spline(Entry):
    """``spline: {with: spline, thickness: 1/8in, depth: 3/8in}``: a slip of wood across the mitre.

    ``depth`` is how far it goes into each piece, square to the mitre.
    """

    with_: Name
    thickness: LengthExpr | None = None  # of the spline: 1/8 in or 3 mm unless said
    depth: LengthExpr | None = None  # into each piece, square to the mitre: half of the room unless said


class MitreJoint(JointBody):
    """``mitre: {between: [stile, rail], spline: {with: spline}}``.

    The pieces run through each other in the corner. Of a flat frame the ends are mitred across the
    face, of a case across the thickness.
    """

    between: Names
    spline: Spline | None = None  # a slip of wood across the mitre


def expand(entry: MitreJoint, meeting: Meeting, bench: Bench) -> Expansion:
    """Saw both along the diagonal, and cut the slot for a spline."""
    ends = corner_of(meeting, "mitre", entry, bench)
    if ends is None:
        return Expansion()
    rect = meeting.rect
    one_along, two_along = rect.size(ends.one.axis), rect.size(ends.two.axis)
    on_one = [_cut(entry, meeting.one, meeting, ends.one, ends.two, ends.across)]
    on_two = [_cut(entry, meeting.two, meeting, ends.two, ends.one, ends.across)]
    diagonal = math.hypot(float(one_along), float(two_along))
    area = to_nanometre(diagonal).mm * rect.size(ends.across).mm
    hardware: tuple[tuple[str, tuple[Spot, ...]], ...] = ()
    if entry.spline is not None:
        slots = _spline(entry.spline, meeting, ends, bench)
        if slots is None:
            return Expansion()
        on_one.append(slots[0])
        on_two.append(slots[1])
        middle = tuple(float(rect.middle(axis)) for axis in Axis)
        spot = Spot(meeting.one.copy, (middle[0], middle[1], middle[2]), ends.one)
        hardware = ((str(entry.spline.with_), (spot,)),)
    then = (phrase("Glue the spline into one slot before you close the corner."),) if hardware else ()
    return Expansion(tuple(on_one), tuple(on_two), ends.two, hardware, area, then=then)


def _cut(
    entry: MitreJoint, piece: Piece, meeting: Meeting, end: Side, other: Side, across: Axis
) -> Operation:
    """Saw off the half of the corner that is the other's: from the heel to the tip."""
    rect = meeting.rect
    heel = at(across, {end.axis: rect.side(end.opposite), other.axis: rect.side(other.opposite)})
    tip = at(across, {end.axis: rect.side(end), other.axis: rect.side(other)})
    square = at(across, {end.axis: rect.side(end), other.axis: rect.side(other.opposite)})
    degrees = math.degrees(math.atan2(float(rect.size(end.axis)), float(rect.size(other.axis))))
    flat = across is piece.thick
    side = Side.of(across, True)
    tool = (
        phrase("Mitre saw, or crosscut sled, set to ", degrees_text(degrees))
        if flat
        else phrase("Table saw with the blade tilted to ", degrees_text(degrees))
    )
    return outline_work(
        "joint mitre",
        "Mitre" if end.axis is piece.runs else "Mitred edge",
        side,
        [PrismCut(across, rect.low.at(across), rect.high.at(across), (polygon([heel, tip, square]),))],
        [outline_feature(side, rect, [heel, tip], datum=(end,), angle_degrees=degrees)],
        entry.place,
        (tool,),
        ("crosscut",) if flat else ("table saw",),
    )


def _spline(entry: Spline, meeting: Meeting, ends: Ends, bench: Bench) -> tuple[Operation, Operation] | None:
    """The slot in the mitre of each piece: square to the mitre, and along it or through its thickness."""
    if known_hardware(entry.with_, bench) is None:
        return None
    rect, across = meeting.rect, ends.across
    flat = across is meeting.one.thick and across is meeting.two.thick
    usual = inches("1/8") if bench.units == "inch" else millimetres(3)
    thickness = entry.thickness.length(bench.scope) if entry.thickness is not None else usual
    sizes = float(rect.size(ends.one.axis)), float(rect.size(ends.two.axis))
    diagonal = math.hypot(*sizes)
    # Square to the mitre from its middle to the nearer inside face.
    room = to_nanometre(min(sizes) ** 2 / diagonal / 2) if not flat else rect.size(ends.one.axis)
    depth = entry.depth.length(bench.scope) if entry.depth is not None else bench.nearest(room / 2)
    across_slot = rect.size(across) if flat else to_nanometre(diagonal)
    if not 0 < thickness.mm < across_slot.mm / 2:
        bench.findings.error(
            "spline-too-thick",
            f"the spline takes more than half of the mitre of {meeting.one.copy} and {meeting.two.copy}",
            entry.place_of("thickness"),
            "a third of the thickness at most is usual",
            part=meeting.one.part,
        )
        return None
    if not 0 < depth.mm < room.mm:
        bench.findings.error(
            "spline-too-deep",
            f"the spline breaks out of {meeting.one.copy} or {meeting.two.copy}, or has no depth",
            entry.place_of("depth"),
            "leave `depth` out for half of what the mitre has room for",
            part=meeting.one.part,
        )
        return None
    low, high = rect.low.at(across), rect.high.at(across)
    if flat:
        low, high = rect.middle(across) - thickness / 2, rect.middle(across) + thickness / 2
    shape = _slot_shape(meeting, ends, float(depth), float(thickness), flat)
    tools = (phrase("Table saw or router, for a slot ", thickness, " wide and ", depth, " deep"),)
    made = []
    for end in (ends.one, ends.two):
        box = rect.with_side(Side.of(across, False), low).with_side(Side.of(across, True), high)
        made.append(
            outline_work(
                "spline slot",
                "Spline slot",
                Side.of(across, True),
                [PrismCut(across, low, high, (polygon(shape),))],
                [
                    outline_feature(
                        Side.of(across, True),
                        box,
                        [point for point in shape if _within(point, box, across)] or shape,
                        datum=(end,),
                        depth=depth,
                        note=phrase("slot ", thickness, " wide, ", depth, " deep, square to the mitre"),
                    )
                ],
                entry.place,
                tools,
                ("table saw",),
            )
        )
    return made[0], made[1]


def _within(point: Pair, box: Box, across: Axis) -> bool:
    """Whether a corner of the slot lies in the overlap, where it can be measured."""
    pairs = zip(point, plane_axes(across), strict=True)
    return all(box.low.at(axis) <= value <= box.high.at(axis) for value, axis in pairs)


def _slot_shape(meeting: Meeting, ends: Ends, depth: float, thickness: float, flat: bool) -> list[Pair]:
    """The slots of both pieces in one outline, about the middle of the mitre, square to ``across``.

    In a case it is the slot's own section; in a flat frame the saw runs out at heel and tip.
    """
    rect = meeting.rect
    heel = {end.axis: float(rect.side(end.opposite)) for end in (ends.one, ends.two)}
    tip = {end.axis: float(rect.side(end)) for end in (ends.one, ends.two)}
    size = math.hypot(*(tip[a] - heel[a] for a in tip))
    a, b = ends.one.axis, ends.two.axis
    along = {axis: (tip[axis] - heel[axis]) / size for axis in (a, b)}
    out = {a: -along[b], b: along[a]}
    half = size / 2 + size if flat else thickness / 2
    found = []
    for length, sideways in ((-half, -depth), (half, -depth), (half, depth), (-half, depth)):
        values: dict[Axis, Length] = {
            axis: to_nanometre((heel[axis] + tip[axis]) / 2 + along[axis] * length + out[axis] * sideways)
            for axis in (a, b)
        }
        found.append(at(ends.across, values))
    return found


def _say_mitre(operation: Operation, piece: Piece) -> Phrase:
    """Say the end, the angle and what stays long."""
    feature = operation.features[0]
    (end,) = feature.datum
    degrees = degrees_text(feature.angle_degrees or 0.0)
    if feature.side.axis is piece.thick:
        return phrase(f"Saw the {piece.call(end)} to a mitre of {degrees}.")
    return phrase(f"Saw the {piece.call(end)} to a bevel of {degrees} for the mitre.")


def _say_slot(operation: Operation, piece: Piece) -> Phrase:
    feature = operation.features[0]
    (end,) = feature.datum
    return phrase(f"Cut the spline slot in the mitre of the {piece.call(end)}: ") + feature.note + phrase(".")


KIND = JointKind(
    "mitre",
    "Mitre joint",
    MitreJoint,
    lambda entry: between(entry, 0),
    lambda entry: between(entry, 1),
    expand,
    phrase("Size the mitres with thin glue, brush on more, bring the tips together and clamp evenly."),
    overlaps=True,
    symmetric=True,
    cautions=("glue",),
    says={"joint mitre": _say_mitre, "spline slot": _say_slot},
    spreads=True,
    headings={"joint mitre": "Saw the {work} on the {pieces}"},
)

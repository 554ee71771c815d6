"""A biscuited joint: pressed slips of wood in slots that a plate joiner cuts in both pieces."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Final

from plangen.expressions import Name, Names, Words
from plangen.joinery.body import Expansion, JointKind, Meeting, Spot, between
from plangen.joinery.corner import Pair, at, long_places, slot_work
from plangen.joinery.cuts import Arc, Line, Loop, PrismCut
from plangen.joinery.fastening import Fastening
from plangen.joinery.operation import Operation
from plangen.joinery.piece import Bench, Piece
from plangen.joinery.space import Axis, Box, Point, Side, to_nanometre
from plangen.units import Length, Phrase, millimetres, phrase


@dataclass(frozen=True, slots=True)
class Biscuit:
    """The nominal size of a biscuit."""

    length: Length
    width: Length
    thickness: Length


# Encyclopedia article "Biscuit joiner" and a trade article on the joint, nominal sizes in mm; other
# texts give 60 mm for the length of the 20.
SIZES: Final = {
    name: Biscuit(millimetres(length), millimetres(width), millimetres(4))
    for name, length, width in (("0", 47, 15), ("10", 53, 19), ("20", 56, 23))
}
BLADE: Final = millimetres(100)  # the blade of a plate joiner; from memory, no source
ROOM: Final = millimetres(1)  # a slot is deeper than half its biscuit, for glue: common practice, no source


class Biscuited(Fastening):
    """``biscuited: {between: [rail, stile], with: biscuit, size: 20, per joint: 2}``.

    ``size`` is 0, 10 or 20, the last unless said; ``with`` is what is counted.
    """

    between: Names
    with_: Name
    size: Words | None = None  # `0`, `10` or `20`: 20 unless said


def slot_depth(biscuit: Biscuit) -> Length:
    """How deep the slot is in each piece: half the biscuit and a little room."""
    return biscuit.width / 2 + ROOM


def slot_length(biscuit: Biscuit) -> Length:
    """How long the blade's cut is at the face: a chord, 2·√(r² − (r − depth)²)."""
    radius, depth = float(BLADE) / 2, float(slot_depth(biscuit))
    return to_nanometre(2 * math.sqrt(radius * radius - (radius - depth) ** 2))


def expand(entry: Biscuited, meeting: Meeting, bench: Bench) -> Expansion:
    """Cut a slot in both for each biscuit."""
    biscuit = SIZES.get(_name(entry))
    if biscuit is None:
        bench.findings.error(
            "biscuit-size",
            f"there is no biscuit of size `{entry.size}`",
            entry.place_of("size"),
            "write `size: 0`, `size: 10` or `size: 20`",
        )
        return Expansion()
    depth, length, side = slot_depth(biscuit), slot_length(biscuit), meeting.side
    along, over = meeting.lateral
    if not _fits(entry, meeting, biscuit, bench) or not _long_enough(entry, meeting, length, bench):
        return Expansion()
    on_one, on_two, spots = [], [], []
    for place in long_places(entry, meeting, length, biscuit.thickness, bench):
        at_one = place.with_(side.axis, meeting.one.finished.side(side))
        at_two = place.with_(side.axis, meeting.two.finished.side(side.opposite))
        on_one.append(_slot(at_one, side, along, over, depth, length, biscuit, entry))
        on_two.append(_slot(at_two, side.opposite, along, over, depth, length, biscuit, entry))
        spots.append(Spot(meeting.one.copy, at_one.floats(), side))
    hardware = ((str(entry.with_), tuple(spots)),) if spots else ()
    return Expansion(tuple(on_one), tuple(on_two), side.opposite, hardware, meeting.area)


def _fits(entry: Biscuited, meeting: Meeting, biscuit: Biscuit, bench: Bench) -> bool:
    """Report a biscuit too big for the wood: half of it must stay inside, and wood on both sides of it."""
    for piece in (meeting.one, meeting.two):
        if slot_depth(biscuit) >= piece.finished.size(meeting.side.axis):
            bench.findings.error(
                "biscuit-too-big",
                f"the slot for the biscuit would come out of {piece.copy}",
                entry.place_of("size"),
                "take a smaller biscuit: 10, or 0",
                part=piece.part,
            )
            return False
    if meeting.rect.size(meeting.lateral[1]) < biscuit.thickness * 2:
        bench.findings.error(
            "biscuit-too-big",
            f"{meeting.one.copy} and {meeting.two.copy} are too thin where they meet for a slot of 4 mm",
            entry.place_of("size"),
            "biscuits want wood of 8 mm or more",
            part=meeting.one.part,
        )
        return False
    return True


def _long_enough(entry: Biscuited, meeting: Meeting, length: Length, bench: Bench) -> bool:
    """Report a contact that is shorter than one slot."""
    if meeting.rect.size(meeting.lateral[0]) > length:
        return True
    bench.findings.error(
        "biscuit-too-big",
        f"the slot for the biscuit is longer than {meeting.one.copy} and {meeting.two.copy} meet",
        entry.place_of("size"),
        "take a smaller biscuit, or dowels",
        part=meeting.one.part,
    )
    return False


def _slot(
    mouth: Point,
    side: Side,
    along: Axis,
    over: Axis,
    depth: Length,
    length: Length,
    biscuit: Biscuit,
    entry: Biscuited,
) -> Operation:
    """The blade's cut: a segment of its circle, as thick as the biscuit."""
    face, middle = mouth.at(side.axis), mouth.at(along)
    floor = face - depth * side.sign
    half = biscuit.thickness / 2
    box = Box(mouth, mouth)
    for end, value in (
        (Side.of(along, False), middle - length / 2),
        (Side.of(along, True), middle + length / 2),
        (Side.of(over, False), mouth.at(over) - half),
        (Side.of(over, True), mouth.at(over) + half),
        (side.opposite, floor),
    ):
        box = box.with_side(end, value)
    low = at(over, {along: box.low.at(along), side.axis: face})
    high = at(over, {along: box.high.at(along), side.axis: face})
    # Seen in the plane of the outline, the arc turns from the low end over the floor to the high end.
    left = _turns_left(low, at(over, {along: middle, side.axis: floor}), high)
    loop = Loop(low, (Arc(high, BLADE / 2, left), Line(low)))
    cut = PrismCut(over, box.low.at(over), box.high.at(over), (loop,))
    work = slot_work(
        "biscuit slot",
        "Biscuit slot",
        side,
        [box],
        entry.place,
        depth=depth,
        tools=(phrase("Plate joiner"),),
        cautions=("router",),
        cuts=(cut,),
    )
    (feature,) = work.features
    return replace(work, features=(replace(feature, note=phrase(f"no. {_name(entry)} biscuit")),))


def _turns_left(start: Pair, through: Pair, end: Pair) -> bool:
    ax, ay = (through[0] - start[0]).mm, (through[1] - start[1]).mm
    bx, by = (end[0] - start[0]).mm, (end[1] - start[1]).mm
    return ax * by - ay * bx > 0


def _name(entry: Biscuited) -> str:
    return str(entry.size).strip() if entry.size is not None else "20"


def _say(operation: Operation, piece: Piece) -> Phrase:
    """Say where the middle of a slot is, which is what is marked for a plate joiner."""
    feature = operation.features[0]
    words = (
        phrase("Cut a slot for a ") + feature.note + phrase(f" in the {piece.call(feature.side)}, its middle")
    )
    places = []
    for axis in (piece.runs, piece.wide, piece.thick):
        if axis is feature.side.axis:
            continue
        span, low = feature.span(axis), Side.of(axis, False)
        middle = (span.low + span.high) / 2
        places.append(phrase(" ", middle - piece.finished.low.at(axis), f" from the {piece.call(low)}"))
    return words + places[0] + phrase(" and") + places[1] + phrase(".")


KIND = JointKind(
    "biscuited",
    "Biscuited joint",
    Biscuited,
    lambda entry: between(entry, 0),
    lambda entry: between(entry, 1),
    expand,
    phrase("Brush glue into the slots, put the biscuits into one piece and press the joint closed."),
    symmetric=True,
    fastens=True,
    cautions=("glue",),
    says={"biscuit slot": _say},
    spreads=True,
)

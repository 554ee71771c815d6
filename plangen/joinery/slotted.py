"""Slotted screw holes, in which a screw travels as the wood that it holds swells and shrinks."""

from __future__ import annotations

from plangen.findings import Place
from plangen.handbook.movement import MOST_TANGENTIAL, coefficients
from plangen.joinery.body import Meeting, spans_of
from plangen.joinery.operation import Feature, Form, Group, Operation
from plangen.joinery.piece import Bench, Piece
from plangen.joinery.sentences import slot
from plangen.joinery.shapes import channel
from plangen.joinery.space import Axis, Box, Point, Side
from plangen.units import ZERO, Length, Phrase, phrase


def moves_by(piece: Piece, width: Length, bench: Bench) -> Length:
    """How much a width of solid wood across its grain grows, or shrinks, between seasons; zero for sheets.

    Wood Handbook, FPL-GTR-190 (2010), Eq. 13-2 with the tangential coefficient of Table 13-5: width x
    coefficient x change of moisture content. A species that the table lacks is taken to move as much
    as the liveliest that it has.
    """
    if not piece.solid:
        return ZERO
    found = coefficients(piece.species) if piece.species else None
    share = found.tangential if found is not None else MOST_TANGENTIAL
    return width * (share * bench.moisture_change)


def travel(meeting: Meeting, at: Point, bench: Bench) -> Length:
    """How far a screw at a place moves each way against the first piece.

    The second piece is held in its middle, and moves from there to both sides.
    """
    two = meeting.two
    if two.wide is meeting.side.axis:
        return ZERO
    return moves_by(two, abs(at.at(two.wide) - two.finished.middle(two.wide)), bench)


def slot_length(clearance: Length, moves: Length, bench: Bench) -> Length:
    """The whole length of a slot: the screw's own hole and its travel each way, up to a mark of the tape."""
    return bench.round_up(clearance + moves * 2)


def slotted_hole(
    head: Point,
    outer: Side,
    width: Length,
    length: Length,
    along: Axis,
    thickness: Length,
    counterbore: Length,
    place: Place,
    head_width: Length | None = None,
) -> Operation:
    """A slot right through a piece for a screw, about the place of its head.

    ``counterbore`` is how deep the head is let in, zero for none, in a slot ``head_width`` wide: twice the
    width of the hole unless said.
    """
    across = next(axis for axis in Axis if axis not in (outer.axis, along))
    box = _around(head, {along: length, across: width}, outer, thickness)
    cuts, features = [channel(box, along, "round", outer)], []
    tools = [phrase("Drill, ", width, " bit"), phrase("Router or file, to join two holes to a slot")]
    if counterbore:
        across_head = head_width or width * 2
        long_head = across_head + length - width
        room = _around(head, {along: long_head, across: across_head}, outer, counterbore)
        cuts.append(channel(room, along, "round", outer))
        features.append(
            Feature(Form.SLOT, outer, spans_of(room), depth=counterbore, radii=(across_head / 2,))
        )
        tools.insert(0, phrase("Drill, ", across_head, " flat-bottomed bit"))
        tools[-1] = phrase("Router or chisel, to join holes to a slot")
    features.insert(0, Feature(Form.SLOT, outer, spans_of(box), radii=(width / 2,)))
    return Operation(
        kind="slotted hole",
        title="Slotted hole",
        side=outer,
        cuts=tuple(cuts),
        features=tuple(features),
        say=Phrase(),
        tools=tuple(tools),
        cautions=("drill",),
        place=place,
        group=Group.HOLES,
    )


def say_slotted(operation: Operation, piece: Piece) -> Phrase:
    """Say the slot; where the head is sunk, the wider slot for it first, from the same face."""
    through = operation.features[0]
    said = slot("Cut a slotted hole", through, piece)
    for room in operation.features[1:]:
        wide, long = sorted(
            (span.high - span.low for axis, span in room.spans if axis is not room.side.axis),
            key=lambda size: size.mm,
        )
        words = phrase("First sink a slot for the head in the ", piece.call(room.side), ": ")
        words += phrase(wide, " wide, ", long, " long and ", room.depth or ZERO, " deep. ")
        said = words + said + phrase(" The slotted hole lies in the middle of its floor.")
    return said


def _around(head: Point, sizes: dict[Axis, Length], outer: Side, depth: Length) -> Box:
    box = Box(head, head).with_side(outer.opposite, head.at(outer.axis) - depth * outer.sign)
    for axis, size in sizes.items():
        for side in (Side.of(axis, False), Side.of(axis, True)):
            box = box.grown(side, size / 2)
    return box

"""A screwed joint: a clearance hole through one piece, a lead hole in the other, a plug if wanted."""

from __future__ import annotations

from plangen.expressions import LengthExpr, Name, Names, YesNo
from plangen.handbook import screws
from plangen.joinery.body import Expansion, JointKind, Meeting, Spot, hole_spans
from plangen.joinery.cuts import RoundCut
from plangen.joinery.fastening import Fastening, places_along, said
from plangen.joinery.operation import Feature, Form, Operation
from plangen.joinery.piece import Bench, Fastener
from plangen.joinery.slotted import say_slotted, slot_length, slotted_hole, travel
from plangen.joinery.space import Point, Side
from plangen.units import ZERO, Length, Phrase, inches, millimetres, phrase

# Wood that a screw's head should bear on: common practice, no source.
LEAST_UNDER_HEAD = millimetres(4)


class Driven(Fastening):
    """Keys of joints whose screws are driven straight through one piece into another."""

    with_: Name
    sunk: LengthExpr | None = None


class Screwed(Driven):
    """``screwed: {through: side, into: rail, with: screw, per joint: 2, plug: plug}``.

    With a plug the head sits in a counterbore, ``sunk`` so deep (1/4 in or 6 mm unless said).
    ``slotted: yes`` makes slots of the holes, as long as the wood that is held moves there.
    """

    through: Names
    into: Names
    plug: Name | None = None
    slotted: YesNo | None = None


def expand(entry: Screwed, meeting: Meeting, bench: Bench) -> Expansion:
    """Bore for each screw."""
    plug = bench.fastener(str(entry.plug)) if entry.plug is not None else None
    if entry.plug is not None and plug is None:
        return Expansion()
    if entry.slotted and plug is not None:
        bench.findings.error(
            "slotted-plug",
            "a plug would lock the screw that a slotted hole lets travel",
            entry.place_of("plug"),
            "take out `plug`, or `slotted`",
        )
        return Expansion()
    return driven(entry, plug, bool(entry.slotted), meeting, bench)


def driven(entry: Driven, plug: Fastener | None, slotted: bool, meeting: Meeting, bench: Bench) -> Expansion:
    """Bore for each screw; ``slotted`` where the second piece has to move."""
    screw = bench.fastener(str(entry.with_))
    if screw is None:
        return Expansion()
    gauge = screw.gauge if screw.gauge is not None else screw.diameter
    if gauge is None or screw.length is None:
        bench.findings.error(
            "screw-size",
            f"`{screw.name}` needs a gauge (or a diameter) and a length",
            entry.place_of("with_"),
            "for example `gauge: 8, length: 1-1/2in`",
        )
        return Expansion()
    one, two, side = meeting.one, meeting.two, meeting.side
    try:
        clearance, lead = screws.clearance_hole(gauge), screws.lead_hole(gauge, two.hard)
        bore = plug.diameter if plug is not None else None
        if bore is None and (plug is not None or entry.sunk is not None):
            bore = screws.plug_diameter(gauge)
    except ValueError as error:
        bench.findings.error("screw-size", str(error), entry.place_of("with_"), "take another screw")
        return Expansion()
    sunk = _sunk(entry, plug, bore or ZERO, clearance, bench)
    if sunk is None:
        return Expansion()
    wood = one.finished.size(side.axis) - meeting.housing
    bite = screw.length - (wood - sunk)
    outer = side.opposite
    # Where the screw enters the second piece, along the way it goes.
    begins = meeting.rect.side(side) if meeting.ledge else two.finished.side(outer)
    room = (two.finished.side(side) - begins) * side.sign
    if not _bites(entry, meeting, screw, sunk, wood, bite, room, bench):
        return Expansion()
    on_one, on_two, spots = [], [], []
    counterbore = (bore, sunk) if bore is not None and sunk else None
    if slotted and not _slots_make_sense(entry, meeting, screw, bench):
        return Expansion()
    for place in places_along(entry, meeting, clearance, bench):
        head = place.with_(side.axis, one.finished.side(outer))
        end = place.with_(side.axis, begins)
        thickness = one.finished.size(side.axis)
        sinks = counterbore is None and screw.countersinks
        moves = travel(meeting, place, bench) if slotted else ZERO
        if moves:
            long = slot_length(clearance, moves, bench)
            wide = meeting.two.wide
            on_one.append(slotted_hole(head, outer, clearance, long, wide, thickness, sunk, entry.place))
        else:
            on_one.append(_clearance(head, outer, clearance, counterbore, sinks, thickness, entry, plug))
        on_two.append(_lead(end, outer, lead, bite, entry))
        spots.append(Spot(one.copy, head.floats(), outer))
    hardware = [(screw.name, tuple(spots))] + ([(plug.name, tuple(spots))] if plug is not None else [])
    tools = (phrase("Screwdriver for the screws"),)
    return Expansion(tuple(on_one), tuple(on_two), outer, tuple(hardware), meeting.area, tools)


def _slots_make_sense(entry: Driven, meeting: Meeting, screw: Fastener, bench: Bench) -> bool:
    """Report slots for what does not move there, and a head that would wedge in them."""
    two, side = meeting.two, meeting.side
    if not two.solid or two.wide is side.axis:
        bench.findings.error(
            "idle-key",
            f"{two.copy} does not move across the holes: "
            + ("it is a sheet" if not two.solid else "its width lies along the screws"),
            entry.place_of("slotted" if "slotted" in type(entry).model_fields else "with_"),
            "bore plain holes",
            part=two.part,
        )
        return False
    if screw.countersinks:
        bench.findings.warning(
            "slotted-head",
            f"the flat head of `{screw.name}` wedges itself in a slot and holds the wood fast",
            entry.place_of("with_"),
            "take a screw with a round or pan head, and a washer",
            part=meeting.one.part,
        )
    return True


def _sunk(
    entry: Driven, plug: Fastener | None, bore: Length, clearance: Length, bench: Bench
) -> Length | None:
    """How deep the head is sunk in a counterbore, zero for none; None when that cannot be."""
    if plug is None and entry.sunk is None:
        return ZERO
    usual = inches("1/4") if bench.units == "inch" else millimetres(6)
    sunk = entry.sunk.length(bench.scope) if entry.sunk is not None else usual
    if sunk < ZERO or (plug is not None and not sunk):
        bench.findings.error(
            "counterbore-too-shallow",
            "a plug needs a counterbore to sit in" if plug is not None else "a head is not sunk below zero",
            entry.place_of("sunk"),
            "leave `sunk` out for the usual depth",
        )
        return None
    if sunk and bore <= clearance:
        bench.findings.error(
            "plug-too-thin",
            "the plug is no wider than the hole for the screw",
            entry.place_of("plug"),
            "take a plug that covers the screw's head",
        )
        return None
    return sunk


def _bites(
    entry: Driven,
    meeting: Meeting,
    screw: Fastener,
    sunk: Length,
    wood: Length,
    bite: Length,
    room: Length,
    bench: Bench,
) -> bool:
    one, two = meeting.one, meeting.two
    if sunk >= wood:
        bench.findings.error(
            "counterbore-too-deep",
            f"the counterbore goes right through {one.part}",
            entry.place_of("sunk"),
            "sink the head less deep",
            part=one.part,
        )
        return False
    if sunk and wood - sunk < LEAST_UNDER_HEAD:
        bench.findings.warning(
            "little-under-head",
            f"only {said(wood - sunk, bench)} of {one.copy} is left under the head of `{screw.name}`",
            entry.place_of("sunk"),
            "sink the head less deep, or let the other piece in less deep",
            part=one.part,
        )
    if bite.mm <= 0:
        bench.findings.error(
            "screw-too-short",
            f"`{screw.name}` does not reach into {two.copy} through {one.copy}",
            entry.place_of("with_"),
            "take a longer screw or sink its head deeper",
            part=one.part,
        )
        return False
    if bite >= room:
        bench.findings.error(
            "screw-too-long",
            f"`{screw.name}` would come out of {two.copy}",
            entry.place_of("with_"),
            "take a shorter screw, or sink its head less deep",
            part=two.part,
        )
        return False
    return True


def _clearance(
    head: Point,
    outer: Side,
    diameter: Length,
    counterbore: tuple[Length, Length] | None,
    countersink: bool,
    thickness: Length,
    entry: Driven,
    plug: Fastener | None,
) -> Operation:
    cuts = [RoundCut(head, outer, diameter, thickness)]
    if counterbore is not None:
        cuts.append(RoundCut(head, outer, *counterbore))
    words = phrase("Drill, ", diameter, " bit")
    tools = (words,) if counterbore is None else (phrase("Drill, ", counterbore[0], " brad-point bit"), words)
    return Operation(
        kind="screw hole",
        title="Screw hole",
        side=outer,
        cuts=tuple(cuts),
        features=(
            Feature(
                Form.HOLE,
                outer,
                hole_spans(head, outer, thickness),
                diameter=diameter,
                counterbore=counterbore,
                countersink=countersink,
                plugged=plug is not None,
            ),
        ),
        say=Phrase(),
        tools=tools,
        cautions=("drill",),
        place=entry.place,
    )


def _lead(end: Point, side: Side, diameter: Length, depth: Length, entry: Driven) -> Operation:
    return Operation(
        kind="lead hole",
        title="Lead hole",
        side=side,
        cuts=(RoundCut(end, side, diameter, depth),),
        features=(Feature(Form.HOLE, side, hole_spans(end, side, depth), diameter=diameter, depth=depth),),
        say=Phrase(),
        tools=(phrase("Drill, ", diameter, " bit"),),
        cautions=("drill",),
        place=entry.place,
    )


KIND = JointKind(
    "screwed",
    "Screwed joint",
    Screwed,
    lambda entry: entry.through,
    lambda entry: entry.into,
    expand,
    phrase("Drive the screws until the shoulders are tight."),
    claims=False,
    fastens=True,
    glued=False,
    cautions=("screws",),
    verb="Screw",
    lies=True,
    tight=True,
    says={"slotted hole": say_slotted},
)

"""A dowelled joint: dowels in holes bored half into each of two pieces."""

from __future__ import annotations

from collections.abc import Sequence

from plangen.expressions import Name, Names
from plangen.handbook import joinery_rules
from plangen.joinery.body import (
    Expansion,
    JointBody,
    JointKind,
    Meeting,
    Spot,
    between,
    hole_spans,
    metric,
)
from plangen.joinery.cuts import RoundCut
from plangen.joinery.fastening import Fastening, places_along, said
from plangen.joinery.operation import Feature, Form, Operation
from plangen.joinery.piece import Bench, Fastener
from plangen.joinery.space import Point, Side
from plangen.units import Length, Phrase, phrase


class Dowelled(Fastening):
    """``dowelled: {between: [rail, leg], with: dowel, per joint: 2}``."""

    between: Names
    with_: Name


def expand(entry: Dowelled, meeting: Meeting, bench: Bench) -> Expansion:
    """Bore both pieces for each dowel."""
    return bored(entry, "with_", str(entry.with_), meeting, bench)


def bored(entry: Fastening, key: str, name: str, meeting: Meeting, bench: Bench) -> Expansion:
    """Bore both pieces for each of the dowels called ``name``, which stands at ``key`` of the entry."""
    dowel = bench.fastener(name)
    if dowel is None:
        if key != "with_":
            bench.findings.error(
                "undefined-name",
                f"there is no hardware called `{name}`",
                entry.place_of(key),
                "add it under `hardware`",
            )
        return Expansion()
    depth = depth_of(dowel, entry, key, bench)
    if depth is None or dowel.diameter is None or not dowel_fits(meeting, dowel, depth, entry, key, bench):
        return Expansion()
    return at_places(places_along(entry, meeting, dowel.diameter, bench), dowel, depth, meeting, entry)


def depth_of(dowel: Fastener, entry: JointBody, key: str, bench: Bench) -> Length | None:
    """How deep each hole is: half the dowel and a little; None, with a finding, for one without its size."""
    if dowel.diameter is None or dowel.length is None:
        bench.findings.error(
            "dowel-size",
            f"`{dowel.name}` needs a diameter and a length",
            entry.place_of(key),
            "for example `diameter: 3/8in, length: 2in`",
        )
        return None
    return dowel.length / 2 + joinery_rules.dowel_hole_extra(metric=metric(bench))


def dowel_fits(
    meeting: Meeting, dowel: Fastener, depth: Length, entry: JointBody, key: str, bench: Bench
) -> bool:
    """Report a dowel that comes out of a piece, or is as thick as the pieces are."""
    for piece in (meeting.one, meeting.two):
        if depth >= piece.finished.size(meeting.side.axis):
            bench.findings.error(
                "dowel-too-long",
                f"the dowel hole, {said(depth, bench)} deep, would come out of {piece.copy}",
                entry.place_of(key),
                "take a shorter dowel",
                part=piece.part,
            )
            return False
    assert dowel.diameter is not None
    if dowel.diameter >= meeting.rect.size(meeting.lateral[1]):
        bench.findings.error(
            "dowel-too-thick",
            f"the dowel is as thick as the joint of {meeting.one.copy} and {meeting.two.copy} is wide",
            entry.place_of(key),
            "a third to a half of the thinner piece is usual",
            part=meeting.one.part,
        )
        return False
    return True


def at_places(
    places: Sequence[Point], dowel: Fastener, depth: Length, meeting: Meeting, entry: JointBody
) -> Expansion:
    """Bore both pieces at places in the touching face."""
    assert dowel.diameter is not None
    side = meeting.side
    on_one, on_two, spots = [], [], []
    for place in places:
        at_one = place.with_(side.axis, meeting.one.finished.side(side))
        at_two = place.with_(side.axis, meeting.two.finished.side(side.opposite))
        on_one.append(_hole(at_one, side, dowel.diameter, depth, entry))
        on_two.append(_hole(at_two, side.opposite, dowel.diameter, depth, entry))
        spots.append(Spot(meeting.one.copy, at_one.floats(), side))
    return Expansion(tuple(on_one), tuple(on_two), side.opposite, ((dowel.name, tuple(spots)),), meeting.area)


def _hole(mouth: Point, side: Side, diameter: Length, depth: Length, entry: JointBody) -> Operation:
    return Operation(
        kind="dowel hole",
        title="Dowel hole",
        side=side,
        cuts=(RoundCut(mouth, side, diameter, depth),),
        features=(Feature(Form.HOLE, side, hole_spans(mouth, side, depth), diameter=diameter, depth=depth),),
        say=Phrase(),
        tools=(phrase("Drill, ", diameter, " bit, with a dowelling jig"),),
        cautions=("dowelling",),
        place=entry.place,
    )


KIND = JointKind(
    "dowelled",
    "Dowelled joint",
    Dowelled,
    lambda entry: between(entry, 0),
    lambda entry: between(entry, 1),
    expand,
    phrase("Glue the dowels into one piece, brush glue into the other holes, and press the joint closed."),
    symmetric=True,
    fastens=True,
    cautions=("glue",),
    spreads=True,
)

"""A dowelled joint: dowels in holes bored half into each of two pieces."""

from __future__ import annotations

from plangen.expressions import Name, Names
from plangen.handbook import joinery_rules
from plangen.joinery.body import Expansion, JointKind, Meeting, Spot, between, hole_spans, metric
from plangen.joinery.cuts import RoundCut
from plangen.joinery.fastening import Fastening, places_along
from plangen.joinery.operation import Feature, Form, Operation
from plangen.joinery.piece import Bench
from plangen.joinery.space import Point, Side
from plangen.units import Length, Phrase, phrase


class Dowelled(Fastening):
    """``dowelled: {between: [rail, leg], with: dowel, per joint: 2}``."""

    between: Names
    with_: Name


def expand(entry: Dowelled, meeting: Meeting, bench: Bench) -> Expansion:
    """Bore both pieces for each dowel."""
    dowel = bench.fastener(str(entry.with_))
    if dowel is None:
        return Expansion()
    if dowel.diameter is None or dowel.length is None:
        bench.findings.error(
            "dowel-size",
            f"`{dowel.name}` needs a diameter and a length",
            entry.place_of("with_"),
            "for example `diameter: 3/8in, length: 2in`",
        )
        return Expansion()
    depth = dowel.length / 2 + joinery_rules.dowel_hole_extra(metric=metric(bench))
    side = meeting.side
    for piece in (meeting.one, meeting.two):
        if depth >= piece.finished.size(side.axis):
            bench.findings.error(
                "dowel-too-long",
                f"the dowel hole would come out of {piece.copy}",
                entry.place_of("with_"),
                "take a shorter dowel",
                part=piece.part,
            )
            return Expansion()
    if dowel.diameter >= meeting.rect.size(meeting.lateral[1]):
        bench.findings.error(
            "dowel-too-thick",
            f"the dowel is as thick as the joint of {meeting.one.copy} and {meeting.two.copy} is wide",
            entry.place_of("with_"),
            "a third to a half of the thinner piece is usual",
            part=meeting.one.part,
        )
        return Expansion()
    on_one, on_two, spots = [], [], []
    for place in places_along(entry, meeting, dowel.diameter, bench):
        at_one = place.with_(side.axis, meeting.one.finished.side(side))
        at_two = place.with_(side.axis, meeting.two.finished.side(side.opposite))
        on_one.append(_hole(at_one, side, dowel.diameter, depth, entry))
        on_two.append(_hole(at_two, side.opposite, dowel.diameter, depth, entry))
        spots.append(Spot(meeting.one.copy, at_one.floats(), side))
    return Expansion(tuple(on_one), tuple(on_two), side.opposite, ((dowel.name, tuple(spots)),), meeting.area)


def _hole(mouth: Point, side: Side, diameter: Length, depth: Length, entry: Dowelled) -> Operation:
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
)

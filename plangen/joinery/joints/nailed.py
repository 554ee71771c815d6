"""A nailed joint: nails or brads through one piece into another, predrilled where the wood would split."""

from __future__ import annotations

from fractions import Fraction
from typing import Final

from plangen.expressions import Name, Names, YesNo
from plangen.handbook.drills import nearest_drill
from plangen.joinery.body import Expansion, JointKind, Meeting, Spot, hole_spans, metric
from plangen.joinery.cuts import RoundCut
from plangen.joinery.fastening import Fastening, places_along, said
from plangen.joinery.operation import Feature, Form, Group, Operation
from plangen.joinery.piece import Bench
from plangen.joinery.space import Point
from plangen.units import Length, Phrase, inches, phrase

# A nail's hole to its diameter, and the nail that splits no board: common practice, no source.
SHARE: Final = Fraction(3, 4)
THIN: Final = inches("1/16")


class Nailed(Fastening):
    """``nailed: {through: back, into: side, with: nail, every: 4in}``.

    Nails thicker than 1/16 in (1.6 mm) are predrilled through the first piece, three quarters of
    their diameter; ``predrill`` says it otherwise.
    """

    through: Names
    into: Names
    with_: Name
    predrill: YesNo | None = None


def expand(entry: Nailed, meeting: Meeting, bench: Bench) -> Expansion:
    """Say where each nail goes, and bore for it."""
    one, two, side = meeting.one, meeting.two, meeting.side
    nail = bench.fastener(str(entry.with_))
    if nail is None:
        return Expansion()
    if nail.diameter is None or nail.length is None:
        bench.findings.error(
            "nail-size",
            f"`{nail.name}` needs a diameter and a length",
            entry.place_of("with_"),
            "for example `diameter: 0.113in, length: 2in` for a 6d nail",
        )
        return Expansion()
    begins = meeting.rect.side(side) if meeting.ledge else two.finished.side(side.opposite)
    wood = one.finished.size(side.axis) - meeting.housing
    room = (two.finished.side(side) - begins) * side.sign
    bite = nail.length - wood
    if bite.mm <= 0 or bite >= room:
        short = bite.mm <= 0
        bench.findings.error(
            "nail-too-short" if short else "nail-too-long",
            f"`{nail.name}` is {said(nail.length, bench)} long and "
            + (f"does not reach into {two.copy}" if short else f"would come out of {two.copy}")
            + f" through {said(wood, bench)} of {one.copy}",
            entry.place_of("with_"),
            "take a longer nail; two thirds of it should be in the second piece"
            if short
            else "take a shorter nail",
            part=two.part,
        )
        return Expansion()
    bores = nail.diameter > THIN if entry.predrill is None else bool(entry.predrill)
    drill = nearest_drill(nail.diameter * SHARE, metric=metric(bench))
    made, spots = [], []
    for place in places_along(entry, meeting, nail.diameter, bench):
        head = place.with_(side.axis, one.finished.side(side.opposite))
        if bores:
            made.append(_hole(head, drill, one.finished.size(side.axis), entry, meeting))
        spots.append(Spot(one.copy, head.floats(), side.opposite))
    hardware = ((nail.name, tuple(spots)),) if spots else ()
    tools = (phrase("Hammer"), phrase("Nail set"))
    return Expansion(tuple(made), (), side.opposite, hardware, meeting.area, tools)


def _hole(head: Point, drill: Length, thickness: Length, entry: Nailed, meeting: Meeting) -> Operation:
    outer = meeting.side.opposite
    return Operation(
        kind="nail hole",
        title="Nail hole",
        side=outer,
        cuts=(RoundCut(head, outer, drill, thickness),),
        features=(Feature(Form.HOLE, outer, hole_spans(head, outer, thickness), diameter=drill),),
        say=Phrase(),
        tools=(phrase("Drill, ", drill, " bit"),),
        cautions=("drill",),
        place=entry.place,
        group=Group.HOLES,
    )


KIND = JointKind(
    "nailed",
    "Nailed joint",
    Nailed,
    lambda entry: entry.through,
    lambda entry: entry.into,
    expand,
    phrase("Drive the nails and set their heads just under the face."),
    claims=False,
    fastens=True,
    glued=False,
    cautions=("nails",),
    verb="Nail",
    lies=True,
    tight=True,
)

"""Round holes for bolts, and for what bolts are screwed into."""

from __future__ import annotations

from plangen.expressions import Entry
from plangen.joinery.body import hole_spans
from plangen.joinery.cuts import RoundCut
from plangen.joinery.operation import Feature, Form, Group, Operation
from plangen.joinery.space import Point, Side
from plangen.units import Length, Phrase, phrase


def drilled(
    kind: str,
    title: str,
    mouth: Point,
    side: Side,
    diameter: Length,
    depth: Length,
    entry: Entry,
    *,
    through: bool = False,
    counterbore: tuple[Length, Length] | None = None,
) -> Operation:
    """Give one hole from its mouth inward, right through or blind, with the wider mouth for a head."""
    cuts = [RoundCut(mouth, side, diameter, depth)]
    tools = [phrase("Drill, ", diameter, " bit")]
    if counterbore is not None:
        cuts.append(RoundCut(mouth, side, *counterbore))
        tools.insert(0, phrase("Drill, ", counterbore[0], " brad-point bit"))
    feature = Feature(
        Form.HOLE,
        side,
        hole_spans(mouth, side, depth),
        diameter=diameter,
        depth=None if through else depth,
        counterbore=counterbore,
    )
    return Operation(
        kind=kind,
        title=title,
        side=side,
        cuts=tuple(cuts),
        features=(feature,),
        say=Phrase(),
        tools=tuple(tools),
        cautions=("drill",),
        place=entry.place,
        group=Group.HOLES,
    )

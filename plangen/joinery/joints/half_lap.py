"""A half-lap: two pieces that cross or meet, each cut away by half so that they lie flush."""

from __future__ import annotations

from plangen.expressions import LengthExpr, Names, SideWord
from plangen.joinery.body import Expansion, JointBody, JointKind, Meeting, between, spans_of
from plangen.joinery.cuts import BoxCut
from plangen.joinery.operation import Feature, Form, Operation
from plangen.joinery.piece import Bench, Piece
from plangen.joinery.space import Axis, Box, Side
from plangen.units import Length, Phrase, phrase


class HalfLap(JointBody):
    """``half-lap: {between: [stile, rail], keeps: front}``.

    ``keeps`` is the side on which the first named piece keeps its wood (front, top or left unless
    said); ``depth`` is what the second named loses, half of the overlap unless said.
    """

    between: Names
    keeps: SideWord | None = None
    depth: LengthExpr | None = None


_USUAL = {Axis.ACROSS: Side.LEFT, Axis.DEEP: Side.FRONT, Axis.UP: Side.TOP}


def expand(entry: HalfLap, meeting: Meeting, bench: Bench) -> Expansion:
    """Take half from each."""
    one, two, both = meeting.one, meeting.two, meeting.rect
    axis = _axis(one, two)
    keeps = _USUAL[axis]
    if entry.keeps is not None:
        said = one.face(str(entry.keeps))
        if said is None or said.axis is not axis:
            words = f"{Side.of(axis, False).word} or {Side.of(axis, True).word}"
            bench.findings.error(
                "half-lap",
                f"this half-lap is cut {axis.word}, so `keeps` names {words}",
                entry.place_of("keeps"),
                f"write `keeps: {keeps.word}`",
                part=one.part,
            )
            return Expansion()
        keeps = said
    depth = entry.depth.length(bench.scope) if entry.depth is not None else both.size(axis) / 2
    if not 0 < depth.mm < both.size(axis).mm:
        bench.findings.error(
            "half-lap",
            "the lap takes all of one piece",
            entry.place_of("depth"),
            "leave `depth` out for half and half",
            part=one.part,
        )
        return Expansion()
    # The plane where the two halves meet, counted from the side that the first piece keeps.
    plane = both.side(keeps) - depth * keeps.sign
    from_one = both.with_side(keeps, plane).with_side(keeps.opposite, one.finished.side(keeps.opposite))
    from_two = both.with_side(keeps.opposite, plane).with_side(keeps, two.finished.side(keeps))
    on_one = (_lap(from_one, keeps.opposite, one, entry, axis),)
    on_two = (_lap(from_two, keeps, two, entry, axis),)
    others = [a for a in Axis if a is not axis]
    area = both.size(others[0]).mm * both.size(others[1]).mm
    return Expansion(on_one, on_two, keeps, (), area)


def _axis(one: Piece, two: Piece) -> Axis:
    """The direction in which the laps are deep: square to both runs where the pieces cross.

    Where they run alike, two that lie flat on each other lap face to face, and two that stand
    edgewise across each other slide together along their run.
    """
    if one.runs is not two.runs:
        return next(axis for axis in Axis if axis not in (one.runs, two.runs))
    return one.thick if one.thick is two.thick else one.runs


def _lap(box: Box, side: Side, piece: Piece, entry: HalfLap, axis: Axis) -> Operation:
    depth: Length = box.size(axis)
    return Operation(
        kind="half-lap",
        title="Half-lap",
        side=side,
        cuts=(BoxCut(box),),
        features=(Feature(Form.SLOT, side, spans_of(box), depth=depth),),
        say=Phrase(),
        tools=(phrase("Table saw with a dado set, or router, set to ", depth, " deep"),),
        cautions=("table saw",),
        place=entry.place,
    )


KIND = JointKind(
    "half-lap",
    "Half-lap",
    HalfLap,
    lambda entry: between(entry, 0),
    lambda entry: between(entry, 1),
    expand,
    phrase("Spread glue on both cheeks, press the laps together and clamp across the faces."),
    overlaps=True,
    symmetric=True,
    cautions=("glue",),
    spreads=True,
)

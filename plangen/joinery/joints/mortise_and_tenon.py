"""A mortise and tenon: a tongue on the end of a rail in a pocket of the piece that it meets."""

from __future__ import annotations

from plangen.expressions import LengthExpr, Names, SideWord
from plangen.handbook import joinery_rules
from plangen.joinery.body import (
    Expansion,
    JointBody,
    JointKind,
    Meeting,
    gap_fits,
    metric,
    sides_said,
    spans_of,
)
from plangen.joinery.cuts import BoxCut
from plangen.joinery.operation import Feature, Form, Operation
from plangen.joinery.piece import Bench, Piece
from plangen.joinery.space import Box, Side
from plangen.units import ZERO, Length, Phrase, inches, millimetres, phrase


class MortiseAndTenon(JointBody):
    """``mortise and tenon: {in: stile, for: rail, length: 1in}``.

    ``length`` is the tenon's. ``thickness`` is a third of the rail's unless said, in the middle of
    it; ``width`` is the rail's less its ``shoulders`` at the two edges. The mortise is a little
    deeper than the tenon is long: ``gap``.
    """

    in_: Names
    for_: Names
    length: LengthExpr
    thickness: LengthExpr | None = None
    width: LengthExpr | None = None
    shoulders: dict[SideWord, LengthExpr] | None = None
    gap: LengthExpr | None = None


def reach(entry: MortiseAndTenon, one: Piece, two: Piece, bench: Bench) -> Length:
    """The tenon's length."""
    return entry.length.length(bench.scope)


def expand(entry: MortiseAndTenon, meeting: Meeting, bench: Bench) -> Expansion:
    """Cut the tenon and its mortise."""
    one, two, side = meeting.one, meeting.two, meeting.side
    if side.axis is not two.runs:
        bench.findings.error(
            "tenon-not-at-end",
            f"{two.copy} meets {one.copy} with an edge or a face; a tenon is cut on an end",
            entry.place,
            "check which way the part runs",
            part=two.part,
        )
        return Expansion()
    length = entry.length.length(bench.scope)
    tongue = _tongue(entry, meeting, length, bench)
    if tongue is None:
        return Expansion()
    gap = (
        entry.gap.length(bench.scope)
        if entry.gap is not None
        else joinery_rules.mortise_extra(metric=metric(bench))
    )
    if gap < ZERO:
        gap_fits(gap, length, entry, bench)
        return Expansion()
    whole = one.finished.size(side.axis)
    if length > whole or length.mm <= 0:
        bench.findings.error(
            "tenon-too-long",
            f"the tenon of {two.copy} is longer than {one.part} is deep there",
            entry.place_of("length"),
            "make it shorter, or as long as that piece is deep for a through tenon",
            part=two.part,
        )
        return Expansion()
    deep = min(length + gap, whole)
    if length < whole and deep >= whole:
        bench.findings.error(
            "mortise-breaks-out",
            f"the mortise would break out of {one.copy}",
            entry.place_of("length"),
            "shorten the tenon, or make it a through tenon",
            part=one.part,
        )
        return Expansion()
    mortise = tongue.with_side(side.opposite, one.finished.side(side) - deep * side.sign)
    for axis in meeting.lateral:
        if mortise.low.at(axis) < one.finished.low.at(axis) or mortise.high.at(axis) > one.finished.high.at(
            axis
        ):
            bench.findings.error(
                "mortise-off-part",
                f"the mortise for {two.copy} runs off {one.copy} {axis.word}",
                entry.place,
                "give the tenon wider shoulders there, or move the rail",
                part=one.part,
            )
            return Expansion()
    thickness, width = tongue.size(two.thick), tongue.size(two.wide)
    on_one = (
        Operation(
            kind="mortise",
            title="Mortise",
            side=side,
            cuts=(BoxCut(mortise),),
            features=(Feature(Form.SLOT, side, spans_of(mortise), depth=None if deep == whole else deep),),
            say=Phrase(),
            tools=(phrase("Mortise chisel or router bit ", thickness),),
            cautions=("chisel",),
            place=entry.place,
        ),
    )
    cheeks = _cheeks(tongue, two, side.opposite)
    on_two = (
        Operation(
            kind="tenon",
            title="Tenon",
            side=Side.of(two.thick, True),
            cuts=tuple(BoxCut(box) for box in cheeks),
            features=(Feature(Form.SLOT, Side.of(two.thick, True), spans_of(tongue)),),
            say=Phrase(),
            tools=(phrase("Table saw or tenon saw"),),
            cautions=("table saw",),
            place=entry.place,
        ),
    )
    area = 2 * length.mm * (thickness.mm + width.mm) + meeting.area
    # A piece that enters with its whole section has nothing cut away.
    return Expansion(on_one, on_two if cheeks else (), side.opposite, (), area)


def _tongue(entry: MortiseAndTenon, meeting: Meeting, length: Length, bench: Bench) -> Box | None:
    """The tenon's box in the frame, from the shoulder out to its end."""
    two, side = meeting.two, meeting.side
    rail_thick, rail_wide = two.finished.size(two.thick), two.finished.size(two.wide)
    thickness = (
        entry.thickness.length(bench.scope)
        if entry.thickness is not None
        else joinery_rules.tenon_thickness(rail_thick, metric=metric(bench))
    )
    edges = (Side.of(two.wide, False), Side.of(two.wide, True))
    said = sides_said(entry.shoulders, two, edges, "shoulders", entry, bench)
    if said is None:
        return None
    shoulders = _shoulders(entry, said, edges, rail_wide, bench)
    width = rail_wide - shoulders[edges[0]] - shoulders[edges[1]]
    if entry.width is not None and width != entry.width.length(bench.scope):
        bench.findings.error(
            "tenon-sum",
            f"the tenon of {two.copy} and its shoulders do not come to the width of {two.part}",
            entry.place_of("width"),
            "leave out `width`, or one of the shoulders",
            part=two.part,
        )
        return None
    if (
        thickness > rail_thick
        or width > rail_wide
        or width.mm <= 0
        or thickness.mm <= 0
        or any(s < ZERO for s in shoulders.values())
    ):
        key = "thickness" if thickness > rail_thick else "width" if entry.width is not None else "shoulders"
        bench.findings.error(
            "tenon-too-wide",
            f"the tenon is wider or thicker than {two.part}, or nothing is left of it",
            entry.place_of(key),
            "leave out `width` and `thickness` for the usual proportions",
            part=two.part,
        )
        return None
    shoulder_plane = two.shoulders.side(side.opposite)
    tongue = two.finished.with_side(side, shoulder_plane).with_side(
        side.opposite, shoulder_plane - length * side.sign
    )
    for edge in edges:
        tongue = tongue.grown(edge, -shoulders[edge])
    spare = (rail_thick - thickness) / 2
    for face in (Side.of(two.thick, False), Side.of(two.thick, True)):
        tongue = tongue.grown(face, -spare)
    return tongue


def _shoulders(
    entry: MortiseAndTenon, said: dict[Side, Length], edges: tuple[Side, Side], rail: Length, bench: Bench
) -> dict[Side, Length]:
    """What the tenon leaves free at each edge: as typed, else by the width, else a small shoulder each."""
    if entry.width is None or len(said) == 2:
        usual = min(inches("1/4") if bench.units == "inch" else millimetres(6), bench.nearest(rail / 8))
        return {edge: said.get(edge, usual) for edge in edges}
    spare = rail - entry.width.length(bench.scope)
    if not said:
        return dict.fromkeys(edges, spare / 2)
    ((edge, typed),) = said.items()
    return {edge: typed, edge.opposite: spare - typed}


def _cheeks(tongue: Box, two: Piece, end: Side) -> list[Box]:
    """What is sawn away around the tenon, side by side."""
    stub = two.finished.with_side(end.opposite, tongue.side(end.opposite))
    boxes = []
    for axis in (two.thick, two.wide):
        for side in (Side.of(axis, False), Side.of(axis, True)):
            if tongue.side(side) != stub.side(side):
                boxes.append(stub.with_side(side.opposite, tongue.side(side)))
    return boxes


KIND = JointKind(
    "mortise and tenon",
    "Mortise and tenon",
    MortiseAndTenon,
    lambda entry: entry.in_,
    lambda entry: entry.for_,
    expand,
    phrase("Brush glue into the mortises, push the tenons home and clamp the shoulders tight."),
    reach=reach,
    cautions=("glue",),
)

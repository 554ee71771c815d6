"""Tongue and groove: boards edge to edge, each with its tongue in the groove of the one before it."""

from __future__ import annotations

from plangen.expressions import LengthExpr, Names, SideWord
from plangen.handbook import joinery_rules
from plangen.joinery.body import Expansion, JointBody, JointKind, Meeting, gap_fits, metric
from plangen.joinery.corner import slot_work
from plangen.joinery.housing import depth_fits
from plangen.joinery.operation import Operation
from plangen.joinery.piece import Bench, Piece
from plangen.joinery.sentences import slot
from plangen.joinery.space import Box, Side
from plangen.units import ZERO, Length, Phrase, inches, millimetres, phrase


class TongueAndGroove(JointBody):
    """``tongue and groove: {in: board, for: board, depth: 3/8in, open: 1/16in}``.

    Of two boards side by side the one nearer the left, front or bottom gets the groove; ``grooves: left``
    turns that round. The tongue is a third thick unless said. The boards stand ``open`` by a gap for the
    movement of the wood, and ``gap`` is left at the bottom of the groove.
    """

    in_: Names
    for_: Names
    depth: LengthExpr | None = None  # of the groove: half of the thickness unless said
    thickness: LengthExpr | None = None  # of the tongue: a third unless said
    gap: LengthExpr | None = None  # room at the bottom of the groove: 1/32 in or 1 mm unless said
    open: LengthExpr | None = None  # how far the faces of the boards stand apart: closed unless said
    grooves: SideWord | None = None  # the edge that gets the groove: right, back or top unless said


def _depth(entry: TongueAndGroove, one: Piece, bench: Bench) -> Length:
    if entry.depth is not None:
        return entry.depth.length(bench.scope)
    return bench.nearest(one.shoulders.size(one.thick) / 2)


def _gap(entry: TongueAndGroove, bench: Bench) -> Length:
    if entry.gap is not None:
        return entry.gap.length(bench.scope)
    return millimetres(1) if metric(bench) else inches("1/32")


def clearance(entry: TongueAndGroove, bench: Bench) -> Length:
    """How far the boards stand open."""
    return entry.open.length(bench.scope) if entry.open is not None else ZERO


def picks(entry: TongueAndGroove, meeting: Meeting) -> bool:
    """Whether the first of a pair is the one with the groove: by which side of it the other lies on."""
    grooved = meeting.one.face(str(entry.grooves)) if entry.grooves is not None else None
    return meeting.side.high if grooved is None else meeting.side is grooved


def reach(entry: TongueAndGroove, one: Piece, two: Piece, bench: Bench) -> Length:
    """The tongue: across the opening and into the groove."""
    return clearance(entry, bench) + _depth(entry, one, bench) - _gap(entry, bench)


def expand(entry: TongueAndGroove, meeting: Meeting, bench: Bench) -> Expansion:
    """Cut the groove along the one edge and the tongue along the other."""
    one, two, side = meeting.one, meeting.two, meeting.side
    depth, gap = _depth(entry, one, bench), _gap(entry, bench)
    thickness = (
        entry.thickness.length(bench.scope)
        if entry.thickness is not None
        else joinery_rules.tenon_thickness(two.finished.size(two.thick), metric=metric(bench))
    )
    if not _edges_meet(entry, meeting, bench) or not gap_fits(gap, depth, entry, bench):
        return Expansion()
    if not depth_fits(meeting, depth, "groove", entry.place_of("depth"), bench):
        return Expansion()
    if not 0 < thickness.mm < two.finished.size(two.thick).mm:
        bench.findings.error(
            "tongue-too-thick",
            f"the tongue leaves nothing of the sides of its groove in {one.part}, or there is none",
            entry.place_of("thickness"),
            "leave `thickness` out for a third",
            part=two.part,
        )
        return Expansion()
    spare = (two.finished.size(two.thick) - thickness) / 2
    tongue = two.finished.with_side(side, two.shoulders.side(side.opposite))
    for face in (Side.of(two.thick, False), Side.of(two.thick, True)):
        tongue = tongue.grown(face, -spare)
    groove = one.finished.with_side(side.opposite, one.finished.side(side) - depth * side.sign)
    for face in (Side.of(two.thick, False), Side.of(two.thick, True)):
        groove = groove.with_side(face, tongue.side(face))
    tool = phrase("Router with a tongue-and-groove set, or table saw, for ", thickness, " wide")
    on_one = slot_work(
        "edge groove", "Groove", side, [groove], entry.place, depth=depth, tools=(tool,), cautions=("router",)
    )
    on_two = slot_work(
        "tongue",
        "Tongue",
        side.opposite,
        _cheeks(tongue, two),
        entry.place,
        depth=tongue.size(side.axis),
        tools=(tool,),
        cautions=("router",),
    )
    area = 2 * depth.mm * meeting.rect.size(meeting.two.runs).mm
    return Expansion((on_one,), (on_two,), side.opposite, (), area)


def _edges_meet(entry: TongueAndGroove, meeting: Meeting, bench: Bench) -> bool:
    """Report boards that do not lie edge to edge, flush on both faces."""
    one, two, axis = meeting.one, meeting.two, meeting.side.axis
    flush = all(one.finished.side(f) == two.finished.side(f) for f in Side if f.axis is two.thick)
    if axis is one.wide and axis is two.wide and one.thick is two.thick and flush:
        return True
    bench.findings.error(
        "not-edge-to-edge",
        f"{one.copy} and {two.copy} do not lie edge to edge with their faces flush",
        entry.place,
        "place boards of one thickness side by side, running the same way",
        part=two.part,
    )
    return False


def _cheeks(tongue: Box, two: Piece) -> list[Box]:
    """What goes above and below the tongue."""
    return [
        tongue.with_side(face, two.finished.side(face)).with_side(face.opposite, tongue.side(face))
        for face in (Side.of(two.thick, False), Side.of(two.thick, True))
    ]


def _say_groove(operation: Operation, piece: Piece) -> Phrase:
    return slot("Cut a groove", operation.features[0], piece)


def _say_tongue(operation: Operation, piece: Piece) -> Phrase:
    """Say the tongue by what is left between the two cheeks."""
    low, high = (feature.span(piece.thick) for feature in operation.features)
    first = operation.features[0]
    return phrase(
        "Cut a tongue ", max(low.low, high.low) - min(low.high, high.high), " thick and ",
        first.depth or ZERO, f" long along the {piece.call(first.side)}.",
    )  # fmt: skip


KIND = JointKind(
    "tongue and groove",
    "Tongue and groove",
    TongueAndGroove,
    lambda entry: entry.in_,
    lambda entry: entry.for_,
    expand,
    phrase("Slip the tongues into the grooves and leave each board free to move."),
    reach=reach,
    glued=False,
    clearance=clearance,
    picks=picks,
    says={"edge groove": _say_groove, "tongue": _say_tongue},
    enters="groove",
)

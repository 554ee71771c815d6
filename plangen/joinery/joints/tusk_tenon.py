"""A tusk tenon: a through tenon that stands proud, drawn tight by a loose wedge through it; knock-down."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from typing import ClassVar, cast

from plangen.expressions import LengthExpr, Name, Names, SideWord
from plangen.joinery.body import Expansion, JointBody, JointKind, Meeting, Spot, spans_of
from plangen.joinery.corner import at
from plangen.joinery.cuts import Line, Loop, PrismCut
from plangen.joinery.fastening import never_glued, said
from plangen.joinery.fields import resolve_face
from plangen.joinery.joints import mortise_and_tenon
from plangen.joinery.joints.mortise_and_tenon import MortiseAndTenon
from plangen.joinery.operation import Feature, Form, Group, Operation
from plangen.joinery.piece import Bench, Fastener, Piece
from plangen.joinery.space import Axis, Box, Side
from plangen.joinery.wedges import SLOPE, report_no_size, say_tusk_wedge, tusk_wedge
from plangen.units import ZERO, Length, Phrase, inches, millimetres, phrase


class TuskTenon(JointBody):
    """``tusk tenon: {in: leg, for: rail, proud: 2-1/2in, wedge: wedge, driven: top}``.

    The tenon goes through and stands ``proud``; ``thickness``, ``width``, ``shoulders`` are as for a
    mortise and tenon. The wedge, a row under ``hardware``, is driven in from the side of the rail that
    ``driven`` names. Its mortise begins a little inside the outer face, so that the wedge bears on that
    face; its outer wall slopes 1:8. ``wedge width`` is how far it reaches past the face where the wedge
    is driven in (a third of ``proud`` unless said), ``wedge thickness`` that of its row, or else a third of
    the tenon there. The row gives the ``length``, unless it stands out 1 in (25 mm) at both sides.
    """

    in_: Names
    for_: Names
    proud: LengthExpr
    wedge: Name
    driven: SideWord
    thickness: LengthExpr | None = None
    width: LengthExpr | None = None
    shoulders: dict[SideWord, LengthExpr] | None = None
    wedge_width: LengthExpr | None = None
    wedge_thickness: LengthExpr | None = None

    # What a mortise and tenon may have besides, and this one has not.
    length: ClassVar[None] = None
    through: ClassVar[bool] = True
    gap: ClassVar[None] = None
    haunch: ClassVar[None] = None
    number: ClassVar[None] = None
    twin: ClassVar[None] = None
    space: ClassVar[None] = None
    ends: ClassVar[None] = None
    pegged: ClassVar[None] = None
    wedged: ClassVar[None] = None


def reach(entry: TuskTenon, one: Piece, two: Piece, bench: Bench) -> Length:
    """Right through and proud."""
    return mortise_and_tenon.reach(cast(MortiseAndTenon, entry), one, two, bench)


@dataclass(frozen=True, slots=True)
class Tusk:
    """Where the wedge goes: driven in from ``side``, ``along`` the tenon, ``over`` the wedge's thickness.

    ``box`` is its mortise as wide as at ``side``; ``far`` the place of its outer wall at the other.
    """

    side: Side
    along: Side  # out of the shoulder, towards the tenon's tip
    over: Axis
    box: Box
    far: Length


def expand(entry: TuskTenon, meeting: Meeting, bench: Bench) -> Expansion:
    """Cut the tenon and its mortise, and the wedge's mortise through what stands proud."""
    if not never_glued(entry, "a tusk tenon", bench):
        return Expansion()
    row = bench.fastener(str(entry.wedge))
    if row is None:
        bench.findings.error(
            "undefined-name",
            f"there is no hardware called `{entry.wedge}`",
            entry.place_of("wedge"),
            "add it under `hardware`, for example `wedge: {kind: wedge, thickness: 3/8in, length: 6in}`",
        )
        return Expansion()
    made = mortise_and_tenon.expand(cast(MortiseAndTenon, entry), meeting, bench)
    if not made.on_one:
        return Expansion()
    tusk = _tusk(entry, row, meeting, made, bench)
    if tusk is None:
        return Expansion()
    mouth = [tusk.box.middle(axis) for axis in Axis]
    mouth[tusk.side.axis.value] = tusk.box.side(tusk.side)
    spot = Spot(meeting.two.copy, (float(mouth[0]), float(mouth[1]), float(mouth[2])), tusk.side)
    across = tusk.box.size(tusk.side.axis)
    past = (tusk.box.side(tusk.along) - meeting.one.finished.side(tusk.along)) * tusk.along.sign
    wedge = tusk_wedge(across, past, tusk.box.size(tusk.over), row.length, bench)
    if wedge.length < across:
        bench.findings.error(
            "wedge-too-short",
            f"`{row.name}` is {said(wedge.length, bench)} long, and the tenon of {meeting.two.copy} "
            f"{said(across, bench)} across",
            entry.place_of("wedge"),
            "make it longer than the tenon by what the mallet needs at both ends",
            part=meeting.two.part,
        )
        return Expansion()
    report_no_size(row, wedge.thickness, wedge.wide, wedge.length, entry.place_of("wedge"), bench)
    return replace(
        made,
        first=(say_tusk_wedge(wedge),),
        on_two=(*made.on_two, _wedge_mortise(tusk, entry)),
        hardware=((str(entry.wedge), (spot,)),),
        glue_area=Fraction(0),
        tools=(*made.tools, phrase("Mallet")),
    )


def _tusk(entry: TuskTenon, row: Fastener, meeting: Meeting, made: Expansion, bench: Bench) -> Tusk | None:
    """Lay out the wedge's mortise; None, with a finding, where it has no room."""
    one, two, along = meeting.one, meeting.two, meeting.end
    side = resolve_face(entry.driven, two, bench, entry.place_of("driven"))
    if side is None:
        return None
    if side.axis is two.runs:
        bench.findings.error(
            "wrong-side",
            f"a wedge goes across the tenon, and {side.word} lies along it",
            entry.place_of("driven"),
            "name a face or an edge of the rail",
            part=two.part,
        )
        return None
    over = next(axis for axis in Axis if axis not in (side.axis, along.axis))
    tenon = _section(made, two)
    proud, third = entry.proud.length(bench.scope), tenon.size(over) / 3
    width = (
        entry.wedge_width.length(bench.scope) if entry.wedge_width is not None else bench.nearest(proud / 3)
    )
    thick = (
        entry.wedge_thickness.length(bench.scope)
        if entry.wedge_thickness is not None
        else row.thickness or bench.nearest(third)
    )
    thin = width - tenon.size(side.axis) * SLOPE
    if not _has_room(entry, meeting, proud, width, thin, thick, tenon.size(over), bench):
        return None
    face = one.finished.side(along)
    inset = millimetres(3) if bench.units == "mm" else inches("1/8")  # common practice, no source
    box = tenon.with_side(along.opposite, face - inset * along.sign)
    box = box.with_side(along, face + width * along.sign)
    middle = tenon.middle(over)
    box = box.with_side(Side.of(over, False), middle - thick / 2)
    box = box.with_side(Side.of(over, True), middle + thick / 2)
    return Tusk(side, along, over, box, face + thin * along.sign)


def _section(made: Expansion, two: Piece) -> Box:
    """The tenon from shoulder to tip: what its operation locates, or all of a piece that enters whole."""
    for operation in made.on_two:
        if operation.kind == "tenon":
            box = two.finished
            for axis, span in operation.features[0].spans:
                box = box.with_side(Side.of(axis, False), span.low).with_side(Side.of(axis, True), span.high)
            return box
    return two.finished


def _has_room(
    entry: TuskTenon,
    meeting: Meeting,
    proud: Length,
    width: Length,
    thin: Length,
    thick: Length,
    across: Length,
    bench: Bench,
) -> bool:
    """Report a wedge that comes out of the tenon's end, that tapers to nothing, or is too thick."""
    two = meeting.two
    if thin <= ZERO:
        bench.findings.error(
            "wedge-too-narrow",
            f"a wedge {said(width, bench)} wide tapers to nothing before it is through {two.copy}",
            entry.place_of("wedge_width" if entry.wedge_width is not None else "proud"),
            "make the wedge wider, or drive it the short way through the tenon",
            part=two.part,
        )
        return False
    if not ZERO < thick < across:
        bench.findings.error(
            "wedge-too-thick",
            f"a wedge {said(thick, bench)} thick leaves nothing of the tenon of {two.copy}, "
            f"{said(across, bench)} across",
            entry.place_of("wedge_thickness"),
            "a third of the tenon is usual",
            part=two.part,
        )
        return False
    if width >= proud:
        bench.findings.error(
            "tusk-too-short",
            f"the wedge's mortise, {said(width, bench)} past the face, comes out of the end of {two.copy}",
            entry.place_of("proud"),
            "let the tenon stand farther out",
            part=two.part,
        )
        return False
    if proud - width < width:
        bench.findings.warning(
            "tusk-short",
            f"only {said(proud - width, bench)} of {two.copy} is left past a wedge {said(width, bench)} wide",
            entry.place_of("proud"),
            "leave at least as much wood beyond the wedge as it is wide, so that it does not shear out",
            part=two.part,
        )
    return True


def _wedge_mortise(tusk: Tusk, entry: TuskTenon) -> Operation:
    """The mortise: its inner wall square, its outer wall sloped with the wedge."""
    box, along, driven = tusk.box, tusk.along, tusk.side
    near, far = box.side(driven), box.side(driven.opposite)
    inner, outer = box.side(along.opposite), box.side(along)
    corners = [
        at(tusk.over, {along.axis: along_at, driven.axis: driven_at})
        for along_at, driven_at in ((inner, near), (outer, near), (tusk.far, far), (inner, far))
    ]
    loop = Loop(corners[0], tuple(Line(corner) for corner in (*corners[1:], corners[0])))
    return Operation(
        kind="wedge mortise",
        title="Wedge mortise",
        side=driven,
        cuts=(PrismCut(tusk.over, box.low.at(tusk.over), box.high.at(tusk.over), (loop,)),),
        features=(Feature(Form.SLOT, driven, spans_of(box), note=phrase(f"slope 1:{SLOPE.denominator}")),),
        say=Phrase(),
        tools=(phrase("Paring chisel, ", box.size(tusk.over), " or narrower"),),
        cautions=("chisel",),
        place=entry.place,
        group=Group.JOINTS,
    )


def say(operation: Operation, piece: Piece) -> Phrase:
    """Say the wedge's mortise: its opening on both sides of the tenon, and its slope."""
    feature, cut = operation.features[0], operation.cuts[0]
    assert isinstance(cut, PrismCut)
    ends = [segment.to for segment in cut.loops[0].segments if isinstance(segment, Line)]
    wide, narrow = (
        abs(one[0] - two[0]) + abs(one[1] - two[1])
        for one, two in ((cut.loops[0].start, ends[0]), (ends[1], ends[2]))
    )
    inner = feature.span(piece.runs)
    low, high = piece.shoulders.low.at(piece.runs), piece.shoulders.high.at(piece.runs)
    at_low = inner.high <= low
    shoulder = low - inner.high if at_low else inner.low - high
    end = Side.of(piece.runs, not at_low)
    return phrase(
        f"Chop a mortise for the wedge right through the tenon at the {piece.call(end)}, "
        f"from the {piece.call(feature.side)}, its inner wall ",
        shoulder,
        " from the shoulder, ",
        cut.high - cut.low,
        " thick and ",
        wide,
        " long there, its outer wall sloped to ",
        narrow,
        " long where it comes out.",
    )


KIND = JointKind(
    "tusk tenon",
    "Tusk tenon",
    TuskTenon,
    lambda entry: entry.in_,
    lambda entry: entry.for_,
    expand,
    phrase(
        "Push the tenon through dry and drive the wedge until the shoulders are tight; it knocks out again."
    ),
    reach=reach,
    glued=False,
    comes_apart=True,
    says={**mortise_and_tenon.KIND.says, "wedge mortise": say},
)

"""A drawer that slides: a runner between each side of the drawer and the carcase beside it."""

from __future__ import annotations

from fractions import Fraction

from plangen.expressions import LengthExpr, Name, Names, SideWord
from plangen.findings import ProjectError
from plangen.handbook import screws as wood_screws
from plangen.joinery.body import Expansion, JointBody, JointKind, Meeting, Moves, Spot, hole_spans
from plangen.joinery.cuts import RoundCut
from plangen.joinery.fastening import said
from plangen.joinery.hardware.fitting import BEYOND_TIP, too_long
from plangen.joinery.hardware.ware import Ware
from plangen.joinery.operation import Feature, Form, Operation, Span
from plangen.joinery.piece import Bench, Piece
from plangen.joinery.space import SIDE_WORDS, Axis, Point, Side
from plangen.units import ZERO, Length, Phrase, phrase


class Slides(JointBody):
    """``slides: {out: drawer side, in: side, with: runner, toward: front, setback: 2mm}``.

    ``setback`` is from the end of the carcase side to the end of the slide, ``up`` from the bottom edge
    of the drawer side to the middle line of the slide: half of the drawer side unless said.
    """

    out: Names
    in_: Names
    with_: Name
    toward: SideWord | None = None  # front unless said
    setback: LengthExpr | None = None
    up: LengthExpr | None = None


def clearance(entry: Slides, bench: Bench) -> Length:
    """The thickness of the slide. Raises ProjectError, with no more to say, where its row is at fault."""
    runner = bench.fastener(str(entry.with_))
    if runner is None:
        raise ProjectError([])
    if runner.ware is None:
        return ZERO
    return runner.ware.sizes.get("thickness", ZERO)


def expand(entry: Slides, meeting: Meeting, bench: Bench) -> Expansion:
    """Bore both sides where the slide's holes are known, and say how far the drawer comes out."""
    runner = bench.fastener(str(entry.with_))
    if runner is None:
        return Expansion()
    ware = runner.ware
    if ware is None or ware.kind != "drawer slide":
        bench.findings.error(
            "wrong-hardware",
            f"`{runner.name}` is a {runner.kind}, and no drawer slides on it",
            entry.place_of("with_"),
            "name a row of the kind `drawer slide`",
        )
        return Expansion()
    toward = SIDE_WORDS.get(str(entry.toward or "front"))
    if toward is None or toward.axis in (meeting.side.axis, Axis.UP):
        bench.findings.error(
            "wrong-side",
            f"`toward: {entry.toward or 'front'}` is no way for this drawer to come out",
            entry.place_of("toward"),
            "name a side that the drawer comes out at, such as `front`",
        )
        return Expansion()
    carcase, drawer = meeting.one, meeting.two
    setback = entry.setback.length(bench.scope) if entry.setback is not None else ZERO
    length, deep = ware.sizes["length"], carcase.finished.size(toward.axis)
    if setback + length > deep:
        over = setback + length - deep
        bench.findings.error(
            "slide-too-long",
            f"`{runner.name}` is longer than {carcase.copy} is deep, by {said(over, bench)}",
            entry.place_of("with_"),
            "take a shorter slide, or make the carcase deeper",
            part=carcase.part,
        )
        return Expansion()
    if length > drawer.finished.size(toward.axis) + setback:
        bench.findings.error(
            "slide-too-long",
            f"`{runner.name}` is longer than {drawer.copy}",
            entry.place_of("with_"),
            "take a shorter slide, or make the drawer deeper",
            part=drawer.part,
        )
        return Expansion()
    line = _line(entry, meeting, ware, bench)
    if line is None:
        return Expansion()
    front = carcase.finished.side(toward) - setback * toward.sign
    works, spots = [], []
    for piece, side, places in (
        (carcase, meeting.side, ware.screws.places if ware.screws else ()),
        (drawer, meeting.side.opposite, ware.screws.more if ware.screws else ()),
    ):
        found = _member(entry, piece, side, toward, front, line, places, ware, bench)
        if found is None:
            return Expansion()
        works.append(found[0])
        spots += found[1]
    start = carcase.finished.low.with_(meeting.side.axis, carcase.finished.side(meeting.side))
    start = start.with_(Axis.UP, line).with_(toward.axis, front - length / 2 * toward.sign)
    hardware: list[tuple[str, tuple[Spot, ...]]] = [
        (runner.name, (Spot(carcase.copy, start.floats(), meeting.side),))
    ]
    if ware.screws is not None:
        hardware.append((ware.screws.name, tuple(spots)))
    return Expansion(
        tuple(works[0]),
        tuple(works[1]),
        toward.opposite,
        tuple(hardware),
        tools=(phrase("Screwdriver for the screws"),),
        moves=Moves("slides", start, toward, ware.sizes["travel"].mm),
    )


def _line(entry: Slides, meeting: Meeting, ware: Ware, bench: Bench) -> Length | None:
    """The height of the slide's middle line; None, with a finding, where the slide is wider than its room."""
    drawer, half = meeting.two.finished, ware.sizes["height"] / 2
    line = drawer.middle(Axis.UP)
    if entry.up is not None:
        line = drawer.low.up + entry.up.length(bench.scope)
    for piece in (meeting.two, meeting.one):
        if piece.finished.low.up <= line - half and line + half <= piece.finished.high.up:
            continue
        bench.findings.error(
            "slide-off-part",
            f"the slide reaches past {piece.copy}: it is {said(half * 2, bench)} high",
            entry.place_of("up"),
            "count `up` from the bottom edge of the drawer side to the middle of the slide",
            part=piece.part,
        )
        return None
    return line


def _member(
    entry: Slides,
    piece: Piece,
    side: Side,
    toward: Side,
    front: Length,
    line: Length,
    places: tuple[tuple[Length, Length], ...],
    ware: Ware,
    bench: Bench,
) -> tuple[list[Operation], list[Spot]] | None:
    """The mark of one member's front end, its lead holes, and a spot for every screw."""
    begins = _at(piece, side, line, toward, front)
    made = [_mark(begins, piece, side, toward, entry)]
    if ware.screws is None:
        return made, []
    screw = bench.fastener(ware.screws.name)
    if screw is None or screw.length is None:
        return None
    thick = piece.finished.size(side.axis)
    if screw.length > thick - BEYOND_TIP:
        bench.findings.error(
            "screw-too-long",
            too_long("the screws of the slide", screw.length, thick, piece.copy, bench),
            entry.place_of("with_"),
            "give the slide shorter screws: `screws: {number: …, length: …}`",
            part=piece.part,
        )
        return None
    number = ware.screws.number // 2
    length = ware.sizes["length"]
    known = bool(places)
    along = [place for place, _ in places] or [
        length * Fraction(2 * index + 1, 2 * number) for index in range(number)
    ]
    spots = []
    gauge = screw.gauge if screw.gauge is not None else screw.diameter
    for place in along:
        mouth = _at(piece, side, line, toward, front - place * toward.sign)
        spots.append(Spot(piece.copy, mouth.floats(), side))
        if not known or gauge is None:
            continue
        if (
            not piece.finished.low.at(toward.axis)
            < mouth.at(toward.axis)
            < piece.finished.high.at(toward.axis)
        ):
            bench.findings.error(
                "hole-off-part",
                f"a hole of the slide lies beside {piece.copy}",
                entry.place_of("with_"),
                "the holes are counted from the front end of the slide; check them and `setback`",
                part=piece.part,
            )
            return None
        lead = wood_screws.lead_hole(gauge, piece.hard)
        made.append(_lead(mouth, side, toward, lead, screw.length, entry))
    return made, spots


def _at(piece: Piece, side: Side, line: Length, toward: Side, place: Length) -> Point:
    """A place on the middle line of the slide, on the side of the piece that it is screwed to."""
    on_face = piece.finished.low.with_(side.axis, piece.finished.side(side))
    return on_face.with_(Axis.UP, line).with_(toward.axis, place)


def _mark(begins: Point, piece: Piece, side: Side, toward: Side, entry: Slides) -> Operation:
    """The mark that a member is set by: where its middle line begins, on the piece or at its very end.

    The front of a slide that is set back on the carcase lies before the drawer side where that is
    further in; then the line is marked, and its end is flush with the piece.
    """
    far = piece.finished.side(toward)
    at = begins if (far - begins.at(toward.axis)) * toward.sign >= ZERO else begins.with_(toward.axis, far)
    spans = tuple((axis, Span(at.at(axis), at.at(axis))) for axis in Axis)
    ahead = (begins.at(toward.axis) - at.at(toward.axis)) * toward.sign
    words = phrase("front end of the slide, on its middle line")
    if ahead > ZERO:
        words = phrase("middle line of the slide, whose front end stands ", ahead, " before this end")
    return Operation(
        kind="mark",
        title="Line of the slide",
        side=side,
        cuts=(),
        features=(Feature(Form.MARK, side, spans, (toward, Side.BOTTOM), note=words),),
        say=Phrase(),
        tools=(phrase("Pencil and square"),),
        place=entry.place,
        seats=(at,),
    )


def _lead(
    mouth: Point, side: Side, toward: Side, diameter: Length, depth: Length, entry: Slides
) -> Operation:
    return Operation(
        kind="lead hole",
        title="Lead hole",
        side=side,
        cuts=(RoundCut(mouth, side, diameter, depth),),
        features=(
            Feature(
                Form.HOLE,
                side,
                hole_spans(mouth, side, depth),
                (toward, Side.BOTTOM),
                diameter=diameter,
                depth=depth,
            ),
        ),
        say=Phrase(),
        tools=(phrase("Drill, ", diameter, " bit"),),
        cautions=("drill",),
        place=entry.place,
    )


KIND = JointKind(
    "slides",
    "Drawer slides",
    Slides,
    lambda entry: entry.in_,
    lambda entry: entry.out,
    expand,
    phrase("Screw the inner members to the drawer and the outer ones to the carcase, then run it in."),
    glued=False,
    cautions=("pinch",),
    clearance=clearance,
    comes_apart=True,
    verb="Mount",
    lies=True,
    last=True,
)

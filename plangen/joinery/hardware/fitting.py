"""What a piece of hardware cuts where it is fitted: its holes, its recess, the lead holes of its screws."""

from __future__ import annotations

from dataclasses import dataclass, replace

from plangen.findings import Place
from plangen.handbook import screws as wood_screws
from plangen.joinery.cuts import BoxCut, Cut, RoundCut, plane_axes
from plangen.joinery.fastening import said
from plangen.joinery.hardware.ware import Bored, LetIn, Ware
from plangen.joinery.operation import Feature, Form, Group, Operation, Repeat, Span
from plangen.joinery.piece import Bench, Fastener, Piece
from plangen.joinery.shapes import rounded_prism
from plangen.joinery.space import Axis, Box, Point, Side
from plangen.units import ZERO, Length, Phrase, millimetres, phrase

# Wood left beyond the tip of a screw: common practice, no source.
BEYOND_TIP = millimetres(2)


@dataclass(frozen=True, slots=True)
class Seats:
    """Where pieces of hardware sit on a face: their origins, all of them rows from ``low``.

    ``along`` is the way their own length lies, ``over`` their width.
    """

    face: Side
    along: Side
    over: Side
    mouths: tuple[Point, ...]
    low: Point
    repeat: tuple[Repeat, ...] = ()
    datum: tuple[Side, ...] = ()

    def shift(self, along: Length, over: Length) -> Point:
        """The way from an origin to a place of the hardware's own."""
        zero = Point(ZERO, ZERO, ZERO)
        return zero.moved(self.along.axis, along * self.along.sign).moved(
            self.over.axis, over * self.over.sign
        )


def fitted(
    item: Fastener, ware: Ware, seats: Seats, piece: Piece, joint: str | None, place: Place, bench: Bench
) -> tuple[Operation, ...]:
    """Give the operations for a piece of hardware at every seat; what cannot be goes to the findings."""
    made: list[Operation] = []
    for cut in ware.cuts:
        one = (
            _bored(item, cut, seats, piece, place, bench)
            if isinstance(cut, Bored)
            else _let_in(item, cut, seats, piece, place, bench)
        )
        if one is None:
            return ()
        made.append(one)
    made += lead_holes(ware, seats, piece, place, bench)
    if not made:
        made = [marked(item, seats, piece, place)]
    return tuple(
        replace(
            operation, joint=joint, cautions=(*operation.cautions, *ware.cautions), seats=tuple(seats.mouths)
        )
        for operation in made
    )


def marked(item: Fastener, seats: Seats, piece: Piece, place: Place) -> Operation:
    """Give the marks by which hardware is set on its face where nothing is cut for it."""
    several = len(seats.mouths) > 1
    noun = item.title[:1].lower() + item.title[1:]
    spans = tuple((axis, Span(seats.low.at(axis), seats.low.at(axis))) for axis in Axis)
    feature = Feature(
        Form.MARK, seats.face, spans, seats.datum, repeat=seats.repeat, note=phrase(f"middle of {noun}")
    )
    return Operation(
        kind="mark",
        title=f"Places of the {noun}" if several else f"Place of the {noun}",
        side=seats.face,
        cuts=(),
        features=(feature,),
        say=Phrase(),
        tools=(phrase("Pencil and square"),),
        place=place,
        seats=seats.mouths,
    )


def on_face(centre: Point, reach: dict[Axis, Length], face: Side, piece: Piece) -> bool:
    """Whether what reaches so far each way from a centre lies within the face, with wood all round."""
    return all(
        piece.finished.low.at(axis) < centre.at(axis) - reach[axis]
        and centre.at(axis) + reach[axis] < piece.finished.high.at(axis)
        for axis in Axis
        if axis is not face.axis
    )


def _bored(
    item: Fastener, cut: Bored, seats: Seats, piece: Piece, place: Place, bench: Bench
) -> Operation | None:
    face, thickness = seats.face, piece.finished.size(seats.face.axis)
    depth = cut.depth if cut.depth is not None else thickness
    noun = cut.title.lower()
    if depth > thickness:
        bench.findings.error(
            "hole-too-deep",
            f"the {noun} for `{item.name}` is deeper than {piece.part} is thick",
            place,
            f"take a shallower `{item.name}`, or fit it to a thicker part",
            part=piece.part,
        )
        return None
    shift = seats.shift(cut.along, cut.over)
    reach = dict.fromkeys(Axis, cut.diameter / 2)
    if not all(on_face(mouth + shift, reach, face, piece) for mouth in seats.mouths):
        sizes = [piece.finished.size(axis) for axis in Axis if axis is not face.axis]
        wide = cut.diameter >= min(sizes)
        bench.findings.error(
            "hole-too-wide" if wide else "hole-off-part",
            f"the {noun} for `{item.name}` is wider than the {piece.call(face)} of {piece.part}"
            if wide
            else f"the {noun} for `{item.name}` breaks out of the {piece.call(face)} of {piece.part}",
            place,
            "take one with a thinner stem, or make the part thicker"
            if wide
            else "move it in from the edge by at least half its width",
            part=piece.part,
        )
        return None
    low = seats.low + shift
    spans = {axis: Span(low.at(axis), low.at(axis)) for axis in Axis}
    floor = piece.finished.side(face) - depth * face.sign
    mouth_at = low.at(face.axis)
    spans[face.axis] = Span(min(mouth_at, floor), max(mouth_at, floor))
    return Operation(
        kind="hole",
        title=cut.title + ("s" if len(seats.mouths) > 1 else ""),
        side=face,
        cuts=tuple(RoundCut(mouth + shift, face, cut.diameter, depth) for mouth in seats.mouths),
        features=(
            Feature(
                Form.HOLE,
                face,
                tuple((axis, spans[axis]) for axis in Axis),
                seats.datum,
                diameter=cut.diameter,
                depth=None if depth == thickness else depth,
                repeat=seats.repeat,
            ),
        ),
        say=Phrase(),
        tools=(phrase("Drill, ", cut.diameter, " bit"),),
        cautions=("drill",),
        place=place,
    )


def _let_in(
    item: Fastener, cut: LetIn, seats: Seats, piece: Piece, place: Place, bench: Bench
) -> Operation | None:
    face, thickness = seats.face, piece.finished.size(seats.face.axis)
    noun = cut.title.lower()
    if cut.opens and cut.depth >= thickness:
        cut = replace(cut, depth=thickness)
    elif cut.depth > thickness:
        bench.findings.error(
            "recess-too-deep",
            f"the {noun} for `{item.name}` is deeper than {piece.part} is thick there",
            place,
            f"fit `{item.name}` to a thicker part, or take a shallower one",
            part=piece.part,
        )
        return None
    boxes = [_recess(cut, mouth, seats, piece) for mouth in seats.mouths]
    within = all(
        piece.finished.low.at(axis) < box.low.at(axis) and box.high.at(axis) < piece.finished.high.at(axis)
        for box in boxes
        for axis in Axis
        if axis is not face.axis
    )
    if not within:
        bench.findings.error(
            "pocket-off-part",
            f"the {noun} for `{item.name}` leaves the {piece.call(face)} of {piece.part}",
            place,
            "move it in from the edge, or turn it with `turned: yes`",
            part=piece.part,
        )
        return None
    first = _recess(cut, seats.low, seats, piece)
    return Operation(
        kind="let in",
        title=cut.title,
        side=face,
        cuts=tuple(_taken(cut, box, face) for box in boxes),
        features=(
            Feature(
                Form.SLOT,
                face,
                tuple((axis, Span(first.low.at(axis), first.high.at(axis))) for axis in Axis),
                seats.datum,
                depth=None if cut.depth == thickness else cut.depth,
                repeat=seats.repeat,
                radii=(cut.radius,) if cut.radius > ZERO else (),
            ),
        ),
        say=Phrase(),
        tools=(
            phrase("Drill and jigsaw") if cut.depth == thickness else phrase("Router with a straight bit"),
        ),
        cautions=("jigsaw",) if cut.depth == thickness else ("router",),
        place=place,
        group=Group.JOINTS,  # before the holes, which are bored from its floor
    )


def _taken(cut: LetIn, box: Box, face: Side) -> Cut:
    """The room of a recess, its corners as round as the bit leaves them."""
    if cut.radius <= ZERO:
        return BoxCut(box)
    one, two = plane_axes(face.axis)
    return rounded_prism(
        box, face.axis, {(one, a, two, b): cut.radius for a in (False, True) for b in (False, True)}
    )


def _recess(cut: LetIn, mouth: Point, seats: Seats, piece: Piece) -> Box:
    one = mouth + seats.shift(cut.along[0], cut.over[0])
    two = mouth + seats.shift(cut.along[1], cut.over[1])
    two = two.moved(seats.face.axis, cut.depth * -seats.face.sign)
    return Box(
        Point(*(min(one.at(axis), two.at(axis)) for axis in Axis)),
        Point(*(max(one.at(axis), two.at(axis)) for axis in Axis)),
    )


def too_long(screws: str, bite: Length, room: Length, wood: str, bench: Bench) -> str:
    """Say of screws that go ``bite`` into ``room`` of wood that they come through, or nearly."""
    sizes = f"they go {said(bite, bench)} into wood {said(room, bench)} thick"
    if bite >= room:
        return f"{screws} would come through {wood}: {sizes}"
    left = said(BEYOND_TIP, bench)
    return f"{screws} leave too little of {wood} beyond their tips: {sizes}, and {left} must stay"


def lead_holes(ware: Ware, seats: Seats, piece: Piece, place: Place, bench: Bench) -> list[Operation]:
    """The lead holes of the screws it brings, where their places are known; reports one that breaks through.

    Two millimetres of wood stay beyond the tip: common practice, no source.
    """
    screws = ware.screws
    if screws is None:
        return []
    screw = bench.fastener(screws.name)
    if screw is None or screw.length is None or screw.diameter is None:
        return []
    face, thickness = seats.face, piece.finished.size(seats.face.axis)
    plate, sunk = ware.sizes.get("plate thickness", ZERO), ware.sizes.get("sunk", ZERO)
    bite = screw.length - plate
    if sunk + bite > thickness - BEYOND_TIP:
        bench.findings.error(
            "screw-too-long",
            too_long(f"the screws of a {ware.kind}", bite, thickness - sunk, piece.part, bench),
            place,
            f"give `{screws.name.removesuffix(' screw')}` shorter screws: `screws: {{number: …, length: …}}`",
            part=piece.part,
        )
        return []
    if not screws.places:
        return []
    gauge = screw.gauge if screw.gauge is not None else screw.diameter
    lead = wood_screws.lead_hole(gauge, piece.hard)
    made = []
    for along, over in screws.places:
        shift = seats.shift(along, over).moved(face.axis, sunk * -face.sign)
        reach = dict.fromkeys(Axis, lead / 2)
        if not all(on_face(mouth + shift, reach, face, piece) for mouth in seats.mouths):
            bench.findings.error(
                "hole-off-part",
                f"a screw of the {ware.kind} misses {piece.part}",
                place,
                "move it in from the edge, or check the `pitch` and `inset` of its screws",
                part=piece.part,
            )
            return []
        low = seats.low + shift
        spans = {axis: Span(low.at(axis), low.at(axis)) for axis in Axis}
        at = low.at(face.axis)
        floor = at - bite * face.sign
        spans[face.axis] = Span(min(at, floor), max(at, floor))
        made.append(
            Operation(
                kind="lead hole",
                title="Lead hole",
                side=face,
                cuts=tuple(RoundCut(mouth + shift, face, lead, bite) for mouth in seats.mouths),
                features=(
                    Feature(
                        Form.HOLE,
                        face,
                        tuple((axis, spans[axis]) for axis in Axis),
                        seats.datum,
                        diameter=lead,
                        depth=bite,
                        repeat=seats.repeat,
                    ),
                ),
                say=Phrase(),
                tools=(phrase("Drill, ", lead, " bit"),),
                cautions=("drill",),
                place=place,
            )
        )
    return made

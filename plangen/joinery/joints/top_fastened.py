"""A top fastened so that it can move: buttons in a groove, figure-eights, screws or bolts through slots."""

from __future__ import annotations

from typing import cast

from plangen.expressions import Name, Names, SideWord
from plangen.joinery.body import Expansion, JointKind, Meeting, Spot, hole_spans, metric, spans_of
from plangen.joinery.bolting import Bolting, bolted_at, stack_of
from plangen.joinery.cuts import BoxCut, PrismCut, plane_axes
from plangen.joinery.fastening import never_glued, places_along, said, size_of
from plangen.joinery.fields import resolve_face
from plangen.joinery.joints.screwed import Driven, driven
from plangen.joinery.operation import Feature, Form, Operation
from plangen.joinery.piece import Bench, Fastener
from plangen.joinery.shapes import circle_loop
from plangen.joinery.slotted import say_slotted, travel
from plangen.joinery.space import Point, Side
from plangen.units import ZERO, Length, Phrase, inches, millimetres, phrase


class TopFastened(Driven):
    """``top fastened: {top: top, to: apron, with: button, face: inside, per joint: 2}``.

    ``with`` is a table button (a groove in ``face`` of the apron takes its tongue), a figure-eight
    fastener (let into the edge under the top, open towards ``face``), a screw, or a bolt into a
    ``nut`` that is a threaded insert in the top (both through slotted holes, as long as the top moves
    there; ``sunk`` lets the head in).
    """

    top: Names
    to: Names
    face: SideWord | None = None
    nut: Name | None = None  # the threaded insert that a bolt is screwed into
    washer: Name | None = None  # under the bolt's head


def expand(entry: TopFastened, meeting: Meeting, bench: Bench) -> Expansion:
    """Work the apron for what holds the top."""
    fastener = bench.fastener(str(entry.with_))
    if fastener is None or not never_glued(entry, "a top that has to move", bench):
        return Expansion()
    kind = fastener.kind.lower()
    if kind.endswith("bolt"):
        return _bolted(entry, meeting, bench)
    if _idle(entry, "nut", bench) or _idle(entry, "washer", bench):
        return Expansion()
    if "screw" in kind:
        return _screwed(entry, meeting, bench)
    if not kind.endswith("button") and "figure-eight" not in kind:
        bench.findings.error(
            "no-top-fastener",
            f"`{fastener.name}` is of the kind `{fastener.kind}`, and lets no top move",
            entry.place_of("with_"),
            "name a table button, a figure-eight fastener, a wood screw, or a bolt with its insert",
        )
        return Expansion()
    face = _face(entry, meeting, bench)
    if face is None or _idle(entry, "sunk", bench):
        return Expansion()
    if kind.endswith("button"):
        return _buttoned(entry, fastener, face, meeting, bench)
    return _figure_eights(entry, fastener, face, meeting, bench)


def _idle(entry: TopFastened, key: str, bench: Bench) -> bool:
    if getattr(entry, key) is None:
        return False
    bench.findings.error("idle-key", f"`{key}` settles nothing here", entry.place_of(key), "take it out")
    return True


def _screwed(entry: TopFastened, meeting: Meeting, bench: Bench) -> Expansion:
    """Slots where the top moves; a top of sheet goods does not, and gets plain holes."""
    if _idle(entry, "face", bench):
        return Expansion()
    return driven(entry, None, meeting.two.solid, meeting, bench)


def _bolted(entry: TopFastened, meeting: Meeting, bench: Bench) -> Expansion:
    """Slots in the apron for bolts that are screwed into inserts in the top, and travel with it."""
    if _idle(entry, "face", bench):
        return Expansion()
    if entry.nut is None:
        bench.findings.error(
            "missing-key",
            f"nothing says what `{entry.with_}` is screwed into in {meeting.two.copy}",
            entry.place,
            "add `nut: …`, a row whose kind is threaded insert",
        )
        return Expansion()
    keys = cast(Bolting, entry)
    stack = stack_of(keys, meeting, bench)
    if stack is None:
        return Expansion()
    if stack.holder != "threaded insert":
        bench.findings.error(
            "no-nut",
            f"a {stack.holder} does not hold a bolt in the underside of a top",
            entry.place_of("nut"),
            "name a threaded insert",
        )
        return Expansion()
    moving = meeting.two.solid and meeting.two.wide is not meeting.side.axis
    if moving and entry.washer is None:
        bench.findings.warning(
            "slotted-head",
            f"the head of `{stack.bolt.name}` has little to bear on over a slot",
            entry.place_of("with_"),
            "add `washer: …`, a row of washers",
            part=meeting.one.part,
        )
    return bolted_at(
        keys, stack, places_along(entry, meeting, stack.hole, bench), meeting, bench, slotted=moving
    )


def _face(entry: TopFastened, meeting: Meeting, bench: Bench) -> Side | None:
    """The face of the apron from which the top is held; None, with a finding, where it is no face."""
    one = meeting.one
    face = None
    if entry.face is not None:
        face = resolve_face(entry.face, one, bench, entry.place_of("face"))
        if face is None:
            return None
    if face is not None and face.axis is one.thick and face.axis is not meeting.side.axis:
        return face
    low, high = Side.of(one.thick, False).word, Side.of(one.thick, True).word
    bench.findings.error(
        "missing-key" if entry.face is None else "wrong-side",
        f"nothing says from which face of {one.copy} the top is held"
        if entry.face is None
        else f"the top is not held from the {face.word if face else ''} of {one.copy}",
        entry.place if entry.face is None else entry.place_of("face"),
        f"write `face: {low}` or `face: {high}`, the one that looks inward",
        part=one.part,
    )
    return None


def _moves_out(meeting: Meeting, at: Point, face: Side, bench: Bench) -> Length:
    """How far the top moves square to a face of the apron, each way."""
    return travel(meeting, at, bench) if meeting.two.wide is face.axis else ZERO


def _buttoned(entry: TopFastened, button: Fastener, face: Side, meeting: Meeting, bench: Bench) -> Expansion:
    """A groove from end to end of the apron; its upper wall draws the tongue, and the top, down."""
    one, side = meeting.one, meeting.side
    thickness, tongue = size_of(button, "thickness"), size_of(button, "tongue")
    width = size_of(button, "width")
    if thickness is None or tongue is None or width is None:
        bench.findings.error(
            "button-size",
            f"`{button.name}` needs a `width`, a `thickness` and a `tongue`",
            entry.place_of("with_"),
            "for example `width: 1in, thickness: 3/4in, tongue: 3/8in`",
        )
        return Expansion()
    tip = size_of(button, "tongue thickness") or thickness / 2
    places = places_along(entry, meeting, ZERO, bench)
    moves = max((_moves_out(meeting, place, face, bench) for place in places), default=ZERO)
    room = inches("1/16") if not metric(bench) else millimetres(2)  # common practice, no source
    draw = inches("1/32") if not metric(bench) else millimetres(1)  # common practice, no source
    depth = bench.round_up(tongue + max(moves, room))
    down = thickness - tip + draw
    top_edge, at_face = one.finished.side(side), one.finished.side(face)
    box = one.finished.with_side(side, top_edge - down * side.sign)
    box = box.with_side(side.opposite, top_edge - (down + tip + room) * side.sign)
    box = box.with_side(face.opposite, at_face - depth * face.sign)
    if (
        tongue <= moves
        or depth >= one.finished.size(face.axis)
        or box.size(side.axis) > one.finished.size(side.axis) - down
    ):
        bench.findings.error(
            "button-no-room",
            f"the top moves {said(moves, bench)} here, and the tongue of `{button.name}` is "
            f"{said(tongue, bench)} long"
            if tongue <= moves
            else f"the groove for `{button.name}`, {said(depth, bench)} deep, breaks out of {one.copy}",
            entry.place_of("with_"),
            "take a longer tongue" if tongue <= moves else "take a shorter tongue, or a thicker apron",
            part=one.part,
        )
        return Expansion()
    least = inches("3/8") if not metric(bench) else millimetres(10)
    if down < least:
        # The lip above the groove takes the whole pull of the button: common practice, no source.
        bench.findings.warning(
            "little-above-groove",
            f"only {said(down, bench)} of {one.copy} is left above the groove for `{button.name}`",
            entry.place_of("with_"),
            f"leave {said(least, bench)} or more: take a thicker button, or one with a thinner tongue",
            part=one.part,
        )
    groove = Operation(
        kind="groove",
        title="Groove",
        side=face,
        cuts=(BoxCut(box),),
        features=(Feature(Form.SLOT, face, spans_of(box), (side,), depth=depth),),
        say=Phrase(),
        tools=(phrase("Router or table saw, for a groove ", tip + room, " wide"),),
        cautions=("router",),
        place=entry.place,
    )
    spots = tuple(
        Spot(meeting.two.copy, place.with_(face.axis, at_face).floats(), side.opposite) for place in places
    )
    return Expansion((groove,) if spots else (), (), side.opposite, _bought(button, spots))


def _figure_eights(
    entry: TopFastened, plate: Fastener, face: Side, meeting: Meeting, bench: Bench
) -> Expansion:
    """A flat-bottomed recess for one disc of each, which the other swings out of over the face."""
    one, side = meeting.one, meeting.side
    diameter, thickness = size_of(plate, "diameter"), size_of(plate, "thickness")
    if diameter is None or thickness is None:
        bench.findings.error(
            "plate-size",
            f"`{plate.name}` needs a `diameter` and a `thickness`",
            entry.place_of("with_"),
            "for example `{kind: figure-eight fastener, diameter: 20mm, thickness: 2.5mm, screws: 2}`",
        )
        return Expansion()
    inward = bench.nearest(diameter * 2 / 5)  # its rim is cut open by a tenth: common practice, no source
    if inward + diameter / 2 >= one.finished.size(face.axis):
        bench.findings.error(
            "recess-breaks-out",
            f"the recess for `{plate.name}` breaks out of the far face of {one.copy}, "
            f"{said(one.finished.size(face.axis), bench)} thick",
            entry.place_of("with_"),
            "take smaller ones, or buttons",
            part=one.part,
        )
        return Expansion()
    made, spots = [], []
    for place in places_along(entry, meeting, diameter, bench):
        moves = _moves_out(meeting, place, face, bench)
        if moves * 2 >= (size_of(plate, "centres") or diameter):
            bench.findings.error(
                "plate-no-room",
                f"the top moves {said(moves, bench)} each way, farther than `{plate.name}` can swing",
                entry.place_of("with_"),
                "hold the top by buttons",
                part=one.part,
            )
            return Expansion()
        mouth = place.with_(side.axis, one.finished.side(side))
        mouth = mouth.with_(face.axis, one.finished.side(face) - inward * face.sign)
        made.append(_recess(mouth, side, diameter, thickness, entry))
        spots.append(Spot(one.copy, mouth.floats(), side))
    return Expansion(tuple(made), (), side.opposite, _bought(plate, tuple(spots)))


def _bought(fastener: Fastener, spots: tuple[Spot, ...]) -> tuple[tuple[str, tuple[Spot, ...]], ...]:
    """What is bought for these places: the fasteners, and the screws that they bring."""
    if not spots:
        return ()
    if fastener.ware is None or fastener.ware.screws is None:
        return ((fastener.name, spots),)
    screws = fastener.ware.screws
    return (fastener.name, spots), (screws.name, tuple(spot for spot in spots for _ in range(screws.number)))


def _recess(mouth: Point, side: Side, diameter: Length, depth: Length, entry: TopFastened) -> Operation:
    face = mouth.at(side.axis)
    floor = face - depth * side.sign
    first, second = plane_axes(side.axis)
    # An outline, and not a hole, for it is meant to break out through the face.
    disc = circle_loop((mouth.at(first), mouth.at(second)), diameter)
    return Operation(
        kind="hole",
        title="Fastener recess",
        side=side,
        cuts=(PrismCut(side.axis, min(face, floor), max(face, floor), (disc,)),),
        features=(Feature(Form.HOLE, side, hole_spans(mouth, side, depth), diameter=diameter, depth=depth),),
        say=Phrase(),
        tools=(phrase("Drill, ", diameter, " flat-bottomed bit"),),
        cautions=("drill",),
        place=entry.place,
    )


KIND = JointKind(
    "top fastened",
    "Fastened top",
    TopFastened,
    lambda entry: entry.to,
    lambda entry: entry.top,
    expand,
    phrase("Lay the top face down, set the frame on it, and fasten it so that it can still move."),
    fastens=True,
    glued=False,
    verb="Fasten",
    lies=True,
    last=True,
    tight=True,
    says={"slotted hole": say_slotted},
)

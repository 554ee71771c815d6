"""A hinged joint: a door, a lid or a leaf that turns on hinges let into it and into what carries it."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from plangen.expressions import LengthExpr, Name, Names, Text, Whole, Words, parse_expression
from plangen.findings import ProjectError
from plangen.handbook import screws as wood_screws
from plangen.handbook.hinges import usual_number
from plangen.joinery.body import Expansion, JointBody, JointKind, Meeting, Moves, Spot, hole_spans, spans_of
from plangen.joinery.cuts import BoxCut, RoundCut
from plangen.joinery.fastening import said
from plangen.joinery.hardware.fitting import BEYOND_TIP, too_long
from plangen.joinery.hardware.ware import Ware
from plangen.joinery.operation import Feature, Form, Operation
from plangen.joinery.piece import Bench, Piece
from plangen.joinery.space import AXIS_WORDS, SIDE_WORDS, Axis, Box, Point, Side
from plangen.units import ZERO, Length, Phrase, inches, millimetres, phrase

HINGES = ("butt hinge", "continuous hinge")


class Hinged(JointBody):
    """``hinged: {leaf: door, to: left side, with: hinge, number: 2, swing: front 110deg, gap: 1/16in}``.

    ``swing`` is the way the free edge of the leaf goes first, and how far it turns. ``gap`` is the room
    between the leaf and what it hangs on. ``let in``: ``both``, ``leaf``, ``frame`` or ``none``. ``line`` is
    the direction of the pin where it is not the longer way of the meeting.
    """

    leaf: Names
    to: Names
    with_: Name
    number: Whole | None = None
    swing: Words
    gap: LengthExpr | None = None
    let_in: Literal["both", "leaf", "frame", "none"] | None = None
    from_ends: LengthExpr | None = None  # from each end to the middle of the outer hinge
    line: Literal["across", "deep", "up"] | None = None


@dataclass(frozen=True, slots=True)
class _Hang:
    """How the leaf hangs: the pin lies along ``pin``, at the side ``knuckle`` of the meeting face."""

    pin: Axis
    knuckle: Side
    about: Side  # the leaf turns anticlockwise about it
    degrees: Fraction


def gap_of(entry: Hinged, bench: Bench) -> Length:
    """The room between the two: what is typed; the closed hinge where it is laid on; else 1/16 in or 2 mm.

    The last is common practice, no source. Raises ProjectError, with no more to say, where the row of
    the hinge is at fault.
    """
    hinge = bench.fastener(str(entry.with_))
    if hinge is None:
        raise ProjectError([])
    if entry.gap is not None:
        return entry.gap.length(bench.scope)
    if entry.let_in == "none" and hinge.ware is not None:
        return hinge.ware.sizes.get("closed", ZERO)
    return inches("1/16") if bench.units == "inch" else millimetres(2)


def expand(entry: Hinged, meeting: Meeting, bench: Bench) -> Expansion:
    """Let in the leaves, bore for the screws whose places are known, and say how the leaf turns."""
    hinge = bench.fastener(str(entry.with_))
    if hinge is None:
        return Expansion()
    ware = hinge.ware
    if ware is None or ware.kind not in HINGES:
        bench.findings.error(
            "wrong-hardware",
            f"`{hinge.name}` is a {hinge.kind}, and nothing turns on it",
            entry.place_of("with_"),
            "name a row of the kind `butt hinge` or `continuous hinge`",
        )
        return Expansion()
    hang = _hang(entry, meeting, bench)
    if hang is None:
        return Expansion()
    depths = _depths(entry, meeting, ware, bench)
    middles = _middles(entry, meeting, hang.pin, ware, bench)
    if depths is None or not middles:
        return Expansion()
    width = ware.sizes["leaf"] - ware.sizes["pin out"]
    works: list[list[Operation]] = [[], []]
    spots: list[Spot] = []
    for work, piece, side, depth in (
        (works[0], meeting.one, meeting.side, depths[0]),
        (works[1], meeting.two, meeting.side.opposite, depths[1]),
    ):
        if not _has_room(entry, piece, side, depth, width, hang, bench):
            return Expansion()
        for at in middles:
            box = _leaf_box(piece, side, depth, width, at, hang, meeting, ware)
            if depth > ZERO:
                work.append(_recess(box, side, depth, hang, entry))
            found = _screws(entry, piece, side, box, at, hang, ware, bench)
            if found is None:
                return Expansion()
            work += found[0]
            spots += found[1]
    rect, knuckle = meeting.rect, hang.knuckle
    pin = rect.low.with_(hang.pin, rect.low.at(hang.pin))
    pin = pin.with_(meeting.side.axis, _between(meeting))
    pin = pin.with_(knuckle.axis, rect.side(knuckle) + ware.sizes["pin out"] * knuckle.sign)
    seats = tuple(Spot(meeting.one.copy, pin.with_(hang.pin, at).floats(), meeting.side) for at in middles)
    hardware: list[tuple[str, tuple[Spot, ...]]] = [(hinge.name, seats)]
    if ware.screws is not None:
        hardware.append((ware.screws.name, tuple(spots)))
    return Expansion(
        tuple(works[0]),
        tuple(works[1]),
        meeting.side.opposite,
        tuple(hardware),
        tools=(phrase("Screwdriver for the screws"),),
        moves=Moves("turns", pin, hang.about, hang.degrees),
    )


def _between(meeting: Meeting) -> Length:
    """The middle of the gap, along the way that the pieces face each other."""
    one = meeting.one.shoulders.side(meeting.side)
    two = meeting.two.shoulders.side(meeting.side.opposite)
    return (one + two) / 2


def _hang(entry: Hinged, meeting: Meeting, bench: Bench) -> _Hang | None:
    """Where the pin lies, so that the leaf goes the way it should and comes away from what it hangs on."""
    word, _, rest = str(entry.swing).partition(" ")
    toward = SIDE_WORDS.get({"down": "bottom", "up": "top"}.get(word, word))
    if toward is None or not rest.strip():
        bench.findings.error(
            "bad-value",
            f"`{entry.swing}` does not say which way the leaf turns, and how far",
            entry.place_of("swing"),
            "write the way that its free edge goes first, then the angle: `front 110deg`, `down 90deg`",
        )
        return None
    degrees = parse_expression(Text(rest.strip(), entry.place_of("swing"))).angle(bench.scope)
    if not 0 < degrees <= 360:
        bench.findings.error(
            "bad-value",
            "a leaf turns by more than nothing and at most once round",
            entry.place_of("swing"),
            "give an angle such as `95deg`",
        )
        return None
    pin = AXIS_WORDS[entry.line] if entry.line is not None else meeting.lateral[0]
    if pin is meeting.side.axis:
        bench.findings.error(
            "wrong-side",
            f"a pin does not lie {pin.word} here: that way the two face each other",
            entry.place_of("line"),
            f"write `{meeting.lateral[0].word}` or `{meeting.lateral[1].word}`, or leave `line` out",
        )
        return None
    other = next(axis for axis in Axis if axis not in (pin, meeting.side.axis))
    for high in (False, True):
        knuckle = Side.of(other, high)
        for up in (True, False):
            about = Side.of(pin, up)
            # The middle of the touching face must come away, and the middle of the leaf go ``toward``.
            if _turned(about, knuckle.opposite) is meeting.side and _goes(about, knuckle, meeting, toward):
                return _Hang(pin, knuckle, about, degrees)
    bench.findings.error(
        "cannot-swing",
        f"{meeting.two.copy} can not swing to the {toward.word} on hinges between it and {meeting.one.copy}",
        entry.place_of("swing"),
        f"it meets the {meeting.side.word} of {meeting.one.copy}: say another way, or `line`",
        part=meeting.two.part,
    )
    return None


def _turned(about: Side, side: Side) -> Side | None:
    """The way that a point which lies toward ``side`` goes first: the cross product of the two."""
    if about.axis is side.axis:
        return None
    third = next(axis for axis in Axis if axis not in (about.axis, side.axis))
    even = (about.axis.value, side.axis.value) in ((0, 1), (1, 2), (2, 0))
    return Side.of(third, (about.sign * side.sign > 0) is even)


def _goes(about: Side, knuckle: Side, meeting: Meeting, toward: Side) -> bool:
    """Whether the middle of the leaf goes first toward that side."""
    leaf, pin = meeting.two.shoulders, meeting.rect.side(knuckle)
    offset = {
        knuckle.axis: leaf.middle(knuckle.axis) - pin,
        meeting.side.axis: leaf.middle(meeting.side.axis) - _between(meeting),
    }
    speed = ZERO
    for axis, value in offset.items():
        way = _turned(about, Side.of(axis, value > ZERO))
        if way is not None and way.axis is toward.axis:
            speed += abs(value) * (way.sign * toward.sign)
    return speed > ZERO


def _depths(entry: Hinged, meeting: Meeting, ware: Ware, bench: Bench) -> tuple[Length, Length] | None:
    """How deep each leaf is let in, so that the closed hinge fills both recesses and the gap."""
    closed, gap = ware.sizes["closed"], gap_of(entry, bench)
    rest = closed - gap
    let_in = entry.let_in or "both"
    if rest < ZERO or (let_in == "none" and rest):
        bench.findings.error(
            "bad-gap",
            f"the closed hinge is {said(closed, bench)} thick and the gap {said(gap, bench)}: "
            + ("the leaves would hang in the air" if rest < ZERO else "laid on, the hinge makes the gap"),
            entry.place_of("gap"),
            "make the gap no wider than the closed hinge"
            if rest < ZERO
            else "leave `gap` out, or let the leaves in",
        )
        return None
    return {
        "both": (rest / 2, rest / 2),
        "frame": (rest, ZERO),
        "leaf": (ZERO, rest),
        "none": (ZERO, ZERO),
    }[let_in]


def _middles(entry: Hinged, meeting: Meeting, pin: Axis, ware: Ware, bench: Bench) -> list[Length]:
    """The middles of the hinges along the pin; none, with a finding, where they do not fit.

    Unless said, the outer hinges stand their own length away from the ends: common practice, no source.
    """
    length, hinge = meeting.rect.size(pin), ware.sizes["length"]
    whole = ware.kind == "continuous hinge"
    number = entry.number if entry.number is not None else 1 if whole else usual_number(length)
    margin = hinge * Fraction(3, 2)
    if entry.from_ends is not None:
        margin = entry.from_ends.length(bench.scope)
    elif margin * 2 + hinge * (number - 2) > length or number == 1:
        margin = length / (2 * max(number, 1))
    step = (length - margin * 2) / max(1, number - 1)
    if number < 1 or margin < hinge / 2 or (number > 1 and step < hinge) or hinge > length:
        bench.findings.error(
            "fasteners",
            f"{number} hinges {said(hinge, bench)} long do not fit along {said(length, bench)}, "
            f"where {meeting.two.copy} hangs on {meeting.one.copy}",
            entry.place_of("from_ends" if entry.from_ends is not None else "number"),
            "use fewer or shorter hinges, or other distances from the ends",
            part=meeting.two.part,
        )
        return []
    return [meeting.rect.low.at(pin) + margin + step * index for index in range(number)]


def _has_room(
    entry: Hinged, piece: Piece, side: Side, depth: Length, width: Length, hang: _Hang, bench: Bench
) -> bool:
    across, thick = piece.finished.size(hang.knuckle.axis), piece.finished.size(side.axis)
    if width <= ZERO or width > across:
        bench.findings.error(
            "leaf-too-wide",
            f"a leaf {said(width, bench)} into the wood is wider than {piece.copy}, "
            f"which is {said(across, bench)} there",
            entry.place_of("with_"),
            "take a narrower hinge",
            part=piece.part,
        )
        return False
    if depth >= thick:
        bench.findings.error(
            "recess-too-deep",
            f"the leaf recess is deeper than {piece.part} is thick there",
            entry.place_of("with_"),
            f"{piece.part} needs to keep some wood under the leaf recess: make it less deep",
            part=piece.part,
        )
        return False
    return True


def _leaf_box(
    piece: Piece,
    side: Side,
    depth: Length,
    width: Length,
    at: Length,
    hang: _Hang,
    meeting: Meeting,
    ware: Ware,
) -> Box:
    half, knuckle, face = ware.sizes["length"] / 2, hang.knuckle, piece.finished.side(side)
    edge = meeting.rect.side(knuckle)
    box = piece.finished.with_side(Side.of(hang.pin, False), at - half)
    box = box.with_side(Side.of(hang.pin, True), at + half)
    box = box.with_side(
        knuckle, max(edge * knuckle.sign, piece.finished.side(knuckle) * knuckle.sign) * knuckle.sign
    )
    box = box.with_side(knuckle.opposite, edge - width * knuckle.sign)
    return box.with_side(side, face).with_side(side.opposite, face - depth * side.sign)


def _recess(box: Box, side: Side, depth: Length, hang: _Hang, entry: Hinged) -> Operation:
    return Operation(
        kind="leaf recess",
        title="Leaf recess",
        side=side,
        cuts=(BoxCut(box),),
        features=(
            Feature(Form.SLOT, side, spans_of(box), (Side.of(hang.pin, False), hang.knuckle), depth=depth),
        ),
        say=Phrase(),
        tools=(phrase("Knife and chisel"), phrase("Router with a straight bit")),
        cautions=("chisel", "router"),
        place=entry.place,
    )


def _screws(
    entry: Hinged,
    piece: Piece,
    side: Side,
    box: Box,
    at: Length,
    hang: _Hang,
    ware: Ware,
    bench: Bench,
) -> tuple[list[Operation], list[Spot]] | None:
    """The lead holes of one leaf where their places are known, and a spot for every screw."""
    if ware.screws is None:
        return [], []
    screw = bench.fastener(ware.screws.name)
    number = ware.screws.number // 2
    if screw is None or screw.length is None or ware.screws.number % 2:
        if ware.screws.number % 2:
            bench.findings.error(
                "fasteners",
                f"a hinge with {ware.screws.number} screws has no equal number in its two leaves",
                ware.place,
                "give an even number of `screws`",
            )
        return None
    bite = screw.length - ware.sizes["thickness"]
    floor = box.side(side.opposite)
    room = (floor - piece.finished.side(side.opposite)) * side.sign
    if bite > room - BEYOND_TIP:
        bench.findings.error(
            "screw-too-long",
            too_long(f"the screws of `{screw.name.removesuffix(' screw')}`", bite, room, piece.copy, bench),
            entry.place_of("with_"),
            "give the hinge shorter screws: `screws: {number: …, length: …}`",
            part=piece.part,
        )
        return None
    edge = box.side(hang.knuckle)
    pin_at = edge + ware.sizes["pin out"] * hang.knuckle.sign
    known = bool(ware.screws.places)
    middle_over = box.middle(hang.knuckle.axis)
    places = (
        [(at + along, pin_at - over * hang.knuckle.sign) for along, over in ware.screws.places]
        if known
        else [
            (at + ware.sizes["length"] * Fraction(2 * index + 1 - number, 2 * number), middle_over)
            for index in range(number)
        ]
    )
    made, spots = [], []
    gauge = screw.gauge if screw.gauge is not None else screw.diameter
    for along, over in places:
        mouth = box.low.with_(side.axis, floor).with_(hang.pin, along).with_(hang.knuckle.axis, over)
        spots.append(Spot(piece.copy, mouth.floats(), side))
        if known and gauge is not None:
            made.append(_lead(mouth, side, wood_screws.lead_hole(gauge, piece.hard), bite, entry))
    return made, spots


def _lead(mouth: Point, side: Side, diameter: Length, depth: Length, entry: Hinged) -> Operation:
    return Operation(
        kind="lead hole",
        title="Lead hole",
        side=side,
        cuts=(RoundCut(mouth, side, diameter, depth),),
        features=(Feature(Form.HOLE, side, hole_spans(mouth, side, depth), diameter=diameter, depth=depth),),
        say=Phrase(),
        tools=(phrase("Drill, ", diameter, " bit"),),
        cautions=("drill",),
        place=entry.place,
    )


KIND = JointKind(
    "hinged",
    "Hinged joint",
    Hinged,
    lambda entry: entry.to,
    lambda entry: entry.leaf,
    expand,
    phrase(
        "Screw the hinges to the leaf. Hold it in its place with a shim as thick as the gap, drive one "
        "screw of each hinge, try how it swings, then drive the rest."
    ),
    glued=False,
    cautions=("pinch",),
    clearance=gap_of,
    comes_apart=True,
    verb="Hinge",
    lies=True,
    last=True,
)

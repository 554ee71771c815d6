"""A housing: the channel for the edge or the end of another piece, in dadoes, grooves and rabbets."""

from __future__ import annotations

from plangen.findings import Place
from plangen.joinery.body import Expansion, Meeting, spans_of
from plangen.joinery.cuts import BoxCut
from plangen.joinery.operation import Feature, Form, Operation
from plangen.joinery.piece import Bench
from plangen.joinery.space import Axis, Box, Side
from plangen.units import Length, Phrase, phrase


def housing_box(meeting: Meeting, depth: Length) -> Box:
    """What the finished ``two`` needs of ``one``: its section at the face, to the depth, within ``one``."""
    box = meeting.two.finished.overlap(meeting.one.finished)
    face = meeting.one.finished.side(meeting.side)
    return box.with_side(meeting.side, face).with_side(
        meeting.side.opposite, face - depth * meeting.side.sign
    )


def depth_fits(meeting: Meeting, depth: Length, kind: str, place: Place, bench: Bench) -> bool:
    """Report a housing that is not between nothing and the whole of its board."""
    thickness = meeting.one.finished.size(meeting.side.axis)
    if 0 < depth.mm < thickness.mm:
        return True
    bench.findings.error(
        f"{kind}-too-deep",
        f"a {kind} this deep leaves nothing of {meeting.one.part}"
        if depth >= thickness
        else f"a {kind} needs a depth above zero",
        place,
        "a third of the board's thickness is usual, half is the most",
        part=meeting.one.part,
    )
    return False


def wholly_on_face(meeting: Meeting, axes: tuple[Axis, ...], kind: str, place: Place, bench: Bench) -> bool:
    """Report a piece whose end or edge hangs over the face that should take it."""
    for axis in axes:
        if meeting.two.shoulders.low.at(axis) < meeting.one.finished.low.at(axis) or (
            meeting.two.shoulders.high.at(axis) > meeting.one.finished.high.at(axis)
        ):
            bench.findings.error(
                "partly-touching",
                f"{meeting.two.copy} reaches past {meeting.one.copy} {axis.word}, "
                f"so its {kind} would break out",
                place,
                f"keep {meeting.two.copy} within {meeting.one.copy}, or make {meeting.one.part} larger",
                part=meeting.two.part,
            )
            return False
    return True


def stop(box: Box, stops: dict[Side, Length], meeting: Meeting) -> tuple[Box, list[Box]]:
    """Shorten a housing at the stopped sides; give it with the notches that ``two`` then needs."""
    notches = []
    for side, length in stops.items():
        edge = meeting.two.finished.side(side)
        ends_at = edge - length * side.sign
        if length.mm > 0:
            tongue = meeting.two.finished.with_side(
                meeting.side, meeting.two.shoulders.side(meeting.side.opposite)
            )
            notches.append(tongue.with_side(side.opposite, ends_at))
        box = box.with_side(side, ends_at)
    return box, notches


def cut_housing(
    kind: str,
    title: str,
    box: Box,
    notches: list[Box],
    meeting: Meeting,
    depth: Length,
    place: Place,
    datum: tuple[Side, ...] = (),
    tool: Phrase | None = None,
) -> Expansion:
    """Give the operations of a housing and of the notches that fit around its stopped ends."""
    width = min((box.size(axis) for axis in Axis if axis is not meeting.side.axis), key=lambda size: size.mm)
    tools = (tool or phrase("Router with a straight bit and a guide, or a dado set, for ", width, " wide"),)
    on_one = (
        Operation(
            kind=kind,
            title=title,
            side=meeting.side,
            cuts=(BoxCut(box),),
            features=(Feature(Form.SLOT, meeting.side, spans_of(box), datum, depth=depth),),
            say=Phrase(),
            tools=tools,
            cautions=("router",),
            place=place,
        ),
    )
    on_two = tuple(
        Operation(
            kind="notch",
            title="Notch",
            side=Side.of(meeting.two.thick, True),
            cuts=(BoxCut(notch),),
            features=(Feature(Form.SLOT, Side.of(meeting.two.thick, True), spans_of(notch)),),
            say=Phrase(),
            tools=(phrase("Handsaw"), phrase("Chisel")),
            cautions=("chisel",),
            place=place,
        )
        for notch in notches
    )
    first, second = meeting.lateral
    walls = 2 * depth.mm * max(box.size(first).mm, box.size(second).mm)
    return Expansion(on_one, on_two, meeting.side.opposite, (), meeting.area + walls)

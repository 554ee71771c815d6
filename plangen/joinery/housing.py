"""A housing: the channel for the edge or the end of another piece, in dadoes, grooves and rabbets."""

from __future__ import annotations

from plangen.expressions import Expression, Text
from plangen.findings import Place
from plangen.joinery.body import Expansion, JointBody, Meeting, sides_said, spans_of
from plangen.joinery.cuts import BoxCut, Cut
from plangen.joinery.operation import Feature, Form, Operation
from plangen.joinery.piece import Bench
from plangen.joinery.shapes import Ends, channel
from plangen.joinery.space import Axis, Box, Side
from plangen.units import ZERO, Length, Phrase, phrase


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
        f"{kind.replace(' ', '-')}-too-deep",
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


def enters_edgewise(meeting: Meeting, kind: str, entry: JointBody, bench: Bench) -> bool:
    """Report a piece that would enter with its face, which would make it thicker than its stock."""
    if meeting.two.thick is not meeting.side.axis:
        return True
    bench.findings.error(
        f"{kind}-face",
        f"{meeting.two.copy} meets {meeting.one.copy} with its face; a {kind} takes an edge or an end",
        entry.place,
        "use a butt joint, or place the piece so that its edge meets",
        part=meeting.two.part,
    )
    return False


def stops_of(
    values: dict[Text, Expression] | None, meeting: Meeting, entry: JointBody, bench: Bench
) -> dict[Side, Length] | None:
    """How far short of the ends of the entering piece a housing stops; None when that cannot be."""
    two, long = meeting.two, length_axis(meeting)
    ends = (Side.of(long, False), Side.of(long, True))
    values = _running_here(values, ends, meeting, entry, bench)
    stops = sides_said(values, two, ends, "stopped", entry, bench) if values is not None else None
    if stops is None:
        return None
    if sum((length for length in stops.values()), ZERO) >= two.finished.size(long):
        bench.findings.error(
            "stopped-away",
            f"stopped so far nothing is left of the housing for {two.copy}",
            entry.place_of("stopped"),
            "stop it less far from the ends",
            part=meeting.one.part,
        )
        return None
    return stops


def _running_here(
    values: dict[Text, Expression] | None,
    ends: tuple[Side, Side],
    meeting: Meeting,
    entry: JointBody,
    bench: Bench,
) -> dict[Text, Expression] | None:
    """Give the stops of the housing that runs here, where one joint houses a piece all round.

    Such a joint may name the ends of its housings both ways; each word then goes for those that run
    towards it. None, with a finding, where no word says anything of this one.
    """
    sides = {word: meeting.two.face(str(word)) for word in values or {}}
    across = [word for word, side in sides.items() if side is not None and side.axis is meeting.side.axis]
    if values is None or not across:
        return values or {}
    here = {word: values[word] for word in sides if word not in across}
    if here and len(getattr(entry, "in_", ())) > 1:
        return here
    named = f"{ends[0].word} and {ends[1].word}"
    bench.findings.error(
        "wrong-side",
        f"`stopped` of {meeting.two.copy} cannot name `{across[0]}` in {meeting.one.copy}, "
        f"where the housing runs from {ends[0].word} to {ends[1].word}",
        across[0].place,
        f"it ends at {named}; for housings that run two ways write two joints, or name the ends of both ways",
        part=meeting.two.part,
    )
    return None


def length_axis(meeting: Meeting) -> Axis:
    """The direction in which a housing for an edge or an end is long."""
    return next(axis for axis in Axis if axis not in (meeting.side.axis, meeting.two.thick))


def stop(
    box: Box, stops: dict[Side, Length], meeting: Meeting, ends: Ends = "square"
) -> tuple[Box, list[Box]]:
    """Shorten a housing at the stopped sides; give it with the notches that ``two`` then needs.

    Where the ends are left round the entering piece keeps clear of them: its notch is longer by
    their radius, also where the housing ends with the piece.
    """
    notches = []
    radius = box.size(meeting.two.thick) / 2 if ends == "round" else ZERO
    long = length_axis(meeting)
    for side in (Side.of(long, False), Side.of(long, True)):
        if side not in stops and not (radius and _in_wood(box.side(side), side, meeting)):
            continue
        length = stops.get(side, ZERO)
        edge = meeting.two.finished.side(side)
        ends_at = edge - length * side.sign
        square_at = ends_at - (radius if _in_wood(ends_at, side, meeting) else ZERO) * side.sign
        if square_at != edge:
            tongue = meeting.two.finished.with_side(
                meeting.side, meeting.two.shoulders.side(meeting.side.opposite)
            )
            notches.append(tongue.with_side(side.opposite, square_at))
        box = box.with_side(side, ends_at)
    return box, notches


def _in_wood(at: Length, side: Side, meeting: Meeting) -> bool:
    """Whether a housing that ends there has wood beyond its end."""
    return (meeting.one.finished.side(side) - at) * side.sign > ZERO


def ends_fit(ends: Ends, box: Box, meeting: Meeting, entry: JointBody, bench: Bench) -> bool:
    """Report a housing that is too short for the round ends that it should have."""
    if ends == "square" or box.size(length_axis(meeting)) > box.size(meeting.two.thick) * 2:
        return True
    bench.findings.error(
        "stopped-away",
        f"the housing for {meeting.two.copy} is too short for round ends",
        entry.place_of("ends"),
        "write `ends: square`, or stop it less far from the ends",
        part=meeting.one.part,
    )
    return False


def _housing_cut(box: Box, ends: Ends, meeting: Meeting) -> Cut:
    """The cut, its ends in the wood as the cutter leaves them."""
    if ends == "square":
        return BoxCut(box)
    long = length_axis(meeting)
    low, high = (
        _in_wood(box.side(side), side, meeting) for side in (Side.of(long, False), Side.of(long, True))
    )
    return channel(box, long, ends, meeting.side, (low, high))


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
    ends: Ends = "square",
) -> Expansion:
    """Give the operations of a housing and of the notches that fit around its stopped ends."""
    width = min((box.size(axis) for axis in Axis if axis is not meeting.side.axis), key=lambda size: size.mm)
    tools = (tool or phrase("Router with a straight bit and a guide, or a dado set, for ", width, " wide"),)
    on_one = (
        Operation(
            kind=kind,
            title=title,
            side=meeting.side,
            cuts=(_housing_cut(box, ends, meeting),),
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

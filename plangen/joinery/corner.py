"""Corners in which two pieces take the same place: which end of each lies there, and what is cut of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from plangen.expressions import Text
from plangen.findings import Place
from plangen.joinery.body import JointBody, Meeting, spans_of
from plangen.joinery.cuts import BoxCut, Cut, Line, Loop, plane_axes
from plangen.joinery.fastening import Fastening, places_along
from plangen.joinery.operation import Corner, Feature, Form, Group, Operation, Repeat
from plangen.joinery.piece import Bench, Fastener, Piece
from plangen.joinery.space import Axis, Box, Point, Side
from plangen.units import ZERO, Length, LengthStyle, Phrase, print_length

Pair = tuple[Length, Length]


@dataclass(frozen=True, slots=True)
class Ends:
    """The side at which each of two pieces ends in a corner, and the axis square to both."""

    one: Side
    two: Side
    across: Axis


def end_in(piece: Piece, rect: Box, *, but: Axis | None = None) -> Side | None:
    """The side at which a piece ends in a box of which it fills all; None where it does not end there.

    It ends there when it goes on beyond the box on the opposite side and on no other; ``but`` is an
    axis along which it may.
    """
    beyond = [
        side
        for side in Side
        if side.axis is not but and (piece.finished.side(side) - rect.side(side)).mm * side.sign > 0
    ]
    return beyond[0].opposite if len(beyond) == 1 else None


def corner_of(meeting: Meeting, kind: str, entry: JointBody, bench: Bench) -> Ends | None:
    """The corner that two pieces make, each ending in it with its whole section; else a finding."""
    one, two = end_in(meeting.one, meeting.rect), end_in(meeting.two, meeting.rect)
    if one is not None and two is not None and one.axis is not two.axis:
        across = next(axis for axis in Axis if axis not in (one.axis, two.axis))
        if one.axis is not meeting.one.thick and two.axis is not meeting.two.thick:
            return Ends(one, two, across)
    bench.findings.error(
        "not-a-corner",
        f"{meeting.one.copy} and {meeting.two.copy} do not make a corner in which both are flush",
        entry.place,
        f"for a {kind} let both run to the outside of the corner, and make them equally wide there",
        part=meeting.two.part,
    )
    return None


def known_hardware(name: Text, bench: Bench) -> Fastener | None:
    """The hardware that a joint names inside one of its keys; a finding when there is none of that name."""
    found = bench.fastener(str(name))
    if found is None:
        bench.findings.error(
            "undefined-name",
            f"there is no hardware called `{name}`",
            name.place,
            "add it under `hardware`",
        )
    return found


def at(axis: Axis, values: dict[Axis, Length]) -> Pair:
    """A point of an outline square to ``axis``, by its coordinate along each of the other two."""
    first, second = plane_axes(axis)
    return values[first], values[second]


def polygon(points: Sequence[Pair]) -> Loop:
    """A closed outline with straight edges."""
    return Loop(points[0], (*(Line(point) for point in points[1:]), Line(points[0])))


def opened(box: Box, side: Side, piece: Piece) -> Box:
    """The box carried out to a side of the finished piece."""
    return box.with_side(side, piece.finished.side(side))


def long_places(
    entry: Fastening, meeting: Meeting, long: Length, thick: Length, bench: Bench
) -> Sequence[Point]:
    """Give places along a contact for slots that are ``long`` along it and ``thick`` across it.

    None, with a finding, when they do not fit beside each other or between the ends.
    """
    along, _ = meeting.lateral
    places = places_along(entry, meeting, thick, bench)
    apart = [two.at(along) - one.at(along) for one, two in pairwise(places)]
    ends = [
        min(place.at(along) - meeting.rect.low.at(along), meeting.rect.high.at(along) - place.at(along))
        for place in places
    ]
    if all(pitch > long for pitch in apart) and all(end * 2 > long for end in ends):
        return places
    bench.findings.error(
        "fasteners",
        f"{len(places)} slots of {print_length(long, LengthStyle(bench.units), unit=True)} do not fit "
        f"where {meeting.one.copy} and {meeting.two.copy} meet",
        entry.place_of("from_ends" if entry.from_ends is not None else "per_joint"),
        "use fewer or shorter ones, or other distances from the ends",
        part=meeting.one.part,
    )
    return []


def slot_work(
    kind: str,
    title: str,
    side: Side,
    boxes: Sequence[Box],
    place: Place,
    *,
    depth: Length | None,
    tools: Sequence[Phrase],
    cautions: Sequence[str],
    row: Axis | None = None,
    cuts: Sequence[Cut] | None = None,
) -> Operation:
    """Give the operation that takes boxes away; along ``row`` equal ones at one pitch are one feature.

    ``depth`` is counted from ``side``, None where they go through. ``cuts`` stand in for the boxes
    where the tool leaves another shape.
    """
    features = []
    for first, number, pitch in _rows(boxes, row):
        repeat = (Repeat(row, number, pitch),) if row is not None and number > 1 else ()
        features.append(Feature(Form.SLOT, side, spans_of(first), depth=depth, repeat=repeat))
    return Operation(
        kind=kind,
        title=title,
        side=side,
        cuts=tuple(cuts) if cuts is not None else tuple(BoxCut(box) for box in boxes),
        features=tuple(features),
        say=Phrase(),
        tools=tuple(tools),
        cautions=tuple(cautions),
        place=place,
        group=Group.JOINTS,
    )


def outline_feature(
    side: Side, box: Box, corners: Sequence[Pair], repeat: tuple[Repeat, ...] = (), **more: object
) -> Feature:
    """Give the feature of an outline by its extent and the corners that have to be located."""
    return Feature(
        Form.OUTLINE,
        side,
        spans_of(box),
        corners=tuple(Corner(corner) for corner in corners),
        repeat=repeat,
        **more,  # type: ignore[arg-type]
    )


def outline_work(
    kind: str,
    title: str,
    side: Side,
    cuts: Sequence[Cut],
    features: Sequence[Feature],
    place: Place,
    tools: Sequence[Phrase],
    cautions: Sequence[str],
) -> Operation:
    """Give the operation of outlines that a joint saws or routs."""
    return Operation(
        kind=kind,
        title=title,
        side=side,
        cuts=tuple(cuts),
        features=tuple(features),
        say=Phrase(),
        tools=tuple(tools),
        cautions=tuple(cautions),
        place=place,
        group=Group.JOINTS,
    )


def _rows(boxes: Sequence[Box], row: Axis | None) -> list[tuple[Box, int, Length]]:
    """Boxes in order, runs of equal ones at one pitch counted together."""
    found: list[tuple[Box, int, Length]] = []
    for box in boxes:
        if found and row is not None:
            first, number, pitch = found[-1]
            step = box.low.at(row) - first.low.at(row)
            if box.size(row) == first.size(row) and (number == 1 or step == pitch * number):
                found[-1] = (first, number + 1, step if number == 1 else pitch)
                continue
        found.append((box, 1, ZERO))
    return found

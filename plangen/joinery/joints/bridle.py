"""A bridle joint: an open mortise, the fork, on the end of one piece astride a tenon cut on the other."""

from __future__ import annotations

from plangen.expressions import LengthExpr, Names
from plangen.handbook import joinery_rules
from plangen.joinery.body import Expansion, JointBody, JointKind, Meeting, metric
from plangen.joinery.corner import end_in, opened, slot_work
from plangen.joinery.operation import Operation
from plangen.joinery.piece import Bench, Piece
from plangen.joinery.sentences import slot
from plangen.joinery.space import Axis, Box, Side
from plangen.units import Length, Phrase, phrase


class Bridle(JointBody):
    """``bridle: {in: stile, for: rail, thickness: 1/4in}``.

    ``in`` gets the fork, ``for`` the tenon: at its end in a corner, along its length in a T. The tenon
    is a third of the thinner piece unless said, in the middle of it.
    """

    in_: Names
    for_: Names
    thickness: LengthExpr | None = None  # of the tenon: a third of the thinner piece unless said


def expand(entry: Bridle, meeting: Meeting, bench: Bench) -> Expansion:
    """Cut the fork and the two cheeks of the tenon."""
    one, two, rect = meeting.one, meeting.two, meeting.rect
    end, thick = _end(meeting), two.thick
    if end is None:
        bench.findings.error(
            "not-a-bridle",
            f"{one.copy} does not end, with its whole width, where {two.copy} crosses it",
            entry.place,
            f"let {one.copy} run to the far edge of {two.copy}, with the faces of both pieces parallel",
            part=one.part,
        )
        return Expansion()
    room = rect.size(thick)
    thickness = (
        entry.thickness.length(bench.scope)
        if entry.thickness is not None
        else joinery_rules.tenon_thickness(room, metric=metric(bench))
    )
    if not 0 < thickness.mm < room.mm:
        bench.findings.error(
            "tenon-too-wide",
            f"the tenon of {two.copy} leaves no cheeks on {one.part}, or nothing is left of it",
            entry.place_of("thickness"),
            "leave `thickness` out for a third",
            part=two.part,
        )
        return Expansion()
    tongue = rect
    for face in (Side.of(thick, False), Side.of(thick, True)):
        tongue = tongue.grown(face, (thickness - room) / 2)
    long = rect.size(end.axis)
    fork = slot_work(
        "bridle fork",
        "Open mortise",
        end,
        [tongue],
        entry.place,
        depth=long,
        tools=(phrase("Table saw with a tenoning jig, set to ", long, " deep"), phrase("Chisel")),
        cautions=("table saw", "chisel"),
    )
    cheeks = _cheeks(rect, tongue, two)
    area = 2 * long.mm * rect.size(_wide(end.axis, thick)).mm
    return Expansion((fork,), _tenon(cheeks, tongue, two, entry), end.opposite, (), area)


def _end(meeting: Meeting) -> Side | None:
    """The end of the forked piece in the overlap, when the two lie with their faces parallel."""
    one, two = meeting.one, meeting.two
    end = end_in(one, meeting.rect, but=one.thick)
    if end is None or one.thick is not two.thick or end.axis is not one.runs or one.runs is two.runs:
        return None
    edges = (Side.of(one.runs, False), Side.of(one.runs, True))
    return end if all(meeting.rect.side(edge) == two.finished.side(edge) for edge in edges) else None


def _wide(first: Axis, second: Axis) -> Axis:
    return next(axis for axis in Axis if axis not in (first, second))


def _cheeks(rect: Box, tongue: Box, two: Piece) -> list[tuple[Side, Box]]:
    """What goes on both faces of the tenon's piece, each with its face."""
    found = []
    for face in (Side.of(two.thick, False), Side.of(two.thick, True)):
        cheek = opened(rect, face, two).with_side(face.opposite, tongue.side(face))
        if cheek.size(two.thick).mm > 0:
            found.append((face, cheek))
    return found


def _tenon(cheeks: list[tuple[Side, Box]], tongue: Box, two: Piece, entry: Bridle) -> tuple[Operation, ...]:
    """One operation for each cheek: a tenon in the middle of a length is two wide notches."""
    made = []
    for face, cheek in cheeks:
        depth: Length = cheek.size(two.thick)
        made.append(
            slot_work(
                "bridle cheek",
                "Bridle cheek",
                face,
                [cheek],
                entry.place,
                depth=depth,
                tools=(phrase("Table saw with a dado set, or router, set to ", depth, " deep"),),
                cautions=("table saw",),
            )
        )
    return tuple(made)


def _say_fork(operation: Operation, piece: Piece) -> Phrase:
    return slot("Cut an open mortise", operation.features[0], piece)


def _say_cheek(operation: Operation, piece: Piece) -> Phrase:
    return slot("Cut a cheek of the tenon", operation.features[0], piece)


KIND = JointKind(
    "bridle",
    "Bridle joint",
    Bridle,
    lambda entry: entry.in_,
    lambda entry: entry.for_,
    expand,
    phrase("Spread glue on the cheeks, slide the fork over the tenon and clamp across the faces."),
    overlaps=True,
    cautions=("glue",),
    says={"bridle fork": _say_fork, "bridle cheek": _say_cheek},
    spreads=True,
)

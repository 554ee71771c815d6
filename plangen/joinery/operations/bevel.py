"""A bevel: an end or an edge sawn at an angle through the thickness."""

from __future__ import annotations

import math
from fractions import Fraction

from plangen.expressions import AngleExpr, Entry, SideWord
from plangen.joinery.angles import degrees_text
from plangen.joinery.cuts import Line, Loop, PrismCut, plane_axes
from plangen.joinery.fields import resolve_face
from plangen.joinery.kinds import OperationKind
from plangen.joinery.operation import Corner, Feature, Form, Group, Operation, Span
from plangen.joinery.piece import Bench, Piece
from plangen.joinery.space import Axis, Side, to_nanometre
from plangen.units import Length, Phrase, phrase

LEAST = Fraction(1, 10)  # degrees: less is not seen on a saw's scale; common practice, no source


class Bevel(Entry):
    """``bevel: {at: front, angle: 15deg, long: top}``; the angle is the blade's tilt from a square cut.

    ``at`` names an end or an edge, ``long`` the face that keeps its whole size.
    """

    at: SideWord
    angle: AngleExpr
    long: SideWord


def work(entry: Bevel, piece: Piece, bench: Bench) -> tuple[Operation, ...]:
    """Saw the bevel."""
    at = resolve_face(entry.at, piece, bench, entry.place_of("at"))
    long = resolve_face(entry.long, piece, bench, entry.place_of("long"))
    if at is None or long is None:
        return ()
    if at.axis is piece.runs and long.axis is piece.wide:
        bench.findings.error(
            "bevel",
            f"across a face, with an edge of {piece.part} the long one, an end is sawn to a mitre",
            entry.place_of("long"),
            f"write `mitre: {{end: {at.word}, angle: …, long: {long.word}}}`; a bevel leaves a face long",
            part=piece.part,
        )
        return ()
    if at.axis is piece.thick or long.axis is not piece.thick:
        faces = " or ".join(Side.of(piece.thick, high).word for high in (False, True))
        bench.findings.error(
            "bevel",
            f"a bevel is sawn along an end or an edge of {piece.part}, with one of its faces the long one",
            entry.place_of("at" if at.axis is piece.thick else "long"),
            f"`at` names an end or an edge, `long` a face: {faces}; "
            "an end with an edge the long one is a `mitre`",
            part=piece.part,
        )
        return ()
    angle = entry.angle.angle(bench.scope)
    if not LEAST <= angle < 80:
        bench.findings.error(
            "bevel",
            "a bevel lies between 0.1 and 80 degrees from square",
            entry.place_of("angle"),
            "count the tilt from a square cut: `15deg`",
            part=piece.part,
        )
        return ()
    thickness, room = piece.finished.size(piece.thick), piece.finished.size(at.axis)
    run = to_nanometre(float(thickness) * math.tan(math.radians(float(angle))))
    if run >= room:
        bench.findings.error(
            "bevel",
            f"the bevel takes more than {piece.part} has",
            entry.place_of("angle"),
            "make the angle smaller or the part larger",
            part=piece.part,
        )
        return ()
    along = next(axis for axis in Axis if axis not in (at.axis, piece.thick))
    tip, heel = piece.finished.side(at), piece.finished.side(at) - run * at.sign
    outer, inner = piece.finished.side(long), piece.finished.side(long.opposite)

    def put(inward: Length, through: Length) -> tuple[Length, Length]:
        values = {at.axis: inward, piece.thick: through}
        first, second = plane_axes(along)
        return values[first], values[second]

    corners = (put(tip, outer), put(heel, inner))
    loop = Loop(corners[0], (Line(put(tip, inner)), Line(corners[1]), Line(corners[0])))
    low, high = piece.finished.low.at(along), piece.finished.high.at(along)
    spans = {
        along: Span(low, high),
        at.axis: Span(min(tip, heel), max(tip, heel)),
        piece.thick: Span(min(outer, inner), max(outer, inner)),
    }
    side = Side.of(along, True)
    end = at.axis is piece.runs
    return (
        Operation(
            kind="bevel",
            title="Bevel",
            side=side,
            cuts=(PrismCut(along, low, high, (loop,)),),
            features=(
                Feature(
                    Form.OUTLINE,
                    side,
                    tuple((axis, spans[axis]) for axis in Axis),
                    (at, long),
                    corners=tuple(Corner(corner) for corner in corners),
                    angle_degrees=float(angle),
                    note=phrase("bevel"),
                ),
            ),
            say=Phrase(),
            tools=(
                phrase("Mitre saw, or table saw with the blade tilted" if end else "Table saw, blade tilted"),
            ),
            cautions=("crosscut",) if end else ("table saw",),
            place=entry.place,
        ),
    )


def say(operation: Operation, piece: Piece) -> Phrase:
    """Say which end or edge is sawn, at what tilt, and which face stays long."""
    feature = operation.features[0]
    at, long = feature.datum
    return phrase(
        f"Saw the {piece.call(at)} to a bevel, the blade tilted {degrees_text(feature.angle_degrees or 0.0)} "
        f"from square; the {piece.call(long)} stays long."
    )


KIND = OperationKind("bevel", Bevel, work, Group.SHAPES, say, heading="Saw the {work} on the {pieces}")

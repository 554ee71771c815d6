"""A mitre: an end sawn at an angle across the face."""

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


class Mitre(Entry):
    """``mitre: {end: left, angle: 45deg, long: back}``; the angle is the saw's, counted from a square cut."""

    end: SideWord
    angle: AngleExpr
    long: SideWord


def work(entry: Mitre, piece: Piece, bench: Bench) -> tuple[Operation, ...]:
    """Saw the mitre."""
    end = resolve_face(entry.end, piece, bench, entry.place_of("end"))
    long = resolve_face(entry.long, piece, bench, entry.place_of("long"))
    if end is None or long is None:
        return ()
    if end.axis is not piece.runs or long.axis is not piece.wide:
        bench.findings.error(
            "mitre",
            f"a mitre is sawn across an end of {piece.part}, with one of its edges the long one",
            entry.place,
            "`end` names an end, `long` an edge; for the corner of a box, with a face the long one, "
            f"write `bevel: {{at: {end.word}, angle: …, long: {long.word}}}`"
            if end.axis is piece.runs and long.axis is piece.thick
            else "`end` names an end, `long` an edge",
            part=piece.part,
        )
        return ()
    angle = entry.angle.angle(bench.scope)
    if not LEAST <= angle < 80:
        bench.findings.error(
            "mitre",
            "a saw cuts mitres between 0.1 and 80 degrees from square",
            entry.place_of("angle"),
            "for a corner of a square frame write `45deg`",
            part=piece.part,
        )
        return ()
    width = piece.finished.size(piece.wide)
    run = to_nanometre(float(width) * math.tan(math.radians(float(angle))))
    if run >= piece.finished.size(piece.runs):
        bench.findings.error(
            "mitre",
            f"the mitre is longer than {piece.part}",
            entry.place_of("angle"),
            "make the angle smaller or the part longer",
            part=piece.part,
        )
        return ()
    tip, heel = piece.finished.side(end), piece.finished.side(end) - run * end.sign
    outer, inner = piece.finished.side(long), piece.finished.side(long.opposite)

    def at(lengthwise: Length, crosswise: Length) -> tuple[Length, Length]:
        values = {piece.runs: lengthwise, piece.wide: crosswise}
        first, second = plane_axes(piece.thick)
        return values[first], values[second]

    corners = (at(tip, outer), at(heel, inner))
    loop = Loop(corners[0], (Line(at(tip, inner)), Line(corners[1]), Line(corners[0])))
    low, high = piece.finished.low.at(piece.thick), piece.finished.high.at(piece.thick)
    spans = {
        piece.thick: Span(low, high),
        piece.runs: Span(min(tip, heel), max(tip, heel)),
        piece.wide: Span(min(outer, inner), max(outer, inner)),
    }
    side = Side.of(piece.thick, True)
    return (
        Operation(
            kind="mitre",
            title="Mitre",
            side=side,
            cuts=(PrismCut(piece.thick, low, high, (loop,)),),
            features=(
                Feature(
                    Form.OUTLINE,
                    side,
                    tuple((axis, spans[axis]) for axis in Axis),
                    (end,),
                    corners=tuple(Corner(corner) for corner in corners),
                    angle_degrees=float(angle),
                ),
            ),
            say=Phrase(),
            tools=(phrase("Mitre saw, or crosscut sled"),),
            cautions=("crosscut",),
            place=entry.place,
        ),
    )


def say(operation: Operation, piece: Piece) -> Phrase:
    """Say which end is sawn to what angle, and which edge stays long."""
    feature = operation.features[0]
    (end,) = feature.datum
    # The first corner is the tip of the mitre, on the long edge.
    tip = feature.corners[0].at[plane_axes(feature.side.axis).index(piece.wide)]
    long = Side.of(piece.wide, tip > piece.finished.middle(piece.wide))
    angle = degrees_text(feature.angle_degrees or 0.0)
    return phrase(f"Saw the {piece.call(end)} to a mitre of {angle}; the {piece.call(long)} stays long.")


KIND = OperationKind("mitre", Mitre, work, Group.SHAPES, say, heading="Saw the {work} on the {pieces}")

"""A round: the section turned or planed to a diameter, over all of the part or a stretch of it."""

from __future__ import annotations

from plangen.expressions import LengthExpr
from plangen.joinery.cuts import PrismCut, plane_axes
from plangen.joinery.fields import FromSides
from plangen.joinery.kinds import OperationKind
from plangen.joinery.operation import Feature, Form, Group, Operation, Span
from plangen.joinery.piece import Bench, Piece
from plangen.joinery.sentences import runs_through
from plangen.joinery.shapes import around, circle_loop
from plangen.joinery.space import Axis, Side
from plangen.units import ZERO, Phrase, phrase


class Round(FromSides):
    """``round: {diameter: 1-1/4in, from bottom: 0, from top: 6in}``: between those ends, else all over.

    The ends are counted from the shoulders; where one is left out, the tenon there is round too.
    """

    diameter: LengthExpr


def work(entry: Round, piece: Piece, bench: Bench) -> tuple[Operation, ...]:
    """Make it round."""
    along, blank = piece.runs, piece.finished
    if not entry.only((along,), piece, bench, "round"):
        return ()
    low, high = entry.both(along, piece, bench)
    if entry.open_at(Side.of(along, False)):
        low = blank.low.at(along)
    if entry.open_at(Side.of(along, True)):
        high = blank.high.at(along)
    if not blank.low.at(along) <= low < high <= blank.high.at(along):
        bench.findings.error(
            "round",
            "the round stretch has no length, or runs off the end",
            entry.place,
            "count both distances inward from the ends, and make them smaller",
            part=piece.part,
        )
        return ()
    diameter = entry.diameter.length(bench.scope)
    section = min(blank.size(piece.wide), blank.size(piece.thick))
    if not ZERO < diameter <= section:
        bench.findings.error(
            "round",
            f"{piece.part} is too thin for this diameter"
            if diameter > ZERO
            else "the diameter is not above zero",
            entry.place_of("diameter"),
            "make it at most the smaller side of the section",
            part=piece.part,
        )
        return ()
    first, second = plane_axes(along)
    circle = circle_loop((blank.middle(first), blank.middle(second)), diameter)
    spans = {along: Span(low, high)}
    for axis in (first, second):
        spans[axis] = Span(blank.middle(axis) - diameter / 2, blank.middle(axis) + diameter / 2)
    end = Side.of(along, high == blank.high.at(along) and low > blank.low.at(along))
    datum = tuple(
        side for side in (Side.of(along, False), Side.of(along, True)) if getattr(entry, f"from_{side.word}")
    )
    return (
        Operation(
            kind="round",
            title="Round",
            side=end,
            cuts=(PrismCut(along, low, high, (around(blank, along), circle)),),
            features=(
                Feature(
                    Form.ROUND,
                    end,
                    tuple((axis, spans[axis]) for axis in Axis),
                    datum[:1],
                    diameter=diameter,
                ),
            ),
            say=Phrase(),
            tools=(phrase("Lathe, or spokeshave and plane"), phrase("Calipers")),
            cautions=("chisel",),
            place=entry.place,
        ),
    )


def say(operation: Operation, piece: Piece) -> Phrase:
    """Say the diameter, and between which ends it goes."""
    feature = operation.features[0]
    along = feature.side.axis
    span = feature.span(along)
    across = feature.diameter or ZERO
    if runs_through(span, along, piece):
        return phrase("Turn or plane it round, ", across, " across, over its whole length.")
    words = phrase("Turn or plane it round, ", across, " across, ", span.high - span.low, " long")
    low, high = Side.of(along, False), Side.of(along, True)
    for side, end in ((low, span.low), (high, span.high)):
        short = (piece.finished.side(side) - end) * side.sign
        if short <= ZERO:
            return words + phrase(f" at the {piece.call(side)}.")
    before = span.low - piece.finished.low.at(along)
    return words + phrase(", from ", before, f" from the {piece.call(low)}.")


KIND = OperationKind("round", Round, work, Group.SHAPES, say, heading="Turn the {pieces} round")

"""A taper: an edge sawn straight from a start to a narrower end."""

from __future__ import annotations

from plangen.expressions import LengthExpr, SideWord
from plangen.joinery.cuts import Line, Loop, PrismCut, plane_axes
from plangen.joinery.fields import FromSides, resolve_face
from plangen.joinery.kinds import OperationKind
from plangen.joinery.operation import Corner, Feature, Form, Group, Operation, Span
from plangen.joinery.piece import Bench, Piece
from plangen.joinery.space import Axis, Side
from plangen.units import Length, Phrase, phrase


class Taper(FromSides):
    """``taper: {edge: front, from top: 6in, to bottom: 4in}``.

    It starts that far from the one end and leaves that width at the other.
    """

    edge: SideWord
    to_left: LengthExpr | None = None
    to_right: LengthExpr | None = None
    to_front: LengthExpr | None = None
    to_back: LengthExpr | None = None
    to_bottom: LengthExpr | None = None
    to_top: LengthExpr | None = None


def work(entry: Taper, piece: Piece, bench: Bench) -> tuple[Operation, ...]:
    """Saw the taper."""
    edge = resolve_face(entry.edge, piece, bench, entry.place_of("edge"))
    if edge is None:
        return ()
    ends = [side for side in Side if getattr(entry, f"to_{side.word}") is not None]
    if len(ends) != 1 or ends[0].axis is edge.axis:
        bench.findings.error(
            "taper",
            "a taper needs the one end that it narrows to",
            entry.place,
            "write for example `to bottom: 4in`: the width left at the bottom end",
            part=piece.part,
        )
        return ()
    end = ends[0]
    if not entry.only((end.axis,), piece, bench, "taper"):
        return ()
    start = entry.require(end.axis, piece, bench, "taper")
    if start is None:
        return ()
    left = getattr(entry, f"to_{end.word}").length(bench.scope)
    width = piece.finished.size(edge.axis)
    if not 0 < left.mm < width.mm:
        bench.findings.error(
            "taper",
            f"the taper leaves no width, or more than {piece.part} has",
            entry.place_of(f"to_{end.word}"),
            "give a width between zero and the part's own",
            part=piece.part,
        )
        return ()
    if not piece.finished.low.at(end.axis) <= start[0] <= piece.finished.high.at(end.axis) or start[
        0
    ] == piece.finished.side(end):
        bench.findings.error(
            "taper",
            f"the taper does not begin on {piece.part}",
            entry.place_of(f"from_{start[1].word}"),
            "count its start inward from the side named",
            part=piece.part,
        )
        return ()
    through = next(axis for axis in Axis if axis not in (edge.axis, end.axis))
    along, at_end = start[0], piece.finished.side(end)
    full, narrow = piece.finished.side(edge), piece.finished.side(edge.opposite) + left * edge.sign

    def at(lengthwise: Length, crosswise: Length) -> tuple[Length, Length]:
        values = {end.axis: lengthwise, edge.axis: crosswise}
        first, second = plane_axes(through)
        return values[first], values[second]

    corners = (at(along, full), at(at_end, narrow))
    loop = Loop(corners[0], (Line(at(at_end, full)), Line(corners[1]), Line(corners[0])))
    low, high = piece.finished.low.at(through), piece.finished.high.at(through)
    spans = {
        through: Span(low, high),
        end.axis: Span(min(along, at_end), max(along, at_end)),
        edge.axis: Span(min(full, narrow), max(full, narrow)),
    }
    side = Side.of(through, True)
    return (
        Operation(
            kind="taper",
            title="Taper",
            side=side,
            cuts=(PrismCut(through, low, high, (loop,)),),
            features=(
                Feature(
                    Form.OUTLINE,
                    side,
                    tuple((axis, spans[axis]) for axis in Axis),
                    (start[1], edge.opposite),
                    corners=tuple(Corner(corner) for corner in corners),
                ),
            ),
            say=Phrase(),
            tools=(phrase("Bandsaw or jigsaw"), phrase("Hand plane")),
            cautions=("bandsaw",),
            place=entry.place,
        ),
    )


def say(operation: Operation, piece: Piece) -> Phrase:
    """Say how long the taper is and what it leaves."""
    feature = operation.features[0]
    along, narrow = feature.span(piece.runs), feature.datum[-1]
    across = feature.span(narrow.axis)
    left = piece.finished.size(narrow.axis) - (across.high - across.low)
    return phrase(
        "Saw a taper ",
        along.high - along.low,
        f" long on the {piece.call(narrow.opposite)}, down to ",
        left,
        " wide.",
    )


KIND = OperationKind("taper", Taper, work, Group.SHAPES, say, heading="Saw the {work} on the {pieces}")

"""A notch: a rectangular piece sawn out of a corner or an edge, right through the third direction."""

from __future__ import annotations

from plangen.expressions import LengthExpr, SideWord
from plangen.joinery.cuts import BoxCut
from plangen.joinery.fields import FromSides, resolve_face
from plangen.joinery.kinds import OperationKind
from plangen.joinery.operation import Feature, Form, Operation, Span
from plangen.joinery.piece import Bench, Piece
from plangen.joinery.space import Axis, Box, Side
from plangen.units import Length, Phrase, phrase


class Notch(FromSides):
    """``notch: {at: [back, bottom], deep: 3/4in, up: 3in}``; two of across, deep and up give its size."""

    at: list[SideWord]
    across: LengthExpr | None = None
    deep: LengthExpr | None = None
    up: LengthExpr | None = None


def work(entry: Notch, piece: Piece, bench: Bench) -> tuple[Operation, ...]:
    """Saw out the notch."""
    found_sides = [resolve_face(word, piece, bench, word.place) for word in entry.at]
    sides = [side for side in found_sides if side is not None]
    if len(sides) < len(found_sides):
        return ()
    flush = {side.axis: side for side in sides}
    if not sides or len(flush) < len(sides):
        bench.findings.error(
            "notch-sides",
            "a notch opens one side, or two that meet at a corner",
            entry.place_of("at"),
            "for a corner `at: [back, bottom]`, for an edge `at: [top]`",
            part=piece.part,
        )
        return ()
    sizes = {axis: getattr(entry, axis.word) for axis in Axis if getattr(entry, axis.word) is not None}
    if len(sizes) != 2 or not set(flush) <= set(sizes):
        bench.findings.error(
            "notch-size",
            "a notch needs its size in exactly two directions, those of the sides that it opens",
            entry.place,
            "for a corner at the back and bottom: `notch: {at: [back, bottom], deep: …, up: …}`",
            part=piece.part,
        )
        return ()
    if not entry.only(tuple(axis for axis in sizes if axis not in flush), piece, bench, "notch"):
        return ()
    box, datum = piece.finished, []
    for axis, expression in sizes.items():
        size = expression.length(bench.scope)
        if not _fits(entry, axis, size, piece, bench):
            return ()
        if axis in flush:
            box = box.with_side(
                flush[axis].opposite, piece.finished.side(flush[axis]) - size * flush[axis].sign
            )
            datum.append(flush[axis])
            continue
        found = entry.require(axis, piece, bench, "notch")
        if found is None:
            return ()
        at, side = found
        box = box.with_side(side, at).with_side(side.opposite, at - size * side.sign)
        datum.append(side)
        blank = piece.finished
        if not (blank.low.at(axis) < box.low.at(axis) and box.high.at(axis) < blank.high.at(axis)):
            bench.findings.error(
                "notch-off-part",
                f"the notch does not lie between the ends of the {piece.call(sides[0])}",
                entry.place_of(f"from_{side.word}"),
                f"for a corner write `at: [{sides[0].word}, {side.word}]` and no `from {side.word}`",
                part=piece.part,
            )
            return ()
    through = next(axis for axis in Axis if axis not in sizes)
    return (
        Operation(
            kind="notch",
            title="Notch",
            side=Side.of(through, True),
            cuts=(BoxCut(box),),
            features=(Feature(Form.SLOT, Side.of(through, True), _spans(box), tuple(datum)),),
            say=Phrase(),
            tools=(phrase("Bandsaw, jigsaw or handsaw"), phrase("Chisel")),
            cautions=("bandsaw", "chisel"),
            place=entry.place,
        ),
    )


def _spans(box: Box) -> tuple[tuple[Axis, Span], ...]:
    return tuple((axis, Span(box.low.at(axis), box.high.at(axis))) for axis in Axis)


def _fits(entry: Notch, axis: Axis, size: Length, piece: Piece, bench: Bench) -> bool:
    whole = piece.finished.size(axis)
    if size.mm > 0 and size < whole:
        return True
    bench.findings.error(
        "notch-size",
        f"the notch leaves nothing of {piece.part} in the direction {axis.word}",
        entry.place_of(axis.word),
        "make it smaller than the part",
        part=piece.part,
    )
    return False


KIND = OperationKind("notch", Notch, work)

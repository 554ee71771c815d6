"""A notch: a rectangular piece sawn out of a corner or an edge, right through the third direction."""

from __future__ import annotations

from plangen.expressions import LengthExpr, SideWord
from plangen.joinery.body import spans_of
from plangen.joinery.cuts import BoxCut, Cut
from plangen.joinery.fields import FromSides, resolve_face
from plangen.joinery.kinds import OperationKind
from plangen.joinery.operation import Feature, Form, Group, Operation
from plangen.joinery.piece import Bench, Piece
from plangen.joinery.recess import radius_fits
from plangen.joinery.sentences import location, opened_side, runs_through
from plangen.joinery.shapes import rounded_prism
from plangen.joinery.space import Axis, Box, Side
from plangen.units import ZERO, Length, Phrase, phrase


class Notch(FromSides):
    """``notch: {at: [back, bottom], deep: 3/4in, up: 3in}``; two of across, deep and up give its size.

    ``radius`` rounds its inner corner, or both of a notch in the middle of an edge.
    """

    at: list[SideWord]
    across: LengthExpr | None = None
    deep: LengthExpr | None = None
    up: LengthExpr | None = None
    radius: LengthExpr | None = None


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
    radius = entry.radius.length(bench.scope) if entry.radius is not None else ZERO
    if not radius_fits(radius, _most(box, flush, sizes), entry, piece, bench, "notch"):
        return ()
    cut: Cut = BoxCut(box)
    if radius > ZERO:
        cut = rounded_prism(box, through, _inner(flush, list(sizes), radius))
    return (
        Operation(
            kind="notch",
            title="Notch",
            side=Side.of(through, True),
            cuts=(cut,),
            features=(
                Feature(
                    Form.SLOT,
                    Side.of(through, True),
                    spans_of(box),
                    tuple(datum),
                    radii=(radius,) if radius > ZERO else (),
                ),
            ),
            say=Phrase(),
            tools=(phrase("Bandsaw, jigsaw or handsaw"), phrase("Chisel")),
            cautions=("bandsaw", "chisel"),
            place=entry.place,
        ),
    )


def _most(box: Box, flush: dict[Axis, Side], sizes: dict[Axis, object]) -> Length:
    """The largest radius that the inner corners have room for."""
    return min(box.size(axis) if axis in flush else box.size(axis) / 2 for axis in sizes)


def _inner(
    flush: dict[Axis, Side], axes: list[Axis], radius: Length
) -> dict[tuple[Axis, bool, Axis, bool], Length]:
    """The corners inside the wood, rounded."""
    one, two = axes
    ends = {axis: [not flush[axis].high] if axis in flush else [False, True] for axis in axes}
    return {(one, a, two, b): radius for a in ends[one] for b in ends[two]}


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


def say(operation: Operation, piece: Piece) -> Phrase:
    """Say how far the notch reaches from the sides that it opens, and where it is in the other direction."""
    feature = operation.features[0]
    axes = [axis for axis in Axis if not runs_through(feature.span(axis), axis, piece)]
    words = phrase("Cut a notch")
    opened = {axis: side for axis in axes if (side := opened_side(feature.span(axis), axis, piece))}
    for axis in axes:
        span = feature.span(axis)
        if axis not in opened:
            words += phrase(" ", span.high - span.low, " wide") + location(feature, axis, piece)
    for index, (axis, side) in enumerate(opened.items()):
        span = feature.span(axis)
        start = ("," if len(opened) < len(axes) else "") + " reaching " if index == 0 else " and "
        words += phrase(start, span.high - span.low, f" from the {piece.call(side)}")
    if feature.radii:
        words += phrase(
            ", its inner corner rounded to " if len(opened) > 1 else ", its inner corners rounded to "
        )
        words += phrase(feature.radii[0])
    return words + phrase(".")


KIND = OperationKind("notch", Notch, work, Group.SHAPES, say, heading="Saw the {work} out of the {pieces}")

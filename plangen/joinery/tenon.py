"""Tenons: where they stand on the end of a rail, what is cut away around them, how they are said."""

from __future__ import annotations

from dataclasses import dataclass

from plangen.joinery.cuts import BoxCut, Cut, PrismCut
from plangen.joinery.operation import Feature, Operation
from plangen.joinery.piece import Piece
from plangen.joinery.sentences import number_of, slot
from plangen.joinery.shapes import around, rounded_rectangle
from plangen.joinery.space import Axis, Box, Side
from plangen.units import ZERO, Length, Phrase, phrase


@dataclass(frozen=True, slots=True)
class Tenons:
    """The tenons on one end, upright: each from the shoulder out to its tip, in order along ``row``.

    ``whole`` holds them all, ``haunches`` the stubs beside them by the edge they reach.
    """

    end: Side
    whole: Box
    each: tuple[Box, ...]
    row: Axis
    haunches: tuple[tuple[Side, Box], ...] = ()

    @property
    def length(self) -> Length:
        """From shoulder to tip."""
        return self.whole.size(self.end.axis)


def parted(whole: Box, row: Axis, number: int, space: Length) -> tuple[Box, ...]:
    """Share a box among a row of tenons with equal spaces between them."""
    size = (whole.size(row) - space * (number - 1)) / number
    low = whole.low.at(row)
    starts = [low + (size + space) * index for index in range(number)]
    return tuple(
        whole.with_side(Side.of(row, False), start).with_side(Side.of(row, True), start + size)
        for start in starts
    )


def haunch_box(whole: Box, two: Piece, end: Side, edge: Side, length: Length) -> Box:
    """The stub that reaches from the tenon to an edge of the rail, so long from the shoulder."""
    box = whole.with_side(edge, two.finished.side(edge)).with_side(edge.opposite, whole.side(edge))
    return box.with_side(end, whole.side(end.opposite) + length * end.sign)


def cheeks(tenons: Tenons, two: Piece, *, rounded: bool) -> tuple[Cut, ...]:
    """What is sawn away around tenons: side by side, between them, and past their haunches.

    ``rounded`` tenons have half round edges, to fit a mortise that a router has left so.
    """
    end, whole = tenons.end, tenons.whole
    stub = two.finished.with_side(end.opposite, whole.side(end.opposite))
    if rounded:
        return (_rounded(tenons, two, stub),)
    boxes = []
    short = dict(tenons.haunches)
    for axis in (two.thick, two.wide):
        for side in (Side.of(axis, False), Side.of(axis, True)):
            if whole.side(side) == stub.side(side):
                continue
            box = stub.with_side(side.opposite, whole.side(side))
            if side in short:
                box = box.with_side(end.opposite, short[side].side(end))
            boxes.append(box)
    low, high = Side.of(tenons.row, False), Side.of(tenons.row, True)
    for before, behind in zip(tenons.each, tenons.each[1:], strict=False):
        boxes.append(whole.with_side(low, before.side(high)).with_side(high, behind.side(low)))
    return tuple(BoxCut(box) for box in boxes)


def _rounded(tenons: Tenons, two: Piece, stub: Box) -> PrismCut:
    runs = tenons.end.axis
    loops = []
    for box in tenons.each:
        radius = box.size(two.thick) / 2
        corners = {
            (two.wide, high, two.thick, beside): radius for high in (False, True) for beside in (False, True)
        }
        loops.append(rounded_rectangle(box, runs, corners))
    outer = around(two.finished, runs)
    return PrismCut(runs, stub.low.at(runs), stub.high.at(runs), (outer, *loops))


def _sized(box: Feature, piece: Piece, end: Side) -> Phrase:
    sizes = {axis: box.span(axis).high - box.span(axis).low for axis in Axis}
    return phrase(sizes[end.axis], " long, ", sizes[piece.thick], " thick and ", sizes[piece.wide], " wide")


def _end(operation: Operation, piece: Piece) -> Side:
    run = operation.features[0].span(piece.runs)
    return Side.of(piece.runs, run.high == piece.finished.high.at(piece.runs))


def say_tenons(operation: Operation, piece: Piece) -> Phrase:
    """Say how many, how large, and on which end."""
    end = _end(operation, piece)
    words = phrase(f"Cut {len(operation.features)} tenons, each ") + _sized(operation.features[0], piece, end)
    return words + phrase(f", on the {piece.call(end)}.")


def say_haunched(operation: Operation, piece: Piece) -> Phrase:
    """Say the tenon, then how long its haunch is and at which edge."""
    end, tenon = _end(operation, piece), operation.features[0]
    words = phrase("Cut a tenon ") + _sized(tenon, piece, end) + phrase(f" on the {piece.call(end)}")
    for haunch in operation.features[1:]:
        run, wide = haunch.span(piece.runs), haunch.span(piece.wide)
        edge = Side.of(piece.wide, wide.high == piece.finished.high.at(piece.wide))
        words += phrase(
            ", with a haunch ", run.high - run.low, f" long to the {piece.call(edge)}"
        )  # fmt: skip
    return words + phrase(".")


def say_kerf(operation: Operation, piece: Piece) -> Phrase:
    """Say the kerfs for wedges: how many and how deep."""
    feature = operation.features[0]
    return phrase(
        f"Saw {number_of(operation)} kerf{'s' if number_of(operation) > 1 else ''} ",
        feature.depth or ZERO,
        f" deep into the tenon on the {piece.call(operation.side)} for the wedges.",
    )


def say_haunch(operation: Operation, piece: Piece) -> Phrase:
    """Say the socket of a haunch."""
    return slot("Chop the socket of the haunch", operation.features[0], piece)

"""What slots, pockets and recesses share: a box placed on a face, its depth, and what fits there."""

from __future__ import annotations

from plangen.expressions import Entry, Expression
from plangen.joinery.fields import FromSides
from plangen.joinery.piece import Bench, Piece
from plangen.joinery.space import Axis, Box, Side
from plangen.units import Length


def placed_box(
    entry: FromSides, sizes: dict[Axis, Length], face: Side, piece: Piece, bench: Bench, noun: str
) -> tuple[Box, dict[Axis, Side]] | None:
    """Give the box of that size whose nearer sides lie where the entry says, right through the piece.

    Also the side that it is measured from along each axis. None, with a finding, when it is not
    placed, or does not lie on the face.
    """
    if not entry.only(tuple(sizes), piece, bench, noun):
        return None
    found = {axis: entry.require(axis, piece, bench, noun) for axis in sizes}
    box, datum = piece.finished, {}
    for axis, place in sorted(found.items(), key=lambda item: item[0].value):
        if place is None:
            return None
        at, side = place
        box = box.with_side(side, at).with_side(side.opposite, at - sizes[axis] * side.sign)
        datum[axis] = side
    return (box, datum) if fits(entry, box, face, piece, bench, noun) else None


def fits(entry: FromSides, box: Box, face: Side, piece: Piece, bench: Bench, noun: str) -> bool:
    """Report a cut that reaches past the edges of its face."""
    for axis in Axis:
        if axis is face.axis:
            continue
        low, high = piece.finished.low.at(axis), piece.finished.high.at(axis)
        if low <= box.low.at(axis) and box.high.at(axis) <= high:
            continue
        typed = [side for side in (Side.of(axis, False), Side.of(axis, True)) if _typed(entry, side)]
        bench.findings.error(
            f"{noun.replace(' ', '-')}-off-part",
            f"the {noun} leaves {piece.part}: {axis.word} it reaches past the {piece.call(face)}",
            entry.place_of(f"from_{typed[0].word}") if typed else entry.place_of("width"),
            "count its place inward from the side named to the nearer edge of the cut, or make it smaller",
            part=piece.part,
        )
        return False
    return True


def _typed(entry: FromSides, side: Side) -> bool:
    return getattr(entry, f"from_{side.word}") is not None


def depth_of(
    expression: Expression | None, face: Side, entry: Entry, piece: Piece, bench: Bench, noun: str
) -> Length | None:
    """Give the depth typed, or the whole thickness; None, with a finding, when the part is thinner."""
    thickness = piece.finished.size(face.axis)
    depth = expression.length(bench.scope) if expression is not None else thickness
    if depth.mm > 0 and depth <= thickness:
        return depth
    bench.findings.error(
        "recess-too-deep",
        f"the {noun} is deeper than {piece.part} is thick there"
        if depth.mm > 0
        else f"the {noun} has no depth",
        entry.place_of("depth"),
        f"{piece.part} needs to keep some wood under the {noun}: make it less deep",
        part=piece.part,
    )
    return None


def radius_fits(radius: Length, most: Length, entry: Entry, piece: Piece, bench: Bench, noun: str) -> bool:
    """Report a corner radius that is below zero, or larger than half of what it rounds."""
    if radius.mm >= 0 and radius <= most:
        return True
    bench.findings.error(
        "radius-too-large",
        f"the radius is larger than the corners of the {noun} have room for"
        if radius.mm > 0
        else f"the radius of the {noun} is below zero",
        entry.place_of("radius"),
        "a corner is as round as the router bit: give half the diameter of the bit, or make the cut larger",
        part=piece.part,
    )
    return False

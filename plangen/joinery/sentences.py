"""Pieces of sentences that several kinds of operation say: slots, holes, edges, and where they are."""

from __future__ import annotations

from collections.abc import Sequence

from plangen.joinery.angles import degrees_text, lean_of, settings_of
from plangen.joinery.cuts import PrismCut
from plangen.joinery.operation import Feature, Operation, Span
from plangen.joinery.piece import Piece
from plangen.joinery.space import Axis, Side
from plangen.units import ZERO, Length, Phrase, listed, phrase

NOWHERE = Phrase()


def slot(verb: str, feature: Feature, piece: Piece) -> Phrase:
    """Say a channel in a face: width, length where it is stopped, depth, and where it is."""
    lateral = [axis for axis in Axis if axis is not feature.side.axis]
    sizes = {axis: feature.span(axis).high - feature.span(axis).low for axis in lateral}
    through = [axis for axis in lateral if runs_through(feature.span(axis), axis, piece)]
    long = through[0] if through else max(lateral, key=lambda axis: sizes[axis].mm)
    across = next(axis for axis in lateral if axis is not long)
    words = phrase(verb, " ", sizes[across], " wide")
    if long not in through:
        words += phrase(", ", sizes[long], " long")
    words += phrase(", right through") if feature.depth is None else phrase(" and ", feature.depth, " deep")
    words += phrase(f" in the {piece.call(feature.side)}")
    words += location(feature, across, piece)
    if long not in through:
        words += stop(feature, long, piece)
    return words + phrase(".")


def stop(feature: Feature, axis: Axis, piece: Piece) -> Phrase:
    """Say where a slot begins and ends along its length, when it does not run through."""
    span = feature.span(axis)
    low, high = Side.of(axis, False), Side.of(axis, True)
    before, behind = span.low - piece.finished.low.at(axis), piece.finished.high.at(axis) - span.high
    if before <= ZERO:
        return phrase(", stopped ", behind, f" short of the {piece.call(high)}")
    if behind <= ZERO:
        return phrase(", stopped ", before, f" short of the {piece.call(low)}")
    if high in feature.datum:
        return phrase(" and ", behind, f" from the {piece.call(high)}")
    return phrase(" and ", before, f" from the {piece.call(low)}")


def location(feature: Feature, axis: Axis, piece: Piece) -> Phrase:
    """Say how far from its datum a feature is along an axis."""
    span = feature.span(axis)
    low, high = piece.finished.low.at(axis), piece.finished.high.at(axis)
    named = [side for side in feature.datum if side.axis is axis]
    side = named[0] if named else Side.of(axis, span.high >= high and span.low > low)
    distance = (high - span.high) if side.high else (span.low - low)
    if distance <= ZERO:
        return phrase(f", along the {piece.call(side)}")
    return phrase(", ", distance, f" from the {piece.call(side)}")


def number_of(operation: Operation) -> int:
    """How many of the same an operation makes: its features, each with its rows."""
    number = 0
    for feature in operation.features:
        count = 1
        for repeat in feature.repeat:
            count *= repeat.number
        number += count
    return number


def counted(operation: Operation, noun: str) -> str:
    """Give ``a slot`` or ``4 slots``."""
    number = number_of(operation)
    return f"a {noun}" if number == 1 else f"{number} {noun}s"


def located_hole(operation: Operation, piece: Piece) -> Phrase:
    """Say holes that a maker has placed: all that ``hole`` says, and where they are."""
    return hole(operation, piece, places(operation, piece))


def places(operation: Operation, piece: Piece) -> Phrase:
    """Say where the first hole is, how far apart those of its row are, and that the rest mirror it."""
    feature = operation.features[0]
    words = Phrase()
    for axis in (axis for axis in Axis if axis is not feature.side.axis):
        side = next((one for one in feature.datum if one.axis is axis), Side.of(axis, False))
        reach = sum((one.pitch * (one.number - 1) for one in feature.repeat if one.axis is axis), ZERO)
        at = feature.span(axis).low + (reach if side.high else ZERO)
        inward = (piece.finished.side(side) - at) * side.sign
        words += phrase(" and " if words else "", inward, f" from the {piece.call(side)}")
    one = number_of(operation) == 1
    words = (phrase(", ") if one else phrase(", the first ")) + words
    for row in feature.repeat:
        words += phrase(", then every ", row.pitch, f" {_AWAY[row.axis]}")
    return words + phrase(", and at the mirror places" if len(operation.features) > 1 else "")


_AWAY = {Axis.ACROSS: "across", Axis.DEEP: "front to back", Axis.UP: "up and down"}


def hole(operation: Operation, piece: Piece, where: Phrase = NOWHERE) -> Phrase:
    """Say holes: how many, how wide and deep, in which face, with their wider mouths and how they lean."""
    feature = operation.features[0]
    number = number_of(operation)
    words = phrase("Drill a hole " if number == 1 else f"Drill {number} holes ", feature.diameter or ZERO)
    words += (
        phrase(" across, through")
        if feature.depth is None
        else phrase(" across and ", feature.depth, " deep", " along the hole" if feature.way else "")
    )
    # Of holes that lean it has to be told which leans where.
    where = where or (places(operation, piece) if feature.way is not None else NOWHERE)
    words += phrase(f" in the {piece.call(feature.side)}") + where
    if feature.counterbore is not None:
        words += phrase(
            ", counterbored ", feature.counterbore[0], " across and ", feature.counterbore[1], " deep"
        )
    elif feature.countersink:
        words += phrase(", countersunk for the head")
    return words + phrase(".") + _lean(operation)


def _lean(operation: Operation) -> Phrase:
    """Say how far the bit leans, along which sight line, and where its point goes."""
    feature = operation.features[0]
    if feature.way is None:
        return Phrase()
    lean, first, second = lean_of(feature.way, feature.side)
    words = f" Lean the bit {degrees_text(lean.resultant)} from square, "
    if lean.sight:
        words += f"along a sight line {degrees_text(lean.sight)} from {first.word} towards {second.word}, "
    words += f"its point to the {first.word}" + (f" and {second.word}" if lean.sight else "")
    ways = {one.way for one in operation.features}
    if len(ways) > 1:
        words += "; at the mirror places to the other side, as the arrows of the part sheet show"
    return phrase(f"{words}.")


def slanted_end(operation: Operation, piece: Piece) -> Phrase:
    """Say an end sawn at an angle: both settings of the saw, and the corner that stays long."""
    feature = operation.features[0]
    assert feature.way is not None, "a plane has its normal"
    end = feature.side
    saw = settings_of(feature.way, end, piece.thick if piece.thick is not end.axis else piece.wide)
    turned = f"set to a mitre of {degrees_text(saw.mitre)}" if saw.edge else "square"
    tilted = f"tilted {degrees_text(saw.tilt)}" if saw.face else "upright"
    words = f"Saw the {piece.call(end)} with the saw {turned} and the blade {tilted}"
    long = [piece.call(side) for side in (saw.edge, saw.face) if side is not None]
    if long:
        words += f"; the {' and the '.join(long)} stay{'' if len(long) > 1 else 's'} long"
    return phrase(f"{words}.")


def edge_sides(operation: Operation) -> list[tuple[Side, ...]]:
    """The two sides that meet in each worked edge; cuts and features go by pairs."""
    met = []
    for cut, feature in zip(operation.cuts, operation.features, strict=True):
        assert isinstance(cut, PrismCut), "an edge is worked by a prism along it"
        corner = cut.loops[0].start
        axes = [axis for axis in Axis if axis is not cut.axis]
        met.append(
            tuple(
                Side.of(axis, value >= feature.span(axis).high)
                for axis, value in zip(axes, corner, strict=True)
            )
        )
    return met


def edge_size(operation: Operation) -> Length:
    """What the work on an edge takes off along each face."""
    cut, feature = operation.cuts[0], operation.features[0]
    assert isinstance(cut, PrismCut), "an edge is worked by a prism along it"
    side = next(axis for axis in Axis if axis is not cut.axis)
    return feature.span(side).high - feature.span(side).low


def edges_named(met: Sequence[tuple[Side, ...]], piece: Piece) -> str:
    """Name a set of edges as shortly as it can be named."""
    if len(met) == 12:
        return "all edges"
    across_ends = [sides for sides in met if any(side.axis is piece.runs for side in sides)]
    if len(met) == 4 and not across_ends:
        return "the four long edges"
    if len(met) == 8 and len(across_ends) == 8:
        return "the edges around both ends"
    for side in Side:
        if len(met) == 4 and all(side in sides for sides in met):
            return f"the edges around the {piece.call(side)}"
    names = [" ".join(side.word for side in reversed(sides)) for sides in met]
    return f"the {listed(names)} edge{'' if len(names) == 1 else 's'}"


def edge_stops(operation: Operation, piece: Piece) -> Phrase:
    """Say how far short of the ends worked edges stop; nothing where they run through."""
    stops: dict[Side, Phrase] = {}
    for cut, feature in zip(operation.cuts, operation.features, strict=True):
        assert isinstance(cut, PrismCut), "an edge is worked by a prism along it"
        span = feature.span(cut.axis)
        for side, end in ((Side.of(cut.axis, False), span.low), (Side.of(cut.axis, True), span.high)):
            short = (piece.finished.side(side) - end) * side.sign
            if short > ZERO:
                stops[side] = phrase(short, f" short of the {piece.call(side)}")
    words = Phrase()
    for number, side in enumerate(side for side in Side if side in stops):
        words += phrase(", stopped " if number == 0 else " and ") + stops[side]
    return words


def opened_side(span: Span, axis: Axis, piece: Piece) -> Side | None:
    """The side of the piece that a cut opens along an axis, if it opens one."""
    if span.low <= piece.finished.low.at(axis):
        return Side.of(axis, False)
    return Side.of(axis, True) if span.high >= piece.finished.high.at(axis) else None


def runs_through(span: Span, axis: Axis, piece: Piece) -> bool:
    """Whether a span goes from end to end of the piece."""
    return span.low <= piece.finished.low.at(axis) and span.high >= piece.finished.high.at(axis)

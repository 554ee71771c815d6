"""Say an operation in one instruction, from its features alone, so that a mirrored piece is said mirrored."""

from __future__ import annotations

from plangen.joinery.operation import Feature, Form, Operation, Span
from plangen.joinery.piece import Piece
from plangen.joinery.space import Axis, Side
from plangen.units import ZERO, Phrase, phrase

_VERB = {
    "dado": "Cut a dado",
    "groove": "Cut a groove",
    "rabbet": "Cut a rabbet",
    "mortise": "Cut a mortise",
    "half-lap": "Cut a half-lap",
}


def say(operation: Operation, piece: Piece) -> Phrase:
    """Give the sentence; ``piece`` and the operation stand in the same frame."""
    feature = operation.features[0]
    if operation.kind == "tenon":
        return _tenon(feature, piece)
    if operation.kind == "notch":
        return _notch(feature, piece)
    if feature.form is Form.SLOT:
        return _slot(operation, feature, piece)
    if feature.form is Form.HOLE:
        return _hole(feature, piece)
    if feature.form is Form.EDGE:
        return _edges(operation, piece)
    if feature.angle_degrees is not None:
        end = next((side for side in feature.datum), feature.side)
        return phrase(f"Saw the {piece.call(end)} to a mitre of {feature.angle_degrees:g}°.")
    what = {"taper": "taper", "curve": "curve", "outline": "outline"}.get(
        operation.kind, operation.title.lower()
    )
    if operation.kind == "taper":
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
    return phrase(f"Saw the {what} on the line and smooth it.")


def _slot(operation: Operation, feature: Feature, piece: Piece) -> Phrase:
    lateral = [axis for axis in Axis if axis is not feature.side.axis]
    sizes = {axis: feature.span(axis).high - feature.span(axis).low for axis in lateral}
    through = [axis for axis in lateral if _runs_through(feature.span(axis), axis, piece)]
    long = through[0] if through else max(lateral, key=lambda axis: sizes[axis].mm)
    across = next(axis for axis in lateral if axis is not long)
    depth = feature.depth
    verb = _VERB.get(operation.kind, f"Cut a {operation.title.lower()}")
    words = phrase(verb, " ", sizes[across], " wide")
    if long not in through:
        words += phrase(", ", sizes[long], " long")
    if depth is None:
        words += phrase(", right through")
    else:
        words += phrase(" and ", depth, " deep")
    words += phrase(f" in the {piece.call(feature.side)}")
    words += _location(feature, across, piece)
    if long not in through:
        words += _stop(feature, long, piece)
    return words + phrase(".")


def _stop(feature: Feature, axis: Axis, piece: Piece) -> Phrase:
    """Where a slot begins and ends along its length, when it does not run through."""
    span = feature.span(axis)
    low, high = Side.of(axis, False), Side.of(axis, True)
    before, behind = span.low - piece.finished.low.at(axis), piece.finished.high.at(axis) - span.high
    if before <= ZERO:
        return phrase(", stopped ", behind, f" short of the {piece.call(high)}")
    if behind <= ZERO:
        return phrase(", stopped ", before, f" short of the {piece.call(low)}")
    return phrase(" and ", before, f" from the {piece.call(low)}")


def _location(feature: Feature, axis: Axis, piece: Piece) -> Phrase:
    span = feature.span(axis)
    low, high = piece.finished.low.at(axis), piece.finished.high.at(axis)
    named = [side for side in feature.datum if side.axis is axis]
    side = named[0] if named else Side.of(axis, span.high >= high and span.low > low)
    distance = (high - span.high) if side.high else (span.low - low)
    if distance <= ZERO:
        return phrase(f", along the {piece.call(side)}")
    return phrase(", ", distance, f" from the {piece.call(side)}")


def _notch(feature: Feature, piece: Piece) -> Phrase:
    axes = [axis for axis in Axis if not _runs_through(feature.span(axis), axis, piece)]
    words = phrase("Cut a notch")
    # Each direction in which it opens a side is told from that side; another is told by its width and place.
    opened = {axis: side for axis in axes if (side := _opens(feature.span(axis), axis, piece))}
    for axis in axes:
        span = feature.span(axis)
        if axis not in opened:
            words += phrase(" ", span.high - span.low, " wide") + _location(feature, axis, piece)
    for index, (axis, side) in enumerate(opened.items()):
        span = feature.span(axis)
        start = ("," if len(opened) < len(axes) else "") + " reaching " if index == 0 else " and "
        words += phrase(start, span.high - span.low, f" from the {piece.call(side)}")
    return words + phrase(".")


def _opens(span: Span, axis: Axis, piece: Piece) -> Side | None:
    if span.low <= piece.finished.low.at(axis):
        return Side.of(axis, False)
    return Side.of(axis, True) if span.high >= piece.finished.high.at(axis) else None


def _tenon(feature: Feature, piece: Piece) -> Phrase:
    run = feature.span(piece.runs)
    end = Side.of(piece.runs, run.high == piece.finished.high.at(piece.runs))
    thick, wide = feature.span(piece.thick), feature.span(piece.wide)
    return phrase(
        "Cut a tenon ",
        run.high - run.low,
        " long, ",
        thick.high - thick.low,
        " thick and ",
        wide.high - wide.low,
        f" wide on the {piece.call(end)}.",
    )


def _hole(feature: Feature, piece: Piece) -> Phrase:
    number = 1
    for repeat in feature.repeat:
        number *= repeat.number
    words = phrase("Drill a hole " if number == 1 else f"Drill {number} holes ", feature.diameter or ZERO)
    words += (
        phrase(" across, through")
        if feature.depth is None
        else phrase(" across and ", feature.depth, " deep")
    )
    words += phrase(f" in the {piece.call(feature.side)}")
    if feature.counterbore is not None:
        words += phrase(
            ", counterbored ", feature.counterbore[0], " across and ", feature.counterbore[1], " deep"
        )
    elif feature.countersink:
        words += phrase(", countersunk for the head")
    return words + phrase(".")


def _edges(operation: Operation, piece: Piece) -> Phrase:
    met = [_meeting_sides(feature, piece) for feature in operation.features]
    first = operation.features[0]
    size = next(first.span(side.axis).high - first.span(side.axis).low for side in met[0])
    where = _edges_named(met, piece)
    if operation.kind == "round over":
        return phrase(f"Round {where} over to a radius of ", size, ".")
    return phrase(f"Chamfer {where} by ", size, ".")


def _meeting_sides(feature: Feature, piece: Piece) -> tuple[Side, ...]:
    """The two sides that meet in an edge."""
    return tuple(
        Side.of(axis, feature.span(axis).high >= piece.finished.high.at(axis))
        for axis in Axis
        if not _runs_through(feature.span(axis), axis, piece)
    )


def _edges_named(met: list[tuple[Side, ...]], piece: Piece) -> str:
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
    if len(names) == 1:
        return f"the {names[0]} edge"
    return f"the {', '.join(names[:-1])} and {names[-1]} edges"


def _runs_through(span: Span, axis: Axis, piece: Piece) -> bool:
    return span.low <= piece.finished.low.at(axis) and span.high >= piece.finished.high.at(axis)

"""Say an operation in one instruction, from its features alone, so that a mirrored piece is said mirrored.

A kind that a maker may write says itself (``OperationKind.say``); here stands how the others are
said: by the form of their first feature, and what joints cut by a table.
"""

from __future__ import annotations

from plangen.joinery.joints import JOINTS
from plangen.joinery.kinds import Say
from plangen.joinery.operation import Form, Operation
from plangen.joinery.operations import OPERATIONS
from plangen.joinery.piece import Piece
from plangen.joinery.sentences import hole, number_of, slanted_end, slot
from plangen.joinery.space import Side
from plangen.units import ZERO, Phrase, phrase


def say(operation: Operation, piece: Piece) -> Phrase:
    """Give the sentence; ``piece`` and the operation stand in the same frame."""
    if operation.kind in _SAYINGS:
        return _SAYINGS[operation.kind](operation, piece)
    feature = operation.features[0]
    if feature.form is Form.SLOT:
        return slot(f"Cut a {operation.title.lower()}", feature, piece)
    if feature.form is Form.HOLE:
        return hole(operation, piece)
    if feature.form is Form.ROUND:
        return round_stretch(operation, piece)
    if feature.form is Form.PLANE:
        return slanted_end(operation, piece)
    if feature.form is Form.MARK:
        return mark(operation, piece)
    return phrase(f"Saw the {operation.title.lower()} on the line and smooth it.")


def round_stretch(operation: Operation, piece: Piece) -> Phrase:
    """Say a tenon turned round, or whatever else is made round at an end."""
    feature = operation.features[0]
    along = feature.side.axis
    span = feature.span(along)
    end = Side.of(along, span.high >= piece.finished.high.at(along))
    return phrase(
        f"Turn or shave the {operation.title.lower()} at the {piece.call(end)} to ",
        feature.diameter or ZERO,
        " across, ",
        span.high - span.low,
        " long.",
    )


def mark(operation: Operation, piece: Piece) -> Phrase:
    """Say the places that are marked on a face, and what comes there; nothing is cut."""
    feature = operation.features[0]
    number = number_of(operation)
    places = "a place" if number == 1 else f"{number} places"
    words = phrase(f"Mark {places} on the {piece.call(feature.side)}: ")
    return words + feature.note + phrase(".")


def _tenon(operation: Operation, piece: Piece) -> Phrase:
    feature = operation.features[0]
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


_SAYINGS: dict[str, Say] = {
    "tenon": _tenon,
    **{name: kind.say for name, kind in OPERATIONS.items() if kind.say is not None},
    **{operation: saying for joint in JOINTS.values() for operation, saying in joint.says.items()},
}

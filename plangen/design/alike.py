"""Which copies are the same piece: compared under every turn of the blank, then as mirror images."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from plangen.design.frame import Frame
from plangen.findings import Findings
from plangen.joinery.operation import Operation
from plangen.joinery.piece import Piece
from plangen.joinery.space import IDENTITY_TURN, ORIGIN, Axis
from plangen.joinery.transform import (
    Transform,
    Turn,
    all_turns,
    box_onto_box,
    determinant,
    signature,
    transform_operation,
)
from plangen.units import Length


@dataclass(frozen=True)
class Worked:
    """A copy with everything worked on it, in the frame."""

    piece: Piece
    operations: tuple[Operation, ...]


@dataclass(frozen=True)
class Same:
    """Copies that are one piece to make: the first, and how it is carried onto each."""

    first: Worked
    copies: tuple[tuple[Worked, Transform], ...]
    hand: Literal["left", "right"] | None = None


def group_alike(
    part: str,
    copies: tuple[str, ...],
    own: tuple[Operation, ...],
    joint_operations: dict[str, list[Operation]],
    frame: Frame,
    findings: Findings,
) -> tuple[Same, ...]:
    """Give the one or two pieces that a part's copies are.

    ``own`` are the operations under ``cut``, as the first copy stands. Each other copy is matched to
    the first by what joints cut into it, which tells how the first is turned or mirrored to become
    it; ``own`` operations go along. Copies that match in no way are an error that shows what differs.
    """
    pieces = {copy: frame.piece(copy) for copy in copies}
    first = pieces[copies[0]]
    from_joints = {copy: tuple(joint_operations.get(copy, ())) for copy in copies}
    first_worked = Worked(first, (*own, *from_joints[copies[0]]))
    same: list[tuple[Worked, Transform]] = [(first_worked, Transform(IDENTITY_TURN, ORIGIN))]
    mirrored: list[tuple[Worked, Transform]] = []
    for copy in copies[1:]:
        piece = pieces[copy]
        found = _carry(first, from_joints[copies[0]], piece, from_joints[copy], frame, copy)
        if found is None:
            _differ(part, copies[0], copy, first, from_joints[copies[0]], piece, from_joints[copy], findings)
            continue
        operations = tuple(transform_operation(operation, found) for operation in own) + from_joints[copy]
        worked = Worked(piece, operations)
        turn = _match(first_worked, worked, mirror=False)
        if turn is not None:
            same.append((worked, turn))
        else:
            mirrored.append((worked, found))
    if not mirrored:
        return (Same(first_worked, tuple(same)),)
    other_first = mirrored[0][0]
    others = [
        (worked, turn)
        for worked, _ in mirrored
        if (turn := _match(other_first, worked, mirror=False)) is not None
    ]
    hands = _hands(first, other_first.piece)
    if frame.copies[copies[0]].entry.alike is False:
        hands = (None, None)
    return (
        Same(first_worked, tuple(same), hands[0]),
        Same(other_first, tuple(others), hands[1]),
    )


def _hands(one: Piece, two: Piece) -> tuple[Literal["left", "right"] | None, Literal["left", "right"] | None]:
    """Left is the one further left; of two as far left, the one named so, else the first."""
    middle_one, middle_two = one.finished.middle(Axis.ACROSS), two.finished.middle(Axis.ACROSS)
    if middle_one == middle_two:
        return ("right", "left") if "right" in one.copy.split() else ("left", "right")
    return ("left", "right") if middle_one < middle_two else ("right", "left")


def _candidates(one: Piece, two: Piece, mirror: bool | None) -> list[Transform]:
    """Every way the blank of one lies on that of the other with grain along grain.

    A square section may be rolled; the faces of a wide board stay faces.
    """
    square = one.finished.size(one.wide) == one.finished.size(one.thick) and one.solid
    found = []
    for turn in all_turns():
        if mirror is not None and (determinant(turn) < 0) is not mirror:
            continue
        transform = box_onto_box(turn, one.finished, two.finished)
        if transform is None or transform.axis(one.runs) is not two.runs:
            continue
        if transform.axis(one.thick) is not two.thick and not square:
            continue
        found.append(transform)
    return found


def _carry(
    first: Piece,
    first_operations: tuple[Operation, ...],
    piece: Piece,
    operations: tuple[Operation, ...],
    frame: Frame,
    copy: str,
) -> Transform | None:
    """How the first copy becomes this one, the placed way first, then turns, then mirrorings."""
    wanted = signature(operations, piece.finished)
    preferred = _as_placed(first, piece, frame, copy)
    candidates = ([preferred] if preferred is not None else []) + _candidates(first, piece, None)
    for transform in candidates:
        carried = tuple(transform_operation(operation, transform) for operation in first_operations)
        if signature(carried, piece.finished) == wanted:
            return transform
    return None


def _as_placed(first: Piece, piece: Piece, frame: Frame, copy: str) -> Transform | None:
    """The way the maker placed it: moved, turned, or mirrored in a plane."""
    copied = frame.copies[copy]
    turn: Turn = copied.turned or IDENTITY_TURN
    mirrored = copied.mirrored
    if mirrored is not None:
        rows = [list(row) for row in turn]
        rows[mirrored.axis.value] = [-value for value in rows[mirrored.axis.value]]
        turn = (tuple(rows[0]), tuple(rows[1]), tuple(rows[2]))  # type: ignore[assignment]
    return box_onto_box(turn, first.finished, piece.finished)


def _match(one: Worked, two: Worked, *, mirror: bool) -> Transform | None:
    wanted = signature(two.operations, two.piece.finished)
    for transform in _candidates(one.piece, two.piece, mirror):
        carried = tuple(transform_operation(operation, transform) for operation in one.operations)
        if signature(carried, two.piece.finished) == wanted:
            return transform
    return None


def _differ(
    part: str,
    first_name: str,
    copy: str,
    first: Piece,
    first_operations: tuple[Operation, ...],
    piece: Piece,
    operations: tuple[Operation, ...],
    findings: Findings,
) -> None:
    sizes = []
    for word, axis_one, axis_two in (
        ("long", first.runs, piece.runs),
        ("wide", first.wide, piece.wide),
        ("thick", first.thick, piece.thick),
    ):
        one, two = first.finished.size(axis_one), piece.finished.size(axis_two)
        if one != two:
            sizes.append(f"{first_name} is {_both(one)} {word} and {copy} {_both(two)}")
    if sizes:
        message = "; ".join(sizes)
    else:
        counts_one, counts_two = _counts(first_operations), _counts(operations)
        kinds = [
            kind
            for kind in dict.fromkeys([*counts_one, *counts_two])
            if counts_one.get(kind, 0) != counts_two.get(kind, 0)
        ]
        if kinds:
            kind = kinds[0]
            message = f"{first_name} has {counts_one.get(kind, 0)} × {kind} and {copy} has {counts_two.get(kind, 0)}"
        else:
            differing = next((operation for operation in operations), None)
            what = differing.title.lower() if differing is not None else "an operation"
            message = f"the {what} of {copy} is in another place than that of {first_name}, however the piece is turned or mirrored"
    findings.error(
        "copies-differ",
        f"the copies of `{part}` are not the same piece: {message}",
        piece.place,
        f"make them equal, or make {copy} a part of its own with `like: {part}`",
        also=((first.place, f"{first_name} stands here"),),
        part=part,
    )


def _both(length: Length) -> str:
    return f"{float(length.inches):.5g} in ({float(length):.5g} mm)"


def _counts(operations: tuple[Operation, ...]) -> dict[str, int]:
    counts: dict[str, int] = {}
    for operation in operations:
        counts[operation.title.lower()] = counts.get(operation.title.lower(), 0) + 1
    return counts

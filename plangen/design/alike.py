"""Which copies are the same piece: compared under every turn of the blank, then as mirror images."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import chain
from typing import Literal

from plangen.design.frame import Frame
from plangen.findings import Findings
from plangen.joinery.operation import Operation
from plangen.joinery.piece import Piece
from plangen.joinery.space import IDENTITY_TURN, ORIGIN, Axis
from plangen.joinery.transform import (
    Transform,
    Turn,
    after,
    all_turns,
    box_onto_box,
    determinant,
    inverse,
    signature,
    transform_operation,
)
from plangen.units import Length

Hand = Literal["left", "right"] | None
Hands = tuple[Hand, Hand]


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
    hand: Hand = None


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
    hands: Hands = _hands(first, other_first.piece)
    if frame.copied(copies[0]).entry.alike is False:
        hands = (None, None)
    return (
        Same(first_worked, tuple(same), hands[0]),
        Same(other_first, tuple(others), hands[1]),
    )


def _hands(one: Piece, two: Piece) -> Hands:
    """Left is the one further left; of two as far left, the one named so, else the first."""
    middle_one, middle_two = one.finished.middle(Axis.ACROSS), two.finished.middle(Axis.ACROSS)
    if middle_one == middle_two:
        return ("right", "left") if "right" in one.copy.split() else ("left", "right")
    return ("left", "right") if middle_one < middle_two else ("right", "left")


def _candidates(one: Piece, two: Piece, mirror: bool | None) -> Iterator[Transform]:
    """Every way the blank of one lies on that of the other with grain along grain.

    A square section may be rolled; the faces of a wide board stay faces.
    """
    square = one.finished.size(one.wide) == one.finished.size(one.thick) and one.solid
    for turn in all_turns():
        if mirror is not None and (determinant(turn) < 0) is not mirror:
            continue
        if _image(turn, one.runs) is not two.runs:
            continue
        if _image(turn, one.thick) is not two.thick and not square:
            continue
        transform = box_onto_box(turn, one.finished, two.finished)
        if transform is not None:
            yield transform


def _image(turn: Turn, axis: Axis) -> Axis:
    return next(row for row in Axis if turn[row.value][axis.value])


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
    for transform in chain([preferred] if preferred is not None else [], _candidates(first, piece, None)):
        carried = tuple(transform_operation(operation, transform) for operation in first_operations)
        if signature(carried, piece.finished) == wanted:
            return transform
    return None


def _as_placed(first: Piece, piece: Piece, frame: Frame, copy: str) -> Transform | None:
    """The way the maker placed it: from how the first copy lies to how this one does."""
    way = after(frame.copied(copy).way, inverse(frame.copied(first.copy).way))
    return box_onto_box(way, first.finished, piece.finished)


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
    message = (
        _sizes_differ(first, piece)
        or _counts_differ(first_operations, operations, first_name, copy)
        or _joints_differ(first_operations, operations, first_name, copy)
        or f"what is cut into {copy} is in another place than in {first_name}, "
        "however the piece is turned or mirrored"
    )
    findings.error(
        "copies-differ",
        f"the copies of `{part}` are not the same piece: {message}",
        piece.place,
        f"make them equal, or make {copy} a part of its own with `like: {part}`",
        also=((first.place, f"{first_name} stands here"),),
        part=part,
    )


def _sizes_differ(first: Piece, piece: Piece) -> str:
    measures = (
        ("long", first.runs, piece.runs),
        ("wide", first.wide, piece.wide),
        ("thick", first.thick, piece.thick),
    )
    return "; ".join(
        f"{first.copy} is {_both(first.finished.size(one))} {word} "
        f"and {piece.copy} {_both(piece.finished.size(two))}"
        for word, one, two in measures
        if first.finished.size(one) != piece.finished.size(two)
    )


def _counts_differ(one: tuple[Operation, ...], two: tuple[Operation, ...], first: str, copy: str) -> str:
    counts_one = Counter(operation.title.lower() for operation in one)
    counts_two = Counter(operation.title.lower() for operation in two)
    for kind in dict.fromkeys([*counts_one, *counts_two]):
        if counts_one[kind] != counts_two[kind]:
            return f"{first} has {counts_one[kind]} × {kind} and {copy} has {counts_two[kind]}"
    return ""


def _joints_differ(one: tuple[Operation, ...], two: tuple[Operation, ...], first: str, copy: str) -> str:
    joints_one = Counter(str(operation.joint) for operation in one)
    joints_two = Counter(str(operation.joint) for operation in two)
    for joint in dict.fromkeys([*joints_one, *joints_two]):
        if joints_one[joint] != joints_two[joint]:
            with_it, without = (first, copy) if joints_one[joint] > joints_two[joint] else (copy, first)
            return (
                f"`{joint}` cuts into {with_it} what another joint cuts into {without}, "
                "and one joint must do it for both"
            )
    return ""


def _both(length: Length) -> str:
    return f"{float(length.inches):.5g} in ({float(length):.5g} mm)"

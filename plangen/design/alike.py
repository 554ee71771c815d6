"""Which copies are the same piece: compared under every turn of the blank, then as mirror images."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import chain
from typing import Literal

from plangen.findings import Findings
from plangen.joinery.operation import Operation
from plangen.joinery.piece import Piece
from plangen.joinery.space import IDENTITY_TURN, Axis
from plangen.joinery.transform import (
    UNMOVED,
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
    """A copy with everything worked on it, upright in the project's directions.

    ``way`` is how the maker turned or mirrored the part to place it.
    """

    piece: Piece
    operations: tuple[Operation, ...]
    way: Turn = IDENTITY_TURN


@dataclass(frozen=True)
class Same:
    """Copies that are one piece to make: the first, and how it is carried onto each."""

    first: Worked
    copies: tuple[tuple[Worked, Transform], ...]
    hand: Hand = None


def group_alike(
    part: str,
    copies: Sequence[Worked],
    own: tuple[Operation, ...],
    findings: Findings,
    *,
    hands: bool = True,
    may_differ: bool = False,
) -> tuple[Same, ...]:
    """Give the pieces that a part's copies are: one, or a left and a right one.

    ``copies`` have what joints cut into them, ``own`` are the operations under ``cut`` as the first
    copy stands. Each other copy is matched to the first by what joints cut into it, which tells how
    the first is turned or mirrored to become it; ``own`` operations go along. Copies that match in no
    way are an error that shows what differs; in assemblies whose copies are joined in different ways
    (``may_differ``) they are pieces of their own.
    """
    first = copies[0]
    start = replace(first, operations=(*own, *first.operations))
    kinds: list[list[tuple[Worked, Transform]]] = [[(start, UNMOVED)]]
    for copy in copies[1:]:
        found = _carry(first, copy)
        if found is None and may_differ:
            found = _as_placed(first, copy)
        if found is None:
            _differ(part, first, copy, findings)
            continue
        carried = tuple(transform_operation(operation, found) for operation in own)
        worked = replace(copy, operations=carried + copy.operations)
        for kind in kinds:
            turn = _match(kind[0][0], worked, mirror=False)
            if turn is not None:
                kind.append((worked, turn))
                break
        else:
            kinds.append([(worked, UNMOVED)])
    found_hands: tuple[Hand, ...] = (None,) * len(kinds)
    if hands and len(kinds) == 2 and _match(kinds[0][0][0], kinds[1][0][0], mirror=True) is not None:
        found_hands = _hands(kinds[0][0][0].piece, kinds[1][0][0].piece)
    return tuple(Same(kind[0][0], tuple(kind), hand) for kind, hand in zip(kinds, found_hands, strict=True))


def joined_alike(one: Same, two: Same) -> Same | None:
    """Give all copies as one piece, where those of two parts are; None where they are not."""
    found = []
    for worked, _ in two.copies:
        turn = _match(one.first, worked, mirror=False)
        if turn is None:
            return None
        found.append((worked, turn))
    return replace(one, copies=(*one.copies, *found)) if one.hand == two.hand else None


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


def _carry(first: Worked, copy: Worked) -> Transform | None:
    """How the first copy becomes this one, the placed way first, then turns, then mirrorings."""
    wanted = signature(copy.operations, copy.piece.finished)
    preferred = _as_placed(first, copy)
    ways = chain([preferred] if preferred is not None else [], _candidates(first.piece, copy.piece, None))
    for transform in ways:
        carried = tuple(transform_operation(operation, transform) for operation in first.operations)
        if signature(carried, copy.piece.finished) == wanted:
            return transform
    return None


def _as_placed(first: Worked, copy: Worked) -> Transform | None:
    """The way the maker placed it: from how the first copy lies to how this one does."""
    return box_onto_box(after(copy.way, inverse(first.way)), first.piece.finished, copy.piece.finished)


def _match(one: Worked, two: Worked, *, mirror: bool) -> Transform | None:
    wanted = signature(two.operations, two.piece.finished)
    for transform in _candidates(one.piece, two.piece, mirror):
        carried = tuple(transform_operation(operation, transform) for operation in one.operations)
        if signature(carried, two.piece.finished) == wanted:
            return transform
    return None


def _differ(part: str, one: Worked, two: Worked, findings: Findings) -> None:
    first, copy = one.piece.copy, two.piece.copy
    message = (
        _sizes_differ(one.piece, two.piece)
        or _counts_differ(one.operations, two.operations, first, copy)
        or _joints_differ(one.operations, two.operations, first, copy)
        or f"what is cut into {copy} is in another place than in {first}, "
        "however the piece is turned or mirrored"
    )
    # The one with more work on it is the special one: it has the hinge or the knob.
    own = first if len(one.operations) > len(two.operations) else copy
    other = two if own == first else one
    reached = {work.joint for work in other.operations}
    alone = [work for work in (one if own == first else two).operations if work.joint not in reached]
    lines = [f"`{work.joint}`" for work in alone if not work.cuts and work.joint]
    findings.error(
        "copies-differ",
        f"the copies of `{part}` are not the same piece: {message}",
        two.piece.place,
        (
            f"{lines[0]} must reach both: look at the room that its hardware has on each side; "
            if lines
            else ""
        )
        + f"make them equal, or make `{own}` a part of its own with `like: {part}`",
        also=((one.piece.place, f"{first} stands here"),),
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

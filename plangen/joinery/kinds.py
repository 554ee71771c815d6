"""What a kind of operation is: its name, what the maker types, what it does to a piece, how it is said."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Final, TypeAlias

from plangen.expressions import Entry
from plangen.joinery.operation import Group, Operation
from plangen.joinery.piece import Bench, Piece
from plangen.units import Phrase

Say: TypeAlias = Callable[[Operation, Piece], Phrase]


CUT_IN: Final = "Cut the {work} in the {pieces}"


@dataclass(frozen=True, slots=True)
class OperationKind:
    """One kind of operation.

    ``work`` takes the entry (an instance of ``entry``), the piece as its first copy stands and the
    bench, and gives operations in the frame; what is wrong goes to the bench's findings. ``group``
    is its place in the order of work. ``say`` gives its sentence from the operation and the piece as
    they stand in one frame, so that a mirrored piece is said mirrored; None lets the form of its
    first feature say it. ``heading`` is the heading of a step that does this work, with ``{work}`` for
    its noun and ``{pieces}`` for what it is worked on.
    """

    name: str
    entry: type[Entry]
    work: Callable[[Any, Piece, Bench], tuple[Operation, ...]]
    group: Group = Group.SHAPES
    say: Say | None = None
    heading: str = CUT_IN

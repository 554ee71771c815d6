"""What a kind of operation is: its name, what the maker types, and what it does to a piece."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from plangen.expressions import Entry
from plangen.joinery.operation import Operation
from plangen.joinery.piece import Bench, Piece


@dataclass(frozen=True, slots=True)
class OperationKind:
    """One kind of operation.

    ``work`` takes the entry (an instance of ``entry``), the piece as its first copy stands and the
    bench, and gives operations in the frame; what is wrong goes to the bench's findings.
    """

    name: str
    entry: type[Entry]
    work: Callable[[Any, Piece, Bench], tuple[Operation, ...]]

"""What a study is, and how its outcome is printed."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass


@dataclass(frozen=True)
class Outcome:
    """A table, and one figure beside its target."""

    columns: Sequence[str]
    rows: Sequence[Sequence[object]]
    figure: str
    target: str
    holds: bool


@dataclass(frozen=True)
class Study:
    """A study by its name; ``run`` takes whether to be quick (under 50 seconds)."""

    name: str
    question: str
    run: Callable[[bool], Outcome]


def table(columns: Sequence[str], rows: Sequence[Sequence[object]]) -> str:
    """Set a table in plain text; numbers to the right."""
    cells = [[_words(cell) for cell in row] for row in rows]
    widths = [max(len(row[i]) for row in [list(columns), *cells]) for i in range(len(columns))]
    right = [
        bool(rows) and all(isinstance(row[i], (int, float)) for row in rows) for i in range(len(columns))
    ]

    def line(row: Sequence[str]) -> str:
        return "  ".join(
            cell.rjust(width) if is_right else cell.ljust(width)
            for cell, width, is_right in zip(row, widths, right, strict=True)
        ).rstrip()

    return "\n".join([line(list(columns)), line(["-" * width for width in widths]), *map(line, cells)])


def _words(cell: object) -> str:
    return f"{cell:.3f}" if isinstance(cell, float) else str(cell)

"""A bad project with a mark where its finding must point."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

MARK = "⟦"


@dataclass(frozen=True)
class Case:
    """One bad project and what must be said of it; line and column count from 1, line 0 is no place."""

    name: str
    kind: str
    make: Callable[[], bytes]
    line: int
    column: int
    stage: str = "read"  # what finds it: read, design, or a later stage
    severity: str = "error"

    @property
    def data(self) -> bytes:
        return self.make()


def marked_case(name: str, kind: str, marked: str, stage: str = "read", severity: str = "error") -> Case:
    """Give the case of a text in which the mark stands just before the character at fault."""
    at = marked.index(MARK)
    text = marked.replace(MARK, "", 1)
    line = marked.count("\n", 0, at) + 1
    column = at - (marked.rfind("\n", 0, at) + 1) + 1
    return Case(name, kind, text.encode, line, column, stage, severity)

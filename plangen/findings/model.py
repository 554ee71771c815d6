"""The records of a finding and of the place in the maker's file that it points at."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from enum import Enum


@dataclass(frozen=True, order=True, slots=True)
class Place:
    """A place in the maker's file; line and column count from 1, as editors do."""

    file: str
    line: int
    column: int
    length: int = 1

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"


class Severity(Enum):
    """How much a finding matters: an error stops the build, a warning goes into the maker's report."""

    ERROR = "error"
    WARNING = "warning"
    NOTE = "note"


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing to tell the maker.

    ``kind`` is a stable slug such as ``unknown-key``. ``message`` says what is wrong in one terse
    sentence with the value seen; ``remedy`` says what would be right. ``also`` names further places
    that belong to the same trouble, each with a few words.
    """

    kind: str
    message: str
    place: Place | None = None
    remedy: str = ""
    severity: Severity = Severity.ERROR
    also: tuple[tuple[Place, str], ...] = ()
    part: str | None = None


@dataclass(slots=True)
class Findings:
    """A growing collection of findings; every room adds what it sees and goes on."""

    items: list[Finding] = field(default_factory=list)

    def error(
        self,
        kind: str,
        message: str,
        place: Place | None,
        remedy: str = "",
        also: tuple[tuple[Place, str], ...] = (),
        part: str | None = None,
    ) -> None:
        """Add an error."""
        self.items.append(Finding(kind, message, place, remedy, Severity.ERROR, also, part))

    def warning(
        self,
        kind: str,
        message: str,
        place: Place | None,
        remedy: str = "",
        also: tuple[tuple[Place, str], ...] = (),
        part: str | None = None,
    ) -> None:
        """Add a warning."""
        self.items.append(Finding(kind, message, place, remedy, Severity.WARNING, also, part))

    def add(self, finding: Finding) -> None:
        """Add a finding that was made elsewhere."""
        self.items.append(finding)

    def extend(self, findings: Iterable[Finding]) -> None:
        """Add several findings."""
        self.items.extend(findings)

    @property
    def has_errors(self) -> bool:
        """Whether any finding stops the build."""
        return any(item.severity is Severity.ERROR for item in self.items)

    def sorted(self) -> tuple[Finding, ...]:
        """All findings in the order of the maker's file, each once, those without a place last."""
        unique = dict.fromkeys(self.items)
        far = Place("￿", 10**9, 0)
        return tuple(sorted(unique, key=lambda item: (item.place or far, item.kind, item.message)))

    def __iter__(self) -> Iterator[Finding]:
        return iter(self.items)

    def __len__(self) -> int:
        return len(self.items)


class ProjectError(Exception):
    """The project is at fault and work cannot go on; carries what was found."""

    def __init__(self, findings: Findings | Iterable[Finding]) -> None:
        self.findings = tuple(findings)
        super().__init__("; ".join(finding.message for finding in self.findings))

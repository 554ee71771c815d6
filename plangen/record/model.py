"""What differs between two builds. Lengths stay exact until they are printed."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

PartChangeKind = Literal["added", "removed", "renamed", "count", "stock", "mark"]
StepChangeKind = Literal["changed", "added", "removed", "moved"]
PageChangeKind = Literal["changed", "added", "removed"]


@dataclass(frozen=True, slots=True)
class Reading:
    """One value of a record: as printed, and exactly (millimetres where it is a length)."""

    printed: str
    exact: Fraction
    is_length: bool = True


@dataclass(frozen=True, slots=True)
class SizeChange:
    """A size that is another one now; ``old`` or ``new`` is None where the size is not there.

    ``mark`` and ``part`` (its title) are empty for a size of the whole or one that the maker named.
    ``work`` is the trade's noun of the operation that the size belongs to, empty for the blank's own.
    """

    mark: str
    part: str
    work: str
    measure: str
    old: Reading | None
    new: Reading | None

    @property
    def seen(self) -> bool:
        """Whether the printed number differs: a change under the last printed fraction misleads nobody."""
        return self.old is None or self.new is None or self.old.printed != self.new.printed


@dataclass(frozen=True, slots=True)
class PartChange:
    """A line of the cut list that came, went, or reads otherwise."""

    kind: PartChangeKind
    mark: str
    part: str
    old: str
    new: str


@dataclass(frozen=True, slots=True)
class WorkChange:
    """An operation that came to a part, left it, or is another one though no located number says so.

    ``old`` and ``new`` are its instruction as printed, empty where it is not there.
    """

    kind: Literal["added", "removed", "changed"]
    mark: str
    part: str
    work: str
    old: str
    new: str


@dataclass(frozen=True, slots=True)
class AssemblyChange:
    """An assembly that came, went, is built another number of times, or is of other pieces."""

    kind: Literal["added", "removed", "count", "pieces"]
    title: str
    old: str  # how often it is built; for pieces, what goes into one
    new: str


@dataclass(frozen=True, slots=True)
class HardwareChange:
    """A line of the hardware bill with another count or size; a count of 0 is a line that is not there."""

    title: str
    old_size: str
    new_size: str
    old_count: int
    new_count: int


@dataclass(frozen=True, slots=True)
class JointChange:
    """A joint that came, went, or is of another kind; an empty kind is a joint that is not there."""

    name: str
    old: str
    new: str


@dataclass(frozen=True, slots=True)
class StepChange:
    """A step that reads otherwise; a number of 0 is a step that is not there."""

    kind: StepChangeKind
    old_number: int
    new_number: int
    title: str
    why: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class PageChange:
    """A page that shows something else; an empty label is a page that is not there."""

    kind: PageChangeKind
    old_label: str
    new_label: str
    chapter: str


@dataclass(frozen=True, slots=True)
class TotalChange:
    """A total that is another one now."""

    name: str
    old: str
    new: str


@dataclass(frozen=True, slots=True)
class Comparison:
    """Two builds side by side. Where they cannot be compared ``comparable`` is false and ``reason`` says why.

    ``pages_compared`` is false when the two were set for another paper, edition or unit system: page
    against page would mean nothing, the sizes are compared all the same.
    """

    comparable: bool = True
    reason: str = ""
    old_revision: str = ""
    new_revision: str = ""
    sizes: tuple[SizeChange, ...] = ()
    parts: tuple[PartChange, ...] = ()
    work: tuple[WorkChange, ...] = ()
    hardware: tuple[HardwareChange, ...] = ()
    joints: tuple[JointChange, ...] = ()
    assemblies: tuple[AssemblyChange, ...] = ()
    steps: tuple[StepChange, ...] = ()
    pages: tuple[PageChange, ...] = ()
    totals: tuple[TotalChange, ...] = ()
    pages_compared: bool = True
    acts: tuple[str, ...] = ()  # who must act, one sentence each

    @property
    def changed(self) -> bool:
        """Whether anything differs."""
        return bool(
            self.sizes
            or self.parts
            or self.work
            or self.hardware
            or self.joints
            or self.assemblies
            or self.steps
            or self.pages
            or self.totals
        )

"""The records of a step. Every part and piece of hardware is used in exactly as many as the bill says."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from plangen.findings import Place
from plangen.joinery.space import Side
from plangen.units import Length, Phrase

StepKind = Literal[
    "mill", "cut", "work", "measure", "dry fit", "glue", "fasten", "fit", "finish", "hang", "other"
]


@dataclass(frozen=True, slots=True)
class StepPicture:
    """What a step's picture shows.

    ``pieces``: copies lying apart, worked on (``new`` is tinted). ``assembly``: copies where they
    belong, ``new`` ones tinted and drawn out along ``offsets`` (copy -> side it comes from), the
    rest as context. Assemblies that come together have offsets for their copies in ``context`` too.
    ``hardware`` names joints and fits whose pieces are shown going in. ``sides`` names for a piece
    the side that has to be seen. Where an assembly is built, its first copy alone is shown.
    """

    kind: Literal["pieces", "assembly", "none"]
    new: tuple[str, ...] = ()
    context: tuple[str, ...] = ()
    offsets: Mapping[str, Side] | tuple[tuple[str, Side], ...] = ()
    hardware: tuple[str, ...] = ()
    sides: tuple[tuple[str, Side], ...] = ()


@dataclass(frozen=True, slots=True)
class PartUse:
    """So many pieces of a part in a step; where the step cuts it, ``size`` is T × W × L as finished."""

    part: str  # key
    number: int
    size: Phrase | None = None


@dataclass(frozen=True, slots=True)
class HardwareCount:
    """So many pieces of a hardware item in a step."""

    item: str
    number: int


@dataclass(frozen=True, slots=True)
class Step:
    """One step. Texts are Markdown in which every reference to a size is still ``<name>``.

    ``made`` are the parts that this step cuts to size; ``placed`` the copies that it puts in
    place; ``worked`` the (part key, operation indices) that it works.
    """

    number: int
    kind: StepKind
    title: str
    say: str
    checks: tuple[str, ...]
    cautions: tuple[str, ...]  # keys into the handbook's safety texts, most severe first
    parts: tuple[PartUse, ...]
    hardware: tuple[HardwareCount, ...]
    tools: tuple[str, ...]  # Markdown, with <references>
    made: tuple[str, ...]
    worked: tuple[tuple[str, tuple[int, ...]], ...]
    placed: tuple[str, ...]
    measured: tuple[str, ...]  # parts whose from-work size this step reads from the work
    joints: tuple[str, ...]  # closed in this step
    picture: StepPicture
    drafted: bool
    place: Place | None
    fits: tuple[str, ...] = ()  # whose hardware goes on in this step
    assembly: str | None = None  # the key of the assembly that is built in it, all its copies alike
    brought: tuple[str, ...] = ()  # placed assemblies that it handles as one thing each
    planed: tuple[tuple[str, Length], ...] = ()  # parts whose wood it planes, and how thick that then is
    lifts: tuple[str, ...] = ()  # copies of the heaviest thing that it lifts; none where one person can


@dataclass(frozen=True, slots=True)
class OrderOfWork:
    """All steps, numbered from 1."""

    steps: tuple[Step, ...]

    def making(self, part: str) -> tuple[int, ...]:
        """Give the numbers of the steps that make or work a part."""
        return tuple(
            step.number
            for step in self.steps
            if part in step.made or part in step.measured or any(key == part for key, _ in step.worked)
        )

    def using(self, part: str, copies: tuple[str, ...]) -> tuple[int, ...]:
        """Give the numbers of the steps that put copies of a part in place."""
        return tuple(step.number for step in self.steps if any(copy in step.placed for copy in copies))

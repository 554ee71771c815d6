"""A step before it is worded: what it covers, and what the maker already said of it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import TypeVar

from plangen.findings import Place
from plangen.sequence.model import StepKind

Item = TypeVar("Item")


@dataclass(frozen=True, slots=True)
class Plan:
    """One step to be.

    The first ten fields are its coverage: ``milled``, ``panels`` (glued up from boards), ``made``
    (cut to size) and ``measured`` are part keys; ``worked`` pairs a part key with the index of one
    operation; ``placed`` are copies that no joint brings in and ``brought`` placed assemblies that none
    does; ``dry`` and ``joints`` are joints tried and closed; ``fits`` are fits; ``finish`` is the finishing
    of the whole. The rest is the maker's: None or empty where the tool is to say it.
    """

    kind: StepKind
    milled: tuple[str, ...] = ()
    panels: tuple[str, ...] = ()
    made: tuple[str, ...] = ()
    measured: tuple[str, ...] = ()
    worked: tuple[tuple[str, int], ...] = ()
    placed: tuple[str, ...] = ()
    brought: tuple[str, ...] = ()
    dry: tuple[str, ...] = ()
    joints: tuple[str, ...] = ()
    fits: tuple[str, ...] = ()
    finish: bool = False
    title: str | None = None
    say: str | None = None
    say_before: tuple[str, ...] = ()
    say_after: tuple[str, ...] = ()
    checks: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    tools: tuple[str, ...] = ()
    show: tuple[str, ...] = ()  # copies
    drafted: bool = True
    place: Place | None = None

    @property
    def covers_anything(self) -> bool:
        """Whether there is any work in it."""
        return self.finish or any((
            self.milled, self.panels, self.made, self.measured, self.worked, self.placed, self.brought,
            self.dry, self.joints, self.fits,
        ))  # fmt: skip

    def without(self, others: Iterable[Plan]) -> Plan:
        """Give the plan less everything that the others already cover."""
        left = self
        for other in others:
            left = replace(
                left,
                milled=_less(left.milled, other.milled),
                panels=_less(left.panels, other.panels),
                made=_less(left.made, other.made),
                measured=_less(left.measured, other.measured),
                worked=_less(left.worked, other.worked),
                placed=_less(left.placed, other.placed),
                brought=_less(left.brought, other.brought),
                dry=_less(left.dry, other.dry),
                joints=_less(left.joints, other.joints),
                fits=_less(left.fits, other.fits),
                finish=left.finish and not other.finish,
            )
        return left

    def with_coverage_of(self, other: Plan) -> Plan:
        """Give the plan with the work of another in place of its own."""
        return replace(
            self, kind=other.kind, milled=other.milled, panels=other.panels, made=other.made,
            measured=other.measured, worked=other.worked, placed=other.placed, brought=other.brought,
            dry=other.dry, joints=other.joints, fits=other.fits, finish=other.finish,
        )  # fmt: skip


def _less(mine: tuple[Item, ...], theirs: tuple[Item, ...]) -> tuple[Item, ...]:
    return tuple(item for item in mine if item not in theirs)

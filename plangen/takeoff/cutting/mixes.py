"""Which panels to take: numbers of each kind that might do, by what everything needs and each kind has."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import TypeAlias

from plangen.takeoff.cutting.model import Panel

Mix: TypeAlias = tuple[int, ...]
_MOST = 20_000  # mixes looked at; beyond that only coarser answers are given


@dataclass(frozen=True, slots=True)
class Need:
    """In some measure all pieces together have ``need``, and a panel of each kind holds at most ``have``."""

    need: int
    have: tuple[int, ...]

    @property
    def number(self) -> int:
        """How many of the most capacious panels it takes at least."""
        return -(-self.need // max(self.have)) if self.need > 0 and max(self.have) > 0 else 0


def cost_of(mix: Mix, panels: Sequence[Panel]) -> Fraction:
    """Give what the panels of a mix cost."""
    return sum((panel.cost * count for panel, count in zip(panels, mix, strict=True)), Fraction(0))


def cheapest(panels: Sequence[Panel], needs: Sequence[Need], below: Fraction) -> Fraction:
    """Give a cost that no mix can be under that meets all needs; ``below`` where none is cheaper than that.

    Exact while there are few mixes; else every need for itself, in parts of panels.
    """
    best = below
    if _many(panels, below):
        coarse = max((_in_parts(panels, need) for need in needs), default=Fraction(0))
        return min(coarse, below)
    for mix in _all(panels, needs, below):
        best = min(best, cost_of(mix, panels))
    return best


def hopeful(
    panels: Sequence[Panel], needs: Sequence[Need], below: Fraction, near: Mix, most: int
) -> list[Mix]:
    """Give mixes that cost less and meet all needs, those with most to spare first.

    Where there are too many to look at, only those that differ from ``near`` by one panel.
    """
    found = (
        [mix for mix in _neighbours(panels, near) if cost_of(mix, panels) < below and _meets(mix, needs)]
        if _many(panels, below)
        else list(_all(panels, needs, below))
    )
    # More of the same is only dearer, and as easily filled: leave out what another mix holds within it.
    found.sort(key=lambda mix: (-_spare(mix, needs), cost_of(mix, panels), mix))
    return found[:most]


def _limits(panels: Sequence[Panel], below: Fraction) -> list[int]:
    """Give how many of each kind a cheaper mix can have at most."""
    limits = []
    for panel in panels:
        most = panel.available
        if panel.cost > 0:
            paid = -(-below // panel.cost)
            most = paid if most is None else min(most, paid)
        limits.append(0 if most is None else most)
    return limits


def _many(panels: Sequence[Panel], below: Fraction) -> bool:
    number = 1
    for limit, panel in zip(_limits(panels, below), panels, strict=True):
        if panel.cost > 0:
            number *= limit + 1
    return number > _MOST


def _all(panels: Sequence[Panel], needs: Sequence[Need], below: Fraction) -> Iterator[Mix]:
    """Give all cheaper mixes that meet the needs; of what costs nothing all there is."""
    limits = _limits(panels, below)

    def choose(kind: int, mix: list[int], cost: Fraction) -> Iterator[Mix]:
        if kind == len(panels):
            if _meets(mix, needs):
                yield tuple(mix)
            return
        panel = panels[kind]
        for count in range(limits[kind] + 1) if panel.cost > 0 else (limits[kind],):
            paid = cost + panel.cost * count
            if paid >= below:
                break
            yield from choose(kind + 1, [*mix, count], paid)

    return choose(0, [], Fraction(0))


def _meets(mix: Sequence[int], needs: Sequence[Need]) -> bool:
    return all(
        sum(have * count for have, count in zip(need.have, mix, strict=True)) >= need.need for need in needs
    )


def _spare(mix: Mix, needs: Sequence[Need]) -> Fraction:
    """Give how much more a mix has than the need that presses hardest, as a ratio."""
    return min(
        (
            Fraction(sum(have * count for have, count in zip(need.have, mix, strict=True)), need.need)
            for need in needs
            if need.need > 0
        ),
        default=Fraction(1),
    )


def _neighbours(panels: Sequence[Panel], near: Mix) -> list[Mix]:
    """Give the mixes with one panel less, or with one exchanged for another kind."""
    found = []
    for kind, count in enumerate(near):
        if not count:
            continue
        less = (*near[:kind], count - 1, *near[kind + 1 :])
        found.append(less)
        for other, panel in enumerate(panels):
            if other != kind and (panel.available is None or less[other] < panel.available):
                found.append((*less[:other], less[other] + 1, *less[other + 1 :]))
    return found


def _in_parts(panels: Sequence[Panel], need: Need) -> Fraction:
    """Meet one need by the cheapest panels, as if parts of them could be bought."""
    left, cost = need.need, Fraction(0)
    kinds = sorted(
        (panel.cost / have, kind)
        for kind, (panel, have) in enumerate(zip(panels, need.have, strict=True))
        if have > 0
    )
    for rate, kind in kinds:
        available = panels[kind].available
        taken = left if available is None else min(left, available * need.have[kind])
        cost += rate * taken
        left -= taken
        if left <= 0:
            break
    return cost

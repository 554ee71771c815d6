"""Make a plan pleasant at the same cost: fewer settings of fence and stop, larger off-cuts."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import TypeAlias

from plangen.takeoff.cutting.model import Aim, Direction, Layout, Sawing
from plangen.takeoff.cutting.opening import Opening
from plangen.takeoff.cutting.packing import Saw
from plangen.takeoff.cutting.recreate import Work, lay, units_on
from plangen.takeoff.cutting.sawing import saw_up
from plangen.takeoff.cutting.tree import Chance, Sheet, Taste, filled

Setting: TypeAlias = tuple[Direction, int]
Score: TypeAlias = tuple[Fraction | int, ...]

_RIVALS = 40  # other first plans that may be better where stock does not count first
_TASTES = tuple(
    Taste(band, grown, loose, 24) for band in (0, 1, 3) for grown in (1, 4) for loose in (False, True)
)


@dataclass(frozen=True, slots=True)
class _Sawn:
    """A sheet with what sawing it up gives."""

    sheet: Sheet
    layout: Layout
    settings: frozenset[Setting]
    largest: int

    @property
    def cost(self) -> Fraction:
        """What the sheet costs."""
        return self.layout.panel.cost


def tidied(
    work: Work, best: Opening, rivals: Sequence[Opening], sawing: Sawing, effort: int
) -> tuple[Layout, ...]:
    """Saw up the best plan and better it in the order in which the maker prefers; cost never grows for it.

    Where stock does not come first, other first plans are compared as well.
    """
    plan = [_sawn(work, sheet, sawing) for sheet in best.sheets]
    if sawing.prefer[:1] != ("stock",):
        for rival in rivals[:_RIVALS]:
            other = [_sawn(work, sheet, sawing) for sheet in rival.sheets]
            if _score(other, sawing.prefer) < _score(plan, sawing.prefer):
                plan = other
    plan = _bettered(work, plan, sawing, effort)
    return tuple(one.layout for one in plan)


def _sawn(work: Work, sheet: Sheet, sawing: Sawing) -> _Sawn:
    saw = Saw(sawing.kerf, sawing.margins, sheet.ground.way, sawing.bench, sawing.guide)
    layout = saw_up(filled(sheet, work.pieces), saw, sawing.first is not None)
    settings = frozenset((cut.along, cut.at) for cut in layout.cuts)
    largest = max((rest.length * rest.width for rest in layout.rests), default=0)
    return _Sawn(sheet, layout, settings, largest)


def _score(plan: Sequence[_Sawn], prefer: Sequence[Aim]) -> Score:
    """Give what is to be small, the most important first; what ``prefer`` leaves out comes last."""
    settings: set[Setting] = set()
    for one in plan:
        settings |= one.settings
    measures: dict[Aim, tuple[Fraction | int, ...]] = {
        "stock": (sum((one.cost for one in plan), Fraction(0)), len(plan)),
        "settings": (len(settings), sum(len(one.layout.cuts) for one in plan)),
        "off-cut": (-max((one.largest for one in plan), default=0),),
    }
    order = [*prefer, *(aim for aim in measures if aim not in prefer)]
    # The number of cuts breaks ties only when all that was asked for is equal.
    return (*(measures[aim][0] for aim in order), measures["stock"][1], measures["settings"][1])


def _bettered(work: Work, plan: list[_Sawn], sawing: Sawing, effort: int) -> list[_Sawn]:
    """Lay one or two sheets anew, again and again, and keep what is no worse."""
    chance = Chance(7)
    score = _score(plan, sawing.prefer)
    while effort > 0:
        number = min(1 + chance.below(2), len(plan))
        picked: list[int] = []
        while len(picked) < number:
            index = chance.below(len(plan))
            if index not in picked:
                picked.append(index)
        units = [unit for index in picked for unit in units_on(work, plan[index].sheet)]
        effort -= len(units) * number * 4 + 1  # sawing up takes its time as well
        fresh = _laid(work, [plan[index].sheet for index in picked], units, chance)
        if fresh is None:
            continue
        trial = list(plan)
        for index, sheet in zip(picked, fresh, strict=True):
            trial[index] = _sawn(work, sheet, sawing)
        trial = [one for one in trial if one.sheet.bands]
        reached = _score(trial, sawing.prefer)
        if reached <= score:
            plan, score = trial, reached
    return plan


def _laid(work: Work, sheets: Sequence[Sheet], units: list[int], chance: Chance) -> list[Sheet] | None:
    fresh = []
    for sheet in sheets:
        ways = work.grounds[sheet.ground.kind]
        fresh.append(Sheet(ways[chance.below(len(ways))]))
    rank = work.ranks[chance.below(len(work.ranks))]
    taste = _TASTES[chance.below(len(_TASTES))]
    units.sort(key=lambda unit: rank[unit] + chance.below(9))
    return fresh if all(lay(work, unit, fresh, taste, chance) for unit in units) else None

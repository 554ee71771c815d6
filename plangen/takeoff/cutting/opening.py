"""First plans: every piece laid in turn, and a sheet taken from the pile when none has room."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from plangen.takeoff.cutting.recreate import Work, lay
from plangen.takeoff.cutting.tree import Chance, Sheet, Taste

_MANY, _VERY_MANY = 400, 2000  # units beyond which only a few first plans are made, or two
_OPEN = 16  # sheets that a piece is weighed against where there are many
_TASTES = tuple(Taste(band, grown, loose) for band in (1, 4) for grown in (1,) for loose in (True, False))
# A band of its own rather than any waste: equal widths come to stand together.
_STRICT = Taste(0, 4, loose=False)


@dataclass(frozen=True, slots=True)
class Opening:
    """Sheets with pieces on them, and the units that found no place."""

    sheets: tuple[Sheet, ...]
    left: tuple[int, ...]

    @property
    def cost(self) -> Fraction:
        """What the sheets cost."""
        return sum((sheet.ground.panel.cost for sheet in self.sheets), Fraction(0))


def openings(work: Work) -> Iterator[Opening]:
    """Give first plans by several orders, tastes, first directions and favourite panels; one at least."""
    few = len(work.wanted) <= _MANY
    ranks = work.ranks if few else work.ranks[: 2 if len(work.wanted) <= _VERY_MANY else 1]
    for favourite in range(len(work.panels)):
        if not work.grounds[favourite]:
            continue
        for way in range(2):
            if way and all(len(ways) < 2 for ways in work.grounds):
                continue
            for rank in ranks:
                order = sorted(work.wanted, key=rank.__getitem__)
                for taste in (*_TASTES, _STRICT) if few else _TASTES[:1]:
                    yield _opening(work, order, favourite, way, taste)


def _opening(work: Work, order: Sequence[int], favourite: int, way: int, taste: Taste) -> Opening:
    stock: list[int | None] = [panel.available for panel in work.panels]
    sheets: list[Sheet] = []
    for kind, panel in enumerate(work.panels):
        count = stock[kind]
        if panel.cost == 0 and count is not None and work.grounds[kind]:  # what costs nothing is used first
            sheets.extend(_fresh(work, kind, way) for _ in range(min(count, len(work.wanted))))
            stock[kind] = 0
    return laid_out(work, order, sheets, stock, favourite, way, taste)


def laid_out(
    work: Work,
    order: Sequence[int],
    sheets: Sequence[Sheet],
    stock: list[int | None],
    favourite: int,
    way: int,
    taste: Taste,
) -> Opening:
    """Lay units in an order on sheets, and take more from the stock as they are needed.

    ``stock`` is how many panels there still are of each kind, and is counted down. Where many sheets are
    begun, a unit is weighed against the emptiest only.
    """
    chance = Chance(1)
    done: list[Sheet] = []
    near = list(sheets)
    left: list[int] = []
    for unit in order:
        if len(near) > _OPEN * 2:
            near.sort(key=_share_used)
            done.extend(near[_OPEN:])
            del near[_OPEN:]
        if lay(work, unit, near, taste, chance):
            continue
        for kind in _choices(work, stock, favourite):
            sheet = _fresh(work, kind, way)
            if lay(work, unit, (sheet,), taste, chance):
                near.append(sheet)
                count = stock[kind]
                stock[kind] = None if count is None else count - 1
                break
        else:
            left.append(unit)
    return Opening(tuple(sheet for sheet in (*done, *near) if sheet.bands), tuple(left))


def _share_used(sheet: Sheet) -> Fraction:
    """Give how much of a sheet's room its pieces take."""
    used = sum(pose[0] * pose[1] for band in sheet.bands for cell in band.cells for _, pose in cell.laid)
    return Fraction(used, sheet.ground.first * sheet.ground.other)


def _fresh(work: Work, kind: int, way: int) -> Sheet:
    ways = work.grounds[kind]
    return Sheet(ways[min(way, len(ways) - 1)])


def _choices(work: Work, stock: Sequence[int | None], favourite: int) -> list[int]:
    """Give the kinds of panel of which there are some: the favourite, then the cheapest."""
    there = [kind for kind in range(len(stock)) if stock[kind] != 0 and work.grounds[kind]]
    return sorted(there, key=lambda kind: (kind != favourite, work.panels[kind].cost, kind))

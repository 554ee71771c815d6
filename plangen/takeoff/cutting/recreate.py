"""Fill sheets, and fill them better: take a part of what lies there off again and lay it anew.

The scheme is ruin and recreate (G. Schrimpf, J. Schneider, H. Stamm-Wilbrandt and G. Dueck, "Record
breaking optimization results using the ruin and recreate principle", Journal of Computational Physics
159, 2000): given sheets shall take all pieces; what finds no place is the measure. A change is kept
unless it is worse than what stood some changes ago (late acceptance). Work is counted, never timed.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from plangen.takeoff.cutting.model import Panel, Piece, Sawing
from plangen.takeoff.cutting.tree import Cell, Chance, Ground, Sheet, Taste, grounds, place

_LATE = 40  # changes that a new state is compared back over
_SKIPS = 32  # one place in so many is passed over, so that not the same is built again
_JITTER = 24  # how far from its rank a piece may be laid, in quarters of a rank
_TASTES = tuple(
    Taste(band, grown, loose, _SKIPS) for band in (1, 2, 3, 4) for grown in (0, 1, 2) for loose in (True,)
)


@dataclass(frozen=True, slots=True)
class Work:
    """What shall be cut, prepared: pieces by their number, and units that must stay on one sheet.

    Unit ``i`` below the number of pieces is piece ``i`` alone; the others are the pieces that belong
    together. ``wanted`` lists a unit as often as it is wanted.
    """

    pieces: tuple[Piece, ...]
    panels: tuple[Panel, ...]
    units: tuple[tuple[int, ...], ...]
    group: tuple[int | None, ...]
    areas: tuple[int, ...]
    wanted: tuple[int, ...]
    grounds: tuple[tuple[Ground, ...], ...]
    ranks: tuple[tuple[int, ...], ...]

    @property
    def grouped(self) -> bool:
        """Whether any pieces belong together."""
        return len(self.units) > len(self.pieces)


def prepare(pieces: Sequence[Piece], panels: Sequence[Panel], sawing: Sawing) -> Work:
    """Number the pieces, join what belongs together, and rank all by size in several ways."""
    kerf = sawing.kerf
    units: list[tuple[int, ...]] = [(number,) for number in range(len(pieces))]
    together: dict[str, list[int]] = {}
    for number, piece in enumerate(pieces):
        if piece.together:
            together.setdefault(piece.together, []).extend([number] * piece.number)
    group: list[int | None] = [None] * len(pieces)
    wanted: list[int] = []
    for number, piece in enumerate(pieces):
        if not piece.together:
            wanted.extend([number] * piece.number)
    for members in together.values():
        if members:
            ordered = sorted(members, key=lambda number: (-_area(pieces[number], kerf), number))
            for number in members:
                group[number] = len(units)
            wanted.append(len(units))
            units.append(tuple(ordered))
    areas = tuple(sum(_area(pieces[number], kerf) for number in unit) for unit in units)
    sides = [(pieces[unit[0]].length, pieces[unit[0]].width) for unit in units]
    numbers = range(len(units))
    keys: list[list[tuple[int, ...]]] = [
        [(-areas[unit], -sides[unit][0]) for unit in numbers],
        [(-sides[unit][0], -sides[unit][1]) for unit in numbers],
        [(-sides[unit][1], -sides[unit][0]) for unit in numbers],
        [(-max(sides[unit]), -min(sides[unit])) for unit in numbers],
    ]
    ranks = []
    for key in keys:
        # What belongs together wants the emptiest sheets, so it comes first.
        order = sorted((unit < len(pieces), key[unit], unit) for unit in numbers)
        rank = [0] * len(units)
        for at, (_, _, unit) in enumerate(order):
            rank[unit] = at * 4
        ranks.append(tuple(rank))
    return Work(
        tuple(pieces),
        tuple(panels),
        tuple(units),
        tuple(group),
        areas,
        tuple(wanted),
        tuple(tuple(ways) for ways in grounds(pieces, panels, sawing)),
        tuple(ranks),
    )


def _area(piece: Piece, kerf: int) -> int:
    return (piece.length + kerf) * (piece.narrowest + kerf)


def lay(work: Work, unit: int, sheets: Sequence[Sheet], taste: Taste, chance: Chance) -> bool:
    """Put a unit on one of the sheets; say whether one had room for all of it."""
    members = work.units[unit]
    if len(members) == 1:
        return place(members[0], sheets, taste, chance)
    for sheet in sheets:
        trial = sheet.copy()
        if all(place(number, (trial,), taste, chance) for number in members):
            sheet.used, sheet.bands = trial.used, trial.bands
            return True
    return False


def units_on(work: Work, sheet: Sheet) -> list[int]:
    """Give the units that lie on a sheet."""
    if not work.grouped:
        return sheet.numbers()
    units: list[int] = []
    for number in sheet.numbers():
        unit = work.group[number]
        if unit is None:
            units.append(number)
        elif unit not in units:
            units.append(unit)
    return units


class Filling:
    """Given sheets that are to take all pieces, changed step by step until they do.

    ``left`` is what lies on none of them.
    """

    def __init__(self, work: Work, sheets: Sequence[Sheet], left: Sequence[int], seed: int) -> None:
        self.work = work
        self.sheets = list(sheets)
        self.left = list(left)
        self._chance = Chance(seed)
        self._missing = sum(work.areas[unit] for unit in left)
        self._before = [self._missing] * _LATE
        self._step = 0

    def improve(self, effort: int) -> int:
        """Change until nothing is left over or the effort is spent; give what was spent.

        One unit of effort weighs one piece against one band or one empty sheet.
        """
        work, chance, areas = self.work, self._chance, self.work.areas
        spent = 0
        while self.left and spent < effort and self.sheets:
            picked = self._pick()
            loose = list(self.left)
            fresh = [self._ruined(self.sheets[index], chance.below(4), loose) for index in picked]
            rank = work.ranks[chance.below(len(work.ranks))]
            loose.sort(key=lambda unit: rank[unit] + chance.below(_JITTER))
            taste = _TASTES[chance.below(len(_TASTES))]
            spent += len(loose) * (len(fresh) + sum([len(sheet.bands) for sheet in fresh]))
            left = [unit for unit in loose if not lay(work, unit, fresh, taste, chance)]
            missing = sum([areas[unit] for unit in left])
            self._keep(picked, fresh, left, missing)
        return spent

    def _keep(self, picked: list[int], fresh: list[Sheet], left: list[int], missing: int) -> None:
        slot = self._step % _LATE
        self._step += 1
        if missing <= self._missing or missing <= self._before[slot]:
            for index, sheet in zip(picked, fresh, strict=True):
                self.sheets[index] = sheet
            self.left, self._missing = left, missing
        self._before[slot] = min(self._before[slot], self._missing)

    def _pick(self) -> list[int]:
        """Choose one to three sheets."""
        many = len(self.sheets)
        number = min(1 + self._chance.below(3), many)
        picked: list[int] = []
        while len(picked) < number:
            index = self._chance.below(many)
            if index not in picked:
                picked.append(index)
        return picked

    def _ruined(self, sheet: Sheet, how: int, loose: list[int]) -> Sheet:
        """Give a copy with some taken off, which joins ``loose``: all, whole bands, some cells or most."""
        chance = self._chance
        kept = Sheet(sheet.ground)
        off: list[int] = []
        if how == 0:
            off = sheet.numbers()
        elif how == 1:
            for band in sheet.bands:
                if chance.below(2):
                    off.extend([number for cell in band.cells for number, _ in cell.laid])
                else:
                    kept.add([cell.copy() for cell in band.cells])
        else:
            share = 3 if how == 2 else 6
            for band in sheet.bands:
                cells = []
                for cell in band.cells:
                    if chance.below(10) < share:
                        off.extend([number for number, _ in cell.laid])
                    else:
                        cells.append(cell.copy())
                if cells:
                    kept.add(cells)
        if self.work.grouped:
            kept, off = _kept_together(self.work, kept, off)
        loose.extend(off)
        if not kept.bands:
            ways = self.work.grounds[sheet.ground.kind]
            kept = Sheet(ways[chance.below(len(ways))])
        return kept


def _kept_together(work: Work, kept: Sheet, off: Sequence[int]) -> tuple[Sheet, list[int]]:
    """Take off the rest of what belongs to a piece that was taken off; give units for numbers."""
    groups = {unit for number in off if (unit := work.group[number]) is not None}
    units = [number for number in off if work.group[number] is None] + sorted(groups)
    return (without(work, kept, Counter(groups)) if groups else kept), units


def without(work: Work, sheet: Sheet, surplus: Counter[int]) -> Sheet:
    """Give a copy with some units taken off, each as often as ``surplus`` says; a group goes off whole."""
    left = Counter(surplus)
    bare = Sheet(sheet.ground)
    for band in sheet.bands:
        cells = []
        for cell in band.cells:
            laid = []
            for number, pose in cell.laid:
                unit = work.group[number]
                if unit is not None and left[unit]:
                    continue
                if unit is None and left[number]:
                    left[number] -= 1
                    continue
                laid.append((number, pose))
            if laid:
                used, other = sum(pose[0] for _, pose in laid), max(pose[1] for _, pose in laid)
                cells.append(Cell(other, used, laid))
        if cells:
            bare.add(cells)
    return bare

"""Better plans for boards, by choosing among ways to fill one board, and what no plan can cost less than."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from math import gcd, lcm

from plangen.takeoff.cutting.boards_fill import (
    MOST_ACROSS,
    MOST_ALONG,
    Scale,
    Shape,
    Table,
    most_by_area,
    scale,
    shared,
)
from plangen.takeoff.cutting.columns import Column, Master, Prices, Task, choose, floor
from plangen.takeoff.cutting.mixes import Need, cheapest
from plangen.takeoff.cutting.opening import Opening
from plangen.takeoff.cutting.recreate import Work, lay, units_on
from plangen.takeoff.cutting.sheets import cheaper
from plangen.takeoff.cutting.tree import Cell, Chance, Sheet, Taste

_MOST_UNITS = 150  # kinds of piece for which prices are still worked out
_MOST_COSTS = 4_000_000  # costs up to so many units are told apart
_BOUNDING = 60  # times that prices are worked out for the bound, for 100 of effort
_FILLING = 40  # and for ways to fill a board
_PROGRAM = 1500  # ways among which the last choice is made
_NODES = 400
_NEEDS = 24  # that numbers of boards are held against: those that press hardest
_MIXING = 1_500  # weighings of a piece against a board for each unit of effort
_TASTES = tuple(Taste(band, grown, loose) for band in (1, 4) for grown in (0, 1) for loose in (True, False))


@dataclass(frozen=True, slots=True)
class Solved:
    """The boards with their pieces, and the cost that none can be under."""

    sheets: tuple[Sheet, ...]
    floor: Fraction


@dataclass(slots=True)
class _Width:
    """Boards of one usable width, and how the pieces lie on them."""

    kinds: list[int]
    across: int
    shapes: list[Shape]
    scales: tuple[Scale, Scale]


@dataclass(slots=True)
class _Yard:
    """What is wanted and sold, in whole numbers; ``unit`` is what one unit of cost is."""

    work: Work
    task: Task
    unit: Fraction
    widths: list[_Width]
    rooms: list[int]
    best: list[Sheet]
    floor: int
    pool: dict[Column, Sheet] = field(default_factory=dict)
    needs: list[Need] = field(default_factory=list)

    @property
    def cost(self) -> int:
        return sum(self.task.costs[sheet.ground.kind] for sheet in self.best)

    @property
    def done(self) -> bool:
        return self.cost <= self.floor


def solve(
    work: Work, first: Sequence[Opening], weighed: Sequence[Need], least: Fraction, effort: int
) -> Solved:
    """Find cheaper boards than the cheapest of some plans, and prove a cost that none can be under.

    ``weighed`` and ``least`` are what is proved already. ``effort`` counts work, never time (100 is usual).
    """
    yard = _yard(work, first[0], least)
    if not yard.done and len(yard.task.wanted) <= _MOST_UNITS and any(yard.task.costs):
        for plan in first:
            for sheet in plan.sheets:
                _remember(yard, sheet)
        yard.needs = list(weighed)
        _bounded(yard, max(2, _BOUNDING * effort // 100))
        _searched(yard, effort)
        if not yard.done:
            _improved(yard, max(2, _FILLING * effort // 100))
            _searched(yard, effort)
    return Solved(tuple(yard.best), max(least, yard.floor * yard.unit))


def _yard(work: Work, best: Opening, least: Fraction) -> _Yard:
    counts = Counter(work.wanted)
    whole = lcm(*(panel.cost.denominator for panel in work.panels))
    costs = [int(panel.cost * whole) for panel in work.panels]
    part = gcd(*costs) or 1
    task = Task(
        tuple(counts[unit] for unit in range(len(work.units))),
        tuple(cost // part for cost in costs),
        tuple(panel.available for panel in work.panels),
    )
    unit = Fraction(part, whole)
    proved = least / unit
    widths, rooms = _widths(work)
    return _Yard(
        work, task, unit, widths, rooms, list(best.sheets), -(-proved.numerator // proved.denominator)
    )


def _widths(work: Work) -> tuple[list[_Width], list[int]]:
    """Group the boards by their usable width; give the room along each board as well."""
    grouped: dict[int, list[int]] = {}
    rooms = []
    for kind, ways in enumerate(work.grounds):
        along = across = 0
        if ways:
            ground = ways[0]
            along, across = (
                (ground.first, ground.other) if ground.way == "x" else (ground.other, ground.first)
            )
            grouped.setdefault(across, []).append(kind)
        rooms.append(along)
    widths = []
    for across, kinds in sorted(grouped.items()):
        longest = max(rooms[kind] for kind in kinds)
        shapes = [_shape(work, kinds, number) for number in range(len(work.pieces))]
        sizes = [shape for shape in shapes if shape.number]
        if sizes:
            along_scale = scale([one.along for one in sizes], longest, MOST_ALONG)
            across_scale = scale([one.across for one in sizes], across, MOST_ACROSS)
            widths.append(_Width(kinds, across, shapes, (along_scale, across_scale)))
    return widths, rooms


def _shape(work: Work, kinds: Sequence[int], number: int) -> Shape:
    """Give a piece as it lies on boards of one width; wanted no times where it fits on none of them."""
    for kind in kinds:
        for ground in work.grounds[kind]:
            for first, other, _ in ground.poses[number]:
                along, across = (first, other) if ground.way == "x" else (other, first)
                return Shape(along, across, work.pieces[number].number)
    return Shape(1, 1, 0)


def _remember(yard: _Yard, sheet: Sheet) -> bool:
    """Keep a way to fill a board; say whether it is new."""
    units = units_on(yard.work, sheet)
    column = Column(sheet.ground.kind, tuple(sorted(Counter(units).items())))
    if not units or column in yard.pool:
        return False
    yard.pool[column] = sheet
    return True


def _by_piece(yard: _Yard, prices: Prices) -> list[int]:
    """Give what each piece is worth; what belongs together shares its worth by area."""
    work, worth = yard.work, [0] * len(yard.work.pieces)
    for unit, price in enumerate(prices.items):
        members = Counter(work.units[unit])
        if unit < len(work.pieces):
            if yard.task.wanted[unit]:
                worth[unit] = price
            continue
        areas = {number: work.areas[number] * count for number, count in members.items()}
        for number, share in shared(price, areas).items():
            worth[number] = -(-share // members[number])
    return worth


def _tables(yard: _Yard, prices: Prices) -> list[tuple[_Width, Table]]:
    worth = _by_piece(yard, prices)
    return [(width, Table(width.shapes, worth, *width.scales)) for width in yard.widths]


def _prove(yard: _Yard, prices: Prices, tables: Sequence[tuple[_Width, Table]]) -> list[int]:
    """Raise the floor by what prices prove; give what each kind of board gives at most."""
    most = [0] * len(yard.task.costs)
    for width, table in tables:
        for kind in width.kinds:
            room = (yard.rooms[kind], width.across)
            by_area = most_by_area(width.shapes, table.prices, room, width.scales)
            most[kind] = min(by_area, table.most(*room))
    bound = floor(yard.task, prices, most)
    need = sum(price * number for price, number in zip(prices.items, yard.task.wanted, strict=True))
    yard.needs.append(Need(need, tuple(most)))
    yard.floor = max(yard.floor, min(yard.cost, _attained(yard, bound)))
    return most


def _attained(yard: _Yard, bound: Fraction) -> int:
    """Give the least cost, no less than a bound, that boards can add up to."""
    least, highest = -(-bound.numerator // bound.denominator), yard.cost
    if highest > _MOST_COSTS or least >= highest:
        return least
    sums, mask = 1, (1 << (highest + 1)) - 1
    for cost in sorted({cost for cost in yard.task.costs if cost}):
        step = cost
        while step <= highest:
            sums |= sums << step & mask
            step *= 2
    above = sums >> least
    return least + (above & -above).bit_length() - 1 if above else highest


def _bounded(yard: _Yard, rounds: int) -> None:
    """Work out prices over all fills until they prove no more; fills that can be cut are remembered."""
    task = yard.task
    master = Master(task, 2 * yard.cost)
    for sheet in yard.best:
        master.add(Column(sheet.ground.kind, tuple(sorted(Counter(units_on(yard.work, sheet)).items()))))
    for _ in range(rounds):
        relaxed = master.solve()
        tables = _tables(yard, relaxed.prices)
        most = _prove(yard, relaxed.prices, tables)
        if yard.done:
            return
        added = False
        for width, table in tables:
            for kind in width.kinds:
                if most[kind] <= task.costs[kind] * task.scale + relaxed.prices.kinds[kind]:
                    continue
                pieces = table.fill(yard.rooms[kind], width.across)
                gives = _units(yard, pieces)
                added = master.add(Column(kind, tuple(sorted(gives.items())))) or added
                _try(yard, kind, gives, relaxed.prices)
        if not added:
            return


def _searched(yard: _Yard, effort: int) -> None:
    """Look among the numbers of boards that all prices allow: none cheaper proves, some are tried to fill.

    At any prices all that is wanted is worth no more than what the boards can give together.
    """
    if yard.done:
        return
    panels, cost = yard.work.panels, yard.cost * yard.unit
    pressing = sorted(yard.needs, key=lambda need: (-_pressing(yard, need), need.have))[:_NEEDS]
    proved = cheapest(panels, pressing, cost) / yard.unit
    yard.floor = max(yard.floor, -(-proved.numerator // proved.denominator))
    if not yard.done:
        best = Opening(tuple(yard.best), ())
        found = cheaper(yard.work, best, pressing, yard.floor * yard.unit, effort * _MIXING)
        yard.best = list(found.sheets)
        for sheet in yard.best:
            _remember(yard, sheet)


def _pressing(yard: _Yard, need: Need) -> Fraction:
    """Give what it costs to meet a need in parts of boards."""
    rates = [Fraction(have, cost) for have, cost in zip(need.have, yard.task.costs, strict=True) if cost]
    return Fraction(need.need) / max(rates) if max(rates) else Fraction(0)


def _units(yard: _Yard, pieces: Counter[int]) -> Counter[int]:
    """Give units for pieces: a part of what belongs together counts as all of it."""
    found: Counter[int] = Counter()
    for number, count in pieces.items():
        group = yard.work.group[number]
        if group is None:
            found[number] += count
        else:
            found[group] = 1
    return found


def _try(yard: _Yard, kind: int, gives: Counter[int], prices: Prices) -> bool:
    """Lay a fill on a board of its kind in several ways, and what else has room; say whether any is new."""
    work, chance, new = yard.work, Chance(1), False
    wanted = {unit: min(count, yard.task.wanted[unit]) for unit, count in gives.items()}
    fill = [unit for unit, count in sorted(wanted.items()) for _ in range(count)]
    others = [
        unit
        for unit in range(len(yard.task.wanted))
        for _ in range(yard.task.wanted[unit] - wanted.get(unit, 0))
        if prices.items[unit] > 0
    ]
    others.sort(key=lambda unit: (-prices.items[unit] / work.areas[unit], unit))
    others = others[:40]
    for ground in work.grounds[kind]:
        complete = False
        for taste in _TASTES:
            for rank in work.ranks:
                sheet = Sheet(ground)
                left = 0
                for unit in sorted(fill, key=lambda unit: (rank[unit], unit)):
                    left += not lay(work, unit, (sheet,), taste, chance)
                if complete and left:
                    continue
                for unit in others:
                    lay(work, unit, (sheet,), taste, chance)
                new = _remember(yard, sheet) or new
                complete = complete or not left
            if complete:
                break
    return new


def _improved(yard: _Yard, rounds: int) -> None:
    """Work out prices over ways that can be cut, add more such ways, then choose the cheapest of them."""
    task = yard.task
    master = Master(task, 2 * yard.cost)
    known = 0
    prices: Prices | None = None
    for _ in range(rounds):
        columns = list(yard.pool)
        for column in columns[known:]:
            master.add(column)
        known = len(columns)
        relaxed = master.solve()
        prices = relaxed.prices
        tables = _tables(yard, prices)
        most = _prove(yard, prices, tables)
        if yard.done:
            return
        added = False
        for width, table in tables:
            for kind in width.kinds:
                if most[kind] > task.costs[kind] * task.scale + prices.kinds[kind]:
                    gives = _units(yard, table.fill(yard.rooms[kind], width.across))
                    added = _try(yard, kind, gives, prices) or added
                added = _try(yard, kind, Counter(), prices) or added
        if not added:
            break
    if prices is not None:
        _chosen(yard, prices)


def _chosen(yard: _Yard, prices: Prices) -> None:
    """Choose among the ways that have the least to spare at some prices."""
    task = yard.task
    columns = sorted(
        yard.pool,
        key=lambda column: (
            task.costs[column.kind] * task.scale + prices.kinds[column.kind] - prices.worth(column),
            column.kind,
            column.gives,
        ),
    )[:_PROGRAM]
    taken = choose(task, columns, yard.cost, _NODES)
    if taken is None:
        return
    left = Counter(dict(enumerate(task.wanted)))
    sheets = []
    for column, times in taken:
        for _ in range(times):
            sheet = _only(yard, yard.pool[column], left)
            if sheet.bands:
                sheets.append(sheet)
    if sum(task.costs[sheet.ground.kind] for sheet in sheets) < yard.cost and not any(left.values()):
        yard.best = sheets


def _only(yard: _Yard, sheet: Sheet, left: Counter[int]) -> Sheet:
    """Give a sheet with what is still wanted of its pieces, and count it off."""
    kept: Counter[int] = Counter()
    for unit in units_on(yard.work, sheet):
        if left[unit] > 0:
            left[unit] -= 1
            kept.update(yard.work.units[unit])
    bare = Sheet(sheet.ground)
    for band in sheet.bands:
        cells = []
        for cell in band.cells:
            laid = []
            for entry in cell.laid:
                if kept[entry[0]] > 0:
                    kept[entry[0]] -= 1
                    laid.append(entry)
            if laid:
                cells.append(Cell(max(pose[1] for _, pose in laid), sum(pose[0] for _, pose in laid), laid))
        if cells:
            bare.add(cells)
    return bare

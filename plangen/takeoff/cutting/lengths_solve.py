"""Cut lengths out of bars at the least cost, with a bound that is proved.

Quick plans; then prices by column generation and the bound that follows from them; then dives and a small
integer program over the columns found; last, where the gap is still open, every fill that a cheaper plan
could use, and a search of all choices among them (R. Baldacci, N. Christofides and A. Mingozzi, "An exact
algorithm for the vehicle routing problem based on the set partitioning formulation with additional cuts",
Mathematical Programming 115, 2008, for the way to leave out the others).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction

from plangen.takeoff.cutting.columns import Column, Master, Prices, Relaxed, Task, choose, dive, floor
from plangen.takeoff.cutting.lengths_exact import search_all
from plangen.takeoff.cutting.lengths_fill import Best, Work, best_fills, fills_worth
from plangen.takeoff.cutting.lengths_starts import (
    Attainable,
    Job,
    Taken,
    mixes_between,
    on_cheaper,
    starts,
    trimmed,
)

STANDARD = 100  # the usual effort
_WORK = 2_500_000  # units of work for each of effort
_MOST_COLUMNS = 6000  # of the search that leaves nothing out
_DIVES = 5
_STEPS = (0.0, 0.001, 0.0025, 0.005, 0.01, 0.02, 0.04)  # ceilings over the floor
_MIXES = 40  # numbers of bars that are gone through
_PROGRAM = 100  # columns of an integer program
_NODES = 50
_SIDES = 400  # lengths of which prices are still worked out


@dataclass(frozen=True, slots=True)
class Solved:
    """A plan by columns (None where none was found), and the cost that none can be under."""

    taken: Taken | None
    floor: int


@dataclass(slots=True)
class _State:
    job: Job
    work: Work
    attain: Attainable
    floor: int
    best: Taken | None = None
    prices: Prices | None = None  # those of the best bound
    bound: Fraction = field(default_factory=Fraction)

    @property
    def cost(self) -> int:
        """What the best plan costs; beyond everything that there is while there is none."""
        if self.best is None:
            return _beyond(self.job.task)
        return self.job.task.cost(self.best)

    @property
    def done(self) -> bool:
        """Whether nothing can be cheaper than the best plan."""
        return self.cost <= self.floor

    def offer(self, taken: Taken | None) -> None:
        """Keep a plan where it is better than the best."""
        if taken is None:
            return
        taken = on_cheaper(self.job, taken)
        if self.job.task.cost(taken) < self.cost:
            self.best = taken

    def prove(self, bound: Fraction, prices: Prices) -> None:
        """Raise the floor where prices prove more."""
        if bound > self.bound or self.prices is None:
            self.bound, self.prices = bound, prices
        self.floor = max(self.floor, self.attain.at_least(bound))


def solve(job: Job, effort: int = STANDARD) -> Solved:
    """Find the cheapest bars for a job; the work is bounded by ``effort``, not by the clock."""
    work = Work(effort * _WORK)
    opening = Work(work.left // 4)
    opened = list(starts(job, opening))
    work.spend(work.left // 4 - opening.left)
    attain = Attainable(job, min(map(job.task.cost, opened), default=_beyond(job.task)), work)
    state = _State(job, work, attain, attain.at_least(_plain(job)))
    for taken in opened:
        state.offer(taken)
    if not state.done and len(job.lengths) <= _SIDES:
        _by_columns(state)
    return Solved(state.best, state.floor)


def _beyond(task: Task) -> int:
    """Give a cost that no plan reaches."""
    wanted = sum(task.wanted)
    stocks = zip(task.costs, task.available, strict=True)
    return 1 + sum(cost * (wanted if stock is None else stock) for cost, stock in stocks)


def _plain(job: Job) -> Fraction:
    """Give what all lengths cost at the cheapest rate while such bars last, the last bar in part."""
    need = sum(length * number for length, number in zip(job.lengths, job.task.wanted, strict=True))
    value = Fraction(0)
    rates = sorted((Fraction(job.task.costs[kind], job.rooms[kind]), kind) for kind in job.kinds)
    for rate, kind in rates:
        stock = job.task.available[kind]
        part = need if stock is None else min(need, job.rooms[kind] * stock)
        value += part * rate
        need -= part
    return value


def _by_columns(state: _State) -> None:
    job = state.job
    master = Master(job.task, 2 * state.cost)
    for column in _seeds(state):
        master.add(column)
    _priced(state, master, bounding=True)
    if state.done or state.work.spent:
        return
    _dives(state, master, range(1))
    _program(state, master)
    if not state.done:
        _search(state)
    if not state.done and len(job.rooms) > 1:
        _by_mixes(state, master.columns)
    if not state.done:
        _dives(state, master, range(1, 1 + _DIVES))


def _program(state: _State, master: Master) -> None:
    """Choose among the columns found so far, those with the least to spare where they are too many."""
    if not state.done and not state.work.spent:
        some = _cheapest(state, master.columns)[:_PROGRAM]
        state.work.spend(len(some) * _NODES * 5000)
        state.offer(choose(state.job.task, some, state.cost, _NODES))


def _seeds(state: _State) -> list[Column]:
    """Give columns to begin with: those of the best plan, and each bar full of one length."""
    job = state.job
    found = [column for column, _ in state.best or ()]
    for kind in job.kinds:
        for item, length in enumerate(job.lengths):
            number = min(job.rooms[kind] // length, job.task.wanted[item])
            if number and job.fits[kind][item]:
                found.append(Column(kind, ((item, number),)))
    return found


def _best_at(job: Job, prices: Prices, most: Sequence[int], work: Work) -> list[Best]:
    """Give the best fill of each kind of bar; kinds that hold the same lengths share one table."""
    found: dict[int, Best] = {}
    for mask in sorted(set(job.fits)):
        kinds = [kind for kind in job.kinds if job.fits[kind] == mask]
        worth = [price if fits else 0 for price, fits in zip(prices.items, mask, strict=True)]
        rooms = [job.rooms[kind] for kind in kinds]
        found.update(zip(kinds, best_fills(job.lengths, worth, most, rooms, work), strict=True))
    return [found[kind] for kind in job.kinds]


def _priced(state: _State, master: Master, bounding: bool) -> Relaxed:
    """Add columns until none is worth more than it costs, or the bound is met, or the work is done."""
    job = state.job
    scale = job.task.scale
    close = scale * max(1, *job.task.costs) >> 22
    while True:
        relaxed = master.solve()
        state.work.spend(100_000 + 100 * len(master.columns))
        prices = relaxed.prices
        fills = _best_at(job, prices, master.task.wanted, state.work)
        if bounding:
            state.prove(floor(job.task, prices, [best.most for best in fills]), prices)
            met = not relaxed.short and state.attain.at_least(Fraction(relaxed.cost - 1e-6)) <= state.floor
            if state.done or met:
                return relaxed
        added = False
        for kind, best in enumerate(fills):
            costs = job.task.costs[kind] * scale + prices.kinds[kind]
            if best.worth > costs + close and master.task.available[kind] != 0:
                added = master.add(Column(kind, best.fill)) or added
        if not added:
            return relaxed
        if state.work.spent:
            return master.solve()


def _dives(state: _State, master: Master, skips: range) -> None:
    """Dive again and again, each time from another first column; finish each step's rest by quick plans."""
    job = state.job

    def used(column: Column) -> int:
        return sum(job.lengths[item] * number for item, number in column.gives)

    def few(column: Column) -> int:
        return -sum(number for _, number in column.gives)

    def finish(chosen: Taken, left: Task) -> None:
        if not state.done:
            for rest in starts(replace(job, task=left), state.work):
                state.offer([*chosen, *rest])

    def refresh(known: Master) -> Relaxed:
        return _priced(state, known, bounding=False)

    for skip in skips:
        for like in (used, few):
            state.offer(dive(master, refresh, like, finish, skip))
            if state.done or state.work.spent:
                return


def _spare(state: _State, column: Column) -> int:
    """Give what a column costs beyond the worth of its items, in parts."""
    prices = state.prices
    assert prices is not None
    cost = state.job.task.costs[column.kind] * state.job.task.scale + prices.kinds[column.kind]
    return cost - prices.worth(column)


def _cheapest(state: _State, columns: Sequence[Column]) -> list[Column]:
    return sorted(columns, key=lambda column: (_spare(state, column), column.kind, column.gives))


def _search(state: _State) -> None:
    """Search all plans that cost less than one ceiling after another, until one is found or none is left.

    The ceilings rise from the floor: near it few fills are of use, so that the search is short; and where
    it finds nothing, the ceiling is the new floor.
    """
    for step in _STEPS:
        ceiling = min(state.cost, state.floor + max(1, int(state.floor * step)))
        ceiling = min(state.cost, state.attain.at_least(Fraction(ceiling)))
        columns = _useful_under(state, ceiling)
        if columns is None or state.work.spent:
            return
        if _searched(state, columns, ceiling):
            state.floor = min(ceiling, state.cost)
        elif not state.done:
            return
        if state.done:
            return


def _by_mixes(state: _State, columns: Sequence[Column]) -> None:
    """Go through the numbers of bars that are cheaper than the best plan, the cheapest first.

    Each is either proved to be too little, which raises the floor to the next, or dived into; bars of
    fixed numbers are far easier to fill than bars that are still to be chosen.
    """
    job = state.job
    mixes = mixes_between(job, state.floor, state.cost, _MIXES)
    if mixes is None:
        return
    rising = True
    for cost, mix in mixes:
        if cost >= state.cost or state.work.spent:
            break
        if rising and cost > state.floor:
            state.floor = cost
        if not _mix_tried(state, columns, mix):
            rising = False
        if state.done:
            return
    else:
        if rising and len(mixes) < _MIXES:
            state.floor = state.cost


def _mix_tried(state: _State, columns: Sequence[Column], mix: tuple[int, ...]) -> bool:
    """Try to fill bars of given numbers; say whether they are proved to be too few."""
    task = replace(state.job.task, available=mix)
    part = _State(replace(state.job, task=task), state.work, state.attain, 0)
    master = Master(task, 2 * state.cost)
    for column in columns:
        if mix[column.kind]:
            master.add(column)
    _priced(part, master, bounding=True)
    if part.done:  # what is lacking would cost more than all these bars
        return True
    _dives(part, master, range(1))
    state.offer(part.best)
    return False


def _searched(state: _State, columns: Sequence[Column], ceiling: int) -> bool:
    """Search plans of these columns that cost less than a ceiling; say whether all were gone through."""
    share = state.work.left // 2
    work = Work(share)
    searched = search_all(state.job.task, columns, ceiling, state.attain.at_least, work)
    state.work.spend(share - work.left)
    if searched.taken:
        state.offer(trimmed(state.job.task, searched.taken))
    return searched.proved


def _useful_under(state: _State, ceiling: int) -> list[Column] | None:
    """Collect every fill that a plan cheaper than ``ceiling`` could use; None where they are too many.

    A plan costs the bound at its prices, and what each of its columns has to spare: so columns that alone
    have more to spare than the gap are in no such plan. A fill to which something can be added is not
    needed, for panels may give more than is wanted.
    """
    job, prices = state.job, state.prices
    assert prices is not None
    scale = job.task.scale
    costs = [cost * scale + saved for cost, saved in zip(job.task.costs, prices.kinds, strict=True)]
    paid = sum(saved * (stock or 0) for saved, stock in zip(prices.kinds, job.task.available, strict=True))
    bought = sum(price * number for price, number in zip(prices.items, job.task.wanted, strict=True)) - paid
    # Prices that are a little too high make fills whose spare is below zero: each bar may have one.
    fills = _best_at(job, prices, job.task.wanted, state.work)
    below = min(0, *(cost - best.most for cost, best in zip(costs, fills, strict=True)))
    gap = (ceiling - 1) * scale - bought - below * sum(job.task.wanted)
    found: list[Column] = []
    for kind in job.kinds:
        worth = [price if fits else 0 for price, fits in zip(prices.items, job.fits[kind], strict=True)]
        most = [number if fits else 0 for number, fits in zip(job.task.wanted, job.fits[kind], strict=True)]
        room = job.rooms[kind]
        fills_there = fills_worth(
            job.lengths, worth, most, room, costs[kind] - gap, _MOST_COLUMNS, state.work
        )
        if fills_there is None:
            return None
        found.extend(Column(kind, fill) for fill in fills_there)
    return _cheapest(state, found) if len(found) <= _MOST_COLUMNS else None

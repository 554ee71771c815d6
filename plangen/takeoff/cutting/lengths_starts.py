"""What is wanted of which lengths, and quick ways to cut it: the plans that better ones start from."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

import numpy as np

from plangen.takeoff.cutting.columns import Column, Task
from plangen.takeoff.cutting.lengths_fill import Cells, Fill, Work, best_fills

Taken = list[tuple[Column, int]]
_MOST_MIXES = 30_000
_MOST_COSTS = 400_000  # costs up to so many units are told apart


@dataclass(frozen=True, slots=True)
class Job:
    """A task whose items are lengths and whose panels are bars with so much room (one kerf in each).

    ``fits[kind][item]`` says whether such pieces come out of such bars at all.
    """

    task: Task
    lengths: tuple[int, ...]
    rooms: tuple[int, ...]
    fits: tuple[tuple[bool, ...], ...]

    @property
    def kinds(self) -> range:
        """The numbers of the kinds of bars."""
        return range(len(self.rooms))

    def holds(self, kind: int, fill: Fill) -> bool:
        """Whether a bar of a kind holds a fill."""
        used = sum(self.lengths[item] * number for item, number in fill)
        return used <= self.rooms[kind] and all(self.fits[kind][item] for item, _ in fill)


def starts(job: Job, work: Work) -> Iterator[Taken]:
    """Give quick plans: longest piece first, or bars filled to the last; each kind of bar favoured once."""
    favourites: list[int | None] = [None, *job.kinds] if len(job.rooms) > 1 else [0]
    for snug in (False, True):
        for favourite in favourites:
            if snug and work.spent:
                return
            taken = _filled(job, favourite, snug, work)
            if taken is not None:
                yield on_cheaper(job, taken)


def _filled(job: Job, favourite: int | None, snug: bool, work: Work) -> Taken | None:
    left = list(job.task.wanted)
    stock = list(job.task.available)
    order = sorted(range(len(left)), key=lambda item: (-job.lengths[item], item))
    taken: Taken = []
    at = 0
    while at < len(order):
        first = order[at]
        if not left[first]:
            at += 1
            continue
        kinds = [kind for kind in job.kinds if job.fits[kind][first] and stock[kind] != 0]
        kinds = [kind for kind in kinds if job.lengths[first] <= job.rooms[kind]]
        if not kinds:
            return None
        if favourite in kinds:
            kinds = [kind for kind in kinds if kind == favourite]
        offers = []
        for kind in kinds:
            work.spend(100 * (len(order) - at))
            fill = (
                _snug(job, kind, left, first, work)
                if snug and not work.spent
                else _longest(job, kind, left, order[at:])
            )
            used = sum(job.lengths[item] * number for item, number in fill)
            offers.append((Fraction(job.task.costs[kind], used), job.rooms[kind], kind, fill))
        _, _, kind, fill = min(offers)
        times = min(left[item] // number for item, number in fill)
        number_left = stock[kind]
        if number_left is not None:
            times = min(times, number_left)
            stock[kind] = number_left - times
        for item, number in fill:
            left[item] -= number * times
        taken.append((Column(kind, fill), times))
    return taken


def _longest(job: Job, kind: int, left: Sequence[int], order: Sequence[int]) -> Fill:
    room = job.rooms[kind]
    counts = []
    for item in order:
        if left[item] and job.fits[kind][item]:
            number = min(left[item], room // job.lengths[item])
            if number:
                counts.append((item, number))
                room -= number * job.lengths[item]
    return tuple(sorted(counts))


def _snug(job: Job, kind: int, left: Sequence[int], first: int, work: Work) -> Fill:
    """Fill a bar as full as can be around one piece that it must hold."""
    most = [number if job.fits[kind][item] else 0 for item, number in enumerate(left)]
    most[first] -= 1
    room = job.rooms[kind] - job.lengths[first]
    (best,) = best_fills(job.lengths, job.lengths, most, [room], work)
    counts = dict(best.fill)
    counts[first] = counts.get(first, 0) + 1
    return tuple(sorted(counts.items()))


def trimmed(task: Task, taken: Taken) -> Taken:
    """Drop what is cut beyond what is wanted, so that all is cut exactly; drop panels that hold nothing."""
    left = list(task.wanted)
    kept: dict[Column, int] = {}
    for column, times in taken:
        for _ in range(times):
            gives = []
            for item, number in column.gives:
                number = min(number, left[item])
                left[item] -= number
                if number:
                    gives.append((item, number))
            if gives:
                one = Column(column.kind, tuple(gives))
                kept[one] = kept.get(one, 0) + 1
    return list(kept.items())


def on_cheaper(job: Job, taken: Taken) -> Taken:
    """Give each filled bar the cheapest kind that holds the same, among those that are left."""
    exact = trimmed(job.task, taken)
    stock = list(job.task.left(exact).available)
    changed: Taken = []
    for column, times in exact:
        for _ in range(times):
            offers = [
                (job.task.costs[kind], job.rooms[kind], kind)
                for kind in job.kinds
                if (stock[kind] != 0 or kind == column.kind) and job.holds(kind, column.gives)
            ]
            kind = min(offers)[2]
            for old, step in ((column.kind, 1), (kind, -1)):
                number = stock[old]
                if number is not None:
                    stock[old] = number + step
            changed.append((Column(kind, column.gives), 1))
    return trimmed(job.task, changed)


def mixes_between(job: Job, low: int, high: int, limit: int) -> list[tuple[int, tuple[int, ...]]] | None:
    """Give numbers of bars that have room for everything and cost from ``low`` to under ``high``.

    The cheapest first, no more than ``limit``; None where looking through them is too much work.
    """
    need = sum(map(_times, job.lengths, job.task.wanted))
    rates = [Fraction(cost, room or 1) for cost, room in zip(job.task.costs, job.rooms, strict=True)]
    cheapest = [min(rates[kind:]) for kind in job.kinds]
    found: list[tuple[int, tuple[int, ...]]] = []
    steps = 0

    def descend(kind: int, cost: int, room: int, mix: tuple[int, ...]) -> None:
        nonlocal steps
        steps += 1
        if kind == len(job.rooms):
            if cost >= low and room >= need:
                found.append((cost, mix))
            return
        if steps > _MOST_MIXES or cost + max(0, need - room) * cheapest[kind] >= high:
            return
        stock, price = job.task.available[kind], job.task.costs[kind]
        number = sum(job.task.wanted) if stock is None else stock
        if price:
            number = min(number, (high - 1 - cost) // price)
        # All that cost nothing are taken: less of them is never of use.
        for times in range(number, -1, -1) if price else (number,):
            descend(kind + 1, cost + times * price, room + times * job.rooms[kind], (*mix, times))

    descend(0, 0, 0, ())
    return sorted(found)[:limit] if steps <= _MOST_MIXES else None


class Attainable:
    """The costs that bars with room enough for everything can come to."""

    def __init__(self, job: Job, highest: int, work: Work) -> None:
        need = sum(map(_times, job.lengths, job.task.wanted))
        self._known: Cells | None = None
        if highest > _MOST_COSTS:
            return
        room: Cells = np.full(highest + 1, -1, np.int64)
        room[0] = 0
        # Doubling: after each round all sums of up to twice as many bars are known.
        for kind in job.kinds:
            cost, stock = job.task.costs[kind], job.task.available[kind]
            number = highest // cost if cost else sum(job.task.wanted)
            number = number if stock is None else min(number, stock)
            chunk = 1
            while number > 0:
                take = min(chunk, number)
                step = cost * take
                if step <= highest:
                    more = np.where(
                        room[: highest + 1 - step] < 0,
                        -1,
                        room[: highest + 1 - step] + job.rooms[kind] * take,
                    )
                    room[step:] = np.maximum(room[step:], more)
                work.spend(highest)
                number -= take
                chunk *= 2
        self._known = np.flatnonzero(room >= need)

    def at_least(self, value: Fraction) -> int:
        """Give the least cost that a plan can have which costs no less than ``value``."""
        cost = -(-value.numerator // value.denominator)
        if self._known is None:
            return cost
        place = int(np.searchsorted(self._known, cost))
        return int(self._known[place]) if place < len(self._known) else cost


def _times(one: int, other: int) -> int:
    return one * other

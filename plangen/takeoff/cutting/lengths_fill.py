"""Ways to fill one bar: the most that it can give at given prices, and all ways that give enough.

Lengths hold their kerf, and so does the room of a bar: lengths then simply add up. Everything is a whole
number and exact; where the work for an exact answer is too much, something above it is given instead.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

import numpy as np
from numpy.typing import NDArray

Cells = NDArray[np.int64]
Fill = tuple[tuple[int, int], ...]
_MOST_CELLS = 40_000_000  # of one table: rows times rooms
_FEW = 4096  # rooms up to here need no larger unit
_FINE = 20_000  # rooms that one table tells apart
_TRIES = 40  # smaller rooms that are tried where the best fill is too long


@dataclass(slots=True)
class Work:
    """What may still be spent; one unit is ten cells of a table, or as much."""

    left: int

    def spend(self, amount: int) -> None:
        """Take an amount off; what is left may fall below zero once."""
        self.left -= amount

    @property
    def spent(self) -> bool:
        """Whether nothing is left."""
        return self.left <= 0


def _row(cells: int) -> int:
    """Give the work of one row of a table: most of it is begun and not counted by cells."""
    return 600 + cells // 10


def coarser(lengths: Sequence[int], rooms: Sequence[int]) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """Count lengths and rooms in the largest unit in which just the same fills fit.

    Each length becomes a whole number of units and a remainder, which may be below zero. A unit will do
    where all the remainders that a bar can hold do not change how many whole units have room in it: so
    millimetres with a kerf of an eighth of an inch need no unit of a fortieth of a millimetre.
    """
    if max(rooms) <= _FEW:
        return tuple(lengths), tuple(rooms)
    sizes: Cells = np.array(lengths, np.int64)
    for unit in range(min(min(lengths), max(rooms) // _FEW * 16), 1, -1):
        whole = (sizes + unit // 2) // unit
        rests = sizes - whole * unit
        least, most = int(rests.min()), int(rests.max())
        fitting = []
        for room in rooms:
            pieces = max(1, room // min(lengths))
            low, high = min(least, least * pieces), max(most, most * pieces)
            fitting.append(((room - low) // unit, (room - high) // unit))
        if all(largest == smallest for largest, smallest in fitting):
            return tuple(int(size) for size in whole), tuple(max(0, room) for room, _ in fitting)
    return tuple(lengths), tuple(rooms)


@dataclass(frozen=True, slots=True)
class Best:
    """The most that a bar can give, and how; ``worth`` is ``most`` where the answer is exact."""

    most: int
    worth: int
    fill: Fill


def best_fills(
    lengths: Sequence[int], prices: Sequence[int], most: Sequence[int], rooms: Sequence[int], work: Work
) -> list[Best]:
    """Give, for each room, the fill that is worth most, no more of an item than ``most`` says.

    A knapsack with bounded numbers, by one table over all rooms up to the largest; items without a price
    are left out. Where rooms are many the table counts in a larger unit, lengths and rooms rounded down:
    then ``most`` may lie a little above any fill, and the fill is the best of those tried that really fit.
    """
    unit = max(rooms) // _FINE + 1
    cells = max(rooms) // unit + 1
    chunks: list[tuple[int, int]] = []
    for item, (length, price) in enumerate(zip(lengths, prices, strict=True)):
        number = min(most[item], max(rooms) // length)
        if price <= 0:
            continue
        chunk = 1
        while number > 0:
            chunks.append((item, min(chunk, number)))
            number -= chunk
            chunk *= 2
    if len(chunks) * cells > _MOST_CELLS:
        return [_above(lengths, prices, most, room) for room in rooms]
    work.spend(len(chunks) * _row(cells))
    best: Cells = np.zeros(cells, np.int64)
    taken: list[NDArray[np.bool_]] = []
    whole = [length // unit for length in lengths]
    for item, number in chunks:
        length = whole[item] * number
        with_it = best[: max(0, cells - length)] + prices[item] * number
        better = with_it > best[length:]
        np.copyto(best[length:], with_it, where=better)
        taken.append(better)
    found = []
    for room in rooms:
        ceiling = int(best[room // unit])
        # Where the table rounds down its fill may be too long by a little: then what fits in less room.
        for cell in range(room // unit, max(-1, room // unit - _TRIES), -1):
            fill = _traced(whole, chunks, taken, cell)
            if sum(lengths[item] * number for item, number in fill) <= room:
                found.append(Best(ceiling, sum(prices[item] * number for item, number in fill), fill))
                break
        else:
            greedy = _above(lengths, prices, most, room)
            found.append(Best(ceiling, greedy.worth, greedy.fill))
    return found


def _traced(
    lengths: Sequence[int], chunks: Sequence[tuple[int, int]], taken: Sequence[NDArray[np.bool_]], room: int
) -> Fill:
    counts: dict[int, int] = {}
    left = room
    for (item, number), better in zip(reversed(chunks), reversed(taken), strict=True):
        length = lengths[item] * number
        if left >= length and better[left - length]:
            counts[item] = counts.get(item, 0) + number
            left -= length
    return tuple(sorted(counts.items()))


def _above(lengths: Sequence[int], prices: Sequence[int], most: Sequence[int], room: int) -> Best:
    """Fill by price for length, the best first; the last piece in part gives what is above any fill."""
    order = [item for item in range(len(lengths)) if prices[item] > 0 and most[item]]
    order.sort(key=lambda item: (-Fraction(prices[item], lengths[item]), item))
    counts: list[tuple[int, int]] = []
    left, worth, ceiling = room, 0, None
    for item in order:
        number = min(most[item], left // lengths[item])
        if number:
            counts.append((item, number))
            worth += number * prices[item]
            left -= number * lengths[item]
        if ceiling is None and number < most[item]:
            ceiling = worth + _share(prices[item], left, lengths[item])
    return Best(worth if ceiling is None else ceiling, worth, tuple(sorted(counts)))


def _share(price: int, room: int, length: int) -> int:
    return -(-price * room // length)


def fills_worth(
    lengths: Sequence[int],
    prices: Sequence[int],
    most: Sequence[int],
    room: int,
    least: int,
    limit: int,
    work: Work,
) -> list[Fill] | None:
    """Give every fill of a room to which nothing can be added and which is worth ``least`` or more.

    None where there are more than ``limit``, or the table of what the rest can still give is too large.
    """
    order = sorted(range(len(lengths)), key=lambda item: (-lengths[item], item))
    order = [item for item in order if min(most[item], room // lengths[item])]
    unit = room // _FINE + 1
    if (len(order) + 1) * (room // unit + 1) > _MOST_CELLS or not order:
        return None if order else []
    numbers = [min(most[item], room // lengths[item]) for item in order]
    rounded = [(lengths[item] // unit, prices[item]) for item in order]
    still = _still(rounded, numbers, room // unit, work)
    found: list[Fill] = []
    counts = [0] * len(order)
    steps = 0

    def closed(left: int) -> bool:
        return all(counts[at] == most[item] or lengths[item] > left for at, item in enumerate(order))

    def descend(at: int, left: int, worth: int) -> bool:
        nonlocal steps
        steps += 1
        if steps > 40 * limit:
            return False
        if at == len(order):
            if closed(left):
                if len(found) >= limit:
                    return False
                found.append(tuple(sorted((order[i], n) for i, n in enumerate(counts) if n)))
            return True
        item = order[at]
        for number in range(min(most[item], left // lengths[item]), -1, -1):
            rest, value = left - number * lengths[item], worth + number * prices[item]
            if value + int(still[at + 1][rest // unit]) < least:
                continue
            counts[at] = number
            if not descend(at + 1, rest, value):
                return False
        counts[at] = 0
        return True

    whole = descend(0, room, 0)
    work.spend(steps * 200)
    return found if whole else None


def _still(items: Sequence[tuple[int, int]], numbers: Sequence[int], room: int, work: Work) -> list[Cells]:
    """Give, for each place in the order and each room, the most that the items from there on can give.

    Lengths and rooms may be rounded down: then it is that or a little more.
    """
    tables: list[Cells] = [np.zeros(room + 1, np.int64)]
    for (length, price), number in zip(reversed(items), reversed(numbers), strict=True):
        best = tables[-1].copy()
        chunk = 1
        while number > 0:
            take = min(chunk, number)
            with_it = best[: max(0, room + 1 - length * take)] + price * take
            np.maximum(best[length * take :], with_it, out=best[length * take :])
            work.spend(_row(room))
            number -= take
            chunk *= 2
        tables.append(best)
    tables.reverse()
    return tables

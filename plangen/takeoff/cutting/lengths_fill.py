"""Ways to fill one bar: the most that it can give at given prices, and all ways that give enough.

Lengths hold their kerf, and so does the room of a bar: lengths then simply add up. Everything is a whole
number and exact; where the work for an exact answer is too much, something above it is given instead.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Cells = NDArray[np.int64]
Fill = tuple[tuple[int, int], ...]
_MOST_CELLS = 40_000_000  # of one table: rows times rooms


@dataclass(slots=True)
class Work:
    """What may still be spent; one unit is one cell of a table, or as much."""

    left: int

    def spend(self, amount: int) -> None:
        """Take an amount off; what is left may fall below zero once."""
        self.left -= amount

    @property
    def spent(self) -> bool:
        """Whether nothing is left."""
        return self.left <= 0


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
    are left out.
    """
    largest = max(rooms)
    chunks: list[tuple[int, int]] = []
    for item, (length, price) in enumerate(zip(lengths, prices, strict=True)):
        number = min(most[item], largest // length)
        if price <= 0:
            continue
        chunk = 1
        while number > 0:
            chunks.append((item, min(chunk, number)))
            number -= chunk
            chunk *= 2
    if len(chunks) * (largest + 1) > _MOST_CELLS:
        return [_above(lengths, prices, most, room) for room in rooms]
    work.spend(len(chunks) * (largest + 1))
    best: Cells = np.zeros(largest + 1, np.int64)
    taken: list[NDArray[np.bool_]] = []
    for item, number in chunks:
        length = lengths[item] * number
        with_it = best[: largest + 1 - length] + prices[item] * number
        better = with_it > best[length:]
        np.copyto(best[length:], with_it, where=better)
        taken.append(better)
    return [_traced(lengths, chunks, taken, best, room) for room in rooms]


def _traced(
    lengths: Sequence[int],
    chunks: Sequence[tuple[int, int]],
    taken: Sequence[NDArray[np.bool_]],
    best: Cells,
    room: int,
) -> Best:
    counts: dict[int, int] = {}
    left = room
    for (item, number), better in zip(reversed(chunks), reversed(taken), strict=True):
        length = lengths[item] * number
        if left >= length and better[left - length]:
            counts[item] = counts.get(item, 0) + number
            left -= length
    worth = int(best[room])
    return Best(worth, worth, tuple(sorted(counts.items())))


def _above(lengths: Sequence[int], prices: Sequence[int], most: Sequence[int], room: int) -> Best:
    """Fill by price for length, the best first; the last piece in part gives what is above any fill."""
    order = sorted(
        (item for item in range(len(lengths)) if prices[item] > 0 and most[item]),
        key=lambda item: (-prices[item] * room // lengths[item], item),
    )
    order.sort(key=lambda item: -prices[item] / lengths[item])
    counts: dict[int, int] = {}
    left, worth, ceiling = room, 0, None
    for item in order:
        number = min(most[item], left // lengths[item])
        if ceiling is None and number < most[item]:
            ceiling = (
                worth
                + number * prices[item]
                + _share(prices[item], left - number * lengths[item], lengths[item])
            )
        if number:
            counts[item] = number
            worth += number * prices[item]
            left -= number * lengths[item]
    return Best(worth if ceiling is None else max(worth, ceiling), worth, tuple(sorted(counts.items())))


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
    if (len(order) + 1) * (room + 1) > _MOST_CELLS or not order:
        return None if order else []
    still = _still(lengths, prices, most, room, order, work)
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
            if value + int(still[at + 1][rest]) < least:
                continue
            counts[at] = number
            if not descend(at + 1, rest, value):
                return False
        counts[at] = 0
        return True

    whole = descend(0, room, 0)
    work.spend(steps * 200)
    return found if whole else None


def _still(
    lengths: Sequence[int],
    prices: Sequence[int],
    most: Sequence[int],
    room: int,
    order: Sequence[int],
    work: Work,
) -> list[Cells]:
    """Give, for each place in the order and each room, the most that the items from there on can give."""
    tables: list[Cells] = [np.zeros(room + 1, np.int64)]
    for item in reversed(order):
        best = tables[-1].copy()
        number, chunk = min(most[item], room // lengths[item]), 1
        while number > 0:
            take = min(chunk, number)
            length = lengths[item] * take
            np.maximum(best[length:], best[: room + 1 - length] + prices[item] * take, out=best[length:])
            work.spend(room + 1)
            number -= chunk
            chunk *= 2
        tables.append(best)
    tables.reverse()
    return tables

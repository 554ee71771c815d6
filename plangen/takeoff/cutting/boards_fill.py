"""The most that one board can give at given prices, however it is sawn.

A board, and whatever comes off it, is one piece, or is divided straight through (P. C. Gilmore and
R. E. Gomory, "Multistage cutting stock problems of two and more dimensions", Operations Research 13,
1965). Any number of stages is weighed, and a piece may come as often as it fits, so that the answer is
what a board gives at most, or more, never less. Cuts need only be tried where sums of sizes end
(J. C. Herz, "Recursive computational procedure for two-dimensional stock cutting", IBM Journal of Research
and Development 16, 1972). Sizes hold their kerf, and so do the rooms: they simply add up.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from plangen.takeoff.cutting.lengths_fill import Work, best_fills

Cells = NDArray[np.int64]
_AREA_STEPS = 16_000  # in which the area of a board is counted
MOST_ALONG, MOST_ACROSS = 240, 60  # sums told apart; beyond that sizes are counted in larger steps


@dataclass(frozen=True, slots=True)
class Shape:
    """A piece as it lies, kerf included, and how many are wanted."""

    along: int
    across: int
    number: int


@dataclass(frozen=True, slots=True)
class Scale:
    """The sums of sizes that matter, by rising size, counted in steps of ``step``.

    A step above one rounds pieces down, and rooms too: whatever fits still fits.
    """

    step: int
    sums: Cells
    room: int  # in steps

    def size(self, extent: int) -> int:
        """Give an extent in steps."""
        return extent // self.step

    def place(self, extent: int) -> int:
        """Give the place of the largest sum that is in an extent of so many steps."""
        return int(np.searchsorted(self.sums, extent, side="right")) - 1


def scale(sizes: Sequence[int], room: int, most: int) -> Scale:
    """Give the sums of sizes up to a room, each as often as it fits; in larger steps where there are many."""
    step, smallest = 1, min(sizes)
    while True:
        limit = room // step
        bits, mask = 1, (1 << (limit + 1)) - 1
        for part in sorted({size // step for size in sizes}):
            while part <= limit:  # doubling: once, up to three times, up to seven times, …
                bits |= bits << part & mask
                part *= 2
        if bits.bit_count() <= most or step * 2 > smallest:
            digits = np.frombuffer(bin(bits)[:1:-1].encode(), np.uint8)
            return Scale(step, np.flatnonzero(digits == ord("1")).astype(np.int64), limit)
        step *= 2


@dataclass(slots=True)
class Table:
    """What boards of one width give at most, by the room along and across; ``worth[across][along]``."""

    shapes: Sequence[Shape]
    prices: Sequence[int]
    along: Scale
    across: Scale
    worth: Cells = field(init=False)

    def __post_init__(self) -> None:
        rows, columns = self.across.sums, self.along.sums
        self.worth = np.zeros((len(rows), len(columns)), np.int64)
        shift: dict[tuple[int, int], Cells] = {}
        by_row: dict[int, list[tuple[int, int]]] = {}
        for shape, price in zip(self.shapes, self.prices, strict=True):
            along, across = self.along.size(shape.along), self.across.size(shape.across)
            fits = along <= self.along.room and across <= self.across.room
            if price > 0 and shape.number and fits:
                row = self.across.place(across)
                by_row.setdefault(row, []).append((self.along.place(along), price))
        for row in range(1, len(rows)):
            whole = self.worth[row - 1].copy()
            for start, price in by_row.get(row, ()):
                np.maximum(whole[start:], price, out=whole[start:])
            low = np.arange(1, int(np.searchsorted(rows, rows[row] // 2, side="right")))
            if len(low):
                high = np.searchsorted(rows, rows[row] - rows[low], side="right") - 1
                np.maximum(whole, (self.worth[low] + self.worth[high]).max(axis=0), out=whole)
            self._divide_along(whole, row, shift)

    def _divide_along(self, whole: Cells, row: int, shift: dict[tuple[int, int], Cells]) -> None:
        """Fill a row by crosscutting, with each length that is worth more than all shorter ones together."""
        columns, best = self.along.sums, self.worth[row]
        while True:
            better = np.flatnonzero(whole > best)
            if not len(better):
                return
            at = int(better[0])
            before, length, price = best.copy(), int(columns[at]), int(whole[at])
            for times in range(1, int(columns[-1]) // length + 1):
                start = int(np.searchsorted(columns, length * times))
                if (at, times) not in shift:
                    rest = columns[start:] - length * times
                    shift[at, times] = np.searchsorted(columns, rest, side="right") - 1
                np.maximum(best[start:], before[shift[at, times]] + price * times, out=best[start:])

    def most(self, along: int, across: int) -> int:
        """Give what a board with so much room gives at most."""
        row = self.across.place(across // self.across.step)
        return int(self.worth[row][self.along.place(along // self.along.step)])

    def fill(self, along: int, across: int) -> Counter[int]:
        """Give the numbers of shapes that come to it, by the number of the shape."""
        found: Counter[int] = Counter()
        waiting = [
            (self.across.place(across // self.across.step), self.along.place(along // self.along.step))
        ]
        while waiting:
            row, column = waiting.pop()
            worth = int(self.worth[row][column])
            if worth:
                while self.worth[row - 1][column] == worth:
                    row -= 1
                column = int(np.searchsorted(self.worth[row][: column + 1], worth))
                item = self._single(row, column, worth)
                if item is not None:
                    found[item] += 1
                else:
                    waiting.extend(self._halves(row, column, worth))
        return found

    def _single(self, row: int, column: int, worth: int) -> int | None:
        for item, (shape, price) in enumerate(zip(self.shapes, self.prices, strict=True)):
            fits = (
                self.across.size(shape.across) <= self.across.sums[row]
                and self.along.size(shape.along) <= self.along.sums[column]
            )
            if fits and price == worth and shape.number:
                return item
        return None

    def _halves(self, row: int, column: int, worth: int) -> list[tuple[int, int]]:
        columns, rows = self.along.sums, self.across.sums
        low = np.arange(1, column)
        high = np.searchsorted(columns, columns[column] - columns[low], side="right") - 1
        hits = np.flatnonzero(self.worth[row][low] + self.worth[row][high] == worth)
        if len(hits):
            return [(row, int(low[hits[0]])), (row, int(high[hits[0]]))]
        low = np.arange(1, row)
        high = np.searchsorted(rows, rows[row] - rows[low], side="right") - 1
        hits = np.flatnonzero(self.worth[low, column] + self.worth[high, column] == worth)
        return [(int(low[hits[0]]), column), (int(high[hits[0]]), column)]


def most_by_area(
    shapes: Sequence[Shape], prices: Sequence[int], room: tuple[int, int], scales: tuple[Scale, Scale]
) -> int:
    """Give what a board can give at most where no piece comes more often than it is wanted, by areas alone.

    A piece of more than half the room counts all that can never lie beside it as its own: in no row are
    there two of these, so that rows still add up (see ``scales`` on weighing both ways at once).
    """
    areas, worth, numbers = [], [], []
    for shape, price in zip(shapes, prices, strict=True):
        if price > 0 and shape.number and shape.along <= room[0] and shape.across <= room[1]:
            areas.append(lifted(shape.along, room[0], scales[0]) * lifted(shape.across, room[1], scales[1]))
            worth.append(price)
            numbers.append(shape.number)
    if not areas:
        return 0
    step = max(1, min(room[0] * room[1] // _AREA_STEPS, min(areas)))
    sizes = [area // step for area in areas]
    (best,) = best_fills(sizes, worth, numbers, [room[0] * room[1] // step], Work(1 << 40))
    return best.most


def lifted(extent: int, room: int, scale: Scale) -> int:
    """Give an extent with what can never lie beside it in the room; only where it takes more than half."""
    if 2 * extent <= room or scale.step > 1:
        return extent
    return room - int(scale.sums[scale.place(room - extent)])


def shared(price: int, areas: Mapping[int, int]) -> dict[int, int]:
    """Share out what pieces that belong together are worth by their areas; nothing is lost in rounding."""
    whole, left, given = sum(areas.values()), price, {}
    for number, area in areas.items():
        given[number] = price * area // whole
        left -= given[number]
    given[min(areas)] += left
    return given

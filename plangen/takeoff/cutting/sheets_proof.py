"""What no plan of sheets can be under, by weighing every way of sawing a sheet straight through.

The linear relaxation over all fills of a sheet (P. C. Gilmore and R. E. Gomory, "Multistage cutting stock
problems of two and more dimensions", Operations Research 13, 1965). The fills weighed are more than can be
sawn: any number of stages, no rule of the shop, and a piece may come as often as it fits, or as areas
allow where no piece comes more often than it is wanted. A piece that may turn lies either way. So what is
proved holds for every plan of straight cuts; only whole numbers enter the proof.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import lcm

from plangen.takeoff.cutting.boards_fill import Shape, Table, lifted, most_by_area, scale
from plangen.takeoff.cutting.columns import Column, Master, Prices, Task, floor
from plangen.takeoff.cutting.mixes import Need, cheapest
from plangen.takeoff.cutting.model import Panel
from plangen.takeoff.cutting.scales import Load

MOST_KINDS = 40  # kinds of piece for which fills are weighed
_MOST_ALONG, _MOST_ACROSS = 240, 60  # sums told apart
_KEPT = 12  # needs handed on, the last that proved more than those before


@dataclass(frozen=True, slots=True)
class Proof:
    """What was proved: a cost that none can be under, and what every mix of panels must have."""

    floor: Fraction
    needs: tuple[Need, ...]


def prove(
    load: Load,
    panels: Sequence[Panel],
    fills: Sequence[tuple[int, Counter[int]]],
    cost: Fraction,
    proved: Proof,
    effort: int,
) -> Proof:
    """Raise the floor of a cost towards that of a known plan, as far as weighing fills can.

    ``fills`` are the known plan's sheets: the kind of panel, and how often each piece lies on it. Gives up
    where the linear problem itself falls to the floor: no prices can prove more than that.
    """
    return _Proving(load, panels, proved, cost).run(fills, effort)


class _Proving:
    """The prices tried so far, and what they proved."""

    def __init__(self, load: Load, panels: Sequence[Panel], proved: Proof, cost: Fraction) -> None:
        whole = lcm(*(panel.cost.denominator for panel in panels))
        self.panels, self.load, self.proved, self.cost = panels, load, proved, cost
        self.unit = Fraction(1, whole)
        costs = tuple(int(panel.cost * whole) for panel in panels)
        self.task = Task(load.numbers, costs, tuple(panel.available for panel in panels))
        self.owners, self.shapes = [], []
        for piece, (ways, number) in enumerate(zip(load.ways, load.numbers, strict=True)):
            for way in ways:
                self.owners.append(piece)
                self.shapes.append(Shape(way.along, way.across, number))
        length, width = max(room[0] for room in load.rooms), max(room[1] for room in load.rooms)
        self.scales = (
            scale([shape.along for shape in self.shapes], length, _MOST_ALONG),
            scale([shape.across for shape in self.shapes], width, _MOST_ACROSS),
        )
        self.least = [self._smallest(room) for room in load.rooms]

    def _smallest(self, room: tuple[int, int]) -> list[Shape]:
        """Give each piece the way it weighs least on a panel, wanted no times where it fits in no way."""
        found = [Shape(1, 1, 0) for _ in self.load.ways]
        weights: dict[int, int] = {}
        for piece, shape in zip(self.owners, self.shapes, strict=True):
            if shape.along <= room[0] and shape.across <= room[1]:
                weight = lifted(shape.along, room[0], self.scales[0])
                weight *= lifted(shape.across, room[1], self.scales[1])
                if weight < weights.get(piece, weight + 1):
                    found[piece], weights[piece] = shape, weight
        return found

    @property
    def _work(self) -> int:
        """What one table takes, in the time of a few thousand cells besides."""
        along, across = (len(one.sums) for one in self.scales)
        return 5000 + 2 * along * across + along * across * (along + across) // 1600

    def run(self, fills: Sequence[tuple[int, Counter[int]]], left: int) -> Proof:
        """Work out prices until they prove enough, or cannot, or the work that is left is spent."""
        master = Master(self.task, 2 * int(self.cost / self.unit) + 1)
        for kind, gives in fills:
            master.add(Column(kind, tuple(sorted(gives.items()))))
        best: tuple[Fraction, Prices] | None = None
        single = sum(1 for price in self.task.costs if price) == 1
        while left > self._work:
            relaxed = master.solve()
            # Several kinds of panel leave gaps between the costs that can add up: then more may be proved.
            if single and relaxed.cost * float(self.unit) <= self.proved.floor:
                break
            added = False
            tried = [_between(relaxed.prices, best[1]), relaxed.prices] if best else [relaxed.prices]
            for prices in tried:
                left -= self._work
                bound, added = self._weigh(master, prices)
                if best is None or bound > best[0]:
                    best = (bound, prices)
                if self.proved.floor >= self.cost:
                    return self.proved
                if added:
                    break
            if not added:
                break
        return self.proved

    def _weigh(self, master: Master, prices: Prices) -> tuple[Fraction, bool]:
        """Prove what prices prove, and take on the fills that are worth more than their panel."""
        task = self.task
        table = Table(self.shapes, [prices.items[owner] for owner in self.owners], *self.scales)
        most = [
            min(table.most(*room), most_by_area(least, prices.items, room, self.scales))
            for room, least in zip(self.load.rooms, self.least, strict=True)
        ]
        bound = floor(task, prices, most) * self.unit
        self._learn(prices, most)
        added = False
        for kind, room in enumerate(self.load.rooms):
            if most[kind] > task.costs[kind] * task.scale + prices.kinds[kind]:
                gives: Counter[int] = Counter()
                for shape, number in table.fill(*room).items():
                    gives[self.owners[shape]] += number
                added = master.add(Column(kind, tuple(sorted(gives.items())))) or added
        return bound, added

    def _learn(self, prices: Prices, most: Sequence[int]) -> None:
        """Hold the mixes of panels against what all pieces are worth and what a panel gives at most."""
        need = sum(price * number for price, number in zip(prices.items, self.load.numbers, strict=True))
        needs = (*self.proved.needs, Need(need, tuple(most)))
        raised = cheapest(self.panels, needs, self.cost)
        if raised > self.proved.floor or len(needs) <= _KEPT:
            self.proved = Proof(max(raised, self.proved.floor), needs)


def _between(newest: Prices, best: Prices) -> Prices:
    """Give prices half way between: they leap less from one round to the next."""
    return Prices(
        tuple((one + other) // 2 for one, other in zip(newest.items, best.items, strict=True)),
        tuple((one + other) // 2 for one, other in zip(newest.kinds, best.kinds, strict=True)),
    )

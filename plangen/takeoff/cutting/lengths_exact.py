"""Search all choices among given columns, and prove in whole numbers what cannot be had."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from fractions import Fraction

import highspy
import numpy as np
from numpy.typing import NDArray

from plangen.takeoff.cutting.columns import Column, Task, quiet
from plangen.takeoff.cutting.lengths_fill import Cells, Work

_BEYOND = 64  # what is not to be had costs so many times the plan to beat
_CLOSE = 1e-6


@dataclass(frozen=True, slots=True)
class Searched:
    """The cheapest choice found, None where none is cheaper than asked; whether it is proved the cheapest."""

    taken: list[tuple[Column, int]] | None
    proved: bool


@dataclass(frozen=True, slots=True)
class _Rule:
    """A branch: columns in ``rows`` are taken together at least, or at most, so many times."""

    members: Cells
    at_least: bool
    number: int


class _Search:
    """A tree of linear problems; the bound of each node is worked out again with whole numbers."""

    def __init__(
        self, task: Task, columns: Sequence[Column], under: int, attain: Callable[[Fraction], int], work: Work
    ) -> None:
        self.task, self.columns, self.under, self.attain, self.work = task, columns, under, attain, work
        self.best: list[tuple[Column, int]] | None = None
        items = len(task.wanted)
        self.gives: Cells = np.zeros((len(columns), items), np.int64)
        for at, column in enumerate(columns):
            for item, number in column.gives:
                self.gives[at, item] = number
        self.kinds: Cells = np.array([column.kind for column in columns], np.int64)
        self.costs: Cells = np.array([task.costs[column.kind] for column in columns], np.int64)
        self.often: Cells = np.array(
            [max(-(-task.wanted[item] // number) for item, number in column.gives) for column in columns],
            np.int64,
        )
        self.limited = [kind for kind, stock in enumerate(task.available) if stock is not None]
        self.solver = quiet()
        self._build()

    def _build(self) -> None:
        task, solver = self.task, self.solver
        self.unit = max(1, *task.costs)
        for number in task.wanted:
            solver.addRow(number, highspy.kHighsInf, 0, [], [])
        for kind in self.limited:
            solver.addRow(-highspy.kHighsInf, task.available[kind], 0, [], [])
        place = {kind: len(task.wanted) + at for at, kind in enumerate(self.limited)}
        # Column 0 stands for what is not to be had: it satisfies every row.
        rows = list(range(len(task.wanted)))
        beyond = _BEYOND * max(1, self.under) / self.unit
        solver.addCol(
            beyond, 0, highspy.kHighsInf, len(rows), rows, [float(number) for number in task.wanted]
        )
        for at, column in enumerate(self.columns):
            rows = [item for item, _ in column.gives]
            values = [float(number) for _, number in column.gives]
            if column.kind in place:
                rows.append(place[column.kind])
                values.append(1.0)
            solver.addCol(self.costs[at] / self.unit, 0, float(self.often[at]), len(rows), rows, values)

    def descend(self, rules: list[_Rule]) -> bool:
        """Search below a node; say whether nothing was left out."""
        self.work.spend(100_000 + 300 * len(self.columns))
        self.solver.run()
        solution = self.solver.getSolution()
        values = np.array(solution.col_value)
        floor = self.attain(self._floor(solution.row_dual, rules))
        if floor >= self.under:
            return True
        taken = values[1:]
        if values[0] <= _CLOSE and np.all(np.abs(taken - np.round(taken)) <= _CLOSE):
            self._keep(np.round(taken).astype(np.int64))
            if floor >= self.under:
                return True
        if self.work.spent:
            return False
        rule = self._branch(taken)
        if rule is None:
            return False
        members, value, up_first = rule
        low = int(np.floor(value))
        sides = [_Rule(members, True, low + 1), _Rule(members, False, low)]
        whole = True
        for side in sides if up_first else sides[::-1]:
            self._impose(side)
            whole = self.descend([*rules, side]) and whole
            self.solver.deleteRows(1, [self.solver.getNumRow() - 1])
            if self.attain(Fraction(0)) >= self.under:
                break
        return whole

    def _impose(self, rule: _Rule) -> None:
        columns = [0] if rule.at_least else []
        columns += [int(at) + 1 for at in rule.members]
        values = [float(rule.number)] if rule.at_least else []
        values += [1.0] * len(rule.members)
        low = float(rule.number) if rule.at_least else -highspy.kHighsInf
        high = highspy.kHighsInf if rule.at_least else float(rule.number)
        self.solver.addRow(low, high, len(columns), columns, values)

    def _floor(self, duals: Sequence[float], rules: Sequence[_Rule]) -> Fraction:
        """Give what no choice under these rules can cost less than, from prices rounded to whole numbers."""
        scale = self.task.scale
        items = len(self.task.wanted)
        parts = scale * self.unit
        prices = [max(0, round(dual * parts)) for dual in duals[:items]]
        spare = self.costs * scale - self.gives @ np.array(prices, np.int64)
        total = sum(price * number for price, number in zip(prices, self.task.wanted, strict=True))
        at = items
        for kind in self.limited:
            price = min(0, round(duals[at] * parts))
            spare[self.kinds == kind] -= price
            total += price * (self.task.available[kind] or 0)
            at += 1
        for rule in rules:
            price = round(duals[at] * parts)
            price = max(0, price) if rule.at_least else min(0, price)
            spare[rule.members] -= price
            total += price * rule.number
            at += 1
        total += int((np.minimum(spare, 0) * self.often).sum())
        return max(Fraction(0), Fraction(total, scale))

    def _keep(self, times: Cells) -> None:
        taken = [(column, int(number)) for column, number in zip(self.columns, times, strict=True) if number]
        left = self.task.left(taken)
        if any(left.wanted) or any(stock is not None and stock < 0 for stock in left.available):
            return
        cost = self.task.cost(taken)
        if cost < self.under:
            self.best, self.under = taken, cost

    def _branch(self, taken: NDArray[np.float64]) -> tuple[Cells, float, bool] | None:
        """Choose columns with a broken number: all of one kind, those that share two items, or one."""
        used = np.flatnonzero(taken > _CLOSE)
        if len(self.task.costs) > 1:
            sums = [float(taken[self.kinds == kind].sum()) for kind in range(len(self.task.costs))]
            kind = max(range(len(sums)), key=lambda kind: (_broken(sums[kind]), -kind))
            if _broken(sums[kind]) > _CLOSE:
                return np.flatnonzero(self.kinds == kind), sums[kind], True
        has = (self.gives[used] > 0).astype(np.float64)
        pairs = has.T @ (has * taken[used, None])
        broken = np.round(np.minimum(pairs - np.floor(pairs), np.ceil(pairs) - pairs), 6)
        one, two = np.unravel_index(int(np.argmax(broken)), broken.shape)
        if broken[one, two] > 10 * _CLOSE:
            members = np.flatnonzero((self.gives[:, one] > 0) & (self.gives[:, two] > 0))
            return members, float(pairs[one, two]), True
        values = [_broken(float(value)) for value in taken]
        at = int(np.argmax(values))
        if values[at] > 10 * _CLOSE:
            return np.array([at], np.int64), float(taken[at]), True
        return None


def _broken(value: float) -> float:
    return min(value - math.floor(value), math.ceil(value) - value)


def search_all(
    task: Task, columns: Sequence[Column], under: int, attain: Callable[[Fraction], int], work: Work
) -> Searched:
    """Find the cheapest choice of columns that costs less than ``under``, by branching.

    ``attain`` raises a bound to the next cost that a plan can have. The proof holds for these columns
    alone: it holds for all where every column that a cheaper plan could use is among them.
    """
    search = _Search(task, columns, under, attain, work)
    whole = search.descend([])
    return Searched(search.best, whole)

"""Choose among ways to fill one panel: the master problem of cutting, with proofs in whole numbers.

A column is one way to fill one kind of panel; it says how many it gives of each item that is wanted. The
master problem takes columns often enough that all is given, at the least cost (P. C. Gilmore and
R. E. Gomory, "A linear programming approach to the cutting-stock problem", Operations Research 9, 1961).
Panels may give more than is wanted. A linear solver finds prices of the items; whatever is claimed from
them is worked out again with whole numbers, so that rounding in the solver never makes a false proof.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from fractions import Fraction

import highspy

GRAIN = 1 << 30  # prices are whole numbers of so many parts of the dearest panel


@dataclass(frozen=True, slots=True)
class Column:
    """One way to fill a panel of ``kind``: pairs of an item's number and how many of it, by rising item."""

    kind: int
    gives: tuple[tuple[int, int], ...]


@dataclass(frozen=True, slots=True)
class Task:
    """How many are wanted of each item; what a panel of each kind costs and how many there are.

    Costs are whole numbers; ``available`` is None for a kind of which there are as many as wanted.
    """

    wanted: tuple[int, ...]
    costs: tuple[int, ...]
    available: tuple[int | None, ...]

    @property
    def scale(self) -> int:
        """Parts of one unit of cost in which prices are counted."""
        return max(1, GRAIN // max(1, *self.costs))

    def left(self, taken: Sequence[tuple[Column, int]]) -> Task:
        """Give what remains when columns are taken so many times."""
        wanted = list(self.wanted)
        available = list(self.available)
        for column, times in taken:
            for item, number in column.gives:
                wanted[item] = max(0, wanted[item] - number * times)
            stock = available[column.kind]
            if stock is not None:
                available[column.kind] = stock - times
        return Task(tuple(wanted), self.costs, tuple(available))

    def cost(self, taken: Sequence[tuple[Column, int]]) -> int:
        """Give what columns taken so many times cost together."""
        return sum(self.costs[column.kind] * times for column, times in taken)


@dataclass(frozen=True, slots=True)
class Prices:
    """What one more of each item is worth, and what one more panel of each kind would save, whole numbers.

    Both are counted in parts of a unit of cost (``Task.scale``) and never negative.
    """

    items: tuple[int, ...]
    kinds: tuple[int, ...]

    def worth(self, column: Column) -> int:
        """Give what a column's items are worth together."""
        return sum(self.items[item] * number for item, number in column.gives)


@dataclass(frozen=True, slots=True)
class Relaxed:
    """The solution of the linear problem: its cost, its prices, and how often each column is taken."""

    cost: float
    prices: Prices
    taken: tuple[float, ...]
    short: bool  # something is wanted that no column gives


def floor(task: Task, prices: Prices, most: Sequence[int]) -> Fraction:
    """Give a cost that no choice of columns can be under, whatever the prices are.

    ``most[kind]`` is what a panel of that kind can give at these prices at most (the exact answer of a
    knapsack, or anything over it). Where a kind of which there are any number could give more than it
    costs, all prices are lowered by one factor until it cannot (A. A. Farley, "A note on bounding a class
    of linear programming problems", Operations Research 38, 1990); a kind of which there are only so many
    is charged for what it could give beyond its cost (Lagrangian bound).
    """
    scale = task.scale
    factor = Fraction(1)
    for cost, stock, worth in zip(task.costs, task.available, most, strict=True):
        if stock is None and worth > cost * scale:
            factor = min(factor, Fraction(cost * scale, worth))
    value = Fraction(sum(map(_times, prices.items, task.wanted))) * factor
    for cost, stock, worth in zip(task.costs, task.available, most, strict=True):
        if stock is not None:
            value -= stock * max(Fraction(0), worth * factor - cost * scale)
    return max(Fraction(0), value / scale)


def _times(one: int, other: int) -> int:
    return one * other


class Master:
    """The linear problem over the columns known so far; columns are added, wants and stocks may fall.

    ``dear`` is a cost that no plan worth finding reaches: at that price anything wanted can be had
    without a column, so that the problem always has a solution.
    """

    def __init__(self, task: Task, dear: int) -> None:
        self.task = task
        self.columns: list[Column] = []
        self._known: dict[Column, int] = {}
        self._most = max(1, *task.costs)
        self._solver = quiet()
        self._limited = {kind: 0 for kind, stock in enumerate(task.available) if stock is not None}
        for number in task.wanted:
            self._solver.addRow(number, highspy.kHighsInf, 0, [], [])
        for kind in self._limited:
            self._limited[kind] = self._solver.getNumRow()
            self._solver.addRow(-highspy.kHighsInf, task.available[kind], 0, [], [])
        for item in range(len(task.wanted)):
            self._solver.addCol(dear / self._most, 0, highspy.kHighsInf, 1, [item], [1.0])

    def add(self, column: Column) -> bool:
        """Add a column; say whether it is new."""
        if column in self._known:
            return False
        self._known[column] = len(self.columns)
        self.columns.append(column)
        rows = [item for item, _ in column.gives]
        values = [float(number) for _, number in column.gives]
        if column.kind in self._limited:
            rows.append(self._limited[column.kind])
            values.append(1.0)
        cost = self.task.costs[column.kind] / self._most
        self._solver.addCol(cost, 0, highspy.kHighsInf, len(rows), rows, values)
        return True

    def want(self, task: Task) -> None:
        """Ask for less, out of fewer panels."""
        for item, (old, new) in enumerate(zip(self.task.wanted, task.wanted, strict=True)):
            if old != new:
                self._solver.changeRowBounds(item, new, highspy.kHighsInf)
        for kind, row in self._limited.items():
            self._solver.changeRowBounds(row, -highspy.kHighsInf, task.available[kind])
        self.task = task

    def solve(self) -> Relaxed:
        """Solve the linear problem over the columns known."""
        self._solver.run()
        solution = self._solver.getSolution()
        items, scale = len(self.task.wanted), self.task.scale * self._most
        duals = solution.row_dual
        saved = [0] * len(self.task.costs)
        for kind, row in self._limited.items():
            saved[kind] = max(0, round(-duals[row] * scale))
        prices = Prices(tuple(max(0, round(dual * scale)) for dual in duals[:items]), tuple(saved))
        values = solution.col_value
        short = any(value > 1e-6 for value in values[:items])
        cost = self._solver.getInfo().objective_function_value * self._most
        return Relaxed(cost, prices, tuple(values[items:]), short)


def quiet() -> highspy.Highs:
    """Give a solver that says nothing, uses one thread and starts from a fixed seed.

    The plain solver underneath, for the class around it prints its name before it can be told not to.
    """
    solver: highspy.Highs = highspy._Highs()  # type: ignore[attr-defined]
    solver.setOptionValue("output_flag", False)
    solver.setOptionValue("threads", 1)
    solver.setOptionValue("random_seed", 1)
    return solver


def dive(
    master: Master,
    refresh: Callable[[Master], Relaxed],
    like: Callable[[Column], int],
    at_left: Callable[[list[tuple[Column, int]], Task], None],
    skip: int = 0,
) -> list[tuple[Column, int]] | None:
    """Take columns one after another as the linear problem likes them, solving it again in between.

    Whole numbers of a column are taken at once, else one of the column that is nearest to one more, or
    the one ``skip`` places after it at first. ``refresh`` solves the problem and may add columns; ``like``
    breaks ties (higher first); ``at_left`` sees what is taken and what is left after each step. None where
    the panels run out. The master is left wanting what it wanted before.
    """
    full = left = master.task
    chosen: list[tuple[Column, int]] = []
    while any(left.wanted):
        master.want(left)
        relaxed = refresh(master)
        order = _liked(master.columns, relaxed.taken, like)
        if relaxed.short or not order:
            break
        whole = [(column, int(value + 1e-6)) for value, column in order if value >= 1 - 1e-6]
        if not whole:
            whole = [(order[min(skip, len(order) - 1)][1], 1)]
            skip = 0
        taken = _useful(left, whole)
        if not taken:
            break
        chosen.extend(taken)
        left = left.left(taken)
        at_left(chosen, left)
    master.want(full)
    return None if any(left.wanted) else chosen


def _liked(
    columns: Sequence[Column], values: Sequence[float], like: Callable[[Column], int]
) -> list[tuple[float, Column]]:
    """Give the columns that are taken at all, those that are nearest to one more first."""
    part = [(value, column) for column, value in zip(columns, values, strict=True) if value > 1e-6]
    part.sort(key=lambda entry: (-round(entry[0], 6), -like(entry[1]), entry[1].kind, entry[1].gives))
    return part


def _useful(left: Task, taken: Sequence[tuple[Column, int]]) -> list[tuple[Column, int]]:
    """Drop whatever gives nothing that is still wanted, or has no panel left."""
    kept: list[tuple[Column, int]] = []
    for column, times in taken:
        for _ in range(times):
            stock = left.available[column.kind]
            if stock == 0 or not any(left.wanted[item] for item, _ in column.gives):
                break
            kept.append((column, 1))
            left = left.left([(column, 1)])
    return kept


def choose(task: Task, columns: Sequence[Column], under: int, nodes: int) -> list[tuple[Column, int]] | None:
    """Choose whole numbers of columns that cost less than ``under``, as little as can be found.

    A small integer program; ``nodes`` bounds the search, and the caller bounds the number of columns.
    What it gives is a plan that the caller can count again; that it gives none proves nothing.
    """
    solver = quiet()
    most = max(1, *task.costs)
    for number in task.wanted:
        solver.addRow(number, highspy.kHighsInf, 0, [], [])
    limited: dict[int, int] = {}
    for kind, stock in enumerate(task.available):
        if stock is not None:
            limited[kind] = solver.getNumRow()
            solver.addRow(-highspy.kHighsInf, stock, 0, [], [])
    for column in columns:
        rows = [item for item, _ in column.gives]
        values = [float(number) for _, number in column.gives]
        if column.kind in limited:
            rows.append(limited[column.kind])
            values.append(1.0)
        solver.addCol(task.costs[column.kind] / most, 0, highspy.kHighsInf, len(rows), rows, values)
    everything = list(range(len(columns)))
    solver.changeColsIntegrality(len(columns), everything, [highspy.HighsVarType.kInteger] * len(columns))
    solver.addRow(
        -highspy.kHighsInf, (under - 0.5) / most, len(columns), everything,
        [task.costs[column.kind] / most for column in columns],
    )  # fmt: skip
    solver.setOptionValue("mip_max_nodes", nodes)
    solver.setOptionValue("mip_rel_gap", 0.0)
    solver.run()
    values = solver.getSolution().col_value
    if not solver.getSolution().value_valid:
        return None
    taken = [(column, round(value)) for column, value in zip(columns, values, strict=True) if value > 0.5]
    if any(task.left(taken).wanted) or any(
        stock is not None and stock < 0 for stock in task.left(taken).available
    ):
        return None
    return taken if task.cost(taken) < under else None

"""What no plan can beat, found by trying everything: for a handful of pieces only.

It shares nothing with the planner but the records. A set of pieces fits on a panel where rows inside rows
of them do, at most three deep, the innermost pieces trimmed: every way to divide the set is tried, and of
every set all smallest boxes are kept. Plans are then every way to share the pieces out among panels.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from itertools import combinations

from ortools.sat.python import cp_model

from plangen.takeoff.cutting import Panel, Piece
from plangen.takeoff.cutting.model import Direction, Sawing

Box = tuple[int, int]  # along x, along y


@dataclass(frozen=True)
class Best:
    """The fewest panels, and the least cost, of any plan; None where there is none."""

    panels: int | None
    cost: Fraction | None


def best(pieces: Sequence[Piece], panels: Sequence[Panel], sawing: Sawing, trimmed: bool = True) -> Best:
    """Try everything. Without ``trimmed`` the pieces of an innermost row are all as wide as the row."""
    single = [piece for piece in pieces for _ in range(piece.number)]
    everything = frozenset(range(len(single)))
    groups: dict[str, list[int]] = {}
    for index, piece in enumerate(single):
        if piece.together:
            groups.setdefault(piece.together, []).append(index)
    fits = {
        index: frozenset(
            chosen
            for chosen in _subsets(everything)
            if chosen and _fits(single, chosen, panel, sawing, trimmed)
        )
        for index, panel in enumerate(panels)
    }

    def allowed(chosen: frozenset[int]) -> bool:
        return all(not chosen & set(group) or chosen >= set(group) for group in groups.values())

    @cache
    def fewest(left: frozenset[int], there: tuple[int | None, ...]) -> tuple[int, Fraction] | None:
        return _least(left, there, count=True)

    @cache
    def cheapest(left: frozenset[int], there: tuple[int | None, ...]) -> tuple[int, Fraction] | None:
        return _least(left, there, count=False)

    def _least(
        left: frozenset[int], there: tuple[int | None, ...], count: bool
    ) -> tuple[int, Fraction] | None:
        if not left:
            return 0, Fraction(0)
        first, found = min(left), None
        for index, panel in enumerate(panels):
            if there[index] == 0:
                continue
            had = there[index]
            rest = (*there[:index], None if had is None else had - 1, *there[index + 1 :])
            for chosen in fits[index]:
                if first not in chosen or not chosen <= left or not allowed(chosen):
                    continue
                after = (fewest if count else cheapest)(left - chosen, rest)
                if after is None:
                    continue
                one = (after[0] + 1, after[1] + panel.cost)
                if found is None or (one[0] < found[0] if count else one[1] < found[1]):
                    found = one
        return found

    there = tuple(panel.available for panel in panels)
    few, cheap = fewest(everything, there), cheapest(everything, there)
    return Best(few[0] if few else None, cheap[1] if cheap else None)


def _subsets(everything: frozenset[int]) -> Iterator[frozenset[int]]:
    for size in range(len(everything) + 1):
        yield from (frozenset(chosen) for chosen in combinations(sorted(everything), size))


def _fits(
    pieces: Sequence[Piece], chosen: frozenset[int], panel: Panel, sawing: Sawing, trimmed: bool
) -> bool:
    margins, kerf = sawing.margins, sawing.kerf
    room = (panel.length - margins.left - margins.right, panel.width - margins.low - margins.high)

    def poses(piece: Piece) -> list[Box]:
        width = piece.width
        if piece.least_width is not None and piece.least_width <= room[1] < width:
            width = room[1]
        ways = [(piece.length, width), (width, piece.length)]
        return ways if piece.may_turn else ways[:1]

    @cache
    def boxes(some: frozenset[int], way: Direction, stages: int) -> frozenset[Box]:
        """All smallest boxes of a row of parts; the saw travels along ``way`` between them."""
        if len(some) == 1:
            return frozenset(poses(pieces[min(some)]))
        if stages == 0:
            return frozenset()
        other: Direction = "x" if way == "y" else "y"
        found: set[Box] = set()
        for parts in _partitions(sorted(some)):
            if len(parts) == 1:
                found |= boxes(some, other, stages - 1)
                continue
            rows: set[Box] = {(0, 0)}
            for at, part in enumerate(parts):
                inner = boxes(frozenset(part), other, stages - 1)
                even = at > 0 and stages == 1 and not trimmed
                rows = {
                    _joined(row, box, way, kerf if at else 0)
                    for row in rows
                    for box in inner
                    if not even or box[way == "y"] == row[way == "y"]
                }
                rows = {row for row in rows if row[0] <= room[0] and row[1] <= room[1]}
            found |= rows
        return frozenset(_smallest(found))

    ways: tuple[Direction, ...] = (sawing.first,) if sawing.first else ("x", "y")
    return any(box[0] <= room[0] and box[1] <= room[1] for way in ways for box in boxes(chosen, way, 3))


def _joined(row: Box, box: Box, way: Direction, kerf: int) -> Box:
    """A row and one more box; cuts along y stand between boxes that follow each other along x."""
    if way == "y":
        return row[0] + kerf + box[0], max(row[1], box[1])
    return max(row[0], box[0]), row[1] + kerf + box[1]


def _smallest(found: set[Box]) -> set[Box]:
    return {
        one for one in found if not any(two != one and two[0] <= one[0] and two[1] <= one[1] for two in found)
    }


def _partitions(items: Sequence[int]) -> Iterator[list[list[int]]]:
    """Every way to divide items into parts, whose order does not matter."""
    if not items:
        yield []
        return
    first, rest = items[0], items[1:]
    for parts in _partitions(rest):
        yield [[first], *parts]
        for index, part in enumerate(parts):
            yield [*parts[:index], [first, *part], *parts[index + 1 :]]


def cheapest_bars(pieces: Sequence[Piece], bars: Sequence[Panel], sawing: Sawing) -> Fraction | None:
    """The least cost of bars for pieces of which only the length matters, by a general solver.

    A model of its own: which piece lies on which bar, and which bars are bought.
    """
    single = [piece for piece in pieces for _ in range(piece.number)]
    ends = sawing.margins.left + sawing.margins.right
    model = cp_model.CpModel()
    scale = 1
    for bar in bars:
        scale = scale * bar.cost.denominator
    used: list[tuple[cp_model.IntVar, Panel]] = []
    on: list[list[cp_model.IntVar]] = []
    for bar in bars:
        number = len(single) if bar.available is None else min(bar.available, len(single))
        for index in range(number):
            bought = model.new_bool_var("")
            row = [model.new_bool_var("") for _ in single]
            taken = sum((piece.length + sawing.kerf) * lies for piece, lies in zip(single, row, strict=True))
            model.add(taken <= (bar.length - ends + sawing.kerf) * bought)
            if index:
                model.add_implication(bought, used[-1][0])
            used.append((bought, bar))
            on.append(row)
    for index in range(len(single)):
        model.add_exactly_one(row[index] for row in on)
    homes: dict[str, int] = {}
    for index, piece in enumerate(single):
        if piece.together:
            first = homes.setdefault(piece.together, index)
            for row in on:
                model.add(row[index] == row[first])
    model.minimize(sum(int(bar.cost * scale) * bought for bought, bar in used))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 1
    status = solver.solve(model)
    if status == cp_model.INFEASIBLE:
        return None
    assert status == cp_model.OPTIMAL
    return Fraction(round(solver.objective_value), scale)

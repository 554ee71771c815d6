"""Place the dimensions of one view: each where it disturbs least, the nearest first.

Every dimension has candidate places, in rows outside the view and, for a cut far from the view's edges,
beside the cut. A candidate that puts a text on a text or a line, or two dimension lines too near each
other, is out; among the others the cheapest wins: few crossings, short extension lines, near the view.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from itertools import pairwise
from typing import Literal, TypeAlias

import numpy as np

from plangen.drawing.dimension_lines import DimensionLook
from plangen.drawing.part_sheets.dual import linear_marks, running_marks
from plangen.drawing.part_sheets.ground import Counts, Floats, Ground, Trace, stacked, trace
from plangen.drawing.part_sheets.marked import dimension_key, grouped, grouped_run
from plangen.drawing.part_sheets.picture import Picture
from plangen.drawing.part_sheets.plan import Dimension, PartPlan
from plangen.drawing.part_sheets.printed import PrintedDimension, printed
from plangen.drawing.part_sheets.reach import Reaches, ends_of
from plangen.drawing.sheet.measure import Bounds
from plangen.drawing.sheet.model import Mark, Xy
from plangen.joinery.space import Axis
from plangen.units import ZERO, Length, LengthStyle

FIRST_ROW = 8.0  # mm from the outline to the first dimension line
ROW_STEP = 1.0
WORTH_SPLITTING = 60.0  # mm of extension lines inside a view that a second run has to save
FARTHEST = 70.0
AT_ONCE = 16  # rows tried together
PAST: tuple[Literal["end", "start"], ...] = ("end", "start")
BESIDE = (4.5, 6.0, 8.0)  # mm from a cut to the line of a dimension inside the view
DEEP_INSIDE = 12.0  # mm from the edge of the view, from which a cut may be dimensioned beside itself
TIGHT = 1000.0  # the cost of one clash
ANY_ROOM = (float("inf"), float("inf"))

Drawer: TypeAlias = Callable[[], tuple[Mark, ...]]


@dataclass(frozen=True, slots=True)
class View:
    """A finished view: its marks with the blank's low left corner at the origin, and what they say.

    ``box`` is the box round the marks; ``grain`` tells whether it shows which way the grain runs.
    """

    picture: Picture
    marks: tuple[Mark, ...]
    printed: tuple[PrintedDimension, ...]
    clashes: int
    box: Bounds
    grain: bool


@dataclass(frozen=True, slots=True)
class Candidate:
    """A place for a piece of drawing: what it costs, how often it clashes, and how it is drawn."""

    cost: float
    clashes: int
    draw: Drawer


@dataclass(frozen=True, slots=True)
class Placed:
    """A view with its dimensions in place but no notes yet; ``tried`` has one ground for each order tried.

    ``lenient`` lets texts and lines clash where there is no other way.
    """

    plan: PartPlan
    picture: Picture
    style: LengthStyle
    look: DimensionLook
    lenient: bool
    printed: tuple[PrintedDimension, ...]
    tried: tuple[tuple[float, int, Ground], ...]  # cost, clashes, what is there


def place_dimensions(
    plan: PartPlan,
    picture: Picture,
    drawn: Sequence[Mark],
    dimensions: Sequence[Dimension],
    style: LengthStyle,
    look: DimensionLook,
    crowded: Sequence[str] = (),
    room: Xy = ANY_ROOM,
    *,
    lenient: bool = False,
) -> Placed:
    """Place the dimensions of one view over its lines ``drawn``.

    ``crowded`` names the ways ("up", "down", "left", "right") in which another view stands, where rows are
    less welcome; ``room`` is how wide and high the view may become. An order of placing that leads out of
    the room or to a clash is given up; a ``lenient`` view is placed with the fewest clashes, and they are
    counted.
    """
    reaches = Reaches(plan, picture)
    placer = _Placer(picture, reaches, look, frozenset(crowded), lenient)
    bare = Ground()
    bare.put(drawn)
    tried: list[tuple[float, int, Ground]] = []
    for items in _orders(_items(plan, dimensions), reaches):
        ground = bare.copy()
        pieces = ((partial(placer.candidates, item), partial(_of_item, plan, item)) for item in items)
        found = settled(pieces, ground, room, lenient=lenient)
        if found is not None:
            tried.append((*found, ground))
    said = tuple(printed(dimension, style) for dimension in dimensions)
    return Placed(plan, picture, style, look, lenient, said, tuple(tried))


def settled(
    pieces: Iterable[
        tuple[Callable[[Ground], Iterable[Candidate]], Callable[[tuple[Mark, ...]], tuple[Mark, ...]]]
    ],
    ground: Ground,
    room: Xy,
    *,
    lenient: bool,
) -> tuple[float, int] | None:
    """Put piece after piece where it costs least; give the cost and the clashes of all of them.

    A piece is a source of candidates, and what names its marks by what they say. None where a piece has no
    place but on something else, or lies out of the room; a ``lenient`` search puts it there.
    """
    cost, clashes = 0.0, 0
    for candidates, named in pieces:
        best = min(candidates(ground), key=lambda candidate: candidate.cost, default=None)
        if best is None or (best.clashes and not lenient):
            return None
        ground.put(named(best.draw()))
        cost, clashes = cost + best.cost, clashes + best.clashes
        if ground.box[2] - ground.box[0] > room[0] or ground.box[3] - ground.box[1] > room[1]:
            return None
    return cost, clashes


def _of_item(plan: PartPlan, item: tuple[Dimension, ...], marks: tuple[Mark, ...]) -> tuple[Mark, ...]:
    """Put the marks of one dimension, or of several that run from one datum, into their groups."""
    if len(item) > 1:
        return grouped_run(plan, item, marks)
    return grouped(marks, dimension_key(plan, item[0]))


def _orders(items: list[tuple[Dimension, ...]], reaches: Reaches) -> list[list[tuple[Dimension, ...]]]:
    """Give the orders worth trying: single dimensions nearest the view, or what runs from one datum first.

    Where many extension lines would go right through the view, also with the long runs in two.
    """
    runs = [item for item in items if len(item) > 1]
    singles = [item for item in items if len(item) == 1]
    if not runs:
        return [items]
    orders = [items, [*runs, *singles]] if singles else [items]
    halves = [half for run in runs for half in _halves(run, reaches)]
    if len(halves) > len(runs):
        alone = [half for half in halves if len(half) == 1]
        orders.append([*(half for half in halves if len(half) > 1), *alone, *singles])
    return orders


def _halves(run: tuple[Dimension, ...], reaches: Reaches) -> list[tuple[Dimension, ...]]:
    """Split a run into what lies nearer to either side of the view, where that saves much line."""
    axis = run[0].axis
    sides: dict[bool, list[Dimension]] = {True: [], False: []}
    through = {True: 0.0, False: 0.0}
    shortest = 0.0
    for dimension in run:
        lengths = {}
        for high in (True, False):
            reach = reaches.of(axis, dimension.pairs[0][1], dimension.shapes, high)
            lengths[high] = reaches.inside(axis, reach, high)
            through[high] += lengths[high]
        shortest += min(lengths.values())
        sides[lengths[True] < lengths[False]].append(dimension)
    if not all(sides.values()) or min(through.values()) - shortest < WORTH_SPLITTING:
        return [run]
    whole = [dimension for dimension in run if dimension.kind == "overall"]
    for high, group in sides.items():
        others = [dimension for dimension in group if dimension.kind != "overall"]
        keeps = bool(whole) and len(others) == max(len(one) for one in _without_overall(sides).values())
        sides[high] = [*others, *whole] if keeps else others
        whole = [] if keeps else whole
    return [tuple(group) for group in sides.values() if group]


def _without_overall(sides: dict[bool, list[Dimension]]) -> dict[bool, list[Dimension]]:
    return {high: [one for one in group if one.kind != "overall"] for high, group in sides.items()}


def _items(plan: PartPlan, dimensions: Sequence[Dimension]) -> list[tuple[Dimension, ...]]:
    """Put together what is read from one datum; order by what has to stand nearest to the view."""
    alone: list[Dimension] = []
    runs: list[tuple[Dimension, ...]] = []
    for axis in Axis:
        here = [dimension for dimension in dimensions if dimension.axis is axis]
        whole = [dimension for dimension in here if dimension.kind == "overall"]
        datums: dict[object, list[Dimension]] = {}
        for dimension in here:
            if dimension.kind == "location":
                datums.setdefault(dimension.pairs[0][0], []).append(dimension)
        alone += [dimension for dimension in here if dimension.kind not in ("location", "overall")]
        shared = sorted((group for group in datums.values() if len(group) > 1), key=len, reverse=True)
        alone += [group[0] for group in datums.values() if len(group) == 1]
        for number, group in enumerate(shared):
            datum = group[0].pairs[0][0]
            if number == 0 and whole:
                far = plan.part.blank.size(axis) if datum == ZERO else ZERO
                group = [*group, replace(whole.pop(), pairs=((datum, far),))]
            runs.append(tuple(sorted(group, key=lambda one: one.value)))
        alone += whole
    rank = {"size": 0, "row": 1, "location": 1, "reference": 2, "overall": 4}
    short = sorted(
        (one for one in alone if one.kind != "overall"),
        key=lambda one: (rank[one.kind], _reach(one), one.axis.value),
    )
    last = sorted(
        (one for one in alone if one.kind == "overall"), key=lambda one: (one.value, one.axis.value)
    )
    return [*((one,) for one in short), *runs, *((one,) for one in last)]


def _reach(dimension: Dimension) -> float:
    ends = [float(end) for pair in dimension.pairs for end in pair]
    return max(ends) - min(ends) if dimension.kind == "row" else float(dimension.value)


@dataclass(frozen=True, slots=True)
class _Way:
    """A way to draw a dimension with its line at any level, and how far its extension lines run inside.

    ``there`` is its trace at ``level``, where that is known.
    """

    draw: Callable[[float], tuple[Mark, ...]]
    inside: float
    level: float = 0.0
    there: Trace | None = None

    @property
    def least(self) -> float:
        """What it costs at the least, for its extension lines."""
        return 0.35 * max(0.0, self.inside - 2.0)

    def at_levels(self, levels: Floats) -> Trace:
        """Give its traces at levels that lie outside where its extension lines start.

        From one level to another everything moves in proportion, so that only two of them are drawn.
        """
        first, there = self.level, self.there or trace(self.draw(self.level))
        last = float(levels[-1]) if float(levels[-1]) != first else first + (1.0 if first > 0.0 else -1.0)
        return there.towards(trace(self.draw(last)), (levels - first) / (last - first))


@dataclass(frozen=True, slots=True)
class _Placer:
    picture: Picture
    reaches: Reaches
    look: DimensionLook
    crowded: frozenset[str]
    lenient: bool

    def candidates(self, item: tuple[Dimension, ...], ground: Ground) -> Iterator[Candidate]:
        """Give places for one linear dimension, or for several that run from one datum."""
        cheapest = float("inf")
        for high in (True, False):
            for candidate in self._rows(item, high, ground, cheapest):
                cheapest = min(cheapest, candidate.cost)
                yield candidate
        if len(item) == 1 and item[0].kind in ("size", "location", "row"):
            yield from self._beside(item[0], ground, cheapest)

    def _rows(
        self, item: tuple[Dimension, ...], high: bool, ground: Ground, cheapest: float
    ) -> Iterator[Candidate]:
        """Give places outside the view on one side, outward until one is free or none can be cheaper."""
        across = self.picture.sight.is_across(item[0].axis)
        way = ("down", "up")[high] if across else ("left", "right")[high]
        burden = 3.0 if way in self.crowded else 0.0
        edge = self._far_edge(across) if high else 0.0
        sign = 1.0 if high else -1.0
        ways = [one for one in self._ways(item, across, high) if one.least + burden < cheapest]
        ways = _different(ways, edge + sign * FIRST_ROW)
        if not ways:
            return
        leasts = [one.least + burden for one in ways]
        most = min(FARTHEST, FIRST_ROW + (cheapest - min(leasts)) / 0.3) if cheapest < TIGHT else FARTHEST
        for rows in _in_turn(np.arange(FIRST_ROW, most, ROW_STEP)):
            levels = edge + sign * rows
            traces = [one.at_levels(levels) for one in ways]
            counted = _all_clashes(ground, traces)
            free = np.min(counted, axis=0) == 0
            if not free.any() and not self.lenient:
                continue
            for one, least, tried, clashes in zip(ways, leasts, traces, counted, strict=True):
                row = int(np.argmax(free) if free.any() else np.argmin(clashes))
                if free.any() and clashes[row]:
                    continue
                cost = least + 0.3 * float(rows[row] - FIRST_ROW)
                if cost < cheapest:
                    number = int(clashes[row])
                    here = tried.at(slice(row, row + 1))
                    cost += TIGHT * number if number else cost_of(ground.crossings(here), 0.8)
                    yield Candidate(cost, number, partial(one.draw, float(levels[row])))
                    cheapest = min(cheapest, cost)
            if free.any():
                return

    def _beside(self, dimension: Dimension, ground: Ground, cheapest: float) -> Iterator[Candidate]:
        """Give places inside the view, next to the cut itself, for cuts far from its edges."""
        across = self.picture.sight.is_across(dimension.axis)
        for high in (True, False):
            reach = self.reaches.of(dimension.axis, dimension.pairs[0][1], dimension.shapes, high)
            if self.reaches.inside(dimension.axis, reach, high) < DEEP_INSIDE:
                continue
            for gap in BESIDE:
                level = reach + gap if high else reach - gap
                least = 6.0 + gap / 4
                if not 0.0 < level < self._far_edge(across) or least >= cheapest:
                    continue
                ways = _different(self._ways((dimension,), across, high), level)
                traces = [way.there or trace(way.draw(level)) for way in ways]
                for way, tried, counted in zip(ways, traces, _all_clashes(ground, traces), strict=True):
                    clashes = int(counted[0])
                    cost = least + (TIGHT * clashes if clashes else cost_of(ground.crossings(tried), 2.5))
                    yield Candidate(cost, clashes, partial(way.draw, level))

    def _far_edge(self, across: bool) -> float:
        return self.picture.height if across else self.picture.width

    def _ways(self, item: tuple[Dimension, ...], across: bool, high: bool) -> Iterator[_Way]:
        """Give the ways to draw an item, its line at any level outside where its extension lines start."""
        if len(item) > 1:
            yield self._run(item, across, high)
            return
        (dimension,) = item
        index = 1 if across else 0
        direction: Literal["across", "up"] = "across" if across else "up"
        for stretch in ends_of(dimension):
            (start, one), (end, two) = (self._start(dimension, value, high) for value in stretch)
            for past in PAST:

                def draw(
                    level: float, start: Xy = start, end: Xy = end, past: Literal["end", "start"] = past
                ) -> tuple[Mark, ...]:
                    offset = level - start[index]
                    return linear_marks(start, end, offset, dimension.text, direction, self.look, past)

                yield _Way(draw, one + two)

    def _run(self, item: tuple[Dimension, ...], across: bool, high: bool) -> _Way:
        datum = item[0].pairs[0][0]
        origin, inside = self._start(replace(item[-1], shapes=()), datum, high)
        values = []
        for dimension in item:
            point, more = self._start(dimension, dimension.pairs[0][1], high)
            values.append((point, dimension.text))
            inside += more
        direction: Literal["across", "up"] = "across" if across else "up"
        start = origin[1 if across else 0]
        return _Way(lambda level: running_marks(origin, values, level - start, direction, self.look), inside)

    def _start(self, dimension: Dimension, value: Length, high: bool) -> tuple[Xy, float]:
        """Give where an extension line starts, and how far it runs inside the view."""
        axis = dimension.axis
        along = self.picture.place(axis, value)
        reach = self.reaches.of(axis, value, dimension.shapes, high)
        outside = FIRST_ROW / 2  # a hole may lie over the edge; its line starts before the first row
        reach = min(max(reach, -outside), self._far_edge(self.picture.sight.is_across(axis)) + outside)
        point = (along, reach) if self.picture.sight.is_across(axis) else (reach, along)
        return point, self.reaches.inside(axis, reach, high)


def _in_turn(rows: Floats) -> Iterator[Floats]:
    """Give the rows in the portions that they are tried in: the first, which is often free, by itself."""
    for first, last in pairwise((0, 1, *range(1 + AT_ONCE, len(rows) + AT_ONCE, AT_ONCE))):
        if first < len(rows):
            yield rows[first:last]


def _different(ways: Iterable[_Way], level: float) -> list[_Way]:
    """Give the ways to draw an item outside the view that differ; ``level`` is that of the first row.

    A text that has room between its arrows cannot stand past either end.
    """
    found: dict[tuple[Mark, ...], _Way] = {}
    for way in ways:
        marks = way.draw(level)
        if marks not in found:
            found[marks] = replace(way, level=level, there=trace(marks))
    return list(found.values())


def _all_clashes(ground: Ground, traces: Sequence[Trace]) -> Sequence[Counts]:
    """Count the clashes of several traces, all together where they have like pieces."""
    if len(traces) > 1 and all(traces[0].like(one) for one in traces[1:]):
        return np.split(ground.clashes(stacked(traces)), len(traces))
    return [ground.clashes(one) for one in traces]


def cost_of(crossed: tuple[int, int], edge: float) -> float:
    """Weigh what is crossed; ``edge`` is the price of crossing an edge of the part."""
    return 5.0 * crossed[0] + edge * crossed[1]

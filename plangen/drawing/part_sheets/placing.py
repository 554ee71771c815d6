"""Place the dimensions and notes of one view: each where it disturbs least, the nearest first.

Every dimension has candidate places, in rows outside the view and, for a cut far from the view's edges,
beside the cut. A candidate that puts a text on a text or a line, or two dimension lines too near each
other, is out; among the others the cheapest wins: few crossings, short extension lines, near the view.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from math import cos, pi, sin
from typing import Literal

from plangen.drawing.dimension_lines import DimensionLook, leader_note
from plangen.drawing.part_sheets.dual import linear_marks, radius_marks, running_marks
from plangen.drawing.part_sheets.ground import Ground, Trouble
from plangen.drawing.part_sheets.marked import dimension_key, grouped, grouped_run, note_key
from plangen.drawing.part_sheets.notes import Note
from plangen.drawing.part_sheets.picture import Picture
from plangen.drawing.part_sheets.plan import Dimension, PartPlan
from plangen.drawing.part_sheets.printed import PrintedDimension, printed
from plangen.drawing.part_sheets.reach import Reaches, ends_of
from plangen.drawing.part_sheets.targets import Target, targets_of
from plangen.drawing.part_sheets.words import wrapped
from plangen.drawing.sheet.model import Mark, Xy
from plangen.joinery.space import Axis
from plangen.units import ZERO, Length, LengthStyle

FIRST_ROW = 8.0  # mm from the outline to the first dimension line
ROW_STEP = 2.0
WORTH_SPLITTING = 60.0  # mm of extension lines inside a view that a second run has to save
DISTANCES = (7.0, 10.0, 14.0, 19.0, 25.0, 33.0)  # mm from what a note speaks of to its leader's bend
STEPS = 18
WAYS = tuple(  # directions of leaders, the steepest left out
    (cos(angle), sin(angle))
    for angle in (2 * pi * (step + 0.5) / STEPS for step in range(STEPS))
    if abs(cos(angle)) > 0.2
)
FARTHEST = 70.0
PAST: tuple[Literal["end", "start"], ...] = ("end", "start")
NOTE_SIZE = 3.55  # mm of type size, 10 pt
NOTE_WIDTHS = (44.0, 33.0, 25.0)  # mm; the narrow ones for views with little room
DEEP_INSIDE = 12.0  # mm from the edge of the view, from which a cut may be dimensioned beside itself
TIGHT = 1000.0  # the cost of one clash


@dataclass(frozen=True, slots=True)
class View:
    """A finished view: its marks with the blank's low left corner at the origin, and what they say."""

    picture: Picture
    marks: tuple[Mark, ...]
    printed: tuple[PrintedDimension, ...]
    clashes: int


@dataclass(frozen=True, slots=True)
class _Candidate:
    cost: float
    clashes: int
    marks: tuple[Mark, ...]


@dataclass(frozen=True, slots=True)
class Placed:
    """A view with its dimensions in place but no notes yet; ``tried`` has one ground for each order tried."""

    plan: PartPlan
    picture: Picture
    style: LengthStyle
    look: DimensionLook
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
) -> Placed:
    """Place the dimensions of one view over its lines ``drawn``.

    ``crowded`` names the ways ("up", "down", "left", "right") in which another view stands, where rows are
    less welcome. What cannot be placed without a clash is placed with the fewest, and counted.
    """
    reaches = Reaches(plan, picture)
    placer = _Placer(picture, reaches, look, frozenset(crowded))
    tried = []
    for items in _orders(_items(plan, dimensions), reaches):
        ground = Ground()
        ground.put(drawn)
        chosen = [
            _settle(placer.candidates(item, ground), ground, partial(_of_item, plan, item)) for item in items
        ]
        tried.append((sum(one.cost for one in chosen), sum(one.clashes for one in chosen), ground))
    said = tuple(printed(dimension, style) for dimension in dimensions)
    return Placed(plan, picture, style, look, said, tuple(tried))


def add_notes(placed: Placed, notes: Sequence[Note], width: float = NOTE_WIDTHS[0]) -> View:
    """Place the notes of a view; their lines break at ``width`` mm."""
    noter = _Noter(placed, width * (1.4 if placed.style.system == "both" else 1.0))
    finished = []
    for order, (cost, clashes, dimensioned) in enumerate(placed.tried):
        ground = dimensioned.copy()
        chosen = [
            _settle(noter.candidates(note, ground), ground, partial(grouped, key=note_key(placed.plan, note)))
            for note in notes
        ]
        cost += sum(one.cost for one in chosen)
        clashes += sum(one.clashes for one in chosen)
        finished.append((cost, order, clashes, ground))
    _, _, clashes, ground = min(finished, key=lambda item: item[:2])
    return View(placed.picture, tuple(ground.marks), placed.printed, clashes)


def _settle(
    candidates: Iterable[_Candidate],
    ground: Ground,
    named: Callable[[tuple[Mark, ...]], tuple[Mark, ...]],
) -> _Candidate:
    """Take the cheapest candidate and put it down, its marks ``named`` by what they say."""
    best = min(candidates, key=lambda candidate: candidate.cost)
    ground.put(named(best.marks))
    return best


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
class _Placer:
    picture: Picture
    reaches: Reaches
    look: DimensionLook
    crowded: frozenset[str]

    def candidates(self, item: tuple[Dimension, ...], ground: Ground) -> Iterator[_Candidate]:
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
    ) -> Iterator[_Candidate]:
        """Give places outside the view on one side, outward until one is free or none can be cheaper."""
        across = self.picture.sight.is_across(item[0].axis)
        way = ("down", "up")[high] if across else ("left", "right")[high]
        burden = 3.0 if way in self.crowded else 0.0
        edge = self._far_edge(across) if high else 0.0
        offset = FIRST_ROW
        while offset < FARTHEST and burden + 0.3 * (offset - FIRST_ROW) < cheapest:
            line = edge + offset if high else edge - offset
            free = False
            for draw, inside in self._drawn(item, across, line, high):
                least = 0.35 * max(0.0, inside - 2.0) + burden + 0.3 * (offset - FIRST_ROW)
                if least >= cheapest:  # whatever it disturbs: it cannot be the best
                    continue
                marks = draw()
                trouble = ground.trouble(marks)
                cost = _cost(trouble, 0.8) + least
                yield _Candidate(cost, trouble.clashes, marks)
                cheapest = min(cheapest, cost)
                free = free or not trouble.clashes
            if free:
                return
            offset += ROW_STEP

    def _beside(self, dimension: Dimension, ground: Ground, cheapest: float) -> Iterator[_Candidate]:
        """Give places inside the view, next to the cut itself, for cuts far from its edges."""
        across = self.picture.sight.is_across(dimension.axis)
        for high in (True, False):
            reach = self.reaches.of(dimension.axis, dimension.pairs[0][1], dimension.shapes, high)
            if self.reaches.inside(dimension.axis, reach, high) < DEEP_INSIDE:
                continue
            for gap in (4.5, 6.0, 8.0):
                line = reach + gap if high else reach - gap
                least = 6.0 + gap / 4
                if not 0.0 < line < self._far_edge(across) or least >= cheapest:
                    continue
                for draw, _ in self._drawn((dimension,), across, line, high):
                    marks = draw()
                    trouble = ground.trouble(marks)
                    yield _Candidate(_cost(trouble, 2.5) + least, trouble.clashes, marks)

    def _far_edge(self, across: bool) -> float:
        return self.picture.height if across else self.picture.width

    def _drawn(
        self, item: tuple[Dimension, ...], across: bool, line: float, high: bool
    ) -> Iterator[tuple[Callable[[], tuple[Mark, ...]], float]]:
        """Say how an item is drawn with its line at ``line``, and how far extension lines run inside."""
        if len(item) > 1:
            yield self._run(item, across, line, high)
            return
        (dimension,) = item
        for stretch in ends_of(dimension):
            (start, one), (end, two) = (self._start(dimension, value, high) for value in stretch)
            offset = line - start[1 if across else 0]
            way: Literal["across", "up"] = "across" if across else "up"
            for past in PAST:
                yield (
                    partial(linear_marks, start, end, offset, dimension.text, way, self.look, past),
                    one + two,
                )

    def _run(
        self, item: tuple[Dimension, ...], across: bool, line: float, high: bool
    ) -> tuple[Callable[[], tuple[Mark, ...]], float]:
        datum = item[0].pairs[0][0]
        origin, inside = self._start(replace(item[-1], shapes=()), datum, high)
        values = []
        for dimension in item:
            point, more = self._start(dimension, dimension.pairs[0][1], high)
            values.append((point, dimension.text))
            inside += more
        direction: Literal["across", "up"] = "across" if across else "up"
        offset = line - origin[1 if across else 0]
        return partial(running_marks, origin, values, offset, direction, self.look), inside

    def _start(self, dimension: Dimension, value: Length, high: bool) -> tuple[Xy, float]:
        """Give where an extension line starts, and how far it runs inside the view."""
        axis = dimension.axis
        along = self.picture.place(axis, value)
        reach = self.reaches.of(axis, value, dimension.shapes, high)
        point = (along, reach) if self.picture.sight.is_across(axis) else (reach, along)
        return point, self.reaches.inside(axis, reach, high)


@dataclass(frozen=True, slots=True)
class _Noter:
    placed: Placed
    width: float

    def candidates(self, note: Note, ground: Ground) -> Iterator[_Candidate]:
        """Give places for a leader note round each of the places that it speaks of, the nearest first.

        The least steep come first; those that cannot be cheaper than what was given are left out.
        """
        lines = wrapped(note.text, NOTE_SIZE, self.width)
        targets = targets_of(self.placed.plan, note, self.placed.picture)
        open_ways = [(target, way) for target in targets for way in WAYS if target.open_to(way)]
        open_ways.sort(key=lambda item: _steep(item[1]))
        cheapest = float("inf")
        for far in DISTANCES:
            free = False
            for target, way in open_ways:
                if 0.45 * far + _steep(way) >= cheapest:
                    break
                one = self._drawn(note, target, way, far, lines, ground)
                yield one
                cheapest = min(cheapest, one.cost)
                free = free or not one.clashes
            if free:
                return

    def _drawn(
        self, note: Note, target: Target, way: Xy, far: float, lines: Sequence[str], ground: Ground
    ) -> _Candidate:
        tip = (target.at[0] + way[0] * target.rim, target.at[1] + way[1] * target.rim)
        elbow = (tip[0] + way[0] * far, tip[1] + way[1] * far)
        look = self.placed.look
        if note.kind == "radius":
            marks = radius_marks(tip, elbow, note.text, look)
        else:
            ends: Literal["arrow", "dot"] = "dot" if target.inside else "arrow"
            marks = leader_note(tip, elbow, lines, size=NOTE_SIZE, look=look, ends=ends)
        trouble = ground.trouble(marks)
        cost = _cost(trouble, 1.5) + trouble.crossings + 0.45 * far + _steep(way)
        return _Candidate(cost, trouble.clashes, marks)


def _steep(way: Xy) -> float:
    """Weigh the direction of a leader: level and to the right is best."""
    return round(1.5 * abs(way[1]) + (0.0 if way[0] > 0 else 0.3), 9)


def _cost(trouble: Trouble, edge: float) -> float:
    """Weigh what a candidate disturbs; ``edge`` is the price of crossing an edge of the part."""
    return TIGHT * trouble.clashes + 5.0 * trouble.crossings + edge * trouble.over_edges

"""Place the dimensions and notes of one view: each where it disturbs least, the nearest first.

Every dimension has candidate places, in rows outside the view and, for a cut far from the view's edges,
beside the cut. A candidate that puts a text on a text or a line, or two dimension lines too near each
other, is out; among the others the cheapest wins: few crossings, short extension lines, near the view.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from math import cos, pi, sin

from plangen.drawing.dimension_lines import DimensionLook, leader_note, linear, radius, running
from plangen.drawing.part_sheets.figures import figure
from plangen.drawing.part_sheets.ground import Ground
from plangen.drawing.part_sheets.notes import Note
from plangen.drawing.part_sheets.picture import Picture
from plangen.drawing.part_sheets.plan import Dimension, PartPlan
from plangen.drawing.part_sheets.printed import PrintedDimension, printed
from plangen.drawing.part_sheets.targets import Target, targets_of
from plangen.drawing.part_sheets.words import wrapped
from plangen.drawing.sheet.model import Mark, Xy
from plangen.joinery.operation import Form
from plangen.joinery.space import Axis
from plangen.units import ZERO, LengthStyle

FIRST_ROW = 8.0  # mm from the outline to the first dimension line
FARTHEST = 70.0
NOTE_SIZE = 3.55  # mm of type size, 10 pt
NOTE_WIDTH = 44.0
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


def place(
    plan: PartPlan,
    picture: Picture,
    drawn: Sequence[Mark],
    dimensions: Sequence[Dimension],
    notes: Sequence[Note],
    style: LengthStyle,
    look: DimensionLook,
    crowded: Sequence[str] = (),
) -> View:
    """Place the dimensions and notes of one view over its lines ``drawn``.

    ``crowded`` names the ways ("up", "down", "left", "right") in which another view stands, where rows are
    less welcome. What cannot be placed without a clash is placed with the fewest and counted in ``clashes``.
    """
    placer = _Placer(plan, picture, style, look, frozenset(crowded))
    tried = []
    for order, items in enumerate(_orders(_items(plan, dimensions))):
        ground = Ground()
        ground.put(drawn)
        chosen = [_settle(placer.candidates(item, ground), ground) for item in items]
        chosen += [_settle(placer.note_candidates(note, ground), ground) for note in notes]
        cost = sum(candidate.cost for candidate in chosen)
        clashes = sum(candidate.clashes for candidate in chosen)
        tried.append((cost, order, clashes, tuple(ground.marks)))
    _, _, clashes, marks = min(tried, key=lambda item: item[:2])
    said = tuple(printed(dimension, style) for dimension in dimensions)
    return View(picture, marks, said, clashes)


def _settle(candidates: Iterable[_Candidate], ground: Ground) -> _Candidate:
    """Take the cheapest candidate and put it down."""
    best = min(candidates, key=lambda candidate: candidate.cost)
    ground.put(best.marks)
    return best


def _orders(items: list[tuple[Dimension, ...]]) -> list[list[tuple[Dimension, ...]]]:
    """Give the orders worth trying: single dimensions nearest the view, or what runs from one datum first."""
    runs = [item for item in items if len(item) > 1]
    if not runs or len(runs) == len(items):
        return [items]
    return [items, [*runs, *(item for item in items if len(item) == 1)]]


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
    plan: PartPlan
    picture: Picture
    style: LengthStyle
    look: DimensionLook
    crowded: frozenset[str]

    def candidates(self, item: tuple[Dimension, ...], ground: Ground) -> Iterator[_Candidate]:
        """Give places for one linear dimension, or for several that run from one datum."""
        across = self.picture.sight.is_across(item[0].axis)
        height = self.picture.height if across else self.picture.width
        for high in (True, False):
            ways = ("up", "down") if across else ("right", "left")
            way = ways[0] if high else ways[1]
            edge = height if high else 0.0
            burden = 3.0 if way in self.crowded else 0.0
            found: list[_Candidate] = []
            offset = FIRST_ROW
            while offset < FARTHEST:
                line = edge + offset if high else edge - offset
                tries = [self._tried(marks, ground, offset, inside, burden)
                         for marks, inside in self._drawn(item, across, line, high)]  # fmt: skip
                best = min(tries, key=lambda one: one.cost)
                found.append(best)
                if not best.clashes:
                    break
                offset += 1.0
            yield min(found, key=lambda one: one.cost)
        if len(item) == 1 and item[0].kind in ("size", "location", "row"):
            yield from self._beside(item[0], across, height, ground)

    def _tried(
        self, marks: tuple[Mark, ...], ground: Ground, offset: float, inside: float, burden: float
    ) -> _Candidate:
        trouble = ground.trouble(marks)
        cost = (
            TIGHT * trouble.clashes
            + 5.0 * trouble.crossings
            + 0.8 * trouble.over_edges
            + 0.35 * max(0.0, inside - 2.0)
            + 0.3 * (offset - FIRST_ROW)
            + burden
        )
        return _Candidate(cost, trouble.clashes, marks)

    def _drawn(
        self, item: tuple[Dimension, ...], across: bool, line: float, high: bool
    ) -> Iterator[tuple[tuple[Mark, ...], float]]:
        """Draw an item with its dimension line at ``line``; also give how far extension lines run inside."""
        if len(item) > 1:
            yield self._run(item, across, line, high)
            return
        dimension = item[0]
        pairs = dimension.pairs
        stretches = [(pairs[0][0], pairs[-1][1])] if dimension.kind == "row" else list(pairs)
        for start, end in stretches:
            ends = []
            inside = 0.0
            for value in (start, end):
                along = self.picture.place(dimension.axis, value)
                reach = self._reach(dimension, value, across, high)
                inside += self._hidden_length(reach, across, high)
                ends.append((along, reach) if across else (reach, along))
            offset = line - (ends[0][1] if across else ends[0][0])
            for past in ("end", "start"):
                marks = linear(
                    ends[0], ends[1], offset, dimension.text,
                    direction="across" if across else "up", look=self.look,
                    outside=past,
                )  # fmt: skip
                yield marks, inside

    def _run(
        self, item: tuple[Dimension, ...], across: bool, line: float, high: bool
    ) -> tuple[tuple[Mark, ...], float]:
        axis, datum = item[0].axis, item[0].pairs[0][0]
        inside = 0.0

        def point(dimension: Dimension, value: object) -> Xy:
            nonlocal inside
            along = self.picture.place(axis, value)  # type: ignore[arg-type]
            reach = self._reach(dimension, value, across, high)
            inside += self._hidden_length(reach, across, high)
            return (along, reach) if across else (reach, along)

        origin = point(replace(item[-1], kind="overall"), datum)
        values = [(point(dimension, dimension.pairs[0][1]), dimension.text) for dimension in item]
        offset = line - (origin[1] if across else origin[0])
        marks = running(
            origin, values, offset, direction="across" if across else "up",
            zero=figure(ZERO, self.style.only("inch")), look=self.look,
        )  # fmt: skip
        return marks, inside

    def _hidden_length(self, reach: float, across: bool, high: bool) -> float:
        edge = (self.picture.height if across else self.picture.width) if high else 0.0
        return abs(edge - reach)

    def _reach(self, dimension: Dimension, value: object, across: bool, high: bool) -> float:
        """Where an extension line starts: the end towards the row of what has an edge or centre there."""
        extents = [] if dimension.kind == "overall" else list(self._extents(dimension, value, across))
        if not extents:
            extents = list(self._drawn_at(dimension.axis, value, across))
        height = self.picture.height if across else self.picture.width
        if not extents:
            return height if high else 0.0
        return max(end for _, end in extents) if high else min(start for start, _ in extents)

    def _extents(self, dimension: Dimension, value: object, across: bool) -> Iterator[tuple[float, float]]:
        sight = self.picture.sight
        cross = next(a for a in Axis if a is not dimension.axis and not sight.is_along(a))
        for number in dimension.shapes:
            shape = self.plan.shapes[number]
            span = shape.span(dimension.axis)
            if shape.feature.form is Form.OUTLINE:
                continue
            if value not in (span.low, span.high):
                continue
            ends = (
                self.picture.place(cross, shape.span(cross).low),
                self.picture.place(cross, shape.span(cross).high),
            )
            grow = 0.0
            if (
                shape.feature.form is Form.HOLE
                and shape.feature.diameter
                and shape.span(cross).low == shape.span(cross).high
            ):
                wide = shape.feature.counterbore[0] if shape.feature.counterbore else shape.feature.diameter
                grow = float(wide) / 2 * self.picture.across.scale
            yield min(ends) - grow, max(ends) + grow

    def _drawn_at(self, axis: Axis, value: object, across: bool) -> Iterator[tuple[float, float]]:
        """Give the extents of the lines that really are there at a coordinate (an end may be cut away)."""
        here = self.picture.place(axis, value)  # type: ignore[arg-type]
        index = 0 if across else 1
        for line in self.picture.lines():
            for point in line.points:
                if abs(point[index] - here) < 0.02:
                    yield point[1 - index], point[1 - index]

    def _beside(
        self, dimension: Dimension, across: bool, height: float, ground: Ground
    ) -> Iterator[_Candidate]:
        """Give places inside the view, next to the cut itself, for cuts far from its edges."""
        for high in (True, False):
            reach = self._reach(dimension, dimension.pairs[0][1], across, high)
            if self._hidden_length(reach, across, high) < DEEP_INSIDE:
                continue
            for gap in (4.5, 6.0, 8.0):
                line = reach + gap if high else reach - gap
                if not 0.0 < line < height:
                    continue
                for marks, _ in self._drawn((dimension,), across, line, high):
                    trouble = ground.trouble(marks)
                    cost = (
                        TIGHT * trouble.clashes
                        + 5.0 * trouble.crossings
                        + 2.5 * trouble.over_edges
                        + 6.0
                        + gap / 4
                    )
                    yield _Candidate(cost, trouble.clashes, marks)

    def note_candidates(self, note: Note, ground: Ground) -> Iterator[_Candidate]:
        """Give places for a leader note round each of the places that it speaks of."""
        lines = wrapped(note.text, NOTE_SIZE, NOTE_WIDTH)
        targets = targets_of(self.plan, note, self.picture)
        for far in (7.0, 10.0, 14.0, 19.0, 25.0, 32.0, 40.0):
            found = []
            for target in targets:
                for step in range(24):
                    angle = 2 * pi * (step + 0.5) / 24
                    way = (cos(angle), sin(angle))
                    if abs(way[0]) < 0.2 or not target.open_to(way):
                        continue
                    found.append(self._noted(note, target, way, far, lines, ground))
            if found:
                best = min(found, key=lambda one: one.cost)
                yield best
                if not best.clashes:
                    return

    def _noted(
        self, note: Note, target: Target, way: Xy, far: float, lines: Sequence[str], ground: Ground
    ) -> _Candidate:
        tip = (target.at[0] + way[0] * target.rim, target.at[1] + way[1] * target.rim)
        elbow = (tip[0] + way[0] * far, tip[1] + way[1] * far)
        if note.kind == "radius":
            marks = radius(tip, elbow, note.text, look=self.look)
        else:
            marks = leader_note(
                tip, elbow, lines, size=NOTE_SIZE, look=self.look, ends="dot" if target.inside else "arrow"
            )
        trouble = ground.trouble(marks)
        cost = (
            TIGHT * trouble.clashes + 6.0 * trouble.crossings + 1.5 * trouble.over_edges + 0.45 * far
            + 1.5 * abs(way[1]) + (0.0 if way[0] > 0 else 0.3)
        )  # fmt: skip
        return _Candidate(cost, trouble.clashes, marks)

"""Measure a drawing: boxes of marks and texts, and everything that lies over what it should keep clear of."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, fields
from functools import cached_property
from math import cos, radians, sin
from typing import Any

import numpy as np
import shapely
from shapely.geometry import LineString, Polygon
from shapely.strtree import STRtree

from plangen.drawing.sheet.lettering import has_fraction, text_width
from plangen.drawing.sheet.model import Drawing, Fill, Mark, Meaning, Stroke, Text, Tone, Weight, Xy

FIGURE_SHARE = 0.65  # height of a figure over the type size, from the family's own metrics
FRACTION_SHARE, FRACTION_DROP = 0.74, 0.07  # a set fraction reaches above a figure and below the baseline
DESCENT_SHARE = 0.2  # below the baseline, for letters such as g

_SAME_POINT = 0.2  # mm within which two leaders start or end at one point
_HATCH_REACH = 6.0  # mm; hatching lines farther apart than twice this do not make an area
_OUTLINES = (Meaning.VISIBLE, Meaning.RIM, Meaning.CONTEXT, Meaning.CUT)

Bounds = tuple[float, float, float, float]  # low x, low y, high x, high y


def text_length(text: str, size: float, weight: Weight = Weight.REGULAR) -> float:
    """Give the length of a run of text in millimetres, its fractions set."""
    return text_width(text, size, weight)


def text_corners(text: Text) -> tuple[Xy, Xy, Xy, Xy]:
    """Give the corners of the box round the figures of a text; lower than its baseline where letters are."""
    low = -DESCENT_SHARE if _descends(text) and text.role != "dimension" else 0.0
    return _corners(text, low, FIGURE_SHARE)


def text_area(text: Text) -> Any:
    """Give the box of a text as a shapely area."""
    return Polygon(text_corners(text))


def ink_corners(text: Text) -> tuple[Xy, Xy, Xy, Xy]:
    """Give the corners of the box of all ink of a text; a set fraction stands out above and below."""
    fraction = has_fraction(text.text)
    low = -DESCENT_SHARE if _descends(text) and text.role != "dimension" else 0.0
    return _corners(
        text, min(low, -FRACTION_DROP if fraction else 0.0), FRACTION_SHARE if fraction else FIGURE_SHARE
    )


def _descends(text: Text) -> bool:
    return any(letter in "gjpqyQ,;()" for letter in text.text) or "/" in text.text


def _corners(text: Text, low: float, high: float) -> tuple[Xy, Xy, Xy, Xy]:
    """Give the corners of a text's box, ``low`` and ``high`` in shares of the type size."""
    length = text_length(text.text, text.size, text.weight)
    low_x = {"start": 0.0, "middle": -length / 2, "end": -length}[text.anchor]
    c, s = cos(radians(text.angle)), sin(radians(text.angle))

    def turned(x: float, y: float) -> Xy:
        return (text.at[0] + x * c - y * s, text.at[1] + x * s + y * c)

    return (
        turned(low_x, low * text.size),
        turned(low_x + length, low * text.size),
        turned(low_x + length, high * text.size),
        turned(low_x, high * text.size),
    )


def mark_points(mark: Mark) -> tuple[Xy, ...]:
    """Points whose box is the box of the mark."""
    if isinstance(mark, Stroke):
        return mark.points
    if isinstance(mark, Fill):
        return tuple(point for loop in mark.loops for point in loop)
    if isinstance(mark, Text):
        return text_corners(mark)
    return (mark.low, mark.high)


def bounds(marks: Iterable[Mark]) -> Bounds:
    """Give the box round all marks, line widths left out; ValueError when there are none."""
    points = [point for mark in marks for point in mark_points(mark)]
    if not points:
        raise ValueError("nothing to measure")
    return (
        min(x for x, _ in points),
        min(y for _, y in points),
        max(x for x, _ in points),
        max(y for _, y in points),
    )


def texts_over_texts(marks: Sequence[Mark], tolerance: float = 0.1) -> tuple[tuple[Text, Text], ...]:
    """Every pair of texts whose boxes share more than ``tolerance`` mm both ways."""
    painted = _Painted(marks, text_corners)
    return tuple((painted.texts[i][1], painted.texts[j][1]) for i, j, _ in _text_pairs(painted, tolerance))


def texts_over_strokes(marks: Sequence[Mark], tolerance: float = 0.1) -> tuple[tuple[Text, Stroke], ...]:
    """Every text with a stroke that shows under it.

    What a later fill has painted over no longer counts: that is how a balloon keeps its letter clear.
    """
    return tuple(_texts_with(_Painted(marks, text_corners), lambda stroke: True, tolerance))


@dataclass(frozen=True)
class Overlaps:
    """Every pair of marks of a drawing that lie over each other and must not.

    ``lines`` holds texts with a line, an arrowhead or a dot under or over them; hatching and leaders are
    counted apart. ``covered`` holds texts that a later fill has painted over. ``hatched`` holds
    dimension figures with a hatching line through them and dimension lines inside a hatched area.
    """

    texts: tuple[tuple[Text, Text], ...] = ()
    lines: tuple[tuple[Text, Stroke | Fill], ...] = ()
    covered: tuple[tuple[Text, Fill], ...] = ()
    hatched: tuple[tuple[Text | Stroke, Stroke], ...] = ()
    leaders_through_texts: tuple[tuple[Text, Stroke], ...] = ()
    leaders_over_leaders: tuple[tuple[Stroke, Stroke], ...] = ()

    @property
    def count(self) -> int:
        """How many pairs there are in all."""
        return sum(len(getattr(self, one.name)) for one in fields(self))

    def __str__(self) -> str:
        """Say what lies over what and where, one pair a line; ``nothing overlaps`` when nothing does."""
        pairs = [
            f"{one.name.replace('_', ' ')}: {_named(first)} and {_named(second)}"
            for one in fields(self)
            for first, second in getattr(self, one.name)
        ]
        return "\n".join(pairs) or "nothing overlaps"


def overlaps(drawing: Drawing, tolerance: float = 0.1) -> Overlaps:
    """Find everything in a drawing that lies over something that it should keep clear of.

    Boxes of texts are taken ``tolerance`` mm smaller on each side, so that touching is no overlap. What a
    later fill has painted over does not count. A leader counts with every text that it runs through, its
    own too: it stops short of its words. Two leaders that start or end at one point do not cross.
    """
    painted = _Painted(drawing.marks, ink_corners)
    hatching = _texts_with(painted, lambda stroke: stroke.meaning is Meaning.HATCH, tolerance)
    figures = tuple(pair for pair in hatching if pair[0].role == "dimension")
    lines = _texts_with(painted, lambda s: s.meaning not in (Meaning.HATCH, Meaning.LEADER), tolerance)
    others = tuple(pair for pair in hatching if pair[0].role != "dimension")
    return Overlaps(
        texts=_texts_seen_over_texts(painted, tolerance),
        lines=(*lines, *others, *_texts_over_ink(painted, tolerance)),
        covered=_covered_texts(painted, tolerance),
        hatched=(*figures, *_lines_in_hatching(painted)),
        leaders_through_texts=_texts_with(painted, lambda s: s.meaning is Meaning.LEADER, tolerance),
        leaders_over_leaders=_crossing_leaders(painted),
    )


class _Painted:
    """The marks of a drawing by kind, each with its place in the order of painting, and what hides them."""

    def __init__(self, marks: Sequence[Mark], corners: Callable[[Text], tuple[Xy, ...]]) -> None:
        self._corners = corners
        numbered = list(enumerate(marks))
        self.strokes = [(i, mark) for i, mark in numbered if isinstance(mark, Stroke)]
        self.texts = [(i, mark) for i, mark in numbered if isinstance(mark, Text) and mark.text.strip()]
        self.fills = [(i, mark) for i, mark in numbered if isinstance(mark, Fill)]
        self._areas: dict[int, Any] = {}

    def area(self, number: int) -> Any:
        """The area of the fill with a number."""
        if number not in self._areas:
            self._areas[number] = _area(self.fills[number][1])
        return self._areas[number]

    @cached_property
    def _boxes_of_fills(self) -> Boxes:
        return Boxes([mark_points(fill) for _, fill in self.fills])

    def fills_at(self, shapes: Sequence[Any], wanted: Callable[[Fill], bool]) -> list[int]:
        """The numbers of wanted fills whose box has a point in common with that of any of the shapes."""
        return [i for i in self._boxes_of_fills.meeting(shapes) if wanted(self.fills[i][1])]

    def boxes(self, tolerance: float) -> list[Any]:
        return [Polygon(self._corners(text)).buffer(-tolerance, join_style="mitre") for _, text in self.texts]

    def left(self, shape: Any, order: int) -> Any:
        """What of a shape the fills after ``order`` leave to be seen."""
        whole = shape
        for number in self._boxes_of_fills.meeting([whole]) if self.fills else ():
            if self.fills[number][0] > order and not shape.is_empty and self.area(number).intersects(whole):
                shape = shape.difference(self.area(number))
        return shape


class Boxes:
    """The boxes round some runs of points, for finding the few that can have to do with a shape."""

    def __init__(self, runs: Sequence[tuple[Xy, ...]]) -> None:
        self._rows = np.array([number for number, run in enumerate(runs) if run], dtype=np.int64)
        if len(self._rows):
            points = np.array([point for run in runs for point in run], dtype=np.float64)
            counts = np.array([len(run) for run in runs if run])
            starts = np.cumsum(counts) - counts
            self._low, self._high = np.minimum.reduceat(points, starts), np.maximum.reduceat(points, starts)

    def meeting(self, shapes: Sequence[Any]) -> list[int]:
        """The numbers of those that have a point in common with the box of any of the shapes, in order."""
        if not len(self._rows) or not len(shapes):
            return []
        low_x, low_y = self._low.T
        high_x, high_y = self._high.T
        met = np.zeros(len(self._rows), dtype=bool)
        for x0, y0, x1, y1 in shapely.bounds(list(shapes)).tolist():
            met |= (low_x <= x1) & (high_x >= x0) & (low_y <= y1) & (high_y >= y0)
        found: list[int] = self._rows[met].tolist()
        return found


def _text_pairs(painted: _Painted, tolerance: float) -> list[tuple[int, int, Any]]:
    """The numbers of every two texts that share room, and the room."""
    boxes = painted.boxes(tolerance)
    found = []
    for i, j in sorted(_pairs(boxes)):
        shared = boxes[i].intersection(boxes[j])
        if not shared.is_empty:
            found.append((i, j, shared))
    return found


def _texts_seen_over_texts(painted: _Painted, tolerance: float) -> tuple[tuple[Text, Text], ...]:
    """Every pair of texts that share room of which any is left to be seen."""
    texts = painted.texts
    return tuple(
        (texts[i][1], texts[j][1])
        for i, j, shared in _text_pairs(painted, tolerance)
        if painted.left(shared, texts[i][0]).area > 1e-6
    )


def _texts_with(
    painted: _Painted, wanted: Callable[[Stroke], bool], tolerance: float
) -> tuple[tuple[Text, Stroke], ...]:
    """Every text with a wanted stroke that shows in its box."""
    strokes = [(order, stroke) for order, stroke in painted.strokes if wanted(stroke)]
    boxes = painted.boxes(tolerance)
    strokes = [strokes[i] for i in Boxes([stroke.points for _, stroke in strokes]).meeting(boxes)]
    if not strokes:
        return ()
    lines = [_line(stroke) for _, stroke in strokes]
    found = []
    for index, number in _hits(STRtree(lines), boxes):
        (order, text), (earlier, stroke) = painted.texts[index], strokes[number]
        part = lines[number].intersection(boxes[index])
        if painted.left(part, min(order, earlier)).length > 1e-6:
            found.append((text, stroke))
    return tuple(found)


def _texts_over_ink(painted: _Painted, tolerance: float) -> tuple[tuple[Text, Fill], ...]:
    """Every text that has an arrowhead, a dot or other black under it or over it."""
    boxes = painted.boxes(tolerance)
    inked = painted.fills_at(boxes, _is_black)
    if not inked:
        return ()
    found = []
    for index, number in _hits(STRtree([painted.area(i) for i in inked]), boxes):
        (order, text), (painted_at, fill) = painted.texts[index], painted.fills[inked[number]]
        if text.tone is not Tone.PAPER or painted_at > order:
            shared = painted.area(inked[number]).intersection(boxes[index])
            if painted.left(shared, painted_at).area > 1e-6:
                found.append((text, fill))
    return tuple(found)


def _covered_texts(painted: _Painted, tolerance: float) -> tuple[tuple[Text, Fill], ...]:
    """Every text that a later fill, other than black, has painted over."""
    boxes = painted.boxes(tolerance)
    covering = painted.fills_at(boxes, lambda fill: not _is_black(fill))
    if not covering:
        return ()
    found = []
    for index, number in _hits(STRtree([painted.area(i) for i in covering]), boxes):
        (order, text), (later, fill) = painted.texts[index], painted.fills[covering[number]]
        if later > order and painted.area(covering[number]).intersection(boxes[index]).area > 1e-6:
            found.append((text, fill))
    return tuple(found)


def _is_black(fill: Fill) -> bool:
    return fill.tone in (Tone.INK, Tone.BLACK_DISC)


def _crossing_leaders(painted: _Painted) -> tuple[tuple[Stroke, Stroke], ...]:
    leaders = [(order, one) for order, one in painted.strokes if one.meaning is Meaning.LEADER]
    lines = [_line(one) for _, one in leaders]
    ends = [shapely.MultiPoint([one.points[0], one.points[-1]]) for _, one in leaders]
    found = []
    for i, j in sorted(_pairs(lines)):
        shared = lines[i].intersection(lines[j])
        meeting = ends[i].buffer(_SAME_POINT).intersection(ends[j].buffer(_SAME_POINT))
        if not painted.left(shared.difference(meeting), leaders[i][0]).is_empty:
            found.append((leaders[i][1], leaders[j][1]))
    return tuple(found)


def _lines_in_hatching(painted: _Painted) -> tuple[tuple[Stroke, Stroke], ...]:
    """Every dimension line that crosses a hatching line, or runs between two of one area."""
    hatches = [(order, one) for order, one in painted.strokes if one.meaning is Meaning.HATCH]
    dimensions = [(order, one) for order, one in painted.strokes if one.meaning is Meaning.DIMENSION]
    if not hatches or not dimensions:
        return ()
    lines = [_line(one) for _, one in hatches]
    tree = STRtree(lines)
    walls = [_line(one) for _, one in painted.strokes if one.meaning in _OUTLINES]
    wall_tree = STRtree(walls)
    measured = [_line(one) for _, one in dimensions]
    crossed: dict[int, int] = {}
    for index, number in _hits(tree, measured):
        shared = measured[index].intersection(lines[number])
        if not painted.left(shared, min(dimensions[index][0], hatches[number][0])).is_empty:
            crossed.setdefault(index, number)
    for index, line in enumerate(measured):
        if index not in crossed:
            between = _between(line, lines, tree, walls, wall_tree)
            if between is not None and not painted.left(line, hatches[between][0]).is_empty:
                crossed[index] = between
    return tuple((dimensions[index][1], hatches[crossed[index]][1]) for index in sorted(crossed))


def _between(line: Any, lines: list[Any], tree: STRtree, walls: list[Any], wall_tree: STRtree) -> int | None:
    """Give a hatching line beside the middle of a line, where another stands on its other side.

    Neither may stand behind an outline: that would be the hatching of the next piece.
    """
    middle = line.interpolate(0.5, normalized=True)
    ways: list[tuple[int, float, float]] = []
    for number in sorted(int(i) for i in tree.query(middle, predicate="dwithin", distance=_HATCH_REACH)):
        link = shapely.shortest_line(middle, lines[number])
        if any(link.intersects(walls[int(i)]) for i in wall_tree.query(link)) or link.length < 1e-9:
            continue
        (x0, y0), (x1, y1) = link.coords
        ways.append((number, (x1 - x0) / link.length, (y1 - y0) / link.length))
    for number, x, y in ways:
        if any(x * u + y * v < -0.9 for _, u, v in ways):
            return number
    return None


def _hits(tree: STRtree, shapes: Sequence[Any]) -> list[tuple[int, int]]:
    """Pairs of numbers (of ``shapes``, of the tree) that share a point, in order."""
    first, second = tree.query(list(shapes), predicate="intersects")
    return sorted((int(i), int(j)) for i, j in zip(first, second, strict=True))


def _named(mark: Mark) -> str:
    if isinstance(mark, Text):
        return f"{mark.role or 'text'} {mark.text!r} at {mark.at[0]:.1f}, {mark.at[1]:.1f}"
    x, y = mark_points(mark)[0]
    kind = mark.meaning.value + " line" if isinstance(mark, Stroke) else "area"
    return f"{kind} at {x:.1f}, {y:.1f}"


def _pairs(shapes: Sequence[Any]) -> set[tuple[int, int]]:
    if not shapes:
        return set()
    tree = STRtree(list(shapes))
    first, second = tree.query(list(shapes))
    return {(int(i), int(j)) for i, j in zip(first, second, strict=True) if i < j}


def _line(stroke: Stroke) -> Any:
    points = stroke.points + stroke.points[:1] if stroke.closed else stroke.points
    return LineString(points if len(points) > 1 else points * 2)


def _area(fill: Fill) -> Any:
    area = shapely.make_valid(Polygon(fill.loops[0])) if len(fill.loops[0]) > 2 else Polygon()
    for loop in fill.loops[1:]:
        if len(loop) > 2:
            area = area.symmetric_difference(shapely.make_valid(Polygon(loop)))
    return area

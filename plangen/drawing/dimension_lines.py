"""The pieces that every dimensioned drawing is made of: dimension lines, running dimensions, leaders.

All coordinates are millimetres on the paper, y upward. Layout follows ISO 129-1:2018 (extension lines
with a gap, filled arrowheads, running dimensions from a ringed origin); the lengths of arrow, gap and
overshoot are this project's own. Text always stands upright and interrupts the line it belongs to.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, hypot, radians, sin
from typing import Literal, TypeAlias

from plangen.drawing.sheet.lettering import LEAST_SIZE
from plangen.drawing.sheet.measure import FIGURE_SHARE, text_length
from plangen.drawing.sheet.model import Fill, Mark, Meaning, Stroke, Text, Tone, Weight, Xy

Direction: TypeAlias = Literal["across", "up", "aligned"]

FIGURE_HEIGHT = 3.44  # mm; 15 pt in the booklet's family
NOTE_SIZE = LEAST_SIZE


@dataclass(frozen=True, slots=True)
class DimensionLook:
    """The lengths that every dimension is drawn with, in millimetres."""

    figure: float = FIGURE_HEIGHT  # height of a figure
    arrow: tuple[float, float] = (3.0, 1.0)  # length, width
    running_arrow: tuple[float, float] = (2.4, 0.9)
    gap: float = 1.2  # between a feature and its extension line
    overshoot: float = 1.5  # of an extension line past its dimension line
    text_gap: tuple[float, float] = (1.2, 1.4)  # on each side of a text: across, up
    tail: float = 2.0  # of a line whose arrows stand outside
    beyond: float = 3.2  # from the outer tail to a text that stands outside
    ring: float = 0.9  # radius of the origin's ring

    @property
    def size(self) -> float:
        """The type size that gives the figure height."""
        return self.figure / FIGURE_SHARE


PUBLISH = DimensionLook()


def linear(
    start: Xy,
    end: Xy,
    offset: float,
    text: str,
    *,
    direction: Direction = "aligned",
    look: DimensionLook = PUBLISH,
    text_at: float = 0.5,
    outside: Literal["start", "end"] = "end",
) -> tuple[Mark, ...]:
    """Draw a dimension from ``start`` to ``end``.

    The dimension line lies ``offset`` from ``start``: upward for ``across``, to the right for ``up``, to
    the left of the way from start to end for ``aligned``; negative goes the other way. ``text_at`` says
    where along the line the text stands (0 to 1). Where the text does not fit, the arrows stand outside,
    and where even that gives no room, the text stands past ``outside``. Raises ValueError when the two points
    are the same along the direction measured.
    """
    along, square = _directions(start, end, direction)
    reach = (end[0] - start[0]) * along[0] + (end[1] - start[1]) * along[1]
    if abs(reach) < 1e-9:
        raise ValueError("a dimension needs two different points")
    if reach < 0:
        flip: Literal["start", "end"] = "start" if outside == "end" else "end"
        back = _dot(_minus(start, end), square)
        return linear(
            end, start, offset + back, text, direction=direction, look=look, text_at=1 - text_at, outside=flip
        )
    one = _plus(start, square, offset)
    two = _plus(one, along, reach)
    marks: list[Mark] = [*_extension(start, one, look), *_extension(end, two, look)]
    half = _half_gap(text, along, look)
    arrow = look.arrow[0]
    middle = min(max(reach * text_at, half + arrow + 0.6), reach - half - arrow - 0.6)
    if reach >= 2 * (half + arrow + 0.6):
        marks += _line(one, along, (0, middle - half), (middle + half, reach))
        marks += [_arrow(one, _times(along, -1), look.arrow), _arrow(two, along, look.arrow)]
        marks.append(_figure(_plus(one, along, middle), text, look))
        return tuple(marks)
    marks += [_arrow(one, along, look.arrow), _arrow(two, _times(along, -1), look.arrow)]
    outer = arrow + look.tail
    if reach >= 2 * half:
        marks += _line(one, along, (-outer, 0), (reach, reach + outer))
        marks.append(_figure(_plus(one, along, reach / 2), text, look))
        return tuple(marks)
    marks += _line(one, along, (-outer, reach + outer))
    if outside == "end":
        marks.append(_figure_past(_plus(one, along, reach + outer), along, text, look))
    else:
        marks.append(_figure_past(_plus(one, along, -outer), _times(along, -1), text, look))
    return tuple(marks)


def running(
    origin: Xy,
    values: Sequence[tuple[Xy, str]],
    offset: float,
    *,
    direction: Literal["across", "up"] = "up",
    zero: str = "0",
    look: DimensionLook = PUBLISH,
) -> tuple[Mark, ...]:
    """Draw running dimensions: every value is read from one ringed origin, as on a tape.

    ``values`` are the located points with their texts. The line lies ``offset`` from ``origin`` (to the
    right for ``up``, upward for ``across``); texts stand on its far side and are spread where they would
    touch, each joined to its line by a bend.
    """
    index = 1 if direction == "up" else 0
    line = origin[1 - index] + offset
    side = 1.0 if offset > 0 else -1.0

    def at(along: float, out: float) -> Xy:
        place = line + side * out
        return (place, along) if index else (along, place)

    points = [(origin, zero), *values]
    stops = [point[index] for point, _ in points]
    marks: list[Mark] = []
    for way in (1.0, -1.0):
        reach = max((way * (stop - stops[0]) for stop in stops[1:]), default=0.0)
        if reach > look.ring:
            first = stops[0] + way * look.ring
            marks.append(Stroke((at(first, 0), at(stops[0] + way * reach, 0)), Meaning.DIMENSION))
    marks.append(Stroke(circle(at(stops[0], 0), look.ring), Meaning.DIMENSION, closed=True))
    for stop in stops[1:]:
        towards = (
            (0.0, 1.0 if stop > stops[0] else -1.0) if index else (1.0 if stop > stops[0] else -1.0, 0.0)
        )
        marks.append(_arrow(at(stop, 0), towards, look.running_arrow))
    size = look.size
    if index:
        pitches = [look.figure + 1.2] * len(points)
    else:
        pitches = [text_length(text, size) + 2.0 for _, text in points]
    places = spread(stops, pitches)
    for (point, text), stop, place in zip(points, stops, places, strict=True):
        inner = -abs(point[1 - index] - line) + look.gap
        if stop == stops[0]:
            if inner < -look.ring:
                marks.append(Stroke((at(stop, inner), at(stop, -look.ring)), Meaning.EXTENSION))
            tick = [at(stop, look.ring)]
        else:
            tick = [at(stop, min(inner, 0.0))]
        bent = abs(place - stop) > 0.05
        tick += [at(stop, 1.2), at(place, 2.6)] if bent else [at(stop, look.overshoot)]
        if bent or stop != stops[0]:
            marks.append(Stroke(tuple(tick), Meaning.EXTENSION))
        out = 3.4 if bent else look.overshoot + 0.9
        if index:
            anchor: Literal["start", "end"] = "start" if side > 0 else "end"
            marks.append(
                Text((line + side * out, place - look.figure / 2), text, size, anchor, role="dimension")
            )
        else:
            base = line + out if side > 0 else line - out - look.figure
            marks.append(Text((place, base), text, size, "middle", role="dimension"))
    return tuple(marks)


def radius(
    on_arc: Xy,
    towards: Xy,
    text: str,
    *,
    look: DimensionLook = PUBLISH,
    note: str = "",
) -> tuple[Mark, ...]:
    """Draw a radius: an arrow on the arc, its leader from ``towards`` (the shelf's bend), the text after it.

    The text stands to the side that the leader comes from; ``note`` is set small under it.
    """
    side = 1.0 if towards[0] >= on_arc[0] else -1.0
    elbow, shelf_end = towards, (towards[0] + side * 1.5, towards[1])
    anchor: Literal["start", "end"] = "start" if side > 0 else "end"
    at = (shelf_end[0] + side * look.text_gap[0], shelf_end[1] - look.figure / 2)
    marks: list[Mark] = [
        Stroke((on_arc, elbow, shelf_end), Meaning.LEADER),
        _arrow(on_arc, _unit(_minus(on_arc, elbow)), look.arrow),
        Text(at, text, look.size, anchor, role="dimension"),
    ]
    if note:
        marks.append(Text((at[0], at[1] - 4.6), note, NOTE_SIZE, anchor, role="note"))
    return tuple(marks)


def leader_note(
    point: Xy,
    elbow: Xy,
    lines: Sequence[str],
    *,
    size: float = NOTE_SIZE,
    ends: Literal["arrow", "dot"] = "arrow",
    look: DimensionLook = PUBLISH,
    leading: float = 1.35,
) -> tuple[Mark, ...]:
    """Draw a leader from ``point`` to a note of one or more ``lines`` beside ``elbow``.

    The note stands on the side of the elbow that is away from the point; its first line is level with the
    elbow. ``size`` is the type size in millimetres, ``leading`` a multiple of it.
    """
    side = 1.0 if elbow[0] >= point[0] else -1.0
    shelf = (elbow[0] + side * 2.0, elbow[1])
    anchor: Literal["start", "end"] = "start" if side > 0 else "end"
    marks: list[Mark] = [Stroke((point, elbow, shelf), Meaning.LEADER)]
    if ends == "arrow":
        marks.append(_arrow(point, _unit(_minus(point, elbow)), look.running_arrow))
    else:
        marks.append(Fill((circle(point, 0.55, 16),), Tone.INK))
    x, y = shelf[0] + side * 0.8, shelf[1] - size * FIGURE_SHARE / 2
    marks += [
        Text((x, y - number * size * leading), line, size, anchor, role="note")
        for number, line in enumerate(lines)
    ]
    return tuple(marks)


def circle(centre: Xy, radius_: float, pieces: int = 48) -> tuple[Xy, ...]:
    """Give the corners of a regular polygon that stands for a circle (chord error under 0.3 % at 48)."""
    return tuple(
        (
            centre[0] + radius_ * cos(radians(360 * i / pieces)),
            centre[1] + radius_ * sin(radians(360 * i / pieces)),
        )
        for i in range(pieces)
    )


def spread(stops: Sequence[float], sizes: Sequence[float]) -> tuple[float, ...]:
    """Move items of the given ``sizes`` as little as possible (least squares) so that none overlap.

    Pool-adjacent-violators on the places less the room before them; the order of ``stops`` is kept.
    """
    order = sorted(range(len(stops)), key=lambda i: (stops[i], i))
    room = 0.0
    before: list[float] = []
    for rank, i in enumerate(order):
        if rank:
            room += (sizes[order[rank - 1]] + sizes[i]) / 2
        before.append(room)
    pools: list[tuple[float, int]] = []  # mean, number
    for rank, i in enumerate(order):
        mean, number = stops[i] - before[rank], 1
        while pools and pools[-1][0] > mean:
            other, count = pools.pop()
            mean = (mean * number + other * count) / (number + count)
            number += count
        pools.append((mean, number))
    flat = [mean for mean, number in pools for _ in range(number)]
    places = [0.0] * len(stops)
    for rank, i in enumerate(order):
        places[i] = flat[rank] + before[rank]
    return tuple(places)


def arrowhead(tip: Xy, towards: Xy, size: tuple[float, float] = (3.0, 1.0)) -> Fill:
    """Give a filled arrowhead with its ``tip`` and the unit vector it points along."""
    return _arrow(tip, towards, size)


def _directions(start: Xy, end: Xy, direction: Direction) -> tuple[Xy, Xy]:
    if direction == "across":
        return (1.0, 0.0), (0.0, 1.0)
    if direction == "up":
        return (0.0, 1.0), (1.0, 0.0)
    along = _unit(_minus(end, start))
    return along, (-along[1], along[0])


def _extension(point: Xy, to: Xy, look: DimensionLook) -> list[Mark]:
    length = hypot(to[0] - point[0], to[1] - point[1])
    if length <= look.gap:
        return []
    way = _unit(_minus(to, point))
    return [Stroke((_plus(point, way, look.gap), _plus(to, way, look.overshoot)), Meaning.EXTENSION)]


def _half_gap(text: str, along: Xy, look: DimensionLook) -> float:
    """Half the length of the gap in a line along ``along`` that an upright text needs, its air included."""
    across = text_length(text, look.size) / 2 + look.text_gap[0]
    up = look.figure / 2 + look.text_gap[1]
    ratios = [size / abs(part) for size, part in ((across, along[0]), (up, along[1])) if abs(part) > 1e-6]
    return min(ratios)


def _line(start: Xy, along: Xy, *stretches: tuple[float, float]) -> list[Mark]:
    return [
        Stroke((_plus(start, along, low), _plus(start, along, high)), Meaning.DIMENSION)
        for low, high in stretches
        if high - low > 1e-6
    ]


def _figure(middle: Xy, text: str, look: DimensionLook) -> Text:
    return Text(
        (middle[0], middle[1] - look.figure / 2), text, look.size, "middle", Weight.REGULAR, role="dimension"
    )


def _figure_past(tail: Xy, away: Xy, text: str, look: DimensionLook) -> Text:
    if abs(away[0]) < 0.5:
        middle = _plus(tail, away, look.text_gap[1] + look.figure / 2)
        return _figure(middle, text, look)
    side = 1.0 if away[0] > 0 else -1.0
    x = tail[0] + side * look.text_gap[0]
    return Text(
        (x, tail[1] - look.figure / 2), text, look.size, "start" if side > 0 else "end", role="dimension"
    )


def _arrow(tip: Xy, towards: Xy, size: tuple[float, float]) -> Fill:
    base = _plus(tip, towards, -size[0])
    across = (-towards[1], towards[0])
    return Fill(((tip, _plus(base, across, size[1] / 2), _plus(base, across, -size[1] / 2)),), Tone.INK)


def _plus(point: Xy, way: Xy, by: float) -> Xy:
    return (point[0] + way[0] * by, point[1] + way[1] * by)


def _minus(one: Xy, two: Xy) -> Xy:
    return (one[0] - two[0], one[1] - two[1])


def _dot(one: Xy, two: Xy) -> float:
    return one[0] * two[0] + one[1] * two[1]


def _times(way: Xy, by: float) -> Xy:
    return (way[0] * by, way[1] * by)


def _unit(way: Xy) -> Xy:
    length = hypot(*way)
    return (way[0] / length, way[1] / length) if length else (1.0, 0.0)

"""Wraps for ends that lean two ways: the four faces of a leg side by side, to fold round it and saw along."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from shapely.geometry import Polygon
from shapely.geometry import box as rectangle

from plangen.design.model import Design, Part
from plangen.drawing.part_sheets.captions import caption
from plangen.drawing.part_sheets.pattern_marks import rectangle_points
from plangen.drawing.part_sheets.pattern_room import (
    LABEL,
    SMALL_LABEL,
    Room,
    block,
    block_size,
    inked,
    wrapped,
)
from plangen.drawing.part_sheets.rulers import RULER_ROOM, rulers_along
from plangen.drawing.sheet.model import Drawing, Fill, Mark, Meaning, Stroke, Text, Tone, Weight, Xy
from plangen.joinery.cuts import PlaneCut
from plangen.joinery.space import Axis, Side
from plangen.units import LengthStyle, inches, millimetres, print_length

FLAP = 9.0  # mm that is pasted under the first face
UPRIGHT = 60.0  # mm; across a narrower face the words run upward
WOOD = 60.0  # mm of the leg beyond the cut, so that the paper folds true
AIR = 6.0  # mm round a wrap
HEAD = 38.0  # mm at the top of the sheet
FACES = 4


@dataclass(frozen=True, slots=True)
class Wrap:
    """One end unfolded: for each corner of the section, where the cut meets it.

    ``sides`` are the faces from left to right as one goes round outside the leg with the end upward;
    ``folds`` are the places of the corners across, five of them, and ``line`` the height of the cut there, mm
    from the far end of the blank; ``length`` is the blank's.
    """

    end: Side
    sides: tuple[Side, ...]
    folds: tuple[float, ...]
    line: tuple[float, ...]
    length: float


def wrap_of(part: Part, cut: PlaneCut, most: float) -> Wrap:
    """Unfold the end that a plane cuts; two faces only where four are wider than ``most`` mm.

    The plane is n · (p - q) = 0; along the leg it meets a corner (a, b) of the section at
    r = q_r - (n_a (a - q_a) + n_b (b - q_b)) / n_r.
    """
    runs, blank = part.runs, part.blank
    end = Side.of(runs, cut.normal[runs.value] > 0)
    sides = [_round_about(end)[0]]
    while len(sides) < FACES:
        sides.append(_right_of(sides[-1], end))
    widths = [float(blank.size(_across(one, runs))) for one in sides]
    number = FACES if sum(widths) + FLAP <= most else 2
    folds, line, at = [0.0], [], 0.0
    for index in range(number + 1):
        face, before = sides[index % FACES], sides[index - 1]
        if index:
            at += widths[index - 1]
            folds.append(at)
        corner = {one.axis: float(blank.side(one)) for one in (face, before)}
        through, normal = cut.through, cut.normal
        lean = sum(normal[a.value] * (value - float(through.at(a))) for a, value in corner.items())
        height = float(through.at(runs)) - lean / normal[runs.value]
        line.append(height if end.high else float(blank.size(runs)) - height)
    return Wrap(end, tuple(sides[:number]), tuple(folds), tuple(line), float(blank.size(runs)))


def _round_about(end: Side) -> tuple[Side, ...]:
    """Give the four sides about an end, the front or the nearest to it first."""
    return tuple(
        side for side in (Side.FRONT, Side.TOP, Side.RIGHT, Side.BACK, Side.BOTTOM, Side.LEFT)
        if side.axis is not end.axis
    )  # fmt: skip


def _right_of(face: Side, up: Side) -> Side:
    """Give the side on the right of a face that is looked at from outside: up × outward."""
    one, two = up.axis.value, face.axis.value
    other = next(axis for axis in Axis if axis.value not in (one, two))
    positive = (two - one) % 3 == 1  # across, deep, up are a right-handed system
    return Side.of(other, (up.sign * face.sign > 0) == positive)


def _across(face: Side, runs: Axis) -> Axis:
    return next(axis for axis in Axis if axis not in (face.axis, runs))


def wrap_pages(
    design: Design, part: Part, ends: tuple[PlaneCut, ...], paper: tuple[float, float], style: LengthStyle
) -> Iterator[Drawing]:
    """Draw a sheet for each end."""
    width, height = paper
    room = (width - RULER_ROOM - 2 * AIR, height - RULER_ROOM - HEAD - 2 * AIR)
    for cut in ends:
        yield _sheet(design, part, wrap_of(part, cut, room[0]), paper, style)


def _sheet(design: Design, part: Part, wrap: Wrap, paper: tuple[float, float], style: LengthStyle) -> Drawing:
    width, height = paper
    low = min(wrap.line) - WOOD
    high = max(wrap.length, *wrap.line)
    move = (RULER_ROOM + AIR, RULER_ROOM + AIR - low)
    right = wrap.folds[-1]

    def put(x: float, y: float) -> Xy:
        return (x + move[0], y + move[1])

    kept = Polygon([put(0.0, low), put(right, low), *(put(x, y) for x, y in _line(wrap, back=True))])
    gone = Polygon([*(put(x, y) for x, y in _line(wrap)), put(right, high), put(0.0, high)])
    marks: list[Mark] = [Fill((tuple(kept.exterior.coords[:-1]),), Tone.NEW_TOP)]
    marks.append(Stroke(rectangle_points(*put(0.0, low), right, high - low), Meaning.CONTEXT, closed=True))
    marks += [Stroke((put(x, low), put(x, high)), Meaning.HIDDEN) for x in wrap.folds[1:-1]]
    if len(wrap.sides) == FACES:
        flap = (
            put(right, low),
            put(right + FLAP, low + FLAP),
            put(right + FLAP, high - FLAP),
            put(right, high),
        )
        marks.append(Stroke(flap, Meaning.CONTEXT))
    marks.append(Stroke(tuple(put(x, y) for x, y in _line(wrap)), Meaning.VISIBLE))
    lay = _square_line(wrap, style)
    if lay is not None:
        marks.append(Stroke((put(0.0, lay[0]), put(right, lay[0])), Meaning.CENTRE))
    words: list[tuple[tuple[str, ...], Xy, Any, bool, Weight]] = []
    clear = Room()
    clear.take(inked(marks))
    for index, side in enumerate(wrap.sides):
        x0, x1 = wrap.folds[index], wrap.folds[index + 1]
        face = rectangle(*put(x0, low), *put(x1, high))
        middle = put((x0 + x1) / 2, min(wrap.line) - WOOD / 2)
        name = (caption(part, side).lower(),)
        words.append((name, middle, kept.intersection(face), x1 - x0 < UPRIGHT, Weight.REGULAR))
        if index == 0:
            corner = kept.intersection(face)
            words.insert(0, ((part.mark,), put(x0, low), corner, False, Weight.SEMIBOLD))
    if len(wrap.sides) == FACES:
        flap_area = rectangle(*put(right, low), *put(right + FLAP, high))
        words.append(
            (("paste under",), put(right + FLAP / 2, (low + high) / 2), flap_area, True, Weight.REGULAR)
        )
    words.append((("waste",), put(right / 2, high), gone, False, Weight.REGULAR))
    for said_words, near, area, upright, weight in words:
        wide, tall = block_size(said_words, LABEL)
        spot = clear.spot(area, *((tall, wide) if upright else (wide, tall)), near)
        if spot is not None:
            texts = block(said_words, spot, LABEL, upright=upright, first=weight)
            clear.take(texts)
            marks += texts
    marks += rulers_along((RULER_ROOM, RULER_ROOM))
    marks += _head(design, part, wrap, height, width, lay[1] if lay is not None else "")
    return Drawing(
        width, height, tuple(marks),
        f"Full-size wrap for the {wrap.end.word} end of {part.mark}",
        f"The faces of {part.title} unfolded at its {wrap.end.word} end with the line of the cut. "
        "Full size: check both rulers with a tape before cutting.",
    )  # fmt: skip


def _line(wrap: Wrap, *, back: bool = False) -> tuple[Xy, ...]:
    points = tuple(zip(wrap.folds, wrap.line, strict=True))
    return points[::-1] if back else points


def _square_line(wrap: Wrap, style: LengthStyle) -> tuple[float, str] | None:
    """Give a line square across at a round distance from the blank's end, under the cut, and its words."""
    step = millimetres(10) if style.system == "mm" else inches("1/2")
    number = int((wrap.length - min(wrap.line)) / float(step)) + 1
    length = step * number
    if wrap.length - float(length) < min(wrap.line) - WOOD + 20.0:
        return None
    said = f"Square line {print_length(length, style, unit=True)} from the end."
    return wrap.length - float(length), said


def _head(design: Design, part: Part, wrap: Wrap, top: float, right: float, square: str) -> Iterator[Mark]:
    title = f"{part.mark}  {wrap.end.word.capitalize()} end: fold round and saw"
    words = [f"Make {len(part.copies)}."] if len(part.copies) > 1 else []
    if part.mirror:
        words.append(f"For {design.part(part.mirror).mark} fold it print side in.")
    words.append("Lay the upper edge of the paper on the end of the square blank.")
    words += [square] if square else []
    words.append("Full size: a tape must agree with both rulers.")
    yield Text((RULER_ROOM, top - 7.0), title, LABEL, weight=Weight.SEMIBOLD, role="pattern")
    for number, line in enumerate(wrapped(" ".join(words), right - RULER_ROOM)):
        yield Text((RULER_ROOM, top - 14.8 - 6.6 * number), line, SMALL_LABEL, role="note")

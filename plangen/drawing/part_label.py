"""The label that is stuck on a piece: which it is, its size, its stock, its grain and its face side."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import islice

from plangen.drawing.balloons import balloon, half_width
from plangen.drawing.dimension_lines import arrowhead
from plangen.drawing.label_sheets import PAPER_SIZES, UNPRINTED, LabelSheet
from plangen.drawing.part_sheets.pictorial import TICK
from plangen.drawing.sheet.lettering import LEAST_SIZE, cap_height, descent, text_width
from plangen.drawing.sheet.model import Drawing, Mark, Meaning, Stroke, Text, Weight
from plangen.takeoff.part_labels import PartLabel, panel_words
from plangen.units import LengthStyle, print_length, print_reading

PADDING = 1.8  # mm kept free inside a label: sheets go askew through a printer
_PITCH = 1.09  # from baseline to baseline, of the type size
_AIR = 2.0  # mm between the ring and the words
_LARGEST = 6.5  # mm of type size
_ROWS = 5  # what a label has to say, at its shortest
_RADIUS = 1.2  # of the ring, of the type size
_RING_LINE = 0.3  # mm, half of its line and a little
_HEAD = (2.2, 0.9)  # mm
_GRAIN = "grain"


@dataclass(frozen=True, slots=True)
class _Room:
    """The inside of a label that may be printed on, mm on the paper."""

    low_x: float
    low_y: float
    high_x: float
    high_y: float

    @property
    def width(self) -> float:
        return self.high_x - self.low_x

    @property
    def height(self) -> float:
        return self.high_y - self.low_y


def label_pages(
    labels: Sequence[PartLabel], sheet: LabelSheet, style: LengthStyle, first: int = 1
) -> tuple[Drawing, ...]:
    """Give the sheets to print, one label for each piece.

    ``first`` is the place, counted from 1 along the rows, at which a part-used sheet begins. Raises
    ValueError for a place that the sheet does not have.
    """
    if not 1 <= first <= sheet.number:
        raise ValueError(f"there are {sheet.number} labels on a sheet, and no label {first}")
    size = _type_size(labels, sheet, style)
    width, height = (float(side) for side in PAPER_SIZES[sheet.paper])
    pages = []
    waiting = iter(labels)
    start = first - 1
    while batch := tuple(islice(waiting, sheet.number - start)):
        marks: list[Mark] = []
        for place, label in enumerate(batch, start):
            marks += _label(label, _room(sheet, place), style, size)
        names = ", ".join(dict.fromkeys(label.mark for label in batch))
        pages.append(Drawing(width, height, tuple(marks), "Part labels", f"Labels of {names}"))
        start = 0
    return tuple(pages)


def _type_size(labels: Sequence[PartLabel], sheet: LabelSheet, style: LengthStyle) -> float:
    """Give the type in which five rows fill a label and every size goes into one row.

    It is the same on all labels, and never so small that it cannot be read.
    """
    room = _room(sheet, 0)  # a corner of the sheet, where least can be printed on
    free = room.width - _AIR - 2 * _RING_LINE
    sizes = [
        free / (2 * (_half(label, 1.0) - _RING_LINE) + text_width(text, 1.0, Weight.SEMIBOLD))
        for label in labels
        for text in _sizes(label, style)
    ]
    return max(LEAST_SIZE, min([_LARGEST, room.height / (_ROWS * _PITCH + 0.3), *sizes]))


def _half(label: PartLabel, size: float) -> float:
    """Give half the width of what stands at the left: the ring, and the count under it."""
    ring = half_width(label.mark, size * _RADIUS)
    return max(ring, text_width(_count(label), size, Weight.SEMIBOLD) / 2) + _RING_LINE


def _left(label: PartLabel, room: _Room, size: float) -> float:
    """Give where the words beside the ring begin."""
    return room.low_x + 2 * _half(label, size) + _AIR


def _count(label: PartLabel) -> str:
    return f"{label.copy} of {label.copies}"


def _room(sheet: LabelSheet, place: int) -> _Room:
    x, y = sheet.corner(place)
    wide, tall = (float(side) for side in PAPER_SIZES[sheet.paper])
    return _Room(
        max(x + PADDING, UNPRINTED),
        max(y + PADDING, UNPRINTED),
        min(x + float(sheet.width) - PADDING, wide - UNPRINTED),
        min(y + float(sheet.height) - PADDING, tall - UNPRINTED),
    )


def _label(label: PartLabel, room: _Room, style: LengthStyle, size: float) -> list[Mark]:
    """Draw one label: ring and count at the left, words beside them, grain and face side along the foot."""
    radius = size * _RADIUS
    middle, high = room.low_x + _half(label, size), room.high_y - radius - _RING_LINE
    foot = room.low_y + descent(size) + 0.1
    top = room.high_y - cap_height(size)
    marks: list[Mark] = [*balloon((middle, high), label.mark, new=True, radius=radius)]
    under = (middle, high - radius - size * 0.95)
    marks.append(Text(under, _count(label), size, "middle", Weight.SEMIBOLD, role="copy"))
    left, pitch = _left(label, room, size), size * _PITCH
    rows = max(1, int((top - foot - pitch) / pitch + 1e-6) + 1)  # those above the foot
    for number, (words, weight, role) in enumerate(_rows(label, style, room.high_x - left, size, rows)):
        marks.append(Text((left, top - number * pitch), words, size, "start", weight, role=role))
    return marks + _foot(label, room, foot, size)


def _rows(
    label: PartLabel, style: LengthStyle, width: float, size: float, rows: int
) -> list[tuple[str, Weight, str]]:
    """Give what stands beside the ring, from the top: what has room, the size before all."""
    by_system = [_broken(text, width, size, Weight.SEMIBOLD) for text in _sizes(label, style)]
    if sum(map(len, by_system)) + 2 > rows:
        by_system = by_system[:1]  # rather one system whole than two in part
    sizes = [(row, Weight.SEMIBOLD, "size") for some in by_system for row in some]
    source = _source(label, style, width, size)
    free = rows - len(sizes) - 2
    belongs = label.place or label.assembly
    title = label.title if free > 0 or not belongs else f"{label.title} · {belongs}"
    titles = _wrapped(title, width, size, Weight.SEMIBOLD, 2 if free > bool(belongs) else 1)
    free -= len(titles) - 1
    found = [(text, Weight.SEMIBOLD, "title") for text in titles]
    found += sizes
    found.append((source, Weight.REGULAR, "source"))
    if belongs and free > 0:
        found.append((_cut(belongs, width, size, Weight.REGULAR), Weight.REGULAR, "assembly"))
    return found[:rows]


def _sizes(label: PartLabel, style: LengthStyle) -> list[str]:
    """Give the finished size, thickness × width × length; of both systems a row for each."""
    systems = [style] if style.system != "both" else [style.only("inch"), style.only("mm")]
    star = "\u00a0★" if label.from_work else ""
    found = []
    for one in systems:
        thick = print_reading(label.thickness, one)
        sizes = [thick, *(print_length(side, one) for side in (label.width, label.length))]
        found.append(f"{' × '.join(sizes)}\u00a0{one.unit_word}{star}")
    return found


def _broken(text: str, width: float, size: float, weight: Weight) -> list[str]:
    """Give a size in one row, or behind the last times sign that has room in two: nothing of it is cut."""
    if text_width(text, size, weight) <= width:
        return [text]
    *most, last = text.split(" × ")
    return [f"{' × '.join(most)} ×", last] if most else [text]


def _source(label: PartLabel, style: LengthStyle, width: float, size: float) -> str:
    """Give the stock and the board it comes from; short of room, the stock's name is cut, not the board."""
    panel = panel_words(label)
    stock = label.stock.text(style.only("inch") if style.system == "both" else style)
    if not panel:
        return _cut(stock, width, size, Weight.REGULAR)
    tail = f" · {panel}"
    room = width - text_width(tail, size)
    if room < 3 * size:  # too many boards to name beside the stock
        return _cut(panel, width, size, Weight.REGULAR)
    if text_width(stock, size) > room:
        stock = str(label.stock.pieces[0])  # the title; the thickness stands over it
    return _cut(stock, room, size, Weight.REGULAR) + tail


def _foot(label: PartLabel, room: _Room, foot: float, size: float) -> list[Mark]:
    """Draw the arrow along the grain over the left of the foot, and name the face side at its right."""
    face = f"{TICK} face side" + (f": {label.faces.word}" if label.faces is not None else "")
    right = room.high_x - text_width(face, size) - _AIR
    level = foot + cap_height(size) / 2
    word = text_width(_GRAIN, size)
    middle = (room.low_x + right) / 2
    return [
        Text((room.high_x, foot), face, size, "end", role="face side"),
        Text((middle, foot), _GRAIN, size, "middle", role="grain"),
        Stroke(((room.low_x + _HEAD[0], level), (middle - word / 2 - 1, level)), Meaning.DIMENSION),
        Stroke(((middle + word / 2 + 1, level), (right - _HEAD[0], level)), Meaning.DIMENSION),
        arrowhead((room.low_x, level), (-1.0, 0.0), _HEAD),
        arrowhead((right, level), (1.0, 0.0), _HEAD),
    ]


def _wrapped(text: str, width: float, size: float, weight: Weight, most: int) -> list[str]:
    """Break a text at spaces into at most so many rows; the last is cut where it has no room."""
    rows: list[str] = []
    words = text.split()
    while words and len(rows) < most - 1:
        taken = 1
        while taken < len(words) and text_width(" ".join(words[: taken + 1]), size, weight) <= width:
            taken += 1
        rows.append(_cut(" ".join(words[:taken]), width, size, weight))
        words = words[taken:]
    return [*rows, _cut(" ".join(words), width, size, weight)] if words else rows


def _cut(text: str, width: float, size: float, weight: Weight) -> str:
    """Give as much of a text as there is room for, an ellipsis where that is not all."""
    if text_width(text, size, weight) <= width:
        return text
    while text and text_width(f"{text}…", size, weight) > width:
        text = text[:-1].rstrip(" ,·")
    return f"{text}…"

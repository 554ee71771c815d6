"""Hold a drawing to its room, and a text to its place, as the last resort of whoever has no more room."""

from __future__ import annotations

from dataclasses import replace

from plangen.drawing.sheet.lettering import LEAST_SIZE, text_width
from plangen.drawing.sheet.measure import bounds
from plangen.drawing.sheet.model import Drawing, Mark, Text, Weight, carried

_TRIES = 12


def held(drawing: Drawing, width: float, height: float) -> Drawing:
    """Give the drawing moved, and shrunk where it must be, so that every mark lies within its room (mm).

    A drawing that has to be shrunk is at no scale that could be named: it then names none. Its texts are
    shrunk no further than can be read, and the lines more for it. Nothing changes where everything lies
    within the room already, to a tenth of a millimetre.
    """
    if not drawing.marks:
        return replace(drawing, width=min(drawing.width, width), height=min(drawing.height, height))
    low_x, low_y, high_x, high_y = bounds(drawing.marks)
    low_x, low_y = min(low_x, 0.0), min(low_y, 0.0)
    high_x, high_y = max(high_x, drawing.width), max(high_y, drawing.height)
    if min(low_x, low_y) >= -0.1 and high_x <= width + 0.1 and high_y <= height + 0.1:
        return drawing
    factor = min(1.0, width / (high_x - low_x), height / (high_y - low_y))
    if factor == 1.0:
        marks = tuple(_shrunk(mark, low_x, low_y, 1.0) for mark in drawing.marks)
        return replace(drawing, width=high_x - low_x, height=high_y - low_y, marks=marks)
    unnamed = [m for m in drawing.marks if not (isinstance(m, Text) and m.role == "scale")]
    for _ in range(_TRIES):
        marks = tuple(_shrunk(mark, low_x, low_y, factor) for mark in unnamed)
        box = bounds(marks)
        over = max((box[2] - min(box[0], 0.0)) / width, (box[3] - min(box[1], 0.0)) / height)
        if over <= 1.0 + 1e-9:
            break
        factor /= over
    left, under = min(box[0], 0.0), min(box[1], 0.0)
    return replace(
        drawing,
        width=min(max((high_x - low_x) * factor, box[2] - left), width),
        height=min(max((high_y - low_y) * factor, box[3] - under), height),
        marks=tuple(carried(mark, lambda p: (p[0] - left, p[1] - under)) for mark in marks),
    )


def fitted_lines(
    text: str, room: float, size: float, weight: Weight = Weight.REGULAR
) -> tuple[float, tuple[str, ...]]:
    """Give the type size and the lines in which a text goes into ``room`` mm of width.

    One line where that can be, as large as it can be and no larger than ``size``; else lines of the
    smallest type that can be read, broken at spaces, and within words that are wider than the room.
    """
    length = text_width(text, size, weight)
    if length <= room:
        return size, (text,)
    least = min(size, LEAST_SIZE)
    if length * least / size <= room:
        return size * room / length, (text,)
    lines = [""]
    for word in text.split():
        longer = f"{lines[-1]} {word}".strip()
        if text_width(longer, least, weight) <= room:
            lines[-1] = longer
            continue
        *whole, rest = _broken(word, room, least, weight)
        lines += [*whole, rest]
    return least, tuple(line for line in lines if line)


def _broken(word: str, room: float, size: float, weight: Weight) -> list[str]:
    """Cut a word into pieces that are no wider than the room; one letter always stands."""
    pieces = [""]
    for letter in word:
        if pieces[-1] and text_width(pieces[-1] + letter, size, weight) > room:
            pieces.append("")
        pieces[-1] += letter
    return pieces


def _shrunk(mark: Mark, low_x: float, low_y: float, factor: float) -> Mark:
    moved = carried(mark, lambda p: ((p[0] - low_x) * factor, (p[1] - low_y) * factor))
    if not isinstance(moved, Text):
        return moved
    return replace(moved, size=max(moved.size * factor, min(moved.size, LEAST_SIZE)))

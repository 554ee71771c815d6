"""Dimensions in inches and millimetres: the inch figure as ever, the metric one small under or after it."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from math import ceil
from typing import Literal

from plangen.drawing.dimension_lines import DimensionLook, Direction, linear, radius, running
from plangen.drawing.sheet.measure import FIGURE_SHARE, text_length
from plangen.drawing.sheet.model import Mark, Text, Xy

SHARE = 2.5 / 3.44  # height of the metric figure over the inch figure; never under 2.5 mm
BETWEEN = 0.9  # mm from one line to the other
_NOTHING = "\u200b"  # takes no room
_DUAL = re.compile("^(.+?)\u00a0(\\([^()]*mm\\))(\\)?)$")


def parts(text: str) -> tuple[str, str]:
    """Split ``3 13/16 (97 mm)`` into its two figures; the second is empty for a text of one system."""
    found = _DUAL.match(text)
    return (found[1] + found[3], found[2]) if found else (text, "")


def linear_marks(
    start: Xy, end: Xy, offset: float, text: str, direction: Direction, look: DimensionLook,
    outside: Literal["start", "end"],
) -> tuple[Mark, ...]:  # fmt: skip
    """Draw a linear dimension; two figures stand one over the other, across the line's own height."""
    inch, metric = parts(text)
    if not metric:
        return linear(start, end, offset, inch, direction=direction, look=look, outside=outside)
    room = (small(look) + BETWEEN) / 2
    taller = replace(look, text_gap=(look.text_gap[0], look.text_gap[1] + room))
    stand_in = _as_wide(inch, metric, look) if direction == "across" else inch
    marks = linear(start, end, offset, stand_in, direction=direction, look=taller, outside=outside)
    return _stacked(marks, {stand_in: (inch, metric)}, look)


def running_marks(
    origin: Xy, values: Sequence[tuple[Xy, str]], offset: float, direction: Literal["across", "up"],
    look: DimensionLook,
) -> tuple[Mark, ...]:  # fmt: skip
    """Draw running dimensions; the metric figure follows the inch figure, on a level line it stands under."""
    split = [(point, *parts(text)) for point, text in values]
    if not any(metric for _, _, metric in split):
        return running(origin, values, offset, direction=direction, look=look)
    level = direction == "across"
    # Two places may print the same inches and other millimetres: a stand-in keeps every pair together.
    stand_ins = {
        f"{_as_wide(inch, metric, look) if level else inch}{_NOTHING * number}": (inch, metric)
        for number, (_, inch, metric) in enumerate(split, start=1)
    }
    texts = [(point, stand_in) for (point, _, _), stand_in in zip(split, stand_ins, strict=True)]
    marks = running(origin, texts, offset, direction=direction, look=look)
    if not level:
        return _side_by_side(marks, stand_ins, look)
    return _under(marks, stand_ins, look, 0.0 if offset < 0 else small(look) + BETWEEN)


def radius_marks(on_arc: Xy, towards: Xy, text: str, look: DimensionLook) -> tuple[Mark, ...]:
    """Draw a radius; the metric figure stands under the inch figure."""
    inch, metric = parts(text)
    return _stacked(radius(on_arc, towards, inch, look=look), {inch: (inch, metric)}, look)


def _as_wide(inch: str, metric: str, look: DimensionLook) -> str:
    """Give a text as wide as the wider of two lines, to be replaced by them once it has its place."""
    width = max(text_length(inch, look.size), text_length(metric, small(look) / FIGURE_SHARE))
    return "0" * max(2, ceil(width / text_length("0", look.size)))


def small(look: DimensionLook) -> float:
    """Give the height of the metric figure in mm."""
    return max(2.5, look.figure * SHARE)


def _stacked(
    marks: tuple[Mark, ...], pairs: dict[str, tuple[str, str]], look: DimensionLook
) -> tuple[Mark, ...]:
    """Put the metric figures under the inch figures, both together centred where the inch figure stood."""
    return _under(marks, pairs, look, (small(look) + BETWEEN) / 2)


def _under(
    marks: tuple[Mark, ...], pairs: dict[str, tuple[str, str]], look: DimensionLook, lift: float
) -> tuple[Mark, ...]:
    """Put both figures where a stand-in stands; ``pairs`` are inch and metric by stand-in."""
    found: list[Mark] = []
    for mark in marks:
        inch, metric = pairs.get(mark.text, ("", "")) if isinstance(mark, Text) else ("", "")
        if isinstance(mark, Text) and metric:
            x, y = mark.at[0], mark.at[1] + lift
            found.append(replace(mark, at=(x, y), text=inch))
            at = (x, y - BETWEEN - small(look))
            found.append(replace(mark, at=at, text=metric, size=small(look) / FIGURE_SHARE, role="metric"))
        else:
            found.append(mark)
    return tuple(found)


def _side_by_side(
    marks: tuple[Mark, ...], pairs: dict[str, tuple[str, str]], look: DimensionLook
) -> tuple[Mark, ...]:
    found: list[Mark] = []
    size = small(look) / FIGURE_SHARE
    for mark in marks:
        inch, metric = pairs.get(mark.text, ("", "")) if isinstance(mark, Text) else ("", "")
        if not isinstance(mark, Text) or not metric:
            found.append(mark)
            continue
        (x, y), gap = mark.at, 1.2
        if mark.anchor == "start":
            places = ((x, y), (x + text_length(inch, mark.size) + gap, y))
        else:
            places = ((x - text_length(metric, size) - gap, y), (x, y))
        found.append(replace(mark, at=places[0], text=inch))
        found.append(replace(mark, at=places[1], text=metric, size=size, role="metric"))
    return tuple(found)

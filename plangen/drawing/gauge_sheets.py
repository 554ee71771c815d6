"""The rules for dimensions and lettering, measured on the finished sheet of a part.

Rule 22: every size is told, and none twice. Rule 23: places are given from an end of the part. Rule 24: lines
stand apart and nothing lies over anything. Rule 25: figures and lines are large enough to be read at the
bench. Rule 27: what follows from other figures is what those figures, as printed, add up to.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import combinations

from plangen.drawing.gauge_model import Gauge, at_least, at_most
from plangen.drawing.part_sheets import PartSheet, PrintedDimension
from plangen.drawing.part_sheets.plan import wanted
from plangen.drawing.sheet.look import line_look
from plangen.drawing.sheet.measure import FIGURE_SHARE, overlaps
from plangen.drawing.sheet.model import Meaning, Stroke, Text
from plangen.joinery.space import Axis
from plangen.units import ZERO, Length

APART = 2.0  # heights of a figure between dimension lines, rule 24
NARROWEST = 0.18  # mm, rule 25
SAME = 1e-6  # mm
_COUNT = re.compile("^\\d+\u00a0×\u00a0")


def gauge_sheet(sheet: PartSheet, figure_height: float) -> tuple[Gauge, ...]:
    """Measure the sheet of a part; its figures should be ``figure_height`` mm high at least."""
    return (*_told(sheet), *_apart(sheet), *_large(sheet, figure_height), *_adding_up(sheet))


def printed_value(text: str) -> Fraction:
    """Read the size that a dimension prints, of one step for a row, in the unit of its sheet.

    ``2 × 3/4``, ``(14 1/4)``, ``5 × 32 = 160`` and ``3 13/16 (97 mm)`` give 3/4, 14 1/4, 32 and 3 13/16.
    """
    plain = text[1:-1] if text.startswith("(") and text.endswith(")") else text
    plain = _COUNT.sub("", plain).split("\u00a0(")[0].split(" = ")[0]
    return sum((Fraction(piece) for piece in plain.split("\u00a0")), Fraction(0))


def _told(sheet: PartSheet) -> Iterator[Gauge]:
    """Count coordinates that no dimension reaches, stretches told twice, and places not given from an end."""
    untold, doubled, chained = 0, 0, 0
    part = sheet.plan.part
    for axis in Axis:
        ends = (ZERO, part.blank.size(axis))
        reached = _Joined()
        for item in _firm(sheet, axis):
            doubled += sum(not reached.join(*pair) for pair in item.pairs)
            if item.kind == "location":
                chained += sum(pair[0] not in ends for pair in item.pairs)
        untold += sum(
            not reached.together(ZERO, node) for node in wanted(part, sheet.plan.shapes, axis) if node != ZERO
        )
    yield at_most(22, "coordinates that no figure tells", untold, 0)
    yield at_most(22, "stretches that are told twice", doubled, 0)
    yield at_most(23, "places that are not given from an end", chained, 0)


def _firm(sheet: PartSheet, axis: Axis) -> list[PrintedDimension]:
    return [item for item in sheet.printed if item.axis is axis and not item.reference]


class _Joined:
    """Coordinates that figures join."""

    def __init__(self) -> None:
        self._group: dict[Length, int] = {}

    def join(self, one: Length, two: Length) -> bool:
        """Join two coordinates; False where they were joined already."""
        first = self._group.setdefault(one, len(self._group))
        second = self._group.setdefault(two, len(self._group))
        if first == second:
            return False
        self._group = {node: first if group == second else group for node, group in self._group.items()}
        return True

    def together(self, one: Length, two: Length) -> bool:
        return one in self._group and self._group.get(one) == self._group.get(two)


def _apart(sheet: PartSheet) -> Iterator[Gauge]:
    marks = sheet.drawing.marks
    figures = [mark.size for mark in marks if isinstance(mark, Text) and mark.role == "dimension"]
    lines = [m for m in marks if isinstance(m, Stroke) and m.meaning is Meaning.DIMENSION and not m.closed]
    gaps = [gap for one, two in combinations(lines, 2) if (gap := _gap(one, two)) is not None]
    if figures and gaps:
        share = min(gaps) / (min(figures) * FIGURE_SHARE)
        yield at_least(24, "least gap between dimension lines, heights of a figure", share, APART)
    yield at_most(24, "marks that lie over each other", overlaps(sheet.drawing).count, 0)


def _gap(one: Stroke, two: Stroke) -> float | None:
    """Give the distance in mm of two level or two upright lines that run beside each other."""
    for along in (0, 1):
        across = 1 - along
        first, second = ([point[across] for point in line.points] for line in (one, two))
        if max(first) - min(first) > SAME or max(second) - min(second) > SAME:
            continue
        a, b = (sorted(point[along] for point in line.points) for line in (one, two))
        apart = abs(first[0] - second[0])
        if min(a[-1], b[-1]) - max(a[0], b[0]) > 0.01 and apart > SAME:
            return apart
    return None


def _large(sheet: PartSheet, figure_height: float) -> Iterator[Gauge]:
    marks = sheet.drawing.marks
    figures = [m.size * FIGURE_SHARE for m in marks if isinstance(m, Text) and any(map(str.isalnum, m.text))]
    sizes = [m.size * FIGURE_SHARE for m in marks if isinstance(m, Text) and m.role == "dimension"]
    widths = [
        line_look(mark.meaning, sheet.drawing.standard).width for mark in marks if isinstance(mark, Stroke)
    ]
    if sizes:
        yield at_least(25, "least height of a dimension's figures, mm", min(sizes), figure_height)
    if figures:
        yield at_least(25, "least height of any figure, mm", min(figures), 2.5)
    yield at_least(25, "narrowest line, mm", min(widths), NARROWEST)


def _adding_up(sheet: PartSheet) -> Iterator[Gauge]:
    """Compare every figure in parentheses with what the firm figures, as printed, add up to."""
    worst, at = Fraction(0), ""
    for axis in Axis:
        places = _places(_firm(sheet, axis))
        for item in sheet.printed:
            if item.axis is not axis or not item.reference:
                continue
            start, end = item.pairs[0]
            if start in places and end in places:
                off = abs(abs(places[end] - places[start]) - printed_value(item.text))
                if off > worst:
                    worst, at = off, item.text
    yield at_most(27, "figures in parentheses off from the sum of the others", float(worst), 0, at)


def _places(dimensions: Sequence[PrintedDimension]) -> dict[Length, Fraction]:
    """Lay out every coordinate by the figures alone, from the low end of the part."""
    steps: dict[Length, list[tuple[Length, Fraction]]] = {}
    for item in dimensions:
        value = printed_value(item.text)
        for start, end in item.pairs:
            signed = value if end > start else -value
            steps.setdefault(start, []).append((end, signed))
            steps.setdefault(end, []).append((start, -signed))
    places = {ZERO: Fraction(0)}
    waiting = [ZERO]
    while waiting:
        node = waiting.pop()
        for other, step in steps.get(node, ()):
            if other not in places:
                places[other] = places[node] + step
                waiting.append(other)
    return places

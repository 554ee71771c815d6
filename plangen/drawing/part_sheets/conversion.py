"""A chart from inches to millimetres, for sheets on which both figures have no room at every dimension."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil

from plangen.drawing.part_sheets.figures import figure
from plangen.drawing.part_sheets.notes import notes_of
from plangen.drawing.part_sheets.plan import PartPlan
from plangen.drawing.sheet.fit import fitted_lines
from plangen.drawing.sheet.lettering import LEAST_SIZE, text_width
from plangen.drawing.sheet.model import Mark, Meaning, Stroke, Text, Weight
from plangen.units import LengthStyle

HEADING = "Inches, and the same in millimetres"
_PITCH, _COLUMN = 5.4, 7.0  # mm from line to line, and between columns
_SPACE = "\u00a0"


def chart(plan: PartPlan, style: LengthStyle, width: float) -> tuple[float, tuple[Mark, ...]]:
    """Give the height in mm of the chart of everything that a plan prints, and its marks from y = 0 up.

    ``plan`` is in inches, ``style`` in both systems. Lengths come in rising order, then notes in millimetres.
    """
    cells = _cells(plan, style)
    widest = max((text_width(cell, LEAST_SIZE) for cell in cells), default=0.0)
    columns = max(1, int((width + _COLUMN) // (widest + _COLUMN)))
    rows = ceil(len(cells) / columns)
    notes = [line for note in _notes(plan, style) for line in fitted_lines(note, width, LEAST_SIZE)[1]]
    height = _PITCH * (1 + rows + len(notes)) + 2.0
    marks: list[Mark] = [Stroke(((0.0, height), (width, height)), Meaning.HAIR)]
    base = height - _PITCH
    marks.append(Text((0.0, base), HEADING, LEAST_SIZE, weight=Weight.SEMIBOLD, role="chart"))
    for number, cell in enumerate(cells):  # down the columns, as one looks a length up
        column, row = divmod(number, rows)
        at = (column * (widest + _COLUMN), base - _PITCH * (row + 1))
        marks.append(Text(at, cell, LEAST_SIZE, role="chart"))
    for number, line in enumerate(notes, rows + 1):
        marks.append(Text((0.0, base - _PITCH * number), line, LEAST_SIZE, role="chart"))
    return height, tuple(marks)


def _cells(plan: PartPlan, style: LengthStyle) -> list[str]:
    inch, metric = style.only("inch"), style.only("mm")
    lengths = set()
    for dimension in plan.dimensions:
        lengths.add(dimension.value)
        start, end = dimension.pairs[0][0], dimension.pairs[-1][1]
        if dimension.kind == "row":
            lengths.add(abs(end - start))
    shown = dict.fromkeys((figure(one, inch), figure(one, metric)) for one in sorted(lengths))
    return [f"{inches}{_SPACE}={_SPACE}{millimetres}" for inches, millimetres in shown]


def _notes(plan: PartPlan, style: LengthStyle) -> Sequence[str]:
    """Give the notes again, in millimetres: those that say anything else in them."""
    metric = notes_of(plan.part, plan.shapes, style.only("mm"))
    said = {note.text for note in plan.notes}
    return [note.text for note in metric if note.text not in said]

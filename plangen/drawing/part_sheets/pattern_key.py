"""The key to a pattern of several sheets: where each lies, how they are joined and proven, offsets."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from math import ceil

from plangen.design.model import Part
from plangen.drawing.part_sheets.captions import caption
from plangen.drawing.part_sheets.pattern_checks import Diagonal
from plangen.drawing.part_sheets.pattern_grid import Cutting, Grid
from plangen.drawing.part_sheets.pattern_map import little_map, map_scale
from plangen.drawing.part_sheets.pattern_offsets import OffsetTable
from plangen.drawing.part_sheets.pattern_outline import FullSize
from plangen.drawing.part_sheets.pattern_room import LABEL, SMALL_LABEL, wrapped
from plangen.drawing.part_sheets.sights import Sight
from plangen.drawing.sheet.measure import text_length
from plangen.drawing.sheet.model import Drawing, Mark, Meaning, Stroke, Text, Tone, Weight, Xy
from plangen.units import LengthStyle, print_length

MARGIN = 2.0  # mm at the left
MAP_HEIGHT = 92.0  # mm, at most
LINE = 7.0  # mm from line to line of the words
ROW, CLOSE_ROW = 5.4, 4.5  # mm from row to row of a table, and where room is short
FIGURES = 4.9  # mm of type size: figures 3.2 mm high
COLUMN = 62.0  # mm from table to table
TABLE_HEAD = 29.0  # mm over the first row of a table


def key_sheet(
    part: Part, sight: Sight, shape: FullSize, cutting: Cutting, checks: Mapping[Grid, Diagonal | None],
    tables: tuple[OffsetTable, ...], style: LengthStyle, paper: tuple[float, float],
) -> Drawing:  # fmt: skip
    """Draw the key: the map of the sheets with the long check, what to do, and offsets of curves."""
    width, height = paper
    marks: list[Mark] = []
    top = height - 7.0
    title = f"{part.mark}  {part.title}: key to the pattern"
    size = min(LABEL, LABEL * (width - MARGIN) / text_length(title, LABEL, Weight.SEMIBOLD))
    marks.append(Text((MARGIN, top), title, size, weight=Weight.SEMIBOLD, role="title"))
    face, number = caption(part, sight.side), cutting.sheets
    sheets = f"{number} sheets" if number > 1 else "1 sheet"
    made = f", make {len(part.copies)}" if len(part.copies) > 1 else ""
    marks.append(Text((MARGIN, top - 8.5), f"{face}, {sheets}{made}", SMALL_LABEL, role="note"))
    room = (width - 2 * MARGIN, MAP_HEIGHT)
    _, _, drawn = map_scale(shape, cutting, room)
    foot = top - 14.0 - drawn[1]
    corner = (MARGIN + drawn[0], foot)
    marks += little_map(shape, cutting, corner, room, figure=LABEL, diagonals=checks.values())
    at = foot - 9.0
    for sentence in _sentences(part, shape, cutting, checks, style):
        for line in wrapped(sentence, width - 2 * MARGIN):
            marks.append(Text((MARGIN, at), line, SMALL_LABEL, role="note"))
            at -= LINE
        at -= 1.0
    if tables:
        marks += _tables(tables, (MARGIN, at), at - 2.0, int((width - MARGIN) // COLUMN), style)
    return Drawing(
        width, height, tuple(marks),
        f"Key to the pattern of {part.mark}, {face.lower()}",
        f"A small picture of {part.title} with its {sheets} laid over it, how they are joined, "
        "and the distance that proves it.",
    )  # fmt: skip


def _sentences(
    part: Part, shape: FullSize, cutting: Cutting, checks: Mapping[Grid, Diagonal | None], style: LengthStyle
) -> Iterator[str]:
    yield "Print at 100 %. On every sheet a tape must agree with both rulers, across and up."
    if any(grid.sheets > 1 for grid in cutting.grids):
        yield (
            "Join the columns of a row first, then the rows: cut a sheet where it says so, and lay it on "
            "its neighbour so that the half diamonds close."
        )
    for grid, check in checks.items():
        if check is None:
            continue
        where = f", {cutting.name(grid)}" if len(checks) > 1 else ""
        length = print_length(check.length, style, unit=True)
        yield f"Then measure from cross P to cross Q{where}: {length}, or the joins are off."
    if len(cutting.grids) > 1:
        length = print_length(part.length, style, unit=True)
        yield (
            "Between its stretches the board is plain. Lay each where its words say, from the ends and edges "
            f"of the board, which is {length} long, and draw straight lines from one to the other."
        )
    if cutting.half and cutting.shows_middle(shape):
        yield "Half the shape is printed: draw it, turn the pattern over on the centre line, draw it again."
    elif cutting.half:
        yield "One end is printed: draw it, turn the pattern over, and draw the other end in the same way."


def _tables(
    tables: tuple[OffsetTable, ...], corner: Xy, room: float, columns: int, style: LengthStyle
) -> Iterator[Mark]:
    """Set the tables side by side, each over as many columns as it needs; every second row where need be."""
    x, top = corner
    depth = max(1, int((room - TABLE_HEAD) // ROW))
    closest = max(1, int((room - TABLE_HEAD) // CLOSE_ROW))
    every = 1
    while sum(ceil(len(_thinned(t.rows, every)) / closest) for t in tables) > columns and every < 64:
        every *= 2
    column = 0
    for table in tables:
        rows = _thinned(table.rows, every)
        if depth < len(rows) <= closest or sum(ceil(len(t.rows) / depth) for t in tables) > columns:
            number, pitch = closest, CLOSE_ROW
        else:
            number, pitch = depth, ROW
        for start in range(0, len(rows), number):
            at = (x + column * COLUMN, top)
            yield from _column(table, rows[start : start + number], at, style, pitch)
            column += 1


def _thinned(rows: tuple[tuple[str, str], ...], every: int) -> tuple[tuple[str, str], ...]:
    """Keep both ends of the curve and every so many rows between."""
    return (rows[0], *rows[1:-1][every - 1 :: every], rows[-1])


def _column(
    table: OffsetTable, rows: tuple[tuple[str, str], ...], corner: Xy, style: LengthStyle, pitch: float
) -> Iterator[Mark]:
    x, top = corner
    unit = "mm" if style.system == "mm" else "in"
    yield Text((x, top), f"Offsets, {unit}", FIGURES, weight=Weight.SEMIBOLD, role="table")
    left, right = x + 20.0, x + COLUMN - 22.0
    said = (f"along from {table.along},", f"inward from {table.over}")
    lines = [line for words in said for line in wrapped(words, COLUMN - 6.0, FIGURES)]
    for number, line in enumerate(lines[:3], 1):
        yield Text((x, top - number * 5.6), line, FIGURES, tone=Tone.SECONDARY, role="table")
    foot = top - TABLE_HEAD + 1.0 + ROW
    for at, words in ((left, "along"), (right, "inward")):
        yield Text((at, foot), words, FIGURES, "end", tone=Tone.SECONDARY, role="table")
    yield Stroke(((x, foot - 1.4), (right, foot - 1.4)), Meaning.HAIR)
    for number, row in enumerate(rows):
        for at, figure in zip((left, right), row, strict=True):
            yield Text((at, top - TABLE_HEAD - number * pitch), figure, FIGURES, "end", role="offset")

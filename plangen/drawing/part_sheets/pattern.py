"""Full-size patterns: the shape of a part over as many sheets as it takes, with proof of the scale."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from plangen.design.model import Design, Part
from plangen.drawing.part_sheets.pattern_checks import diagonal_of, lay_lines
from plangen.drawing.part_sheets.pattern_grid import MANY, Cutting, Grid, cutting_of, half_of
from plangen.drawing.part_sheets.pattern_key import key_sheet
from plangen.drawing.part_sheets.pattern_offsets import offset_tables
from plangen.drawing.part_sheets.pattern_outline import FullSize, full_size
from plangen.drawing.part_sheets.pattern_sheet import HEAD, Sheet, sheet_drawing
from plangen.drawing.part_sheets.pattern_wrap import wrap_pages
from plangen.drawing.part_sheets.plan import PartPlan, part_dimensions
from plangen.drawing.part_sheets.rulers import RULER_ROOM
from plangen.drawing.part_sheets.sights import NATURAL, Sight, arrangements
from plangen.drawing.sheet.model import Drawing, Xy
from plangen.joinery.shaped import shaped_axes, wrapped_ends
from plangen.joinery.space import Axis, Side
from plangen.units import LengthStyle

LEAST = 110.0  # mm that a frame has to measure both ways, to hold a 4 in ruler


@dataclass(frozen=True, slots=True)
class _View:
    """One view of a part at full size, and how it is cut into sheets."""

    sight: Sight
    shape: FullSize
    cutting: Cutting


def pattern_pages(
    design: Design, part: Part, style: LengthStyle, paper: tuple[float, float]
) -> tuple[Drawing, ...]:
    """Draw the full-size patterns of a part on sheets of ``paper`` (width and height in mm that may be used).

    Of each view with a shape to follow: a key where it takes several sheets or has offsets, then the sheets,
    the lowest row of tiles first, each from left to right. Then a wrap for each end that leans two ways.
    None for a part without a pattern. Raises ValueError when the paper is too small to hold a 4 in ruler.
    """
    if not part.pattern:
        return ()
    frame = (paper[0] - RULER_ROOM, paper[1] - RULER_ROOM - HEAD)
    if min(frame) < LEAST:
        raise ValueError(
            f"a pattern needs sheets of at least {LEAST + RULER_ROOM + HEAD:g} mm, not {min(paper):g}"
        )
    ends = wrapped_ends(part.operations, part.blank, part.runs)
    axes = shaped_axes(part.operations, part.blank, part.runs, part.thick)
    plan = part_dimensions(part, style)
    views = [_view(part, plan, axis, frame) for axis in axes or (() if ends else (part.thick,))]
    pages: list[Drawing] = []
    for view in views:
        pages += _pages(design, part, view, paper, style)
    return (*pages, *wrap_pages(design, part, ends, paper, style))


def _view(part: Part, plan: PartPlan, axis: Axis, frame: Xy) -> _View:
    """Choose how a view lies on the paper: the way that takes the fewest sheets.

    Where that is many, half of a part that is alike on both sides of its middle is enough.
    """
    shapes = [(sight, full_size(part, sight)) for sight in _sights(part, plan, axis)]
    views = [_View(sight, shape, cutting_of(shape, frame)) for sight, shape in shapes]
    best = min(views, key=lambda view: view.cutting.sheets)
    if best.cutting.sheets > MANY:
        halves = [(sight, shape, half_of(shape, frame)) for sight, shape in shapes]
        views = [_View(sight, shape, half) for sight, shape, half in halves if half is not None]
        best = min((best, *views), key=lambda view: view.cutting.sheets)
    return best


def _sights(part: Part, plan: PartPlan, axis: Axis) -> tuple[Sight, ...]:
    """Give the views along an axis as the part sheet shows them, then those a quarter turned."""
    shown = [one for way in arrangements(plan) for one in way.sights if one.side.axis is axis]
    if not shown:
        side = Side.of(axis, axis is Axis.UP)
        shown = [Sight(side, *NATURAL[side], "middle")]
    found: dict[tuple[Side, Side, Side], Sight] = {}
    for sight in (*shown, *(Sight(one.side, one.up, one.right.opposite, "middle") for one in shown)):
        found.setdefault((sight.side, sight.right, sight.up), sight)
    return tuple(found.values())


def _pages(
    design: Design, part: Part, view: _View, paper: tuple[float, float], style: LengthStyle
) -> Iterator[Drawing]:
    tables = offset_tables(part, view.sight, view.shape, style)
    checks = {grid: diagonal_of(grid, view.shape, style) for grid in view.cutting.grids}
    if view.cutting.sheets > 1 or tables:
        yield key_sheet(part, view.sight, view.shape, view.cutting, checks, tables, style, paper)
    sheets = [
        (grid, column, row)
        for grid in view.cutting.grids
        for row in range(grid.rows)
        for column in range(grid.columns)
    ]
    for index, (grid, column, row) in enumerate(sheets, 1):
        place = _place(view.cutting, grid, column, row)
        sheet = Sheet(
            design, part, view.sight, view.shape, view.cutting, grid, column, row, index, place,
            checks[grid], tuple(lay_lines(grid, view.shape, style)),
        )  # fmt: skip
        yield sheet_drawing(sheet, paper, style)


def _place(cutting: Cutting, grid: Grid, column: int, row: int) -> str:
    """Say where in the pattern a sheet stands."""
    words = [cutting.name(grid)] if len(cutting.grids) > 1 else []
    if grid.sheets > 1:
        words.append(f"row {row + 1}, column {column + 1}")
    return ", ".join(words)

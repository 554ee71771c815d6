"""The whole piece in third-angle views with the sizes a buyer asks for, and a pictorial beside them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import shapely

from plangen.design.model import Design, Position
from plangen.drawing.clogging import apart_from, unclogged
from plangen.drawing.cutting_plane import CuttingPlane
from plangen.drawing.dimension_lines import PUBLISH, Direction
from plangen.drawing.edges import edge_stroke
from plangen.drawing.hidden_lines import View, orthographic, pictorial
from plangen.drawing.openings import Opening
from plangen.drawing.part_sheets.dual import linear_marks, parts, small
from plangen.drawing.part_sheets.figures import figure
from plangen.drawing.plane_marks import plane_marks
from plangen.drawing.scales import Scale
from plangen.drawing.scene import GRID, Placing, fitted, painted
from plangen.drawing.sheet.fit import held
from plangen.drawing.sheet.lettering import LEAST_SIZE
from plangen.drawing.sheet.measure import (
    FIGURE_SHARE,
    Boxes,
    bounds,
    text_area,
    text_length,
    texts_over_strokes,
    texts_over_texts,
)
from plangen.drawing.sheet.model import Drawing, Group, Mark, Meaning, Stroke, Text, Tone, Weight, Xy
from plangen.drawing.title_block import projection_symbol, scale_bar
from plangen.drawing.views_layout import CAPTION_DROP, first_row, spread_views, upright_row
from plangen.drawing.whole import WholePiece
from plangen.joinery.space import Axis, Side
from plangen.solids import Solids
from plangen.units import LengthStyle

_CAPTION = LEAST_SIZE
_LEAST_ROOM = 13.0  # mm on the paper that a clear height with its figure needs


def whole_views(
    design: Design,
    solids: Solids,
    style: LengthStyle,
    width: float,
    height: float,
    *,
    view: View | None = None,
    planes: Sequence[CuttingPlane] = (),
    position: Position | None = None,
    hidden: bool = True,
) -> Drawing:
    """Draw front, right side and top at one scale, and the piece in the booklet's view.

    Third-angle projection; hidden edges thin and dashed, or not at all. Overall sizes once each, and the
    clear heights between level pieces. ``planes`` are marked where sections are cut. In a ``position`` the
    piece stands as that says, with the sizes that it has then. Where the room is small the pictorial is
    left out, then the top view. The drawing is never larger than its room, and no higher than it needs.
    """
    piece = WholePiece(design, solids, position)
    return views_of(piece, style, width, height, view=view, planes=planes, hidden=hidden)


def views_of(
    piece: WholePiece,
    style: LengthStyle,
    width: float,
    height: float,
    *,
    view: View | None = None,
    planes: Sequence[CuttingPlane] = (),
    hidden: bool = True,
) -> Drawing:
    """Draw the same of a piece that may be drawn again at another size: what is seen of it is kept."""
    design, position = piece.design, piece.position
    sight = piece.sight(view or pictorial())
    across, deep, up = (float(design.overall.size(axis)) for axis in Axis)
    sizes = {axis: figure(design.overall.size(axis), style) for axis in Axis}
    across_wide, deep_wide, up_wide = (_wide(sizes[axis]) for axis in Axis)
    spread = spread_views(
        (across, deep, up), (across_wide, deep_wide, up_wide), sight.bounds, width, height, style.system
    )
    s = spread.scale.factor
    low_x, low_y, low_z = design.overall.low.floats()
    (x, y), (beside, _) = spread.front, spread.side
    row = first_row(style.system)
    front = Placing(s, x - low_x * s, y - low_z * s)
    side = Placing(s, beside - low_y * s, y - low_z * s)
    shown = [(Side.FRONT, front), (Side.RIGHT, side)]
    names = [
        ("Front", (x + across * s / 2, _below(y, row))),
        ("Right side", (beside + deep * s / 2, _below(y, row))),
    ]
    if spread.top is not None:
        above = spread.top[1]
        shown.append((Side.TOP, Placing(s, x - low_x * s, above - low_y * s)))
        names.append(("Top", (x + across * s / 2, above + deep * s + 2.6)))
    marks: list[Mark] = []
    overall: tuple[tuple[Xy, Xy, float, Direction, Axis], ...] = (
        ((x, y), (x + across * s, y), row, "across", Axis.ACROSS),
        ((x, y), (x, y + up * s), upright_row(up_wide), "up", Axis.UP),
        ((beside, y), (beside + deep * s, y), row, "across", Axis.DEEP),
    )
    around: list[Mark] = []
    for start, end, off, way, axis in overall:
        around += linear_marks(start, end, -off, sizes[axis], way, PUBLISH, "end")
    groups: list[Group] = []
    for where, placing in shown:
        marks += _lines(piece, hidden, orthographic(where), placing)
        drawn, named_planes = plane_marks(planes, where, orthographic(where), placing, design.overall, around)
        marks += drawn
        groups += named_planes
    if spread.pictorial is not None:
        marks += painted(sight, fitted(sight.bounds, spread.pictorial, largest=s * 1.6))
    marks += around
    marks += _opening_sizes(piece.openings, style, front, marks)
    for text, at in names:
        marks.append(Text(at, text, _CAPTION, "middle", Weight.SEMIBOLD, Tone.SECONDARY, role="caption"))
    marks += _foot(spread.scale, style, spread.foot)
    unit = style.unit_word if style.system != "both" else "in (mm)"
    named = "front, right side and top" if spread.top is not None else "front and right side"
    drawing = Drawing(
        width,
        min(height, bounds(marks)[3] + 1.0),
        tuple(marks),
        f"{design.project.title}: {named}" + (f", {position.title.lower()}" if position else ""),
        f"Third-angle views at {spread.scale.text}. Overall {sizes[Axis.ACROSS]} wide, "
        f"{sizes[Axis.UP]} high, {sizes[Axis.DEEP]} deep, in {unit}.",
        tuple(groups),
    )
    return held(drawing, width, height)


def _wide(size: str) -> float:
    """Give the width of a printed size in mm; the millimetres of a size in both systems stand under it."""
    inch, metric = parts(size)
    return max(text_length(inch, PUBLISH.size), text_length(metric, small(PUBLISH) / FIGURE_SHARE))


def _below(y: float, row: float) -> float:
    return y - row - CAPTION_DROP


def _lines(piece: WholePiece, hidden: bool, view: View, placing: Placing) -> list[Mark]:
    sight = piece.sight(view)
    strokes = [
        edge_stroke(edge, placing, Meaning.RIM if edge.kind == "rim" else Meaning.VISIBLE)
        for edge in sight.projection.visible
    ]
    unseen = [
        edge_stroke(edge, placing, Meaning.HIDDEN)
        for edge in (piece.hidden_edges(view, placing.factor) if hidden else ())
    ]

    def outline() -> Any:
        return shapely.union_all([placing.shape(one) for one in sight.outlines.values()], grid_size=GRID)

    return [*apart_from(unseen, strokes), *unclogged(strokes, outline)]


def _opening_sizes(
    openings: Sequence[Opening], style: LengthStyle, front: Placing, before: list[Mark]
) -> list[Mark]:
    kept: list[Mark] = []
    strokes = [mark for mark in before if isinstance(mark, Stroke)]
    texts = [mark for mark in before if isinstance(mark, Text)]
    boxes = Boxes([stroke.points for stroke in strokes])
    for opening in openings:
        low, high, left, right = (float(v) for v in (opening.low, opening.high, opening.left, opening.right))
        text = figure(opening.high - opening.low, style)
        for share in (0.76, 0.24, 0.5, 0.88, 0.12):
            at = left + (right - left) * share
            start, end = front.point((at, low)), front.point((at, high))
            marks = linear_marks(start, end, 0.0, text, "up", PUBLISH, "end")
            if end[1] - start[1] < _LEAST_ROOM or texts_over_texts([*texts, *kept, *marks]):
                continue
            figures = [mark for mark in marks if isinstance(mark, Text)]
            reached = [strokes[i] for i in boxes.meeting([text_area(text) for text in figures])]
            if not texts_over_strokes([*reached, *(m for m in kept if isinstance(m, Stroke)), *figures]):
                kept += marks
                break
    return kept


def _foot(scale: Scale, style: LengthStyle, strip: tuple[float, float, float]) -> list[Mark]:
    """Draw the bar, the symbol and the scale in a strip: low left corner and width."""
    x, y, width = strip
    text = Text(
        (x + width - 1.0, y + 2.7), scale.text, _CAPTION, "end", Weight.SEMIBOLD, Tone.SECONDARY, role="scale"
    )
    return [
        *scale_bar((x + 2.0, y + 1.0), scale, style.system, longest=max(10.0, min(45.0, width - 38.0))),
        *projection_symbol((x + width - 24.0, y + 3.8)),
        text,
    ]

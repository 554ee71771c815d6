"""The whole piece in third-angle views with the sizes a buyer asks for, and a pictorial beside them."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
import shapely

from plangen.design.model import Copy, Design, Part, Position
from plangen.drawing.clogging import apart_from, unclogged
from plangen.drawing.cutting_plane import CuttingPlane
from plangen.drawing.dimension_lines import PUBLISH, Direction
from plangen.drawing.fittings import in_place
from plangen.drawing.hidden_lines import Body, View, orthographic, pictorial, project
from plangen.drawing.nested import moved_by, standing
from plangen.drawing.part_sheets.dual import linear_marks, parts, small
from plangen.drawing.part_sheets.figures import figure
from plangen.drawing.plane_marks import plane_marks
from plangen.drawing.scales import Scale
from plangen.drawing.scene import (
    GRID,
    Actor,
    Placing,
    Sight,
    alone,
    copy_actor,
    fitted,
    painted,
)
from plangen.drawing.sheet.fit import held
from plangen.drawing.sheet.lettering import LEAST_SIZE
from plangen.drawing.sheet.measure import (
    FIGURE_SHARE,
    bounds,
    text_length,
    texts_over_strokes,
    texts_over_texts,
)
from plangen.drawing.sheet.model import Drawing, Group, Mark, Meaning, Stroke, Text, Tone, Weight, Xy
from plangen.drawing.title_block import projection_symbol, scale_bar
from plangen.drawing.views_layout import CAPTION_DROP, first_row, spread_views, upright_row
from plangen.joinery.cuts import Cut, RoundCut
from plangen.joinery.operation import Operation
from plangen.joinery.space import Axis, Box, Side, Stance
from plangen.solids import Solids, part_solid, transform
from plangen.solids.model import Floats
from plangen.units import Length, LengthStyle

_CAPTION = LEAST_SIZE
_SMALLEST_HOLE = 2.0  # mm on the paper: hidden edges of smaller holes are left out
_LEAST_OPENING = 50.0  # mm at full size: less is no opening to put things in
_NEAR = 0.01  # mm: nearer than this, exact lengths decide


@dataclass(frozen=True, slots=True)
class Opening:
    """A clear height between two level pieces, seen from the front: where it is, all lengths exact."""

    low: Length
    high: Length
    left: Length
    right: Length


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
    moved = moved_by(design, position) if position is not None else {}
    if position is not None:
        design = standing(design, position)
    actors = _actors(design, solids, moved)
    sight = Sight(actors, view or pictorial())
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
    plain = _without_small_holes(design, solids, s) if hidden else ()
    for where, placing in shown:
        marks += _lines(actors, plain, orthographic(where), placing)
        drawn, named_planes = plane_marks(planes, where, orthographic(where), placing, design.overall, around)
        marks += drawn
        groups += named_planes
    if spread.pictorial is not None:
        marks += painted(sight, fitted(sight.bounds, spread.pictorial, largest=s * 1.6))
    marks += around
    marks += _opening_sizes(design, style, front, marks)
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


def clear_openings(design: Design) -> tuple[Opening, ...]:
    """Give the clear heights between level pieces that lie one right above the other, lowest first.

    Pieces whose thickness is upright count as level; loose ones, such as shelves on pins, do not. An
    opening that another piece blocks for more than half of its depth is
    none, nor is one of which a piece in front hides an end. Lengths are
    those of the design, never measured from a picture.
    """
    held = {name for joint in design.joints for c in joint.contacts for name in (c.fixed, c.moving)}
    level = [
        copy
        for part in design.parts
        if part.thick is Axis.UP
        for copy in part.copies
        if copy.name in held and copy.stance is None
    ]
    level.sort(key=lambda copy: (copy.box.low.up, copy.name))
    copies = list(design.copies.values())
    lows, highs = _corners([copy.box for copy in copies])
    found: list[Opening] = []
    for one, two in _above_each_other(level):
        low, high = one.box.high.up, two.box.low.up
        common = one.shoulders.overlap(two.shoulders)
        across, deep = common.size(Axis.ACROSS), common.size(Axis.DEEP)
        narrow = min(one.box.size(Axis.ACROSS), two.box.size(Axis.ACROSS))
        shallow = min(one.box.size(Axis.DEEP), two.box.size(Axis.DEEP))
        if float(high - low) < _LEAST_OPENING or across * 2 < narrow or deep * 2 < shallow:
            continue
        room = Box(common.low.with_(Axis.UP, low), common.high.with_(Axis.UP, high))
        within = (lows < np.array(room.high.floats()) + _NEAR) & (highs > np.array(room.low.floats()) - _NEAR)
        if any(
            _blocks(copies[at], one, two, room, held, design) for at in np.flatnonzero(within.all(axis=1))
        ):
            continue
        beside = within[:, Axis.ACROSS.value] & within[:, Axis.UP.value]
        if any(_covers(copies[at], one, two) for at in np.flatnonzero(beside)):
            continue
        found.append(Opening(low, high, common.low.across, common.high.across))
    return tuple(found)


def _corners(boxes: Sequence[Box]) -> tuple[Floats, Floats]:
    """Give the low and the high corners of boxes in mm, (n, 3) each."""
    ends = np.array([(box.low.floats(), box.high.floats()) for box in boxes], dtype=np.float64)
    ends = ends.reshape(-1, 2, 3)
    return ends[:, 0], ends[:, 1]


def _above_each_other(level: Sequence[Copy]) -> Iterator[tuple[Copy, Copy]]:
    """Give the pairs, the lower first, that may lie one right above the other; floats leave out the rest."""
    lows, highs = _corners([copy.shoulders for copy in level])
    tops = np.array([float(copy.box.high.up) for copy in level])
    feet = np.array([float(copy.box.low.up) for copy in level])
    for number, one in enumerate(level):
        later = slice(number + 1, None)
        common = np.minimum(highs[later], highs[number]) - np.maximum(lows[later], lows[number])
        met = (common[:, :2] > -_NEAR).all(axis=1) & (feet[later] - tops[number] > _LEAST_OPENING - _NEAR)
        for other in np.flatnonzero(met):
            yield one, level[number + 1 + int(other)]


def _blocks(other: Copy, one: Copy, two: Copy, room: Box, held: Collection[str], design: Design) -> bool:
    if other in (one, two) or other.name not in held:
        return False
    shared = room.overlap(other.box)
    if shared.empty:
        return False
    level = design.part_of[other.name].thick is Axis.UP
    wide = shared.size(Axis.ACROSS) * 2 > room.size(Axis.ACROSS)
    return wide and (level or shared.size(Axis.DEEP) * 2 > room.size(Axis.DEEP))


def _covers(other: Copy, one: Copy, two: Copy) -> bool:
    """Tell whether a piece stands before the opening and hides where it starts or ends."""
    common = one.shoulders.overlap(two.shoulders)
    if other in (one, two) or other.box.high.deep > max(one.box.low.deep, two.box.low.deep):
        return False
    if other.box.overlap(common).size(Axis.ACROSS) * 2 < common.size(Axis.ACROSS):
        return False
    return any(other.box.low.up < at < other.box.high.up for at in (one.box.high.up, two.box.low.up))


def _actors(design: Design, solids: Solids, moved: Mapping[str, Stance]) -> tuple[Actor, ...]:
    return (
        *(copy_actor(design, solids, copy, "plain") for copy in design.copies.values()),
        *in_place(design, moved),
    )


def _without_small_holes(design: Design, solids: Solids, scale: float) -> tuple[Body, ...]:
    """Give the pieces without the holes that print under 2 mm: their hidden edges would only be clutter.

    Only a part that has such holes is built again.
    """
    found: list[Body] = []
    for part in design.parts:
        shown = _worth_showing(part, scale)
        plain = shown == part.operations
        mesh = (solids.parts[part.key] if plain else part_solid(replace(part, operations=shown))).mesh
        found += [Body(mesh, *transform(copy), copy.name) for copy in part.copies]
    return tuple(found)


def _worth_showing(part: Part, scale: float) -> tuple[Operation, ...]:
    return tuple(
        replace(operation, cuts=tuple(cut for cut in operation.cuts if not _small(cut, scale)))
        for operation in part.operations
    )


def _small(cut: Cut, scale: float) -> bool:
    return isinstance(cut, RoundCut) and float(cut.diameter) * scale < _SMALLEST_HOLE


def _lines(actors: tuple[Actor, ...], plain: Sequence[Body], view: View, placing: Placing) -> list[Mark]:
    projection = project([actor.body for actor in actors], view)
    strokes = []
    for edge in projection.visible:
        points = tuple(placing.point(point) for point in edge.points)
        strokes.append(Stroke(points, Meaning.RIM if edge.kind == "rim" else Meaning.VISIBLE))
    hidden = [
        Stroke(tuple(placing.point(point) for point in edge.points), Meaning.HIDDEN)
        for edge in (project(plain, view, hidden=True).hidden if plain else ())
    ]

    def outline() -> Any:
        return shapely.union_all([placing.shape(alone(actor.body, view)) for actor in actors], grid_size=GRID)

    return [*apart_from(hidden, strokes), *unclogged(strokes, outline)]


def _opening_sizes(design: Design, style: LengthStyle, front: Placing, before: list[Mark]) -> list[Mark]:
    kept: list[Mark] = []
    for opening in clear_openings(design):
        low, high, left, right = (float(v) for v in (opening.low, opening.high, opening.left, opening.right))
        text = figure(opening.high - opening.low, style)
        for share in (0.76, 0.24, 0.5, 0.88, 0.12):
            at = left + (right - left) * share
            start, end = front.point((at, low)), front.point((at, high))
            marks = linear_marks(start, end, 0.0, text, "up", PUBLISH, "end")
            fits = end[1] - start[1] >= 13.0
            clash = texts_over_texts([*before, *kept, *marks]) or _new_clash([*before, *kept], marks)
            if fits and not clash:
                kept += marks
                break
    return kept


def _new_clash(before: list[Mark], marks: tuple[Mark, ...]) -> bool:
    strokes = [mark for mark in before if isinstance(mark, Stroke)]
    texts = [mark for mark in marks if isinstance(mark, Text)]
    return bool(texts_over_strokes([*strokes, *texts]))


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

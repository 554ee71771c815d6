"""The whole piece in third-angle views with the sizes a buyer asks for, and a pictorial beside them."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations

import shapely

from plangen.design.model import Copy, Design
from plangen.drawing.dimension_lines import linear
from plangen.drawing.fittings import in_place
from plangen.drawing.hidden_lines import View, orthographic, pictorial, project
from plangen.drawing.scales import Scale, choose_scale
from plangen.drawing.scene import (
    GRID,
    Actor,
    Placing,
    Sight,
    alone,
    copy_actor,
    fitted,
    painted,
    unclogged,
)
from plangen.drawing.sheet.measure import texts_over_strokes, texts_over_texts
from plangen.drawing.sheet.model import Drawing, Mark, Meaning, Stroke, Text, Tone, Weight
from plangen.drawing.title_block import projection_symbol, scale_bar
from plangen.joinery.space import Axis, Side
from plangen.solids import Solids
from plangen.units import Length, LengthStyle, print_length

_LEFT, _RIGHT, _BELOW, _ABOVE = 16.0, 3.0, 26.0, 6.0  # mm round the views: sizes, captions, scale
_ACROSS, _UP = 15.0, 11.0  # mm between views
_FIRST_ROW = 9.0  # mm from an outline to its dimension line
_CAPTION = 3.175  # mm of type size, 9 pt
_SMALLEST_PICTORIAL = 34.0
_LEAST_OPENING = 50.0  # mm at full size: less is no opening to put things in


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
) -> Drawing:
    """Draw front, right side and top at one standard scale, and the piece in the booklet's view.

    Third-angle projection; hidden edges thin and dashed. Overall sizes once each, and the clear heights
    between level pieces. The pictorial is left out where no room of 34 mm is left for it.
    """
    actors = _actors(design, solids)
    across, deep, up = (float(design.overall.size(axis)) for axis in Axis)
    scale = choose_scale(
        across + deep,
        up + deep,
        width - _LEFT - _RIGHT - _ACROSS,
        height - _BELOW - _ABOVE - _UP,
        style.system,
    )
    s = scale.factor
    spare = width - _LEFT - _RIGHT - (across + deep) * s - _ACROSS
    low_x, low_y, _ = design.overall.low.floats()
    low_z = float(design.overall.low.up)
    x, y = _LEFT, _BELOW
    beside = x + across * s + _ACROSS
    pictorial_rooms = (
        (beside + deep * s + _ACROSS, y, width - 2.0, height - _ABOVE),
        (beside, y + up * s + _UP, width - 2.0, height - 2.0),
    )
    room = max(pictorial_rooms, key=lambda item: min(item[2] - item[0], item[3] - item[1]))
    with_pictorial = min(room[2] - room[0], room[3] - room[1]) >= _SMALLEST_PICTORIAL
    if not with_pictorial:
        x += spare / 2
        beside += spare / 2
    front = Placing(s, x - low_x * s, y - low_z * s)
    side = Placing(s, beside - low_y * s, y - low_z * s)
    top = Placing(s, x - low_x * s, y + up * s + _UP - low_y * s)
    marks: list[Mark] = []
    for where, placing in ((Side.FRONT, front), (Side.RIGHT, side), (Side.TOP, top)):
        marks += _lines(actors, orthographic(where), placing)
    if with_pictorial:
        sight = Sight(actors, view or pictorial())
        marks += painted(sight, fitted(sight.bounds, room, largest=s * 1.6))
    sizes = {axis: print_length(design.overall.size(axis), style) for axis in Axis}
    marks += linear((x, y), (x + across * s, y), -_FIRST_ROW, sizes[Axis.ACROSS], direction="across")
    marks += linear((x, y), (x, y + up * s), -_FIRST_ROW, sizes[Axis.UP], direction="up")
    marks += linear((beside, y), (beside + deep * s, y), -_FIRST_ROW, sizes[Axis.DEEP], direction="across")
    marks += _opening_sizes(design, style, front, marks)
    below = y - _FIRST_ROW - 7.0
    for text, at in (
        ("Front", (x + across * s / 2, below)),
        ("Right side", (beside + deep * s / 2, below)),
        ("Top", (x + across * s / 2, y + (up + deep) * s + _UP + 2.6)),
    ):
        marks.append(Text(at, text, _CAPTION, "middle", Weight.SEMIBOLD, Tone.SECONDARY, role="caption"))
    marks += _foot(scale, style, width)
    unit = style.unit_word if style.system != "both" else "in (mm)"
    return Drawing(
        width,
        height,
        tuple(marks),
        f"{design.project.title}: front, right side and top",
        f"Third-angle views at {scale.text}. Overall {sizes[Axis.ACROSS]} wide, {sizes[Axis.UP]} high, "
        f"{sizes[Axis.DEEP]} deep, in {unit}.",
    )


def clear_openings(design: Design) -> tuple[Opening, ...]:
    """Give the clear heights between level pieces that lie one right above the other, lowest first.

    Pieces whose thickness is upright count as level; loose ones, such as shelves on pins, do not. An
    opening that another piece blocks for more than half of its depth is
    none, nor is one of which a piece in front hides an end. Lengths are
    those of the design, never measured from a picture.
    """
    held = {name for joint in design.joints for c in joint.contacts for name in (c.fixed, c.moving)}
    level = [
        copy for part in design.parts if part.thick is Axis.UP for copy in part.copies if copy.name in held
    ]
    found: list[Opening] = []
    for one, two in combinations(sorted(level, key=lambda copy: (copy.box.low.up, copy.name)), 2):
        low, high = one.box.high.up, two.box.low.up
        common = one.shoulders.overlap(two.shoulders)
        across, deep = common.size(Axis.ACROSS), common.size(Axis.DEEP)
        narrow = min(one.box.size(Axis.ACROSS), two.box.size(Axis.ACROSS))
        shallow = min(one.box.size(Axis.DEEP), two.box.size(Axis.DEEP))
        if float(high - low) < _LEAST_OPENING or across * 2 < narrow or deep * 2 < shallow:
            continue
        if any(_blocks(other, one, two, design) for other in design.copies.values()):
            continue
        if any(_covers(other, one, two) for other in design.copies.values()):
            continue
        found.append(Opening(low, high, common.low.across, common.high.across))
    return tuple(found)


def _blocks(other: Copy, one: Copy, two: Copy, design: Design) -> bool:
    if other in (one, two):
        return False
    common = one.shoulders.overlap(two.shoulders)
    room = type(common)(
        common.low.with_(Axis.UP, one.box.high.up), common.high.with_(Axis.UP, two.box.low.up)
    )
    shared = room.overlap(other.box)
    if shared.empty:
        return False
    held = any(other.name in (c.fixed, c.moving) for joint in design.joints for c in joint.contacts)
    if not held:
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


def _actors(design: Design, solids: Solids) -> tuple[Actor, ...]:
    return (
        *(copy_actor(design, solids, copy, "plain") for copy in design.copies.values()),
        *in_place(design),
    )


def _lines(actors: tuple[Actor, ...], view: View, placing: Placing) -> list[Mark]:
    projection = project([actor.body for actor in actors], view, hidden=True)
    marks: list[Mark] = []
    for edge in projection.hidden:
        marks.append(Stroke(tuple(placing.point(point) for point in edge.points), Meaning.HIDDEN))
    strokes = []
    for edge in projection.visible:
        points = tuple(placing.point(point) for point in edge.points)
        strokes.append(Stroke(points, Meaning.RIM if edge.kind == "rim" else Meaning.VISIBLE))
    outline = shapely.union_all([placing.shape(alone(actor.body, view)) for actor in actors], grid_size=GRID)
    return [*marks, *unclogged(strokes, outline)]


def _opening_sizes(design: Design, style: LengthStyle, front: Placing, before: list[Mark]) -> list[Mark]:
    kept: list[Mark] = []
    for opening in clear_openings(design):
        low, high, left, right = (float(v) for v in (opening.low, opening.high, opening.left, opening.right))
        text = print_length(opening.high - opening.low, style)
        for share in (0.76, 0.24, 0.5, 0.88, 0.12):
            at = left + (right - left) * share
            start, end = front.point((at, low)), front.point((at, high))
            marks = linear(start, end, 0.0, text, direction="up")
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


def _foot(scale: Scale, style: LengthStyle, width: float) -> list[Mark]:
    text = Text(
        (width - 1.0, 2.7), scale.text, _CAPTION, "end", Weight.SEMIBOLD, Tone.SECONDARY, role="scale"
    )
    return [
        *scale_bar((2.0, 1.0), scale, style.system),
        *projection_symbol((width - 24.0, 3.8)),
        text,
    ]

"""Parts and patterns at full size for machines that read drawing files: exact lines, and nothing printed.

The low left corner of the blank in the principal view is the origin; 1 mm of the drawing is 1 mm of the part.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from math import dist

from plangen.design.model import Part
from plangen.drawing.dimension_lines import arrowhead
from plangen.drawing.hidden_lines import project
from plangen.drawing.part_sheets.captions import caption
from plangen.drawing.part_sheets.pattern_edges import Edge, arc_stroke
from plangen.drawing.part_sheets.pattern_outline import FullSize, full_size
from plangen.drawing.part_sheets.picture import Outline, Picture, body_of, rulers, view_of
from plangen.drawing.part_sheets.plan import PartPlan, part_dimensions
from plangen.drawing.part_sheets.sights import NATURAL, Sight, arrangements
from plangen.drawing.part_sheets.viewlines import centre_marks
from plangen.drawing.sheet.lettering import size_for_figures
from plangen.drawing.sheet.model import Drawing, Group, Mark, Meaning, Stroke, Text, Xy, carried
from plangen.drawing.writers.dxf import OUTLINE
from plangen.joinery.shaped import shaped_axes
from plangen.joinery.space import Axis
from plangen.solids.model import Solids
from plangen.units import LengthStyle

BETWEEN = 40.0  # mm between two views
SIZE = size_for_figures(5.0)  # of type, mm
ARROW = 60.0  # mm, the longest arrow along the grain
CROSS = 3.0  # mm that the arms of a centre reach past its hole


def part_drawing(solids: Solids, part: Part, style: LengthStyle) -> Drawing:
    """Draw the square views of a part at full size, in third angle, hidden lines and centres too."""
    plan = part_dimensions(part, style)
    marks: list[Mark] = []
    groups = []
    sights = arrangements(plan)[0].sights
    for sight in sights:
        group = Group(f"view {sight.side.word}", "view", caption(part, sight.side))
        groups.append(group)
        corner = _corner(part, sight, sights[0])
        marks += [_grouped(mark, group.key) for mark in _moved(_view(solids, plan, sight), corner)]
    words = f"{part.mark}  {part.title}, {_make(part)}"
    low = min((_corner(part, sight, sights[0])[1] for sight in sights), default=0.0)
    marks.append(Text((0.0, low - 4 * SIZE), words, SIZE, role="title"))
    width, height = _size(part, sights[0])
    return Drawing(width, height, tuple(marks), words, "", tuple(groups))


def pattern_drawings(part: Part, style: LengthStyle) -> tuple[Drawing, ...]:
    """Draw the full-size patterns of a part, one for each way to look at a shape that wants one.

    The outline is a group of its own kind, of strokes that follow each other round it. None for a part
    without a pattern.
    """
    if not part.pattern:
        return ()
    plan = part_dimensions(part, style)
    axes = shaped_axes(part.operations, part.blank, part.runs, part.thick)
    return tuple(_pattern(part, _sight_along(plan, axis)) for axis in axes or (part.thick,))


def _view(solids: Solids, plan: PartPlan, sight: Sight) -> Iterator[Mark]:
    """Draw one view with the low left corner of the blank at the origin, and its name under it."""
    part = plan.part
    width, height = _size(part, sight)
    corner = (0.0 if sight.right.high else width, 0.0 if sight.up.high else height)
    seen = project((body_of(solids.parts[part.key].mesh),), view_of(sight), hidden=True)
    for meaning, edges in ((Meaning.HIDDEN, seen.hidden), (Meaning.VISIBLE, seen.visible)):
        yield from _moved((Stroke(edge.points, meaning, arc=edge.arc) for edge in edges), corner)
    across, upward = rulers(part, sight, 1.0, ())
    yield from centre_marks(plan, Picture(part, sight, across, upward, Outline((), ())))
    yield Text((0.0, -2 * SIZE), caption(part, sight.side), SIZE, role="caption")


def _pattern(part: Part, sight: Sight) -> Drawing:
    shape = full_size(part, sight)
    marks: list[Mark] = []
    groups = []
    for number, loop in enumerate(_loops(shape.edges), 1):
        groups.append(Group(f"outline {number}", OUTLINE, "outline" if number == 1 else "opening"))
        for edge in loop:
            stroke = (
                arc_stroke(edge.arc, Meaning.VISIBLE) if edge.arc else Stroke(edge.points, Meaning.VISIBLE)
            )
            marks.append(_grouped(stroke, groups[-1].key))
    for cut in shape.marked:
        marks.append(Stroke(cut.loop, Meaning.VISIBLE if cut.near else Meaning.HIDDEN, closed=True))
    for bore in shape.bores:
        marks.append(arc_stroke(bore.rim, Meaning.VISIBLE if bore.near or bore.through else Meaning.HIDDEN))
        (x, y), arm = bore.at, bore.radius + CROSS
        marks.append(Stroke(((x - arm, y), (x + arm, y)), Meaning.CENTRE))
        marks.append(Stroke(((x, y - arm), (x, y + arm)), Meaning.CENTRE))
    words = f"{part.mark}  {part.title}, {_make(part)}"
    seen = caption(part, sight.side)
    marks.append(Text((0.0, -2 * SIZE), words, SIZE, role="title"))
    marks.append(Text((0.0, -4 * SIZE), f"{seen}; the arrow is the way of the grain", SIZE, role="caption"))
    marks += _grain(part, sight, shape)
    return Drawing(shape.width, shape.height, tuple(marks), words, "", tuple(groups))


def _loops(edges: Sequence[Edge]) -> Iterator[tuple[Edge, ...]]:
    """Take edges that follow each other apart into the closed loops that they make."""
    loop: list[Edge] = []
    for edge in edges:
        loop.append(edge)
        if dist(edge.points[-1], loop[0].points[0]) < 1e-6:
            yield tuple(loop)
            loop = []


def _grain(part: Part, sight: Sight, shape: FullSize) -> Iterator[Mark]:
    """Draw an arrow along the grain, under the outline or beside it; none where one looks along it."""
    if sight.is_along(part.runs):
        return
    across = sight.is_across(part.runs)
    room = shape.width if across else shape.height
    low, high = (room - min(ARROW, room)) / 2, (room + min(ARROW, room)) / 2
    way: Xy = (1.0, 0.0) if across else (0.0, 1.0)

    def at(along: float) -> Xy:
        return (along, -SIZE / 2) if across else (-SIZE / 2, along)

    yield Stroke((at(low), at(high)), Meaning.LEADER)
    yield arrowhead(at(high), way)
    yield arrowhead(at(low), (-way[0], -way[1]))


def _sight_along(plan: PartPlan, axis: Axis) -> Sight:
    """Give the view along an axis as the part sheet shows it, or as the piece stands."""
    for arrangement in arrangements(plan):
        for sight in arrangement.sights:
            if sight.is_along(axis):
                return sight
    side = next(side for side in NATURAL if side.axis is axis)
    return Sight(side, *NATURAL[side], "middle")


def _size(part: Part, sight: Sight) -> Xy:
    return float(part.blank.size(sight.right.axis)), float(part.blank.size(sight.up.axis))


def _corner(part: Part, sight: Sight, principal: Sight) -> Xy:
    """Give where a view's low left corner lies, beside the principal one."""
    (width, height), (wide, high) = _size(part, sight), _size(part, principal)
    return {
        "middle": (0.0, 0.0),
        "right": (wide + BETWEEN, 0.0),
        "left": (-BETWEEN - width, 0.0),
        "above": (0.0, high + BETWEEN),
        "below": (0.0, -BETWEEN - height),
    }[sight.station]


def _moved(marks: Iterable[Mark], by: Xy) -> Iterator[Mark]:
    return (carried(mark, lambda p: (p[0] + by[0], p[1] + by[1])) for mark in marks)


def _make(part: Part) -> str:
    return f"make {len(part.copies)}"


def _grouped(mark: Mark, key: str) -> Mark:
    return mark if not isinstance(mark, (Stroke, Text)) else replace(mark, group=key)

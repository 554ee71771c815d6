"""The lines of a view as marks: edges, hidden edges that help, centre marks, sight lines, break lines."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from plangen.drawing.dimension_lines import arrowhead
from plangen.drawing.part_sheets.picture import Line, Picture
from plangen.drawing.part_sheets.plan import PartPlan
from plangen.drawing.part_sheets.shapes import Shape
from plangen.drawing.sheet.model import Mark, Meaning, Stroke, Xy
from plangen.joinery.operation import Form
from plangen.joinery.space import Axis

SIGHT = 7.0  # mm on the paper that a sight line goes on past the hole
ARROW = (2.2, 0.9)  # mm
BAND = 1.1  # mm outside the edge, where the line of its banding runs
SMALL = 3.0  # mm on the paper; rims below it are drawn thin, or they clog


def edges(picture: Picture, wanting_hidden: Sequence[Shape]) -> tuple[Mark, ...]:
    """Give the visible edges, and the hidden edges of the shapes that want them."""
    marks: list[Mark] = []
    for line in picture.lines(hidden=True):
        if any(_belongs(line, shape, picture) for shape in wanting_hidden):
            marks.append(Stroke(line.points, Meaning.HIDDEN))
    for line in picture.lines():
        thin = _tiny(line.points) or (line.kind == "rim" and not _on_border(line.points, picture))
        marks.append(Stroke(line.points, Meaning.RIM if thin else Meaning.VISIBLE))
    return (*marks, *_breaks(picture))


def centre_marks(plan: PartPlan, picture: Picture) -> tuple[Mark, ...]:
    """Give a centre cross for every hole that the view looks into, and for every mark that it shows."""
    found: dict[Xy, float] = {}
    for shape in plan.shapes:
        if shape.feature.form not in (Form.HOLE, Form.MARK) or not picture.sight.is_along(shape.side.axis):
            continue
        if shape.feature.form is Form.MARK and shape.side is not picture.sight.side:
            continue
        across, up = picture.sight.right.axis, picture.sight.up.axis
        at = (picture.place(across, shape.span(across).low), picture.place(up, shape.span(up).low))
        found[at] = max(found.get(at, 0.0), float(shape.mouth) / 2 * picture.across.scale)
    marks: list[Mark] = []
    for (x, y), radius in found.items():
        arm = radius + 1.0
        marks.append(Stroke(((x - arm, y), (x + arm, y)), Meaning.CENTRE))
        marks.append(Stroke(((x, y - arm), (x, y + arm)), Meaning.CENTRE))
    return tuple(marks)


def sight_lines(plan: PartPlan, picture: Picture) -> tuple[Mark, ...]:
    """Give the sight line of every slanted hole that the view looks along, its arrow where the point goes."""
    across, up = picture.sight.right, picture.sight.up
    marks: list[Mark] = []
    for shape in plan.shapes:
        way = shape.feature.way
        if way is None or shape.feature.form is not Form.HOLE or not picture.sight.is_along(shape.side.axis):
            continue
        x, y = way[across.axis.value] * across.sign, way[up.axis.value] * up.sign
        size = (x * x + y * y) ** 0.5
        if size < 1e-6:
            continue
        x, y = x / size, y / size
        at = (
            picture.place(across.axis, shape.span(across.axis).low),
            picture.place(up.axis, shape.span(up.axis).low),
        )
        reach = float(shape.mouth) / 2 * picture.across.scale
        tip = (at[0] + x * (reach + SIGHT), at[1] + y * (reach + SIGHT))
        tail = (at[0] - x * (reach + SIGHT / 3), at[1] - y * (reach + SIGHT / 3))
        marks.append(Stroke((tail, tip), Meaning.CENTRE))
        marks.append(arrowhead(tip, (x, y), ARROW))
    return tuple(marks)


def banding_marks(plan: PartPlan, picture: Picture) -> tuple[Mark, ...]:
    """Give a chain line beside every banded edge that the view shows in profile."""
    marks: list[Mark] = []
    for side in dict.fromkeys(added.side for shape in plan.shapes for added in shape.operation.adds):
        if picture.sight.is_along(side.axis):
            continue
        across = picture.sight.is_across(side.axis)
        ahead = (picture.sight.right if across else picture.sight.up) is side
        far = picture.width if across else picture.height
        level = far + BAND if ahead else -BAND
        end = picture.height if across else picture.width
        points = ((0.0, level), (end, level))
        marks.append(Stroke(tuple((y, x) for x, y in points) if across else points, Meaning.CENTRE))
    return tuple(marks)


def _tiny(points: Sequence[Xy]) -> bool:
    xs, ys = [x for x, _ in points], [y for _, y in points]
    closed = len(points) > 4 and points[0] == points[-1]
    return closed and max(max(xs) - min(xs), max(ys) - min(ys)) < SMALL


def _on_border(points: Sequence[Xy], picture: Picture) -> bool:
    """Tell whether a line is part of the blank's own outline, which is never drawn thin."""
    return any(
        all(abs(point[index] - edge) < 0.02 for point in points)
        for index, far in ((0, picture.width), (1, picture.height))
        for edge in (0.0, far)
    )


def _belongs(line: Line, shape: Shape, picture: Picture) -> bool:
    """Tell whether a line lies within the shape's own rectangle in the view."""
    ranges = []
    for axis in (picture.sight.right.axis, picture.sight.up.axis):
        grow = 0.0
        span = shape.span(axis)
        if shape.feature.form is Form.HOLE and axis is not shape.side.axis:
            grow = float(shape.mouth) / 2 * picture.across.scale
            if shape.feature.way is not None:  # it comes out elsewhere
                grow = grow * 1.5 + _aside(shape, axis) * picture.across.scale
        ends = (picture.place(axis, span.low), picture.place(axis, span.high))
        ranges.append((min(ends) - grow - 0.05, max(ends) + grow + 0.05))
    return all(
        low <= point[index] <= high for point in line.points for index, (low, high) in enumerate(ranges)
    )


def _aside(shape: Shape, axis: Axis) -> float:
    """How far a slanted hole leads away from its mouth along an axis of its face, mm."""
    way = shape.feature.way
    assert way is not None, "only a hole that leans gets here"
    span = shape.span(shape.side.axis)
    return float(span.high - span.low) * abs(way[axis.value] / way[shape.side.axis.value])


def _breaks(picture: Picture) -> Iterable[Mark]:
    """Give the two break lines of an interrupted view: thin, with a zigzag, past the outline by 2 mm."""
    for index, ruler, far in ((0, picture.across, picture.height), (1, picture.upward, picture.width)):
        ends = [ruler.at(end) for stretch in ruler.left_out for end in stretch]
        for along in ends:
            middle, tooth = far / 2, min(1.6, far / 4)
            path = (
                (along, -2.0), (along, middle - tooth), (along - tooth * 0.8, middle - tooth / 3),
                (along + tooth * 0.8, middle + tooth / 3), (along, middle + tooth), (along, far + 2.0),
            )  # fmt: skip
            points = path if index == 0 else tuple((y, x) for x, y in path)
            yield Stroke(points, Meaning.CUT)

"""The places in a view that a leader note may point at."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from plangen.drawing.part_sheets.notes import Note
from plangen.drawing.part_sheets.picture import Picture
from plangen.drawing.part_sheets.plan import PartPlan
from plangen.drawing.part_sheets.shapes import Shape
from plangen.drawing.sheet.model import Xy
from plangen.joinery.cuts import PrismCut, plane_axes
from plangen.joinery.operation import Form
from plangen.joinery.space import Axis
from plangen.solids.outline import Round, ring
from plangen.units import Length

MOST = 6  # places tried for one note


@dataclass(frozen=True, slots=True)
class Target:
    """A place on the paper; the leader ends ``rim`` mm short of it. ``inside`` asks for a dot, not an arrow.

    ``normal`` is the way a leader should come from (an arc's radius), None where any will do.
    """

    at: Xy
    rim: float = 0.0
    inside: bool = False
    normal: Xy | None = None

    def open_to(self, way: Xy) -> bool:
        """Whether a leader may leave in a direction (a unit vector): within 50° of the arc's normal."""
        if self.normal is None:
            return True
        return abs(way[0] * self.normal[0] + way[1] * self.normal[1]) > 0.64


def targets_of(plan: PartPlan, note: Note, picture: Picture) -> tuple[Target, ...]:
    """Give every place in the view that the note may point at, at least one."""
    found: list[Target] = []
    for number in note.shapes:
        shape = plan.shapes[number]
        if note.radius is not None:
            found += _on_arcs(shape, note.radius, picture)
        elif shape.feature.form in (Form.HOLE, Form.MARK) and picture.sight.is_along(shape.side.axis):
            seen = shape.mouth if shape.side is picture.sight.side else shape.feature.diameter or shape.mouth
            found.append(Target(_middle(shape, picture), float(seen) / 2 * picture.across.scale))
        else:
            found += _on_box(shape, picture)
    return _few(found) or (Target((picture.width / 2, picture.height / 2), inside=True),)


def _few(targets: list[Target]) -> tuple[Target, ...]:
    """Keep at most seven, spread evenly, the first and the last among them."""
    if len(targets) <= MOST:
        return tuple(targets)
    step = (len(targets) - 1) / (MOST - 1)
    return tuple(targets[round(step * number)] for number in range(MOST))


def _plane(picture: Picture) -> tuple[Axis, Axis]:
    return picture.sight.right.axis, picture.sight.up.axis


def _middle(shape: Shape, picture: Picture) -> Xy:
    across, up = _plane(picture)
    return (
        (picture.place(across, shape.span(across).low) + picture.place(across, shape.span(across).high)) / 2,
        (picture.place(up, shape.span(up).low) + picture.place(up, shape.span(up).high)) / 2,
    )


def _on_box(shape: Shape, picture: Picture) -> list[Target]:
    across, up = _plane(picture)
    xs = sorted(
        (picture.place(across, shape.span(across).low), picture.place(across, shape.span(across).high))
    )
    ys = sorted((picture.place(up, shape.span(up).low), picture.place(up, shape.span(up).high)))
    middle = (sum(xs) / 2, sum(ys) / 2)
    if min(xs[1] - xs[0], ys[1] - ys[0]) > 3.0:
        return [Target(middle, inside=True)]
    return [
        Target(point)
        for point in dict.fromkeys(
            ((xs[0], middle[1]), (xs[1], middle[1]), (middle[0], ys[0]), (middle[0], ys[1]), middle)
        )
    ]


def _on_arcs(shape: Shape, radius: Length, picture: Picture) -> list[Target]:
    """Points along each arc of that radius, with the way to its centre."""
    found = []
    for cut in shape.operation.cuts:
        if not isinstance(cut, PrismCut) or not picture.sight.is_along(cut.axis):
            continue
        axes = plane_axes(cut.axis)
        for loop in cut.loops:
            outline = ring(loop)
            points = (*outline.points, outline.points[0])
            for (start, end), run in zip(pairwise(points), outline.runs, strict=True):
                if not isinstance(run, Round) or abs(run.radius - float(radius)) > 1e-6:
                    continue
                centre = _paper(run.centre, axes, picture)
                at = _paper(((start[0] + end[0]) / 2, (start[1] + end[1]) / 2), axes, picture)
                if not (-0.01 <= at[0] <= picture.width + 0.01 and -0.01 <= at[1] <= picture.height + 0.01):
                    continue
                away = (at[0] - centre[0], at[1] - centre[1])
                size = (away[0] ** 2 + away[1] ** 2) ** 0.5 or 1.0
                found.append(Target(at, normal=(away[0] / size, away[1] / size)))
    if found:
        return found
    plane = plane_axes(shape.side.axis)
    return [Target(_paper((float(corner[0]), float(corner[1])), plane, picture)) for corner in shape.corners]


def _paper(point: Xy, axes: tuple[Axis, Axis], picture: Picture) -> Xy:
    places = {axis: _place(picture, axis, value) for axis, value in zip(axes, point, strict=True)}
    return places[picture.sight.right.axis], places[picture.sight.up.axis]


def _place(picture: Picture, axis: Axis, value: float) -> float:
    side, ruler = (
        (picture.sight.right, picture.across)
        if picture.sight.is_across(axis)
        else (picture.sight.up, picture.upward)
    )
    return ruler.at(value if side.high else ruler.length - value)

"""Where an extension line starts: at what has an edge, a centre or an end at the coordinate that is given."""

from __future__ import annotations

from collections.abc import Iterator

from plangen.drawing.part_sheets.picture import Picture
from plangen.drawing.part_sheets.plan import Dimension, PartPlan
from plangen.joinery.operation import Form
from plangen.joinery.space import Axis
from plangen.units import Length


class Reaches:
    """The starts of extension lines in one view; each is worked out once."""

    def __init__(self, plan: PartPlan, picture: Picture) -> None:
        self._plan = plan
        self._picture = picture
        self._points = [point for line in picture.lines() for point in line.points]
        self._known: dict[tuple[Axis, Length, tuple[int, ...]], tuple[float, float]] = {}

    def of(self, axis: Axis, value: Length, shapes: tuple[int, ...], high: bool) -> float:
        """Give the start for a row on the high (above, right) or low side, in mm on the paper.

        ``shapes`` are those that the dimension locates or sizes; none for the part's own ends.
        """
        key = (axis, value, shapes)
        if key not in self._known:
            extents = list(self._of_shapes(axis, value, shapes)) or list(self._of_lines(axis, value))
            across = self._picture.sight.is_across(axis)
            whole = (0.0, self._picture.height if across else self._picture.width)
            self._known[key] = (
                min((low for low, _ in extents), default=whole[0]),
                max((end for _, end in extents), default=whole[1]),
            )
        return self._known[key][1 if high else 0]

    def inside(self, axis: Axis, reach: float, high: bool) -> float:
        """Tell how far an extension line from ``reach`` runs inside the view before it comes out."""
        across = self._picture.sight.is_across(axis)
        edge = (self._picture.height if across else self._picture.width) if high else 0.0
        return abs(edge - reach)

    def _of_shapes(self, axis: Axis, value: Length, shapes: tuple[int, ...]) -> Iterator[tuple[float, float]]:
        sight = self._picture.sight
        cross = next(a for a in Axis if a is not axis and not sight.is_along(a))
        for number in shapes:
            shape = self._plan.shapes[number]
            span = shape.span(axis)
            if shape.feature.form is Form.OUTLINE or value not in (span.low, span.high):
                continue
            lateral = shape.span(cross)
            ends = (self._picture.place(cross, lateral.low), self._picture.place(cross, lateral.high))
            grow = 0.0
            if shape.feature.form is Form.HOLE and lateral.low == lateral.high:
                grow = float(shape.mouth) / 2 * self._picture.across.scale
            yield min(ends) - grow, max(ends) + grow

    def _of_lines(self, axis: Axis, value: Length) -> Iterator[tuple[float, float]]:
        """Give the extents of the lines that really are there at a coordinate: an end may be cut away."""
        here = self._picture.place(axis, value)
        index = 0 if self._picture.sight.is_across(axis) else 1
        for point in self._points:
            if abs(point[index] - here) < 0.02:
                yield point[1 - index], point[1 - index]


def ends_of(dimension: Dimension) -> tuple[tuple[Length, Length], ...]:
    """Give the stretches that a dimension line may be drawn over: a row goes from first to last."""
    if dimension.kind == "row":
        return ((dimension.pairs[0][0], dimension.pairs[-1][1]),)
    return dimension.pairs

"""The features of a part one by one: rows spread out, spans held to the blank, looks chosen."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product

from plangen.design.model import Part
from plangen.drawing.part_sheets.slanted import Slant, plane_of_feature, slant_of
from plangen.findings import Findings
from plangen.joinery.cuts import plane_axes
from plangen.joinery.operation import Feature, Form, Operation, Span
from plangen.joinery.space import Axis, Side
from plangen.units import ZERO, Length


@dataclass(frozen=True, slots=True)
class Shape:
    """One feature at one place of its row, in the part's own frame.

    ``spans`` holds the extent along across, deep and up, held to the blank (for a hole the centre on the
    lateral axes); ``corners`` the corners of an outline that lie on the blank; ``row`` the place in the rows
    of the feature, all zero for the first. ``slant`` is that of a saw cut that leans two ways.
    """

    operation: Operation
    feature: Feature
    spans: tuple[Span, Span, Span]
    corners: tuple[tuple[Length, Length], ...]
    row: tuple[int, ...]
    slant: Slant | None = None

    @property
    def side(self) -> Side:
        """The side that the tool enters from."""
        return self.feature.side

    @property
    def mouth(self) -> Length:
        """The widest diameter of a hole; zero for anything else."""
        if self.feature.counterbore:
            return max(self.feature.counterbore[0], self.feature.diameter or ZERO)
        return self.feature.diameter or ZERO

    def span(self, axis: Axis) -> Span:
        """Give the extent along an axis."""
        return self.spans[axis.value]


def shapes_of(part: Part, findings: Findings) -> tuple[Shape, ...]:
    """Give every feature of a part at every place of its rows.

    What a drawing could not dimension is added to ``findings`` as the error ``undimensioned-feature``.
    """
    shapes: list[Shape] = []
    for operation in part.operations:
        for feature in operation.features:
            lack = _lacking(operation, feature)
            if lack:
                findings.error(
                    "undimensioned-feature",
                    f"{operation.title} in {part.title} cannot be dimensioned: {lack}",
                    operation.place or part.place,
                    "Give the operation every size and place that it needs.",
                    part=part.key,
                )
                continue
            for row in product(*(range(repeat.number) for repeat in feature.repeat)):
                shapes.append(_shape(part, operation, feature, row))
    return tuple(shapes)


def touches(span: Span, part: Part, axis: Axis) -> tuple[bool, bool]:
    """Tell whether a span reaches the low and the high end of the blank."""
    return span.low <= ZERO, span.high >= part.blank.size(axis)


def through(shape: Shape, part: Part, axis: Axis) -> bool:
    """Tell whether the feature runs through the blank along an axis."""
    return touches(shape.span(axis), part, axis) == (True, True)


def nodes(shape: Shape, part: Part, axis: Axis) -> tuple[Length, ...]:
    """Give the coordinates along an axis that this shape needs, the blank's ends aside."""
    form, span = shape.feature.form, shape.span(axis)
    if form is Form.OUTLINE and axis is shape.side.axis:
        found = set() if through(shape, part, axis) else {span.low, span.high}
    elif form is Form.OUTLINE:
        index = plane_axes(shape.side.axis).index(axis)
        found = {corner[index] for corner in shape.corners}
    elif form in (Form.HOLE, Form.MARK):
        found = set() if axis is shape.side.axis else {span.low}
    elif form is Form.PLANE:
        assert shape.slant is not None, "a plane without its cut never gets here"
        found = {shape.slant.tip} if axis is shape.side.axis else set()
    elif form is Form.ROUND and axis is not shape.side.axis:
        middle = (span.low + span.high) / 2
        found = set() if middle * 2 == part.blank.size(axis) else {middle}
    elif form is Form.EDGE:
        found = {span.low, span.high} if axis is _edge_axis(shape, part) else set()
    else:
        found = set() if through(shape, part, axis) else {span.low, span.high}
    return tuple(sorted(found - {ZERO, part.blank.size(axis)}))


def looks(shape: Shape, part: Part, axis: Axis) -> tuple[Axis, ...]:
    """Give the axes one may look along to see this shape's extent along ``axis``, best first."""
    if shape.feature.form is Form.ROUND and axis is not shape.side.axis:
        return (shape.side.axis,)
    if axis is not shape.side.axis:
        third = next(other for other in Axis if other not in (axis, shape.side.axis))
        return (shape.side.axis,) if shape.feature.form is Form.OUTLINE else (shape.side.axis, third)

    def openness(other: Axis) -> tuple[int, bool]:
        return -sum(touches(shape.span(other), part, other)), other is part.runs

    return tuple(sorted((other for other in Axis if other is not axis), key=openness))


def _edge_axis(shape: Shape, part: Part) -> Axis | None:
    """Give the axis a stopped chamfer or round-over goes along; None when it goes from end to end."""
    given = dict(shape.feature.spans)
    if not given:
        return None
    longest = max(given, key=lambda axis: (given[axis].high - given[axis].low, axis.value))
    return None if through(shape, part, longest) else longest


def _lacking(operation: Operation, feature: Feature) -> str:
    given = dict(feature.spans)
    lateral = [axis for axis in Axis if axis is not feature.side.axis]
    if feature.form in (Form.HOLE, Form.MARK):
        missing = [axis.word for axis in lateral if axis not in given]
        if missing:
            noun = "hole" if feature.form is Form.HOLE else "mark"
            return f"the {noun} has no place {' and '.join(missing)}"
        if feature.form is Form.MARK:
            return "" if feature.note else "the mark does not say what comes there"
        if feature.diameter is None or feature.diameter <= ZERO:
            return "the hole has no diameter"
    elif feature.form is Form.SLOT:
        missing = [axis.word for axis in Axis if axis not in given]
        if missing:
            return f"the cut has no extent {' and '.join(missing)}"
        if any(span.high <= span.low for span in given.values()):
            return "the cut has no size"
    elif feature.form is Form.OUTLINE and not feature.corners:
        return "the outline has no corners"
    elif feature.form is Form.PLANE:
        cut = plane_of_feature(operation, feature)
        if feature.way is None or cut is None:
            return "the slanted cut has no plane"
        if cut.normal[feature.side.axis.value] * feature.side.sign <= 0.0:
            return "the slanted cut does not close its end"
    elif feature.form is Form.ROUND:
        if feature.diameter is None or feature.diameter <= ZERO:
            return "what is round has no diameter"
        if any(axis not in given for axis in Axis):
            return "what is round has no extent"
    elif feature.form is Form.EDGE and not feature.note and not _edge_size(feature):
        return "the edge's shape has no size"
    return ""


def _edge_size(feature: Feature) -> bool:
    return bool(feature.radii or feature.depth or len(feature.spans) == 3)


def _shape(part: Part, operation: Operation, feature: Feature, row: tuple[int, ...]) -> Shape:
    moves = dict.fromkeys(Axis, ZERO)
    for place, repeat in zip(row, feature.repeat, strict=True):
        moves[repeat.axis] += repeat.pitch * place
    given = dict(feature.spans)
    spans = []
    for axis in Axis:
        size = part.blank.size(axis)
        span = given.get(axis, Span(ZERO, size))
        low, high = (span.low + moves[axis], span.high + moves[axis])
        if feature.form is not Form.HOLE or axis is feature.side.axis:
            low, high = max(low, ZERO), min(high, size)
        spans.append(Span(low, high))
    plane = plane_axes(feature.side.axis)
    corners = tuple((c.at[0] + moves[plane[0]], c.at[1] + moves[plane[1]]) for c in feature.corners)
    on_blank = tuple(
        corner
        for corner in corners
        if all(ZERO <= value <= part.blank.size(axis) for value, axis in zip(corner, plane, strict=True))
    )
    slant = None
    if feature.form is Form.PLANE:
        cut = plane_of_feature(operation, feature)
        assert cut is not None, "a plane without its cut is reported before"
        slant = slant_of(cut, feature.side, part)
        spans[feature.side.axis.value] = Span(slant.low, slant.high)
        for axis, span in slant.section:
            spans[axis.value] = span
    return Shape(operation, feature, (spans[0], spans[1], spans[2]), on_blank, row, slant)

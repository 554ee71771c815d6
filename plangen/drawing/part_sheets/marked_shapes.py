"""What is said of a feature for programs: its shape, the side it is worked from, and what bounds it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import TypeAlias

from plangen.drawing.part_sheets.naming import SEVERAL, Names
from plangen.drawing.part_sheets.shapes import Shape
from plangen.joinery.cuts import Arc, BoxCut, Cut, Line, Loop, PrismCut, plane_axes
from plangen.joinery.operation import Form
from plangen.joinery.space import Axis, Side
from plangen.solids.outline import ring
from plangen.units import Length

Data: TypeAlias = tuple[tuple[str, str], ...]
_Range: TypeAlias = tuple[float, float]
NEAR = 0.15  # mm; arcs as chords reach a little less far than they are
LEANS = 1e-6  # of a unit vector, below which nothing leans that way


def feature_data(names: Names, number: int) -> Data:
    """Say of a feature what a reader of the drawing sees of it, lengths and angles apart."""
    shape = names.plan.shapes[number]
    form = shape.feature.form
    if form is Form.HOLE:
        said = _hole(names, number)
    elif form is Form.MARK:
        said = [("shape", "mark"), *_centres(names, number)]
    elif form is Form.EDGE:
        said = _edge(names, number)
    elif form is Form.ROUND:
        said = [("shape", "round"), *_bounds(names, number, (shape.side.axis,)), *_middles(names, number)]
    elif form is Form.PLANE:
        said = _saw_cut(names, number)
    elif form is Form.OUTLINE:
        said = _outline(names, number)
    else:
        said = _slot(names, number)
    return (said[0], ("worked-from", shape.side.word), *said[1:])


def _bounds(names: Names, number: int, axes: Sequence[Axis]) -> Iterator[tuple[str, str]]:
    """Name what bounds a feature on each side along some axes."""
    shape = names.plan.shapes[number]
    for axis in axes:
        for high in (False, True):
            span = shape.span(axis)
            yield Side.of(axis, high).word, names.bound(number, axis, span.high if high else span.low)


def _centres(names: Names, number: int) -> Iterator[tuple[str, str]]:
    shape = names.plan.shapes[number]
    for axis in Axis:
        if axis is not shape.side.axis:
            yield axis.word, names.bound(number, axis, shape.span(axis).low)


def _middles(names: Names, number: int) -> Iterator[tuple[str, str]]:
    """Name the middle of what is round; on the middle of the part it needs no figure."""
    shape, part = names.plan.shapes[number], names.plan.part
    for axis in Axis:
        if axis is shape.side.axis:
            continue
        middle = (shape.span(axis).low + shape.span(axis).high) / 2
        central = middle * 2 == part.blank.size(axis)
        yield axis.word, "middle of the part" if central else names.bound(number, axis, middle)


def _hole(names: Names, number: int) -> list[tuple[str, str]]:
    shape = names.plan.shapes[number]
    side = shape.side
    said = [("shape", "hole"), *_centres(names, number)]
    span = shape.span(side.axis)
    mouth = span.high if side.high else span.low
    if mouth != names.plan.part.blank.side(side):
        said.append(("starts-at", names.bound(number, side.axis, mouth)))
    way = shape.feature.way
    if way is not None:
        leans = [
            Side.of(axis, way[axis.value] > 0.0).word
            for axis in Axis
            if axis is not side.axis and abs(way[axis.value]) > LEANS
        ]
        said.append(("leans", " ".join(leans)))
    return said


def _edge(names: Names, number: int) -> list[tuple[str, str]]:
    shape, part = names.plan.shapes[number], names.plan.part
    if shape.operation.adds:
        return [("shape", "banding")]
    ends = {axis: shape.span(axis) for axis in Axis}
    along = max(ends, key=lambda axis: (ends[axis].high - ends[axis].low, axis.value))
    met = [Side.of(axis, ends[axis].high >= part.blank.size(axis)).word for axis in Axis if axis is not along]
    return [("shape", "edge"), ("edge", " ".join(met)), *_bounds(names, number, (along,))]


def _saw_cut(names: Names, number: int) -> list[tuple[str, str]]:
    shape = names.plan.shapes[number]
    slant, way, end = shape.slant, shape.feature.way, shape.side
    assert slant is not None, "a plane without its cut never gets here"
    assert way is not None, "a plane has its normal"
    longest = [
        Side.of(axis, way[axis.value] < 0.0).word
        for axis in Axis
        if axis is not end.axis and abs(way[axis.value]) > LEANS
    ]
    return [
        ("shape", "saw cut"),
        ("tip", names.bound(number, end.axis, slant.tip)),
        ("tip-at", "rim" if slant.round else " ".join(side.word for side in slant.tip_at)),
        ("longest", " ".join(longest)),
    ]


def _slot(names: Names, number: int) -> list[tuple[str, str]]:
    shape = names.plan.shapes[number]
    bounds = list(_bounds(names, number, tuple(Axis)))
    cut = _cut_of(names, shape, tuple(Axis))
    kept = isinstance(cut, PrismCut) and len(cut.loops) > 1
    if cut is None or kept:
        out = _stands_out(names, shape)
        work = names.plan.part.operations.index(shape.operation) + 1
        said = [("shape", "tenon"), ("stands-out", out.word if out else ""), ("work", str(work)), *bounds]
    else:
        said = [("shape", "recess"), *bounds]
    if not isinstance(cut, PrismCut):
        return said
    for loop in cut.loops[1:] if kept else cut.loops:
        if not _fills(shape, cut, loop):
            continue
        arcs = [segment for segment in loop.segments if isinstance(segment, Arc)]
        if arcs and len(loop.segments) == 2:
            return [("shape", "dished recess"), *bounds, ("seen-along", cut.axis.word)]
        if not arcs and not _square(loop):
            return [("shape", "outline"), *_prism(names, number, cut)]
        if arcs:
            note = names.radius_note(number, arcs[0].radius)
            said += [("seen-along", cut.axis.word), ("rounded", SEVERAL.join(_rounded(shape, cut, loop)))]
            said += [("radius", note)] if note else []
    return said


def _square(loop: Loop) -> bool:
    """Tell whether every edge of an outline of straight lines lies along an axis."""
    points = [loop.start, *(segment.to for segment in loop.segments if isinstance(segment, Line))]
    return all(one[0] == two[0] or one[1] == two[1] for one, two in pairwise(points))


def _fills(shape: Shape, cut: PrismCut, loop: Loop) -> bool:
    """Tell whether an outline goes as far as the shape."""
    points = ring(loop).points
    return all(
        abs(min(p[k] for p in points) - float(shape.span(axis).low)) < NEAR
        and abs(max(p[k] for p in points) - float(shape.span(axis).high)) < NEAR
        for k, axis in enumerate(plane_axes(cut.axis))
    )


def _outline(names: Names, number: int) -> list[tuple[str, str]]:
    shape = names.plan.shapes[number]
    plane = plane_axes(shape.side.axis)
    if shape.operation.kind == "spline slot" and not shape.corners:
        return _spline_slot(names, number)
    prisms = [cut for cut in shape.operation.cuts if isinstance(cut, PrismCut)]
    cut = prisms[0] if len(prisms) == 1 else _cut_of(names, shape, plane)
    assert isinstance(cut, PrismCut), "an outline is cut as a prism"
    keeps = [("keeps", "inside")] if len(cut.loops) > 1 else []
    return [("shape", "outline"), *keeps, *_prism(names, number, cut)]


def _spline_slot(names: Names, number: int) -> list[tuple[str, str]]:
    """Say which mitre a slot goes along; how deep it is, square to the mitre, is noted."""
    mitre = next(
        n for n, other in enumerate(names.plan.shapes) if other.operation.kind == "joint mitre"
        and other.operation.joint == names.plan.shapes[number].operation.joint
    )  # fmt: skip
    bounds = _bounds(names, number, (names.plan.shapes[number].side.axis,))
    return [("shape", "slot along a mitre"), *bounds, ("mitre", f"feature-{mitre + 1}")]


def _prism(names: Names, number: int, cut: PrismCut) -> Iterator[tuple[str, str]]:
    for high in (False, True):
        value = cut.high if high else cut.low
        yield Side.of(cut.axis, high).word, names.bound(number, cut.axis, value)
    yield "path", SEVERAL.join(_path(names, number, cut))


def _path(names: Names, number: int, cut: PrismCut) -> Iterator[str]:
    """Say how an outline goes, corner by corner, each by the names of its two coordinates.

    A coordinate that no dimension gives is told by the slope of the line that leads to it.
    """
    loop = cut.loops[-1]
    axes = plane_axes(cut.axis)
    stops = [(("start", ""), loop.start)]
    for segment in loop.segments:
        if isinstance(segment, Line):
            stops.append((("line", ""), segment.to))
        elif isinstance(segment, Arc):
            note = names.radius_note(number, segment.radius)
            way = (
                "anticlockwise" if segment.left else "clockwise"
            )  # seen from the front, the right or the top
            stops.append((("arc", f" {way}{f' by {note}' if note else ''}"), segment.to))
        else:
            stops += [(("curve", ""), point) for point in segment.through]
    for place, ((kind, more), point) in enumerate(stops):
        told = [
            names.bound(number, axis, point[index]) or _by_slope(names, number, stops, place, axes, index)
            for index, axis in enumerate(axes)
        ]
        yield f"{kind}{more} to {told[0]} / {told[1]}"


def _by_slope(
    names: Names, number: int, stops: Sequence[tuple[tuple[str, str], tuple[Length, Length]]], place: int,
    axes: tuple[Axis, Axis], index: int,
) -> str:  # fmt: skip
    """Say from which neighbour of a corner the line slopes to it, and which way; empty where none tells."""
    own, count = stops[place][1], len(stops) - 1
    before, after = stops[(place - 1) % count], stops[place % count + 1]
    ways = [("before", before, stops[place or count][0][0]), ("after", after, after[0][0])]
    for word, (_, point), kind in ways:
        slopes = all(point[k] != own[k] for k in (0, 1))
        if kind == "line" and slopes and names.bound(number, axes[index], point[index]):
            side = Side.of(axes[index], own[index] > point[index])
            return f"slope from the corner {word} to the {side.word}"
    return ""


def _rounded(shape: Shape, cut: PrismCut, loop: Loop) -> Iterator[str]:
    """Name the rounded corners of a box, or the end that is one half circle, by the sides they lie at."""
    axes = plane_axes(cut.axis)
    here = loop.start
    for segment in loop.segments:
        to = here
        if isinstance(segment, Line | Arc):
            to = segment.to
        if isinstance(segment, Arc):
            level = [k for k in (0, 1) if here[k] == to[k]]
            ways = [k for k in (0, 1) if k in level or not level]
            yield " ".join(_nearer(shape, axes[k], (here[k] + to[k]) / 2).word for k in ways)
        here = to


def _nearer(shape: Shape, axis: Axis, value: Length) -> Side:
    span = shape.span(axis)
    return Side.of(axis, value * 2 > span.low + span.high)


def _cut_of(names: Names, shape: Shape, axes: Sequence[Axis]) -> Cut | None:
    """Find the cut of its operation that takes away just what the shape spans; None for what is left over."""
    size = names.plan.part.blank.size
    for cut in shape.operation.cuts:
        ranges = _ranges(cut)
        if ranges and all(
            abs(max(ranges[axis][0], 0.0) - max(float(shape.span(axis).low), 0.0)) < NEAR
            and abs(min(ranges[axis][1], float(size(axis))) - float(min(shape.span(axis).high, size(axis))))
            < NEAR
            for axis in axes
        ):
            return cut
    return None


def _ranges(cut: Cut) -> dict[Axis, _Range]:
    """How far a box or a prism goes along each axis, mm; nothing for other cuts."""
    if isinstance(cut, BoxCut):
        return {axis: (float(cut.box.low.at(axis)), float(cut.box.high.at(axis))) for axis in Axis}
    if not isinstance(cut, PrismCut):
        return {}
    points = ring(cut.loops[-1]).points
    found = {cut.axis: (float(cut.low), float(cut.high))}
    for index, axis in enumerate(plane_axes(cut.axis)):
        values = [point[index] for point in points]
        found[axis] = (min(values), max(values))
    return found


def _stands_out(names: Names, shape: Shape) -> Side | None:
    """Find the side that a tenon stands out at: what is cut round it goes from its shoulder to that side.

    The haunches beside a tenon follow it in their operation and stand out as it does.
    """
    cuts = [ranges for cut in shape.operation.cuts if (ranges := _ranges(cut))]
    first = next(one for one in names.plan.shapes if one.operation is shape.operation)
    blank = names.plan.part.blank
    fitting: list[tuple[float, Side]] = []
    for side in Side:
        span = first.span(side.axis)
        if (span.high if side.high else span.low) != blank.side(side):
            continue
        shoulder = float(span.low if side.high else span.high)
        inner = [ranges[side.axis][0 if side.high else 1] for ranges in cuts]
        if inner and 0.0 < shoulder < float(blank.size(side.axis)):
            fitting.append((max(abs(value - shoulder) for value in inner), side))
    return min(fitting, key=lambda item: item[0])[1] if fitting else None

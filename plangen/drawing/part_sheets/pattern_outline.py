"""The shape of a part at full size, from the records: outer edge, openings, and the cuts marked on it."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from math import atan2, cos, hypot, pi, sin
from typing import Any

from shapely import make_valid
from shapely.geometry import MultiPolygon, Polygon
from shapely.geometry import box as rectangle
from shapely.ops import unary_union

from plangen.design.model import Part
from plangen.drawing.part_sheets.sights import Sight
from plangen.drawing.sheet.model import Xy
from plangen.joinery.cuts import BoreCut, BoxCut, Cut, Loop, PlaneCut, PrismCut, RoundCut, plane_axes
from plangen.joinery.operation import Form
from plangen.joinery.space import Axis, Point
from plangen.solids.outline import Ring, Round, circle, ring
from plangen.units import ZERO

FINER = 4  # chords for each chord of the solids' outlines: the sagitta falls to a sixteenth, under 0.01 mm


@dataclass(frozen=True, slots=True)
class Bore:
    """A round hole: centre and radius in mm, and whether it goes through."""

    at: Xy
    radius: float
    through: bool


@dataclass(frozen=True, slots=True)
class FullSize:
    """A part's shape in the plane of a view, mm, low left corner of the blank at the origin.

    ``shape`` is a polygon (holes left out; they are ``bores``); ``marked`` are the loops of cuts that do not
    go through; ``region`` is the box (low x, low y, high x, high y) that needs a pattern.
    """

    shape: Any
    bores: tuple[Bore, ...]
    marked: tuple[tuple[Xy, ...], ...]
    region: tuple[float, float, float, float]
    width: float
    height: float


def full_size(part: Part, sight: Sight) -> FullSize:
    """Work out the shape; the axis looked along is the one that outlines are cut through."""
    axis = sight.side.axis
    width, height = (float(part.blank.size(side.axis)) for side in (sight.right, sight.up))
    gone, bores, marked = [], [], []
    boxes: list[tuple[float, float, float, float]] = []
    for operation in part.operations:
        for cut in operation.cuts:
            if isinstance(cut, RoundCut):
                if cut.side.axis is axis:
                    through = cut.depth >= part.blank.size(axis)
                    bores.append(Bore(_centre(cut.mouth, part, sight), float(cut.diameter) / 2, through))
                continue
            if isinstance(cut, BoreCut):
                if any(f.form is Form.HOLE and f.side.axis is axis for f in operation.features):
                    bores.append(Bore(_centre(cut.mouth, part, sight), float(cut.diameter) / 2, False))
                continue
            area = _area(cut, part, sight)
            if area is None:
                continue
            if _goes_through(cut, part, axis):
                gone.append(area)
            else:
                seen = area.intersection(rectangle(0, 0, width, height))
                marked += [tuple(piece.exterior.coords)[:-1] for piece in _polygons(seen)]
        if any(feature.form is Form.OUTLINE and feature.side.axis is axis for feature in operation.features):
            areas = [_area(cut, part, sight) for cut in operation.cuts if isinstance(cut, PrismCut)]
            boxes += [area.bounds for area in areas if area is not None]
    shape = (
        rectangle(0, 0, width, height).difference(unary_union(gone))
        if gone
        else rectangle(0, 0, width, height)
    )
    largest = max(_polygons(shape), key=lambda piece: piece.area)
    return FullSize(largest, tuple(bores), tuple(marked), _region(boxes, width, height), width, height)


def _region(
    boxes: list[tuple[float, float, float, float]], width: float, height: float
) -> tuple[float, float, float, float]:
    """Give the box round what is sawn to the pattern, with 15 mm of plain edge on every side to lay it by."""
    if not boxes:
        return (0.0, 0.0, width, height)
    return (
        max(0.0, min(b[0] for b in boxes) - 15.0), max(0.0, min(b[1] for b in boxes) - 15.0),
        min(width, max(b[2] for b in boxes) + 15.0), min(height, max(b[3] for b in boxes) + 15.0),
    )  # fmt: skip


def _goes_through(cut: Cut, part: Part, axis: Axis) -> bool:
    if isinstance(cut, PlaneCut):
        return True  # its area is what goes on both faces
    if isinstance(cut, BoxCut):
        low, high = cut.box.low.at(axis), cut.box.high.at(axis)
    else:
        assert isinstance(cut, PrismCut), "round cuts are holes"
        low, high = cut.low, cut.high
    return low <= ZERO and high >= part.blank.size(axis)


def _area(cut: Cut, part: Part, sight: Sight) -> Any:
    if isinstance(cut, BoxCut):
        axes = plane_axes(sight.side.axis)
        low, high = cut.box.low, cut.box.high
        corners = [(low, low), (high, low), (high, high), (low, high)]
        points = [(float(a.at(axes[0])), float(b.at(axes[1]))) for a, b in corners]
        return make_valid(Polygon(_laid(points, axes, part, sight)))
    if isinstance(cut, PrismCut) and cut.axis is sight.side.axis:
        axes = plane_axes(cut.axis)
        outer, *holes = (_laid(_fine(loop), axes, part, sight) for loop in cut.loops)
        return make_valid(Polygon(outer, holes))
    if isinstance(cut, PlaneCut):
        low, high = (_beyond(cut, level, part, sight) for level in (part.blank.low, part.blank.high))
        return low.intersection(high)
    return None


def _beyond(cut: PlaneCut, face: Point, part: Part, sight: Sight) -> Any:
    """What a plane takes off one face of the part: of the blank's rectangle all that lies beyond its line."""
    axis = sight.side.axis
    axes = plane_axes(axis)
    level = cut.normal[axis.value] * float(face.at(axis) - cut.through.at(axis))
    a, b = (cut.normal[one.value] for one in axes)
    offset = sum(cut.normal[one.value] * float(cut.through.at(one)) for one in axes) - level
    size = hypot(a, b)
    if size < 1e-9:
        return Polygon()
    reach = 2 * sum(float(part.blank.size(one)) for one in Axis)
    foot = (a * offset / size**2, b * offset / size**2)
    out, side = (a / size * reach, b / size * reach), (-b / size * reach, a / size * reach)
    corners = [
        (foot[0] + side[0] * s + out[0] * o, foot[1] + side[1] * s + out[1] * o)
        for s, o in ((-1, 0), (1, 0), (1, 1), (-1, 1))
    ]
    return Polygon(_laid(corners, axes, part, sight))


def _fine(loop: Loop) -> list[Xy]:
    """Give the points of an outline, arcs in chords so short that no pencil shows them."""
    outline: Ring = ring(loop)
    found: list[Xy] = []
    for (start, end), run in zip(pairwise((*outline.points, outline.points[0])), outline.runs, strict=True):
        found.append(start)
        if isinstance(run, Round):
            first = atan2(start[1] - run.centre[1], start[0] - run.centre[0])
            last = atan2(end[1] - run.centre[1], end[0] - run.centre[0])
            sweep = (last - first + pi) % (2 * pi) - pi
            for step in range(1, FINER):
                angle = first + sweep * step / FINER
                found.append(
                    (run.centre[0] + run.radius * cos(angle), run.centre[1] + run.radius * sin(angle))
                )
    return found


def _laid(points: list[Xy], axes: tuple[Axis, Axis], part: Part, sight: Sight) -> list[Xy]:
    """Carry outline coordinates into the view."""
    return [_put(point, axes, part, sight) for point in points]


def _put(point: Xy, axes: tuple[Axis, Axis], part: Part, sight: Sight) -> Xy:
    values = dict(zip(axes, point, strict=True))

    def one(side_axis: Axis, high: bool) -> float:
        value = values[side_axis]
        return value if high else float(part.blank.size(side_axis)) - value

    return one(sight.right.axis, sight.right.high), one(sight.up.axis, sight.up.high)


def _centre(mouth: Point, part: Part, sight: Sight) -> Xy:
    axes = plane_axes(sight.side.axis)
    return _put((float(mouth.at(axes[0])), float(mouth.at(axes[1]))), axes, part, sight)


def bore_loop(bore: Bore) -> tuple[Xy, ...]:
    """Give a bore's edge as points on its true circle."""
    return circle(bore.at, bore.radius).points


def _polygons(shape: Any) -> list[Any]:
    if isinstance(shape, Polygon):
        return [] if shape.is_empty else [shape]
    if isinstance(shape, MultiPolygon) or hasattr(shape, "geoms"):
        return [piece for part in shape.geoms for piece in _polygons(part)]
    return []

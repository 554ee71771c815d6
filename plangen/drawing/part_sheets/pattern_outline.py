"""The shape of a part at full size, from the records: outer edge, holes, and the cuts marked on it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from math import atan2, cos, degrees, dist, hypot, pi, sin
from typing import Any

from shapely import make_valid
from shapely.geometry import LineString, Polygon
from shapely.geometry import box as rectangle
from shapely.ops import unary_union

from plangen.design.model import Part
from plangen.drawing.part_sheets.pattern_edges import Edge, Track, edges_of, ellipse
from plangen.drawing.part_sheets.pattern_marks import pieces
from plangen.drawing.part_sheets.sights import Sight
from plangen.drawing.sheet.model import Arc, Xy
from plangen.joinery.cuts import BoreCut, BoxCut, Cut, Loop, PlaneCut, PrismCut, RoundCut, plane_axes
from plangen.joinery.operation import Form
from plangen.joinery.space import Axis, Point
from plangen.solids.outline import Ring, Round, Smooth, ring
from plangen.units import ZERO, Length

FINER = 8  # chords for each chord of the solids' outlines: the sagitta falls to a 64th, under 0.002 mm


@dataclass(frozen=True, slots=True)
class Bore:
    """A round hole where it meets the face that is looked at, or lies behind it.

    ``at`` is its middle on that face and ``rim`` its edge, mm. ``near`` tells whether the face is the one
    it is bored from, ``through`` whether it comes out. A hole that leans runs ``way`` (a unit vector of the
    drawing, towards its inner end) and ``lean`` degrees from square.
    """

    at: Xy
    rim: Arc
    diameter: Length
    through: bool
    near: bool
    way: Xy = (0.0, 0.0)
    lean: float = 0.0

    @property
    def radius(self) -> float:
        """Half the diameter of the drill, mm."""
        return float(self.diameter) / 2

    @property
    def reach(self) -> float:
        """Half the widest way across where the hole meets the face, mm."""
        return dist(self.rim.centre, self.rim.major)


@dataclass(frozen=True, slots=True)
class Marked:
    """A cut that does not go through: its loop, and whether it opens the face that is looked at."""

    loop: tuple[Xy, ...]
    near: bool


@dataclass(frozen=True, slots=True)
class FullSize:
    """A part's shape in the plane of a view, mm, low left corner of the blank at the origin.

    ``shape`` is a polygon with curves in fine chords (holes left out; they are ``bores``), ``edges`` its
    edges one by one, exact; ``marked`` are the cuts that do not go through.
    """

    shape: Any
    edges: tuple[Edge, ...]
    bores: tuple[Bore, ...]
    marked: tuple[Marked, ...]
    width: float
    height: float


def full_size(part: Part, sight: Sight) -> FullSize:
    """Work out the shape that is seen along the axis of a sight."""
    axis = sight.side.axis
    width, height = (float(part.blank.size(side.axis)) for side in (sight.right, sight.up))
    blank = rectangle(0, 0, width, height)
    gone, bores, marked = [], [], []
    tracks: list[Track] = []
    for operation in part.operations:
        holes = [feature for feature in operation.features if feature.form is Form.HOLE]
        for cut in operation.cuts:
            if isinstance(cut, RoundCut):
                if cut.side.axis is axis:
                    bores.append(_square_bore(cut, part, sight))
                continue
            if isinstance(cut, BoreCut):
                if any(feature.side.axis is axis for feature in holes):
                    bores.append(_leaning_bore(cut, part, sight))
                continue
            area = _area(cut, part, sight)
            if area is None:
                continue
            if _goes_through(cut, part, axis):
                gone.append(area)
                tracks += _tracks(cut, part, sight)
            else:
                near = _opens(cut, part, sight)
                seen = pieces(area.intersection(blank), "Polygon")
                marked += [Marked(tuple(piece.exterior.coords)[:-1], near) for piece in seen]
    shape = blank.difference(unary_union(gone)) if gone else blank
    whole = pieces(shape, "Polygon")
    largest = max(whole, key=lambda piece: float(piece.area)) if whole else blank
    edges = [
        edge
        for loop in (largest.exterior, *largest.interiors)
        for edge in edges_of(tuple(loop.coords)[:-1], tuple(tracks))
    ]
    return FullSize(largest, tuple(edges), _single(bores), tuple(marked), width, height)


def _single(bores: list[Bore]) -> tuple[Bore, ...]:
    """Leave out the hole inside a counterbore of the same middle: the wider one is what one sees."""
    return tuple(
        bore
        for bore in bores
        if not any(
            dist(bore.at, other.at) < 1e-6 and other.radius > bore.radius and other.near for other in bores
        )
        or bore.through
    )


def _square_bore(cut: RoundCut, part: Part, sight: Sight) -> Bore:
    at = put(cut.mouth, part, sight)
    rim = ellipse(at, (float(cut.diameter) / 2, 0.0), 1.0)
    through = cut.depth >= part.blank.size(cut.side.axis)
    return Bore(at, rim, cut.diameter, through, cut.side is sight.side)


def _leaning_bore(cut: BoreCut, part: Part, sight: Sight) -> Bore:
    """Show a hole that leans where its middle meets the face: there its edge is an ellipse."""
    axis = sight.side.axis
    into = cut.way[axis.value]
    near = (into < 0) == sight.side.high
    along = _turned(cut.way, sight)
    size = hypot(*along)
    thick = float(part.blank.size(axis))
    through = float(cut.depth) * abs(into) >= thick
    x, y = put(cut.mouth, part, sight)
    if not near and through:
        x, y = x + along[0] * thick / abs(into), y + along[1] * thick / abs(into)
    radius = float(cut.diameter) / 2
    if size < 1e-9:
        return Bore((x, y), ellipse((x, y), (radius, 0.0), 1.0), cut.diameter, through, near)
    unit = (along[0] / size, along[1] / size)
    long = radius / abs(into)
    rim = ellipse((x, y), (unit[0] * long, unit[1] * long), abs(into))
    return Bore((x, y), rim, cut.diameter, through, near, unit, degrees(atan2(size, abs(into))))


def _turned(way: tuple[float, float, float], sight: Sight) -> Xy:
    return (way[sight.right.axis.value] * sight.right.sign, way[sight.up.axis.value] * sight.up.sign)


def _goes_through(cut: Cut, part: Part, axis: Axis) -> bool:
    if isinstance(cut, PlaneCut):
        return True  # its area is what goes on both faces
    low, high = _reach(cut, axis)
    return low <= ZERO and high >= part.blank.size(axis)


def _opens(cut: Cut, part: Part, sight: Sight) -> bool:
    low, high = _reach(cut, sight.side.axis)
    return high >= part.blank.size(sight.side.axis) if sight.side.high else low <= ZERO


def _reach(cut: Cut, axis: Axis) -> tuple[Length, Length]:
    if isinstance(cut, BoxCut):
        return cut.box.low.at(axis), cut.box.high.at(axis)
    assert isinstance(cut, PrismCut), "round cuts are holes, plane cuts have no floor"
    return cut.low, cut.high


def _area(cut: Cut, part: Part, sight: Sight) -> Any:
    axes = plane_axes(sight.side.axis)
    if isinstance(cut, BoxCut):
        low, high = cut.box.low, cut.box.high
        corners = [(low, low), (high, low), (high, high), (low, high)]
        points = [(float(a.at(axes[0])), float(b.at(axes[1]))) for a, b in corners]
        return make_valid(Polygon(_laid(points, axes, part, sight)))
    if isinstance(cut, PrismCut) and cut.axis is sight.side.axis:
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
    """Give the points of an outline, its curves in chords so short that no pencil shows them."""
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
        elif isinstance(run, Smooth):
            found += _between(start, end, run)
    return found


def _between(start: Xy, end: Xy, run: Smooth) -> Iterator[Xy]:
    """Give points of a smooth line between two of its own: a cubic with their tangents (Hermite)."""
    place = {point: index for index, point in enumerate(run.points)}
    one, two = place.get(start), place.get(end)
    if one is None or two is None:
        return
    span, sign = dist(start, end), 1.0 if two > one else -1.0
    for step in range(1, FINER):
        t = step / FINER
        x, y = (
            a * (2 * t**3 - 3 * t**2 + 1)
            + b * (3 * t**2 - 2 * t**3)
            + sign * span * (m * (t**3 - 2 * t**2 + t) + n * (t**3 - t**2))
            for a, b, m, n in zip(start, end, run.tangents[one], run.tangents[two], strict=True)
        )
        yield (x, y)


def _tracks(cut: Cut, part: Part, sight: Sight) -> Iterator[Track]:
    """Give the circles and the smooth lines that a cut leaves, each once."""
    if not isinstance(cut, PrismCut):
        return
    axes = plane_axes(cut.axis)
    for loop in cut.loops:
        outline = ring(loop)
        for run in dict.fromkeys(run for run in outline.runs if isinstance(run, Round | Smooth)):
            if isinstance(run, Round):
                (centre,) = _laid([run.centre], axes, part, sight)
                yield Track(centre, run.radius)
                continue
            fine: list[Xy] = []
            for start, end in pairwise(run.points):
                fine += [start, *_between(start, end, run)]
            yield Track(line=LineString(_laid([*fine, run.points[-1]], axes, part, sight)))


def _laid(points: list[Xy], axes: tuple[Axis, Axis], part: Part, sight: Sight) -> list[Xy]:
    """Carry outline coordinates into the view."""
    return [_put(dict(zip(axes, point, strict=True)), part, sight) for point in points]


def _put(values: dict[Axis, float], part: Part, sight: Sight) -> Xy:
    def one(axis: Axis, high: bool) -> float:
        return values[axis] if high else float(part.blank.size(axis)) - values[axis]

    return one(sight.right.axis, sight.right.high), one(sight.up.axis, sight.up.high)


def put(point: Point, part: Part, sight: Sight) -> Xy:
    """Carry a point of the part into the view."""
    return _put({axis: float(point.at(axis)) for axis in Axis}, part, sight)

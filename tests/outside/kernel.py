"""Parts built by a solid modeller with true faces (Open CASCADE) from their operations, by code of its own.

Round faces are given the same chords as a mesh has, so that volumes can be compared to a millionth: a chord
leaves its circle by at most 0.1 mm, a full circle has at least sixteen chords and a multiple of four, and its
corners stand at whole steps from the first of the two axes. A hole that leans has its chords about the
circle, so that what goes in fits however it is turned. Lengths are millimetres.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from typing import Any

from OCP.BRepAlgoAPI import BRepAlgoAPI_Common, BRepAlgoAPI_Cut
from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeFace, BRepBuilderAPI_MakePolygon, BRepBuilderAPI_Transform
from OCP.BRepGProp import BRepGProp
from OCP.BRepPrimAPI import BRepPrimAPI_MakeBox, BRepPrimAPI_MakePrism
from OCP.gp import gp_Pnt, gp_Trsf, gp_Vec
from OCP.GProp import GProp_GProps

from plangen.design.model import Copy, Part
from plangen.joinery.cuts import Arc, BoreCut, BoxCut, Cut, Line, Loop, PlaneCut, PrismCut, RoundCut
from plangen.joinery.space import Axis, Box
from tests.outside.inside import slope_of

Xyz = tuple[float, float, float]
Xy = tuple[float, float]
CHORD, FEWEST = 0.1, 16
FAR = 10_000.0


def part_shape(part: Part) -> Any:
    """The part: its blank less everything that its operations take away. Raises TypeError for a spline."""
    cuts = [cut for operation in part.operations for cut in operation.cuts]
    return less(_box(part.blank), [_tool(cut, part.blank) for cut in cuts])


def volume(shape: Any) -> float:
    """The volume of a shape in mm3."""
    found = GProp_GProps()
    BRepGProp.VolumeProperties_s(shape, found)
    return float(found.Mass())


def less(shape: Any, tools: Iterable[Any]) -> Any:
    """A shape less others, one after another."""
    for tool in tools:
        shape = BRepAlgoAPI_Cut(shape, tool).Shape()
    return shape


def shared(one: Any, two: Any) -> float:
    """The volume that two shapes both take, mm3."""
    return volume(BRepAlgoAPI_Common(one, two).Shape())


def stood(shape: Any, copy: Copy) -> Any:
    """A part's shape where one of its copies stands in the frame."""
    rows = [[float(value) for value in row] for row in copy.pose.turn]
    move = list(copy.pose.move.floats())
    if copy.stance is not None:
        lean, by = copy.stance.rows, copy.stance.move
        rows = [[sum(lean[i][k] * rows[k][j] for k in range(3)) for j in range(3)] for i in range(3)]
        move = [sum(lean[i][k] * move[k] for k in range(3)) + by[i] for i in range(3)]
    placing = gp_Trsf()
    placing.SetValues(*(value for row, at in zip(rows, move, strict=True) for value in (*row, at)))
    return BRepBuilderAPI_Transform(shape, placing, True).Shape()


def _box(box: Box) -> Any:
    return BRepPrimAPI_MakeBox(gp_Pnt(*box.low.floats()), gp_Pnt(*box.high.floats())).Shape()


def _tool(cut: Cut, blank: Box) -> Any:
    """What a cut takes away, as a shape."""
    if isinstance(cut, BoxCut):
        return _box(cut.box)
    if isinstance(cut, RoundCut):
        axis = cut.side.axis
        first, second = (other for other in Axis if other is not axis)
        centre = float(cut.mouth.at(first)), float(cut.mouth.at(second))
        mouth = float(cut.mouth.at(axis))
        ends = sorted((mouth, mouth - float(cut.depth) * cut.side.sign))
        return _less_islands(axis, ends[0], ends[1], [_circle(centre, float(cut.diameter) / 2)])
    if isinstance(cut, PrismCut):
        return _less_islands(cut.axis, float(cut.low), float(cut.high), [_ring(loop) for loop in cut.loops])
    if isinstance(cut, PlaneCut):
        return _slab(
            cut.through.floats(), cut.normal, [(-FAR, -FAR), (FAR, -FAR), (FAR, FAR), (-FAR, FAR)], FAR
        )
    assert isinstance(cut, BoreCut)
    # Taken back out of the wood so far that the whole mouth is open, however the bit leans.
    radius = float(cut.diameter) / 2
    lean = slope_of(cut, blank)
    back = radius * math.sqrt(max(0.0, 1 / lean**2 - 1)) + 1
    begin = tuple(at - way * back for at, way in zip(cut.mouth.floats(), cut.way, strict=True))
    around = radius / math.cos(math.pi / _chords(radius))
    ring = [(u * around / radius, v * around / radius) for u, v in _circle((0.0, 0.0), radius)]
    return _slab(begin, cut.way, ring, float(cut.depth) + back)


def _less_islands(axis: Axis, low: float, high: float, rings: Sequence[Sequence[Xy]]) -> Any:
    """A prism over the first ring along an axis; the other rings are kept."""
    outer, *islands = (_prism(axis, low, high, ring) for ring in rings)
    return less(outer, islands)


def _prism(axis: Axis, low: float, high: float, ring: Sequence[Xy]) -> Any:
    first, second = (other for other in Axis if other is not axis)

    def lifted(pair: Xy) -> Xyz:
        values = [0.0, 0.0, 0.0]
        values[first.value], values[second.value], values[axis.value] = *pair, low
        return values[0], values[1], values[2]

    way = [0.0, 0.0, 0.0]
    way[axis.value] = high - low
    return _swept([lifted(pair) for pair in ring], (way[0], way[1], way[2]))


def _slab(origin: Sequence[float], way: Sequence[float], ring: Sequence[Xy], depth: float) -> Any:
    """A prism over a ring in the plane through a point square to a way, as deep as is said along it."""
    size = math.hypot(*way)
    z = [value / size for value in way]
    least = min(range(3), key=lambda k: abs(z[k]))
    helper = [1.0 if k == least else 0.0 for k in range(3)]
    x = _cross(helper, z)
    x = [value / math.hypot(*x) for value in x]
    y = _cross(z, x)
    corners = [tuple(origin[k] + u * x[k] + v * y[k] for k in range(3)) for u, v in ring]
    return _swept(corners, tuple(value * depth for value in z))  # type: ignore[arg-type]


def _cross(a: Sequence[float], b: Sequence[float]) -> list[float]:
    return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]


def _swept(corners: Sequence[Sequence[float]], way: Sequence[float]) -> Any:
    outline = BRepBuilderAPI_MakePolygon()
    for corner in corners:
        outline.Add(gp_Pnt(*corner))
    outline.Close()
    face = BRepBuilderAPI_MakeFace(outline.Wire(), True)
    return BRepPrimAPI_MakePrism(face.Face(), gp_Vec(*way)).Shape()


def _chords(radius: float) -> int:
    if radius <= CHORD:
        return FEWEST
    return max(FEWEST, 4 * math.ceil(math.pi / math.acos(1 - CHORD / radius) / 4 - 1e-9))


def _circle(centre: Xy, radius: float) -> list[Xy]:
    number = _chords(radius)
    return [
        (
            centre[0] + radius * math.cos(math.tau * k / number),
            centre[1] + radius * math.sin(math.tau * k / number),
        )
        for k in range(number)
    ]


def _ring(loop: Loop) -> list[Xy]:
    """The corners of an outline, arcs in chords."""
    here = _pair(loop.start)
    corners = [here]
    for segment in loop.segments:
        if isinstance(segment, Arc):
            corners += _along_arc(here, _pair(segment.to), float(segment.radius), segment.left)
            here = _pair(segment.to)
        elif isinstance(segment, Line):
            here = _pair(segment.to)
        else:
            raise TypeError("a smooth curve has no chords that are known from outside")
        if math.dist(here, corners[-1]) > 1e-9:
            corners.append(here)
    return corners[:-1] if math.dist(corners[0], corners[-1]) < 1e-9 else corners


def _along_arc(start: Xy, end: Xy, radius: float, left: bool) -> list[Xy]:
    """The corners of the full circle that lie inside an arc, in its order."""
    half = math.dist(start, end) / 2
    middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
    off = math.sqrt(max(0.0, radius**2 - half**2)) * (1 if left else -1)
    centre = (
        middle[0] - off * (end[1] - start[1]) / (2 * half),
        middle[1] + off * (end[0] - start[0]) / (2 * half),
    )
    step = math.tau / _chords(radius)
    begin = math.atan2(start[1] - centre[1], start[0] - centre[0])
    sweep = 2 * math.asin(min(1.0, half / radius)) * (1 if left else -1)
    low, high = sorted((begin / step, (begin + sweep) / step))
    angles = [k * step for k in range(math.ceil(low + 1e-3), math.floor(high - 1e-3) + 1)]
    inside = [(centre[0] + radius * math.cos(a), centre[1] + radius * math.sin(a)) for a in angles]
    return inside if left else inside[::-1]


def _pair(point: tuple[Any, Any]) -> Xy:
    return float(point[0]), float(point[1])

"""The visible lines of a scene as a solid modeller with true faces (Open CASCADE) finds them.

Parts are built from their operations with true cylinders and arcs, so that neither chords nor their
sagitta come in between. Lengths are millimetres.
"""

from __future__ import annotations

import math
import time
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import shapely
from OCP.BRepAdaptor import BRepAdaptor_Curve
from OCP.BRepBuilderAPI import (
    BRepBuilderAPI_MakeEdge,
    BRepBuilderAPI_MakeFace,
    BRepBuilderAPI_MakeWire,
    BRepBuilderAPI_Transform,
)
from OCP.BRepLib import BRepLib
from OCP.BRepPrimAPI import BRepPrimAPI_MakeCylinder, BRepPrimAPI_MakePrism
from OCP.GC import GC_MakeArcOfCircle
from OCP.gp import gp_Ax2, gp_Dir, gp_Pnt, gp_Trsf, gp_Vec
from OCP.HLRAlgo import HLRAlgo_Projector
from OCP.HLRBRep import HLRBRep_Algo, HLRBRep_HLRToShape
from OCP.ShapeUpgrade import ShapeUpgrade_UnifySameDomain
from OCP.TopAbs import TopAbs_EDGE
from OCP.TopExp import TopExp_Explorer
from OCP.TopoDS import TopoDS

from plangen.design.model import Part
from plangen.drawing.hidden_lines import Body, Edge, View
from plangen.joinery.cuts import Arc, BoreCut, Cut, Line, Loop, PrismCut, RoundCut
from plangen.joinery.space import Axis, Box
from tests.outside.kernel import _box, _tool, less

Xy = tuple[float, float]
PEN = 0.1  # mm, by which lines are thickened to measure their length
SMOOTH = 0.0174533  # radians, one degree, below which faces run into each other
FINE = 0.002  # mm by which the chords of a measured curve may leave it


def true_shape(part: Part, ease: float = 0.0) -> Any:
    """The part with true round faces: its blank less everything that its operations take away.

    Where a peg fills its hole, the kernel draws the rim that the peg hides. ``ease`` (mm) makes full discs
    and turned pegs thinner by so much, too little to be seen.
    """
    cuts = [cut for operation in part.operations for cut in operation.cuts]
    shape = less(_box(part.blank), [_true_tool(cut, part.blank, ease) for cut in cuts])
    joined = ShapeUpgrade_UnifySameDomain(shape, True, True, False)  # pieces of one surface are one face
    joined.Build()
    shape = joined.Shape()
    BRepLib.EncodeRegularity_s(shape, SMOOTH)  # so that faces that run into each other leave no edge
    return shape


def placed(shape: Any, body: Body) -> Any:
    """A part's shape where a body of the part stands in the frame."""
    rows = [[float(value) for value in row] for row in body.turn]
    placing = gp_Trsf()
    placing.SetValues(
        *(value for row, at in zip(rows, body.move.tolist(), strict=True) for value in (*row, at))
    )
    return BRepBuilderAPI_Transform(shape, placing, True).Shape()


@dataclass(frozen=True)
class KernelLines:
    """Visible lines in the plane of the view, as fine polylines, and the seconds that hiding took."""

    lines: tuple[tuple[Xy, ...], ...]
    seconds: float


def kernel_lines(shapes: Sequence[Any], view: View, *, read: bool = True) -> KernelLines:
    """Hide by the kernel's exact method; the time is without building, meshing and reading the lines.

    Sharp edges and outlines are taken, and not the edges where faces run smoothly into each other.
    """
    across = gp_Ax2(gp_Pnt(0, 0, 0), gp_Dir(*view.toward), gp_Dir(*view.right))
    begun = time.perf_counter()
    hider = HLRBRep_Algo()
    for shape in shapes:
        hider.Add(shape, 0)
    hider.Projector(HLRAlgo_Projector(across))
    hider.Update()
    hider.Hide()
    seconds = time.perf_counter() - begun
    if not read:
        return KernelLines((), seconds)
    reader = HLRBRep_HLRToShape(hider)
    found: list[tuple[Xy, ...]] = []
    for compound in (reader.VCompound(), reader.OutLineVCompound()):
        if compound is not None and not compound.IsNull():
            found += _polylines(compound)
    return KernelLines(tuple(found), seconds)


def fine(edge: Edge) -> tuple[Xy, ...]:
    """An edge of ours as a fine polyline: an arc by its own formula and not by its points."""
    arc = edge.arc
    if arc is None:
        return edge.points
    radius = max(math.dist(arc.centre, arc.major), math.dist(arc.centre, arc.minor), FINE)
    step = 2.0 * math.acos(1.0 - FINE / radius)
    number = max(1, math.ceil((arc.end - arc.start) / step))
    return tuple(arc.at(arc.start + (arc.end - arc.start) * k / number) for k in range(number + 1))


def ink(lines: Iterable[Sequence[Xy]]) -> Any:
    """What lines cover when they are drawn ``PEN`` wide to each side; overlaps count once."""
    drawn = [shapely.LineString(line) for line in lines if len(line) > 1]
    return shapely.union_all(shapely.buffer(drawn, PEN, cap_style="flat", quad_segs=4))


def length(lines: Iterable[Sequence[Xy]]) -> float:
    """The length of lines, where lines that lie on one another count once."""
    return float(ink(lines).area) / (2.0 * PEN)


def farthest(lines: Iterable[Sequence[Xy]], others: Iterable[Sequence[Xy]], step: float = 1.0) -> float:
    """How far a point of the lines is from the nearest of the others, at most; points every ``step`` mm."""
    return max((distance for distance, _ in far_points(lines, others, step)), default=0.0)


def far_points(
    lines: Iterable[Sequence[Xy]], others: Iterable[Sequence[Xy]], step: float = 1.0
) -> list[tuple[float, Xy]]:
    """Points every ``step`` mm of the lines, each with its distance from the nearest of the others."""
    drawn = [shapely.LineString(line) for line in lines if len(line) > 1]
    points = shapely.get_parts(shapely.multipoints(shapely.get_coordinates(shapely.segmentize(drawn, step))))
    middles = [line.interpolate(0.5, normalized=True) for line in drawn]
    every = [*points.tolist(), *middles]
    tree = shapely.STRtree([shapely.LineString(line) for line in others if len(line) > 1])
    if not every or not len(tree.geometries):
        return [(math.inf, (point.x, point.y)) for point in every]
    at, distance = tree.query_nearest(every, all_matches=False, return_distance=True)
    return [(float(apart), (every[k].x, every[k].y)) for k, apart in zip(at[0], distance, strict=True)]


def _polylines(compound: Any) -> list[tuple[Xy, ...]]:
    BRepLib.BuildCurves3d_s(compound)
    found = []
    explorer = TopExp_Explorer(compound, TopAbs_EDGE)
    while explorer.More():
        found.append(_polyline(BRepAdaptor_Curve(TopoDS.Edge(explorer.Current()))))
        explorer.Next()
    return found


def _polyline(curve: Any) -> tuple[Xy, ...]:
    """Halve a curve until its chords keep to it."""
    begin, end = curve.FirstParameter(), curve.LastParameter()

    def at(t: float) -> Xy:
        point = curve.Value(t)
        return point.X(), point.Y()

    kind = str(curve.GetType())
    if kind.endswith("Line"):
        return at(begin), at(end)
    first = [begin + (end - begin) * k / 4 for k in range(5)]
    result = [at(begin)]
    for low, high in pairwise(first):
        todo = [(low, high, at(low), at(high))]
        while todo:
            s, t, a, b = todo.pop()
            middle = at((s + t) / 2)
            quarter, half = at(s + (t - s) / 4), at(s + (t - s) * 3 / 4)
            off = max(_off(a, b, point) for point in (quarter, middle, half))
            if off > FINE and t - s > 1e-9:
                todo += [((s + t) / 2, t, middle, b), (s, (s + t) / 2, a, middle)]
            else:
                result.append(b)
    return tuple(result)


def _off(a: Xy, b: Xy, point: Xy) -> float:
    x, y = b[0] - a[0], b[1] - a[1]
    size = math.hypot(x, y)
    u, v = point[0] - a[0], point[1] - a[1]
    return abs(x * v - y * u) / size if size > 1e-12 else math.hypot(u, v)


def _true_tool(cut: Cut, blank: Box, ease: float) -> Any:
    if isinstance(cut, RoundCut):
        axis = cut.side.axis
        way = [0.0, 0.0, 0.0]
        way[axis.value] = -float(cut.side.sign)
        return _drill(cut.mouth.floats(), way, float(cut.diameter) / 2, 0.0, float(cut.depth))
    if isinstance(cut, BoreCut):
        radius = float(cut.diameter) / 2
        return _drill(cut.mouth.floats(), cut.way, radius, 40.0 * radius, float(cut.depth))
    if isinstance(cut, PrismCut):
        first, *others = cut.loops
        low, high = float(cut.low), float(cut.high)
        return less(
            _prism(cut.axis, low, high, first, 0.0),
            [_prism(cut.axis, low, high, loop, ease) for loop in others],
        )
    return _tool(cut, blank)


def _drill(mouth: Sequence[float], way: Sequence[float], radius: float, back: float, depth: float) -> Any:
    begin = [at - step * back for at, step in zip(mouth, way, strict=True)]
    return BRepPrimAPI_MakeCylinder(gp_Ax2(gp_Pnt(*begin), gp_Dir(*way)), radius, back + depth).Shape()


def _prism(axis: Axis, low: float, high: float, loop: Loop, ease: float) -> Any:
    first, second = (other for other in Axis if other is not axis)

    def lifted(pair: Xy) -> gp_Pnt:
        values = [0.0, 0.0, 0.0]
        values[first.value], values[second.value], values[axis.value] = *pair, low
        return gp_Pnt(*values)

    way = [0.0, 0.0, 0.0]
    way[axis.value] = high - low
    wire = BRepBuilderAPI_MakeWire()
    here = _pair(loop.start)
    if _is_circle(loop):
        centre = [(a + b) / 2 for a, b in zip(here, _pair(loop.segments[0].to), strict=True)]
        foot = lifted((centre[0], centre[1]))
        return BRepPrimAPI_MakeCylinder(
            gp_Ax2(foot, gp_Dir(*way)), float(loop.segments[0].radius) - ease, high - low
        ).Shape()
    for segment in loop.segments:
        if isinstance(segment, Arc):
            there = _pair(segment.to)
            middle = _midway(here, there, float(segment.radius), segment.left)
            curve = GC_MakeArcOfCircle(lifted(here), lifted(middle), lifted(there)).Value()
            wire.Add(BRepBuilderAPI_MakeEdge(curve).Edge())
        elif isinstance(segment, Line):
            there = _pair(segment.to)
            if math.dist(here, there) > 1e-9:
                wire.Add(BRepBuilderAPI_MakeEdge(lifted(here), lifted(there)).Edge())
        else:
            raise TypeError("a smooth curve is not built with true faces here")
        here = there
    if math.dist(here, _pair(loop.start)) > 1e-9:
        wire.Add(BRepBuilderAPI_MakeEdge(lifted(here), lifted(_pair(loop.start))).Edge())
    face = BRepBuilderAPI_MakeFace(wire.Wire(), True)
    return BRepPrimAPI_MakePrism(face.Face(), gp_Vec(*way)).Shape()


def _is_circle(loop: Loop) -> bool:
    """Whether an outline is two halves of one circle."""
    arcs = [segment for segment in loop.segments if isinstance(segment, Arc)]
    return (
        len(arcs) == len(loop.segments) == 2
        and arcs[0].radius == arcs[1].radius
        and math.isclose(math.dist(_pair(loop.start), _pair(arcs[0].to)), 2 * float(arcs[0].radius))
    )


def _midway(start: Xy, end: Xy, radius: float, left: bool) -> Xy:
    """The middle of the shorter arc between two points."""
    half = math.dist(start, end) / 2
    rise = (radius - math.sqrt(max(0.0, radius**2 - half**2))) * (-1 if left else 1)
    x, y = (start[0] + end[0]) / 2, (start[1] + end[1]) / 2
    return x - rise * (end[1] - start[1]) / (2 * half), y + rise * (end[0] - start[0]) / (2 * half)


def _pair(point: tuple[Any, Any]) -> Xy:
    return float(point[0]), float(point[1])

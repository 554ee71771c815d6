"""A scene cut at a plane: exact faces of what is cut, the lines behind them, and what is left whole.

Pieces are cut as solids, by the plane as one more operation. Fasteners, dowels and pins that lie in the
plane are drawn whole, as ISO 128-44 has it (from memory): cutting them lengthwise would show nothing.
Coordinates are millimetres at full size in the plane of the view, as a ``Sight`` has them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from math import atan2, degrees
from typing import Any

import numpy as np
import shapely

from plangen.design.model import Copy, Design, Hardware, Part
from plangen.drawing.clogging import unclogged
from plangen.drawing.cutting_plane import CuttingPlane, Site, joint_sites, point_on
from plangen.drawing.edges import edge_stroke, part_of_edge, ring_edge
from plangen.drawing.fittings import in_place
from plangen.drawing.hardware_shapes import pose, profile, turned
from plangen.drawing.hatching import Cut, Kind, hatch_all, kind_of
from plangen.drawing.hidden_lines import Body, Edge, View, project
from plangen.drawing.scene import GRID, Placing, alone, corners
from plangen.drawing.sheet.measure import Bounds
from plangen.drawing.sheet.model import Mark, Meaning
from plangen.joinery.cuts import PlaneCut
from plangen.joinery.operation import Form, Operation
from plangen.joinery.space import Axis, Direction, Point, Side, to_nanometre
from plangen.solids import Solids, part_solid, transform
from plangen.solids.model import Floats, Mesh
from plangen.units import Phrase

_ON_PLANE = 1e-4  # mm; corners nearer to the plane lie in the cut face
# A line nearer to the border of a cut face (mm) is that border; chords of a mesh leave true arcs by 0.1.
_ON_BORDER = 0.15
_LEAST_LINE = 0.1  # mm; shorter lines are left out
_SAME = 0.01  # mm within which a hole and a dowel share their middle
_LEAST_CUT = 0.05  # mm2; less is a touch


@dataclass(frozen=True)
class Piece:
    """One piece that is cut: the cut face as a shapely area, and how it is hatched.

    ``direction`` is in degrees in the plane of the view, as ``hatching.Cut`` has it.
    """

    copy: str
    region: Any
    kind: Kind
    direction: float


@dataclass(frozen=True)
class Whole:
    """Something that lies in the plane and is not cut: its outline as a shapely area, and its lines."""

    tag: str
    outline: Any
    edges: tuple[Edge, ...]


@dataclass(frozen=True)
class Section:
    """What is seen of a scene that is cut at a plane.

    ``outlines`` are the lines round what is cut, ``behind`` what is seen past it; ``silhouette`` is the
    area that anything at all covers.
    """

    plane: CuttingPlane
    pieces: tuple[Piece, ...]
    wholes: tuple[Whole, ...]
    outlines: tuple[Edge, ...]
    behind: tuple[Edge, ...]
    silhouette: Any

    @property
    def bounds(self) -> Bounds:
        """The box round everything."""
        low_x, low_y, high_x, high_y = self.silhouette.bounds
        return (low_x, low_y, high_x, high_y)

    @cached_property
    def region(self) -> Any:
        """All that is cut, as one area."""
        return shapely.union_all([piece.region for piece in self.pieces], grid_size=GRID)

    @cached_property
    def material(self) -> Any:
        """All that is cut or lies in the plane whole."""
        return shapely.union_all([self.region, *(whole.outline for whole in self.wholes)], grid_size=GRID)


def cut_through(
    design: Design, solids: Solids, plane: CuttingPlane, copies: Sequence[str] | None = None
) -> Section:
    """Cut a scene: all of a design, or only some copies, with the hardware that is in them.

    What lies toward the viewer is gone. Lines behind are those that are seen; nothing hidden is given.
    """
    shown = [copy for copy in design.copies.values() if copies is None or copy.name in copies]
    names = frozenset(copy.name for copy in shown)
    bodies: list[Body] = []
    pieces: list[Piece] = []
    for copy in shown:
        part = design.part_of[copy.name]
        whole = Body(solids.parts[part.key].mesh, *transform(copy), copy.name)
        low, high = _reach(whole, plane)
        if low >= -_ON_PLANE:
            continue
        if high <= _ON_PLANE:
            bodies.append(whole)
            continue
        left = replace(whole, mesh=_left(part, copy, plane))
        bodies.append(left)
        region = cut_face(left, plane)
        if region.area > _LEAST_CUT:
            pieces.append(Piece(copy.name, region, *_hatched(design, part, copy, plane)))
    standing, round_pieces, wholes = _hardware(design, names, plane)
    bodies += standing
    covered = shapely.union_all([whole.outline for whole in wholes], grid_size=GRID)
    pieces = [*(replace(one, region=one.region.difference(covered)) for one in pieces), *round_pieces]
    pieces = [one for one in pieces if one.region.area > _LEAST_CUT]
    edges = project(bodies, plane.view).visible if bodies else ()
    border = shapely.union_all([piece.region.boundary for piece in pieces]).buffer(_ON_BORDER)
    outlines = [part for edge in edges for part in _kept(edge, border, covered, inside=True)]
    outlines += [
        ring_edge(ring.coords, piece.copy)
        for piece in round_pieces
        for ring in (shapely.get_exterior_ring(piece.region),)
        if ring is not None
    ]
    behind = [part for edge in edges for part in _kept(edge, border, covered, inside=False)]
    return Section(
        plane,
        tuple(pieces),
        tuple(wholes),
        tuple(outlines),
        tuple(behind),
        shapely.union_all([*(alone(body, plane.view) for body in bodies), covered], grid_size=GRID),
    )


def section_marks(section: Section, placing: Placing, clear: Any = None) -> list[Mark]:
    """Draw a section: hatching, what is behind in thin lines, then the wide outlines of what is cut.

    ``clear`` is a shapely area on the paper where there is no hatching.
    """
    cuts = [Cut(placing.shape(piece.region), piece.kind, piece.direction) for piece in section.pieces]
    hatched = [stroke for strokes in hatch_all(cuts, clear=clear) for stroke in strokes]
    behind = [edge_stroke(edge, placing, Meaning.CONTEXT) for edge in section.behind]
    wide = [edge_stroke(edge, placing, Meaning.VISIBLE) for edge in section.outlines]
    whole = [edge_stroke(edge, placing, Meaning.CONTEXT) for one in section.wholes for edge in one.edges]
    return [*hatched, *behind, *unclogged(wide, lambda: placing.shape(section.region)), *whole]


def cut_face(left: Body, plane: CuttingPlane) -> Any:
    """Give the face that a plane has left on a piece, as a shapely area in the plane of the view."""
    points = corners(left)
    depth = points @ np.asarray(plane.view.toward, dtype=np.float64) - _depth(plane)
    facets = left.mesh.triangles[(np.abs(depth) < _ON_PLANE)[left.mesh.triangles].all(axis=1)]
    flat = points @ np.column_stack([plane.view.right, plane.view.up])
    rings = [shapely.Polygon(flat[loop]) for loop in _loops(facets.tolist()) if len(loop) > 2]
    solid = [ring for ring in rings if ring.exterior.is_ccw]
    holes = [ring for ring in rings if not ring.exterior.is_ccw]
    return shapely.union_all(solid).difference(shapely.union_all(holes))


def _loops(facets: Sequence[Sequence[int]]) -> Iterator[list[int]]:
    """Give the rings of corners round facets: anticlockwise, and clockwise round what they leave out."""
    edges = {(f[k], f[(k + 1) % 3]) for f in facets for k in range(3)}
    after: dict[int, list[int]] = {}
    for start, end in sorted(edges):
        if (end, start) not in edges:
            after.setdefault(start, []).append(end)
    while after:
        loop = [min(after)]
        while True:
            ends = after[loop[-1]]
            end = ends.pop(0)
            if not ends:
                del after[loop[-1]]
            if end in loop:  # a ring is closed; what led to it goes on
                at = loop.index(end)
                yield loop[at:]
                del loop[at + 1 :]
                if end not in after:
                    break
            else:
                loop.append(end)


def _depth(plane: CuttingPlane) -> float:
    """Give how far toward the viewer the plane lies."""
    return plane.side.sign * float(plane.at)


def _reach(body: Body, plane: CuttingPlane) -> tuple[float, float]:
    """Give how far a body reaches behind the plane (negative) and before it (positive), mm."""
    depth = corners(body) @ np.asarray(plane.view.toward, dtype=np.float64) - _depth(plane)
    return (float(depth.min()), float(depth.max())) if len(depth) else (0.0, 0.0)


def _left(part: Part, copy: Copy, plane: CuttingPlane) -> Mesh:
    """Give what is left of a piece when the plane is one more saw cut, in the part's own frame."""
    turn, move = transform(copy)
    x, y, z = ((np.array(point_on(plane).floats()) - move) @ turn).tolist()
    a, b, c = (np.asarray(plane.view.toward, dtype=np.float64) @ turn).tolist()
    through = Point(to_nanometre(x), to_nanometre(y), to_nanometre(z))
    saw = Operation("section", "Section", Side.FRONT, (PlaneCut(through, (a, b, c)),), (), Phrase())
    return part_solid(replace(part, operations=(*part.operations, saw))).mesh


def _hatched(design: Design, part: Part, copy: Copy, plane: CuttingPlane) -> tuple[Kind, float]:
    """Say how a piece is hatched at a plane, and which way its hatching runs in the view."""
    turn, _ = transform(copy)
    runs, wide, thick = (turn[:, axis.value] for axis in (part.runs, part.wide, part.thick))
    toward = np.asarray(plane.view.toward, dtype=np.float64)
    stock = design.stock[part.stock]
    kind = kind_of(stock.kind, f"{stock.title} {stock.species}", float(runs @ toward))
    if kind == "end grain":
        return kind, _angle(wide, plane.view)
    if kind == "plywood":
        if abs(float(thick @ toward)) > 0.7:  # cut along inside a ply
            return "long grain", _angle(runs, plane.view)
        return kind, _angle(thick, plane.view) - 90.0
    return kind, _angle(runs, plane.view)


def _angle(way: Floats, view: View) -> float:
    return round(degrees(atan2(float(way @ np.array(view.up)), float(way @ np.array(view.right)))), 6)


def _hardware(
    design: Design, names: frozenset[str], plane: CuttingPlane
) -> tuple[list[Body], list[Piece], list[Whole]]:
    """Give hardware that is seen behind the plane, that is cut across, and that lies in it whole."""
    behind: list[Body] = []
    wholes: list[Whole] = []
    visible = [actor.body for actor in in_place(design) if _holder(actor.tag, design) & names]
    for body in visible:
        low, high = _reach(body, plane)
        if high <= _ON_PLANE:
            behind.append(body)
        elif low < -_ON_PLANE:
            wholes.append(_whole(body, plane.view))
    taken = {body.tag for body in visible}
    crossed: list[Piece] = []
    for tag, item, body, side in _fasteners(design, names):
        if tag in taken:
            continue
        low, high = _reach(body, plane)
        if low >= -_ON_PLANE or high <= _ON_PLANE:
            continue
        if side.axis is plane.side.axis:
            kind: Kind = "end grain" if _wooden(item) else "metal"
            crossed.append(Piece(tag, alone(body, plane.view), kind, 0.0))
        elif min(-low, high) > 0.4 * max(-low, high):  # the plane lays it open, not just its side
            wholes.append(_whole(body, plane.view))
    return behind, crossed, wholes


def _holder(tag: str, design: Design) -> frozenset[str]:
    """Name the copies that a piece of hardware belongs to: those of the joint or the fit it is used by."""
    by = tag.split("/")[0]
    fits = (fit.copies for fit in design.fits if fit.name == by)
    joints = (
        (contact.fixed, contact.moving)
        for joint in design.joints
        if joint.name == by
        for contact in joint.contacts
    )
    return frozenset(name for names in (*fits, *joints) for name in names)


def _fasteners(design: Design, names: frozenset[str]) -> Iterable[tuple[str, Hardware, Body, Side]]:
    """Give the turned fasteners of joints where they are driven; those in leaning pieces are left out."""
    copies, bored = design.copies, _bored(design)
    for use in (use for joint in design.joints for use in joint.hardware):
        item = design.hardware.get(use.item)
        shape = profile(item) if item is not None else None
        if item is None or shape is None:
            continue
        for number, (copy, head, side) in enumerate(use.spots):
            if copy in names and copies[copy].stance is None:
                tag = f"{use.by}/{use.item}/{number}"
                at = head
                if "dowel" in item.kind.lower():
                    at = _seated(bored.get(use.by, ()), head, side, shape.high)
                yield tag, item, Body(turned(shape), *pose(side, at), tag), side


def _bored(design: Design) -> dict[str, list[Site]]:
    """Give the holes of every joint."""
    found: dict[str, list[Site]] = {}
    for site in joint_sites(design):
        if site.feature.form is Form.HOLE:
            found.setdefault(site.joint, []).append(site)
    return found


def _seated(holes: Sequence[Site], head: Direction, side: Side, length: float) -> Direction:
    """Give the head of a dowel in the middle of its two holes; its joint names where the pieces meet."""
    lateral = [axis for axis in Axis if axis is not side.axis]
    mine = [
        site.box
        for site in holes
        if site.way.axis is side.axis
        and all(abs(float(site.box.middle(axis)) - head[axis.value]) < _SAME for axis in lateral)
        and float(site.box.low.at(side.axis)) - _SAME <= head[side.axis.value]
        and head[side.axis.value] <= float(site.box.high.at(side.axis)) + _SAME
    ]
    if not mine:
        return head
    low = min(float(box.low.at(side.axis)) for box in mine)
    high = max(float(box.high.at(side.axis)) for box in mine)
    at = list(head)
    at[side.axis.value] = (low + high) / 2 + side.sign * length / 2
    return (at[0], at[1], at[2])


def _wooden(item: Hardware) -> bool:
    return any(word in item.kind.lower() for word in ("dowel", "plug", "peg"))


def _whole(body: Body, view: View) -> Whole:
    return Whole(body.tag, alone(body, view), project([body], view).visible)


def _kept(edge: Edge, border: Any, covered: Any, *, inside: bool) -> Iterable[Edge]:
    """Give what of a line is border of a cut face, or what is not; nothing under a whole piece."""
    line = shapely.LineString(edge.points)
    shape = line.intersection(border) if inside else line.difference(border)
    shape = shape.difference(covered)
    if shape.is_empty:
        return
    if shape.equals(line) or abs(shape.length - line.length) < 1e-6:
        yield edge
        return
    parts = shapely.get_parts(shapely.line_merge(shape) if shape.geom_type == "MultiLineString" else shape)
    for part in sorted(parts.tolist(), key=lambda item: item.bounds):
        if part.geom_type == "LineString" and part.length > _LEAST_LINE:
            yield part_of_edge(edge, part.coords)

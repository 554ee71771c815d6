"""A scene: bodies in their places, seen from one direction, and the marks that show them.

Coordinates of a sight are millimetres at full size in the plane of the view (right, up); a ``Placing``
carries them to the paper.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from math import hypot
from typing import Any, Literal, TypeAlias

import numpy as np
import shapely
from shapely.algorithms.polylabel import polylabel

from plangen.design.model import Copy, Design
from plangen.drawing.clogging import unclogged
from plangen.drawing.hidden_lines import (
    Body,
    Edge,
    FacesInSight,
    Projection,
    View,
    VisibleFace,
    faces_in_sight,
    project,
)
from plangen.drawing.on_demand import OnDemand
from plangen.drawing.sheet.measure import Bounds
from plangen.drawing.sheet.model import Arc, Fill, Mark, Meaning, Stroke, Tone, Xy
from plangen.solids import Solids, transform
from plangen.solids.model import Floats, Mesh

Role: TypeAlias = Literal["new", "context", "plain", "cover", "hardware"]

_OUTLINE = {
    "new": Meaning.VISIBLE,
    "context": Meaning.CONTEXT,
    "plain": Meaning.VISIBLE,
    "cover": Meaning.VISIBLE,
    "hardware": Meaning.CONTEXT,
}
_TONES: dict[str, tuple[Tone, Tone, Tone]] = {  # top, front, side
    "new": (Tone.NEW_TOP, Tone.NEW_FRONT, Tone.NEW_SIDE),
    "context": (Tone.PAPER, Tone.PAPER, Tone.PAPER),
    "plain": (Tone.PLAIN_TOP, Tone.PLAIN_FRONT, Tone.PLAIN_SIDE),
    "cover": (Tone.COVER_TOP, Tone.COVER_FRONT, Tone.COVER_SIDE),
    "hardware": (Tone.PAPER, Tone.PAPER, Tone.PAPER),
}
GRID = 1e-3  # mm, to which areas are rounded so that their sums stay valid
CLOG = 4.0  # mm on paper: a wide line round anything smaller would fill it with ink


@dataclass(frozen=True)
class Actor:
    """A body in its place and the part it plays; ``tag`` is unique in its scene."""

    tag: str
    body: Body
    role: Role


@dataclass(frozen=True, slots=True)
class Placing:
    """From full size in the plane of the view to the paper: times ``factor``, then moved."""

    factor: float
    dx: float
    dy: float

    def point(self, point: Xy) -> Xy:
        """Carry one point."""
        return (point[0] * self.factor + self.dx, point[1] * self.factor + self.dy)

    def arc(self, arc: Arc | None) -> Arc | None:
        """Carry an arc, where there is one."""
        if arc is None:
            return None
        return replace(
            arc, centre=self.point(arc.centre), major=self.point(arc.major), minor=self.point(arc.minor)
        )

    def shape(self, shape: Any) -> Any:
        """Carry a shapely geometry."""
        return shapely.transform(shape, lambda xy: xy * self.factor + np.array([self.dx, self.dy]))


@dataclass(frozen=True)
class Sight:
    """What is seen of a scene from one direction."""

    actors: tuple[Actor, ...]
    view: View
    like: Sight | None = None  # the same bodies in the same view, which play other parts

    @cached_property
    def projection(self) -> Projection:
        """The visible lines."""
        if self.like is not None:
            return self.like.projection
        return project([actor.body for actor in self.actors], self.view)

    @cached_property
    def _in_sight(self) -> FacesInSight:
        return faces_in_sight([actor.body for actor in self.actors], self.view)

    @cached_property
    def shapes(self) -> Mapping[str, list[tuple[Any, VisibleFace]]]:
        """The visible faces of each body as shapely areas."""
        if self.like is not None:
            return self.like.shapes
        number_of = {actor.tag: number for number, actor in enumerate(self.actors)}

        def found(tag: str) -> list[tuple[Any, VisibleFace]]:
            areas = ((_area(face.loops), face) for face in self._in_sight.of(number_of[tag]))
            return [(area, face) for area, face in areas if not area.is_empty]

        return OnDemand(number_of, found)

    @cached_property
    def regions(self) -> Mapping[str, Any]:
        """What is seen of each body, as one shapely area."""
        if self.like is not None:
            return self.like.regions

        def found(tag: str) -> Any:
            areas = [area for area, _ in self.shapes[tag]]
            return areas[0] if len(areas) == 1 else shapely.union_all(areas, grid_size=GRID)

        return OnDemand(self.shapes, found)

    @cached_property
    def tones(self) -> Mapping[str, tuple[tuple[Tone, Any], ...]]:
        """What is seen of each body in each tone, as one shapely area, by the names of the tones."""
        roles = {actor.tag: actor.role for actor in self.actors}

        def found(tag: str) -> tuple[tuple[Tone, Any], ...]:
            by_tone: dict[Tone, list[Any]] = {}
            for area, face in self.shapes[tag]:
                by_tone.setdefault(tone(roles[tag], face.normal), []).append(area)
            return tuple(
                (name, shapely.union_all(by_tone[name], grid_size=GRID))
                for name in sorted(by_tone, key=lambda item: item.value)
            )

        return OnDemand(roles, found)

    @cached_property
    def outlines(self) -> Mapping[str, Any]:
        """The outline of each body as if it stood alone."""
        body_of = {actor.tag: actor.body for actor in self.actors}
        return OnDemand(body_of, lambda tag: alone(body_of[tag], self.view))

    @cached_property
    def bounds(self) -> Bounds:
        """The box round everything."""
        points = np.concatenate([flat(corners(actor.body), self.view) for actor in self.actors])
        low, high = points.min(axis=0), points.max(axis=0)
        return (float(low[0]), float(low[1]), float(high[0]), float(high[1]))

    def broadest(self, tag: str) -> Any:
        """Give the largest area seen of one face of a body; an empty area where nothing is seen."""
        areas = [area for area, _ in self.shapes[tag]]
        return max(areas, key=lambda area: area.area) if areas else shapely.Polygon()

    def share_seen(self, tag: str) -> float:
        """Give the share of a body's own outline that is seen, from 0 to 1."""
        whole = self.outlines[tag].area
        return min(1.0, self.regions[tag].area / whole) if whole else 0.0


def copy_actor(
    design: Design,
    solids: Solids,
    copy: Copy,
    role: Role,
    *,
    offset: Sequence[float] = (0.0, 0.0, 0.0),
    turn: Floats | None = None,
) -> Actor:
    """Put one copy into a scene: turned about the frame's origin, then drawn out by ``offset`` (mm)."""
    key = design.part_of[copy.name].key
    own_turn, move = transform(copy)
    if turn is not None:
        own_turn, move = turn @ own_turn, turn @ move
    return Actor(
        copy.name, Body(solids.parts[key].mesh, own_turn, move + np.asarray(offset), copy.name), role
    )


def corners(body: Body) -> Floats:
    """Give the vertices of a body in the frame."""
    return np.asarray(body.mesh.vertices @ np.asarray(body.turn).T + np.asarray(body.move), dtype=np.float64)


def flat(points: Floats, view: View) -> Floats:
    """Give points of the frame (n, 3) in the plane of the view (n, 2)."""
    return np.asarray(points @ np.column_stack([view.right, view.up]), dtype=np.float64)


def alone(body: Body, view: View) -> Any:
    """Give the outline that a body alone has in the view."""
    turn = np.asarray(body.turn, dtype=np.float64)
    outline = _outline(_Kept(body.mesh), turn.tobytes(), view)
    shift = flat(np.asarray(body.move, dtype=np.float64)[None], view)[0]
    return shapely.transform(outline, lambda xy: xy + shift)


class _Kept:
    """A mesh as a key: the same mesh is the same key."""

    def __init__(self, mesh: Mesh) -> None:
        self.mesh = mesh

    def __hash__(self) -> int:
        return id(self.mesh)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Kept) and self.mesh is other.mesh


@lru_cache(maxsize=1024)
def _outline(kept: _Kept, turn: bytes, view: View) -> Any:
    """Give the outline of a turned mesh that is not moved; every step draws the same pieces again."""
    matrix = np.frombuffer(turn, dtype=np.float64).reshape(3, 3)
    corner = flat(kept.mesh.vertices @ matrix.T, view)[kept.mesh.triangles]
    one, two = corner[:, 1] - corner[:, 0], corner[:, 2] - corner[:, 0]
    turning = one[:, 0] * two[:, 1] - one[:, 1] * two[:, 0]
    return shapely.union_all(shapely.polygons(corner[turning > 1e-6]))


def fitted(box: Bounds, room: Bounds, *, largest: float = 1.0) -> Placing:
    """Place a box in the middle of the room at the largest size that fits, never over ``largest``."""
    width, height = max(box[2] - box[0], 1e-6), max(box[3] - box[1], 1e-6)
    factor = min((room[2] - room[0]) / width, (room[3] - room[1]) / height, largest)
    return Placing(
        factor,
        (room[0] + room[2]) / 2 - factor * (box[0] + box[2]) / 2,
        (room[1] + room[3]) / 2 - factor * (box[1] + box[3]) / 2,
    )


def painted(sight: Sight, placing: Placing) -> list[Mark]:
    """Give the tinted faces, then the lines, those of what is new last."""
    marks: list[Mark] = []
    for actor in sight.actors:
        for name, area in sight.tones[actor.tag]:
            marks += [Fill(loops, name) for loops in loops_of(placing.shape(area))]
    roles = {actor.tag: actor.role for actor in sight.actors}
    strokes = [_stroke(edge, placing, roles[edge.tag]) for edge in sight.projection.visible]
    rank = {Meaning.RIM: 0, Meaning.CONTEXT: 1, Meaning.VISIBLE: 2}

    def outline() -> Any:
        return shapely.union_all([placing.shape(shape) for shape in sight.regions.values()], grid_size=GRID)

    return [*marks, *sorted(unclogged(strokes, outline), key=lambda item: (rank[item.meaning], item.points))]


def tone(role: Role, normal: Sequence[float]) -> Tone:
    """Give the tone of a face: light on top, middle in front, dark at the sides."""
    top, front, side = _TONES[role]
    across, deep, up = (abs(part) for part in normal)
    if up >= max(across, deep) - 1e-6:
        return top
    return front if deep >= across - 1e-6 else side


def anchors(region: Any, number: int = 3) -> tuple[Xy, ...]:
    """Give points well inside an area: its pole of inaccessibility, then those of its outer thirds."""
    if region.is_empty:
        return ()
    largest = (
        max(shapely.get_parts(region), key=lambda part: part.area) if hasattr(region, "geoms") else region
    )
    if largest.geom_type != "Polygon" or largest.area < 1e-6:
        return ()
    tolerance = max(0.1, float(np.sqrt(largest.area)) / 60)
    found = [_pole(largest, tolerance)]
    low_x, low_y, high_x, high_y = largest.bounds
    thirds = (
        (low_x, low_y, low_x + (high_x - low_x) / 3, high_y),
        (high_x - (high_x - low_x) / 3, low_y, high_x, high_y),
        (low_x, low_y, high_x, low_y + (high_y - low_y) / 3),
        (low_x, high_y - (high_y - low_y) / 3, high_x, high_y),
    )
    for low_a, low_b, high_a, high_b in thirds:
        piece = largest.intersection(shapely.box(low_a, low_b, high_a, high_b))
        parts = [part for part in shapely.get_parts(piece) if part.geom_type == "Polygon" and part.area > 0.5]
        if parts and len(found) < number + 2:
            found.append(_pole(max(parts, key=lambda part: part.area), tolerance))
    best = found[0]
    room = largest.exterior.distance(shapely.Point(best))
    kept = [best]
    for point in found[1:]:
        clear = largest.exterior.distance(shapely.Point(point)) >= min(3.0, 0.7 * room)
        if clear and all(hypot(point[0] - x, point[1] - y) > 3.0 for x, y in kept):
            kept.append(point)
    return tuple(kept)


def loops_of(area: Any) -> list[tuple[tuple[Xy, ...], ...]]:
    """Give the loops (outer, then holes) of every polygon of a shapely area, largest first."""
    polygons = [
        part for part in shapely.get_parts(area).tolist() if part.geom_type == "Polygon" and part.area > 1e-3
    ]
    polygons.sort(key=lambda part: (-round(part.area, 3), part.bounds))
    return [tuple(_ring(ring) for ring in (part.exterior, *part.interiors)) for part in polygons]


def _ring(ring: Any) -> tuple[Xy, ...]:
    return tuple((float(x), float(y)) for x, y in shapely.get_coordinates(ring)[:-1].tolist())


def _pole(polygon: Any, tolerance: float) -> Xy:
    point = polylabel(polygon, tolerance)
    return (float(point.x), float(point.y))


def _area(loops: Sequence[Sequence[Xy]]) -> Any:
    full = [loop for loop in loops if len(loop) > 2]
    if not full:
        return shapely.Polygon()
    plain = shapely.Polygon(full[0], full[1:])
    if plain.is_valid:
        return plain
    whole: Any = shapely.Polygon()
    for loop in full:
        ring = _polygonal(shapely.make_valid(shapely.Polygon(loop)))
        whole = _polygonal(shapely.symmetric_difference(whole, ring, grid_size=GRID))
    return whole


def _polygonal(shape: Any) -> Any:
    parts = [
        part for part in shapely.get_parts(shape).tolist() if part.geom_type in ("Polygon", "MultiPolygon")
    ]
    return shapely.union_all(parts, grid_size=GRID)


def _stroke(edge: Edge, placing: Placing, role: Role) -> Stroke:
    points = tuple(placing.point(point) for point in edge.points)
    xs, ys = [x for x, _ in points], [y for _, y in points]
    size = hypot(max(xs) - min(xs), max(ys) - min(ys))
    closed = len(points) > 3 and hypot(points[0][0] - points[-1][0], points[0][1] - points[-1][1]) < 1e-6
    meaning = Meaning.RIM if edge.kind == "rim" or (closed and size < CLOG) else _OUTLINE[role]
    return Stroke(points[:-1] if closed else points, meaning, closed, placing.arc(edge.arc))

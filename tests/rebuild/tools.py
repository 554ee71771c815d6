"""Solids to cut with, each with how far every piece of its surface may be from the true one."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import TypeAlias

import manifold3d
import numpy as np
from numpy.typing import NDArray

from tests.rebuild.figures import Measure
from tests.rebuild.tree import AXES

Floats = NDArray[np.float64]
Xy = tuple[float, float]
FACETS = 32  # of a full circle
OUT = 50.0  # mm that a cut goes on past the part where it is open
CHORD = 0.1  # mm that the model's chords may lie off their arc, besides those here


Error = Callable[[Floats, Floats], Floats]
Body: TypeAlias = manifold3d.Manifold


@dataclass(frozen=True)
class Round:
    """A piece of a cylinder that a tool leaves: a point of its axis, the way of it, and its radius.

    ``off`` is how far the axis may be from its place, mm, and ``lean`` how far it may be turned, radians.
    """

    point: Floats
    way: Floats
    radius: Measure
    off: float
    lean: float = 0.0


@dataclass(frozen=True)
class Tool:
    """A closed solid, and how far its surface may be off.

    ``errors`` holds, by the library's number of each solid it was made from, a function that gives for
    middles (n, 3) and normals (n, 3) of facets how far each may be off by the figures, and by the chords
    that stand for arcs: (n, 2), in mm.
    """

    body: Body
    errors: dict[int, Error]
    rounds: tuple[Round, ...] = ()


def _tool(body: Body, error: Error, rounds: tuple[Round, ...] = ()) -> Tool:
    named = body.as_original()
    return Tool(named, {named.original_id(): error}, rounds)


@dataclass(frozen=True, slots=True)
class Edge:
    """An edge of an outline from its corner to the next: how far it may be off, square to itself.

    ``slack`` is what chords, here and in the model, lie off the arc they stand for, ``arc`` the middle of
    that arc, its radius, and how far the middle may be off.
    """

    corner: Xy
    error: float
    slack: float = 0.0
    arc: tuple[Xy, Measure, float] | None = None


def other_axes(axis: str) -> tuple[int, int]:
    """Give the numbers of the two axes an outline lies in, in the order across, deep, up."""
    first, second = (index for index, name in enumerate(AXES) if name != axis)
    return first, second


def prism(axis: str, low: Measure, high: Measure, edges: Sequence[Edge]) -> Tool:
    """Make everything inside an outline along an axis."""
    points = [edge.corner for edge in edges]
    index, plane = AXES.index(axis), other_axes(axis)
    body = _upright(points, index, plane, low.mm, high.mm)
    starts = np.array(points)
    ends = np.roll(starts, -1, axis=0)
    errors = np.array([(edge.error, edge.slack) for edge in edges])

    def error(middles: Floats, normals: Floats) -> Floats:
        along = np.abs(normals[:, index]) > 0.9
        nearer_low = np.abs(middles[:, index] - low.mm) < np.abs(middles[:, index] - high.mm)
        caps = np.column_stack([np.where(nearer_low, low.half, high.half), np.zeros(len(middles))])
        sides = errors[_nearest(middles[:, plane], starts, ends)]
        return np.where(along[:, None], caps, sides)

    return _tool(body, error, tuple(_rounds(edges, index, plane)))


def _rounds(edges: Sequence[Edge], index: int, plane: tuple[int, int]) -> Iterator[Round]:
    for centre, radius, off in dict.fromkeys(edge.arc for edge in edges if edge.arc is not None):
        point, way = np.zeros(3), np.zeros(3)
        point[[*plane]], way[index] = centre, 1.0
        yield Round(point, way, radius, off)


def _upright(points: list[Xy], index: int, plane: tuple[int, int], low: float, high: float) -> Body:
    """Make a prism whose corners are those given, to the last digit: cuts then meet without a film."""
    turns = sum(
        x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in zip(points, [*points[1:], points[0]], strict=True)
    )
    loop = np.array(points if turns > 0 else points[::-1])
    count = len(loop)
    corners = np.empty((2 * count, 3))
    corners[:, plane[0]], corners[:, plane[1]] = np.tile(loop, (2, 1)).T
    corners[:count, index], corners[count:, index] = low, high
    cap = np.array(manifold3d.triangulate([loop]), dtype=np.int64)
    here = np.arange(count)
    there = np.roll(here, -1)
    walls = [
        np.stack([here, there, there + count], axis=1),
        np.stack([here, there + count, here + count], axis=1),
    ]
    faces = np.vstack([cap[:, ::-1], cap + count, *walls])
    if index == 1:  # the outline of what goes deep lies in a left-handed plane
        faces = faces[:, ::-1]
    mesh = manifold3d.Mesh64(
        vert_properties=np.ascontiguousarray(corners),
        tri_verts=np.ascontiguousarray(faces.astype(np.uint64)),
    )
    return manifold3d.Manifold(mesh)


def _nearest(points: Floats, starts: Floats, ends: Floats) -> NDArray[np.intp]:
    """Find the stretch that each point lies nearest to."""
    along = ends - starts
    size = np.maximum((along**2).sum(axis=1), 1e-18)
    offset = points[:, None, :] - starts[None]
    share = np.clip((offset * along).sum(axis=2) / size, 0.0, 1.0)
    gap = offset - share[..., None] * along
    return np.asarray((gap**2).sum(axis=2).argmin(axis=1))


def box(bounds: Sequence[tuple[Measure, Measure]]) -> Tool:
    """Make a box from its low and high bound along each axis."""
    (left, right), (front, back) = bounds[0], bounds[1]
    edges = [
        Edge((left.mm, front.mm), front.half),
        Edge((right.mm, front.mm), right.half),
        Edge((right.mm, back.mm), back.half),
        Edge((left.mm, back.mm), left.half),
    ]
    return prism("up", bounds[2][0], bounds[2][1], edges)


def disc(centre: tuple[Measure, Measure], radius: Measure) -> list[Edge]:
    """Give the outline of a circle."""
    edges = []
    arc = ((centre[0].mm, centre[1].mm), radius, math.hypot(centre[0].half, centre[1].half))
    for step in range(FACETS):
        angle, middle = 2 * math.pi * step / FACETS, 2 * math.pi * (step + 0.5) / FACETS
        off = abs(math.cos(middle)) * centre[0].half + abs(math.sin(middle)) * centre[1].half
        corner = (centre[0].mm + radius.mm * math.cos(angle), centre[1].mm + radius.mm * math.sin(angle))
        edges.append(Edge(corner, off + radius.half, slack(radius.mm), arc))
    return edges


def slack(radius: float, step: float = math.tau / FACETS) -> float:
    """Say how far chords over ``step`` radians lie off their arc, here and in the model."""
    return CHORD + radius * (1 - math.cos(step / 2))


def cylinder(
    axis: str, low: Measure, high: Measure, centre: tuple[Measure, Measure], radius: Measure
) -> Tool:
    """Make a round along an axis."""
    return prism(axis, low, high, disc(centre, radius))


def bore(mouth: Floats, way: Floats, radius: Measure, depth: Measure, off: Floats, lean: float) -> Tool:
    """Make a hole that leans: from its mouth along a unit vector, and back out of the wood.

    ``off`` is how far the mouth may be from its place along each axis and ``lean`` how far the direction
    may be turned, in radians.
    """
    long = depth.mm + OUT
    side = np.cross(way, [1.0, 0.0, 0.0] if abs(way[0]) < 0.7 else [0.0, 1.0, 0.0])
    side /= np.linalg.norm(side)
    turn = np.column_stack([side, np.cross(way, side), way, mouth - way * OUT])
    straight = manifold3d.Manifold.cylinder(long, radius.mm, radius.mm, FACETS)

    def error(middles: Floats, normals: Floats) -> Floats:
        reach = np.abs((middles - mouth) @ way)
        floor = np.abs(normals @ way) > 0.9
        moved = np.abs(normals) @ off
        wall = moved + radius.half + lean * (reach + radius.mm)
        figures = np.where(floor, moved + depth.half + lean * (depth.mm + radius.mm), wall)
        return np.column_stack([figures, np.where(floor, 0.0, slack(radius.mm))])

    rounds = (Round(mouth, way, radius, float(np.linalg.norm(off)), lean),)
    return _tool(straight.transform(turn), error, rounds)


def beyond(through: Floats, normal: Floats, size: float, off: float, lean: float) -> Tool:
    """Make everything past a plane: a saw cut, ``off`` square to itself and turned by ``lean``."""
    side = np.cross(normal, [1.0, 0.0, 0.0] if abs(normal[0]) < 0.7 else [0.0, 1.0, 0.0])
    side /= np.linalg.norm(side)
    turn = np.column_stack([side, np.cross(normal, side), normal, through])
    half = manifold3d.Manifold.cube((2 * size, 2 * size, size)).translate((-size, -size, 0.0))

    def error(middles: Floats, normals: Floats) -> Floats:
        figures = off + lean * np.linalg.norm(middles - through, axis=1)
        return np.column_stack([figures, np.zeros(len(middles))])

    return _tool(half.transform(turn), error)


def around(tools: Sequence[Tool], whole: Tool) -> Tool:
    """Make what is left of a solid round others, as the wood beside tenons is taken away."""
    body = manifold3d.Manifold.batch_boolean(
        [whole.body, *(tool.body for tool in tools)], manifold3d.OpType.Subtract
    )
    errors = {key: error for tool in (whole, *tools) for key, error in tool.errors.items()}
    return Tool(body, errors, tuple(one for tool in tools for one in tool.rounds))

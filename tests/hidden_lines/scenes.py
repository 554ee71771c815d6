"""Small scenes, and an independent judge of what is seen: rays cast at every triangle."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from plangen.drawing.hidden_lines import Body, Edge, View
from plangen.joinery.cuts import Arc, Loop
from plangen.joinery.operation import Operation
from plangen.joinery.space import Axis
from plangen.solids import build_solids, part_solid, transform
from tests.sample_design import sample_design
from tests.solids.making import mm, operation, pair, part, polygon, prism

Array = NDArray[np.float64]
UNTURNED = np.eye(3)


def board(
    size: tuple[float, float, float], at: tuple[float, float, float], tag: str, *operations: Operation
) -> Body:
    return Body(part_solid(part(size, *operations)).mesh, UNTURNED, np.array(at, dtype=float), tag)


def peg(
    radius: float, length: float, foot: tuple[float, float, float], tag: str, turned: float = 0.0
) -> Body:
    """A round peg standing on the middle of its foot, turned about its own axis by some degrees."""
    size = 2 * radius
    disc = Loop(
        pair(size, radius),
        (Arc(pair(0, radius), mm(radius), True), Arc(pair(size, radius), mm(radius), True)),
    )
    square = polygon((0, 0), (size, 0), (size, size), (0, size))
    mesh = part_solid(part((size, size, length), operation(prism(Axis.UP, 0, length, square, disc)))).mesh
    turn = about_up(turned)
    return Body(mesh, turn, np.array(foot) - turn @ np.array([radius, radius, 0.0]), tag)


def about_up(degrees: float) -> Array:
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return np.array([[c, -s, 0.0], [s, c, 0.0], [0.0, 0.0, 1.0]])


def about_across(degrees: float) -> Array:
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return np.array([[1.0, 0.0, 0.0], [0.0, c, -s], [0.0, s, c]])


def turned(bodies: Iterable[Body], turn: Array) -> list[Body]:
    return [Body(body.mesh, turn @ body.turn, turn @ body.move, body.tag) for body in bodies]


def sample_bodies(shelves_out: float = 0.0) -> list[Body]:
    made = sample_design()
    solids = build_solids(made)
    bodies = []
    for name, copy in made.copies.items():
        turn, move = transform(copy)
        out = np.array([0.0, -shelves_out if copy.part == "shelf" else 0.0, 0.0])
        bodies.append(Body(solids.parts[copy.part].mesh, turn, move + out, name))
    return bodies


def tidy(
    edges: Iterable[Edge], *, mirror_at: float | None = None, digits: int = 2
) -> list[tuple[object, ...]]:
    """Lines rounded and sorted for comparison; facets are outset by 0.001 mm, hence two digits."""

    def flip(x: float) -> float:
        return x if mirror_at is None else 2.0 * mirror_at - x

    lines = []
    for edge in edges:
        # The nudge keeps sizes that end in half a hundredth from being rounded either way.
        points = [
            (round(flip(x) + 0.0013, digits) + 0.0, round(y + 0.0013, digits) + 0.0) for x, y in edge.points
        ]
        if points[0] == points[-1]:  # a loop has no first point of its own
            lines.append((*sorted(points[1:]),))
        else:
            lines.append(tuple(min(points, points[::-1])))
    return sorted(lines)  # type: ignore[type-var]


@dataclass(frozen=True, eq=False)
class Judge:
    """All triangles of a scene in view coordinates (x, y, toward the viewer)."""

    corners: Array  # (m, 3, 3)
    normals: Array  # (m, 3)
    body: NDArray[np.int64]  # (m,)

    @classmethod
    def of(cls, bodies: Sequence[Body], view: View) -> Judge:
        corners, owners = [], []
        for index, body in enumerate(bodies):
            points = (body.mesh.vertices @ body.turn.T + body.move) @ view.matrix.T
            corners.append(points[body.mesh.triangles])
            owners.append(np.full(len(body.mesh.triangles), index))
        stacked = np.vstack(corners)
        normals = np.cross(stacked[:, 1] - stacked[:, 0], stacked[:, 2] - stacked[:, 0])
        size = np.linalg.norm(normals, axis=1)
        sound = size > 1e-9
        unit = normals[sound] / size[sound][:, None]
        return cls(stacked[sound], unit, np.concatenate(owners)[sound])

    def heights(self, points: Array, outset: float = 0.0) -> Array:
        """Where the sight line at each (x, y) meets each triangle, grown by ``outset``; -inf: it misses."""
        front = self.normals[:, 2] > 1e-4
        flat = self.corners[:, :, :2]
        side = np.roll(flat, -1, axis=1) - flat
        length = np.maximum(np.linalg.norm(side, axis=2), 1e-12)
        away = points[:, None, None, :] - flat[None]
        inside = (side[None, ..., 0] * away[..., 1] - side[None, ..., 1] * away[..., 0]) / length >= -outset
        offset = (self.corners[:, 0] * self.normals).sum(axis=1)
        with np.errstate(divide="ignore", invalid="ignore"):
            z = (offset - points @ self.normals[:, :2].T) / self.normals[:, 2]
        result: Array = np.where(inside.all(axis=2) & front, z, -np.inf)
        return result

    def plane_distance(self, points: Array) -> Array:
        """Signed distance of 3-D points from each triangle's plane, positive before it."""
        offset = (self.corners[:, 0] * self.normals).sum(axis=1)
        result: Array = points @ self.normals.T - offset
        return result

    def surely_hidden(self, points: Array, margin: float) -> NDArray[np.bool_]:
        """Whether something lies clearly before 3-D points, well inside its own outline."""
        covers = np.isfinite(self.heights(points[:, :2], -margin))
        return np.asarray((covers & (self.plane_distance(points) < -margin)).any(axis=1))

    def surely_seen(self, points: Array, margin: float) -> NDArray[np.bool_]:
        """Whether nothing lies before 3-D points, not even nearly."""
        covers = np.isfinite(self.heights(points[:, :2], margin))
        return np.asarray(~(covers & (self.plane_distance(points) < -1e-6)).any(axis=1))

    def creases(self, least_degrees: float) -> Array:
        """The edges, as pairs of 3-D points (n, 2, 3), where triangles of one body meet at an angle."""
        found: dict[tuple[object, ...], list[int]] = {}
        rounded = np.round(self.corners, 6)
        for index, triangle in enumerate(rounded):
            for k in range(3):
                ends = sorted((tuple(triangle[k]), tuple(triangle[(k + 1) % 3])))
                found.setdefault((int(self.body[index]), *ends), []).append(index)
        least = math.cos(math.radians(least_degrees))
        pairs = [
            (key[1], key[2])
            for key, owners in found.items()
            if len(owners) == 2 and self.normals[owners[0]] @ self.normals[owners[1]] < least
        ]
        return np.array(pairs, dtype=float)


def along(edges: Iterable[Edge], step: float) -> Array:
    """Points along lines, none nearer than a quarter step to the lines' own corners."""
    points = []
    for edge in edges:
        for a, b in zip(edge.points, edge.points[1:], strict=False):
            number = max(1, int(math.dist(a, b) / step))
            for k in range(number):
                t = (k + 0.5) / number
                points.append((a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t))
    return np.array(points).reshape(-1, 2)


def distance_to_lines(points: Array, edges: Iterable[Edge]) -> Array:
    """The distance from each (x, y) to the nearest line."""
    segments = np.array(
        [(a, b) for edge in edges for a, b in zip(edge.points, edge.points[1:], strict=False)]
    )
    if not len(segments):
        return np.full(len(points), np.inf)
    start, way = segments[:, 0], segments[:, 1] - segments[:, 0]
    rest = points[:, None] - start[None]
    share = np.clip((rest * way).sum(axis=2) / np.maximum((way**2).sum(axis=1), 1e-18), 0.0, 1.0)
    result: Array = np.linalg.norm(rest - share[..., None] * way[None], axis=2).min(axis=1)
    return result

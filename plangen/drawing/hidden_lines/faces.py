"""The parts of faces that are seen, for the tints under the lines."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely

from plangen.drawing.hidden_lines.hide import BEHIND, BEHIND_CURVED
from plangen.drawing.hidden_lines.model import Body, VisibleFace, Xy
from plangen.drawing.hidden_lines.scene import Scene, scene
from plangen.drawing.hidden_lines.view import View
from plangen.solids.model import Floats, Ints

SLIVER = 0.02  # mm; a thinner strip is rounding and not a face


@dataclass(frozen=True, eq=False, slots=True)
class _Patch:
    """A face as it lies in the picture before anything is taken away."""

    body: int
    number: int  # within the body
    flat: bool
    facets: Ints  # those that look to the viewer
    points: Floats  # (n, 3) all their corners
    area: Any  # the library's polygon


def visible_faces(bodies: Sequence[Body], view: View) -> tuple[VisibleFace, ...]:
    """Give what is seen of every face that looks to the viewer, in the order of the bodies.

    A face is a connected run of one surface. Planes are exact; round and swept ones are exact up
    to their facets. What lies before a face is clipped to the near side of its plane and taken
    away from it.
    """
    return faces_of_scene(scene(bodies, view))


def faces_of_scene(placed: Scene) -> tuple[VisibleFace, ...]:
    """Give the seen faces of bodies that are already carried into a view."""
    patches = _patches(placed)
    if not patches:
        return ()
    tree = shapely.STRtree([patch.area for patch in patches])
    near, far = tree.query([patch.area for patch in patches])
    order = np.lexsort((far, near))
    before: list[list[int]] = [[] for _ in patches]
    for one, two in zip(near[order].tolist(), far[order].tolist(), strict=True):
        if one != two:
            before[one].append(two)
    matrix = placed.view.matrix
    result = []
    for patch, others in zip(patches, before, strict=True):
        seen = _seen(placed, patch, [patches[other] for other in others])
        loops = _loops(seen)
        if loops:
            result.append(_face(placed, patch, loops, matrix))
    return tuple(result)


def _face(placed: Scene, patch: _Patch, loops: tuple[tuple[Xy, ...], ...], matrix: Floats) -> VisibleFace:
    normals = placed.facet_normal[patch.facets]
    mean = normals[0] if patch.flat else (normals * _facet_sizes(placed, patch.facets)[:, None]).sum(axis=0)
    x, y, z = (mean / np.linalg.norm(mean)) @ matrix
    kind = placed.topologies[patch.body].patch_surface[patch.number].kind
    return VisibleFace(placed.bodies[patch.body].tag, loops, (float(x), float(y), float(z)), kind)


def _facet_sizes(placed: Scene, facets: Ints) -> Floats:
    """Give the areas of facets, mm2, from their areas in the picture."""
    flat = [shapely.Polygon(_corners(placed, facet)[:, :2]).area for facet in facets]
    return np.asarray(np.array(flat) / placed.facet_normal[facets, 2])


def _corners(placed: Scene, facet: int) -> Floats:
    return placed.vertices[placed.facet_vertices[placed.facet_start[facet] : placed.facet_start[facet + 1]]]


def _patches(placed: Scene) -> list[_Patch]:
    front = np.flatnonzero(placed.facet_facing == 1)
    keys = np.column_stack([placed.facet_body[front], placed.facet_patch[front]])
    change = np.lexsort((front, keys[:, 1], keys[:, 0]))
    front, keys = front[change], keys[change]
    if not len(front):
        return []
    starts = np.flatnonzero(np.concatenate([[True], (np.diff(keys, axis=0) != 0).any(axis=1)])).tolist()
    stops = [*starts[1:], len(front)]
    result = []
    for start, stop in zip(starts, stops, strict=True):
        facets = front[start:stop]
        body, number = (int(value) for value in keys[start])
        flat = not placed.facet_curved[facets[0]]
        if flat:
            loops = placed.topologies[body].patch_loops[number]
            rings = [placed.vertices[loop + placed.vertex_start[body]] for loop in loops]
            area = shapely.Polygon(rings[0][:, :2], [ring[:, :2] for ring in rings[1:]])
            points = rings[0]
        else:
            area = shapely.union_all([shapely.Polygon(_corners(placed, facet)[:, :2]) for facet in facets])
            points = np.vstack([_corners(placed, facet) for facet in facets])
        result.append(_Patch(body, number, flat, facets, points, area if area.is_valid else area.buffer(0)))
    return result


def _seen(placed: Scene, patch: _Patch, others: Iterable[_Patch]) -> Any:
    """Take what lies before a patch away from it."""
    covers: list[Any] = []
    unclear: list[_Patch] = []
    for other in others:
        answer = _before(placed, patch, other)
        if answer is None:
            unclear.append(other)
        elif answer:
            covers.append(other.area)
    seen = shapely.difference(patch.area, shapely.union_all(covers)) if covers else patch.area
    if not unclear or seen.is_empty:
        return seen
    pieces = []
    for facet in patch.facets.tolist():
        mine = patch.points if patch.flat else _corners(placed, facet)
        part = seen if patch.flat else shapely.intersection(seen, shapely.Polygon(mine[:, :2]))
        if part.is_empty:
            continue
        near = [
            cover
            for other in unclear
            for index in other.facets.tolist()
            if index != facet and (cover := _near_part(placed, facet, mine, index)) is not None
        ]
        pieces.append(shapely.difference(part, shapely.union_all(near)) if near else part)
        if patch.flat:
            break
    return shapely.union_all(pieces)


def _depth(one: bool, two: bool) -> float:
    return BEHIND if one and two else BEHIND_CURVED


def _above(placed: Scene, facets: Ints, points: Floats) -> Floats:
    return np.asarray(points @ placed.facet_normal[facets].T - placed.facet_offset[facets])


def _before(placed: Scene, patch: _Patch, other: _Patch) -> bool | None:
    """Tell whether another patch lies before this one wherever both are; None where it has to be cut.

    Either patch's planes can tell: the other lies wholly on one side of this one's, or this one
    wholly on one side of the other's.
    """
    depth = _depth(patch.flat, other.flat)
    mine = patch.facets[:1] if patch.flat else patch.facets
    theirs = other.facets[:1] if other.flat else other.facets
    height = _above(placed, mine, other.points)
    if height.max() <= depth:
        return False
    fall = _above(placed, theirs, patch.points)
    if fall.min() >= -depth:
        return False
    if height.min() >= -depth or fall.max() <= depth:
        return True
    return None


def _near_part(placed: Scene, facet: int, mine: Floats, other: int) -> Any | None:
    """Give the part of another facet that lies before a facet's plane, or None.

    ``mine`` are the corners of what may be covered in that plane.
    """
    corners = _corners(placed, other)
    height = corners @ placed.facet_normal[facet] - placed.facet_offset[facet]
    depth = _depth(not placed.facet_curved[facet], not placed.facet_curved[other])
    if height.max() <= depth:
        return None
    fall = mine @ placed.facet_normal[other] - placed.facet_offset[other]
    if fall.min() >= -depth:
        return None
    if height.min() < -depth and fall.max() > depth:
        corners = _cut(corners, height)
        if len(corners) < 3:
            return None
    return shapely.Polygon(corners[:, :2])


def _cut(corners: Floats, height: Floats) -> Floats:
    """Keep the part of a convex polygon where the height is positive."""
    kept = []
    for k in range(len(corners)):
        here, there = height[k - 1], height[k]
        if (here > 0.0) != (there > 0.0):
            kept.append(corners[k - 1] + (corners[k] - corners[k - 1]) * (here / (here - there)))
        if there > 0.0:
            kept.append(corners[k])
    return np.array(kept).reshape(-1, 3)


def _loops(area: Any) -> tuple[tuple[Xy, ...], ...]:
    """Give the loops of an area without its slivers; outer loops anticlockwise, holes clockwise."""
    loops: list[tuple[Xy, ...]] = []
    for polygon in shapely.get_parts(area):
        if polygon.geom_type != "Polygon" or _thin(polygon):
            continue
        whole = shapely.orient_polygons(polygon)
        rings = [whole.exterior, *(ring for ring in whole.interiors if not _thin(shapely.Polygon(ring)))]
        for ring in rings:
            points = shapely.get_coordinates(ring)[:-1].tolist()
            loops.append(tuple((x + 0.0, y + 0.0) for x, y in points))
    return tuple(loops)


def _thin(polygon: Any) -> bool:
    return bool(2.0 * polygon.area <= SLIVER * polygon.length)

"""Bodies seen in one view, as flat arrays: x to the right, y up, z toward the viewer, mm."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from plangen.drawing.hidden_lines.model import Body
from plangen.drawing.hidden_lines.topology import Flags, Topology, topology
from plangen.drawing.hidden_lines.view import View
from plangen.solids.model import Floats, Ints

EDGE_ON = 1e-4  # |n·d| below which a face is seen edge on; a smaller bound loses lines to rounding


@dataclass(frozen=True, eq=False, slots=True)
class Scene:
    """All bodies together; v vertices, e edges, p facets."""

    view: View
    bodies: tuple[Body, ...]
    topologies: tuple[Topology, ...]
    vertices: Floats  # (v, 3)
    vertex_start: Ints  # (bodies + 1,)
    edge_body: Ints  # (e,)
    edge_ends: Ints  # (e, 2)
    edge_feature: Flags  # (e,)
    edge_convex: Flags
    edge_curved: Flags
    edge_small: Flags
    edge_narrow: Flags
    edge_circle: Ints  # (e,) into ``circles`` or -1
    edge_curve: Ints  # (e,) or -1; unique over the scene
    facing: Ints  # (e, 2) of the two faces: 1 front, 0 edge on, -1 back
    circles: Floats  # (c, 7) centre and axis in view coordinates, radius
    facet_body: Ints  # (p,)
    facet_patch: Ints  # (p,) within the body
    facet_start: Ints  # (p + 1,)
    facet_vertices: Ints
    facet_normal: Floats  # (p, 3)
    facet_offset: Floats  # (p,)
    facet_curved: Flags  # (p,)
    facet_facing: Ints  # (p,)
    facet_low: Floats  # (p, 3) the box of each facet
    facet_high: Floats  # (p, 3)


def scene(bodies: Sequence[Body], view: View) -> Scene:
    """Carry the bodies into view coordinates."""
    matrix = view.matrix
    kinds = tuple(topology(body.mesh) for body in bodies)
    turns = [matrix @ np.asarray(body.turn, dtype=np.float64) for body in bodies]
    moves = [matrix @ np.asarray(body.move, dtype=np.float64) for body in bodies]
    placed = list(zip(kinds, turns, moves, strict=True))
    vertices = _rows(
        [body.mesh.vertices @ t.T + m for body, (_, t, m) in zip(bodies, placed, strict=True)], 3
    )
    vertex_start = _starts([len(body.mesh.vertices) for body in bodies])
    circles = [
        np.column_stack([k.circles[:, :3] @ t.T + m, k.circles[:, 3:6] @ t.T, k.circles[:, 6]])
        for k, t, m in placed
    ]
    circle_start = _starts([len(some) for some in circles])
    curve_start = _starts([int(k.curve.max(initial=-1)) + 1 for k in kinds])
    corner_start = _starts([len(k.facet_vertices) for k in kinds])
    facet_start = np.append(
        _flat(_shifted([k.facet_start[:-1] for k in kinds], corner_start)), corner_start[-1]
    )
    facet_vertices = _flat(_shifted([k.facet_vertices for k in kinds], vertex_start))
    facet_normal = _rows([k.facet_normal @ t.T for k, t, _ in placed], 3)
    corners = vertices[facet_vertices]
    anchors = corners[facet_start[:-1]]
    some = len(facet_normal) > 0
    return Scene(
        view=view,
        bodies=tuple(bodies),
        topologies=kinds,
        vertices=vertices,
        vertex_start=vertex_start,
        edge_body=np.repeat(np.arange(len(bodies)), [len(k.edge_ends) for k in kinds]),
        edge_ends=_rows(_shifted([k.edge_ends for k in kinds], vertex_start), 2).astype(np.int64),
        edge_feature=_flags([k.feature for k in kinds]),
        edge_convex=_flags([k.convex for k in kinds]),
        edge_curved=_flags([k.curved for k in kinds]),
        edge_small=_flags([k.small for k in kinds]),
        edge_narrow=_flags([k.narrow for k in kinds]),
        edge_circle=_flat(_shifted([k.circle for k in kinds], circle_start)),
        edge_curve=_flat(_shifted([k.curve for k in kinds], curve_start)),
        facing=_rows([_facing(k.normals @ t[2])[k.edge_triangles] for k, t, _ in placed], 2).astype(np.int64),
        circles=_rows(circles, 7),
        facet_body=np.repeat(np.arange(len(bodies)), [len(k.facet_normal) for k in kinds]),
        facet_patch=_flat([k.facet_patch for k in kinds]),
        facet_start=facet_start,
        facet_vertices=facet_vertices,
        facet_normal=facet_normal,
        facet_offset=np.einsum("ij,ij->i", facet_normal, anchors),
        facet_curved=_flags([k.facet_curved for k in kinds]),
        facet_facing=_facing(facet_normal[:, 2]),
        facet_low=np.minimum.reduceat(corners, facet_start[:-1], axis=0) if some else anchors,
        facet_high=np.maximum.reduceat(corners, facet_start[:-1], axis=0) if some else anchors,
    )


def _facing(toward: Floats) -> Ints:
    return np.where(toward > EDGE_ON, 1, np.where(toward < -EDGE_ON, -1, 0)).astype(np.int64)


def _starts(counts: Sequence[int]) -> Ints:
    return np.concatenate([[0], np.cumsum(counts)]).astype(np.int64)


def _rows(arrays: Sequence[Floats | Ints], width: int) -> Floats:
    return np.vstack([np.empty((0, width)), *arrays])


def _flat(arrays: Sequence[Ints]) -> Ints:
    return np.concatenate([np.empty(0, dtype=np.int64), *arrays])


def _flags(arrays: Sequence[Flags]) -> Flags:
    return np.concatenate([np.empty(0, dtype=bool), *arrays])


def _shifted(arrays: Sequence[Ints], starts: Ints) -> list[Ints]:
    """Carry each body's own indices into the scene's; -1 stays."""
    return [np.where(array >= 0, array + start, -1) for array, start in zip(arrays, starts[:-1], strict=True)]

"""Bodies seen in one view, as flat arrays: x to the right, y up, z toward the viewer, mm."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from plangen.drawing.hidden_lines.model import Body
from plangen.drawing.hidden_lines.topology import Topology, topology
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
    edge_feature: np.ndarray  # (e,) bool
    edge_convex: np.ndarray
    edge_curved: np.ndarray
    edge_small: np.ndarray
    edge_narrow: np.ndarray
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
    facet_curved: np.ndarray  # (p,) bool
    facet_facing: Ints  # (p,)


def scene(bodies: Sequence[Body], view: View) -> Scene:
    """Carry the bodies into view coordinates."""
    matrix = view.matrix
    topologies = tuple(topology(body.mesh) for body in bodies)
    turns = [matrix @ np.asarray(body.turn, dtype=np.float64) for body in bodies]
    moves = [matrix @ np.asarray(body.move, dtype=np.float64) for body in bodies]
    placed = [
        body.mesh.vertices @ turn.T + move for body, turn, move in zip(bodies, turns, moves, strict=True)
    ]
    starts = _starts([len(points) for points in placed])
    vertices = _stack(placed, 3)

    edge_counts = [len(t.edge_ends) for t in topologies]
    facing = _stack(
        [_facing(t.normals @ turn[2])[t.edge_triangles] for t, turn in zip(topologies, turns, strict=True)], 2
    ).astype(np.int64)
    circle_starts = _starts([len(t.circles) for t in topologies])
    curve_starts = _starts([int(t.curve.max(initial=-1)) + 1 for t in topologies])
    facet_counts = [len(t.facet_normal) for t in topologies]
    corner_starts = _starts([len(t.facet_vertices) for t in topologies])
    facet_normal = _stack([t.facet_normal @ turn.T for t, turn in zip(topologies, turns, strict=True)], 3)
    facet_start = np.concatenate(
        [
            *(t.facet_start[:-1] + s for t, s in zip(topologies, corner_starts, strict=False)),
            corner_starts[-1:],
        ]
    ).astype(np.int64)
    facet_vertices = _flat([t.facet_vertices + s for t, s in zip(topologies, starts, strict=False)])
    anchor = vertices[facet_vertices[facet_start[:-1]]] if len(facet_normal) else np.empty((0, 3))
    return Scene(
        view=view,
        bodies=tuple(bodies),
        topologies=topologies,
        vertices=vertices,
        vertex_start=starts,
        edge_body=np.repeat(np.arange(len(bodies)), edge_counts),
        edge_ends=_stack([t.edge_ends + s for t, s in zip(topologies, starts, strict=False)], 2).astype(
            np.int64
        ),
        edge_feature=_flat([t.feature for t in topologies]) > 0,
        edge_convex=_flat([t.convex for t in topologies]) > 0,
        edge_curved=_flat([t.curved for t in topologies]) > 0,
        edge_small=_flat([t.small for t in topologies]) > 0,
        edge_narrow=_flat([t.narrow for t in topologies]) > 0,
        edge_circle=_flat(_shifted([t.circle for t in topologies], circle_starts)),
        edge_curve=_flat(_shifted([t.curve for t in topologies], curve_starts)),
        facing=facing,
        circles=_stack(
            [
                np.column_stack(
                    [t.circles[:, :3] @ turn.T + move, t.circles[:, 3:6] @ turn.T, t.circles[:, 6]]
                )
                for t, turn, move in zip(topologies, turns, moves, strict=True)
            ],
            7,
        ),
        facet_body=np.repeat(np.arange(len(bodies)), facet_counts),
        facet_patch=_flat([t.facet_patch for t in topologies]),
        facet_start=facet_start,
        facet_vertices=facet_vertices,
        facet_normal=facet_normal,
        facet_offset=np.einsum("ij,ij->i", facet_normal, anchor),
        facet_curved=_flat([t.facet_curved for t in topologies]) > 0,
        facet_facing=_facing(facet_normal[:, 2]),
    )


def _facing(toward: Floats) -> Ints:
    return np.where(toward > EDGE_ON, 1, np.where(toward < -EDGE_ON, -1, 0)).astype(np.int64)


def _starts(counts: Sequence[int]) -> Ints:
    return np.concatenate([[0], np.cumsum(counts)]).astype(np.int64)


def _stack(arrays: Sequence[np.ndarray], width: int) -> Floats:
    return np.vstack(arrays) if arrays else np.empty((0, width))


def _flat(arrays: Sequence[Ints]) -> Ints:
    return np.concatenate(arrays) if arrays else np.empty(0, dtype=np.int64)


def _shifted(arrays: Sequence[Ints], starts: Ints) -> list[Ints]:
    return [np.where(array >= 0, array + start, -1) for array, start in zip(arrays, starts, strict=False)]

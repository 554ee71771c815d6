"""From a design to solids: each part is its blank minus what its operations take away."""

from __future__ import annotations

from types import MappingProxyType

import manifold3d
import numpy as np

from plangen.design.model import Copy, Design, Part
from plangen.solids.cutters import blank_solid, cutter
from plangen.solids.labels import Labels
from plangen.solids.model import Floats, Mesh, PartSolid, Solids


def build_solids(design: Design) -> Solids:
    """Build the solid of every part, in its own frame, millimetres.

    A part that its operations take away entirely gets an empty mesh and no volume. Raises
    ``ValueError`` for a cut that has no volume or an outline that crosses itself.
    """
    return Solids(MappingProxyType({part.key: part_solid(part) for part in design.parts}))


def part_solid(part: Part) -> PartSolid:
    """Build the solid of one part; raises ``ValueError`` as ``build_solids`` does."""
    labels = Labels()
    solids = [blank_solid(part.blank, labels)]
    solids += [cutter(cut, part.blank, labels) for operation in part.operations for cut in operation.cuts]
    body = manifold3d.Manifold.batch_boolean(solids, manifold3d.OpType.Subtract)
    return PartSolid(part.key, _mesh(body, labels), max(0.0, float(body.volume())), body)


def transform(copy: Copy) -> tuple[Floats, Floats]:
    """Give the turn (3, 3) and the move (3,) that carry a part's own frame into the frame, mm."""
    turn, move = np.array(copy.pose.turn, dtype=np.float64), np.array(copy.pose.move.floats())
    if copy.stance is None:
        return turn, move
    rows = np.array(copy.stance.rows)
    return rows @ turn, rows @ move + np.array(copy.stance.move)


def _mesh(body: manifold3d.Manifold, labels: Labels) -> Mesh:
    """Take the library's mesh in an order of vertices and triangles that depends on the shape alone."""
    raw = body.to_mesh64()
    if not len(raw.tri_verts):
        return Mesh(
            np.empty((0, 3)), np.empty((0, 3), np.int64), np.empty(0, np.int64), tuple(labels.surfaces)
        )
    vertices = np.array(raw.vert_properties[:, :3], dtype=np.float64)
    triangles = np.array(raw.tri_verts, dtype=np.int64)
    surface_of = np.array(labels.facets, dtype=np.int64)
    marks = surface_of[np.array(raw.face_id, dtype=np.int64)]

    order = np.lexsort(vertices.T[::-1])
    place = np.empty_like(order)
    place[order] = np.arange(len(order))
    triangles = place[triangles]
    lowest = np.argmin(triangles, axis=1)
    triangles = np.take_along_axis(triangles, (lowest[:, None] + np.arange(3)) % 3, axis=1)
    rows = np.lexsort((*triangles.T[::-1], marks))
    marks, triangles = marks[rows], triangles[rows]
    used, labels_now = np.unique(marks, return_inverse=True)
    surfaces = tuple(labels.surfaces[index] for index in used)
    return Mesh(vertices[order], triangles, labels_now.astype(np.int64), surfaces)

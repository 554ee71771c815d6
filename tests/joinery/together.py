"""Solids of a solved design in its frame, weighed by integration over their triangles.

The volumes come from the divergence theorem as trimesh sums it; the library that cuts the solids only
gives the triangles.
"""

from __future__ import annotations

import manifold3d
import numpy as np
import trimesh

from plangen.design.model import Design
from plangen.joinery.joints import JOINTS
from plangen.joinery.piece import Piece
from plangen.joinery.space import Axis
from plangen.solids import build_solids, transform
from plangen.units import LengthStyle

CUBIC_INCH = 25.4**3


def volume(body: manifold3d.Manifold) -> float:
    """Give the volume of a closed body in cubic inches."""
    mesh = body.to_mesh64()
    if not len(mesh.tri_verts):
        return 0.0
    points = np.array(mesh.vert_properties[:, :3])
    weighed = trimesh.Trimesh(points, np.array(mesh.tri_verts, np.int64), process=False)
    assert weighed.is_watertight
    return float(weighed.volume) / CUBIC_INCH


def bodies(design: Design) -> dict[str, manifold3d.Manifold]:
    """Give the body of every copy where it stands in the frame."""
    solids = build_solids(design)
    found = {}
    for name, copy in design.copies.items():
        turn, move = transform(copy)
        body = solids.parts[copy.part].body
        found[name] = body.transform(np.column_stack([turn, move]))
    return found


def blank(design: Design, name: str) -> float:
    """Give the volume of a copy's blank, by its finished box, in cubic inches."""
    size = 1.0
    for axis in Axis:
        size *= float(design.copies[name].box.size(axis))
    return size / CUBIC_INCH


def removed(design: Design, name: str) -> float:
    """Give what operations take off a copy, in cubic inches."""
    return blank(design, name) - volume(bodies(design)[name])


def overlap(design: Design) -> float:
    """Give how much wood of different copies takes the same place, in cubic inches."""
    found = list(bodies(design).values())
    total = sum(volume(body) for body in found)
    return total - volume(manifold3d.Manifold.batch_boolean(found, manifold3d.OpType.Add))


def filled(design: Design) -> float:
    """Give the volume that all copies fill together, in cubic inches."""
    found = list(bodies(design).values())
    return volume(manifold3d.Manifold.batch_boolean(found, manifold3d.OpType.Add))


def words(design: Design, joint: str, part: str, kind: str) -> str:
    """Give what a kind of joint says of its first operation of a kind on a part, in inches."""
    record = design.part(part)
    operation = next(operation for operation in record.operations if operation.kind == kind)
    piece = Piece(
        copy=record.copies[0].name,
        part=record.name,
        finished=record.blank,
        shoulders=record.blank,
        runs=record.runs,
        wide=record.wide,
        thick=record.thick,
        solid=True,
        hard=False,
        inside=record.inside,
        place=record.place,
    )
    return JOINTS[joint].says[kind](operation, piece).text(LengthStyle("inch")).replace("\u00a0", " ")

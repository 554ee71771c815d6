"""Whether pieces can really leave, or go in, along a straight way: their solids swept along it.

A body that travels along a way runs into another where a face of it that looks along the way stands before a
face of the other that looks back, within the distance travelled. Both are projected along the way; where
triangles of the two overlap, the gap between their planes is linear, so that its greatest and least values
lie at the corners of the overlap. Nothing is stepped, and nothing is missed between steps. Faces along
which two pieces slide, such as the cheeks of a tenon, are edge on and bar nothing.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
import shapely

from plangen.drawing.hidden_lines import Body
from plangen.drawing.scene import corners
from plangen.solids.model import Floats

_EDGE_ON = 1e-3  # of a face's slope toward the way: less and it slides along
_FIT = 0.25  # mm that pieces of a joint may scrape, by the fits of tapered and round work
_PASSED = 0.05  # mm: a face that lies behind the other by more has passed it


def barred_by(
    moving: Sequence[Body], still: Sequence[Body], way: Sequence[float], far: float
) -> tuple[str, ...]:
    """Name the bodies that some bodies run into while they travel ``far`` millimetres along ``way`` together.

    ``way`` need not be of unit length. Contact that is wider than a quarter of a millimetre all round counts.
    """
    length = float(np.linalg.norm(way))
    if length < 1e-9 or far <= 0:
        return ()
    along = np.asarray(way, dtype=np.float64) / length
    least = int(np.argmin(np.abs(along)))
    right = np.cross(along, np.eye(3)[least])
    right /= np.linalg.norm(right)
    frame = np.stack([right, np.cross(along, right), along])
    fronts = [_Swept(body, frame, ahead=True) for body in moving]
    found = []
    for body in still:
        back = _Swept(body, frame, ahead=False)
        if any(_meets(front, back, far) for front in fronts):
            found.append(body.tag)
    return tuple(found)


class _Swept:
    """The triangles of a body that look along the way, or back, projected along it."""

    def __init__(self, body: Body, frame: Floats, *, ahead: bool) -> None:
        points = corners(body) @ frame.T
        triangles = points[body.mesh.triangles]
        one, two = triangles[:, 1] - triangles[:, 0], triangles[:, 2] - triangles[:, 0]
        normal = np.cross(one, two)
        steep = normal[:, 2] / np.maximum(np.linalg.norm(normal, axis=1), 1e-12)
        chosen = triangles[steep > _EDGE_ON if ahead else steep < -_EDGE_ON]
        self.low, self.high = points.min(axis=0), points.max(axis=0)
        self.flat = shapely.polygons(chosen[:, :, :2]) if len(chosen) else np.zeros(0, dtype=object)
        self.planes = _planes(chosen)


def _planes(triangles: Floats) -> Floats:
    """Give the depth of each triangle as a, b, c in a·x + b·y + c."""
    if not len(triangles):
        return np.zeros((0, 3))
    one, two = triangles[:, 1] - triangles[:, 0], triangles[:, 2] - triangles[:, 0]
    normal = np.cross(one, two)
    slope = -normal[:, :2] / normal[:, 2:]
    return np.column_stack([slope, triangles[:, 0, 2] - (slope * triangles[:, 0, :2]).sum(axis=1)])


def _meets(front: _Swept, back: _Swept, far: float) -> bool:
    apart = (front.low[:2] > back.high[:2] - _FIT) | (back.low[:2] > front.high[:2] - _FIT)
    if apart.any() or back.high[2] < front.low[2] - _PASSED or back.low[2] > front.high[2] + far:
        return False
    if not len(front.flat) or not len(back.flat):
        return False
    tree = shapely.STRtree(back.flat)
    mine, other = tree.query(front.flat, predicate="intersects")
    if not len(mine):
        return False
    overlaps = shapely.intersection(front.flat[mine], back.flat[other])
    wide = shapely.area(overlaps) > 1e-4
    hit: list[Any] = []
    for overlap, i, j in zip(overlaps[wide], mine[wide].tolist(), other[wide].tolist(), strict=True):
        at = shapely.get_coordinates(overlap)
        gap = (back.planes[j] - front.planes[i]) @ np.vstack([at.T, np.ones(len(at))])
        if gap.max() > -_PASSED and gap.min() < far:
            hit.append(overlap)
    if not hit:
        return False
    return not shapely.union_all(hit).buffer(-_FIT).is_empty

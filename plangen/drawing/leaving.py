"""Whether pieces can really leave, or go in, along a straight way: their solids swept along it.

A body that travels along a way runs into another where a face of it that looks along the way stands before a
face of the other that looks back, within the distance travelled. Both are projected along the way; where
triangles of the two overlap, the gap between their planes is linear, so that its greatest and least values
lie at the corners of the overlap. Nothing is stepped, and nothing is missed between steps. Faces along
which two pieces slide, such as the cheeks of a tenon, are edge on and bar nothing.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import numpy as np
import shapely

from plangen.design.model import Design
from plangen.drawing.explosion import closing_side
from plangen.drawing.hidden_lines import Body
from plangen.drawing.scene import copy_actor, corners
from plangen.joinery.space import Axis, Side
from plangen.sequence.model import Step
from plangen.solids import Solids
from plangen.solids.model import Floats

_EDGE_ON = 1e-3  # of a face's slope toward the way: less and it slides along
_FIT = 0.25  # mm that pieces of a joint may scrape, by the fits of tapered and round work
_EASY = (Side.TOP, Side.FRONT, Side.LEFT, Side.RIGHT, Side.BACK, Side.BOTTOM)
_PASSED = 0.05  # mm: a face that lies behind the other by more has passed it


def with_ways_in(design: Design, solids: Solids, step: Step) -> Step:
    """Give the step with every piece drawn out to a side that it can really come from, past what stands.

    The side that the step names is kept where the solids allow it; else the piece, with all that comes along
    with it, takes the first side that is open: one along its joints, then from above, in front, the ends,
    behind and below. Where none is open the step stays as it is.
    """
    sides = dict(step.picture.offsets)
    bodies = [copy for one in design.assemblies for copy in one.copies if copy.name in step.brought]
    together: dict[str, list[str]] = {}
    for name in sides:
        if name in step.picture.new:
            whole = next((copy.name for copy in bodies if name in copy.members), name)
            together.setdefault(whole, []).append(name)
    present = list(dict.fromkeys((*step.picture.context, *step.picture.new)))
    there = {name: copy_actor(design, solids, design.copies[name], "plain").body for name in present}
    still = [body for name, body in there.items() if name not in sides]
    far = 2 * sum(float(design.overall.size(axis)) for axis in Axis)
    for names in together.values() if still else ():
        moving = [there[name] for name in names]
        if not barred_by(moving, still, _vector(sides[names[0]]), far):
            continue
        for other in _open_ways(design, names, sides[names[0]]):
            if not barred_by(moving, still, _vector(other), far):
                sides.update(dict.fromkeys(names, other))
                break
    if sides == dict(step.picture.offsets):
        return step
    return replace(step, picture=replace(step.picture, offsets=tuple(sides.items())))


def _open_ways(design: Design, names: Sequence[str], tried: Side) -> list[Side]:
    of_joints: list[Side] = []
    for joint in design.joints:
        for contact in joint.contacts:
            if (contact.moving in names) is not (contact.fixed in names):
                side = closing_side(contact, design)
                of_joints.append(side.opposite if contact.moving in names else side)
    return [side for side in dict.fromkeys((*of_joints, *_EASY)) if side is not tried]


def _vector(side: Side) -> tuple[float, float, float]:
    across, deep, up = (float(side.sign) if axis is side.axis else 0.0 for axis in Axis)
    return across, deep, up


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
    boxes = [_box(body, frame) for body in moving]
    fronts: dict[int, _Swept] = {}
    found = []
    for body in still:
        low, high = _box(body, frame)
        near = [
            number
            for number, (own_low, own_high) in enumerate(boxes)
            if (own_low[:2] < high[:2] - _FIT).all()
            and (low[:2] < own_high[:2] - _FIT).all()
            and high[2] > own_low[2] - _PASSED
            and low[2] < own_high[2] + far
        ]
        if not near:
            continue
        back = _Swept(body, frame, ahead=False)
        for number in near:
            if number not in fronts:
                fronts[number] = _Swept(moving[number], frame, ahead=True)
            if _meets(fronts[number], back, far):
                found.append(body.tag)
                break
    return tuple(found)


def _box(body: Body, frame: Floats) -> tuple[Floats, Floats]:
    points = corners(body) @ frame.T
    return points.min(axis=0), points.max(axis=0)


class _Swept:
    """The triangles of a body that look along the way, or back, projected along it."""

    def __init__(self, body: Body, frame: Floats, *, ahead: bool) -> None:
        points = corners(body) @ frame.T
        triangles = points[body.mesh.triangles]
        one, two = triangles[:, 1] - triangles[:, 0], triangles[:, 2] - triangles[:, 0]
        normal = np.cross(one, two)
        steep = normal[:, 2] / np.maximum(np.linalg.norm(normal, axis=1), 1e-12)
        chosen = triangles[steep > _EDGE_ON if ahead else steep < -_EDGE_ON]
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

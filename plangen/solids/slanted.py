"""Cuts that follow no axis of the part: half spaces beyond a plane, and holes bored at an angle."""

from __future__ import annotations

import math

import manifold3d
import numpy as np

from plangen.joinery.cuts import BoreCut, PlaneCut
from plangen.joinery.space import Axis, Box, Direction
from plangen.solids.labels import Labels, Numbers3
from plangen.solids.model import Floats, Surface
from plangen.solids.outline import circle

PAST = 1.0  # mm that a cut is taken past the blank
LEAST_SLOPE = 0.05  # of a face that a drill can enter: the sine of about 3 degrees


def half_space(cut: PlaneCut, blank: Box, labels: Labels) -> manifold3d.Manifold:
    """Give what lies beyond a plane, as far as the blank reaches."""
    frame = _frame(cut.normal)
    through = np.array(cut.through.floats())
    corners = np.array([blank.low.floats(), blank.high.floats()])
    reach = float(np.linalg.norm(corners[1] - corners[0])) + float(
        np.max(np.linalg.norm(corners - through, axis=1))
    )
    square = np.array([[-1.0, -1.0], [1.0, -1.0], [1.0, 1.0], [-1.0, 1.0]]) * (reach + PAST)
    plane = labels.plane(cut.normal, cut.through.floats())
    # The other five faces lie outside the blank and never show.
    far = labels.plane(cut.normal, _three(through + np.array(cut.normal) * (reach + PAST)))
    return _prism(square, frame, through, 0.0, reach + PAST, plane, far, [far] * 4)


def bore(cut: BoreCut, blank: Box, labels: Labels) -> manifold3d.Manifold:
    """Give a hole bored at an angle, with the lip cleared that the slope leaves at its mouth."""
    frame = _frame(cut.way)
    mouth = np.array(cut.mouth.floats())
    radius = float(cut.diameter) / 2.0
    # The circle's far rim lies behind the mouth by the radius times the slope of the face.
    slope = abs(cut.way[_entered(cut, blank).value])
    behind = radius * math.sqrt(max(0.0, 1.0 / (slope * slope) - 1.0)) + PAST
    # Drawn around the true circle, so that a tenon of the same diameter fits however its facets lie.
    ring = np.array(circle((0.0, 0.0), radius).points)
    ring /= math.cos(math.pi / len(ring))
    way = _three(np.array(cut.way))
    end = mouth + np.array(cut.way) * float(cut.depth)
    floor = labels.plane((-way[0], -way[1], -way[2]), _three(end))
    back = labels.plane(way, _three(mouth - np.array(cut.way) * behind))
    surface = Surface("cylinder", axis=way, centre=_three(mouth), radius=radius, hollow=True)
    key = ("bore", *(round(v, 6) for v in (*way, *_three(mouth))), round(radius, 6))
    walls = [labels.facet(surface, key) for _ in range(len(ring))]
    return _prism(ring, frame, mouth, -behind, float(cut.depth), back, floor, walls)


def _entered(cut: BoreCut, blank: Box) -> Axis:
    """The axis of the face that the drill enters: where the mouth lies, else the way it mostly goes."""
    ways = sorted(Axis, key=lambda axis: (-abs(cut.way[axis.value]), axis.value))
    faces = (
        axis
        for axis in ways
        if abs(cut.way[axis.value]) > LEAST_SLOPE
        and cut.mouth.at(axis) == (blank.low if cut.way[axis.value] > 0 else blank.high).at(axis)
    )
    return next(faces, ways[0])


def _frame(way: Direction) -> Floats:
    """Three unit columns, right-handed, the last of them along ``way``."""
    last = np.array(way) / np.linalg.norm(way)
    plainest = min(Axis, key=lambda axis: (abs(last[axis.value]), axis.value))
    first = np.cross(np.eye(3)[plainest.value], last)
    first /= np.linalg.norm(first)
    return np.column_stack([first, np.cross(last, first), last])


def _prism(
    ring: Floats,
    frame: Floats,
    origin: Floats,
    low: float,
    high: float,
    low_label: int,
    high_label: int,
    walls: list[int],
) -> manifold3d.Manifold:
    """Build a prism over a convex ring (n, 2), anticlockwise, along the frame's last column."""
    count = len(ring)
    flat = np.vstack(
        [np.column_stack([ring, np.full(count, low)]), np.column_stack([ring, np.full(count, high)])]
    )
    vertices = flat @ frame.T + origin
    here = np.arange(count)
    there = np.roll(here, -1)
    fan = np.column_stack([np.zeros(count - 2, np.int64), here[1:-1], here[2:]])
    quads = np.stack([here, there, there + count, here, there + count, here + count], axis=1)
    faces = np.vstack([fan[:, ::-1], fan + count, quads.reshape(-1, 3)])
    facets = [low_label] * len(fan) + [high_label] * len(fan) + [wall for wall in walls for _ in range(2)]
    mesh = manifold3d.Mesh64(
        vert_properties=np.ascontiguousarray(vertices),
        tri_verts=np.ascontiguousarray(faces.astype(np.uint64)),
        face_id=np.asarray(facets, dtype=np.uint64),
    )
    return manifold3d.Manifold(mesh)


def _three(values: Floats) -> Numbers3:
    return float(values[0]) + 0.0, float(values[1]) + 0.0, float(values[2]) + 0.0

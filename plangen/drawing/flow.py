"""Flow lines: the way a piece goes in, dashed, hidden where something stands before it."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import ceil, hypot

import numpy as np

from plangen.drawing.hidden_lines import View
from plangen.drawing.scene import Actor, Placing, corners, flat
from plangen.drawing.sheet.model import Meaning, Stroke, Xy
from plangen.solids.model import Floats

_STEP = 0.4  # mm on paper between the points that are tried
_BEHIND = 0.3  # mm at full size: nearer than this to a face counts as lying on it
SHORTEST = 1.2  # mm on paper: a shorter stretch says nothing


class Occluders:
    """The faces of a scene that look at the viewer, ready to say what stands before a point."""

    def __init__(self, actors: Sequence[Actor], view: View) -> None:
        self._view = view
        toward = np.asarray(view.toward, dtype=np.float64)
        flats: list[Floats] = []
        depths: list[Floats] = []
        for actor in actors:
            points = corners(actor.body)
            triangles = actor.body.mesh.triangles
            flats.append(flat(points, view)[triangles])
            depths.append((points @ toward)[triangles])
        corner = np.concatenate(flats) if flats else np.zeros((0, 3, 2))
        depth = np.concatenate(depths) if depths else np.zeros((0, 3))
        one, two = corner[:, 1] - corner[:, 0], corner[:, 2] - corner[:, 0]
        double = one[:, 0] * two[:, 1] - one[:, 1] * two[:, 0]
        front = double > 1e-6
        self._corner, self._depth, self._double = corner[front], depth[front], double[front]
        self._low, self._high = self._corner.min(axis=1), self._corner.max(axis=1)

    def hidden(self, points: Floats) -> list[bool]:
        """Tell for each point of the frame (n, 3) whether something stands before it."""
        at = flat(points, self._view)
        near = points @ np.asarray(self._view.toward, dtype=np.float64)
        low, high = at.min(axis=0), at.max(axis=0)
        some = np.nonzero(((self._low <= high) & (self._high >= low)).all(axis=1))[0]
        corner, depth, double = self._corner[some], self._depth[some], self._double[some]
        result = np.zeros(len(points), dtype=bool)
        for number, point in enumerate(at):
            to = corner - point
            shares = (
                np.stack(
                    [
                        to[:, i, 0] * to[:, j, 1] - to[:, i, 1] * to[:, j, 0]
                        for i, j in ((1, 2), (2, 0), (0, 1))
                    ],
                    axis=1,
                )
                / double[:, None]
            )
            inside = (shares > -1e-9).all(axis=1)
            if inside.any():
                result[number] = bool(
                    ((shares[inside] * depth[inside]).sum(axis=1) > near[number] + _BEHIND).any()
                )
        return [bool(item) for item in result]


def flow_line(
    path: Sequence[Sequence[float]], occluders: Occluders, view: View, placing: Placing
) -> list[Stroke]:
    """Draw the visible stretches of a path through points of the frame (mm)."""
    strokes: list[Stroke] = []
    run: list[Xy] = []

    def close() -> None:
        if len(run) > 1:  # a bend ends one stretch and starts the next: it is there once
            kept = _straightened(run)
            if sum(hypot(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(kept)) >= SHORTEST:
                strokes.append(Stroke(tuple(kept), Meaning.FLOW))
        run.clear()

    for start, end in pairwise(path):
        one, two = np.asarray(start, dtype=np.float64), np.asarray(end, dtype=np.float64)
        ends = flat(np.stack([one, two]), view) * placing.factor
        number = max(2, ceil(float(np.hypot(*(ends[1] - ends[0]))) / _STEP) + 1)
        points = one + (two - one) * np.linspace(0.0, 1.0, number)[:, None]
        for point, hidden in zip(flat(points, view).tolist(), occluders.hidden(points), strict=True):
            if hidden:
                close()
            else:
                at = placing.point((point[0], point[1]))
                if not run or at != run[-1]:
                    run.append(at)
    close()
    return strokes


def _straightened(points: Sequence[Xy]) -> list[Xy]:
    kept = [points[0]]
    for before, point, after in zip(points, points[1:], points[2:], strict=False):
        turning = (point[0] - before[0]) * (after[1] - point[1]) - (point[1] - before[1]) * (
            after[0] - point[0]
        )
        if abs(turning) > 1e-6:
            kept.append(point)
    return [*kept, points[-1]]

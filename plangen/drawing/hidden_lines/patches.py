"""The faces of a scene that may be seen, as areas of the picture before anything is taken away."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from plangen.drawing.hidden_lines.hide import BEHIND_CURVED, behind_one, bodies_in_sight
from plangen.drawing.hidden_lines.runs import boxes
from plangen.drawing.hidden_lines.scene import Scene
from plangen.drawing.hidden_lines.topology import Flags, Role
from plangen.solids.model import Floats, Ints


@dataclass(frozen=True, eq=False, slots=True)
class Patch:
    """A face as it lies in the picture; its facets are numbered in the scene's ``faces``."""

    body: int
    number: int  # within the body
    flat: bool
    pocket: bool  # within a pocket
    facets: Ints  # those that look to the viewer
    plugged: Ints  # the same with its pockets plugged
    points: Floats  # (n, 3) all their corners
    loops: tuple[Floats, ...]  # (n, 2) that wind round its area once
    whole: tuple[Floats, ...]  # the same with its pockets plugged


def patches_of(placed: Scene) -> list[Patch]:
    """Give the faces that look to the viewer, save those that are wholly hidden by one large face."""
    faces = placed.faces
    if not len(faces):
        return []
    sight = bodies_in_sight(placed)
    rows = np.flatnonzero(sight[faces.body])
    rows = rows[np.lexsort((rows, faces.role[rows] == Role.PLUGGED, faces.patch[rows], faces.body[rows]))]
    if not len(rows):
        return []
    keys = np.column_stack([faces.body[rows], faces.patch[rows]])
    starts = np.flatnonzero(np.concatenate([[True], (np.diff(keys, axis=0) != 0).any(axis=1)]))
    low = np.minimum.reduceat(faces.low[rows], starts)
    high = np.maximum.reduceat(faces.high[rows], starts)
    body, number = keys[starts].T
    pocket = np.array([placed.topology(b).patch_pocket[n] for b, n in keys[starts].tolist()])
    wanted = np.array(
        [k < 0 or placed.aspects[b].open[k] for b, k in zip(body.tolist(), pocket.tolist(), strict=True)]
    )
    wanted &= ~_hidden(placed, low, high, body, pocket >= 0)
    result = []
    for index, facets in enumerate(np.split(rows, starts[1:])):
        if wanted[index]:
            result.append(
                _patch(placed, int(body[index]), int(number[index]), bool(pocket[index] >= 0), facets)
            )
    return result


def _hidden(placed: Scene, low: Floats, high: Floats, body: Ints, pocket: Flags) -> Flags:
    """Tell which boxes lie behind one large face; a plugged one counts for what is in no pocket."""
    gone = np.zeros(len(low), dtype=bool)
    inside = pocket | np.isin(body, np.flatnonzero(placed.standing_in.any(axis=1)))
    real = placed.covers.chosen(np.flatnonzero(placed.covers.role == Role.PLAIN))
    for chosen, covers in ((~inside, placed.covers), (inside, real)):
        rows = np.flatnonzero(chosen)
        gone[rows] = behind_one(covers, boxes(low[rows], high[rows], BEHIND_CURVED))
    return gone


def _patch(placed: Scene, body: int, number: int, pocket: bool, rows: Ints) -> Patch:
    faces, known = placed.faces, placed.topology(body)
    plugs = faces.role[rows] == Role.PLUGGED
    facets = rows[~plugs]
    plugged = rows[plugs] if plugs.any() else facets
    if not faces.curved[facets[0]]:
        every = placed.points(body)
        loops = tuple(every[walk, :2] for walk in known.patch_loops[number])
        whole = tuple(every[walk, :2] for walk in known.patch_whole[number])
        points = every[known.patch_loops[number][0]]
        return Patch(body, number, True, pocket, facets, plugged, points, loops, whole)
    corners = [faces.corners_of(facet) for facet in facets.tolist()]
    loops = tuple(corner[:, :2] for corner in corners)
    return Patch(body, number, False, pocket, facets, facets, np.vstack(corners), loops, loops)

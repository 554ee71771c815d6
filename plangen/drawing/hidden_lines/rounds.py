"""Where round surfaces turn away: on the true cylinder, and not on the nearest side of its chords.

A cylinder turns away where its radius is square to the way one looks. The line there stands beside the
nearest chord's end by up to half a chord, and the edges of the cylinder's ends are seen up to it.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from plangen.solids.model import Floats, Ints, Mesh

ALONG = 1e-3  # sine of the angle between the way one looks and an axis, below which nothing turns away


@dataclass(frozen=True, eq=False, slots=True)
class Rounds:
    """The edges of a mesh that lie on cylinders: r cylinders, s smooth edges, t ends of cylinders."""

    axis: Floats  # (r, 3)
    centre: Floats  # (r, 3)
    radius: Floats  # (r,)
    sign: Floats  # (r,) -1 where it is hollow
    smooth: Ints  # (s,) edges between two facets of one cylinder
    smooth_round: Ints  # (s,)
    ahead: Ints  # (s, 2, 2) on each side of the edge, what comes next to its two ends, or -1
    rim: Ints  # (t,) edges between a cylinder and a plane
    rim_round: Ints  # (t,)
    rim_plane: Ints  # (t,) the triangle of the plane


def find_rounds(mesh: Mesh, ends: Ints, pairs: Ints, start: Ints, members: Ints) -> Rounds:
    """Find them; ``start`` and ``members`` are the facets as ``convex_facets`` gives them."""
    labels = [k for k, surface in enumerate(mesh.surfaces) if surface.kind == "cylinder"]
    some = [mesh.surfaces[k] for k in labels]
    place = np.full(len(mesh.surfaces), -1, dtype=np.int64)
    place[labels] = np.arange(len(labels))
    flat = np.array([surface.kind == "plane" for surface in mesh.surfaces], dtype=bool)
    both = mesh.labels[pairs]
    smooth = np.flatnonzero((both[:, 0] == both[:, 1]) & (place[both[:, 0]] >= 0))
    round_side = np.where(place[both[:, 0]] >= 0, 0, 1)
    every = np.arange(len(pairs))
    rim = np.flatnonzero((place[both[every, round_side]] >= 0) & flat[both[every, 1 - round_side]])
    return Rounds(
        axis=np.array([surface.axis for surface in some], dtype=np.float64).reshape(-1, 3),
        centre=np.array([surface.centre for surface in some], dtype=np.float64).reshape(-1, 3),
        radius=np.array([surface.radius for surface in some], dtype=np.float64),
        sign=np.array([-1.0 if surface.hollow else 1.0 for surface in some]),
        smooth=smooth,
        smooth_round=place[both[smooth, 0]],
        ahead=_ahead(ends[smooth], start, members, len(mesh.vertices)),
        rim=rim,
        rim_round=place[both[rim, round_side[rim]]],
        rim_plane=pairs[rim, 1 - round_side[rim]],
    )


def _ahead(ends: Ints, start: Ints, members: Ints, number: int) -> Ints:
    """Give what comes before and after edges in the facets on both their sides."""
    if not len(ends) or not len(members):
        return np.full((len(ends), 2, 2), -1, dtype=np.int64)
    at = np.arange(len(members))
    after, before = at + 1, at - 1
    after[start[1:] - 1], before[start[:-1]] = start[:-1], start[1:] - 1
    keys = members * number + members[after]
    order = np.argsort(keys, kind="stable")
    result = np.full((len(ends), 2, 2), -1, dtype=np.int64)
    for side, (tail, head) in enumerate(((0, 1), (1, 0))):
        wanted = ends[:, tail] * number + ends[:, head]
        where = order[np.minimum(np.searchsorted(keys, wanted, sorter=order), len(keys) - 1)]
        found = keys[where] == wanted
        result[found, side, tail] = members[before[where]][found]
        result[found, side, head] = members[after[after[where]]][found]
    return result


def turning_lines(mesh: Floats, rounds: Rounds, ends: Ints, rows: Ints, toward: Floats) -> Floats:
    """Give the ends (n, 2, 3) of the lines where cylinders truly turn away.

    ``mesh`` are the vertices, ``ends`` (n, 2) those of the smooth edges where the facets do, ``rows`` (n,)
    their places in ``rounds.smooth``, and ``toward`` points to the viewer, all as the mesh lies. The ends
    slide along the borders of the facet in which the cylinder turns.
    """
    which = rounds.smooth_round[rows]
    axis, centre, radius = rounds.axis[which], rounds.centre[which], rounds.radius[which]
    points = mesh[ends].copy()
    across = np.cross(axis, toward)
    size = np.linalg.norm(across, axis=1)
    across /= np.maximum(size, 1e-12)[:, None]
    arm = points[:, 0] - centre
    arm -= (arm * axis).sum(axis=1)[:, None] * axis
    across *= np.where((arm * across).sum(axis=1) < 0.0, -1.0, 1.0)[:, None]
    turn = _angle(arm, across, axis)
    moved = np.zeros(len(rows), dtype=bool)
    for side in (0, 1):
        ahead = rounds.ahead[rows, side]
        away = mesh[ahead[:, 0]] - centre
        step = _angle(arm, away - (away * axis).sum(axis=1)[:, None] * axis, axis)
        with np.errstate(divide="ignore", invalid="ignore"):
            share = turn / step
        inside = (ahead >= 0).all(axis=1) & (size > ALONG) & ~moved & (np.abs(step) > 1e-6)
        inside &= (share >= 0.0) & (share <= 1.0)
        at, part = np.flatnonzero(inside), share[inside][:, None]
        for end in (0, 1):
            here, there = points[at, end] - centre[at], mesh[ahead[at, end]] - centre[at]
            low, high = (here * axis[at]).sum(axis=1), (there * axis[at]).sum(axis=1)
            along = low + (high - low) * part[:, 0]
            points[at, end] = centre[at] + along[:, None] * axis[at] + radius[at, None] * across[at]
        moved |= inside
    return points


def _angle(start: Floats, end: Floats, axis: Floats) -> Floats:
    """Give the angles about axes from one arm to another, radians."""
    found: Floats = np.arctan2((np.cross(start, end) * axis).sum(axis=1), (start * end).sum(axis=1))
    return found


def seen_shares(mesh: Floats, rounds: Rounds, ends: Ints, toward: Floats) -> tuple[Floats, Floats]:
    """Give the shares of each rim, from and to, at which its cylinder truly looks to the viewer.

    Nowhere is told by a ``from`` of 1 and a ``to`` of 0; ``ends`` are those of all edges of the mesh.
    """
    which = rounds.rim_round
    arm = mesh[ends[rounds.rim]] - rounds.centre[which][:, None]
    axis = rounds.axis[which]
    level = toward - (axis @ toward)[:, None] * axis
    size = np.linalg.norm(level, axis=1)
    facing = (arm * level[:, None]).sum(axis=2) * rounds.sign[which][:, None]
    facing[size < ALONG] = -1.0
    least = 1e-9 * rounds.radius[which]
    first, second = facing[:, 0] > least, facing[:, 1] > least
    with np.errstate(divide="ignore", invalid="ignore"):
        crossing = np.clip(facing[:, 0] / (facing[:, 0] - facing[:, 1]), 0.0, 1.0)
    begin = np.where(first, 0.0, np.where(second, crossing, 1.0))
    end = np.where(second, 1.0, np.where(first, crossing, 0.0))
    return begin, end

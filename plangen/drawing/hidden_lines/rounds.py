"""Where round surfaces turn away: on the true cylinder, and not on the nearest side of its chords.

A cylinder turns away where its radius is square to the way one looks. The line there stands beside the
nearest chord's end by up to half a chord, and the edges of the cylinder's ends are seen up to it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from plangen.solids.model import Floats, Ints, Mesh, Surface
from plangen.solids.outline import facets_of_circle

SAME = 0.02  # mm between circles, or their radii, that are one
END = 0.25  # mm from a peg's end within which a circle may be its rim
ALONG = 1e-3  # sine of the angle between the way one looks and an axis, below which nothing turns away


@dataclass(frozen=True, eq=False, slots=True)
class Rounds:
    """The edges of a mesh that lie on cylinders: r cylinders, s smooth edges, t ends of cylinders."""

    axis: Floats  # (r, 3)
    centre: Floats  # (r, 3)
    radius: Floats  # (r,)
    sign: Floats  # (r,) -1 where it is hollow
    pegs: Floats  # (n, 8) solid and full ones: foot, axis to the other end, radius, length
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
    which = place[both[smooth, 0]]
    return Rounds(
        axis=np.array([surface.axis for surface in some], dtype=np.float64).reshape(-1, 3),
        centre=np.array([surface.centre for surface in some], dtype=np.float64).reshape(-1, 3),
        radius=np.array([surface.radius for surface in some], dtype=np.float64),
        sign=np.array([-1.0 if surface.hollow else 1.0 for surface in some]),
        smooth=smooth,
        pegs=_pegs(mesh, some, ends[smooth], which),
        smooth_round=which,
        ahead=_ahead(ends[smooth], start, members, len(mesh.vertices)),
        rim=rim,
        rim_round=place[both[rim, round_side[rim]]],
        rim_plane=pairs[rim, 1 - round_side[rim]],
    )


def _pegs(mesh: Mesh, surfaces: Sequence[Surface], ends: Ints, which: Ints) -> Floats:
    """Find the cylinders that are solid and go all round; ``ends`` are of the edges between their facets."""
    found = []
    for index, surface in enumerate(surfaces):
        rows = np.flatnonzero(which == index)
        radius = float(surface.radius or 0.0)
        if surface.hollow or len(rows) < facets_of_circle(radius):
            continue
        axis, centre = np.array(surface.axis), np.array(surface.centre)
        along = np.sort((mesh.vertices[ends[rows]] - centre) @ axis, axis=1)
        low, high = float(along[:, 0].max()), float(along[:, 1].min())
        found.append(np.array([*(centre + low * axis), *axis, radius, high - low]))
    return np.array(found).reshape(-1, 8)


def _ahead(ends: Ints, start: Ints, members: Ints, number: int) -> Ints:
    """Give what comes before and after edges in the facets on both their sides."""
    result = np.full((len(ends), 2, 2), -1, dtype=np.int64)
    if not len(ends) or not len(members):
        return result
    at = np.arange(len(members))
    after, before = at + 1, at - 1
    after[start[1:] - 1], before[start[:-1]] = start[:-1], start[1:] - 1
    keys = members * number + members[after]
    order = np.argsort(keys, kind="stable")
    for side, (tail, head) in enumerate(((0, 1), (1, 0))):
        wanted = ends[:, tail] * number + ends[:, head]
        where = order[np.minimum(np.searchsorted(keys, wanted, sorter=order), len(keys) - 1)]
        found = keys[where] == wanted
        result[found, side, tail] = members[before[where]][found]
        result[found, side, head] = members[after[after[where]]][found]
    return result


def turning_lines(
    mesh: Floats, rounds: Rounds, ends: Ints, rows: Ints, toward: Floats
) -> tuple[Floats, Ints]:
    """Give the ends (n, 2, 3) of the lines where cylinders truly turn away, and on which side (n,) they lie.

    ``mesh`` are the vertices, ``ends`` (n, 2) those of the smooth edges where the facets do, ``rows`` (n,)
    their places in ``rounds.smooth``, and ``toward`` points to the viewer, all as the mesh lies. The ends
    slide along the borders of the facet in which the cylinder turns; a side of -1 tells that they stay.
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
    moved = np.full(len(rows), -1, dtype=np.int64)
    for side in (0, 1):
        ahead = rounds.ahead[rows, side]
        away = mesh[ahead[:, 0]] - centre
        step = _angle(arm, away - (away * axis).sum(axis=1)[:, None] * axis, axis)
        with np.errstate(divide="ignore", invalid="ignore"):
            share = turn / step
        inside = (ahead >= 0).all(axis=1) & (size > ALONG) & (moved < 0) & (np.abs(step) > 1e-6)
        inside &= (share >= 0.0) & (share <= 1.0)
        at, part = np.flatnonzero(inside), share[inside][:, None]
        for end in (0, 1):
            here, there = points[at, end] - centre[at], mesh[ahead[at, end]] - centre[at]
            low, high = (here * axis[at]).sum(axis=1), (there * axis[at]).sum(axis=1)
            along = low + (high - low) * part[:, 0]
            points[at, end] = centre[at] + along[:, None] * axis[at] + radius[at, None] * across[at]
        moved[inside] = side
    return points, moved


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
    return _shares(facing, 1e-9 * rounds.radius[which])


def filled(circles: Floats, pegs: Floats) -> tuple[Ints, Ints]:
    """Pair the circles (c, 9) that run round pegs (n, 8), away from these's ends, with the pegs."""
    u, v = circles[:, 3:6], circles[:, 6:9]
    radius = np.linalg.norm(u, axis=1)
    normal = np.cross(u, v) / np.maximum(radius, 1e-12)[:, None] ** 2
    away = circles[:, None, :3] - pegs[None, :, :3]
    along = (away * pegs[:, 3:6]).sum(axis=2)
    off = np.linalg.norm(away - along[..., None] * pegs[:, 3:6], axis=2)
    meets = (off < SAME) & (np.abs(radius[:, None] - pegs[:, 6]) < SAME)
    meets &= np.abs(normal @ pegs[:, 3:6].T) > 1.0 - 1e-9
    meets &= (along > END) & (along < pegs[:, 7] - END)
    found = np.nonzero(meets)
    return found[0], found[1]


def behind_pegs(ends: Floats, pegs: Floats) -> tuple[Floats, Floats]:
    """Give the shares, from and to, of chords (n, 2, 3) of circles round pegs that the pegs hide.

    Of what lies on a peg all is hidden that faces away from the viewer.
    """
    axis = pegs[:, 3:6]
    facing = ((ends - pegs[:, None, :3]) * _level(axis)[:, None]).sum(axis=2)
    return _shares(-facing, 0.0)


def _level(axis: Floats) -> Floats:
    """Give the way to the viewer less its share along axes; coordinates are those of the view."""
    result: Floats = np.array([0.0, 0.0, 1.0]) - axis[:, 2:3] * axis
    return result


def _shares(height: Floats, least: Floats | float) -> tuple[Floats, Floats]:
    """Give the share of segments, from and to, over which a height (n, 2) at their ends is above ``least``.

    Nowhere is told by a ``from`` of 1 and a ``to`` of 0.
    """
    first, second = height[:, 0] > least, height[:, 1] > least
    with np.errstate(divide="ignore", invalid="ignore"):
        crossing = np.clip(height[:, 0] / (height[:, 0] - height[:, 1]), 0.0, 1.0)
    begin = np.where(first, 0.0, np.where(second, crossing, 1.0))
    end = np.where(second, 1.0, np.where(first, crossing, 0.0))
    return begin, end

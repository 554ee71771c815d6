"""What a mesh is apart from any view: its edges, its faces as convex polygons, its patches.

A *patch* is a connected run of triangles with one label. A *facet* is a convex polygon of
coplanar triangles of one patch: what hides other things is tested by whole facets. A face with pockets has
two sets of them: one with its holes, and one with the holes plugged, which is far smaller.
"""

from __future__ import annotations

import math
from collections import OrderedDict
from collections.abc import Sequence
from dataclasses import dataclass
from enum import IntEnum
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from plangen.drawing.hidden_lines.facets import convex_facets
from plangen.drawing.hidden_lines.pockets import Pocket, find_pockets, plugged
from plangen.drawing.hidden_lines.rounds import Rounds, find_rounds
from plangen.solids.model import Floats, Ints, Mesh, Surface

Flags: TypeAlias = NDArray[np.bool_]

FEATURE_COSINE = math.cos(math.radians(1.0))  # faces that meet flatter than this show no edge
SMALL_RADIUS = 8.0  # mm; the edges of smaller holes and pegs are rims
STEEP = 0.1  # cosine between an axis and a plane's normal; a flatter cut is no ellipse but a curve
NARROW = 4.0  # mm; faces narrower than this have rims
FLAT = 1e-6  # mm; a triangle lower than this has no normal of its own
BULGE = 1e-3  # mm that a vertex may stand out of a facet and the whole still count as convex
MOST_BULGING = 200  # facets; a whole of more is not looked at
MOST_KEPT = 512  # meshes remembered


class Role(IntEnum):
    """What a facet is there for."""

    PLAIN = 0  # a face without pockets
    HOLED = 1  # a face with pockets as it is, or the inside of a pocket
    PLUGGED = 2  # a face with its pockets plugged
    MOUTH = 3  # the mouth of a convex pocket


@dataclass(frozen=True, eq=False, slots=True)
class Topology:
    """Arrays over a mesh: e edges, p facets, q patches, k pockets; vertices by index into the mesh."""

    vertices: Floats  # (v, 3) of the mesh
    edge_ends: Ints  # (e, 2)
    edge_triangles: Ints  # (e, 2)
    feature: Flags  # (e,) where two surfaces meet at an angle
    convex: Flags  # (e,) where the material is inside the angle
    curved: Flags  # (e,) where a neighbouring surface is curved
    small: Flags  # (e,) on a small round surface
    narrow: Flags  # (e,) where a neighbouring patch is narrow
    circle: Ints  # (e,) index into ``circles`` or -1
    curve: Ints  # (e,) number of the curved crease it belongs to, or -1
    curves: int  # above all of those numbers
    circles: Floats  # (c, 9) of circles and ellipses: centre, and from it two half axes
    pocket: Ints  # (e,) the pocket it is in or the rim of, or -1
    within: Flags  # (e,) in a pocket and not on its rim
    pocket_normal: Floats  # (k, 3) of the face with the mouth
    pocket_patch: Ints  # (k,) that face
    pocket_mouth: Ints  # (k,) the facet over the mouth, or -1 where the pocket is not convex
    pocket_low: Floats  # (k, 3) the box of each pocket
    pocket_high: Floats  # (k, 3)
    normals: Floats  # (m, 3) of the triangles
    triangle_patch: Ints  # (m,)
    facet_start: Ints  # (p + 1,) into ``facet_vertices``
    facet_vertices: Ints  # anticlockwise from outside
    facet_normal: Floats  # (p, 3)
    facet_patch: Ints  # (p,)
    facet_curved: Flags  # (p,)
    facet_role: Ints  # (p,) a ``Role``
    bulging: bool  # the whole is convex when its pockets are plugged, and hides none of its own edges
    rounds: Rounds
    patch_surface: tuple[Surface, ...]
    patch_loops: tuple[tuple[Ints, ...], ...]  # outline first
    patch_whole: tuple[tuple[Ints, ...], ...]  # the same with the pockets plugged
    patch_pocket: Ints  # (q,) the pocket it is in, or -1


_kept: OrderedDict[int, tuple[Mesh, Topology]] = OrderedDict()


def topology(mesh: Mesh) -> Topology:
    """Give the topology of a mesh, remembered from one view to the next."""
    key = id(mesh)  # safe: the mesh is kept beside its topology, so that its number is not used again
    if key in _kept:
        _kept.move_to_end(key)
        return _kept[key][1]
    found = _analyse(mesh)
    _kept[key] = (mesh, found)
    if len(_kept) > MOST_KEPT:
        _kept.popitem(last=False)
    return found


def _analyse(mesh: Mesh) -> Topology:
    vertices, triangles, labels = mesh.vertices, mesh.triangles, mesh.labels
    surfaces = mesh.surfaces
    flat = np.array([surface.kind == "plane" for surface in surfaces], dtype=bool)
    normals = _triangle_normals(mesh, flat)
    ends, pairs, twin = _edges(triangles)
    middles = vertices[ends].mean(axis=1)
    both = labels[pairs]
    left = _surface_normals(mesh, flat, both[:, 0], normals[pairs[:, 0]], middles)
    right = _surface_normals(mesh, flat, both[:, 1], normals[pairs[:, 1]], middles)
    feature = (both[:, 0] != both[:, 1]) & (np.einsum("ij,ij->i", left, right) < FEATURE_COSINE)

    opposite = triangles[pairs[:, 1]].sum(axis=1) - ends.sum(axis=1)
    across = vertices[opposite] - vertices[ends[:, 0]]
    convex = np.einsum("ij,ij->i", across, normals[pairs[:, 0]]) < 0.0

    patch = _patches(triangles, labels, twin)
    number = int(patch.max()) + 1 if len(patch) else 0
    patch_label = np.zeros(number, dtype=np.int64)
    patch_label[patch] = labels
    narrow_patch = _narrow(vertices, triangles, patch, number)
    small = np.array([(surface.radius or np.inf) <= SMALL_RADIUS for surface in surfaces], dtype=bool)
    curved = ~flat[both].all(axis=1)
    circle, circles = _circles(mesh, ends, both, feature)
    crease = both.min(axis=1) * len(surfaces) + both.max(axis=1)
    curve = np.where(curved & feature & (circle < 0), crease, -1)

    loops = _patch_loops(vertices, triangles, normals, patch, twin, number)
    found = find_pockets(vertices, triangles, normals, patch, flat[patch_label].tolist(), twin, loops)
    walks = tuple(tuple(triangles.reshape(-1)[walk] for walk in some) for some in loops)
    start, members, triangle, role = _facets(mesh, normals, patch, twin, walks, found)
    pocket_of_patch = np.full(number, -1, dtype=np.int64)
    for index, one in enumerate(found):
        pocket_of_patch[sorted(one.inside)] = index
    beside = pocket_of_patch[patch[pairs]]
    boxes = np.array([_box(vertices, triangles, patch, one) for one in found]).reshape(-1, 2, 3)
    mouths = iter(np.flatnonzero(role == Role.MOUTH).tolist())
    return Topology(
        vertices=vertices,
        edge_ends=ends,
        edge_triangles=pairs,
        feature=feature,
        convex=convex,
        curved=np.asarray(curved),
        small=np.asarray(small[both].any(axis=1)),
        narrow=np.asarray(narrow_patch[patch[pairs]].any(axis=1)),
        circle=circle,
        curve=curve,
        curves=int(curve.max(initial=-1)) + 1,
        circles=circles,
        normals=normals,
        pocket=beside.max(axis=1),
        within=np.asarray((beside >= 0).all(axis=1)),
        pocket_normal=np.array([normals[_some(patch, one.patch)] for one in found]).reshape(-1, 3),
        pocket_patch=np.array([one.patch for one in found], dtype=np.int64),
        pocket_mouth=np.array([next(mouths) if one.convex else -1 for one in found], dtype=np.int64),
        pocket_low=boxes[:, 0],
        pocket_high=boxes[:, 1],
        triangle_patch=patch,
        facet_start=start,
        facet_vertices=members,
        facet_normal=normals[triangle],
        facet_patch=patch[triangle],
        facet_curved=~flat[labels[triangle]],
        facet_role=role,
        bulging=_bulging(vertices, normals[triangle], vertices[members[start[:-1]]], role),
        rounds=find_rounds(mesh, ends, pairs, start, members),
        patch_surface=tuple(surfaces[label] for label in patch_label),
        patch_loops=walks,
        patch_whole=tuple(_whole(some, index, found) for index, some in enumerate(walks)),
        patch_pocket=pocket_of_patch,
    )


def _facets(
    mesh: Mesh,
    normals: Floats,
    patch: Ints,
    twin: Ints,
    loops: Sequence[Sequence[Ints]],
    pockets: Sequence[Pocket],
) -> tuple[Ints, Ints, Ints, Ints]:
    """Give the facets as ``convex_facets`` does, those of plugged faces and mouths last, and their roles."""
    start, members, triangle = convex_facets(mesh.vertices, mesh.triangles, normals, patch, twin)
    holed = sorted({one.patch for one in pockets})
    apart = sorted({*holed, *(k for one in pockets for k in one.inside)})
    roles = [np.where(np.isin(patch[triangle], apart), Role.HOLED, Role.PLAIN)]
    polygons: list[Ints] = []
    owners: list[int] = []
    for index in holed:
        some = _some(patch, index)
        pieces = plugged(mesh.vertices, normals[some], _whole(loops[index], index, pockets))
        polygons += pieces
        owners += [some] * len(pieces)
    roles.append(np.full(len(polygons), Role.PLUGGED))
    convex = [one for one in pockets if one.convex]
    polygons += [one.mouth for one in convex]
    owners += [_some(patch, one.patch) for one in convex]
    roles.append(np.full(len(convex), Role.MOUTH))
    sizes = np.array([len(polygon) for polygon in polygons], dtype=np.int64)
    return (
        np.concatenate([start, start[-1] + np.cumsum(sizes)]),
        np.concatenate([members, *polygons]),
        np.concatenate([triangle, np.array(owners, dtype=np.int64)]),
        np.concatenate(roles).astype(np.int64),
    )


def _whole(loops: Sequence[Ints], index: int, pockets: Sequence[Pocket]) -> tuple[Ints, ...]:
    """Give the loops of a patch less the mouths of its pockets."""
    mouths = {frozenset(one.mouth.tolist()) for one in pockets if one.patch == index}
    return tuple(loop for loop in loops if frozenset(loop.tolist()) not in mouths)


def _bulging(vertices: Floats, normals: Floats, corners: Floats, role: Ints) -> bool:
    """Tell whether no vertex lies before a facet of the plugged whole."""
    chosen = (role == Role.PLAIN) | (role == Role.PLUGGED)
    if int(chosen.sum()) > MOST_BULGING:
        return False
    normals, corners = normals[chosen], corners[chosen]
    height = vertices @ normals.T - (corners * normals).sum(axis=1)
    return bool(height.max(initial=-np.inf) <= BULGE)


def _some(patch: Ints, index: int) -> int:
    """Give a triangle of a patch."""
    return int(np.argmax(patch == index))


def _box(vertices: Floats, triangles: Ints, patch: Ints, pocket: Pocket) -> tuple[Floats, Floats]:
    points = vertices[triangles[np.isin(patch, sorted(pocket.inside))].reshape(-1)]
    return points.min(axis=0), points.max(axis=0)


def _triangle_normals(mesh: Mesh, flat: Flags) -> Floats:
    """Give outward unit normals; a plane's own where there is one, so that slivers cannot mislead."""
    corner = mesh.vertices[mesh.triangles]
    product = np.cross(corner[:, 1] - corner[:, 0], corner[:, 2] - corner[:, 0])
    size = np.linalg.norm(product, axis=1)
    longest = np.linalg.norm(corner - np.roll(corner, 1, axis=1), axis=2).max(axis=1) if len(corner) else size
    normals: Floats = product / np.maximum(size, 1e-300)[:, None]
    for label, surface in enumerate(mesh.surfaces):
        if surface.normal is not None:
            normals[mesh.labels == label] = surface.normal
    slivers = np.flatnonzero((size < FLAT * longest) & ~flat[mesh.labels])
    if len(slivers):
        # A sliver lies between two facets of its surface: the nearest sound triangle stands in for it.
        sound = size >= FLAT * longest
        middle = corner.mean(axis=1)
        for sliver in slivers:
            same = np.flatnonzero(sound & (mesh.labels == mesh.labels[sliver]))
            if len(same):
                normals[sliver] = normals[same[np.argmin(((middle[same] - middle[sliver]) ** 2).sum(axis=1))]]
    return normals


def _edges(triangles: Ints) -> tuple[Ints, Ints, Ints]:
    """Pair half-edges: ends (e, 2), the triangles left and right of each, and each half-edge's twin."""
    tails, heads = triangles.reshape(-1), np.roll(triangles, -1, axis=1).reshape(-1)
    low, high = np.minimum(tails, heads), np.maximum(tails, heads)
    forward = tails < heads
    order = np.lexsort((~forward, high, low))
    # Around an edge that four triangles share, forward and backward half-edges are paired in turn.
    ahead, behind = order[forward[order]], order[~forward[order]]
    if len(ahead) != len(behind) or np.any(low[ahead] != low[behind]) or np.any(high[ahead] != high[behind]):
        raise ValueError("a mesh has to be closed, each edge between two triangles that agree on inside")
    twin = np.empty(len(tails), dtype=np.int64)
    twin[ahead], twin[behind] = behind, ahead
    return (
        np.column_stack([tails[ahead], heads[ahead]]),
        np.column_stack([ahead // 3, behind // 3]),
        twin,
    )


def _surface_normals(mesh: Mesh, flat: Flags, labels: Ints, facing: Floats, points: Floats) -> Floats:
    """Give the true normals of the surfaces at points that lie on them, on the side of ``facing``."""
    result = facing.copy()
    for label in np.unique(labels):
        surface = mesh.surfaces[label]
        rows = np.flatnonzero(labels == label)
        if surface.kind == "cylinder" and surface.axis is not None and surface.centre is not None:
            axis = np.array(surface.axis)
            out = points[rows] - surface.centre
            out -= np.outer(out @ axis, axis)
        elif surface.kind == "swept" and surface.profile and surface.axis is not None:
            out = _profile_normals(surface, points[rows])
        else:
            continue
        out /= np.maximum(np.linalg.norm(out, axis=1), 1e-12)[:, None]
        out *= np.where(np.einsum("ij,ij->i", out, facing[rows]) < 0.0, -1.0, 1.0)[:, None]
        result[rows] = out
    return result


def _profile_normals(surface: Surface, points: Floats) -> Floats:
    """Blend the normals at the ends of the nearest chord of the profile."""
    axis = np.array(surface.axis)
    profile, normals = np.array(surface.profile), np.array(surface.profile_normals)
    begin, chord = profile[:-1], np.diff(profile, axis=0)
    rest = points[:, None, :] - begin[None]
    rest -= (rest @ axis)[..., None] * axis
    share = np.clip((rest * chord).sum(axis=2) / np.maximum((chord**2).sum(axis=1), 1e-12), 0.0, 1.0)
    nearest = ((rest - share[..., None] * chord) ** 2).sum(axis=2).argmin(axis=1)
    part = share[np.arange(len(points)), nearest][:, None]
    blend: Floats = (1.0 - part) * normals[nearest] + part * normals[nearest + 1]
    return blend


def _patches(triangles: Ints, labels: Ints, twin: Ints) -> Ints:
    """Number the connected runs of triangles with one label, by smallest triangle."""
    patch = np.arange(len(triangles), dtype=np.int64)
    one, two = np.arange(len(twin)) // 3, twin // 3
    inside = labels[one] == labels[two]
    one, two = one[inside], two[inside]
    while True:
        least = np.minimum(patch[one], patch[two])
        before = patch.copy()
        np.minimum.at(patch, one, least)
        patch = patch[patch]
        if np.array_equal(before, patch):
            break
    return np.unique(patch, return_inverse=True)[1].astype(np.int64)


def _narrow(vertices: Floats, triangles: Ints, patch: Ints, number: int) -> Flags:
    low, high = np.full((number, 3), np.inf), np.full((number, 3), -np.inf)
    corner = vertices[triangles]
    np.minimum.at(low, patch, corner.min(axis=1))
    np.maximum.at(high, patch, corner.max(axis=1))
    return np.asarray(np.sort(high - low, axis=1)[:, 1] < NARROW)


def _circles(mesh: Mesh, ends: Ints, both: Ints, feature: Flags) -> tuple[Ints, Floats]:
    """Find the edges where a cylinder meets a plane, and their circles or ellipses."""
    circle = np.full(len(ends), -1, dtype=np.int64)
    circles: list[Floats] = []
    round_label = np.array([s.kind == "cylinder" for s in mesh.surfaces], dtype=bool)
    plane_label = np.array([s.kind == "plane" for s in mesh.surfaces], dtype=bool)
    rows = np.flatnonzero(feature & round_label[both].any(axis=1) & plane_label[both].any(axis=1))
    swapped = plane_label[both[rows, 0]]
    keys = np.where(swapped[:, None], both[rows, ::-1], both[rows])  # the cylinder, then the plane
    for key in np.unique(keys, axis=0):
        surface, plane = (mesh.surfaces[label] for label in key.tolist())
        axis, centre, normal = (np.array(item) for item in (surface.axis, surface.centre, plane.normal))
        chosen = rows[(keys == key).all(axis=1)]
        across = np.cross(axis, normal)
        if np.linalg.norm(across) < 1e-9:
            across = np.cross(axis, np.eye(3)[int(np.argmin(np.abs(axis)))])
        across *= float(surface.radius or 0.0) / np.linalg.norm(across)
        steep = float(axis @ normal)
        if abs(steep) < STEEP:
            continue
        middle = centre + ((mesh.vertices[ends[chosen[0], 0]] - centre) @ normal) / steep * axis
        halves = [way - (way @ normal) / steep * axis for way in (across, np.cross(axis, across))]
        circle[chosen] = len(circles)
        circles.append(np.concatenate([middle, *halves]))
    return circle, np.array(circles).reshape(-1, 9)


def _patch_loops(
    vertices: Floats, triangles: Ints, normals: Floats, patch: Ints, twin: Ints, number: int
) -> tuple[tuple[Ints, ...], ...]:
    """Walk the borders of each patch, as half-edges; the loop that encloses most comes first."""
    corner = triangles.reshape(-1)
    own = np.repeat(patch, 3)
    border = own != own[twin]
    left_to_walk = dict.fromkeys(np.flatnonzero(border).tolist())
    inner, twins = (~border).tolist(), twin.tolist()
    loops: list[list[Ints]] = [[] for _ in range(number)]
    while left_to_walk:
        first = next(iter(left_to_walk))
        half, walk = first, []
        while half in left_to_walk:
            del left_to_walk[half]
            walk.append(half)
            half = half - half % 3 + (half + 1) % 3
            while inner[half]:
                half = twins[half]
                half = half - half % 3 + (half + 1) % 3
        loops[own[first]].append(np.array(walk, dtype=np.int64))
    result = []
    some = np.zeros(number, dtype=np.int64)
    some[patch] = np.arange(len(patch))
    for index, found in enumerate(loops):
        if len(found) < 2:
            result.append(tuple(found))
            continue
        normal = normals[some[index]]
        # Twice the enclosed area, with a sign: the outline's is the greatest.
        points = [vertices[corner[walk]] for walk in found]
        sizes = [float(np.cross(loop, np.roll(loop, -1, axis=0)).sum(axis=0) @ normal) for loop in points]
        result.append(tuple(found[k] for k in sorted(range(len(found)), key=lambda k: (-sizes[k], k))))
    return tuple(result)

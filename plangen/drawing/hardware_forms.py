"""Shapes of hardware as meshes and as outlines: boxes and turned pieces in the hardware's own axes."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from math import cos, pi, sin

import numpy as np

from plangen.joinery.hardware.ware import Block, Form, Turned
from plangen.solids.model import Floats, Mesh, Surface

Ring = tuple[tuple[float, float], ...]
_PIECES = 16


@cache
def sweep(outline: tuple[tuple[float, float], ...]) -> Mesh:
    """Sweep (distance, radius) about an axis: the mesh stands along +z.

    Labels: one surface for each stretch of the profile, then the flat ends.
    """
    rings: list[int] = []
    vertices: list[tuple[float, float, float]] = []
    for z, radius in outline:
        rings.append(len(vertices))
        if radius <= 1e-9:
            vertices.append((0.0, 0.0, z))
            continue
        for k in range(_PIECES):
            angle = 2 * pi * k / _PIECES
            vertices.append((radius * cos(angle), radius * sin(angle), z))
    triangles: list[tuple[int, int, int]] = []
    labels: list[int] = []
    surfaces: list[Surface] = []
    axis = (0.0, 0.0, 1.0)
    for number in range(len(outline) - 1):
        (z0, r0), (z1, r1) = outline[number], outline[number + 1]
        if abs(r0 - r1) < 1e-9:
            surfaces.append(Surface("cylinder", axis=axis, centre=(0.0, 0.0, z0), radius=r0))
        elif abs(z0 - z1) < 1e-9:
            surfaces.append(Surface("plane", normal=(0.0, 0.0, 1.0 if r0 > r1 else -1.0)))
        else:
            surfaces.append(Surface("swept", axis=axis))
        for k in range(_PIECES):
            following = (k + 1) % _PIECES
            a, b = rings[number] + k, rings[number] + following
            c, d = rings[number + 1] + k, rings[number + 1] + following
            if r1 <= 1e-9:
                pieces = [(a, b, rings[number + 1])]
            elif r0 <= 1e-9:
                pieces = [(rings[number], d, c)]
            else:
                pieces = [(a, b, d), (a, d, c)]
            triangles += pieces
            labels += [len(surfaces) - 1] * len(pieces)
    for last, normal in ((False, -1.0), (True, 1.0)):
        radius = outline[-1 if last else 0][1]
        if radius <= 1e-9:
            continue
        first = rings[-1 if last else 0]
        surfaces.append(Surface("plane", normal=(0.0, 0.0, normal)))
        for k in range(1, _PIECES - 1):
            fan = (first, first + k, first + k + 1) if last else (first, first + k + 1, first + k)
            triangles.append(fan)
            labels.append(len(surfaces) - 1)
    return Mesh(
        np.array(vertices, dtype=np.float64),
        np.array(triangles, dtype=np.int64),
        np.array(labels, dtype=np.int64),
        tuple(surfaces),
    )


@cache
def mesh_of(forms: tuple[Form, ...]) -> Mesh:
    """Give the shape as one mesh that stands along +z into the wood: x along, z against ``out``."""
    meshes = [_block(form) if isinstance(form, Block) else _turned(form) for form in forms]
    vertices, triangles, labels = [], [], []
    surfaces: list[Surface] = []
    first = 0
    for mesh in meshes:
        vertices.append(mesh.vertices)
        triangles.append(mesh.triangles + first)
        labels.append(mesh.labels + len(surfaces))
        surfaces += mesh.surfaces
        first += len(mesh.vertices)
    return Mesh(np.vstack(vertices), np.vstack(triangles), np.concatenate(labels), tuple(surfaces))


# From (along, over, out) to the mesh's axes: half a turn about its length.
_INTO: Floats = np.diag([1.0, -1.0, -1.0])


def _block(block: Block) -> Mesh:
    low, high = np.array(block.low) @ _INTO, np.array(block.high) @ _INTO
    low, high = np.minimum(low, high), np.maximum(low, high)
    corners = np.array(
        [[(low, high)[(k >> axis) & 1][axis] for axis in range(3)] for k in range(8)], dtype=np.float64
    )
    triangles, labels = [], []
    surfaces: list[Surface] = []
    for axis in range(3):
        for end in (0, 1):
            one, two = 1 << (axis + 1) % 3, 1 << (axis + 2) % 3
            start = end << axis
            ring = [start, start + one, start + one + two, start + two]
            if not end:
                ring.reverse()
            triangles += [(ring[0], ring[1], ring[2]), (ring[0], ring[2], ring[3])]
            labels += [len(surfaces)] * 2
            normal = [0.0, 0.0, 0.0]
            normal[axis] = 1.0 if end else -1.0
            surfaces.append(Surface("plane", normal=(normal[0], normal[1], normal[2])))
    return Mesh(corners, np.array(triangles, np.int64), np.array(labels, np.int64), tuple(surfaces))


def _turned(form: Turned) -> Mesh:
    """Turn the sweep from +z to the axis of the form by moving each axis to the next, then into the wood."""
    mesh = sweep(form.outline)
    columns = np.roll(np.eye(3), form.axis + 1, axis=0)  # z goes to the axis of the form
    turn = _INTO @ columns
    move = _INTO @ np.array(form.at)

    def carried(way: tuple[float, float, float] | None, point: bool) -> tuple[float, float, float] | None:
        if way is None:
            return None
        x, y, z = turn @ np.array(way) + (move if point else 0.0)
        return float(x), float(y), float(z)

    surfaces = tuple(
        Surface(
            one.kind,
            normal=carried(one.normal, False),
            axis=carried(one.axis, False),
            centre=carried(one.centre, True),
            radius=one.radius,
        )
        for one in mesh.surfaces
    )
    return Mesh(mesh.vertices @ turn.T + move, mesh.triangles, mesh.labels, surfaces)


def silhouettes(forms: Sequence[Form]) -> tuple[Ring, ...]:
    """Give the outlines of the forms, lying along x, on the side that shows most of them, nearest last."""
    spread = [_reach(forms, axis) for axis in (1, 2)]
    up = 1 if spread[0] >= spread[1] else 2
    eye = 3 - up
    order = sorted(forms, key=lambda form: _middle(form, eye) * (1 if eye == 2 else -1))
    return tuple(_outline(form, up) for form in order)


def _ends(form: Form, axis: int) -> tuple[float, float]:
    if isinstance(form, Block):
        return form.low[axis], form.high[axis]
    if form.axis == axis:
        return form.at[axis] + form.outline[0][0], form.at[axis] + form.outline[-1][0]
    radius = max(radius for _, radius in form.outline)
    return form.at[axis] - radius, form.at[axis] + radius


def _middle(form: Form, axis: int) -> float:
    low, high = _ends(form, axis)
    return (low + high) / 2


def _reach(forms: Sequence[Form], axis: int) -> float:
    ends = [_ends(form, axis) for form in forms]
    return max(high for _, high in ends) - min(low for low, _ in ends)


def _outline(form: Form, up: int) -> Ring:
    if isinstance(form, Turned):
        x, y = form.at[0], form.at[up]
        if form.axis == 0:
            upper = [(x + along, y + radius) for along, radius in form.outline]
            return (*upper, *((x + along, y - radius) for along, radius in reversed(form.outline)))
        if form.axis == up:
            right = [(x + radius, y + along) for along, radius in form.outline]
            return (*right, *((x - radius, y + along) for along, radius in reversed(form.outline)))
        radius = max(radius for _, radius in form.outline)
        return tuple(
            (x + radius * cos(2 * pi * k / 48), y + radius * sin(2 * pi * k / 48)) for k in range(48)
        )
    (x0, x1), (y0, y1) = _ends(form, 0), _ends(form, up)
    return ((x0, y0), (x1, y0), (x1, y1), (x0, y1))

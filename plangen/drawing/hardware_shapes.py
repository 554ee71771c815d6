"""Hardware as simple turned shapes: the profile from head to tip, and the mesh it sweeps.

The shapes show what to hold yours against; threads are hatched, not modelled. Shares of the length and
the like are common practice, no source; the head of a flat screw tapers at 82 degrees included
(ASME B18.6.1, as remembered).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from math import cos, pi, radians, sin, tan

import numpy as np

from plangen.design.model import Hardware
from plangen.joinery.space import Side
from plangen.solids.model import Floats, Mesh, Surface

FLAT_HEAD_ANGLE = 82.0  # degrees included
_PIECES = 16


@dataclass(frozen=True, slots=True)
class Profile:
    """A turned shape: (distance from the head's seat toward the tip, radius) in millimetres.

    Negative distances stand proud of the seat. ``thread`` is the stretch that is threaded.
    """

    outline: tuple[tuple[float, float], ...]
    thread: tuple[float, float] | None = None
    screw: bool = False

    @property
    def low(self) -> float:
        """Where the head begins."""
        return self.outline[0][0]

    @property
    def high(self) -> float:
        """Where the tip ends."""
        return self.outline[-1][0]

    @property
    def radius(self) -> float:
        """The largest radius."""
        return max(radius for _, radius in self.outline)


def profile(item: Hardware) -> Profile | None:
    """Give the profile of a piece of hardware; None where its kind is not turned or its size is not known."""
    if item.length is None or item.diameter is None:
        return None
    length, radius = float(item.length), float(item.diameter) / 2
    kind = item.kind.lower()
    if "screw" in kind or "bolt" in kind:
        return _screw(item, length, radius, pointed="screw" in kind)
    if "dowel" in kind:
        bevel = min(radius * 0.4, length / 8)
        return Profile(
            ((0.0, radius - bevel), (bevel, radius), (length - bevel, radius), (length, radius - bevel))
        )
    if "peg" in kind or "knob" in kind:
        head = float(item.head_diameter) / 2 if item.head_diameter is not None else radius * 1.9
        neck = radius * 0.8
        return Profile(
            (
                (-length, head * 0.55),
                (-length * 0.93, head),
                (-length * 0.82, head),
                (-length * 0.72, neck),
                (-length * 0.4, neck),
                (0.0, radius * 1.15),
            )
        )
    if any(word in kind for word in ("plug", "pin", "bush", "leveler", "tube", "rod")):
        return Profile(((0.0, radius), (length, radius)))
    return None


def _screw(item: Hardware, length: float, radius: float, *, pointed: bool) -> Profile:
    head = float(item.head_diameter) / 2 if item.head_diameter is not None else radius * 2
    point = min(length * 0.2, radius * 4) if pointed else 0.0
    shaft = length - point
    thread = (length * 0.36, length - point * 0.3)
    tail = ((shaft, radius), (length, 0.0)) if pointed else ((length, radius),)
    style = item.head.lower()
    if style in ("", "flat", "countersunk", "oval", "trim", "bugle"):
        taper = min((head - radius) / tan(radians(FLAT_HEAD_ANGLE / 2)), length / 3)
        return Profile(((0.0, head), (taper, radius), *tail), thread, screw=True)
    if style in ("hex", "hexagon", "socket", "square"):
        return Profile(((-radius * 1.3, head), (0.0, head), (0.0, radius), *tail), thread, screw=True)
    rise = head * (0.55 if style in ("pan", "washer", "truss") else 0.8)
    dome = tuple(
        (-rise * sin(pi / 2 * (1 - k / 4)), head * sin(pi / 2 * (0.35 + 0.65 * k / 4))) for k in range(5)
    )
    return Profile((*dome[:-1], (0.0, head), (0.0, radius), *tail), thread, screw=True)


@cache
def turned(shape: Profile) -> Mesh:
    """Sweep the profile about its axis: the mesh stands along +z, the seat of the head at the origin.

    Labels: one surface for each stretch of the profile, then the flat ends.
    """
    rings: list[int] = []
    vertices: list[tuple[float, float, float]] = []
    for z, radius in shape.outline:
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
    for number in range(len(shape.outline) - 1):
        (z0, r0), (z1, r1) = shape.outline[number], shape.outline[number + 1]
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
        radius = shape.outline[-1 if last else 0][1]
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


def pose(side: Side, head: tuple[float, float, float], out: float = 0.0) -> tuple[Floats, Floats]:
    """Give turn and move that carry a turned shape to a spot: it enters through ``side``, head at ``head``.

    ``out`` draws it that far (mm) out of the work.
    """
    into = np.zeros(3)
    into[side.axis.value] = -side.sign
    first = np.zeros(3)
    first[(side.axis.value + 1) % 3] = 1.0
    second = np.cross(into, first)
    turn = np.column_stack([first, second, into])
    return turn.astype(np.float64), np.asarray(head, dtype=np.float64) - into * out

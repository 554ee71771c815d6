"""Hardware as simple turned shapes: the profile from head to tip, and the mesh it sweeps.

The shapes show what to hold yours against; threads are hatched, not modelled. Shares of the length and
the like are common practice, no source; the head of a flat screw tapers at 82 degrees included
(ASME B18.6.1, as remembered).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from math import pi, radians, sin, tan

import numpy as np

from plangen.design.model import Hardware
from plangen.drawing.hardware_forms import mesh_of, sweep
from plangen.joinery.space import Axis, Side
from plangen.solids.model import Floats, Mesh

FLAT_HEAD_ANGLE = 82.0  # degrees included


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
    if item.length is None or item.diameter is None or (item.ware is not None and item.ware.shape):
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
        # A peg is listed by its stem, a knob by its own width.
        head = float(item.head_diameter) / 2 if item.head_diameter is not None else radius * 1.9
        if "knob" in kind:
            head, radius = radius, radius * 0.55
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


@dataclass(frozen=True, slots=True)
class Solid:
    """What a picture shows of a piece of hardware: its mesh, and how far it reaches along its way in."""

    mesh: Mesh
    low: float
    high: float


def solid(item: Hardware) -> Solid | None:
    """Give the shape of a piece of hardware, turned or of its kind; None where it is not known."""
    shape = profile(item)
    if shape is not None:
        return Solid(turned(shape), shape.low, shape.high)
    if item.ware is None or not item.ware.shape:
        return None
    mesh = mesh_of(item.ware.shape)
    reach = mesh.vertices[:, 2]
    return Solid(mesh, float(reach.min()), float(reach.max()))


def _screw(item: Hardware, length: float, radius: float, *, pointed: bool) -> Profile:
    head = float(item.head_diameter) / 2 if item.head_diameter is not None else radius * 2
    point = min(length * 0.2, radius * 4) if pointed else 0.0
    shaft = length - point
    thread = (length * 0.36, length - point * 0.3)
    tail = ((shaft, radius), (length, 0.0)) if pointed else ((length, radius),)
    style = item.head.lower() or ("" if pointed else "hex")  # a bolt's usual head
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
    """Sweep the profile about its axis: the mesh stands along +z, the seat of the head at the origin."""
    return sweep(shape.outline)


def pose(
    side: Side, head: tuple[float, float, float], out: float = 0.0, along: Axis | None = None
) -> tuple[Floats, Floats]:
    """Give turn and move that carry a shape to a spot: it enters through ``side``, head at ``head``.

    ``out`` draws it that far (mm) out of the work; ``along`` is the way its own length lies.
    """
    into = np.zeros(3)
    into[side.axis.value] = -side.sign
    first = np.zeros(3)
    first[along.value if along is not None else (side.axis.value + 1) % 3] = 1.0
    second = np.cross(into, first)
    turn = np.column_stack([first, second, into])
    return turn.astype(np.float64), np.asarray(head, dtype=np.float64) - into * out

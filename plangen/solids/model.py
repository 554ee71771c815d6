"""The records of solids: labelled triangle meshes. Dimensions never come from these."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal, TypeAlias

import numpy as np
from numpy.typing import NDArray

Floats: TypeAlias = NDArray[np.float64]
Ints: TypeAlias = NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class Surface:
    """What one label of a mesh stands for, in the part's own frame, millimetres.

    The normal of a plane points out of the part. A cylinder is ``hollow`` where the part lies
    outside it (a hole). ``profile`` holds points along a swept curve and ``profile_normals`` the
    curve's true unit normals there, out of the part.
    """

    kind: Literal["plane", "cylinder", "swept"]
    normal: tuple[float, float, float] | None = None  # plane
    axis: tuple[float, float, float] | None = None  # cylinder, swept
    centre: tuple[float, float, float] | None = None  # cylinder
    radius: float | None = None  # cylinder
    hollow: bool = False  # cylinder
    offset: float | None = None  # plane: its distance from the origin along the normal
    profile: tuple[tuple[float, float, float], ...] = ()  # swept
    profile_normals: tuple[tuple[float, float, float], ...] = ()  # swept


@dataclass(frozen=True, slots=True)
class Mesh:
    """A closed mesh in a part's own frame, millimetres; ``labels`` indexes ``surfaces`` by triangle."""

    vertices: Floats  # (n, 3)
    triangles: Ints  # (m, 3), anticlockwise from outside
    labels: Ints  # (m,)
    surfaces: tuple[Surface, ...]


@dataclass(frozen=True, slots=True)
class PartSolid:
    """The solid of one part, in its own frame."""

    part: str  # key
    mesh: Mesh
    volume: float  # mm3
    body: Any  # the library's own solid, for intersections


@dataclass(frozen=True, slots=True)
class Interference:
    """Two copies that take the same room; ``low`` and ``high`` bound that room in the frame, mm."""

    one: str
    two: str
    volume: float  # mm3
    low: tuple[float, float, float] = (0.0, 0.0, 0.0)
    high: tuple[float, float, float] = (0.0, 0.0, 0.0)

    @property
    def depth(self) -> float:
        """How deep they overlap: the least extent of the common room, mm."""
        return min(high - low for low, high in zip(self.low, self.high, strict=True))


@dataclass(frozen=True)
class Solids:
    """The solid of every part by its key."""

    parts: Mapping[str, PartSolid]

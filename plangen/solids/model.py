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
    """What one label of a mesh stands for; normals point out of the solid that made it."""

    kind: Literal["plane", "cylinder", "swept"]
    normal: tuple[float, float, float] | None = None  # plane
    axis: tuple[float, float, float] | None = None  # cylinder, swept
    centre: tuple[float, float, float] | None = None  # cylinder
    radius: float | None = None  # cylinder


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
    """Two copies that take the same room."""

    one: str
    two: str
    volume: float  # mm3


@dataclass(frozen=True)
class Solids:
    """The solid of every part by its key."""

    parts: Mapping[str, PartSolid]

"""What goes into a projection and what comes out of it. Bodies and views only: no furniture here."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

from plangen.drawing.sheet.model import Arc
from plangen.solids.model import Floats, Mesh

Xy: TypeAlias = tuple[float, float]
EdgeKind: TypeAlias = Literal["edge", "silhouette", "rim"]


@dataclass(frozen=True, eq=False, slots=True)
class Body:
    """A mesh placed in the frame: ``frame = turn @ point + move``; ``turn`` (3, 3), ``move`` (3,), mm."""

    mesh: Mesh
    turn: Floats
    move: Floats
    tag: str


@dataclass(frozen=True, slots=True)
class Edge:
    """A line of a picture: a polyline in mm at full size, closed where its last point is its first.

    Where it is a piece of a circle or an ellipse, ``arc`` is exact and the points follow it.

    ``edge``: two faces meet; ``silhouette``: a round surface turns away; ``rim``: the edge of a
    small hole, or between two visible faces one of which is narrow, where a wide line would clog.
    """

    points: tuple[Xy, ...]
    tag: str
    kind: EdgeKind
    arc: Arc | None = None


@dataclass(frozen=True, slots=True)
class Projection:
    """The lines of one view: those that are seen, and (when asked for) those that are not.

    No line is drawn twice: a hidden one stops where it would lie under a visible one.
    """

    visible: tuple[Edge, ...]
    hidden: tuple[Edge, ...] = ()


@dataclass(frozen=True, slots=True)
class VisibleFace:
    """The part of one face that is seen: loops (outer, then holes; even-odd) in mm at full size.

    ``normal`` is a unit vector in frame coordinates: the plane's own, or the mean over the facets
    of a round or swept face that look to the viewer.
    """

    tag: str
    loops: tuple[tuple[Xy, ...], ...]
    normal: tuple[float, float, float]
    surface: Literal["plane", "cylinder", "swept"]

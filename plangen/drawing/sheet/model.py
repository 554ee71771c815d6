"""The records of a drawing. Origin at the low left, y upward, millimetres on the paper."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from enum import Enum
from math import cos, sin, tau
from typing import Literal, TypeAlias

Xy: TypeAlias = tuple[float, float]
Standard: TypeAlias = Literal["iso", "asme"]  # whose lines a drawing is written with: ISO 128, ASME Y14.2


class Meaning(Enum):
    """What a line means; ``sheet.look`` says how wide it is and how it is broken."""

    VISIBLE = "visible"  # edges that are seen
    HIDDEN = "hidden"  # edges that are not
    RIM = "rim"  # edges of small holes and notches, where the wide line would clog
    CONTEXT = "context"  # edges of pieces that were there before
    PHANTOM = "phantom"  # where a piece that moves stands in another position
    CENTRE = "centre"
    DIMENSION = "dimension"
    EXTENSION = "extension"
    LEADER = "leader"
    FLOW = "flow"  # the way a piece goes in; this dash is used for nothing else
    CUT = "cut"  # a saw cut or a cutting plane
    HAND_CUT = "cut by hand"  # a saw cut along a rail, where the piece is too large for the saw bench
    KEEP = "keep"  # the frame of an off-cut that is kept
    CUTTING_PLANE = "cutting plane"  # the ends of the line along which a section is cut
    HATCH = "hatch"
    FRAME = "frame"
    RULE = "rule"  # wide rule over a block
    HAIR = "hair"  # thin rule under a row
    BALLOON = "balloon"
    BALLOON_NEW = "balloon new"


class Tone(Enum):
    """What a fill or a text is tinted for; ``sheet.look`` has the values."""

    INK = "ink"
    SECONDARY = "secondary"
    PAPER = "paper"
    NEW_TOP = "new top"
    NEW_FRONT = "new front"
    NEW_SIDE = "new side"
    PLAIN_TOP = "plain top"
    PLAIN_FRONT = "plain front"
    PLAIN_SIDE = "plain side"
    COVER_TOP = "cover top"
    COVER_FRONT = "cover front"
    COVER_SIDE = "cover side"
    SHADOW = "shadow"
    WASTE = "waste"
    STOCK = "stock"
    BLACK_DISC = "black disc"


class Weight(Enum):
    """The weight of a text."""

    REGULAR = "regular"
    SEMIBOLD = "semibold"
    BOLD = "bold"


@dataclass(frozen=True, slots=True)
class Arc:
    """A piece of a circle or an ellipse, or all of one, as three points and two angles.

    The point at angle t (radians) is ``centre + cos t · (major - centre) + sin t · (minor - centre)``; the
    arc runs from ``start`` up to ``end``, never more than a full turn. Any move or turn of the three points
    carries it, and a scaling or a look from aslant too.
    """

    centre: Xy
    major: Xy
    minor: Xy
    start: float = 0.0
    end: float = tau

    def at(self, angle: float) -> Xy:
        """Give the point at an angle in radians."""
        c, s = cos(angle), sin(angle)
        (x, y), (ax, ay), (bx, by) = self.centre, self.major, self.minor
        return (x + c * (ax - x) + s * (bx - x), y + c * (ay - y) + s * (by - y))


@dataclass(frozen=True, slots=True)
class Stroke:
    """A line through points; where it is an arc, the points follow it closely and ``arc`` is exact.

    ``group`` names the ``Group`` of the drawing that it belongs to.
    """

    points: tuple[Xy, ...]
    meaning: Meaning
    closed: bool = False
    arc: Arc | None = None
    group: str = ""


@dataclass(frozen=True, slots=True)
class Fill:
    """An area: outer loop, then holes (even-odd)."""

    loops: tuple[tuple[Xy, ...], ...]
    tone: Tone
    group: str = ""


@dataclass(frozen=True, slots=True)
class Text:
    """A run of text with its baseline at ``at``; ``size`` is the type size in millimetres.

    Fractions are typed ``3 13/16`` with a no-break space; the writers set them as fractions.
    """

    at: Xy
    text: str
    size: float
    anchor: Literal["start", "middle", "end"] = "start"
    weight: Weight = Weight.REGULAR
    tone: Tone = Tone.INK
    angle: float = 0.0  # degrees anticlockwise
    role: str = ""  # what it says, for tests: "dimension", "balloon", "note", "title"
    group: str = ""


@dataclass(frozen=True, slots=True)
class Link:
    """A rectangle (low corner, high corner) that leads to a named place in the booklet."""

    low: Xy
    high: Xy
    target: str


Mark: TypeAlias = Stroke | Fill | Text | Link


@dataclass(frozen=True, slots=True)
class Group:
    """Marks that say one thing together, such as a dimension; a written file keeps them together.

    ``data`` are names and values for whoever reads the file by program, such as what a dimension measures.
    """

    key: str  # unique in its drawing
    kind: str  # "dimension", "feature", "view", …
    title: str = ""
    data: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class Drawing:
    """A finished drawing: painted in order, each mark over those before it."""

    width: float
    height: float
    marks: tuple[Mark, ...]
    title: str = ""
    description: str = ""  # what a reader who cannot see it has to know
    groups: tuple[Group, ...] = ()
    standard: Standard = "iso"

    def moved(self, dx: float, dy: float) -> tuple[Mark, ...]:
        """The marks, moved, to be painted into a larger drawing."""
        return tuple(carried(mark, lambda p: (p[0] + dx, p[1] + dy)) for mark in self.marks)


def carried(mark: Mark, move: Callable[[Xy], Xy]) -> Mark:
    """Give the mark with every point moved."""
    if isinstance(mark, Stroke):
        arc = mark.arc and replace(
            mark.arc, centre=move(mark.arc.centre), major=move(mark.arc.major), minor=move(mark.arc.minor)
        )
        return replace(mark, points=tuple(move(p) for p in mark.points), arc=arc)
    if isinstance(mark, Fill):
        return replace(mark, loops=tuple(tuple(move(p) for p in loop) for loop in mark.loops))
    if isinstance(mark, Text):
        return replace(mark, at=move(mark.at))
    return replace(mark, low=move(mark.low), high=move(mark.high))

"""The records of a drawing. Origin at the low left, y upward, millimetres on the paper."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from enum import Enum
from typing import Literal, TypeAlias

Xy: TypeAlias = tuple[float, float]


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
class Stroke:
    """A line through points."""

    points: tuple[Xy, ...]
    meaning: Meaning
    closed: bool = False


@dataclass(frozen=True, slots=True)
class Fill:
    """An area: outer loop, then holes (even-odd)."""

    loops: tuple[tuple[Xy, ...], ...]
    tone: Tone


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


@dataclass(frozen=True, slots=True)
class Link:
    """A rectangle (low corner, high corner) that leads to a named place in the booklet."""

    low: Xy
    high: Xy
    target: str


Mark: TypeAlias = Stroke | Fill | Text | Link


@dataclass(frozen=True, slots=True)
class Drawing:
    """A finished drawing: painted in order, each mark over those before it."""

    width: float
    height: float
    marks: tuple[Mark, ...]
    title: str = ""
    description: str = ""  # what a reader who cannot see it has to know

    def moved(self, dx: float, dy: float) -> tuple[Mark, ...]:
        """The marks, moved, to be painted into a larger drawing."""
        return tuple(carried(mark, lambda p: (p[0] + dx, p[1] + dy)) for mark in self.marks)


def carried(mark: Mark, move: Callable[[Xy], Xy]) -> Mark:
    """Give the mark with every point moved."""
    if isinstance(mark, Stroke):
        return replace(mark, points=tuple(move(p) for p in mark.points))
    if isinstance(mark, Fill):
        return replace(mark, loops=tuple(tuple(move(p) for p in loop) for loop in mark.loops))
    if isinstance(mark, Text):
        return replace(mark, at=move(mark.at))
    return replace(mark, low=move(mark.low), high=move(mark.high))

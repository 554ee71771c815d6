"""The record of one operation worked on a part: what goes, where it is, how it is cut and said."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import Enum

from plangen.findings import Place
from plangen.joinery.cuts import Cut
from plangen.joinery.space import Axis, Direction, Point, Side
from plangen.units import Length, Phrase


class Form(Enum):
    """What the drawing has to show of a feature."""

    SLOT = "slot"  # a box cut: located and sized along every axis where it does not run through
    HOLE = "hole"  # a round hole: its centre located; diameter, depth and counterbore noted
    EDGE = "edge"  # a chamfer or round-over along an edge: a note with its size
    OUTLINE = "outline"  # a curve, taper, notch or mitre: its corners located, its radii noted
    PLANE = "plane"  # a saw cut that leans two ways: located at a corner, its two saw settings noted
    ROUND = "round"  # a stretch made round: located along its length, its diameter noted
    MARK = "mark"  # a place marked on a face: located like a hole's centre, what comes there noted


class Group(Enum):
    """Where in the order of work an operation stands; the first group is worked first.

    Joints come first, while ends and edges are square to measure from; then holes; then the shapes
    that leave nothing square, of these last what is routed to a pattern; edges last. Common
    practice, no source.
    """

    JOINTS = 0
    HOLES = 1
    SHAPES = 2
    PATTERN = 3
    EDGES = 4


@dataclass(frozen=True, slots=True)
class Span:
    """From low to high along one axis, in the part's own frame; equal for a centre."""

    low: Length
    high: Length


@dataclass(frozen=True, slots=True)
class Repeat:
    """A row: ``number`` of the same, ``pitch`` apart along ``axis`` from the feature's own place upward."""

    axis: Axis
    number: int
    pitch: Length


@dataclass(frozen=True, slots=True)
class Corner:
    """A point of an outline that has to be located, as the two coordinates of the outline's plane.

    ``radius`` is given where an arc starts or ends there; ``note`` says what it is when needed.
    """

    at: tuple[Length, Length]
    radius: Length | None = None


@dataclass(frozen=True, slots=True)
class Feature:
    """Something that the part's drawing has to locate and size.

    ``side`` is where the tool enters: the feature shows its true shape when looked at from there.
    ``spans`` holds the extent along each axis; for a hole the lateral spans are the centre. For a
    round stretch ``side`` is one of its ends, and the other spans are those of its diameter.
    ``datum`` names the sides it is measured from (at most one per axis); where an axis is left
    out, the drawing chooses. ``note`` is printed at a leader where the form needs one.
    """

    form: Form
    side: Side
    spans: tuple[tuple[Axis, Span], ...]
    datum: tuple[Side, ...] = ()
    diameter: Length | None = None
    depth: Length | None = None  # None: through
    counterbore: tuple[Length, Length] | None = None  # diameter, depth
    countersink: bool = False
    repeat: tuple[Repeat, ...] = ()
    corners: tuple[Corner, ...] = ()
    radii: tuple[Length, ...] = ()
    angle_degrees: float | None = None
    note: Phrase = field(default_factory=Phrase)
    plugged: bool = False
    way: Direction | None = None  # a hole bored at an angle: into the wood; a plane: out of the wood

    def span(self, axis: Axis) -> Span:
        """The extent along an axis."""
        return dict(self.spans)[axis]


@dataclass(frozen=True, slots=True)
class Added:
    """Material glued on a side: edge banding. The finished size of the part counts it.

    ``item`` names what it is: a row under ``stock`` or ``hardware``.
    """

    side: Side
    thickness: Length
    item: str


@dataclass(frozen=True, slots=True)
class Operation:
    """One operation on one part, in the part's own frame.

    ``key`` tells equal operations from different ones and orders them: (kind, numbers). ``title``
    is the trade's noun ("Dado"), ``say`` one instruction for the drafted step, ``tools`` what it
    needs, ``cautions`` keys into the handbook's safety texts, ``joint`` the joint that asked for it.
    ``group`` is its place in the order of work, where that is not its kind's. ``seats`` are the
    origins of the pieces of hardware that it is worked for, on the face ``side``.
    """

    kind: str
    title: str
    side: Side
    cuts: tuple[Cut, ...]
    features: tuple[Feature, ...]
    say: Phrase
    tools: tuple[Phrase, ...] = ()
    cautions: tuple[str, ...] = ()
    joint: str | None = None
    place: Place | None = None
    adds: tuple[Added, ...] = ()
    group: Group | None = None
    seats: tuple[Point, ...] = ()

"""What every kind of joint shares: the keys a maker may always type, how pieces meet, what comes of it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any, Literal

from plangen.expressions import Entry, Expression, Name, Text, Whole, Words, YesNo
from plangen.joinery.kinds import Say
from plangen.joinery.operation import Operation, Span
from plangen.joinery.piece import Bench, Piece
from plangen.joinery.space import Axis, Box, Direction, Point, Side
from plangen.units import ZERO, Length, Phrase, phrase


class JointBody(Entry):
    """Keys of every joint."""

    name: Name | None = None
    glue: Words | None = None
    contacts: Whole | None = None
    apart: YesNo | None = None


@dataclass(frozen=True, slots=True)
class Slope:
    """Where a piece that leans meets another, or is met: everything as ``one`` stands upright.

    ``mouth`` is where the centre line of ``two`` comes to the face of ``one``, ``way`` its unit
    direction from there into ``one``. ``end`` is the end of ``two``, upright, that meets, and
    ``stands_off`` how far the middle of its shoulder stays away so that its edges just touch.
    ``face`` is the unit normal of that face of ``one``, out of ``one``, as ``two`` stands upright, and
    ``tip`` the mouth seen so too.
    """

    mouth: Point
    way: Direction
    end: Side
    stands_off: Length
    face: Direction
    tip: Point


@dataclass(frozen=True, slots=True)
class Meeting:
    """Two pieces that touch (or overlap) in the frame.

    ``one`` takes the cut or the screw's head, ``two`` enters it; ``side`` is the side of ``one``
    that ``two`` touches and ``rect`` the touching area of the shoulders, flat along that side. Where
    they overlap, ``rect`` is the common box. ``housing`` is how deep another joint has already let
    ``two`` into ``one`` here; ``ledge`` says that ``rect`` lies in the depth of a rabbet.
    """

    one: Piece
    two: Piece
    side: Side
    rect: Box
    housing: Length = ZERO
    ledge: bool = False
    slope: Slope | None = None

    @property
    def end(self) -> Side:
        """The side of ``two`` that meets."""
        return self.slope.end if self.slope is not None else self.side.opposite

    @property
    def lateral(self) -> tuple[Axis, Axis]:
        """The two axes of the touching face, the longer first."""
        axes = [axis for axis in Axis if axis is not self.side.axis]
        axes.sort(key=lambda axis: (-self.rect.size(axis).mm, axis.value))
        return axes[0], axes[1]

    @property
    def area(self) -> Fraction:
        """The touching area in mm2."""
        first, second = self.lateral
        return self.rect.size(first).mm * self.rect.size(second).mm


@dataclass(frozen=True, slots=True)
class Moves:
    """How a joint lets the second piece, and all that is fixed to it, move against the first.

    It turns about the line through ``point`` along ``side`` (anticlockwise when ``side`` points at
    the eye), by at most ``most`` degrees; or it slides toward ``side`` by at most ``most``
    millimetres. ``None``: as far as nothing is in the way.
    """

    kind: Literal["turns", "slides"]
    point: Point
    side: Side
    most: Fraction | None = None


@dataclass(frozen=True, slots=True)
class Spot:
    """Where one fastener goes: the copy it enters first, the middle of its head end, the side it enters."""

    copy: str
    at: tuple[float, float, float]
    side: Side


@dataclass(frozen=True, slots=True)
class Expansion:
    """What a joint does where two pieces meet; operations are in the frame.

    ``first`` and ``then`` say what is done before and after what its kind always says of putting it
    together: sentences.
    """

    on_one: tuple[Operation, ...] = ()
    on_two: tuple[Operation, ...] = ()
    closes: Side | None = None
    hardware: tuple[tuple[str, tuple[Spot, ...]], ...] = ()
    glue_area: Fraction = Fraction(0)
    tools: tuple[Phrase, ...] = ()
    moves: Moves | None = None
    then: tuple[Phrase, ...] = ()
    first: tuple[Phrase, ...] = ()


Reach = Callable[[Any, Piece, Piece, Bench], Length]


def no_reach(_entry: Any, _one: Piece, _two: Piece, _bench: Bench) -> Length:
    """Say that the joint adds nothing to either piece."""
    return ZERO


@dataclass(frozen=True, slots=True)
class JointKind:
    """One kind of joint.

    ``one`` and ``two`` read the names of the two roles from the entry. ``reach`` is what the joint
    adds to ``two`` at the meeting end. ``claims`` says that it fixes where the two pieces are, so
    that only one such joint may have a contact; a fastening may come on top. ``say`` tells how the
    joint is put together. ``clearance`` is the gap that its hardware bridges: the two faces stand
    that far apart and face each other (a slide, a hinge). ``comes_apart``: never glued, to be taken
    apart. ``slopes``: it can join pieces that lean against each other (``Meeting.slope``). ``says`` has
    the sentence of each kind of operation that only this joint makes, in the order of work. ``picks``
    keeps, of the pairs that meet, those in which the first takes the first role; None keeps them all.

    For the order of work: ``verb`` begins the heading of the step that closes it; without one it is
    glued or fitted; ``heading`` is all of it, with ``{pieces}`` for what comes in. ``lies``: its pieces
    only lie against each other, so that it can be closed after both are in place. ``rests``: nothing
    holds them. ``faces``: plain faces are glued, which have to be named. ``last``: it is closed when all
    that stands still is together. ``tight``: its fasteners draw it shut, or it is driven home, without
    clamps. ``spreads``: its sentence says where the glue goes. ``enters`` is what the second piece goes
    into, where that is not called as the joint is. ``headings`` has, for kinds of operation that this
    joint cuts, the heading of the work, as `OperationKind.heading`.
    """

    name: str
    title: str
    entry: type[JointBody]
    one: Callable[[Any], tuple[Text, ...]]
    two: Callable[[Any], tuple[Text, ...]]
    expand: Callable[[Any, Meeting, Bench], Expansion]
    say: Phrase
    reach: Reach = no_reach
    overlaps: bool = False
    symmetric: bool = False
    claims: bool = True
    fastens: bool = False
    glued: bool = True  # glued unless the maker says otherwise
    cautions: tuple[str, ...] = ()
    clearance: Callable[[Any, Bench], Length] | None = None
    comes_apart: bool = False
    slopes: bool = False
    says: Mapping[str, Say] = field(default_factory=dict)
    picks: Callable[[Any, Meeting], bool] | None = None
    verb: str = ""
    heading: str = ""
    lies: bool = False
    rests: bool = False
    faces: bool = False
    last: bool = False
    tight: bool = False
    spreads: bool = False
    enters: str = ""
    headings: Mapping[str, str] = field(default_factory=dict)

    @property
    def adds(self) -> bool:
        """Whether it may add to the entering piece."""
        return self.reach is not no_reach


def spans_of(box: Box) -> tuple[tuple[Axis, Span], ...]:
    """The extent of a box along each axis."""
    return tuple((axis, Span(box.low.at(axis), box.high.at(axis))) for axis in Axis)


def hole_spans(mouth: Point, side: Side, depth: Length) -> tuple[tuple[Axis, Span], ...]:
    """The extent of a hole: its centre sideways, from mouth to floor along its axis."""
    at, floor = mouth.at(side.axis), mouth.at(side.axis) - depth * side.sign
    sideways = {axis: Span(mouth.at(axis), mouth.at(axis)) for axis in Axis}
    sideways[side.axis] = Span(min(at, floor), max(at, floor))
    return tuple(sideways.items())


def between(entry: Any, which: int) -> tuple[Text, ...]:
    """The first (0) or second (1) of the two that a joint is ``between``."""
    names = entry.between
    return (names[which],) if len(names) > which else ()


def sides_said(
    values: dict[Text, Expression] | None,
    piece: Piece,
    allowed: tuple[Side, ...],
    key: str,
    entry: JointBody,
    bench: Bench,
) -> dict[Side, Length] | None:
    """Lengths typed for sides of a piece, such as ``stopped: {front: 1/2in}``.

    None, with a finding, where a word names none of the ``allowed`` sides or a length is below zero.
    """
    found: dict[Side, Length] = {}
    for word, expression in (values or {}).items():
        side = piece.face(str(word))
        if side is None or side not in allowed or side in found:
            bench.findings.error(
                "wrong-side",
                f"`{key}` of {piece.copy} cannot name `{word}` here",
                word.place,
                f"the sides are {' and '.join(one.word for one in allowed)}, each once",
                part=piece.part,
            )
            return None
        found[side] = expression.length(bench.scope)
        if found[side] < ZERO:
            bench.findings.error(
                "bad-value",
                f"`{key}` at the {side.word} is below zero",
                expression.place,
                "give a length of zero or more",
                part=piece.part,
            )
            return None
    return found


def gap_fits(gap: Length, most: Length, entry: JointBody, bench: Bench) -> bool:
    """Report a gap that is below zero, or takes all of the depth that the piece should enter."""
    if ZERO <= gap < most:
        return True
    bench.findings.error(
        "bad-gap",
        "the gap lies between zero and the depth",
        entry.place_of("gap"),
        "leave `gap` out for none",
    )
    return False


def metric(bench: Bench) -> bool:
    """Whether the project is worked in millimetres."""
    return bench.units == "mm"


def plain(text: str) -> Phrase:
    """Give words without a length as a phrase."""
    return phrase(text)

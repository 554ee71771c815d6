"""Holes that meet inside one part, and holes that run into another joint's mortise or housing."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations, islice, product
from typing import TypeAlias

import manifold3d

from plangen.checks.frame import called, printed
from plangen.design.model import Design, Part
from plangen.findings import Findings, Place, Severity
from plangen.findings.model import Finding
from plangen.joinery.cuts import BoreCut, Cut, RoundCut
from plangen.joinery.operation import Form, Operation
from plangen.joinery.space import Axis, Side
from plangen.solids import Solids
from plangen.solids.cutters import blank_solid, cutter
from plangen.solids.labels import Labels
from plangen.units import ZERO, Length

_Hole: TypeAlias = RoundCut | BoreCut
_Xyz: TypeAlias = tuple[float, float, float]

MOST_TOLD = 50  # crossings of one part; by then the maker knows, and each is cut to be sure
LEAST_COMMON = 1.0  # mm3 that two cuts have to share; less is a touch of rounded faces


def holes_keep_apart(design: Design, solids: Solids, findings: Findings) -> None:
    """Add ``holes-cross`` where drilled holes of two operations meet inside one part.

    Also where a hole runs into a mortise or housing of a joint that does not join the same two
    pieces. An error where a joint asked for the hole; a warning where both are the maker's own, or a
    fitting's, since a bolt and its cross nut, or a peg through a tenon, are meant to meet.
    """
    joints = {joint.name for joint in design.joints}
    pairs = _joined_pairs(design)
    told: set[tuple[object, ...]] = set()
    for part in design.parts:
        taken = _taken(part)
        meeting, housed = _holes_that_meet(part, taken), _holes_into_housings(part, taken, joints, pairs)
        for crossing in (*islice(meeting, MOST_TOLD), *islice(housed, MOST_TOLD)):
            one, two = crossing.one, crossing.two
            key = (part.name, one.kind, one.joint, one.place, two.kind, two.joint, two.place)
            if key in told:
                continue
            told.add(key)
            meant = one.joint not in joints and (two.joint not in joints or crossing.into_housing)
            findings.add(_finding(part, crossing, meant, design))


@dataclass(frozen=True)
class _Crossing:
    """A hole that meets another hole, or a housing (``apart`` and ``needed`` are then zero)."""

    one: Operation
    two: Operation
    apart: Length
    needed: Length
    into_housing: bool


def _finding(part: Part, crossing: _Crossing, meant: bool, design: Design) -> Finding:
    one, two = crossing.one, crossing.two
    if crossing.into_housing:
        message = f"a hole ({called(one)}) runs into the {called(two)} in `{part.name}`"
        remedy = "move the hole along or make it less deep, or move the other joint"
    else:
        message = (
            f"holes meet inside `{part.name}`: {called(one)}, and {called(two)}; their middles pass "
            f"{printed(crossing.apart, design)} apart and need {printed(crossing.needed, design)}"
        )
        remedy = "move one of them well past that (another `per joint` or `from ends`), or bore less deep"
    # The joint is what the maker can move: a housing's place is only a further one.
    place, other = (one.place, two.place) if crossing.into_housing else (two.place, one.place)
    also: tuple[tuple[Place, str], ...] = ()
    if other is not None and other != place:
        also = ((other, "it meets what is cut here"),)
    severity = Severity.WARNING if meant else Severity.ERROR
    return Finding("holes-cross", message, place, remedy, severity, also, part.key)


@dataclass(frozen=True)
class _Taken:
    """A cut of an operation, and the room it takes in its part's own frame, mm."""

    operation: Operation
    cut: Cut
    low: tuple[float, ...]
    high: tuple[float, ...]

    def apart(self, other: _Taken) -> bool:
        """Whether the two cannot meet; told before anything is cut, since most pairs are far apart."""
        ends = zip(self.low, self.high, other.low, other.high, strict=True)
        return any(low >= far or near >= high for low, high, near, far in ends)


def _taken(part: Part) -> tuple[_Taken, ...]:
    labels = Labels()
    found = []
    for operation in part.operations:
        for cut in operation.cuts:
            if isinstance(cut, BoreCut):
                bounds = cutter(cut, part.blank, labels).bounding_box()
                low, high = tuple(bounds[:3]), tuple(bounds[3:])
            elif isinstance(cut, RoundCut):
                ends = [_reach(cut, axis) for axis in Axis]
                wide = [ZERO if axis is cut.side.axis else cut.diameter / 2 for axis in Axis]
                low = tuple(float(end[0] - by) for end, by in zip(ends, wide, strict=True))
                high = tuple(float(end[1] + by) for end, by in zip(ends, wide, strict=True))
            elif operation.joint is None:
                continue  # only what joints cut can be run into
            else:
                bounds = cutter(cut, part.blank, labels).bounding_box()
                low, high = tuple(bounds[:3]), tuple(bounds[3:])
            found.append(_Taken(operation, cut, low, high))
    return tuple(found)


def _holes_that_meet(part: Part, taken: tuple[_Taken, ...]) -> Iterator[_Crossing]:
    drilled = [one for one in taken if isinstance(one.cut, RoundCut | BoreCut)]
    for one, two in combinations(drilled, 2):
        if one.operation is two.operation or one.apart(two):
            continue
        hole, other = one.cut, two.cut
        assert isinstance(hole, RoundCut | BoreCut)
        assert isinstance(other, RoundCut | BoreCut)
        own = one.operation.joint is None and two.operation.joint is None
        if own and _one_axis(hole, other):
            continue  # a hole bored wider at its mouth by a second entry
        apart, needed = _distance(hole, other), (hole.diameter + other.diameter) / 2
        if not apart and _bolt_and_nut(one.operation, two.operation):
            continue
        if apart < needed and _common(part, hole, other) > LEAST_COMMON:
            yield _Crossing(one.operation, two.operation, apart, needed, False)


def _bolt_and_nut(one: Operation, two: Operation) -> bool:
    """Whether two holes of one joint are a bolt's and its barrel nut's, which are bored to meet."""
    return one.joint == two.joint and {one.kind, two.kind} == {"bolt hole", "barrel nut hole"}


def _holes_into_housings(
    part: Part, taken: tuple[_Taken, ...], joints: set[str], pairs: dict[str, set[frozenset[str]]]
) -> Iterator[_Crossing]:
    copies = {copy.name for copy in part.copies}
    for hole, housing in product(taken, taken):
        one, two = hole.operation, housing.operation
        bored, hollow = isinstance(hole.cut, RoundCut | BoreCut), isinstance(housing.cut, RoundCut | BoreCut)
        if not bored or hollow or hole.apart(housing):
            continue
        if two.joint not in joints or two.joint == one.joint or _leaves_tenon(two):
            continue
        shared = pairs.get(one.joint or "", set()) & pairs[two.joint or ""]
        if any(pair & copies for pair in shared):
            continue  # a screw or dowel through the bottom of the housing it helps to hold
        if _common(part, hole.cut, housing.cut) > LEAST_COMMON:
            yield _Crossing(one, two, ZERO, ZERO, True)


def _joined_pairs(design: Design) -> dict[str, set[frozenset[str]]]:
    return {
        joint.name: {frozenset((contact.fixed, contact.moving)) for contact in joint.contacts}
        for joint in design.joints
    }


def _leaves_tenon(operation: Operation) -> bool:
    """Whether what is cut away is not a hollow, but what stands round a tenon or beyond an end."""
    forms = {feature.form for feature in operation.features}
    return operation.kind == "tenon" or bool(forms & {Form.ROUND, Form.PLANE})


def _one_axis(one: _Hole, two: _Hole) -> bool:
    if isinstance(one, BoreCut) and isinstance(two, BoreCut):
        return one.mouth == two.mouth and one.way == two.way
    if isinstance(one, BoreCut) or isinstance(two, BoreCut):
        return False
    axis = one.side.axis
    sideways = [way for way in Axis if way is not axis]
    return two.side.axis is axis and all(one.mouth.at(way) == two.mouth.at(way) for way in sideways)


def _distance(one: _Hole, two: _Hole) -> Length:
    """How near the middle lines come, as far as each hole is bored: exact along an axis, rounded askew.

    Both lines are square to the axes, so what parts them along each axis can be told by itself.
    """
    if isinstance(one, BoreCut) or isinstance(two, BoreCut):
        return Length(Fraction(round(_between(_line(one), _line(two)) * 1000), 1000))
    gaps = []
    for axis in Axis:
        (low, high), (other_low, other_high) = _reach(one, axis), _reach(two, axis)
        gaps.append(max(other_low - high, low - other_high, ZERO))
    if sum(1 for gap in gaps if gap) <= 1:
        return max(gaps)
    square = sum(float(gap) ** 2 for gap in gaps)
    return Length(ZERO.mm + round(square**0.5 * 1000)) / 1000


def _line(cut: _Hole) -> tuple[_Xyz, _Xyz]:
    """The middle line of a hole, from its mouth to its floor, mm."""
    way = cut.way if isinstance(cut, BoreCut) else _unit(cut.side.opposite)
    start = cut.mouth.floats()
    x, y, z = (start[k] + way[k] * float(cut.depth) for k in range(3))
    return start, (x, y, z)


def _between(one: tuple[_Xyz, _Xyz], two: tuple[_Xyz, _Xyz]) -> float:
    """The least distance between two stretches of straight line, mm.

    Source: C. Ericson, Real-Time Collision Detection (2005), section 5.1.9, from memory: the nearest
    places of the whole lines, each held to its stretch and the other found anew.
    """
    (a, b), (c, d) = one, two
    u, v, w = _minus(b, a), _minus(d, c), _minus(a, c)
    uu, uv, vv, uw, vw = _dot(u, u), _dot(u, v), _dot(v, v), _dot(u, w), _dot(v, w)
    spread = uu * vv - uv * uv
    s = min(1.0, max(0.0, (uv * vw - vv * uw) / spread)) if spread > 1e-9 * uu * vv else 0.0
    t = min(1.0, max(0.0, (uv * s + vw) / vv))
    s = min(1.0, max(0.0, (uv * t - uw) / uu))
    t = min(1.0, max(0.0, (uv * s + vw) / vv))
    return math.dist([a[k] + u[k] * s for k in range(3)], [c[k] + v[k] * t for k in range(3)])


def _unit(side: Side) -> _Xyz:
    values = [float(side.sign) * (axis is side.axis) for axis in Axis]
    return values[0], values[1], values[2]


def _minus(one: _Xyz, two: _Xyz) -> _Xyz:
    return one[0] - two[0], one[1] - two[1], one[2] - two[2]


def _dot(one: _Xyz, two: _Xyz) -> float:
    return one[0] * two[0] + one[1] * two[1] + one[2] * two[2]


def _reach(cut: RoundCut, axis: Axis) -> tuple[Length, Length]:
    at = cut.mouth.at(axis)
    if axis is not cut.side.axis:
        return at, at
    end = at - cut.depth * cut.side.sign
    return min(at, end), max(at, end)


def _common(part: Part, one: Cut, two: Cut) -> float:
    """The room in the blank that two cuts both take, mm3."""
    labels = Labels()
    bodies = [blank_solid(part.blank, labels), *(cutter(cut, part.blank, labels) for cut in (one, two))]
    return float(manifold3d.Manifold.batch_boolean(bodies, manifold3d.OpType.Intersect).volume())

"""Where fasteners go along the face in which two pieces meet."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from plangen.expressions import LengthExpr, Whole
from plangen.joinery.body import JointBody, Meeting
from plangen.joinery.piece import Bench
from plangen.joinery.space import Point
from plangen.units import Length, inches, millimetres


class Fastening(JointBody):
    """Keys of joints that are fastened at several places along each contact."""

    per_joint: Whole | None = None
    every: LengthExpr | None = None
    from_ends: LengthExpr | None = None


def number_at(entry: Fastening, meeting: Meeting, bench: Bench) -> int:
    """How many go into this contact."""
    length = meeting.rect.size(meeting.lateral[0])
    if entry.per_joint is not None:
        number = entry.per_joint
    elif entry.every is not None:
        every = entry.every.length(bench.scope)
        number = (
            0
            if every.mm <= 0
            else max(2, int(-(-(length.mm - 2 * _margin(entry, length, 2, bench).mm) // every.mm)) + 1)
        )
    else:
        number = 2
    if not 1 <= number <= 200:
        bench.findings.error(
            "fasteners",
            "a joint takes between 1 and 200 fasteners at each contact",
            entry.place,
            "check `per joint` or `every`",
        )
        return 0
    return number


def places_along(entry: Fastening, meeting: Meeting, bench: Bench) -> Sequence[Point]:
    """Points in the touching face: in line along its length, in the middle of its breadth.

    The outer ones stand half a pitch from the ends, at most 2 in (50 mm): common practice, no source.
    """
    number = number_at(entry, meeting, bench)
    along, over = meeting.lateral
    length = meeting.rect.size(along)
    start = meeting.rect.low.with_(over, meeting.rect.middle(over))
    if number == 1:
        return [start.with_(along, meeting.rect.middle(along))]
    if number == 0:
        return []
    margin = _margin(entry, length, number, bench)
    if margin.mm < 0 or margin * 2 >= length:
        bench.findings.error(
            "fasteners",
            "the fasteners do not fit: their distance from the ends is more than half the joint",
            entry.place_of("from_ends"),
            "make `from ends` smaller",
        )
        return []
    pitch = (length - margin * 2) / (number - 1)
    first = meeting.rect.low.at(along) + margin
    return [start.with_(along, first + pitch * index) for index in range(number)]


def _margin(entry: Fastening, length: Length, number: int, bench: Bench) -> Length:
    if entry.from_ends is not None:
        return entry.from_ends.length(bench.scope)
    most = inches(2) if bench.units == "inch" else millimetres(50)
    return min(bench.nearest(length * Fraction(1, 2 * number)), most)

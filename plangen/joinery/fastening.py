"""Where fasteners go along the face in which two pieces meet."""

from __future__ import annotations

from collections.abc import Sequence

from plangen.expressions import LengthExpr, Whole
from plangen.joinery.body import JointBody, Meeting
from plangen.joinery.piece import Bench, Fastener
from plangen.joinery.space import Point
from plangen.units import Length, LengthStyle, inches, millimetres, print_length

MOST = 200  # fasteners at one contact


class Fastening(JointBody):
    """Keys of joints that are fastened at several places along each contact."""

    per_joint: Whole | None = None
    every: LengthExpr | None = None
    from_ends: LengthExpr | None = None


def said(length: Length, bench: Bench) -> str:
    """Print a length with its unit for a message, as the project measures."""
    return print_length(length, LengthStyle(bench.units), unit=True)


def size_of(fastener: Fastener | None, key: str) -> Length | None:
    """Give a size of a piece of hardware by its key, whether its kind is plain or has sizes of its own."""
    if fastener is None:
        return None
    plain: Length | None = getattr(fastener, key, None)
    if plain is None and fastener.ware is not None:
        return fastener.ware.sizes.get(key)
    return plain


def never_glued(entry: JointBody, what: str, bench: Bench) -> bool:
    """Report glue typed for what is never glued; give whether there is none."""
    if entry.glue is None or str(entry.glue) == "none":
        return True
    bench.findings.error(
        "glued-apart",
        f"{what} is never glued",
        entry.place_of("glue"),
        "take `glue` out, or write `glue: none`",
    )
    return False


def places_along(entry: Fastening, meeting: Meeting, widest: Length, bench: Bench) -> Sequence[Point]:
    """Give points in the touching face: in line along its length, in the middle of its breadth.

    The outer ones stand half a pitch from the ends, at most 2 in (50 mm): common practice, no source.
    ``widest`` is the diameter of the widest hole that must find room in the face. None, with a
    finding, when they do not fit.
    """
    along, over = meeting.lateral
    length, breadth = meeting.rect.size(along), meeting.rect.size(over)
    number = _number(entry, length, bench)
    if number == 0:
        return []
    start = meeting.rect.low.with_(over, meeting.rect.middle(over))
    margin = length / 2 if number == 1 else _margin(entry, length, number, bench)
    pitch = (length - margin * 2) / max(1, number - 1)
    if margin * 2 < widest or breadth < widest or (number > 1 and pitch <= widest):
        bench.findings.error(
            "fasteners",
            f"{number} fasteners do not fit where {meeting.one.copy} and {meeting.two.copy} meet: "
            f"the face is {said(length, bench)} by {said(breadth, bench)}",
            entry.place_of("from_ends" if entry.from_ends is not None else "per_joint"),
            "use fewer or thinner ones, or other distances from the ends",
            part=meeting.one.part,
        )
        return []
    first = meeting.rect.low.at(along) + margin
    return [start.with_(along, first + pitch * index) for index in range(number)]


def _number(entry: Fastening, length: Length, bench: Bench) -> int:
    """How many go into a contact of this length; 0, with a finding, when the keys make no sense."""
    number = entry.per_joint if entry.per_joint is not None else 2
    if entry.every is not None:
        every = entry.every.length(bench.scope)
        if entry.per_joint is not None or every.mm <= 0:
            bench.findings.error(
                "fasteners",
                "`every` is a distance above zero, and takes the place of `per joint`",
                entry.place_of("every"),
                "give one of the two",
            )
            return 0
        number = _fewest(entry, length, every, bench)
    if not 1 <= number <= MOST:
        bench.findings.error(
            "fasteners",
            f"a joint takes between 1 and {MOST} fasteners at each contact",
            entry.place_of("per_joint" if entry.every is None else "every"),
            "check `per joint` or `every`",
        )
        return 0
    if number == 1 and entry.from_ends is not None:
        bench.findings.error(
            "fasteners",
            "one fastener stands in the middle, and `from ends` says nothing of it",
            entry.place_of("from_ends"),
            "take `from ends` out",
        )
        return 0
    return number


def _fewest(entry: Fastening, length: Length, every: Length, bench: Bench) -> int:
    """The fewest, at least two, that stand no farther apart than ``every``."""
    for number in range(2, MOST + 1):
        if length - _margin(entry, length, number, bench) * 2 <= every * (number - 1):
            return number
    return MOST + 1


def _margin(entry: Fastening, length: Length, number: int, bench: Bench) -> Length:
    if entry.from_ends is not None:
        return entry.from_ends.length(bench.scope)
    most = inches(2) if bench.units == "inch" else millimetres(50)
    return min(bench.nearest(length / (2 * number)), most)

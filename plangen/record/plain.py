"""Exact values as plain JSON data."""

from __future__ import annotations

import hashlib
import json
from fractions import Fraction
from typing import Any

from plangen.joinery.cuts import (
    Arc,
    BoreCut,
    BoxCut,
    Curve,
    Cut,
    Line,
    Loop,
    PlaneCut,
    PrismCut,
    RoundCut,
    Segment,
)
from plangen.joinery.space import Axis, Box, Point
from plangen.units import Length, LengthStyle, print_length

PLACES = 6  # of the floats, which are there for readers without fractions


def exact(length: Length) -> str:
    """A length in millimetres as text: ``381/20``."""
    return str(length.mm)


def number(value: Fraction, printed: str) -> dict[str, Any]:
    """A number that is no length: exact, near enough, and as printed."""
    return {"exact": str(value), "value": round(float(value), PLACES), "printed": printed}


def size(length: Length, style: LengthStyle) -> dict[str, Any]:
    """A length: exact millimetres, to six places, and as printed with its unit."""
    return {
        "exact": exact(length),
        "mm": round(float(length), PLACES),
        "printed": print_length(length, style, unit=True),
    }


def measure(name: str, length: Length, style: LengthStyle) -> dict[str, Any]:
    """A length with the name under which a later build is compared."""
    return {"name": name, **size(length, style)}


def point(place: Point) -> list[str]:
    """A point: across, deep, up in exact millimetres."""
    return [exact(place.at(axis)) for axis in Axis]


def box(value: Box) -> list[list[str]]:
    """A box: its low corner, then its high corner."""
    return [point(value.low), point(value.high)]


def digest(value: Any) -> str:
    """A short fingerprint of plain data, the same on every machine."""
    text = json.dumps(value, ensure_ascii=True, sort_keys=True, separators=(",", ":"))
    return hashlib.sha256(text.encode("ascii")).hexdigest()[:32]


def cut(value: Cut) -> list[Any]:
    """The shape that an operation takes away, exactly."""
    match value:
        case BoxCut():
            return ["box", box(value.box)]
        case RoundCut():
            return [
                "round",
                point(value.mouth),
                value.side.word,
                exact(value.diameter),
                exact(value.depth),
            ]
        case PrismCut():
            loops = [_loop(loop) for loop in value.loops]
            return ["prism", value.axis.word, exact(value.low), exact(value.high), loops]
        case PlaneCut():
            return ["plane", point(value.through), [round(n, 9) for n in value.normal]]
        case BoreCut():
            way = [round(n, 9) for n in value.way]
            return ["bore", point(value.mouth), way, exact(value.diameter), exact(value.depth)]


def _loop(loop: Loop) -> list[Any]:
    return [_pair(loop.start), *(_segment(segment) for segment in loop.segments)]


def _segment(segment: Segment) -> list[Any]:
    match segment:
        case Line():
            return ["line", _pair(segment.to)]
        case Arc():
            return ["arc", _pair(segment.to), exact(segment.radius), segment.left]
        case Curve():
            return ["curve", [_pair(place) for place in segment.through]]


def _pair(place: tuple[Length, Length]) -> list[str]:
    return [exact(place[0]), exact(place[1])]

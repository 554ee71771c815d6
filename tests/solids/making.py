"""Small designs made by hand around one or two parts."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from plangen.design.model import Copy, Design, Part
from plangen.findings import Place
from plangen.joinery.cuts import BoxCut, Cut, Line, Loop, PrismCut, RoundCut
from plangen.joinery.operation import Operation
from plangen.joinery.space import IDENTITY_TURN, Axis, Box, Point, Pose, Side
from plangen.units import Length, phrase
from tests.sample_design import sample_design

Number = int | float | Fraction


def mm(value: Number) -> Length:
    return Length(Fraction(value))


def point(across: Number, deep: Number, up: Number) -> Point:
    return Point(mm(across), mm(deep), mm(up))


def box(low: tuple[Number, Number, Number], high: tuple[Number, Number, Number]) -> Box:
    return Box(point(*low), point(*high))


def box_cut(low: tuple[Number, Number, Number], high: tuple[Number, Number, Number]) -> BoxCut:
    return BoxCut(box(low, high))


def hole(mouth: tuple[Number, Number, Number], side: Side, diameter: Number, depth: Number) -> RoundCut:
    return RoundCut(point(*mouth), side, mm(diameter), mm(depth))


def pair(x: Number, y: Number) -> tuple[Length, Length]:
    return mm(x), mm(y)


def polygon(*corners: tuple[Number, Number]) -> Loop:
    return Loop(pair(*corners[0]), tuple(Line(pair(*corner)) for corner in (*corners[1:], corners[0])))


def prism(axis: Axis, low: Number, high: Number, *loops: Loop) -> PrismCut:
    return PrismCut(axis, mm(low), mm(high), loops)


def operation(*cuts: Cut, title: str = "Dado", line: int = 7) -> Operation:
    return Operation(
        kind=title.lower(),
        title=title,
        side=Side.TOP,
        cuts=cuts,
        features=(),
        say=phrase("Cut it."),
        place=Place("made.yaml", line, 3),
    )


def part(
    size: tuple[Number, Number, Number],
    *operations: Operation,
    key: str = "board",
    at: tuple[tuple[Number, Number, Number], ...] = ((0, 0, 0),),
) -> Part:
    """A part whose copies stand unturned with their low corners at the places given."""
    copies = []
    for number, low in enumerate(at, 1):
        high = tuple(a + b for a, b in zip(low, size, strict=True))
        placed = box(low, high)  # type: ignore[arg-type]
        place = Place("made.yaml", 20 + number, 1)
        name = key if len(at) == 1 else f"{key} {number}"
        copies.append(Copy(name, key, Pose(IDENTITY_TURN, placed.low), placed, placed, place))
    first = sample_design().part("shelf")
    return replace(
        first,
        key=key,
        name=key,
        title=key.capitalize(),
        blank=box((0, 0, 0), size),
        operations=operations,
        copies=tuple(copies),
        place=Place("made.yaml", 1, 1),
    )


def design(*parts: Part) -> Design:
    return replace(sample_design(), parts=parts, joints=(), fits=(), facts=())

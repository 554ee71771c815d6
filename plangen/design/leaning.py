"""Pieces that follow no axis: legs that lean and splay, and stretchers from one to another.

A leaning piece is solved as if it stood upright about the end that stays; its stance then turns it.
Everything cut into it is worked out upright, where it is square to the axes.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from plangen.description.model import LeanEntry, StretchEntry
from plangen.design.pinning import typed_size
from plangen.design.placing import Copied
from plangen.design.values import fault, meant
from plangen.joinery.cuts import PlaneCut
from plangen.joinery.operation import Feature, Form, Operation, Span
from plangen.joinery.space import (
    SIDE_WORDS,
    Axis,
    Box,
    Direction,
    Point,
    Side,
    Stance,
    to_nanometre,
    turn_about,
)
from plangen.units import Length, Phrase, phrase

if TYPE_CHECKING:
    from plangen.design.frame import Frame

STEEPEST = 45  # degrees that a piece may lean
UPRIGHT = Stance(((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)), (0.0, 0.0, 0.0))
STRAIGHT = 1e-9  # of a unit vector: less than this is no lean


@dataclass(frozen=True)
class CentreLine:
    """The middle of a leaning piece: its ends in the frame, mm, by the side they are of the upright piece.

    ``faces`` are the unit normals in the frame, out of the piece, of the planes in which it ends.
    """

    tips: Mapping[Side, Direction]
    faces: Mapping[Side, Direction]
    stance: Stance
    ends: str  # level or square, where the maker says so; else empty


@dataclass(frozen=True)
class Slant:
    """A leaning piece: its shoulders upright, how it stands, and what is sawn off its ends."""

    upright: Box
    line: CentreLine
    cuts: tuple[Operation, ...]


def centre_line(frame: Frame, copied: Copied) -> CentreLine:
    """Give the middle line of a piece that leans or stretches. Raises ProjectError."""
    if copied.stretch is not None:
        return _stretched(frame, copied, copied.stretch)
    assert copied.lean is not None
    return _leaning(frame, copied, copied.lean)


def slant(frame: Frame, copied: Copied, line: CentreLine, joined: set[Side]) -> Slant:
    """Give a leaning piece with its ends: level ones are sawn along the plane they end in.

    At an end that a joint makes longer (``joined``), and where the maker says square, the end is
    square, and stands back so that its edges just touch that plane. Raises ProjectError.
    """
    axis = copied.runs
    sections = {other: _section(frame, copied, other) for other in Axis if other is not axis}
    back = line.stance.back()
    low, high = (back.point(line.tips[Side.of(axis, end)]) for end in (False, True))
    ends: dict[bool, float] = {False: low[axis.value], True: high[axis.value]}
    cuts: list[Operation] = []
    wedges: list[tuple[Side, Direction, Direction, float]] = []
    for end in (Side.of(axis, False), Side.of(axis, True)):
        tip, normal = (low, high)[end.high], back.direction(line.faces[end])
        reach = stands_off(normal, axis, sections)
        if reach < 1e-6:
            continue
        if line.ends == "square" or (not line.ends and end in joined):
            ends[end.high] -= reach * end.sign
        else:
            ends[end.high] += reach * end.sign
            wedges.append((end, tip, normal, reach))
    if ends[True] - ends[False] < 1.0:
        raise fault(
            "zero-size", f"nothing is left of `{copied.name}` between its ends", copied.place, "", copied.part
        )
    values = {other: (to_nanometre(low[other.value]), size) for other, size in sections.items()}
    lows = [
        to_nanometre(ends[False]) if other is axis else values[other][0] - values[other][1] / 2
        for other in Axis
    ]
    highs = [
        to_nanometre(ends[True]) if other is axis else values[other][0] + values[other][1] / 2
        for other in Axis
    ]
    box = Box(Point(*lows), Point(*highs))
    for end, tip, normal, reach in wedges:
        cuts.append(_level_end(box, end, tip, normal, reach, copied))
    return Slant(box, line, tuple(cuts))


def stands_off(normal: Direction, axis: Axis, sizes: Mapping[Axis, Length]) -> float:
    """How far the corners of a square end stand before a plane through its middle, mm.

    A corner lies half of each size aside, and the plane climbs there by the ratio of its normal's
    components: the sum over both directions of size / 2 · |n_side / n_along|.
    """
    along = abs(normal[axis.value])
    return sum(float(size) / 2 * abs(normal[other.value]) / along for other, size in sizes.items())


def _level_end(
    box: Box, end: Side, tip: Direction, normal: Direction, reach: float, copied: Copied
) -> Operation:
    outward = normal if normal[end.axis.value] * end.sign > 0 else (-normal[0], -normal[1], -normal[2])
    across, deep, up = (value + 0.0 for value in outward)
    through = Point(*(to_nanometre(value) for value in tip))
    inner = box.side(end) - to_nanometre(2 * reach) * end.sign
    spans = {other: Span(box.low.at(other), box.high.at(other)) for other in Axis}
    spans[end.axis] = Span(min(inner, box.side(end)), max(inner, box.side(end)))
    return Operation(
        kind="angled end",
        title="Angled end",
        side=end,
        cuts=(PlaneCut(through, (across, deep, up)),),
        features=(Feature(Form.PLANE, end, tuple(spans.items()), (end,), way=(across, deep, up)),),
        say=Phrase(),
        tools=(phrase("Mitre saw that tilts, or a handsaw and a bevel gauge"),),
        cautions=("crosscut",),
        place=copied.entry.place,
    )


def _section(frame: Frame, copied: Copied, axis: Axis) -> Length:
    size = typed_size(frame, copied, axis)
    if size is None:
        low, high = frame.levels(copied.name, axis)
        size = high - low
    return size


# A piece that leans


def _leaning(frame: Frame, copied: Copied, lean: LeanEntry) -> CentreLine:
    end, ways = _moving_end(frame, copied, lean)
    if end.axis is not copied.runs:
        words = " or ".join(Side.of(copied.runs, high).word for high in (False, True))
        raise fault(
            "lean",
            f"`{copied.name}` runs {copied.runs.word}, so it is its {words} that moves when it leans",
            lean.place_of(end.word),
            f"write `lean: {{{Side.of(copied.runs, False).word}: {{…}}}}`",
            copied.part,
        )
    ends = {axis: frame.levels(copied.name, axis) for axis in Axis}
    fixed = [float(sum(pair, Length(Fraction(0)))) / 2 for pair in ends.values()]
    fixed[end.axis.value] = float(ends[end.axis][not end.high])
    height = float(ends[end.axis][1] - ends[end.axis][0])
    stays = (fixed[0], fixed[1], fixed[2])
    moved = list(stays)
    moved[end.axis.value] += height * end.sign
    for side, slope in ways.items():
        moved[side.axis.value] += height * slope * side.sign
    tip = (moved[0], moved[1], moved[2])
    stance = tilt(stays, end, ways)
    level = tuple(1.0 if axis is end.axis else 0.0 for axis in Axis)
    faces = {
        side: (level[0] * side.sign, level[1] * side.sign, level[2] * side.sign)
        for side in (end, end.opposite)
    }
    return CentreLine({end: tip, end.opposite: stays}, faces, stance, str(lean.ends or ""))


def tilt(stays: Direction, end: Side, ways: Mapping[Side, float]) -> Stance:
    """The turn about ``stays`` that carries the straight way to ``end`` onto the leaning one.

    It turns about the level line square to the way it leans, so that the piece does not twist.
    """
    straight, leaning = [0.0, 0.0, 0.0], [0.0, 0.0, 0.0]
    straight[end.axis.value] = leaning[end.axis.value] = float(end.sign)
    for side, slope in ways.items():
        leaning[side.axis.value] += slope * side.sign
    return _between((straight[0], straight[1], straight[2]), (leaning[0], leaning[1], leaning[2]), stays)


def _between(one: Direction, two: Direction, through: Direction) -> Stance:
    """The least turn that carries one direction onto another."""
    a, b, c = one
    d, e, f = two
    cross = (b * f - c * e, c * d - a * f, a * e - b * d)
    size = math.sqrt(sum(part * part for part in cross))
    dot = a * d + b * e + c * f
    if size < STRAIGHT * math.sqrt((d * d + e * e + f * f) * (a * a + b * b + c * c)):
        return UPRIGHT
    return turn_about(cross, math.degrees(math.atan2(size, dot)), through)


def lean_of(frame: Frame, copied: Copied) -> tuple[Side, dict[Side, float]]:
    """The end that moves, and the slope (tangent) toward each side. Raises ProjectError."""
    assert copied.lean is not None
    return _moving_end(frame, copied, copied.lean)


def _moving_end(frame: Frame, copied: Copied, lean: LeanEntry) -> tuple[Side, dict[Side, float]]:
    said = [side for side in Side if getattr(lean, side.word) is not None]
    if len(said) != 1:
        raise fault(
            "lean",
            f"`{copied.name}` leans with {len(said)} ends"
            if said
            else f"how `{copied.name}` leans is not said",
            lean.place,
            "name the one end that moves, and how far: `lean: {bottom: {left: 8deg, front: 8deg}}`",
            copied.part,
        )
    (end,) = said
    ways: dict[Side, float] = {}
    for word, expression in getattr(lean, end.word).items():
        side = SIDE_WORDS.get(str(word))
        if side is None or side.axis is end.axis or any(other.axis is side.axis for other in ways):
            raise fault(
                "lean",
                f"the {end.word} of `{copied.name}` cannot lean to `{word}`",
                getattr(word, "place", lean.place),
                "name one side for each of the two directions it may lean in",
                copied.part,
            )
        angle = float(expression.angle(frame.values.owned_by(copied.name)))
        if not 0 <= angle <= STEEPEST:
            raise fault(
                "lean",
                f"`{copied.name}` would lean {f'{angle:g}°' if abs(angle) < 360 else 'more than it can'}",
                expression.place,
                f"lean it between 0 and {STEEPEST} degrees",
                copied.part,
            )
        ways[side] = math.tan(math.radians(angle))
    return end, ways


# A piece between two others


def _stretched(frame: Frame, copied: Copied, stretch: StretchEntry) -> CentreLine:
    levels = [(axis, getattr(stretch, axis.word)) for axis in Axis if getattr(stretch, axis.word) is not None]
    if len(levels) != 1:
        raise fault(
            "stretch",
            f"where `{copied.name}` stands between the two is not said"
            if not levels
            else f"where `{copied.name}` stands between the two is said twice",
            stretch.place,
            "give its height alone: `stretch: {from: left leg, to: right leg, up: 6in}`",
            copied.part,
        )
    ((axis, expression),) = levels
    level = float(expression.length(frame.values.owned_by(copied.name)))
    points, names = [], []
    for reference in (stretch.from_, stretch.to):
        name = str(reference)
        if name not in frame.single:
            raise fault(
                "undefined-name",
                f"there is no copy called `{name}`",
                reference.place,
                meant(name, frame.single, "name one copy at each end"),
                copied.part,
            )
        points.append(_on_line(frame, name, axis, level, copied, stretch))
        names.append(name)
    one, two = points
    way = (two[0] - one[0], two[1] - one[1], two[2] - one[2])
    long = math.sqrt(sum(part * part for part in way))
    runs = copied.runs
    if long < 1.0 or abs(way[runs.value]) < 0.7 * long:
        raise fault(
            "stretch",
            f"`{copied.name}` runs {runs.word}, and `{names[1]}` does not stand {runs.word} of `{names[0]}`",
            stretch.place,
            "let the part run the way it stretches",
            copied.part,
        )
    if way[runs.value] < 0:
        one, two, names, way = two, one, names[::-1], (-way[0], -way[1], -way[2])
    unit = (way[0] / long, way[1] / long, way[2] / long)
    straight = tuple(1.0 if other is runs else 0.0 for other in Axis)
    stance = _between((straight[0], straight[1], straight[2]), unit, one)
    low, high = Side.of(runs, False), Side.of(runs, True)
    start, start_face = _leaves(frame, names[0], one, unit, copied)
    end, end_face = _leaves(frame, names[1], two, (-unit[0], -unit[1], -unit[2]), copied)
    faces = {low: _reversed(start_face), high: _reversed(end_face)}
    return CentreLine({low: start, high: end}, faces, stance, "square")


def _reversed(way: Direction) -> Direction:
    return -way[0] + 0.0, -way[1] + 0.0, -way[2] + 0.0


def _on_line(
    frame: Frame, name: str, axis: Axis, level: float, copied: Copied, stretch: StretchEntry
) -> Direction:
    """Where the middle of a piece stands at a level."""
    box, stance = frame.stood(name)
    runs = frame.runs(name)
    middle = [float(box.middle(other)) for other in Axis]
    ends = []
    for end in (box.low.at(runs), box.high.at(runs)):
        middle[runs.value] = float(end)
        ends.append(stance.point((middle[0], middle[1], middle[2])))
    (low, high) = ends
    rise = high[axis.value] - low[axis.value]
    part = (level - low[axis.value]) / rise if abs(rise) > 1e-6 else -1.0
    if not 0.0 <= part <= 1.0:
        raise fault(
            "stretch",
            f"`{name}` has no place there for `{copied.name}`",
            stretch.place_of(axis.word),
            f"give a place along `{name}`",
            copied.part,
        )
    x, y, z = (a + (b - a) * part for a, b in zip(low, high, strict=True))
    return x, y, z


def _leaves(
    frame: Frame, name: str, inside: Direction, way: Direction, copied: Copied
) -> tuple[Direction, Direction]:
    """Where a line from the middle of a piece comes out of it, and the normal of the face there."""
    box, stance = frame.stood(name)
    back = stance.back()
    start, along = back.point(inside), back.direction(way)
    best: tuple[float, Side] | None = None
    for side in Side:
        speed = along[side.axis.value] * side.sign
        if speed > STRAIGHT:
            far = (float(box.side(side)) - start[side.axis.value]) * side.sign / speed
            if best is None or far < best[0]:
                best = (far, side)
    assert best is not None
    far, side = best
    x, y, z = (a + b * far for a, b in zip(inside, way, strict=True))
    normal = [0.0, 0.0, 0.0]
    normal[side.axis.value] = float(side.sign)
    return (x, y, z), stance.direction((normal[0], normal[1], normal[2]))

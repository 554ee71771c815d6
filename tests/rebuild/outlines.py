"""Outlines from what a sheet says of their corners, arcs and slopes."""

from __future__ import annotations

import itertools
import math
import re
from collections.abc import Callable, Iterator, Sequence

from tests.rebuild.figures import ANGLE_HALF, Measure
from tests.rebuild.tools import OUT, Edge, Xy, slack
from tests.rebuild.tree import Places, UntoldError

Radius = Callable[[str], Measure]
Corner = tuple[Measure, Measure]
_STEP = re.compile(
    r"(?P<kind>start|line|curve|arc)(?: (?P<turn>clockwise|anticlockwise))?(?: by (?P<note>[\w-]+))?"
    r" to (?P<first>.+) / (?P<second>.+)"
)
_SLOPE = re.compile(r"slope from the corner (before|after) to the (\w+)")
ARC_STEP = math.radians(3.0)


def outline(path: str, first: Places, second: Places, radius: Radius, slope: Measure | None) -> list[Edge]:
    """Walk a path; ``radius`` reads a note, ``slope`` is the printed rise over run where one is printed.

    Raises UntoldError where a corner or a radius is not given.
    """
    steps = [_parsed(words) for words in path.split("; ")]
    corners = _corners(steps, (first, second), slope)
    edges: list[Edge] = []
    curve = [corners[0]]
    for place in range(1, len(steps)):
        step, here, to = steps[place], corners[place - 1], corners[place]
        if step["kind"] == "arc":
            if not step["note"]:
                raise UntoldError("an arc has no radius")
            edges += _arc(here, to, radius(step["note"]), left=step["turn"] == "anticlockwise")
        elif step["kind"] == "curve":
            curve = curve if steps[place - 1]["kind"] == "curve" else [here]
            curve.append(to)
            if place + 1 == len(steps) or steps[place + 1]["kind"] != "curve":
                edges += _smooth(curve)
        else:
            edges.append(_straight(here, to))
    return [
        edge for edge, after in zip(edges, [*edges[1:], edges[0]], strict=True) if edge.corner != after.corner
    ]


def _parsed(words: str) -> dict[str, str]:
    found = _STEP.fullmatch(words)
    if found is None:
        raise UntoldError(f"{words!r} is no step of an outline")
    return found.groupdict()


def _corners(
    steps: Sequence[dict[str, str]], axes: tuple[Places, Places], slope: Measure | None
) -> list[Corner]:
    found: list[list[Measure | None]] = []
    for step in steps:
        found.append([_at(step[key], along) for key, along in zip(("first", "second"), axes, strict=True)])
    last = len(steps) - 1
    for place, step in enumerate(steps):
        for index, key in enumerate(("first", "second")):
            if found[place][index] is None:
                word = _SLOPE.fullmatch(step[key])
                assert word is not None, "only a slope leaves a corner open"
                if slope is None:
                    raise UntoldError(f"nothing says how steep the line to {step[key]} is")
                other = (place - 1 if place else last - 1) if word[1] == "before" else place % last + 1
                found[place][index] = _sloped(found[place], found[other], index, word[2], slope)
    return [(first, second) for first, second in found if first is not None and second is not None]


def _sloped(
    own: Sequence[Measure | None], from_: Sequence[Measure | None], index: int, towards: str, slope: Measure
) -> Measure:
    start, here, there = from_[index], own[1 - index], from_[1 - index]
    if start is None or here is None or there is None:
        raise UntoldError("a slope starts nowhere")
    run = abs(here.mm - there.mm)
    sign = 1.0 if towards in ("right", "back", "top") else -1.0
    off = start.half + slope.mm * (here.half + there.half) + slope.half * run
    return Measure(start.mm + sign * slope.mm * run, off)


def _at(name: str, along: Places) -> Measure | None:
    if _SLOPE.fullmatch(name):
        return None
    if name.startswith("beyond the "):
        side = along.at(name.removeprefix("beyond the "))
        return Measure(side.mm + (OUT if side.mm else -OUT), 0.0)
    return along.at(name)


def slope_in(words: str) -> Measure | None:
    """Read a slope in a note: ``slope 1:8``, ``slope 8°`` or ``(8°)``."""
    ratio = re.search(r"slope (\d+):(\d+)", words)
    if ratio:
        return Measure(int(ratio[1]) / int(ratio[2]), 0.0)
    turn = re.search(r"(\d+(?:\.\d+)?)°", words)
    if turn is None:
        return None
    angle = math.radians(float(turn[1]))
    return Measure(math.tan(angle), math.radians(ANGLE_HALF) / math.cos(angle) ** 2)


def _straight(here: Corner, to: Corner) -> Edge:
    dx, dy = to[0].mm - here[0].mm, to[1].mm - here[1].mm
    size = math.hypot(dx, dy) or 1.0
    off = max(abs(dy) / size * end[0].half + abs(dx) / size * end[1].half for end in (here, to))
    return Edge((here[0].mm, here[1].mm), off)


def _arc(here: Corner, to: Corner, radius: Measure, *, left: bool) -> Iterator[Edge]:
    """Walk the shorter arc of a circle. What is off at its ends, and in how far it rises, counts."""
    start, end = (here[0].mm, here[1].mm), (to[0].mm, to[1].mm)
    chord = math.dist(start, end)
    ends_off = max(math.hypot(end[0].half, end[1].half) for end in (here, to))
    if radius.mm + radius.half < chord / 2 - ends_off:
        raise UntoldError(f"an arc of radius {radius.mm:.2f} mm does not reach over {chord:.2f} mm")
    size = max(radius.mm, chord / 2)
    bulge = _rise_off(size, chord, radius.half, 2 * ends_off)
    flat = math.sqrt(max(0.0, size * size - chord * chord / 4))
    ux, uy = (end[0] - start[0]) / chord, (end[1] - start[1]) / chord
    turn = 1.0 if left else -1.0
    centre = ((start[0] + end[0]) / 2 - turn * uy * flat, (start[1] + end[1]) / 2 + turn * ux * flat)
    first = math.atan2(start[1] - centre[1], start[0] - centre[0])
    sweep = turn * 2 * math.asin(min(1.0, chord / (2 * size)))
    pieces = max(2, math.ceil(abs(sweep) / ARC_STEP))
    flat_off = _rise_off(size, chord, radius.half, 2 * ends_off) + radius.half
    arc = (centre, Measure(size, radius.half), ends_off + flat_off)
    for step in range(pieces):
        angle = first + sweep * step / pieces
        share = (step + 0.5) / pieces
        middle = first + sweep * share
        x_off, y_off = (here[k].half * (1 - share) + to[k].half * share for k in (0, 1))
        off = abs(math.cos(middle)) * x_off + abs(math.sin(middle)) * y_off + bulge * 4 * share * (1 - share)
        at = (centre[0] + size * math.cos(angle), centre[1] + size * math.sin(angle)) if step else start
        yield Edge(at, off, slack(size, ARC_STEP), arc)


def _rise_off(radius: float, chord: float, radius_off: float, chord_off: float) -> float:
    """Say how far the middle of an arc may be off when its radius and its chord are."""

    def rise(r: float, c: float) -> float:
        r = max(r, c / 2)
        return r - math.sqrt(max(0.0, r * r - c * c / 4))

    moved = itertools.product((-radius_off, radius_off), (-chord_off, chord_off))
    return max(abs(rise(radius + dr, chord + dc) - rise(radius, chord)) for dr, dc in moved)


def _smooth(corners: Sequence[Corner]) -> Iterator[Edge]:
    """Walk a smooth line through points, each third of the way by the pyramid of lines through their knots.

    The sheet gives the points; between them a maker follows the pattern, so that this line is the one
    thing that is not read from figures.
    """
    points = [(one.mm, two.mm) for one, two in corners]
    off = max(math.hypot(one.half, two.half) for one, two in corners) * 1.3
    ahead = (2 * points[0][0] - points[1][0], 2 * points[0][1] - points[1][1])
    behind = (2 * points[-1][0] - points[-2][0], 2 * points[-1][1] - points[-2][1])
    padded = [ahead, *points, behind]
    for place in range(len(points) - 1):
        for step in range(12):
            yield Edge(_on_spline(padded[place : place + 4], step / 12), off, slack(0.0))


def _on_spline(four: Sequence[Xy], share: float) -> Xy:
    """Give a point of the span between the second and the third of four points (Barry and Goldman, 1988)."""
    knots = [0.0]
    for one, two in itertools.pairwise(four):
        knots.append(knots[-1] + math.sqrt(math.dist(one, two)))
    t = knots[1] + (knots[2] - knots[1]) * share
    row = list(four)
    for level in (1, 2):
        row = [_mixed(row[k], row[k + 1], knots[k], knots[k + level], t) for k in range(4 - level)]
    return _mixed(row[0], row[1], knots[1], knots[2], t)


def _mixed(one: Xy, two: Xy, low: float, high: float, at: float) -> Xy:
    share = (at - low) / (high - low)
    return one[0] + (two[0] - one[0]) * share, one[1] + (two[1] - one[1]) * share

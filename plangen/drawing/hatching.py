"""Hatching: what a piece that is cut through is made of, in thin lines inside the cut face.

Thin continuous lines, for metal at 45°, farther apart in larger areas, at another angle or spacing where
two areas meet: ISO 128-50:2001, as ASME Y14.2 has it too (both from memory). What tells solid wood and
sheets apart is this project's own: growth rings where wood is cut across the grain, long strokes where it
is cut along it, plies that lie parallel to the faces, dots for boards without a grain. All lengths are
millimetres on the paper, angles degrees anticlockwise from the right.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import acos, ceil, cos, floor, hypot, pi, radians, sin, sqrt, tau
from typing import Any, Literal, TypeAlias

import numpy as np
import shapely
from shapely import affinity

from plangen.drawing.sheet.model import Arc, Meaning, Stroke, Xy

Kind: TypeAlias = Literal["end grain", "long grain", "plywood", "metal", "board"]

CLEAR = 0.8  # mm that hatching keeps from a text it is interrupted for
LEAST = 0.7  # mm between two lines of hatching (ISO 128-50, from memory)
VARIANTS = 4  # ways to hatch one kind, so that pieces that touch differ
_NARROW = 0.5  # mm: what is narrower between its outlines has no room for hatching
_SHORT = 0.35  # mm: shorter strokes than this are left out
_SMOOTH = 0.002  # mm that the points of a ring may leave its circle
_GOLDEN = (sqrt(5.0) - 1.0) / 2.0  # spreads the starts and gaps of strokes evenly and never in step
_DOT = 0.4  # mm, length of a dot
_TICK = 1.5  # mm between the slanted ticks of a cross ply
_BOARD_WORDS = ("mdf", "fibre", "fiber", "particle", "chipboard", "hardboard", "melamine")
_SPREAD = (1.0, 1.45, 1.2, 1.75)  # spacing of each variant over that of the first


@dataclass(frozen=True, slots=True)
class Cut:
    """A piece that is cut: its area (shapely, mm on the paper), its kind, and how it lies.

    ``direction`` is that of the grain where wood is cut along it, of the width of the board where it is
    cut across, of the faces for plywood; it says nothing of metal.
    """

    region: Any
    kind: Kind
    direction: float = 0.0


def kind_of(stock: str, words: str, along: float) -> Kind:
    """Say how a piece is hatched: the kind of its stock (``solid`` or sheet), its title, its grain.

    ``along`` is the cosine of the angle between the grain and the normal of the cutting plane: solid wood
    shows its rings when the plane lies more across the grain than along it.
    """
    if stock == "solid":
        return "end grain" if abs(along) > sqrt(0.5) else "long grain"
    if any(word in words.lower() for word in _BOARD_WORDS):
        return "board"
    return "plywood"


def hatch(
    region: Any, kind: Kind, direction: float = 0.0, *, variant: int = 0, clear: Any = None
) -> list[Stroke]:
    """Hatch an area (shapely, mm on the paper) by what it is made of.

    ``direction`` as in ``Cut``; ``variant`` (0 to 3) changes angle or spacing for a neighbour; nothing is
    drawn in ``clear`` (shapely), nor nearer to it than ``CLEAR``. All areas of a piece are hatched as one,
    so give them together. No strokes where the area is too narrow to show any.
    """
    if region.is_empty or region.buffer(-_NARROW / 2).is_empty:
        return []
    turned = affinity.rotate(region, -direction, origin=(0.0, 0.0))
    open_area = region
    if clear is not None and not clear.is_empty:
        open_area = region.difference(clear.buffer(CLEAR))
    open_turned = affinity.rotate(open_area, -direction, origin=(0.0, 0.0))
    variant %= VARIANTS
    if kind == "end grain":
        drawn = _rings(turned, open_turned, variant)
    else:
        lines = _LINES[kind](turned, direction, variant)
        drawn = [Stroke(points, Meaning.HATCH) for points in _clipped(list(lines), open_turned)]
    return [_turned(stroke, direction) for stroke in drawn]


def hatch_all(cuts: Sequence[Cut], *, clear: Any = None) -> list[list[Stroke]]:
    """Hatch pieces so that any two that touch differ; one list of strokes for each, in their order."""
    return [
        hatch(cut.region, cut.kind, cut.direction, variant=variant, clear=clear)
        for cut, variant in zip(cuts, variants(cuts), strict=True)
    ]


def variants(cuts: Sequence[Cut]) -> tuple[int, ...]:
    """Choose for every piece the first variant that no earlier one of its kind beside it has."""
    chosen: list[int] = []
    for number, cut in enumerate(cuts):
        taken = {
            chosen[other]
            for other in range(number)
            if cuts[other].kind == cut.kind and cuts[other].region.dwithin(cut.region, LEAST)
        }
        chosen.append(next((v for v in range(VARIANTS) if v not in taken), number % VARIANTS))
    return tuple(chosen)


def spacing(area: float) -> float:
    """Give the distance between lines in an area (mm²): wider in a large one, never under ``LEAST``."""
    return min(3.0, max(LEAST * 1.2, 0.75 + 0.055 * sqrt(area)))


def _rings(turned: Any, open_area: Any, variant: int) -> list[Stroke]:
    """Draw growth rings: arcs about a pith below each board, the next board's above, and so in turn."""
    low_x, low_y, high_x, high_y = turned.bounds
    wide, thick = high_x - low_x, high_y - low_y
    boards = max(1, round(wide / (7.0 * thick))) if thick > 1e-6 else 1
    step = spacing(turned.area / boards) * _SPREAD[variant]
    found: list[Stroke] = []
    for number in range(boards):
        left, right = low_x + wide * number / boards, low_x + wide * (number + 1) / boards
        cell = open_area if boards == 1 else open_area.intersection(shapely.box(left, low_y, right, high_y))
        if cell.is_empty:
            continue
        under = (number + variant) % 2 == 0
        drop = 0.35 * max(thick, 0.6 * (right - left))
        aside = (0.18, -0.24, 0.31, -0.11)[variant] * (right - left)
        centre = ((left + right) / 2 + aside, low_y - drop if under else high_y + drop)
        found += _arcs(cell, centre, step, drop)
    return found


def _arcs(area: Any, centre: Xy, step: float, first: float) -> Iterator[Stroke]:
    """Draw the arcs about a centre inside an area, ``step`` apart from a radius of ``first`` on."""
    x, y = centre
    low_x, low_y, high_x, high_y = area.bounds
    reach = max(hypot(px - x, py - y) for px in (low_x, high_x) for py in (low_y, high_y))
    shapely.prepare(area)
    for number in range(floor((reach - first) / step) + 1):
        radius = first + (number + 0.5) * step
        steps = ceil(pi / acos(1.0 - min(0.5, _SMOOTH / radius)))
        around = np.linspace(0.0, tau, steps + 1)
        ring = np.column_stack([x + radius * np.cos(around), y + radius * np.sin(around)])
        pieces = shapely.line_merge(shapely.intersection(shapely.linestrings(ring), area))
        for piece in sorted(shapely.get_parts(pieces).tolist(), key=lambda item: item.bounds):
            if piece.geom_type == "LineString" and piece.length > _SHORT:
                yield _arc(centre, radius, shapely.get_coordinates(piece))


def _arc(centre: Xy, radius: float, points: Any) -> Stroke:
    """Make one exact arc of points that lie on a circle, in either direction round it."""
    x, y = centre
    angles = np.unwrap(np.arctan2(points[:, 1] - y, points[:, 0] - x))
    start, end = float(min(angles[0], angles[-1])), float(max(angles[0], angles[-1]))
    arc = Arc(centre, (x + radius, y), (x, y + radius), start, end)
    number = max(2, ceil((end - start) / (2.0 * acos(1.0 - min(0.5, 0.01 / radius)))))
    return Stroke(tuple(arc.at(start + (end - start) * i / number) for i in range(number + 1)), Meaning.HATCH,
                  arc=arc)  # fmt: skip


def _grain(turned: Any, _direction: float, variant: int) -> Iterator[tuple[Xy, Xy]]:
    """Draw long strokes along the grain, unevenly apart, broken where no neighbour is."""
    low_x, low_y, high_x, high_y = turned.bounds
    step = 1.35 * spacing(turned.area) * _SPREAD[variant]
    rows = max(1, round((high_y - low_y) / step) - 1)
    pitch = (high_y - low_y) / (rows + 1)
    for row in range(rows):
        shift = (_share(row, variant) - 0.5) * min(0.5 * pitch, pitch - LEAST) if pitch > LEAST else 0.0
        y = low_y + pitch * (row + 1) + shift
        x = low_x - 40.0 * _share(3 * row + 1, variant)
        stroke = 0
        while x < high_x:
            length = 14.0 + 18.0 * _share(row + 5 * stroke, variant)
            yield (x, y), (x + length, y)
            x += length + 1.4 + 1.6 * _share(2 * row + stroke, variant)
            stroke += 1


def _plies(turned: Any, _direction: float, variant: int) -> Iterator[tuple[Xy, Xy]]:
    """Draw the glue lines of an odd number of plies, and ticks across every second ply."""
    low_x, low_y, high_x, high_y = turned.bounds
    thick = high_y - low_y
    plies = min(7, max(1, floor(thick / LEAST)))
    plies -= 1 - plies % 2
    if plies < 3:
        yield from _dashed((low_x, high_x), (low_y + high_y) / 2, variant)
        return
    ply = thick / plies
    for number in range(1, plies):
        yield (low_x, low_y + ply * number), (high_x, low_y + ply * number)
    lean, pitch = (ply if variant % 2 == 0 else -ply), max(_TICK, ply) * _SPREAD[variant]
    for number in range(1, plies, 2):
        base = low_y + ply * number
        for tick in range(floor((high_x - low_x + ply) / pitch) + 1):
            x = low_x - (lean if lean > 0 else 0.0) + pitch * (tick + 0.5)
            yield (x, base), (x + lean, base + ply)


def _dashed(reach: Xy, y: float, variant: int) -> Iterator[tuple[Xy, Xy]]:
    """Draw one line down the middle of a sheet too thin to show its plies; dashes tell neighbours apart."""
    low, high = reach
    if variant == 0:
        yield (low, y), (high, y)
        return
    on = 6.0 / variant
    for number in range(floor((high - low) / (on + 1.0)) + 1):
        start = low + number * (on + 1.0)
        yield (start, y), (start + on, y)


def _slanted(turned: Any, direction: float, variant: int) -> Iterator[tuple[Xy, Xy]]:
    """Draw parallel lines at 45° on the paper, or at 135° beside another area of the kind."""
    angle = (45.0, 135.0, 30.0, 120.0)[variant] - direction
    step = spacing(turned.area) * _SPREAD[variant]
    (cx, cy), half = _middle(turned)
    ux, uy = cos(radians(angle)), sin(radians(angle))
    offset = round((cx * -uy + cy * ux) / step)  # lines stand on one grid, so that areas of a piece agree
    for number in range(-ceil(half / step), ceil(half / step) + 1):
        off = (offset + number + 0.5) * step - (cx * -uy + cy * ux)
        x, y = cx - uy * off, cy + ux * off
        yield (x - ux * half, y - uy * half), (x + ux * half, y + uy * half)


def _dots(turned: Any, direction: float, variant: int) -> Iterator[tuple[Xy, Xy]]:
    """Draw dots in staggered rows."""
    low_x, low_y, high_x, high_y = turned.bounds
    pitch = 1.15 * spacing(turned.area) * _SPREAD[variant]
    rows = max(1, floor((high_y - low_y) / (pitch * 0.8)))
    across = radians((0.0, 90.0, 45.0, 135.0)[variant] - direction)
    dx, dy = _DOT * cos(across) / 2, _DOT * sin(across) / 2
    for row in range(rows):
        y = low_y + (high_y - low_y) * (row + 0.5) / rows
        for number in range(floor((high_x - low_x) / pitch) + 1):
            x = low_x + pitch * (number + (0.25 if row % 2 else 0.75))
            yield (x - dx, y - dy), (x + dx, y + dy)


_LINES = {"long grain": _grain, "plywood": _plies, "metal": _slanted, "board": _dots}


def _clipped(lines: Sequence[tuple[Xy, Xy]], area: Any) -> Iterator[tuple[Xy, Xy]]:
    """Cut lines back to an area; what is left too short to be seen goes, but dots stay."""
    if not lines:
        return
    shapely.prepare(area)
    for line, cut in zip(
        lines, shapely.intersection(shapely.linestrings(np.array(lines)), area), strict=True
    ):
        least = min(_SHORT, 0.9 * hypot(line[1][0] - line[0][0], line[1][1] - line[0][1]))
        for piece in sorted(shapely.get_parts(cut).tolist(), key=lambda item: item.bounds):
            if piece.geom_type == "LineString" and piece.length >= least:
                (ax, ay), (bx, by) = piece.coords[0], piece.coords[-1]
                yield (float(ax), float(ay)), (float(bx), float(by))


def _turned(stroke: Stroke, direction: float) -> Stroke:
    c, s = cos(radians(direction)), sin(radians(direction))

    def move(point: Xy) -> Xy:
        return (point[0] * c - point[1] * s, point[0] * s + point[1] * c)

    arc = stroke.arc and Arc(
        move(stroke.arc.centre), move(stroke.arc.major), move(stroke.arc.minor), stroke.arc.start,
        stroke.arc.end,
    )  # fmt: skip
    return Stroke(tuple(move(point) for point in stroke.points), stroke.meaning, stroke.closed, arc)


def _middle(area: Any) -> tuple[Xy, float]:
    low_x, low_y, high_x, high_y = area.bounds
    return ((low_x + high_x) / 2, (low_y + high_y) / 2), hypot(high_x - low_x, high_y - low_y) / 2 + 1.0


def _share(number: int, variant: int) -> float:
    """Give a number from 0 to 1, the same for the same numbers and never in step for the next ones."""
    return ((number + 1) * _GOLDEN + 0.37 * variant) % 1.0

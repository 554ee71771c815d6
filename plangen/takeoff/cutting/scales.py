"""Bounds for sheets by weighing sizes: whatever weights lengths and widths are given, rows limit them.

A set of weights for extents along x and one for extents along y turn pieces into other rectangles. If a
row of pieces that fits a panel never weighs more than ``F`` along x, nor ``G`` along y, then all pieces of
one panel together weigh at most ``F G`` (conservative scales: S. P. Fekete and J. Schepers, "A general
framework for bounds for higher-dimensional orthogonal packing problems", Mathematical Methods of
Operations Research 60, 2004). ``F`` and ``G`` are worked out exactly here, so that every choice of weights
gives a true bound; dual-feasible functions only say which ones are worth trying. A piece that may turn
weighs what the lighter way weighs.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import isqrt
from typing import TypeAlias

from plangen.takeoff.cutting.bounds import plainest
from plangen.takeoff.cutting.mixes import Need
from plangen.takeoff.cutting.model import Bound, Panel, Piece, Sawing

Weights: TypeAlias = Mapping[int, int]  # by extent, kerf included
_MOST_SCALES, _FEWEST_SCALES = 36, 4  # weights tried per direction
_WEIGHINGS = 80_000  # of kinds of piece by pairs of weights; where there are many kinds, fewer weights
_KEPT = 12  # needs handed on: those that press hardest
_NODES = 4000  # of the search for the heaviest row; beyond that it takes its bound


@dataclass(frozen=True, slots=True)
class Extent:
    """A piece in one of the ways it can lie, kerf included."""

    along: int
    across: int


@dataclass(frozen=True, slots=True)
class Load:
    """What has to be placed: for each kind of piece its ways and its number, and the rooms of the panels."""

    ways: tuple[tuple[Extent, ...], ...]
    numbers: tuple[int, ...]
    rooms: tuple[tuple[int, int], ...]


def needs(pieces: Sequence[Piece], panels: Sequence[Panel], sawing: Sawing) -> tuple[Bound, list[Need]]:
    """Give the fewest panels that can do, with the plainest reason, and what any mix of panels must have."""
    load = load_of(pieces, panels, sawing)
    plain = plainest(pieces, panels, sawing.kerf, sawing.margins)
    found = sorted(_weighed(load), key=lambda need: (-_pressing(need, panels), need.have))
    weighed = list(dict.fromkeys(found))[:_KEPT]
    most = max((need.number for need in found), default=0)
    if most > plain.number:
        hardest = max(found, key=lambda need: need.number)
        return Bound(most, "mixed", hardest.need, max(hardest.have)), weighed
    fewest_panels = Need(plain.number, tuple(1 for _ in panels))
    return plain, [fewest_panels, *weighed]


def _pressing(need: Need, panels: Sequence[Panel]) -> Fraction:
    """Give how much it costs to meet a need in parts of panels, or in panels where all are alike free."""
    rates = [have / panel.cost for have, panel in zip(need.have, panels, strict=True) if panel.cost > 0]
    best = max(rates, default=Fraction(max(need.have)))
    return Fraction(need.need) / best if best else Fraction(0)


def load_of(pieces: Sequence[Piece], panels: Sequence[Panel], sawing: Sawing) -> Load:
    """Give what has to be placed, kerfs included; a piece keeps the ways that fit some panel."""
    kerf, margins = sawing.kerf, sawing.margins
    rooms = tuple(
        (
            panel.length - margins.left - margins.right + kerf,
            panel.width - margins.low - margins.high + kerf,
        )
        for panel in panels
    )
    ways = []
    for piece in pieces:
        along, across = piece.length + kerf, piece.narrowest + kerf
        both = [Extent(along, across)]
        if piece.may_turn and along != across:
            both.append(Extent(across, along))
        ways.append(
            tuple(
                way
                for way in both
                if any(way.along <= length and way.across <= width for length, width in rooms)
            )
        )
    return Load(tuple(ways), tuple(piece.number for piece in pieces), rooms)


def _weighed(load: Load) -> Iterator[Need]:
    lengths = sorted({way.along for ways in load.ways for way in ways})
    widths = sorted({way.across for ways in load.ways for way in ways})
    length, width = max(room[0] for room in load.rooms), max(room[1] for room in load.rooms)
    most = max(_FEWEST_SCALES, min(_MOST_SCALES, isqrt(_WEIGHINGS // len(load.ways))))
    along = [(weights, _rows(weights, load, 0)) for weights in _choices(lengths, length, most)]
    across = [(weights, _rows(weights, load, 1)) for weights in _choices(widths, width, most)]
    for first, rows in along:
        for other, columns in across:
            yield need_of(load, first, other, rows, columns)


def need_of(load: Load, along: Weights, across: Weights, rows: Sequence[int], columns: Sequence[int]) -> Need:
    """Weigh all pieces, and the panels by their heaviest rows along x and along y."""
    total = 0
    for ways, number in zip(load.ways, load.numbers, strict=True):
        total += number * min(along[way.along] * across[way.across] for way in ways)
    return Need(total, tuple(row * column for row, column in zip(rows, columns, strict=True)))


def _rows(weights: Weights, load: Load, axis: int) -> list[int]:
    """Give, for each panel, what the heaviest row on it weighs."""
    numbers: dict[int, int] = {}
    for ways, number in zip(load.ways, load.numbers, strict=True):
        for extent in sorted({way.across if axis else way.along for way in ways}):
            numbers[extent] = numbers.get(extent, 0) + number
    known: dict[int, int] = {}
    for room in load.rooms:
        if room[axis] not in known:
            known[room[axis]] = heaviest_row(
                [(extent, weights[extent], number) for extent, number in numbers.items()], room[axis]
            )
    return [known[room[axis]] for room in load.rooms]


def heaviest_row(sizes: Sequence[tuple[int, int, int]], room: int) -> int:
    """Give what pieces (extent, weight, how many there are) that fit in a row weigh at most.

    Exact, by branch and bound; where that takes too long, a number that is certainly not too small.
    """
    fine = 2 * room.bit_length() + 1  # bits that tell any two ratios of extents within the room apart
    order = sorted(
        (size for size in sizes if size[0] <= room and size[1] > 0),
        key=lambda size: (-((size[1] << fine) // size[0]), -size[0]),
    )
    last = len(order)
    best, nodes = 0, 0
    limit = 0  # of the branches that were given up
    stack = [(0, room, 0)]
    while stack:
        at, left, weight = stack.pop()
        best = max(best, weight)
        while at < last and order[at][0] > left:
            at += 1
        if at == last:
            continue
        extent, value, number = order[at]
        reach = weight + left * value // extent
        if reach <= best:
            continue
        nodes += 1
        if nodes > _NODES:
            limit = max(limit, reach)
            continue
        most = min(number, left // extent)
        stack.extend((at + 1, left - count * extent, weight + count * value) for count in range(most + 1))
    return max(best, limit)


def _choices(extents: Sequence[int], room: int, most: int) -> list[Weights]:
    """Give weights worth trying, each only once and in proportion: few, spread over all families."""
    makers = [lambda extent: extent, *_spread(list(_cut_off(extents, room)), most // 2)]
    makers.extend(_spread(list(_in_parts(extents, room)), most // 4))
    makers.extend(_spread(list(_rounded(extents, room)), most // 4))
    found: dict[tuple[int, ...], Weights] = {}
    for weigh in makers:
        weights = {extent: weigh(extent) for extent in extents}
        if any(weights.values()):
            found.setdefault(tuple(weights.values()), weights)
    return list(found.values())


def _spread(makers: list[Callable[[int], int]], most: int) -> list[Callable[[int], int]]:
    step = -(-len(makers) // most) or 1
    return makers[::step]


def _cut_off(extents: Sequence[int], room: int) -> Iterator[Callable[[int], int]]:
    """Small ones dropped, and large ones, beside which only small ones lie, made all of the room (f0)."""

    def cutting(cutoff: int) -> Callable[[int], int]:
        return lambda extent: room if extent > room - cutoff else extent if extent >= cutoff else 0

    cutoffs = sorted(set(extents) | {room - extent + 1 for extent in extents})
    return (cutting(cutoff) for cutoff in cutoffs if 0 < 2 * cutoff <= room)


def _in_parts(extents: Sequence[int], room: int) -> Iterator[Callable[[int], int]]:
    """Count in parts of the room: how many of k + 1 equal parts an extent fills, of k at most (u)."""

    def counting(parts: int) -> Callable[[int], int]:
        return lambda extent: (
            extent * (parts + 1) // room * room if extent * (parts + 1) % room else (extent * parts)
        )

    smallest = max(1, min(extents))
    return (counting(parts) for parts in range(1, min(12, room // smallest) + 1))


def _rounded(extents: Sequence[int], room: int) -> Iterator[Callable[[int], int]]:
    """Round to whole multiples of a small extent: down to a half of the room, up above it (phi, CCM)."""

    def rounding(unit: int) -> Callable[[int], int]:
        whole = room // unit

        def weigh(extent: int) -> int:
            if 2 * extent > room:
                return 2 * (whole - (room - extent) // unit)
            return whole if 2 * extent == room else 2 * (extent // unit)

        return weigh

    return (rounding(unit) for unit in sorted(set(extents)) if 2 * unit <= room)

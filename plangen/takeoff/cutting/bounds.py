"""How few panels could ever do: numbers that no cleverness can beat.

Every piece takes its kerf along, and a panel has one kerf more than its room: then pieces that lie in a
row add up exactly. Sizes are weighed by dual-feasible functions (S. P. Fekete and J. Schepers, "New
classes of fast lower bounds for bin packing problems", Mathematical Programming 91, 2001): a weight
under which whatever fits in a row still adds up to no more than the row.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Literal, TypeAlias

from plangen.takeoff.cutting.model import Bound, Margins, Panel, Piece

Weigh: TypeAlias = Callable[[int], int]
_MOST_CUTOFFS = 24  # per direction: keeps the work small, and a coarser choice is still a true bound


def fewest(pieces: Sequence[Piece], panels: Sequence[Panel], kerf: int, margins: Margins) -> Bound:
    """Give a number of panels that no plan can do with fewer than; the plainest reason among equals."""
    if not any(piece.number for piece in pieces):
        return Bound(0, "area", 0, 0)
    length, width = _room(panels, kerf, margins)
    bounds = [plainest(pieces, panels, kerf, margins), _mixed(pieces, length, width, kerf)]
    return max(bounds, key=lambda bound: bound.number)  # the first of equals


def plainest(pieces: Sequence[Piece], panels: Sequence[Panel], kerf: int, margins: Margins) -> Bound:
    """Give the best bound that has short words: by area, by rows, or by pairs."""
    # A panel as long as the longest and as wide as the widest holds whatever any of them holds.
    length, width = _room(panels, kerf, margins)
    bounds = [
        _area(pieces, length, width, kerf),
        _in_a_row(pieces, length, width, kerf),
        _across(pieces, length, width, kerf),
    ]
    return max(bounds, key=lambda bound: bound.number)


def _room(panels: Sequence[Panel], kerf: int, margins: Margins) -> tuple[int, int]:
    length = max(panel.length for panel in panels) - margins.left - margins.right + kerf
    width = max(panel.width for panel in panels) - margins.low - margins.high + kerf
    return length, width


def _grown(piece: Piece, kerf: int) -> tuple[int, int]:
    return piece.length + kerf, piece.narrowest + kerf


def _ways(piece: Piece, length: int, width: int, kerf: int) -> list[tuple[int, int]]:
    """Give the extents in which a piece fits the room, kerf added."""
    along, across = _grown(piece, kerf)
    ways = [(along, across), (across, along)] if piece.may_turn else [(along, across)]
    return [way for way in ways if way[0] <= length and way[1] <= width]


def _ceiling(part: int, whole: int) -> int:
    return -(-part // whole)


def _area(pieces: Sequence[Piece], length: int, width: int, kerf: int) -> Bound:
    need = sum(_grown(piece, kerf)[0] * _grown(piece, kerf)[1] * piece.number for piece in pieces)
    return Bound(_ceiling(need, length * width), "area", need, length * width)


def _in_a_row(pieces: Sequence[Piece], length: int, width: int, kerf: int) -> Bound:
    """Bound by pieces so wide that no two of them lie side by side, however they are turned."""
    least = _least(pieces, length, width, kerf)
    return _row_bound([(across, along, number) for along, across, number in least], width, length, "lengths")


def _across(pieces: Sequence[Piece], length: int, width: int, kerf: int) -> Bound:
    """Bound the other way: pieces so long that no two of them lie end to end."""
    return _row_bound(_least(pieces, length, width, kerf), length, width, "widths")


def _least(pieces: Sequence[Piece], length: int, width: int, kerf: int) -> list[tuple[int, int, int]]:
    """Give the least a piece can take along x and along y, and how many there are of it."""
    found = []
    for piece in pieces:
        ways = _ways(piece, length, width, kerf)
        if ways:
            found.append((min(way[0] for way in ways), min(way[1] for way in ways), piece.number))
    return found


def _row_bound(
    sizes: Sequence[tuple[int, int, int]], breadth: int, room: int, reason: Literal["lengths", "widths"]
) -> Bound:
    """Bound by pieces of which any two are too broad together: their other extents add up.

    ``sizes`` holds breadth, extent and number. Pieces of more than half the breadth, and the longest
    single one among those that are still too broad beside the narrowest of them.
    """
    broad = [
        (across, along) for across, along, number in sizes if 2 * across > breadth for _ in range(number)
    ]
    beside = min((across for across, _ in broad), default=0)
    others = [along for across, along, number in sizes if number and 2 * across <= breadth < across + beside]
    row = [along for _, along in broad] + ([max(others)] if others else [])
    total = Bound(_ceiling(sum(row), room), reason, sum(row), room, len(row))
    halves = sum(1 for along in row if 2 * along > room)
    pairs = Bound(halves, "pairs", halves, room)
    return max(total, pairs, key=lambda bound: bound.number)


def _mixed(pieces: Sequence[Piece], length: int, width: int, kerf: int) -> Bound:
    ways = [(_ways(piece, length, width, kerf), piece.number) for piece in pieces]
    best = Bound(0, "mixed", 0, length * width)
    lengths = sorted({along for options, _ in ways for along, _ in options})
    widths = sorted({across for options, _ in ways for _, across in options})
    across_weighs = _weighs(widths, width)
    for along_weigh in _weighs(lengths, length):
        for across_weigh in across_weighs:
            need = sum(
                number * min(along_weigh(along) * across_weigh(across) for along, across in options)
                for options, number in ways
                if options
            )
            number = _ceiling(need, length * width)
            if number > best.number:
                best = Bound(number, "mixed", need, length * width)
    return best


def _weighs(sizes: Sequence[int], room: int) -> list[Weigh]:
    """Give weights over ``room``: sizes as they are, or small ones dropped and large ones made all of it."""

    def cutting_off(cutoff: int) -> Weigh:
        def weigh(size: int) -> int:
            if size > room - cutoff:
                return room
            return size if size >= cutoff else 0

        return weigh

    cutoffs = sorted(set(sizes) | {room - size + 1 for size in sizes})
    cutoffs = [cutoff for cutoff in cutoffs if 0 < 2 * cutoff <= room]
    step = _ceiling(len(cutoffs), _MOST_CUTOFFS) or 1
    return [lambda size: size] + [cutting_off(cutoff) for cutoff in cutoffs[::step]]

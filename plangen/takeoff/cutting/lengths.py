"""Plan boards and bars where only the length of the pieces matters."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from math import gcd, lcm

from plangen.takeoff.cutting.columns import Column, Task
from plangen.takeoff.cutting.lengths_fill import Work, coarser
from plangen.takeoff.cutting.lengths_solve import STANDARD, Solved, solve
from plangen.takeoff.cutting.lengths_starts import Job
from plangen.takeoff.cutting.lengths_tidy import tidied
from plangen.takeoff.cutting.model import (
    Bound,
    Layout,
    Panel,
    Piece,
    Plan,
    Sawing,
    TogetherError,
    TooFewError,
    TooLargeError,
)
from plangen.takeoff.cutting.packing import Band, Cell, Filled, Pose, Saw
from plangen.takeoff.cutting.sawing import saw_up
from plangen.takeoff.cutting.sheets import check

DEFAULT = STANDARD
"""Work of the search: a second or two on a common machine for what is hard, a tenth for most."""

_TIDYING = 400_000  # work for each unit of effort that goes into settings and off-cuts


@dataclass(frozen=True, slots=True)
class _Item:
    """Pieces that are cut from one bar in a row, and count as one length; kerfs are in it."""

    length: int
    fits: tuple[bool, ...]
    pieces: tuple[Piece, ...]


def plan_lengths(
    pieces: Sequence[Piece], bars: Sequence[Panel], sawing: Sawing, effort: int = DEFAULT
) -> Plan | None:
    """Crosscut pieces from bars at the least cost; None where pieces could lie side by side or turn.

    Pieces narrower than their bar are ripped once they are cut off; where all on a bar are of one width, the
    bar is ripped to it first, in one pass. What no plan can cost less than is
    proved in whole numbers. Among plans of equal cost the one with fewer bars counts, then what ``prefer``
    names first of settings and off-cut; how many stop settings there are altogether is the same in every
    plan of lengths, so what is made small is how often the stop is set over all bars that differ.
    ``effort`` counts work, never time (100 is usual). All lengths in one small unit.

    Raises TooLargeError when a piece fits on no bar, TogetherError and TooFewError when pieces that belong
    together, or all of them, do not fit on what there is, and ValueError for sizes that are not positive or
    a margin that the first cut cannot take off.
    """
    check(pieces, bars, sawing)
    wanted = [piece for piece in pieces if piece.number]
    if not wanted:
        return Plan((), Bound(0, "area", 0, 0), Fraction(0))
    saw = Saw(sawing.kerf, sawing.margins, "x", sawing.bench, sawing.guide)
    if not _in_a_row(wanted, bars, saw):
        return None
    items, bars = _items(wanted, bars, saw)
    job, members, unit = _job(items, bars, saw)
    solved = solve(job, effort)
    if solved.taken is None:
        raise TooFewError(wanted[0])
    taken = tidied(job, solved.taken, sawing.prefer, Work(effort * _TIDYING))
    filled = _dealt(job, taken, members, bars, saw)
    layouts = tuple(_sawn(one, saw, sawing.first is not None) for one in filled)
    if not _within_rail(layouts, sawing):
        return None
    return Plan(layouts, _bound(job, solved, items, bars, saw), solved.floor * unit)


def _in_a_row(pieces: Sequence[Piece], bars: Sequence[Panel], saw: Saw) -> bool:
    """Say whether no two pieces ever lie side by side, and none lies across."""
    for bar in bars:
        across: list[int] = []
        for piece in pieces:
            poses = saw.poses(piece, bar)
            if any(pose.turned for pose in poses):
                return False
            across.extend(pose.other for pose in poses for _ in range(min(2, piece.number)))
        across.sort()
        if len(across) > 1 and across[0] + across[1] <= saw.room(bar)[1]:
            return False
    return True


def _within_rail(layouts: Sequence[Layout], sawing: Sawing) -> bool:
    guide = sawing.guide
    cuts = [cut for layout in layouts for cut in layout.cuts if cut.by == "hand"]
    return guide is None or all(cut.high - cut.low <= guide for cut in cuts)


def _items(pieces: Sequence[Piece], bars: Sequence[Panel], saw: Saw) -> tuple[list[_Item], list[Panel]]:
    """Give single pieces, and pieces that belong together as one, and the bars that hold any of them."""
    groups: dict[str, list[Piece]] = {}
    items = []
    for piece in pieces:
        fits = tuple(bool(saw.poses(piece, bar)) for bar in bars)
        if not any(fits):
            raise TooLargeError(piece)
        if piece.together:
            groups.setdefault(piece.together, []).extend([piece] * piece.number)
        else:
            items.extend([_Item(piece.length + saw.kerf, fits, (piece,))] * piece.number)
    for group in groups.values():
        length = sum(piece.length + saw.kerf for piece in group)
        fits = tuple(
            length <= saw.room(bar)[0] and all(saw.poses(piece, bar) for piece in group) for bar in bars
        )
        if not any(fits):
            raise TogetherError(group[0])
        items.append(_Item(length, fits, tuple(group)))
    of_use = [kind for kind in range(len(bars)) if any(item.fits[kind] for item in items)]
    items = [replace(item, fits=tuple(item.fits[kind] for kind in of_use)) for item in items]
    return items, [bars[kind] for kind in of_use]


def _job(items: Sequence[_Item], bars: Sequence[Panel], saw: Saw) -> tuple[Job, list[list[_Item]], Fraction]:
    """Merge equal items, and count in the largest units of length and of cost that change nothing.

    Gives the job, the items of each merged one, and what one unit of cost is.
    """
    merged: dict[tuple[int, tuple[bool, ...]], list[_Item]] = {}
    for item in items:
        merged.setdefault((item.length, item.fits), []).append(item)
    order = sorted(merged, key=lambda key: (-key[0], key[1]))
    length_unit = gcd(*(length for length, _ in order))
    whole = lcm(*(bar.cost.denominator for bar in bars))
    costs = [int(bar.cost * whole) for bar in bars]
    cost_unit = gcd(*costs) or 1
    task = Task(
        tuple(len(merged[key]) for key in order),
        tuple(cost // cost_unit for cost in costs),
        tuple(bar.available for bar in bars),
    )
    lengths, rooms = coarser(
        [length // length_unit for length, _ in order],
        [max(0, saw.room(bar)[0] // length_unit) for bar in bars],
    )
    job = Job(
        task,
        lengths,
        rooms,
        tuple(tuple(fits[kind] for _, fits in order) for kind in range(len(bars))),
    )
    return job, [merged[key] for key in order], Fraction(cost_unit, whole)


def _dealt(
    job: Job, taken: Sequence[tuple[Column, int]], members: list[list[_Item]], bars: Sequence[Panel], saw: Saw
) -> list[Filled]:
    """Put real pieces on real bars: bars that are sawn alike follow each other, the fullest first."""

    def rank(entry: tuple[Column, int]) -> tuple[object, ...]:
        column, times = entry
        used = sum(job.lengths[item] * number for item, number in column.gives)
        return (column.kind, -times, used - job.rooms[column.kind], column.gives)

    waiting = [list(reversed(group)) for group in members]
    filled = []
    for column, times in sorted(taken, key=rank):
        for _ in range(times):
            bar = bars[column.kind]
            pieces = [
                piece
                for item, number in column.gives
                for _ in range(number)
                for piece in waiting[item].pop().pieces
            ]
            filled.append(Filled(bar, bands=[_band(piece, bar, saw) for piece in pieces]))
    return filled


def _sawn(filled: Filled, saw: Saw, fixed: bool) -> Layout:
    """Saw a bar up: crosscut and then ripped piece by piece, or ripped first where one rip does for all."""
    placed = [entry for band in filled.bands for cell in band.cells for entry in cell.pieces]
    widths = {pose.other for _, pose in placed}
    width = max(widths)
    if fixed or len(placed) < 2 or len(widths) > 1 or width >= saw.room(filled.panel)[1]:
        return saw_up(filled, saw, fixed)
    cells = [
        Cell(pose.first, width, [(piece, Pose(width, pose.first, pose.turned))]) for piece, pose in placed
    ]
    strip = Band(width, sum(cell.other for cell in cells), cells)
    return saw_up(Filled(filled.panel, width, [strip]), replace(saw, first="y"))


def _band(piece: Piece, bar: Panel, saw: Saw) -> Band:
    pose: Pose = saw.poses(piece, bar)[0]
    return Band(pose.first, pose.other, [Cell(pose.other, pose.first, [(piece, pose)])])


def _bound(job: Job, solved: Solved, items: Sequence[_Item], bars: Sequence[Panel], saw: Saw) -> Bound:
    """Give how few bars could do; the plainest reason among equals.

    No bar costs more than the dearest, so what no plan can cost less than says how many there must be.
    """
    rooms = [saw.room(bar)[0] for bar in bars]
    room = max(rooms)
    need = sum(item.length for item in items)
    cut = sum(len(item.pieces) for item in items)
    halves = sum(1 for item in items if 2 * item.length > room)
    dearest = max(job.task.costs)
    bounds = [Bound(-(-need // room), "lengths", need, room, cut), Bound(halves, "pairs", halves, room)]
    if dearest:
        bounds.append(Bound(-(-solved.floor // dearest), "patterns", need, room, cut))
    return max(bounds, key=lambda bound: bound.number)

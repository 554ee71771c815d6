"""Try many orders and rules of filling, keep the best, and try to do better from there."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import combinations
from typing import TypeAlias

from plangen.takeoff.cutting.bounds import fewest, least_cost
from plangen.takeoff.cutting.model import Direction, Layout, Margins, Panel, Piece, Plan, TooLargeError
from plangen.takeoff.cutting.packing import Chooser, Filled, Saw, Thrift, pack, pack_one
from plangen.takeoff.cutting.sawing import saw_up

Order: TypeAlias = Callable[[Piece], tuple[int, ...]]
Score: TypeAlias = tuple[Fraction, int, int, int]

ORDERS: tuple[Order, ...] = (
    lambda piece: (-piece.length, -piece.width),
    lambda piece: (-piece.width, -piece.length),
    lambda piece: (-piece.length * piece.width, -piece.length),
    lambda piece: (-max(piece.length, piece.width), -min(piece.length, piece.width)),
)
THRIFTS: tuple[Thrift, ...] = ("equal", "close", "any")


@dataclass(frozen=True, slots=True)
class _Candidate:
    """A way to cut everything, and how good it is."""

    layouts: tuple[Layout, ...]
    score: Score


def search(
    pieces: Sequence[Piece],
    panels: Sequence[Panel],
    kerf: int,
    margins: Margins,
    directions: Sequence[Direction],
    rounds: int,
) -> Plan:
    """Find a cheap plan: least cost, then fewest panels, fewest settings of fence and stop, largest off-cut.

    ``rounds`` is the budget of the improvement; no clock is read, so the result is the same everywhere.
    Raises TooLargeError when a piece fits on no panel, ValueError for sizes that are not positive or a
    margin that the first cut cannot take off.
    """
    _check(pieces, panels, kerf, margins)
    saws = [Saw(kerf, margins, first) for first in directions]
    single = [replace(piece, number=1) for piece in pieces for _ in range(piece.number)]
    for piece in single:
        if not any(saws[0].poses(piece, panel) for panel in panels):
            raise TooLargeError(piece)
    bound = fewest(pieces, panels, kerf, margins)
    floor = least_cost(pieces, panels, kerf, margins)
    if not single:
        return Plan((), bound, floor)
    best = _best(single, panels, saws, rounds, floor)
    return Plan(best.layouts, bound, floor)


def _check(pieces: Sequence[Piece], panels: Sequence[Panel], kerf: int, margins: Margins) -> None:
    if kerf < 0 or any(min(piece.length, piece.narrowest) <= 0 for piece in pieces):
        raise ValueError("sizes must be positive")
    if any(0 < margin <= kerf for margin in (margins.left, margins.low)):
        raise ValueError("a margin must be zero or wider than the kerf")
    for names in ([panel.name for panel in panels], [piece.name for piece in pieces]):
        if len(set(names)) != len(names):
            raise ValueError("pieces and panels must have different names")


def _best(
    single: list[Piece], panels: Sequence[Panel], saws: Sequence[Saw], rounds: int, floor: Fraction
) -> _Candidate:
    best: _Candidate | None = None
    recipe: tuple[list[Piece], Saw, Thrift, Chooser] | None = None
    for saw in saws:
        for order in ORDERS:
            queue = sorted(single, key=lambda piece: (order(piece), piece.name))
            for thrift in THRIFTS:
                for choose in _choosers(panels, saw):
                    found = _candidate(pack(queue, panels, saw, thrift, choose), saw)
                    if best is None or found.score < best.score:
                        best, recipe = found, (queue, saw, thrift, choose)
    assert best is not None
    assert recipe is not None
    best = _urged(best, recipe, panels, rounds, floor)
    for saw in saws:
        best = _exchanged(best, single, panels, saw)
    return best


def _choosers(panels: Sequence[Panel], saw: Saw) -> Iterator[Chooser]:
    """Ways to choose a fresh panel: a favourite while the piece fits on it, else the cheapest that fits."""

    def favouring(favourite: Panel | None) -> Chooser:
        def choose(piece: Piece, among: Sequence[Panel]) -> Panel:
            if favourite is not None and saw.poses(piece, favourite):
                return favourite
            fitting = [panel for panel in among if saw.poses(piece, panel)]
            return min(fitting, key=lambda panel: (panel.cost, panel.length, panel.name))

        return choose

    if len(panels) > 1:
        yield favouring(None)
    for panel in panels:
        yield favouring(panel)


def _candidate(filled: Sequence[Filled], saw: Saw) -> _Candidate:
    return _scored(tuple(saw_up(one, saw) for one in filled))


def _scored(layouts: tuple[Layout, ...]) -> _Candidate:
    settings = {(cut.along, cut.at) for layout in layouts for cut in layout.cuts}
    largest = max((rest.length * rest.width for layout in layouts for rest in layout.rests), default=0)
    cost = sum((layout.panel.cost for layout in layouts), Fraction(0))
    return _Candidate(layouts, (cost, len(layouts), len(settings), -largest))


def _urged(
    best: _Candidate,
    recipe: tuple[list[Piece], Saw, Thrift, Chooser],
    panels: Sequence[Panel],
    rounds: int,
    floor: Fraction,
) -> _Candidate:
    """Pack again and again with the pieces of the emptiest panel moved toward the front of the queue."""
    queue, saw, _, choose = recipe
    urgency = dict.fromkeys(queue, 0)
    place = {id(piece): index for index, piece in enumerate(queue)}
    for step in range(rounds):
        if best.score[0] <= floor:
            break
        filled = pack(queue, panels, saw, THRIFTS[step % len(THRIFTS)], choose)
        found = _candidate(filled, saw)
        if found.score < best.score:
            best = found
        emptiest = min(filled, key=lambda one: sum(piece.length * piece.width for piece in one.pieces()))
        for piece in emptiest.pieces():
            urgency[piece] += 1 + step % 3
        queue = sorted(queue, key=lambda piece: (place[id(piece)] - urgency[piece] * 2, place[id(piece)]))
    return best


def _exchanged(best: _Candidate, single: Sequence[Piece], panels: Sequence[Panel], saw: Saw) -> _Candidate:
    """Give one panel, or two together, the cheapest single panel that holds the same pieces."""
    by_name = {piece.name: piece for piece in single}
    cheap = sorted(panels, key=lambda panel: (panel.cost, panel.name))
    improved = True
    while improved:
        improved = False
        groups: list[tuple[int, ...]] = [(index,) for index in range(len(best.layouts))]
        groups += list(combinations(range(len(best.layouts)), 2))
        for group in groups:
            taken = [best.layouts[index] for index in group]
            paid = sum((layout.panel.cost for layout in taken), Fraction(0))
            pieces = [by_name[laid.name] for layout in taken for laid in layout.pieces]
            area = sum(piece.length * piece.narrowest for piece in pieces)
            for panel in cheap:
                if panel.cost > paid or (panel.cost == paid and len(group) == 1):
                    break
                if panel.length * panel.width < area:
                    continue
                one = _all_on(pieces, panel, saw)
                if one is None:
                    continue
                kept = [layout for index, layout in enumerate(best.layouts) if index not in group]
                found = _scored((*kept, saw_up(one, saw)))
                if found.score < best.score:
                    best, improved = found, True
                    break
            if improved:
                break
    return best


def _all_on(pieces: Sequence[Piece], panel: Panel, saw: Saw) -> Filled | None:
    for order in ORDERS:
        queue = sorted(pieces, key=lambda piece: (order(piece), piece.name))
        for thrift in THRIFTS:
            filled = pack_one(queue, panel, saw, thrift)
            if filled is not None:
                return filled
    return None

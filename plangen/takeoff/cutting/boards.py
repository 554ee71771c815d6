"""Plan the cutting of solid boards."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from plangen.takeoff.cutting.boards_solve import solve
from plangen.takeoff.cutting.lengths import plan_lengths
from plangen.takeoff.cutting.lengths_solve import STANDARD
from plangen.takeoff.cutting.model import Bound, Panel, Piece, Plan, Sawing
from plangen.takeoff.cutting.opening import Opening
from plangen.takeoff.cutting.sheets import check, find_sheets
from plangen.takeoff.cutting.tidy import tidied

DEFAULT = STANDARD
"""Work of the search: a second or two on a common machine for what is hard."""

_SEARCH, _TIDYING = 1_500, 400  # weighings of a piece against a board for each unit of effort
_EACH = 1_500  # of tidying for each piece, where they are few
_RIVALS = 60  # first plans whose boards are taken as ways to fill one


def plan_boards(
    pieces: Sequence[Piece], boards: Sequence[Panel], sawing: Sawing, effort: int = DEFAULT
) -> Plan:
    """Cut pieces at the least cost from boards whose widths, lengths and prices may be mixed.

    A board is crosscut to lengths that are then ripped, or, where that is cheaper, ripped first so that
    narrow pieces lie side by side; one more pass across, and one to trim. The grain runs along x, and no
    piece turns. Where only lengths matter ``plan_lengths`` answers. ``least_cost`` holds for every way of
    sawing straight through. ``effort`` counts work, never time (100 is usual). All lengths in one small
    unit.

    Raises TooLargeError when a piece fits on no board, TogetherError and TooFewError when pieces that belong
    together, or all of them, do not fit on what there is, and ValueError for sizes that are not positive or
    a margin that the first cut cannot take off.
    """
    check(pieces, boards, sawing)
    wanted = [replace(piece, may_turn=False) for piece in pieces if piece.number]
    if not wanted:
        return Plan((), Bound(0, "area", 0, 0), Fraction(0))
    by_length = plan_lengths(wanted, boards, sawing, effort)
    if by_length is not None:
        return by_length
    found = find_sheets(wanted, boards, sawing, effort * _SEARCH)
    plans = (found.best, *found.rivals[:_RIVALS])
    solved = solve(found.work, plans, found.weighed, found.floor, effort)
    best = Opening(solved.sheets, ())
    tidying = min(effort * _TIDYING, _EACH * len(found.work.wanted))
    layouts = tidied(found.work, best, found.rivals, sawing, tidying)
    return Plan(layouts, _bound(found.bound, solved.floor, boards), solved.floor)


def _bound(plain: Bound, least: Fraction, boards: Sequence[Panel]) -> Bound:
    """Give the fewest boards that can do: what sizes tell, or more where the least cost asks for more."""
    dearest = max(board.cost for board in boards)
    if dearest and (number := -(-least // dearest)) > plain.number:
        return Bound(int(number), "patterns", 0, 0)
    return plain

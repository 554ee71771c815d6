"""Plan the cutting of sheets."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from plangen.takeoff.cutting.mixes import Mix, Need, cheapest, hopeful
from plangen.takeoff.cutting.model import (
    Bound,
    GuideTooShortError,
    Panel,
    Piece,
    Plan,
    Sawing,
    TogetherError,
    TooFewError,
    TooLargeError,
)
from plangen.takeoff.cutting.opening import Opening, laid_out, openings
from plangen.takeoff.cutting.recreate import Filling, Work, prepare, units_on
from plangen.takeoff.cutting.scales import load_of, needs
from plangen.takeoff.cutting.sheets_proof import MOST_KINDS, Proof, prove
from plangen.takeoff.cutting.tidy import tidied
from plangen.takeoff.cutting.tree import Sheet, Taste, grounds

DEFAULT = 600_000
"""Work of the search: pieces weighed against bands, about a second on a common machine."""

_ROUNDS = 3  # times that the hopeful mixes are gone through, each with its share of the effort
_MIXES = 6  # mixes gone through in a round
_TIDYING = 8  # one part in so many of the effort goes into settings and off-cuts
_MANY, _AWAY = 40, 8  # sheets beyond which one in so many is taken away at once, to pack the others denser
_WEIGHING = DEFAULT  # of work, at most, beside the search: weighing all ways to fill a sheet
_PLAIN = Taste(1, 1)
_ALONE = 4_000  # work on the question whether one sheet holds what belongs together


def plan_sheets(
    pieces: Sequence[Piece], sheets: Sequence[Panel], sawing: Sawing, effort: int = DEFAULT
) -> Plan:
    """Cut pieces from sheets by cuts that go straight through, in at most three stages.

    The edges are trimmed first. A piece smaller across than what the third stage leaves is trimmed when it
    is free. A piece turns only where it says so. ``effort`` counts work, never time, so that the result is
    the same everywhere. All lengths in one small unit.

    Raises TooLargeError when a piece fits on no sheet, GuideTooShortError when it would but for the rail,
    TogetherError and TooFewError when pieces that belong together, or all of them, do not fit on what there
    is, and ValueError for sizes that are not positive or a margin that the first cut cannot take off.
    """
    check(pieces, sheets, sawing)
    wanted = [piece for piece in pieces if piece.number]
    if not wanted:
        return Plan((), Bound(0, "area", 0, 0), Fraction(0))
    found = find_sheets(wanted, sheets, sawing, effort, weigh=True)
    layouts = tidied(found.work, found.best, found.rivals, sawing, effort // _TIDYING)
    return Plan(layouts, found.bound, found.floor)


@dataclass(frozen=True, slots=True)
class Found:
    """The best plan found, the other first plans, what any needs, and what no plan can be under."""

    work: Work
    best: Opening
    rivals: tuple[Opening, ...]
    weighed: tuple[Need, ...]
    bound: Bound
    floor: Fraction


def find_sheets(
    wanted: Sequence[Piece], sheets: Sequence[Panel], sawing: Sawing, effort: int, weigh: bool = False
) -> Found:
    """Find a cheap plan for pieces that are wanted once or more; raises as ``plan_sheets`` does.

    With ``weigh`` all ways to fill a sheet are weighed for the bound where there are few kinds of piece.
    """
    work = prepare(wanted, sheets, sawing)
    _check_fit(work, sawing)
    bound, weighed = needs(wanted, sheets, sawing)
    found = sorted(openings(work), key=lambda one: (len(one.left), one.cost, len(one.sheets)))
    first = found[0] if found else Opening((), work.wanted)
    if first.left:
        first = _squeezed(work, first, effort)
    floor = cheapest(sheets, weighed, first.cost)
    if weigh and floor < first.cost and len(wanted) <= MOST_KINDS:
        proof = prove(
            load_of(wanted, sheets, sawing), sheets, _fills(first), first.cost,
            Proof(floor, tuple(weighed)), min(effort, _WEIGHING),
        )  # fmt: skip
        floor, weighed = proof.floor, list(proof.needs)
        bound = _raised(bound, weighed)
    best = cheaper(work, first, weighed, floor, effort)
    rivals = tuple(one for one in found if not one.left and one is not first)
    return Found(work, best, rivals, tuple(weighed), bound, floor)


def _fills(plan: Opening) -> list[tuple[int, Counter[int]]]:
    """Give the kind of each panel of a plan, and how often each piece lies on it."""
    return [(sheet.ground.kind, Counter(sheet.numbers())) for sheet in plan.sheets]


def _raised(bound: Bound, weighed: Sequence[Need]) -> Bound:
    """Give the number of panels that weighing all fills proved, where it is more than a bound says."""
    hardest = max(weighed, key=lambda need: need.number)
    if hardest.number <= bound.number:
        return bound
    return Bound(hardest.number, "patterns", hardest.need, max(hardest.have))


def check(pieces: Sequence[Piece], panels: Sequence[Panel], sawing: Sawing) -> None:
    """Refuse what is no size, a margin that no cut takes off, and names that stand twice."""
    margins = sawing.margins
    if sawing.kerf < 0 or any(min(piece.length, piece.narrowest) <= 0 for piece in pieces):
        raise ValueError("sizes must be positive")
    if any(0 < margin <= sawing.kerf for margin in (margins.left, margins.low)):
        raise ValueError("a margin must be zero or wider than the kerf")
    for names in ([panel.name for panel in panels], [piece.name for piece in pieces]):
        if len(set(names)) != len(names):
            raise ValueError("pieces and panels must have different names")


def _check_fit(work: Work, sawing: Sawing) -> None:
    """Refuse a piece that fits on no panel, and pieces that belong together and fit on no single one."""
    anyhow = grounds(work.pieces, work.panels, replace(sawing, guide=None, first=None))
    for number, piece in enumerate(work.pieces):
        if any(ground.poses[number] for ways in work.grounds for ground in ways):
            continue
        if sawing.guide is not None and any(ground.poses[number] for ways in anyhow for ground in ways):
            raise GuideTooShortError(piece, sawing.guide)
        raise TooLargeError(piece)
    for unit in range(len(work.pieces), len(work.units)):
        if not _fits_alone(work, unit, sawing):
            raise TogetherError(work.pieces[work.units[unit][0]])


def _fits_alone(work: Work, unit: int, sawing: Sawing) -> bool:
    """Say whether a search finds one panel that holds all pieces of a unit."""
    counts = Counter(work.units[unit])
    members = [replace(work.pieces[number], number=count, together="") for number, count in counts.items()]
    alone = prepare(members, work.panels, sawing)
    for ways in alone.grounds:
        for ground in ways:
            filling = Filling(alone, (Sheet(ground),), alone.wanted, 1)
            filling.improve(_ALONE)
            if not filling.left:
                return True
    return False


def _squeezed(work: Work, first: Opening, effort: int) -> Opening:
    """Bring everything onto all the panels that there are."""
    sheets = list(first.sheets)
    used = Counter(sheet.ground.kind for sheet in sheets)
    for kind, panel in enumerate(work.panels):
        if panel.available is not None and work.grounds[kind]:
            more = min(panel.available - used[kind], len(first.left))
            sheets.extend(Sheet(work.grounds[kind][0]) for _ in range(more))
    filling = Filling(work, sheets, first.left, 1)
    filling.improve(effort)
    if filling.left:
        raise TooFewError(work.pieces[work.units[filling.left[0]][0]])
    return Opening(tuple(sheet for sheet in filling.sheets if sheet.bands), ())


def cheaper(work: Work, first: Opening, weighed: Sequence[Need], floor: Fraction, effort: int) -> Opening:
    """Search for cheaper panels that hold everything until the bound is met or the effort spent."""
    best, left = first, effort
    if len(first.sheets) > _MANY and first.cost > floor:
        best, spent = _denser(work, first, effort // 2)
        left -= spent
    share = max(1, effort // _ROUNDS)
    begun: dict[Mix, Filling] = {}
    while best.cost > floor and left > 0:
        chosen = hopeful(work.panels, weighed, best.cost, _mix(work, best), _MIXES)
        if not chosen:
            break
        turn = max(1, min(share, left) // len(chosen))
        for mix in chosen:
            if mix not in begun:
                begun[mix] = _started(work, best, mix, len(begun) + 1)
            left -= max(1, begun[mix].improve(min(turn, left)))
            if not begun[mix].left:
                best = Opening(tuple(sheet for sheet in begun[mix].sheets if sheet.bands), ())
                break
            if left <= 0:
                break
    return best


def _denser(work: Work, first: Opening, effort: int) -> tuple[Opening, int]:
    """Pack a great number of sheets denser all at once; give the better plan, and what was spent.

    So many of the emptiest sheets are taken away that not all can be expected to fit on the others; what
    is left over gets sheets of its own again.
    """
    mix = tuple(count - count // _AWAY for count in _mix(work, first))
    filling = _started(work, first, mix, 1)
    spent = filling.improve(effort)
    stock = [
        None if panel.available is None else panel.available - count
        for panel, count in zip(work.panels, mix, strict=True)
    ]
    rank = work.ranks[0]
    order = sorted(filling.left, key=rank.__getitem__)
    favourite = max(range(len(mix)), key=lambda kind: (mix[kind], -kind))
    more = laid_out(work, order, filling.sheets, stock, favourite, 0, _PLAIN)
    return (more if not more.left and more.cost < first.cost else first), spent


def _mix(work: Work, opening: Opening) -> Mix:
    counts = Counter(sheet.ground.kind for sheet in opening.sheets)
    return tuple(counts[kind] for kind in range(len(work.panels)))


def _started(work: Work, best: Opening, mix: Mix, seed: int) -> Filling:
    """Take the fullest sheets of the best plan that the mix has, and empty ones for the others."""
    open_, sheets, left = list(mix), [], []
    by_content = sorted(
        best.sheets, key=lambda sheet: -sum(work.areas[unit] for unit in units_on(work, sheet))
    )
    for sheet in by_content:
        kind = sheet.ground.kind
        if open_[kind]:
            open_[kind] -= 1
            sheets.append(sheet)
        else:
            left.extend(units_on(work, sheet))
    for kind, count in enumerate(open_):
        if count and work.grounds[kind]:
            sheets.extend(Sheet(work.grounds[kind][0]) for _ in range(min(count, len(work.wanted))))
    return Filling(work, sheets, left, seed)

"""Where leaders to small pieces come down between the numbers of the cuts above a board."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from plangen.drawing.cutting_marks import DISC, steps
from plangen.drawing.cutting_text import spread

APART, NEAR = 1.5, 0.9  # mm from one leader to the next: wanted, and the least
AIR = 0.6  # mm between two numbers, and between a number and a leader


@dataclass(frozen=True, slots=True)
class Above:
    """What stands above a board, as places along it in mm; each tuple in the order it was asked for."""

    discs: tuple[float, ...]  # middles of the cuts' numbers
    feet: tuple[float, ...]  # where a leader stands in its piece
    slots: tuple[float, ...]  # where it passes the row of numbers: its foot, where nothing is in its way


def discs_alone(cuts: Sequence[float], low: float, high: float) -> list[float]:
    """Give the places of the numbers where no leader comes between them; ``cuts`` rise."""
    return spread(cuts, [DISC] * len(cuts), AIR, low, high)


def above(cuts: Sequence[float], pieces: Sequence[tuple[float, float]], low: float, high: float) -> Above:
    """Place the numbers of ``cuts``, which rise, and a leader for each piece, from its low end to its high.

    A leader stands in the middle of its piece, or as near to it as numbers and other leaders let it. Where
    they leave no room for one, it stands clear of the other leaders alone, and numbers and leaders move
    apart above the board, in the order of their places on it, so that none of their lines cross.
    """
    discs = discs_alone(cuts, low, high)
    feet: list[float] = []
    crowded = False
    for start, end in pieces:
        middle = (start + end) / 2
        ways = [x for off in steps(0.0, (end - start) / 2) for x in (middle + off, middle - off)]
        foot = next(
            (x for x in ways if _clear(x, discs, DISC + AIR) and _clear(x, feet, APART)),
            None,
        )
        if foot is None:
            crowded = True
            foot = next((x for x in ways if _clear(x, feet, NEAR)), None)
        if foot is None:
            foot = max(ways, key=lambda x: min(abs(x - other) for other in feet))
        feet.append(foot)
    if crowded and _closest(feet) < NEAR:
        feet = max(feet, _evenly(pieces), key=_closest)
    if not crowded:
        return Above(tuple(discs), tuple(feet), tuple(feet))
    wanted = [*cuts, *feet]
    order = sorted(range(len(wanted)), key=lambda index: (wanted[index], index))
    halves = [DISC if index < len(cuts) else 0.0 for index in order]
    places = spread([wanted[index] for index in order], halves, AIR, low, high)
    found = dict(zip(order, places, strict=True))
    moved = [found[index] for index in range(len(wanted))]
    return Above(tuple(moved[: len(cuts)]), tuple(feet), tuple(moved[len(cuts) :]))


def _evenly(pieces: Sequence[tuple[float, float]]) -> list[float]:
    """Share out each piece's length among the leaders of all pieces that lie side by side there."""
    met: Counter[tuple[float, float]] = Counter()
    feet = []
    for start, end in pieces:
        met[start, end] += 1
        feet.append(start + (end - start) * (met[start, end] - 0.5) / pieces.count((start, end)))
    return feet


def _closest(places: Sequence[float]) -> float:
    return min((b - a for a, b in pairwise(sorted(places))), default=float("inf"))


def _clear(place: float, others: Sequence[float], distance: float) -> bool:
    return all(abs(place - other) >= distance - 1e-9 for other in others)

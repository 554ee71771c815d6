"""Place the notes of one view, whose dimensions stand: each leader where it disturbs least and near by."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache, partial
from math import cos, pi, sin
from typing import Literal

import numpy as np

from plangen.drawing.dimension_lines import DimensionLook, leader_note
from plangen.drawing.part_sheets.dual import radius_marks
from plangen.drawing.part_sheets.grain import put_grain
from plangen.drawing.part_sheets.ground import Ground, Trace, stacked, trace
from plangen.drawing.part_sheets.marked import grouped, note_key
from plangen.drawing.part_sheets.notes import Note
from plangen.drawing.part_sheets.placing import ANY_ROOM, TIGHT, Candidate, Placed, View, cost_of, settled
from plangen.drawing.part_sheets.targets import Target, targets_of
from plangen.drawing.part_sheets.words import wrapped
from plangen.drawing.sheet.lettering import LEAST_SIZE
from plangen.drawing.sheet.model import Mark, Xy

DISTANCES = (7.0, 10.0, 14.0, 19.0, 25.0, 33.0)  # mm from what a note speaks of to its leader's bend
STEPS = 18
WAYS = tuple(  # directions of leaders, the steepest left out
    (cos(angle), sin(angle))
    for angle in (2 * pi * (step + 0.5) / STEPS for step in range(STEPS))
    if abs(cos(angle)) > 0.2
)
NOTE_SIZE = LEAST_SIZE
NOTE_WIDTHS = (44.0, 33.0, 25.0)  # mm; the narrow ones for views with little room


def add_notes(
    placed: Placed, notes: Sequence[Note], width: float = NOTE_WIDTHS[0], room: Xy = ANY_ROOM
) -> View | None:
    """Place the notes of a view; their lines break at ``width`` mm. None where not all find a place."""
    broken = width * (1.4 if placed.style.system == "both" else 1.0)
    finished = []
    for order, (cost, clashes, dimensioned) in enumerate(placed.tried):
        ground = dimensioned.copy()
        pieces = (
            (partial(_places, placed, note, broken), partial(grouped, key=note_key(placed.plan, note)))
            for note in notes
        )
        found = settled(pieces, ground, room, lenient=placed.lenient)
        if found is not None:
            finished.append((cost + found[0], order, clashes + found[1], ground))
    if not finished:
        return None
    _, _, clashes, ground = min(finished, key=lambda item: item[:2])
    grain = placed.picture.sight.station == "middle" and put_grain(placed.picture, ground)
    return View(placed.picture, tuple(ground.marks), placed.printed, clashes, ground.box, grain)


@dataclass(frozen=True, slots=True)
class _Leader:
    """How one note's leader is drawn; the notes that are the same are worked out once."""

    radius: bool
    text: str
    lines: tuple[str, ...]
    look: DimensionLook
    ends: Literal["arrow", "dot"]

    def drawn(self, tip: Xy, way: Xy, far: float) -> tuple[Mark, ...]:
        """Draw it from a tip, ``far`` along a way to its bend."""
        elbow = (tip[0] + way[0] * far, tip[1] + way[1] * far)
        if self.radius:
            return radius_marks(tip, elbow, self.text, self.look)
        return leader_note(tip, elbow, self.lines, size=NOTE_SIZE, look=self.look, ends=self.ends)


@lru_cache(maxsize=4096)
def _stamp(leader: _Leader, way: Xy, far: float) -> Trace:
    """Give the trace of a leader whose tip lies at the origin."""
    return trace(leader.drawn((0.0, 0.0), way, far))


def _places(placed: Placed, note: Note, width: float, ground: Ground) -> Iterator[Candidate]:
    """Give places for a leader note round each of the places that it speaks of, the nearest first.

    The least steep come first; those that cannot be cheaper than what was given are left out.
    """
    lines = tuple(wrapped(note.text, NOTE_SIZE, width))
    targets = targets_of(placed.plan, note, placed.picture)
    open_ways = [(target, way) for target in targets for way in WAYS if target.open_to(way)]
    open_ways.sort(key=lambda item: _steep(item[1]))
    leaders = {
        inside: _Leader(note.kind == "radius", note.text, lines, placed.look, "dot" if inside else "arrow")
        for inside in (False, True)
    }
    cheapest = float("inf")
    for far in DISTANCES:
        free = False
        for inside, leader in leaders.items():
            here = [
                (target, way)
                for target, way in open_ways
                if target.inside is inside and 0.45 * far + _steep(way) < cheapest
            ]
            if not here:
                continue
            tips = [_tip(target, way) for target, way in here]
            tried = stacked([_stamp(leader, way, far) for _, way in here]).moved(np.array(tips))
            clashes = ground.clashes(tried)
            for number, ((_, way), tip) in enumerate(zip(here, tips, strict=True)):
                cost = 0.45 * far + _steep(way)
                if cost >= cheapest:
                    break
                if clashes[number]:
                    cost += TIGHT * int(clashes[number])
                else:
                    crossed = ground.crossings(tried.at(slice(number, number + 1)))
                    cost += cost_of(crossed, 1.5) + crossed[0]
                    free = True
                if cost < cheapest and (placed.lenient or not clashes[number]):
                    cheapest = cost
                    draw = partial(leader.drawn, tip, way, far)
                    yield Candidate(cost, int(clashes[number]), draw)
        if free:
            return


def _tip(target: Target, way: Xy) -> Xy:
    return (target.at[0] + way[0] * target.rim, target.at[1] + way[1] * target.rim)


def _steep(way: Xy) -> float:
    """Weigh the direction of a leader: level and to the right is best."""
    return round(1.5 * abs(way[1]) + (0.0 if way[0] > 0 else 0.3), 9)

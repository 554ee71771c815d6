"""The one three-quarter view that the whole booklet keeps."""

from __future__ import annotations

from dataclasses import replace

from plangen.design.model import Design
from plangen.drawing.hidden_lines import View, pictorial
from plangen.drawing.rough import rough_shares
from plangen.drawing.scene import copy_actor
from plangen.solids import Solids, part_solid

CANDIDATES = ((32.0, 20.0), (-32.0, 20.0), (32.0, 28.0), (-32.0, 28.0), (45.0, 24.0), (-45.0, 24.0))

_BETTER = 0.02


def camera(design: Design) -> View:
    """Choose the view in which most is seen of every part.

    A view scores the mean over the parts of the root of the share seen (of the copy seen best), so that a
    part that is all but hidden costs more than one seen a little less. The first candidate is kept unless
    another is better by 0.02: a view from the left front above is what the pages are laid out for. Parts
    are looked at as their blanks.
    """
    copies = list(design.copies.values())
    blanks = Solids({part.key: part_solid(replace(part, operations=())) for part in design.parts})
    actors = tuple(copy_actor(design, blanks, copy, "plain") for copy in copies)
    best, best_score = CANDIDATES[0], -1.0
    for yaw, pitch in CANDIDATES:
        seen = rough_shares(actors, pictorial(yaw, pitch), {copy.name: (copy.name,) for copy in copies})
        shares = [max(seen[copy.name] for copy in part.copies) for part in design.parts if part.copies]
        score = sum(share**0.5 for share in shares) / len(shares) if shares else 0.0
        if score > best_score + _BETTER:
            best, best_score = (yaw, pitch), score
        if best_score >= 1.0 - _BETTER:
            break
    return pictorial(*best)

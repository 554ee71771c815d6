"""From where a step is shown, so that every piece that is new in it is seen."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from math import cos, hypot, radians, sin

import shapely

from plangen.design.model import Design
from plangen.drawing.hidden_lines import View
from plangen.drawing.scene import GRID, Sight
from plangen.drawing.stage import Stage, stage
from plangen.sequence.model import Step
from plangen.solids import Solids

LEAST_SEEN = 0.15  # the share of itself that every new piece shows
STEEP = 50.0  # degrees down, to look into an open box
_HIGH = sin(radians(40.0))


@dataclass(frozen=True, slots=True)
class Angle:
    """One panel of a step's picture: its view, and what is said under it where it is not the booklet's own.

    ``apart``: the pieces of the step are drawn apart. ``shown`` is the scene, as it was looked at.
    """

    view: View
    words: str = ""
    apart: bool = False
    shown: Stage | None = field(default=None, compare=False, repr=False)


def angles(design: Design, solids: Solids, step: Step, view: View) -> tuple[Angle, ...]:
    """Give the one or two panels that show every new piece of a step by 15 percent of itself, if any do.

    The booklet's own view where it does; else another that does; else both, the second from where most of
    what the first hides is seen. What is hidden from everywhere is shown drawn apart.
    """
    shown = stage(design, solids, step, view)
    hidden = unseen(design, step, shown)
    own = Angle(view, shown=shown)
    if not hidden:
        return (own,)
    best: tuple[int, Angle] | None = None
    for other in _others(view):
        seen = stage(design, solids, step, other)
        found = Angle(other, _words(other), shown=seen)
        still = unseen(design, step, seen)
        if not still:
            return (found,)
        left = len(hidden & still)
        if best is None or left < best[0]:
            best = (left, found)
    assert best is not None, "there are other views"
    if best[0]:
        apart = stage(design, solids, step, view, apart=True)
        if len(unseen(design, step, apart)) < best[0]:
            return (own, Angle(view, "Drawn apart", apart=True, shown=apart))
    return (own, best[1])


def unseen(design: Design, step: Step, shown: Stage) -> frozenset[str]:
    """Name what is new in a step and shows less than ``LEAST_SEEN`` of itself; an assembly counts as one."""
    body_of = {
        member: copy.name
        for one in design.assemblies
        for copy in one.copies
        if copy.name in step.brought
        for member in copy.members
    }
    units: dict[str, list[str]] = {}
    for name in step.picture.new:
        units.setdefault(body_of.get(name, name), []).append(name)
    return frozenset(unit for unit, names in units.items() if share_seen(shown.sight, names) < LEAST_SEEN)


def share_seen(sight: Sight, names: list[str]) -> float:
    """Give the share of the common outline of some pieces that is seen, from 0 to 1."""
    if len(names) == 1:
        return sight.share_seen(names[0])
    whole = shapely.union_all([sight.outlines[name] for name in names], grid_size=GRID).area
    seen = float(sum(sight.regions[name].area for name in names))
    return min(1.0, seen / whole) if whole else 0.0


def _others(view: View) -> Iterator[View]:
    """Give the view from the other side, from higher up, from behind, and from below."""
    yield _turned(view, other=True, behind=False, below=False)
    for other in (False, True):
        yield _steeper(_turned(view, other=other, behind=False, below=False))
    for below, behind in ((False, True), (True, False), (True, True)):
        for other in (False, True):
            yield _turned(view, other=other, behind=behind, below=below)


def _steeper(view: View) -> View:
    """Give the view from the same side that looks down by ``STEEP``."""
    across, deep, _ = view.toward
    level, pitch = hypot(across, deep), radians(STEEP)
    x, y = across / level, deep / level
    return View(
        view.right,
        (-x * sin(pitch), -y * sin(pitch), cos(pitch)),
        (x * cos(pitch), y * cos(pitch), sin(pitch)),
    )


def _turned(view: View, *, other: bool, behind: bool, below: bool) -> View:
    right, up, toward = view.right, view.up, view.toward
    if other:  # left for right
        right, up, toward = (right[0], -right[1], right[2]), _flip(up, 0), _flip(toward, 0)
    if behind:  # half a turn about the plumb line
        right, up, toward = _flip(right, 0, 1), _flip(up, 0, 1), _flip(toward, 0, 1)
    if below:
        up, toward = _flip(up, 0, 1), _flip(toward, 2)
    return View(right, up, toward)


def _flip(vector: tuple[float, float, float], *which: int) -> tuple[float, float, float]:
    x, y, z = (-value if index in which else value for index, value in enumerate(vector))
    return x, y, z


def _words(view: View) -> str:
    """Say from where a view looks."""
    across, deep, up = view.toward
    side = f"{'back' if deep > 0 else 'front'} {'left' if across < 0 else 'right'}"
    height = ", from below" if up < 0 else ", from above" if up > _HIGH else ""
    return f"Seen from the {side}{height}"

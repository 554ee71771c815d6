"""From where a step is shown, so that every piece that is new in it is seen."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field, replace
from math import cos, hypot, radians, sin

import shapely

from plangen.design.model import Design
from plangen.drawing.explosion import entered
from plangen.drawing.hidden_lines import View
from plangen.drawing.places import place_seen
from plangen.drawing.rough import rough_shares
from plangen.drawing.scene import GRID, Sight
from plangen.drawing.stage import Stage, stage
from plangen.drawing.standing import HOLD_IT, stands
from plangen.sequence.model import Step
from plangen.solids import Solids

LEAST_SEEN = 0.5  # the share of itself that every new piece shows
OF_SEVERAL = (0.6, 0.25)  # of equal pieces one shows so much, and then each of the others so much
FITTING_SEEN = 0.25  # of hardware one piece of each item shows so much
PLACE_SEEN = 0.3  # of the place of a joint
_LET_IN = 0.1  # mm that a piece enters another
_STRETCHES = (1.8, 3.0)  # how much farther pieces are drawn out than the least that shows their joints
_APART = (1.0, 1.7, 2.8)  # how far pieces are drawn apart, from the least that shows their joints
_DOUBT = 0.04  # what may be missing by the rough look before a scene is looked at
_LOOKS = 3  # other sides that are looked at closely
_WORTH = 0.2  # the share of what is missing that a second panel has to show, to be drawn at all
STEEP = (50.0, 66.0)  # degrees down, to look into an open box
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

    @property
    def stage(self) -> Stage:
        """The scene, which ``angles`` has looked at."""
        assert self.shown is not None, "a panel without its scene is only for comparing"
        return self.shown


def angles(
    design: Design, solids: Solids, step: Step, view: View, fitted: Collection[str] = ()
) -> tuple[Angle, ...]:
    """Give the one or two panels in which every new piece of a step shows half of itself, if any do.

    The booklet's own view where it does; else another that does; else both, the second the one that shows
    most of what the first hides: from another side, or drawn apart. ``fitted`` names the joints and fits
    whose hardware is in already. Of what does not stand by itself the words say so.
    """
    first, *rest = _panels(design, solids, step, view, fitted)
    if not stands(step, first.stage):
        first = replace(first, words=f"{first.words}. {HOLD_IT}" if first.words else HOLD_IT)
    return (first, *rest)


def _panels(
    design: Design, solids: Solids, step: Step, view: View, fitted: Collection[str]
) -> tuple[Angle, ...]:
    shown = stage(design, solids, step, view, fitted=fitted)
    own = Angle(view, shown=shown)
    seen = seen_of(design, step, shown)
    missing = sum(wanting(design, seen).values())
    if not missing:
        return (own,)
    for stretch in _STRETCHES if step.picture.offsets else ():
        farther = Angle(view, shown=stage(design, solids, step, view, stretch=stretch, fitted=fitted))
        short = _short_roughly(design, step, farther)
        if short <= _DOUBT and not unseen(design, step, farther.stage):
            return (farther,)
    panels = [
        Angle(other, said_of(other), shown=stage(design, solids, step, other, fitted=fitted))
        for other in other_sides(view)
    ]
    roughly = [_short_roughly(design, step, panel) for panel in panels]
    for panel, _ in [item for item in zip(panels, roughly, strict=True) if item[1] <= _DOUBT][:_LOOKS]:
        if not unseen(design, step, panel.stage):
            return (panel,)
    for stretch in _APART:
        apart = stage(design, solids, step, view, apart=stretch, fitted=fitted)
        if apart.offsets == shown.offsets:
            break
        panels.append(Angle(view, "Drawn apart", apart=True, shown=apart))
        if _short_roughly(design, step, panels[-1], seen) <= _DOUBT:
            break
    left = [_short_roughly(design, step, panel, seen) for panel in panels]
    best = min(range(len(panels)), key=lambda i: (round(left[i], 1), not panels[i].apart))
    return (own, panels[best]) if missing - left[best] >= _WORTH * missing else (own,)


def _short_roughly(
    design: Design, step: Step, panel: Angle, beside: Mapping[str, float] | None = None
) -> float:
    """Give about what a panel leaves missing, alone or with what a panel ``beside`` it shows."""
    shown = panel.stage
    items: dict[str, list[str]] = {}
    for fitting in shown.fittings:
        items.setdefault(fitting.actor.tag.rpartition("/")[0], []).append(fitting.actor.tag)
    pieces = {tag: (tag,) for tags in items.values() for tag in tags}
    shares = rough_shares(shown.sight.actors, panel.view, {**new_units(design, step), **pieces})
    seen = {name: share for name, share in shares.items() if name not in pieces}
    seen |= {item: max(shares[tag] for tag in tags) for item, tags in items.items()}
    for name, share in (beside or {}).items():
        seen[name] = max(seen.get(name, 0.0), share)
    return sum(wanting(design, seen).values())


def seen_of(design: Design, step: Step, shown: Stage) -> dict[str, float]:
    """Give the share seen of each new piece of a step, of an assembly as one, and of each item going in.

    An item is named ``JOINT/ITEM``; of its pieces the one that is seen best counts.
    """
    found = {unit: share_seen(shown.sight, list(names)) for unit, names in new_units(design, step).items()}
    for fitting in shown.fittings:
        item = fitting.actor.tag.rpartition("/")[0]
        found[item] = max(found.get(item, 0.0), shown.sight.share_seen(fitting.actor.tag))
    return found | _places_seen(design, step, shown)


def _places_seen(design: Design, step: Step, shown: Stage) -> dict[str, float]:
    """Give the share seen of the place of each joint with nothing let in; what is let in gets a detail."""
    found: dict[str, float] = {}
    for joint in design.joints if step.picture.offsets else ():
        for contact in joint.contacts if joint.name in step.joints else ():
            one, two = shown.offsets.get(contact.moving), shown.offsets.get(contact.fixed)
            if one is None or two is None or one == two:
                continue
            if entered(contact, design) > _LET_IN:
                found.pop(f"joint:{joint.name}", None)
                break
            share = place_seen(contact, shown.offsets, shown.sight, design)
            key = f"joint:{joint.name}"
            found[key] = max(found.get(key, 0.0), share)
    return found


def new_units(design: Design, step: Step) -> dict[str, tuple[str, ...]]:
    """Give the copies of each thing that is new in a step: an assembly that is brought in, or one piece."""
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
    return {unit: tuple(names) for unit, names in units.items()}


def wanting(design: Design, seen: Mapping[str, float]) -> dict[str, float]:
    """Give the share that each thing shows too little of itself; nothing where all is seen well enough.

    Equal pieces are seen well enough when one of them shows most of itself and the others can be found.
    """
    bodies = {copy.name: one.key for one in design.assemblies for copy in one.copies}
    alike: dict[str, list[str]] = {}
    missing: dict[str, float] = {}
    for name, share in seen.items():
        if name in bodies:
            alike.setdefault(f"assembly:{bodies[name]}", []).append(name)
        elif name in design.part_of:
            part = design.part_of[name]
            alike.setdefault(f"part:{part.mark or part.key}", []).append(name)
        elif name.startswith("joint:"):
            if share < PLACE_SEEN:
                missing[name] = PLACE_SEEN - share
        elif share < FITTING_SEEN:
            missing[name] = FITTING_SEEN - share
    one_shows, others_show = OF_SEVERAL
    for names in alike.values():
        shares = [seen[name] for name in names]
        if len(names) > 1 and max(shares) >= one_shows and min(shares) >= others_show:
            continue
        missing |= {name: LEAST_SEEN - seen[name] for name in names if seen[name] < LEAST_SEEN}
    return missing


def unseen(design: Design, step: Step, shown: Stage) -> frozenset[str]:
    """Name what is new in a step and shows too little of itself; an assembly counts as one."""
    return frozenset(wanting(design, seen_of(design, step, shown)))


def share_seen(sight: Sight, names: list[str]) -> float:
    """Give the share of the common outline of some pieces that is seen, from 0 to 1."""
    if len(names) == 1:
        return sight.share_seen(names[0])
    whole = shapely.union_all([sight.outlines[name] for name in names], grid_size=GRID).area
    seen = float(sum(sight.regions[name].area for name in names))
    return min(1.0, seen / whole) if whole else 0.0


def other_sides(view: View) -> Iterator[View]:
    """Give the view from the other side, from higher up, from behind, and from below."""
    yield _turned(view, other=True, behind=False, below=False)
    for pitch in STEEP:
        for other in (False, True):
            yield _steeper(_turned(view, other=other, behind=False, below=False), pitch)
    for below, behind in ((False, True), (True, False), (True, True)):
        for other in (False, True):
            yield _turned(view, other=other, behind=behind, below=below)


def _steeper(view: View, degrees: float) -> View:
    """Give the view from the same side that looks down by so many degrees."""
    across, deep, _ = view.toward
    level, pitch = hypot(across, deep), radians(degrees)
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


def said_of(view: View) -> str:
    """Say from where a view looks."""
    across, deep, up = view.toward
    side = f"{'back' if deep > 0 else 'front'} {'left' if across < 0 else 'right'}"
    height = ", from below" if up < 0 else ", from above" if up > _HIGH else ""
    return f"Seen from the {side}{height}"

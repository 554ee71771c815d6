"""The scene of an assembly step: what stands already, and what is new, drawn out along its way in."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations, product
from math import hypot
from typing import Any

import numpy as np
import shapely

from plangen.design.model import Design
from plangen.drawing.explosion import Offset, closing_side, entered, explode_some
from plangen.drawing.fittings import Fitting, drawn_out
from plangen.drawing.hidden_lines import View
from plangen.drawing.opened import diagonal, on_paper
from plangen.drawing.scene import Sight, alone, copy_actor, flat
from plangen.joinery.space import Axis, Direction, Side
from plangen.sequence.model import Step
from plangen.solids import Solids
from plangen.solids.model import Floats

_STRETCHES = (1.0, 1.5, 2.2)
_STILL: Offset = (0.0, 0.0, 0.0)


@dataclass(frozen=True)
class Stage:
    """What an assembly picture shows before it is placed on the paper."""

    sight: Sight
    offsets: Mapping[str, Offset]
    fittings: tuple[Fitting, ...]


def stage(design: Design, solids: Solids, step: Step, view: View, *, apart: bool = False) -> Stage:
    """Set up the scene of an assembly step: context in place, new copies and hardware drawn out.

    With ``apart`` all joints between the pieces that are shown are open.

    All that comes from one side is drawn out equally far: by what it enters, and a gap that grows until
    no piece covers its half of the joint, where growing helps.
    """
    present = {
        name: design.copies[name] for name in dict.fromkeys((*step.picture.context, *step.picture.new))
    }
    sides = {name: side for name, side in dict(step.picture.offsets).items() if name in present}
    fits = {fit.name: fit for fit in design.fits}
    for name in step.picture.hardware:
        for copy in _within(design, step, fits[name].copies if name in fits else ()):
            present.setdefault(copy, design.copies[copy])
    size = _size(design, list(present))
    best: tuple[float, dict[str, Offset]] | None = None
    for stretch in _STRETCHES if sides else (1.0,):
        offsets = _offsets(design, present, sides, 0.13 * size * stretch, view)
        cover = _covered(design, solids, offsets, view)
        if best is None or cover < best[0] - 0.08:
            best = (cover, offsets)
        if cover < 0.02:
            break
    assert best is not None
    offsets = (
        _all_apart(design, list(present), 0.13 * size, view)
        if apart
        else _apart(design, step, best[1], 0.13 * size, view)
    )
    fittings = drawn_out(design, step.picture.hardware, offsets, max(14.0, 0.04 * size), view)
    new = set(step.picture.new)
    actors = [
        copy_actor(design, solids, copy, "new" if name in new else "context", offset=offsets[name])
        for name, copy in present.items()
    ]
    return Stage(Sight((*actors, *(item.actor for item in fittings)), view), offsets, fittings)


def _within(design: Design, step: Step, copies: Sequence[str]) -> tuple[str, ...]:
    """Give those of some copies that belong to what the step builds: a copy of an assembly, not its twins."""
    shown = {*step.picture.new, *step.picture.context}
    bodies = [
        one for kind in design.assemblies if kind.key == step.assembly for one in kind.copies
        if shown & set(one.members)
    ]  # fmt: skip
    if not bodies:
        return tuple(copies)
    return tuple(copy for copy in copies if any(copy in one.members for one in bodies))


def _size(design: Design, names: Sequence[str]) -> float:
    boxes = [design.copies[name].box for name in names]
    if not boxes:
        return diagonal(design)
    return hypot(
        *(
            float(max(box.high.at(axis) for box in boxes) - min(box.low.at(axis) for box in boxes))
            for axis in Axis
        )
    )


def _offsets(
    design: Design, present: Mapping[str, object], sides: Mapping[str, Side], gap: float, view: View
) -> dict[str, Offset]:
    depth: dict[Side, float] = {}
    leaning: dict[str, Direction] = {}
    for joint in design.joints:
        for contact in joint.contacts:
            for name, other in ((contact.moving, contact.fixed), (contact.fixed, contact.moving)):
                side = sides.get(name)
                moves = side is not None and other in present and sides.get(other) is not side
                if side is None or not moves or closing_side(contact, design).axis is not side.axis:
                    continue
                depth[side] = max(depth.get(side, 0.0), entered(contact, design))
                if contact.way is not None:
                    leaning.setdefault(name, contact.way)
    offsets: dict[str, Offset] = dict.fromkeys(present, _STILL)
    for name, side in sides.items():
        far = side.sign * (depth.get(side, 0.0) + gap / max(on_paper(side.axis, view), 0.6))
        way = leaning.get(name) or tuple(float(axis is side.axis) for axis in Axis)
        across, deep, up = (far * part / way[side.axis.value] for part in way)
        offsets[name] = (across, deep, up)
    return offsets


def _apart(
    design: Design, step: Step, offsets: dict[str, Offset], gap: float, view: View
) -> dict[str, Offset]:
    """Open joint by joint what a step joins from several sides, where pieces would stand in each other."""
    if not overlapping(design, offsets):
        return offsets
    joints = [joint for joint in design.joints if joint.name in step.joints]
    gaps = {axis: gap / max(on_paper(axis, view), 0.6) for axis in Axis}
    still = [name for name in offsets if name in step.picture.context]
    bodies = [copy.members for one in design.assemblies for copy in one.copies if copy.name in step.brought]
    opened = explode_some(design, list(offsets), joints, still, gaps, bodies)
    return opened if len(overlapping(design, opened)) < len(overlapping(design, offsets)) else offsets


def _all_apart(design: Design, names: Sequence[str], gap: float, view: View) -> dict[str, Offset]:
    gaps = {axis: gap / max(on_paper(axis, view), 0.6) for axis in Axis}
    return explode_some(design, names, design.joints, (), gaps)


def overlapping(design: Design, offsets: Mapping[str, Offset]) -> tuple[tuple[str, str], ...]:
    """Give the pairs of pieces that stand deeper in each other once drawn out than where they belong."""
    copies = design.copies
    found = []
    for one, two in combinations(offsets, 2):
        low_high = [
            np.array([copies[name].box.low.floats(), copies[name].box.high.floats()]) for name in (one, two)
        ]
        drawn = [box + np.asarray(offsets[name]) for box, name in zip(low_high, (one, two), strict=True)]
        if _shared(*drawn) > 1.5 * _shared(*low_high) + 1.0:
            found.append((one, two))
    return tuple(found)


def _shared(one: Floats, two: Floats) -> float:
    """Give the volume that two boxes share, in mm³."""
    sizes = np.minimum(one[1], two[1]) - np.maximum(one[0], two[0])
    return float(np.prod(np.maximum(sizes, 0.0)))


def _covered(design: Design, solids: Solids, offsets: Mapping[str, Offset], view: View) -> float:
    """Give the largest share of a joint's two halves that the other piece covers on the paper."""
    outlines: dict[str, Any] = {}

    def outline(name: str) -> Any:
        if name not in outlines:
            actor = copy_actor(design, solids, design.copies[name], "new", offset=offsets[name])
            outlines[name] = alone(actor.body, view)
        return outlines[name]

    worst = 0.0
    for joint in design.joints:
        for contact in joint.contacts:
            for name, other in ((contact.moving, contact.fixed), (contact.fixed, contact.moving)):
                if name not in offsets or other not in offsets or offsets[other] == offsets[name]:
                    continue
                low, high = contact.face.low.floats(), contact.face.high.floats()
                corner = np.array(list(product(*zip(low, high, strict=True))))
                site = shapely.convex_hull(
                    shapely.multipoints(flat(corner + np.asarray(offsets[other]), view))
                )
                if site.area > 1.0:
                    worst = max(worst, site.intersection(outline(name)).area / site.area)
    return worst

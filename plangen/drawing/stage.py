"""The scene of an assembly step: what stands already, and what is new, drawn out along its way in."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field
from math import hypot

import numpy as np

from plangen.design.model import Design, Position
from plangen.drawing.explosion import Offset, closing_side, entered, explode_some
from plangen.drawing.fittings import Fitting, beside, drawn_out, in_place
from plangen.drawing.hidden_lines import View
from plangen.drawing.nested import moved_by, standing
from plangen.drawing.opened import diagonal, on_paper
from plangen.drawing.places import covered
from plangen.drawing.scene import Sight, copy_actor
from plangen.joinery.space import Axis, Direction, Side
from plangen.sequence.model import Step
from plangen.solids import Solids
from plangen.solids.model import Floats, Ints

_COVERED = 0.02  # share of a joint's half that may be covered: no more than a line's width
_LONGER = 1.4  # times the gap that was too small
_FARTHEST = 0.28  # of the size of what is shown: farther out a piece has lost its place
_THICKNESSES = (1.15, 3.0)  # a gap in thicknesses of the piece: at least, and at most where it may be
_READABLE = 0.04  # of the size of what is shown: a smaller gap prints as a line
_LEAST_SHOWN = 0.6  # a way that is foreshortened more than this is drawn no longer for it
_STILL: Offset = (0.0, 0.0, 0.0)


@dataclass(frozen=True)
class Stage:
    """What an assembly picture shows before it is placed on the paper.

    ``gaps`` are, by copy that is drawn out, the millimetres between its end and its place along its way in.
    """

    sight: Sight
    offsets: Mapping[str, Offset]
    fittings: tuple[Fitting, ...]
    gaps: Mapping[str, float] = field(default_factory=dict)


def stage(
    design: Design,
    solids: Solids,
    step: Step,
    view: View,
    *,
    apart: float = 0.0,
    stretch: float = 1.0,
    fitted: Collection[str] = (),
) -> Stage:
    """Set up the scene of an assembly step: context in place, new copies and hardware drawn out.

    With ``apart`` all joints that the step closes are open, or all there are where it closes none, by so many
    times the least that shows them; ``stretch`` draws out what comes in so many times farther. ``fitted``
    names the joints and fits whose hardware went in before: what is seen of it stands in its place.

    All that comes from one side is drawn out equally far: by what it enters, and a gap that begins at a
    thickness of the piece and grows until no piece covers its half of the joint, where growing helps. What
    is marked from the work is fitted in a position that opens it, where there is one.
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
    offsets, gaps = _drawn_out(design, solids, present, sides, size, view, stretch)
    if apart:
        offsets, gaps = _all_apart(design, step, list(present), apart * size, view), {}
    else:
        opened = _apart(design, step, offsets, 0.13 * size, view)
        offsets, gaps = opened, gaps if opened is offsets else {}
    position = _opened(design, step)
    moved = moved_by(design, position) if position is not None else {}
    stood = standing(design, position) if position is not None else design
    reach = max(14.0, 0.04 * size)
    going_in = drawn_out(design, step.picture.hardware, offsets, reach, view)
    fittings = (*going_in, *beside(stood, step.picture.hardware, offsets, reach, view))
    new = set(step.picture.new)
    actors = [
        copy_actor(
            stood, solids, stood.copies[name], "new" if name in new else "context", offset=offsets[name]
        )
        for name in present
    ]
    before = [name for name in fitted if name not in step.picture.hardware]
    there = in_place(design, moved, wooden="context", metal="hardware", only=before, offsets=offsets)
    return Stage(Sight((*actors, *there, *(item.actor for item in fittings)), view), offsets, fittings, gaps)


def _opened(design: Design, step: Step) -> Position | None:
    """Give the position in which hardware is marked from the work: the first that moves what it sits on."""
    loose = [
        copy
        for fit in design.fits
        if fit.name in step.picture.hardware and not fit.hardware.spots
        for copy in fit.copies
    ]
    return next((one for one in design.positions[1:] if moved_by(design, one).keys() & set(loose)), None)


def _drawn_out(
    design: Design,
    solids: Solids,
    present: Mapping[str, object],
    sides: Mapping[str, Side],
    size: float,
    view: View,
    stretch: float,
) -> tuple[dict[str, Offset], dict[str, float]]:
    """Draw out what comes from each side just far enough that its half of the joint is not covered."""
    least, most = _THICKNESSES
    gaps: dict[Side, float] = {}
    for side in dict.fromkeys(sides.values()):
        thick = max(thickness(design, name) for name, way in sides.items() if way is side)
        gaps[side] = stretch * min(max(least * thick, _READABLE * size), _LEAST_SHOWN * most * thick)
    offsets = _offsets(design, present, sides, gaps, view)
    cover, covering = covered(design, solids, offsets, view)
    best, chosen = cover, (offsets, dict(gaps))
    while cover >= _COVERED and covering is not None:
        side = next(sides[name] for name in covering if name in sides)
        gaps[side] *= _LONGER
        if gaps[side] > _FARTHEST * size:
            break
        offsets = _offsets(design, present, sides, gaps, view)
        cover, covering = covered(design, solids, offsets, view)
        if cover < best - 0.05:
            best, chosen = cover, (offsets, dict(gaps))
    offsets, gaps = chosen
    return offsets, {
        name: gaps[side] / max(on_paper(side.axis, view), _LEAST_SHOWN) for name, side in sides.items()
    }


def thickness(design: Design, name: str) -> float:
    """Give the least size of a copy's finished blank in millimetres."""
    blank = design.part_of[name].blank
    return min(float(blank.size(axis)) for axis in Axis)


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
    design: Design,
    present: Mapping[str, object],
    sides: Mapping[str, Side],
    gaps: Mapping[Side, float],
    view: View,
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
        far = side.sign * (depth.get(side, 0.0) + gaps[side] / max(on_paper(side.axis, view), _LEAST_SHOWN))
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
    gaps = {axis: gap / max(on_paper(axis, view), _LEAST_SHOWN) for axis in Axis}
    still = [name for name in offsets if name in step.picture.context]
    opened = explode_some(design, list(offsets), joints, still, gaps, _brought(design, step))
    return opened if len(overlapping(design, opened)) < len(overlapping(design, offsets)) else offsets


def _all_apart(
    design: Design, step: Step, names: Sequence[str], size: float, view: View
) -> dict[str, Offset]:
    gaps = {axis: 0.09 * size / max(on_paper(axis, view), _LEAST_SHOWN) for axis in Axis}
    joints = [joint for joint in design.joints if joint.name in step.joints]
    still = [name for name in names if name in step.picture.context] if joints else []
    return explode_some(design, names, joints or design.joints, still, gaps, _brought(design, step))


def _brought(design: Design, step: Step) -> list[tuple[str, ...]]:
    return [copy.members for one in design.assemblies for copy in one.copies if copy.name in step.brought]


def overlapping(design: Design, offsets: Mapping[str, Offset]) -> tuple[tuple[str, str], ...]:
    """Give the pairs of pieces that stand deeper in each other once drawn out than where they belong."""
    names = list(offsets)
    if len(names) < 2:
        return ()
    boxes = [design.copies[name].box for name in names]
    resting = np.array([(box.low.floats(), box.high.floats()) for box in boxes])
    drawn = resting + np.array([offsets[name] for name in names])[:, None]
    one, two = np.triu_indices(len(names), 1)
    deeper = _shared(drawn, one, two) > 1.5 * _shared(resting, one, two) + 1.0
    pairs = zip(one[deeper].tolist(), two[deeper].tolist(), strict=True)
    return tuple((names[i], names[j]) for i, j in pairs)


def _shared(boxes: Floats, one: Ints, two: Ints) -> Floats:
    """Give the volumes that pairs of boxes (low and high corners, (n, 2, 3)) share, in mm³."""
    sizes = np.minimum(boxes[one, 1], boxes[two, 1]) - np.maximum(boxes[one, 0], boxes[two, 0])
    return np.asarray(np.prod(np.maximum(sizes, 0.0), axis=1), dtype=np.float64)

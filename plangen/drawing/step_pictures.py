"""The picture of a step: pieces lying apart, or the work so far with what is new drawn out."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import product
from math import hypot
from typing import Any

import numpy as np
import shapely

from plangen.design.model import Design
from plangen.drawing.exploded import (
    BALLOON_ROOM,
    diagonal,
    flow_lines,
    hardware_labels,
    on_paper,
    part_labels,
    put,
)
from plangen.drawing.explosion import Offset, closing_side
from plangen.drawing.fittings import Fitting, drawn_out
from plangen.drawing.hidden_lines import View
from plangen.drawing.labels import PlacedLabel, label_marks
from plangen.drawing.pieces import pieces_picture
from plangen.drawing.scene import Placing, Sight, alone, copy_actor, fitted, flat, painted
from plangen.drawing.sheet.model import Drawing, Mark, Stroke
from plangen.joinery.space import Axis, Side
from plangen.sequence.model import Step
from plangen.solids import Solids
from plangen.takeoff.model import TakeOff

_STRETCHES = (1.0, 1.5, 2.2)
_STILL: Offset = (0.0, 0.0, 0.0)


@dataclass(frozen=True)
class Stage:
    """What an assembly picture shows before it is placed on the paper."""

    sight: Sight
    offsets: Mapping[str, Offset]
    fittings: tuple[Fitting, ...]


def runs(steps: Sequence[Step]) -> tuple[tuple[Step, ...], ...]:
    """Group assembly steps that follow each other and show some of the same copies."""
    groups: list[list[Step]] = []
    for step in steps:
        if step.picture.kind != "assembly":
            continue
        shown = {*step.picture.new, *step.picture.context}
        last = groups[-1][-1] if groups else None
        if last is not None and shown & {*last.picture.new, *last.picture.context}:
            groups[-1].append(step)
        else:
            groups.append([step])
    return tuple(tuple(group) for group in groups)


def run_scale(
    design: Design, solids: Solids, steps: Sequence[Step], view: View, width: float, height: float
) -> Placing:
    """Give the one scale and place in which every picture of a run of assembly steps fits."""
    boxes = [
        stage(design, solids, step, view).sight.bounds for step in steps if step.picture.kind == "assembly"
    ]
    if not boxes:
        return Placing(1.0, 0.0, 0.0)
    box = (
        min(b[0] for b in boxes),
        min(b[1] for b in boxes),
        max(b[2] for b in boxes),
        max(b[3] for b in boxes),
    )
    return fitted(box, (BALLOON_ROOM, BALLOON_ROOM, width - BALLOON_ROOM, height - BALLOON_ROOM))


def step_picture(
    design: Design,
    solids: Solids,
    step: Step,
    take_off: TakeOff,
    view: View,
    scale_for_run: Placing | None,
    width: float,
    height: float,
) -> Drawing:
    """Draw the picture of a step in ``width`` × ``height`` millimetres; an empty one for kind ``none``."""
    drawing, _ = step_with_labels(design, solids, step, take_off, view, scale_for_run, width, height)
    return drawing


def step_with_labels(
    design: Design,
    solids: Solids,
    step: Step,
    take_off: TakeOff,
    view: View,
    scale_for_run: Placing | None,
    width: float,
    height: float,
) -> tuple[Drawing, tuple[PlacedLabel, ...]]:
    """Draw the picture of a step and give its balloons too, for measuring."""
    title = f"Step {step.number}: {step.title}"
    if step.picture.kind == "pieces":
        return pieces_picture(design, solids, step, take_off, view, width, height)
    if step.picture.kind == "none" or not (step.picture.new or step.picture.context):
        return Drawing(width, height, (), title, ""), ()
    shown = stage(design, solids, step, view)
    placing = scale_for_run or run_scale(design, solids, [step], view, width, height)
    marks: list[Mark] = painted(shown.sight, placing)
    new = list(step.picture.new)
    flows: list[Stroke] = flow_lines(design, shown.offsets, shown.fittings, shown.sight, placing)
    partners = _partners(design, step)
    labels = [
        *part_labels(design, shown.sight, placing, new=new, only=new),
        *(
            label
            for label in part_labels(design, shown.sight, placing, only=partners)
            if label.target not in {f"part:{design.part_of[name].key}" for name in new}
        ),
        *hardware_labels(take_off, shown.fittings, shown.sight, placing, new=True),
    ]
    placed = put(labels, shown.sight, placing, flows, width, height)
    marks += [*flows, *label_marks(placed)]
    return Drawing(width, height, tuple(marks), title, _words(design, step)), placed


def stage(design: Design, solids: Solids, step: Step, view: View) -> Stage:
    """Set up the scene of an assembly step: context in place, new copies and hardware drawn out.

    All that comes from one side is drawn out equally far: by what it enters, and a gap that grows until
    no piece covers its half of the joint, where growing helps.
    """
    present = {
        name: design.copies[name] for name in dict.fromkeys((*step.picture.context, *step.picture.new))
    }
    sides = {name: side for name, side in dict(step.picture.offsets).items() if name in step.picture.new}
    fits = {fit.name: fit for fit in design.fits}
    for name in step.picture.hardware:
        for copy in fits[name].copies if name in fits else ():
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
    offsets = best[1]
    fittings = drawn_out(design, step.picture.hardware, offsets, max(14.0, 0.04 * size), view)
    new = set(step.picture.new)
    actors = [
        copy_actor(design, solids, copy, "new" if name in new else "context", offset=offsets[name])
        for name, copy in present.items()
    ]
    return Stage(Sight((*actors, *(item.actor for item in fittings)), view), offsets, fittings)


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
    copies = design.copies
    depth: dict[Side, float] = {}
    for joint in design.joints:
        for contact in joint.contacts:
            for name, other in ((contact.moving, contact.fixed), (contact.fixed, contact.moving)):
                if name in sides and other in present and sides.get(other) is not sides[name]:
                    axis = closing_side(contact, design).axis
                    if axis is sides[name].axis:
                        entered = float(copies[name].box.overlap(copies[other].box).size(axis))
                        depth[sides[name]] = max(depth.get(sides[name], 0.0), entered)
    offsets: dict[str, Offset] = dict.fromkeys(present, _STILL)
    for name, side in sides.items():
        out = [0.0, 0.0, 0.0]
        out[side.axis.value] = side.sign * (depth.get(side, 0.0) + gap / max(on_paper(side.axis, view), 0.6))
        offsets[name] = (out[0], out[1], out[2])
    return offsets


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


def _partners(design: Design, step: Step) -> list[str]:
    new, context = set(step.picture.new), set(step.picture.context)
    found: list[str] = []
    for joint in design.joints:
        for contact in joint.contacts:
            for one, two in ((contact.moving, contact.fixed), (contact.fixed, contact.moving)):
                if one in new and two in context and two not in found:
                    found.append(two)
    for use in step.picture.hardware:
        for fit in design.fits:
            found += [
                copy for copy in fit.copies if fit.name == use and copy in context and copy not in found
            ]
    if not found:
        found = list(step.picture.context)[:4]
    return found


def _words(design: Design, step: Step) -> str:
    def named(names: Sequence[str]) -> str:
        parts = dict.fromkeys(
            f"{design.part_of[name].mark} {design.part_of[name].title.lower()}" for name in names
        )
        return ", ".join(parts)

    sentences = []
    if step.picture.new:
        sides = dict(step.picture.offsets)
        ways = ", ".join(
            dict.fromkeys(
                f"from {'the ' if side not in (Side.TOP, Side.BOTTOM) else ''}{_FROM[side]}"
                for side in sides.values()
            )
        )
        sentences.append(
            f"New in this step: {named(step.picture.new)}{', brought in ' + ways if ways else ''}."
        )
    if step.picture.context:
        sentences.append(f"Already in place: {named(step.picture.context)}.")
    items = [
        design.hardware[count.item].title.lower() for count in step.hardware if count.item in design.hardware
    ]
    if items and step.picture.hardware:
        sentences.append(f"Going in: {', '.join(dict.fromkeys(items))}.")
    return " ".join(sentences)


_FROM = {
    Side.LEFT: "left",
    Side.RIGHT: "right",
    Side.FRONT: "front",
    Side.BACK: "back",
    Side.TOP: "above",
    Side.BOTTOM: "below",
}

"""Hardware in a picture: which pieces are shown, how far out they are drawn, and the way they go in."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType

import numpy as np

from plangen.design.model import Design, Hardware, HardwareUse, Joint, Motion
from plangen.drawing.hardware_forms import mesh_of
from plangen.drawing.hardware_shapes import pose, profile, solid
from plangen.drawing.hidden_lines import Body, View
from plangen.drawing.scene import Actor, Role
from plangen.joinery.hardware.ware import Form, Turned
from plangen.joinery.space import Axis, Side, Stance

Spot = tuple[str, tuple[float, float, float], Side]
_STILL: Mapping[str, Stance] = MappingProxyType({})
_STAND_PROUD = ("plug", "peg", "knob", "pull", "leveler", "caster", "button")
_WOODEN = ("plug", "peg", "knob", "button")


@dataclass(frozen=True)
class Fitting:
    """One piece of hardware shown; ``path`` is its way in, from where it is drawn to its spot."""

    item: str
    actor: Actor
    path: tuple[tuple[float, float, float], ...]


def uses(design: Design) -> tuple[HardwareUse, ...]:
    """Give every use of hardware, joints first, in the order of the design."""
    return (
        *(use for joint in design.joints for use in joint.hardware),
        *(fit.hardware for fit in design.fits),
    )


def drawn_out(
    design: Design,
    names: Iterable[str],
    offsets: Mapping[str, Sequence[float]],
    gap: float,
    view: View,
    *,
    most: int | None = None,
) -> tuple[Fitting, ...]:
    """Draw the hardware of the named joints and fits out of its holes, ``gap`` mm before the surface.

    Pieces that share a spot stand in line, the first to go in nearest. ``most`` shows the pieces of only
    one side of one copy for each name, the one that looks at the viewer most, and so many at the most.
    Hardware that enters a copy which is not in ``offsets`` is not shown.
    """
    wanted = set(names)
    stacks: dict[str, dict[Spot, list[str]]] = {}
    for use in uses(design):
        if use.by in wanted and use.item in design.hardware:
            for spot in (spot for spot in use.spots if spot[0] in offsets):
                stacks.setdefault(use.by, {}).setdefault(spot, []).append(use.item)
    found: list[Fitting] = []
    for by in sorted(stacks):
        spots = list(stacks[by])
        if most is not None:
            spots = _one_side(spots, view)[:most]
        for number, spot in enumerate(spots):
            found += _stack(design, by, number, spot, stacks[by][spot], offsets, gap)
    return tuple(found)


def beside(
    design: Design, names: Collection[str], offsets: Mapping[str, Sequence[float]], gap: float, view: View
) -> tuple[Fitting, ...]:
    """Show hardware whose place is marked from the work: one piece by each end of what it sits on.

    Only what has a shape of its kind, such as a stay; of two ends the one that looks at the viewer is first.
    """
    found: list[Fitting] = []
    for use in (fit.hardware for fit in design.fits if fit.name in names and not fit.hardware.spots):
        item = design.hardware.get(use.item)
        if item is None or item.ware is None or (shape := solid(item)) is None or profile(item) is not None:
            continue
        copies = [copy for fit in design.fits if fit.name == use.by for copy in fit.copies if copy in offsets]
        number = 0
        for copy in copies:
            box, long = design.copies[copy].box, _longest(design, copy)
            ends = sorted((Side.of(long, True), Side.of(long, False)), key=lambda side: -_facing(side, view))
            for side in ends[: max(1, use.number // len(copies))]:
                at = [float(box.middle(axis)) for axis in Axis]
                at[side.axis.value] = float(box.side(side))
                spot = np.asarray(at) + np.asarray(offsets[copy])
                lateral = [axis for axis in Axis if axis is not side.axis]
                along = max(lateral, key=lambda axis: box.size(axis).mm)
                turn, move = pose(side, (spot[0], spot[1], spot[2]), gap + shape.high, along)
                out = np.zeros(3)
                out[side.axis.value] = side.sign * (gap + shape.high)
                tag = f"{use.by}/{use.item}/beside {number}"
                ends_of = (tuple(float(v) for v in spot + out), tuple(float(v) for v in spot))
                body = Body(shape.mesh, turn, move, tag)
                found.append(Fitting(use.item, Actor(tag, body, "hardware"), ends_of))  # type: ignore[arg-type]
                number += 1
    return tuple(found)


def _longest(design: Design, copy: str) -> Axis:
    box = design.copies[copy].box
    return max(Axis, key=lambda axis: box.size(axis).mm)


def _facing(side: Side, view: View) -> float:
    return side.sign * float(view.toward[side.axis.value])


def in_place(
    design: Design,
    moved: Mapping[str, Stance] = _STILL,
    *,
    wooden: Role = "plain",
    metal: Role = "plain",
    only: Collection[str] | None = None,
    offsets: Mapping[str, Sequence[float]] | None = None,
) -> tuple[Actor, ...]:
    """Give the hardware that is seen on the finished piece, where it belongs.

    Plugs, pegs, knobs and casters stand where they are fitted, the knuckle of a hinge on its pin, and the two
    members of a slide on the pieces that they join. ``moved`` carries the copies that a position moves;
    ``wooden`` and ``metal`` are the parts that play what is of wood and what is not. ``only`` keeps to the
    hardware of those joints and fits; with ``offsets`` each piece goes with the copy that it sits on, and
    what sits on none of those copies is left out.
    """
    found: list[tuple[str, Actor]] = []
    fitted = {fit.name for fit in design.fits}
    for use in uses(design):
        item = design.hardware.get(use.item)
        if item is None or not _stands_proud(item, use.by in fitted):
            continue
        shape = solid(item)
        if shape is None or (only is not None and use.by not in only):
            continue
        for number, (copy, head, side) in enumerate(use.spots):
            turn, move = pose(side, head, along=_lies(design, use, copy, side))
            tag = f"{use.by}/{use.item}/{number}"
            role: Role = wooden if any(word in item.kind.lower() for word in _WOODEN) else metal
            found.append(
                (copy, Actor(tag, _carried(Body(shape.mesh, turn, move, tag), moved.get(copy)), role))
            )
    for joint in design.joints:
        if only is None or joint.name in only:
            found += [(copy, replace(actor, role=metal)) for copy, actor in _moving(design, joint, moved)]
    if offsets is None:
        return tuple(actor for _, actor in found)
    return tuple(_shifted(actor, offsets[copy]) for copy, actor in found if copy in offsets)


def _shifted(actor: Actor, by: Sequence[float]) -> Actor:
    return replace(actor, body=replace(actor.body, move=np.asarray(actor.body.move) + np.asarray(by)))


def _moving(design: Design, joint: Joint, moved: Mapping[str, Stance]) -> Iterator[tuple[str, Actor]]:
    """Give the hardware of a joint on which pieces turn or slide, each piece with the copy it stays with."""
    motions = [one for one in design.motions if one.joint.rpartition(".")[2] == joint.name]
    for use in joint.hardware if motions else ():
        item = design.hardware.get(use.item)
        if item is None or item.ware is None or not item.ware.shape:
            continue
        for number, (copy, at, side) in enumerate(use.spots):
            motion = min(motions, key=lambda one: round(_off(one, at), 3))
            tag = f"{use.by}/{use.item}/{number}"
            if motion.kind == "turns":
                pins = [form for form in item.ware.shape if isinstance(form, Turned)]
                if pins:
                    body = _on_pin(pins[0], motion, at, tag)
                    yield copy, Actor(tag, _carried(body, moved.get(copy)), "plain")
                continue
            along = max(Axis, key=lambda axis: abs(motion.way[axis.value]))
            turn, move = pose(side, at, along=along)
            on_drawer = _mover(joint, copy, at)
            members = (((item.ware.shape[0],), copy), (item.ware.shape[1:], on_drawer))
            for member, (forms, holder) in enumerate(members):
                if forms:
                    name = f"{tag}/{member}"
                    body = Body(mesh_of(forms), turn, move, name)
                    yield holder, Actor(name, _carried(body, moved.get(holder)), "plain")


def _off(motion: Motion, at: Sequence[float]) -> float:
    """Give how far a point lies off the line of a motion, in mm."""
    return float(np.linalg.norm(np.cross(np.subtract(at, motion.point), motion.way)))


def _on_pin(form: Form, motion: Motion, at: Sequence[float], tag: str) -> Body:
    """Lay a knuckle along the line that it turns about, its middle at ``at``."""
    way = np.asarray(motion.way, dtype=np.float64)
    least = min(Axis, key=lambda axis: (abs(way[axis.value]), axis.value))
    across = np.cross(way, np.eye(3)[least.value])
    across /= np.linalg.norm(across)
    assert isinstance(form, Turned), "a knuckle is turned"
    mesh = mesh_of((replace(form, at=(0.0, 0.0, 0.0)),))
    return Body(mesh, np.column_stack([way, across, np.cross(way, across)]), np.asarray(at), tag)


def _mover(joint: Joint, fixed: str, at: Sequence[float]) -> str:
    """Name the copy that moves against ``fixed`` at a spot."""

    def off(low: Sequence[float], high: Sequence[float]) -> float:
        return float(np.linalg.norm(np.subtract(at, np.clip(at, low, high))))

    near = [contact for contact in joint.contacts if contact.fixed == fixed]
    if not near:
        return fixed
    return min(near, key=lambda one: round(off(one.face.low.floats(), one.face.high.floats()), 3)).moving


def _carried(body: Body, stance: Stance | None) -> Body:
    if stance is None:
        return body
    rows, move = np.array(stance.rows), np.array(stance.move)
    return replace(body, turn=rows @ np.asarray(body.turn), move=rows @ np.asarray(body.move) + move)


def _stands_proud(item: Hardware, fitted: bool) -> bool:
    """What has a shape of its kind is seen where a fit puts it."""
    if item.ware is not None and item.ware.shape:
        return fitted
    return any(word in item.kind.lower() for word in _STAND_PROUD)


def _lies(design: Design, use: HardwareUse, copy: str, side: Side) -> Axis | None:
    """The way that its length lies: along its part, or the longer way of an end; turned, over it."""
    item, there = design.hardware[use.item], design.copies.get(copy)
    if item.ware is None or there is None:
        return None
    part = design.part_of[copy]
    lateral = [axis for axis in Axis if axis is not side.axis]
    runs = there.pose.side(Side.of(part.runs, True)).axis
    long = runs if runs in lateral else max(lateral, key=lambda axis: there.box.size(axis).mm)
    return next(axis for axis in lateral if axis is not long) if use.turned else long


def _one_side(spots: Sequence[Spot], view: View) -> list[Spot]:
    groups: dict[tuple[str, Side], list[Spot]] = {}
    for spot in spots:
        groups.setdefault((spot[0], spot[2]), []).append(spot)

    best = max(groups, key=lambda key: (round(_facing(key[1], view), 6), key[0]))
    return groups[best]


def _stack(
    design: Design,
    by: str,
    number: int,
    spot: Spot,
    items: Sequence[str],
    offsets: Mapping[str, Sequence[float]],
    gap: float,
) -> list[Fitting]:
    copy, head, side = spot
    mouth = np.asarray(head, dtype=np.float64) + np.asarray(offsets[copy])
    outward = np.zeros(3)
    outward[side.axis.value] = side.sign
    reach = gap
    fits = {fit.name: fit.hardware for fit in design.fits}
    found: list[Fitting] = []
    start = mouth
    for name in items:
        item = design.hardware[name]
        use = fits.get(by)
        shape = solid(item) if use is not None or profile(item) is not None else None
        if shape is None:
            continue
        out = reach + shape.high
        at = (float(mouth[0]), float(mouth[1]), float(mouth[2]))
        turn, move = pose(side, at, out, _lies(design, use, copy, side) if use is not None else None)
        tag = f"{by}/{name}/{number}"
        end = mouth + outward * out
        path = (tuple(float(v) for v in end), tuple(float(v) for v in start))
        found.append(Fitting(name, Actor(tag, Body(shape.mesh, turn, move, tag), "hardware"), path))  # type: ignore[arg-type]
        start = end
        reach = out - shape.low + gap * 0.6
    return found

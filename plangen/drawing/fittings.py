"""Hardware in a picture: which pieces are shown, how far out they are drawn, and the way they go in."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
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


def in_place(
    design: Design, moved: Mapping[str, Stance] = _STILL, *, wooden: Role = "plain"
) -> tuple[Actor, ...]:
    """Give the hardware that is seen on the finished piece, where it belongs.

    Plugs, pegs, knobs and casters stand where they are fitted, the knuckle of a hinge on its pin, and the two
    members of a slide on the pieces that they join. ``moved`` carries the copies that a position moves;
    ``wooden`` is the part that plays what is of wood.
    """
    actors: list[Actor] = []
    fitted = {fit.name for fit in design.fits}
    for use in uses(design):
        item = design.hardware.get(use.item)
        if item is None or not _stands_proud(item, use.by in fitted):
            continue
        shape = solid(item)
        if shape is None:
            continue
        for number, (copy, head, side) in enumerate(use.spots):
            turn, move = pose(side, head, along=_lies(design, use, copy, side))
            tag = f"{use.by}/{use.item}/{number}"
            role: Role = wooden if any(word in item.kind.lower() for word in _WOODEN) else "plain"
            actors.append(Actor(tag, _carried(Body(shape.mesh, turn, move, tag), moved.get(copy)), role))
    return (*actors, *(actor for joint in design.joints for actor in _moving(design, joint, moved)))


def _moving(design: Design, joint: Joint, moved: Mapping[str, Stance]) -> Iterator[Actor]:
    """Give the hardware of a joint on which pieces turn or slide."""
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
                    yield Actor(tag, _carried(body, moved.get(copy)), "plain")
                continue
            along = max(Axis, key=lambda axis: abs(motion.way[axis.value]))
            turn, move = pose(side, at, along=along)
            on_drawer = _mover(joint, copy, at)
            members = (((item.ware.shape[0],), copy), (item.ware.shape[1:], on_drawer))
            for member, (forms, holder) in enumerate(members):
                if forms:
                    name = f"{tag}/{member}"
                    body = Body(mesh_of(forms), turn, move, name)
                    yield Actor(name, _carried(body, moved.get(holder)), "plain")


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

    def facing(key: tuple[str, Side]) -> float:
        return key[1].sign * float(view.toward[key[1].axis.value])

    best = max(groups, key=lambda key: (round(facing(key), 6), key[0]))
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

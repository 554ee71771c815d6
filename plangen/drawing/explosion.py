"""How far and which way every piece is drawn out so that all joints are seen at once.

Along each axis the joints give differences: the moving piece has to stand at least the depth that it
enters, and a visible gap, away from the fixed one, against the way it closes. The least offsets that
keep all of them are the longest ways through that graph; a piece that is free between its earliest and
its latest place stands in the middle of the two, so that a case opens evenly to both sides. Along the
other axes a piece stays level with what it enters, or stands midway where its partners part: a panel
that is held in grooves on four sides stays where it is while they leave it. What only rests on another
piece gives way to all that. An assembly moves as one; a piece that leans leaves along its own way.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass

from plangen.design.model import Contact, Design, Joint
from plangen.drawing.nested import between_units, corners_of, members, units
from plangen.drawing.ranking import Ranking
from plangen.joinery.space import Axis, Direction, Side

RESTS = "rests"  # the kind of joint that holds nothing
Offset = tuple[float, float, float]  # mm across, deep, up


@dataclass(frozen=True, slots=True)
class Opening:
    """One joint between two copies, opened along an axis, ``high`` a gap and ``depth`` above ``low``."""

    axis: Axis
    low: str
    high: str
    depth: float  # mm that the one enters the other
    rests: bool = False  # nothing holds the two together


def closing_side(contact: Contact, design: Design) -> Side:
    """Give the way the moving copy travels to close: the joint's own, or square to the touching face."""
    if contact.closes is not None:
        return contact.closes
    flat = min(Axis, key=lambda axis: (abs(contact.face.size(axis)).mm, axis.value))
    copies = design.copies
    moving, fixed = copies[contact.moving].box, copies[contact.fixed].box
    return Side.of(flat, moving.middle(flat) <= fixed.middle(flat))


def entered(contact: Contact, design: Design) -> float:
    """Give how deep the moving copy enters the fixed one along the way it closes, in mm.

    Where one of the two leans, its box only bounds it: then the reach of the moving blank past the middle of
    the touching face counts.
    """
    side = closing_side(contact, design)
    copies = design.copies
    one, two = copies[contact.moving], copies[contact.fixed]
    if one.stance is None and two.stance is None:
        return max(0.0, float(one.box.overlap(two.box).size(side.axis)))
    way = way_of(contact, design)
    middle = [float(contact.face.middle(axis)) for axis in Axis]
    reach = max(_along(way, corner) for corner in corners_of(design, one.name))
    return max(0.0, reach - _along(way, middle))


def way_of(contact: Contact, design: Design) -> Direction:
    """Give the way the moving copy travels to close as a unit vector of the frame."""
    if contact.way is not None:
        return contact.way
    side = closing_side(contact, design)
    across, deep, up = (float(side.sign) if axis is side.axis else 0.0 for axis in Axis)
    return across, deep, up


def _along(way: Direction, point: Sequence[float]) -> float:
    return sum(part * at for part, at in zip(way, point, strict=True))


def openings(design: Design) -> tuple[Opening, ...]:
    """Give one opening for every contact, in the order of the joints; pairs that repeat an axis once."""
    return _openings(design, design.joints)


def _openings(design: Design, joints: Iterable[Joint]) -> tuple[Opening, ...]:
    found: dict[tuple[Axis, str, str], float] = {}
    resting: dict[tuple[Axis, str, str], bool] = {}
    for joint in joints:
        for contact in joint.contacts:
            side = closing_side(contact, design)
            axis = side.axis
            depth = entered(contact, design)
            low, high = (contact.fixed, contact.moving) if not side.high else (contact.moving, contact.fixed)
            key = (axis, low, high)
            if (axis, high, low) not in found:
                found[key] = max(found.get(key, 0.0), depth)
                resting[key] = resting.get(key, True) and joint.kind == RESTS
    return tuple(Opening(*key, depth, resting[key]) for key, depth in found.items())


def ways_out(design: Design, names: Collection[str]) -> tuple[Side, ...]:
    """Give the ways in which copies can leave, together, all that they are joined to; none where they differ.

    What they only rests on, or carries, bars the way into it.
    """
    ways = list(Side)
    for joint in design.joints:
        for contact in joint.contacts:
            if (contact.fixed in names) is (contact.moving in names):
                continue
            side = closing_side(contact, design)
            out = side.opposite if contact.moving in names else side
            ways = [way for way in ways if (way is not out.opposite if joint.kind == RESTS else way is out)]
    return tuple(ways)


def explode(design: Design, gaps: Mapping[Axis, float]) -> dict[str, Offset]:
    """Give the offset of every copy, with the given visible gap (mm at full size) along each axis.

    A joint that would close a ring of openings is left out of the reckoning along its axis. The pieces of an
    assembly stay together.
    """
    of = units(design)
    whole = [copies for copies in members(of).values() if len(copies) > 1]
    return _exploded(design, list(design.copies), between_units(design.joints, of), whole, gaps)


def explode_some(
    design: Design,
    names: Sequence[str],
    joints: Sequence[Joint],
    together: Sequence[str],
    gaps: Mapping[Axis, float],
    bodies: Sequence[Sequence[str]] = (),
) -> dict[str, Offset]:
    """Give the offsets of some copies with only some joints open; those that are ``together`` stay still.

    The copies of each of the ``bodies`` move as one.
    """
    present = set(names)
    groups = [[name for name in body if name in present] for body in (together, *bodies)]
    offsets = _exploded(design, list(names), joints, [group for group in groups if group], gaps)
    origin = offsets[together[0]] if together else (0.0, 0.0, 0.0)
    return {
        name: (round(x - origin[0], 6), round(y - origin[1], 6), round(z - origin[2], 6))
        for name, (x, y, z) in offsets.items()
    }


def _exploded(
    design: Design,
    names: list[str],
    joints: Sequence[Joint],
    together: Sequence[Sequence[str]],
    gaps: Mapping[Axis, float],
) -> dict[str, Offset]:
    present = set(names)
    found = tuple(item for item in _openings(design, joints) if {item.low, item.high} <= present)
    along = {
        axis: _spread(names, found, _ties(design, joints, present, axis), together, axis, gaps[axis])
        for axis in Axis
    }
    offsets = {name: [along[axis][name] for axis in Axis] for name in names}
    mates = {name: group for group in together for name in group}
    leaned: set[str] = set()
    for contact in (contact for joint in joints for contact in joint.contacts):
        if contact.way is None or not {contact.fixed, contact.moving} <= present or contact.moving in leaned:
            continue
        axis = closing_side(contact, design).axis
        apart = offsets[contact.moving][axis.value] - offsets[contact.fixed][axis.value]
        moving = mates.get(contact.moving, (contact.moving,))
        leaned.update(moving)
        for name in moving:
            offsets[name] = [
                at if other is axis else at + apart * contact.way[other.value] / contact.way[axis.value]
                for other, at in zip(Axis, offsets[name], strict=True)
            ]
    return {name: (at[0], at[1], at[2]) for name, at in offsets.items()}


def _ties(
    design: Design, joints: Iterable[Joint], present: Collection[str], axis: Axis
) -> dict[str, list[str]]:
    """For each moving copy the copies it has to stay level with along the axis: those it enters otherwise.

    What it rests on counts only where it enters nothing.
    """
    ties: dict[str, list[str]] = {}
    resting: dict[str, list[str]] = {}
    for joint in joints:
        for contact in joint.contacts:
            if contact.moving not in present or contact.fixed not in present:
                continue
            if closing_side(contact, design).axis is not axis:
                partners = (resting if joint.kind == RESTS else ties).setdefault(contact.moving, [])
                if contact.fixed not in partners:
                    partners.append(contact.fixed)
    return {**{name: partners for name, partners in resting.items() if name not in ties}, **ties}


def _spread(
    names: list[str],
    found: tuple[Opening, ...],
    ties: Mapping[str, list[str]],
    together: Sequence[Sequence[str]],
    axis: Axis,
    gap: float,
) -> dict[str, float]:
    ranking = Ranking(names, together)
    group = ranking.group
    mates = {name: some for some in together for name in some}
    here = [item for item in found if item.axis is axis]
    kept = [item for item in here if not item.rests and ranking.put(item.low, item.high)]
    torn = {name: partners for name, partners in ties.items() if not ranking.join([name, *partners])}
    kept += [item for item in here if item.rests and ranking.put(item.low, item.high)]
    order = ranking.order()
    leaving: dict[int, list[Opening]] = {number: [] for number in order}
    for item in kept:
        leaving[group[item.low]].append(item)
    earliest = dict.fromkeys(order, 0.0)
    for number in order:
        for item in leaving[number]:
            high = group[item.high]
            earliest[high] = max(earliest[high], earliest[number] + item.depth + gap)
    whole = _joined(group, kept)
    top: dict[int, float] = {}
    for number in order:
        top[whole[number]] = max(top.get(whole[number], 0.0), earliest[number])
    latest = {number: top[whole[number]] for number in order}
    for number in reversed(order):
        for item in leaving[number]:
            latest[number] = min(latest[number], latest[group[item.high]] - item.depth - gap)
    middle = {number: (earliest[number] + latest[number] - top[whole[number]]) / 2 for number in order}
    places = {name: middle[group[name]] for name in names}
    bound = {group[name] for item in kept for name in (item.low, item.high)}
    for name, partners in torn.items():
        if group[name] not in bound:
            middle_of = sum(places[partner] for partner in partners) / len(partners)
            places.update(dict.fromkeys(mates.get(name, (name,)), middle_of))
    return places


def _joined(group: Mapping[str, int], kept: list[Opening]) -> dict[int, int]:
    """Give each group the least number of the groups it hangs together with."""
    whole = {number: number for number in sorted(set(group.values()))}
    for item in kept:
        one, two = sorted((whole[group[item.low]], whole[group[item.high]]))
        whole = {number: one if value == two else value for number, value in whole.items()}
    return whole

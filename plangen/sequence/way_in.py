"""What stands in the way of a piece that goes in last: such a piece goes in before its way is closed.

Joints alone do not tell this: a chest's floor only lies on its ledgers, yet once the lid is on it has no
way in. Pieces are taken as their boxes, moved straight; what a box is already inside of (a notch, a
housing, a leaning piece) bars nothing. A piece that has no straight way at any time stays where it is.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from plangen.design.model import Copy, Design
from plangen.joinery.space import Axis, Box, Side
from plangen.sequence.assembly import Assembly
from plangen.sequence.trade import is_resting, trade_of

Rounds = tuple[tuple[str, ...], ...]


def with_ways_in(design: Design, assembly: Assembly, rounds: Rounds, before: Sequence[str]) -> Rounds:
    """Move each round that only adds one loose or movable thing ahead of what would bar its way.

    ``before`` are the joints closed earlier. A round moves no further ahead than it has to, and only
    where all rounds can still close.
    """
    late = {joint.name for joint in design.joints if is_resting(joint) or trade_of(joint).last or joint.apart}
    found = list(rounds)
    for moved in rounds:
        if not all(name in late for name in moved):
            continue
        at = found.index(moved)
        if _has_way(design.copies, assembly, found[:at], moved, before) is not False:
            continue
        for earlier in range(at - 1, 0, -1):
            order = [*found[:earlier], moved, *found[earlier:at], *found[at + 1 :]]
            if _has_way(design.copies, assembly, found[:earlier], moved, before) and _sound(
                assembly, order, before
            ):
                found = order
                break
    return tuple(found)


def _sound(assembly: Assembly, rounds: Sequence[Sequence[str]], before: Sequence[str]) -> bool:
    closed = list(before)
    for joints in rounds:
        if not assembly.comes_together(joints, closed):
            return False
        closed += joints
    return True


def _has_way(
    copies: Mapping[str, Copy],
    assembly: Assembly,
    done: Sequence[Sequence[str]],
    joints: Sequence[str],
    before: Sequence[str],
) -> bool | None:
    """Whether what a round adds can go straight in; None where it does not add one thing to what stands."""
    # What else stands on the bench, such as a lid with its battens, bars nothing until it is on.
    names = [name for some in done for name in some]
    group = assembly.groups([*before, *names])
    there = {group[copy] for copy in assembly.members(names)}
    touched = {group[copy] for copy in assembly.members(joints)}
    new = touched - there
    onto = touched & there
    if len(new) != 1 or not onto:
        return None
    coming = [copies[copy].box for copy in copies if group[copy] in new]
    standing = [copies[copy].box for copy in copies if group[copy] in onto]
    return any(_free(coming, standing, side) for side in Side)


def _free(coming: Iterable[Box], standing: Sequence[Box], side: Side) -> bool:
    return not any(_bars(one, other, side) for one in coming for other in standing)


def _bars(one: Box, other: Box, side: Side) -> bool:
    """Whether a box, on its way straight out toward a side, runs into another that it is clear of now."""
    across = all(
        one.low.at(axis) < other.high.at(axis) and other.low.at(axis) < one.high.at(axis)
        for axis in Axis
        if axis is not side.axis
    )
    return across and ((other.side(side.opposite) - one.side(side)) * side.sign).mm >= 0

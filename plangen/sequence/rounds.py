"""In what rounds the joints close: assemblies first that are wanted first, each closed as a whole."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from plangen.design.model import Design, Joint
from plangen.sequence.assembly import Assembly
from plangen.sequence.resting import stands
from plangen.sequence.trade import is_resting, trade_of
from plangen.sequence.way_in import with_ways_in

MOST_AT_ONCE: Final = 4  # contacts glued in one step though they have no piece in common
MOST_FASTENED: Final = 2  # joints that fasten, in one step
MOST_TRIES: Final = 6  # joints from which the fewest that must close together are looked for

Round = tuple[
    str | None, tuple[str, ...]
]  # the key of the assembly that is built, None for the whole; joints


def rounds_within(design: Design, assembly: Assembly) -> dict[str | None, tuple[tuple[str, ...], ...]]:
    """Give the rounds of every assembly by its key, and those of the whole under None.

    The joints of an assembly close by themselves, before those that take it in as one body.
    """
    names = {key: [joint.name for joint in design.joints if joint.assembly == key] for key in _scopes(design)}
    closed: list[str] = []
    found: dict[str | None, tuple[tuple[str, ...], ...]] = {}
    for key, joints in names.items():
        found[key] = _rounds(
            design, assembly, [name for name in joints if name not in assembly.quiet], closed
        )
        closed += [name for joints in found[key] for name in joints]
    return found


def _scopes(design: Design) -> tuple[str | None, ...]:
    return (*(one.key for one in design.assemblies), None)


def building_order(design: Design, assembly: Assembly) -> tuple[str | None, ...]:
    """Give the assemblies in the order in which they are built, the whole (None) last."""
    return tuple(dict.fromkeys((*(key for key, _ in staged_rounds(design, assembly)), *_scopes(design))))


def staged_rounds(design: Design, assembly: Assembly) -> tuple[Round, ...]:
    """Give all rounds in the order in which they are closed.

    An assembly is built right before the first round that takes it in, so that the bench holds no more
    than it must and what is fitted to an opening is made when the opening is there.
    """
    rounds = rounds_within(design, assembly)
    built: set[str] = set()

    def building(key: str | None) -> Iterator[Round]:
        inner = [one for one in design.assemblies if one.within == key]
        tried = [
            name
            for joints in rounds[key]
            for name in joints
            if named_joint(design, name).glue and assembly.holds(name)
        ]
        for number, joints in enumerate(rounds[key]):
            # What is tried dry before the first glue has to be there by then.
            wanted = assembly.members((*joints, *(tried if number == 0 else ())))
            taken = {body.assembly.key for copy in wanted for body in assembly.bodies[copy]}
            for child in inner:
                if child.key in taken and child.key not in built:
                    built.add(child.key)
                    yield from building(child.key)
            yield key, joints
        for child in inner:
            if child.key not in built:
                built.add(child.key)
                yield from building(child.key)

    return tuple(building(None))


def joint_rounds(design: Design, assembly: Assembly) -> tuple[tuple[str, ...], ...]:
    """Give the joints that each step closes, in the order of the steps."""
    return tuple(joints for _, joints in staged_rounds(design, assembly))


def _rounds(
    design: Design, assembly: Assembly, names: Sequence[str], before: Sequence[str]
) -> tuple[tuple[str, ...], ...]:
    """Order some joints so that whatever slides in between goes in while it can; ``before`` are closed.

    Each round is closed in one step. Joints go in the order they are declared, those of parts sized
    from the work and those that hold movable things later, what only rests last, as long as all that is
    left can still come together. Joints that bring in the same pieces close in one round. Quiet joints,
    whose pieces rest on each other once others are closed, are in no round.
    """
    declared = {joint.name: joint for joint in design.joints if joint.name in names}
    late = {part.key for part in design.parts if part.from_work}

    def stage(name: str) -> int:
        joint = declared[name]
        last = 2 if trade_of(joint).last else 1 if joint.apart else 0
        return 3 if is_resting(joint) else last

    def rank(name: str) -> tuple[int, bool, int]:
        from_work = any(takes_part(design, assembly, (name,), key) for key in sorted(late))
        return stage(name), from_work, list(declared).index(name)

    left = sorted(declared, key=rank)
    closed = list(before)
    rounds: list[tuple[str, ...]] = []
    sound = assembly.comes_together(left, closed)
    while left:
        first = [name for name in left if stage(name) == stage(left[0])]
        together = _next_round(assembly, closed, left, first) if sound else (left[0],)
        together = _joined_by(design, assembly, together, closed, left, sound)
        rounds.append(together)
        closed += together
        left = [name for name in left if name not in together]
    ordered = with_ways_in(design, assembly, tuple(rounds), before)
    return _side_by_side(design, assembly, ordered, before)


def _side_by_side(
    design: Design, assembly: Assembly, rounds: Sequence[tuple[str, ...]], before: Sequence[str]
) -> tuple[tuple[str, ...], ...]:
    """Close in one round what follows each other and is little together.

    These are small glue joints that have no piece in common, joints of one kind that fasten, and all that
    says on what whole assemblies stand.
    """
    contacts = {
        joint.name: len(joint.contacts) if joint.glue else MOST_AT_ONCE + 1 for joint in design.joints
    }
    closed = list(before)
    found: list[tuple[str, ...]] = []
    for joints in rounds:
        group = assembly.groups(closed)
        there = {group[copy] for copy in assembly.members(found[-1])} if found else set()
        apart = there.isdisjoint(group[copy] for copy in assembly.members(joints))
        both = (*found[-1], *joints) if found else ()
        few = both and sum(contacts.get(name, MOST_AT_ONCE + 1) for name in both) <= MOST_AT_ONCE
        resting = [
            all(is_resting(named_joint(design, name)) for name in some) for some in (*found[-1:], joints)
        ]
        if any(resting):
            together = bool(both) and stands(assembly, [named_joint(design, name) for name in both])
        else:
            together = bool((few and apart) or (both and _fastened_alike(design, both)))
        if together:
            found[-1] = both
        else:
            found.append(joints)
        closed += joints
    return tuple(found)


def _fastened_alike(design: Design, names: Sequence[str]) -> bool:
    """Whether joints are of one kind, draw dry pieces tight, and bring in few parts, each in one of them."""
    joints = [joint for joint in design.joints if joint.name in names and not is_resting(joint)]
    alike = len({joint.kind for joint in joints}) == 1 and not any(joint.glue for joint in joints)
    if not alike or not trade_of(joints[0]).tight or trade_of(joints[0]).last or joints[0].apart:
        return False
    part_of = design.part_of
    pieces = [
        {part_of[copy].key for item in joint.contacts for copy in (item.fixed, item.moving)}
        for joint in joints
    ]
    return len(joints) <= MOST_FASTENED and sum(map(len, pieces)) == len(set().union(*pieces))


def _safe(assembly: Assembly, joints: Sequence[str], closed: Sequence[str], left: Sequence[str]) -> bool:
    """Whether the joints can close now and all others can still close after them."""
    after = [name for name in left if name not in joints]
    return assembly.comes_together(joints, closed) and assembly.comes_together(after, [*closed, *joints])


def _next_round(
    assembly: Assembly, closed: Sequence[str], left: Sequence[str], first: Sequence[str]
) -> tuple[str, ...]:
    """Give the first joint that can close by itself, or else the fewest that have to close in one go.

    ``first`` are those of ``left`` whose turn it is.
    """
    ripe = [name for name in first if not _too_soon(assembly, name, closed, left)] or list(first)
    for name in ripe:
        if _safe(assembly, (name,), closed, left):
            return (name,)
    found: list[tuple[str, ...]] = []
    for name in ripe:
        if len(found) < MOST_TRIES and all(name not in some for some in found):
            found.append(_fewest(assembly, name, closed, left))
    return min(found, key=len)


def _too_soon(assembly: Assembly, name: str, closed: Sequence[str], left: Sequence[str]) -> bool:
    """Whether a joint would lay pieces together that still have to go into other pieces, and not the same.

    Two single pieces that go into the same pieces later may be joined first, as a small assembly.
    """
    if assembly.holds(name):
        return False
    group = assembly.groups(closed)
    merged = {group[copy] for copy in assembly.members((name,))}
    touched = [copy for copy in group if group[copy] in merged]
    partners: dict[str, set[str]] = {copy: set() for copy in touched}
    for other in left:
        for bond in assembly.bonds[other]:
            if not bond.lying:
                for one, two in ((bond.fixed, bond.moving), (bond.moving, bond.fixed)):
                    if one in partners:
                        partners[one].add(two)
    waiting = [others for others in partners.values() if others]
    if len(touched) > len(merged):
        return bool(waiting)
    return any(one.isdisjoint(two) for one in waiting for two in waiting)


def _fewest(assembly: Assembly, first: str, closed: Sequence[str], left: Sequence[str]) -> tuple[str, ...]:
    """Grow a set from one joint, adding what holds whatever has no way in; then drop what is not needed."""
    some = [first]
    while len(some) < len(left):
        rest = [name for name in left if name not in some]
        held = set(assembly.stuck(some, closed) or assembly.stuck(rest, [*closed, *some]))
        if not held:
            break
        holding = (name for name in rest if len(held.intersection(assembly.members((name,)))) > 1)
        some.append(next(holding, rest[0]))
    for name in some[:0:-1]:
        fewer = [other for other in some if other != name]
        if _safe(assembly, fewer, closed, left):
            some = fewer
    return tuple(name for name in left if name in some)


def _joined_by(
    design: Design,
    assembly: Assembly,
    joints: tuple[str, ...],
    closed: Sequence[str],
    left: Sequence[str],
    sound: bool,
) -> tuple[str, ...]:
    """Add the joints whose pieces come to touch when the others close: their glue has to be on by then."""
    group = assembly.groups(closed)
    merged = {group[copy] for copy in assembly.members(joints)}
    gathered = joints
    for name in left:
        met = [group[copy] for copy in assembly.members((name,))]
        comes = name not in gathered and merged.issuperset(met) and len(set(met)) > 1
        alike = _goes_last(design, name) == _goes_last(design, joints[0])
        if comes and alike and (not sound or _safe(assembly, (*gathered, name), closed, left)):
            gathered = (*gathered, name)
    return gathered


def _goes_last(design: Design, name: str) -> tuple[bool, bool]:
    joint = named_joint(design, name)
    return trade_of(joint).last or is_resting(joint), joint.apart


def named_joint(design: Design, name: str) -> Joint:
    """Give the joint of a name."""
    return next(joint for joint in design.joints if joint.name == name)


def takes_part(design: Design, assembly: Assembly, joints: Sequence[str], key: str) -> bool:
    """Whether pieces of a part meet in some joints."""
    return any(design.part_of[copy].key == key for copy in assembly.members(joints))

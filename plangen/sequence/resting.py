"""Pieces that only rest on each other: closed in passing where other joints hold them, else set in place."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from plangen.design.model import Design, Joint
from plangen.joinery.space import Axis
from plangen.sequence.assembly import Assembly
from plangen.sequence.plan import Plan
from plangen.sequence.trade import is_resting
from plangen.takeoff.naming import bodies_of, body_within


def speaking(joints: Sequence[Joint]) -> list[Joint]:
    """Give the joints that a step is about: those that rest only where nothing else is closed."""
    held = [joint for joint in joints if not is_resting(joint)]
    return held or list(joints)


def between_things(design: Design) -> Design:
    """Give the design with joints that only rest kept to what lies between one thing and another.

    ``rests: {between: [crate, crate]}`` says how crates stand on each other; the pieces of one crate,
    which lie together too, are held by the joints that the crate is built with.
    """
    bodies = bodies_of(design)

    def thing(copy: str, within: str | None) -> str:
        body = body_within(bodies[copy], within)
        return body.copy.name if body else copy

    def kept(joint: Joint) -> Joint:
        if not is_resting(joint):
            return joint
        across = tuple(
            contact
            for contact in joint.contacts
            if thing(contact.fixed, joint.assembly) != thing(contact.moving, joint.assembly)
        )
        return replace(joint, contacts=across) if across else joint

    return replace(design, joints=tuple(kept(joint) for joint in design.joints))


def close_quietly(assembly: Assembly, plans: Sequence[Plan], quiet: Sequence[str]) -> tuple[Plan, ...]:
    """Close each quiet joint that no plan closes in the plan that brings the last of its pieces together."""
    covered = {name for plan in plans for name in plan.joints}
    left = [name for name in quiet if name not in covered]
    closed: list[str] = []
    done: list[Plan] = []
    for plan in plans:
        closed += plan.joints
        ripe: list[str] = []
        if left and plan.joints:
            group = assembly.groups(closed)
            ripe = [
                name
                for name in left
                if all(group[bond.fixed] == group[bond.moving] for bond in assembly.bonds[name])
            ]
            left = [name for name in left if name not in ripe]
        done.append(replace(plan, joints=(*plan.joints, *ripe)) if ripe else plan)
    return tuple(done)


def left_over(plan: Plan, others: Sequence[Plan], quiet: Sequence[str]) -> Plan:
    """Give a plan less what others cover, and less the quiet joints when all that they went with is gone."""
    left = plan.without(others)
    alone = bool(left.joints) and all(name in quiet for name in left.joints)
    return replace(left, joints=()) if alone and left.joints != plan.joints else left


def set_down_by(design: Design, brought: Sequence[str]) -> tuple[str, ...]:
    """Name the joints that only rest and are closed when some placed assemblies are put where they belong.

    ``brought`` are the names of these; each has to be what is set down on the other.
    """
    bodies, copies = bodies_of(design), design.copies

    def closed(joint: Joint) -> bool:
        for contact in joint.contacts:
            upper, lower = sorted(
                (contact.fixed, contact.moving), key=lambda copy: -copies[copy].box.middle(Axis.UP).mm
            )
            needed = (upper,) if not contact.face.size(Axis.UP) else (upper, lower)
            held = [body_within(bodies[copy], joint.assembly) for copy in needed]
            if any(body is None or body.copy.name not in brought for body in held):
                return False
        return True

    return tuple(joint.name for joint in design.joints if is_resting(joint) and closed(joint))


def thing_of(assembly: Assembly, copy: str, within: str | None) -> str:
    """Name what a piece is moved as where ``within`` is built: the placed assembly it is in, or itself."""
    body = assembly.body(copy, within)
    return body.copy.name if body else copy


def resting_pieces(
    design: Design, assembly: Assembly, joints: Sequence[Joint]
) -> tuple[list[str], list[tuple[str, str]]]:
    """Give the copies that are set down, from the bottom up, and what they touch that stands already.

    What they touch comes each with ``on``, ``under`` or ``against``. Of two things the one of fewer pieces
    is set down; of two as large, and where one is an assembly that was built by itself, the upper one.
    """
    copies = design.copies
    group = assembly.groups(joint.name for joint in design.joints if not is_resting(joint))
    size = Counter(group.values())
    within = assembly.scope(joint.name for joint in joints)
    down: dict[str, None] = {}
    touched: dict[str, str] = {}
    for contact in (contact for joint in joints for contact in joint.contacts):
        flat = not contact.face.size(Axis.UP)
        pair = (contact.moving, contact.fixed)
        whole = flat and any(assembly.body(copy, within) is not None for copy in pair)
        one, two = sorted(
            pair,
            key=lambda copy: (
                0 if whole else size[group[copy]],
                -copies[copy].box.middle(Axis.UP).mm if flat else 0,
            ),
        )
        down.setdefault(one)
        above = copies[one].box.middle(Axis.UP) > copies[two].box.middle(Axis.UP)
        touched.setdefault(two, ("on" if above else "under") if flat else "against")
    moved = {thing_of(assembly, copy, within) for copy in down}
    rest = [(copy, how) for copy, how in touched.items() if thing_of(assembly, copy, within) not in moved]
    return (
        sorted(down, key=lambda copy: copies[copy].box.low.at(Axis.UP)),
        sorted(rest, key=lambda pair: ("on", "under", "against").index(pair[1])),
    )


def is_stack(design: Design, assembly: Assembly, joints: Sequence[Joint]) -> bool:
    """Whether some of what is set down stands on other things that are set down with it."""
    within = assembly.scope(joint.name for joint in joints)
    down, _ = resting_pieces(design, assembly, joints)
    moved = {thing_of(assembly, copy, within) for copy in down}
    return any(
        not contact.face.size(Axis.UP)
        and {thing_of(assembly, copy, within) for copy in (contact.fixed, contact.moving)} <= moved
        for joint in joints
        for contact in joint.contacts
    )


def stands(assembly: Assembly, joints: Sequence[Joint]) -> bool:
    """Whether joints only say on what whole assemblies stand."""
    within = assembly.scope(joint.name for joint in joints)
    return all(
        is_resting(joint)
        and all(
            not contact.face.size(Axis.UP)
            and any(assembly.body(copy, within) for copy in (contact.fixed, contact.moving))
            for contact in joint.contacts
        )
        for joint in joints
    )

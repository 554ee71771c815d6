"""Which assembly a step is about, and what it handles as one thing: an assembly that is built is one body."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from plangen.design.model import Assembly as Built
from plangen.design.model import Design, Joint
from plangen.sequence.assembly import Assembly
from plangen.sequence.fitting import home_of
from plangen.sequence.plan import Plan
from plangen.sequence.resting import speaking


def scope_of(design: Design, assembly: Assembly, plan: Plan) -> str | None:
    """Give the key of the assembly that a step builds; None where it builds the whole, or nothing."""
    joints = speaking([joint for joint in design.joints if joint.name in (*plan.joints, *plan.dry)])
    keys = {joint.assembly for joint in joints}
    keys |= {assembly.home(copy) for copy in plan.placed if not plan.fits and not plan.finish}
    if plan.fits and not joints and not plan.finish:
        keys |= {home_of(assembly, fit) for fit in design.fits if fit.name in plan.fits}
    keys |= {one.within for one in design.assemblies for copy in one.copies if copy.name in plan.brought}
    return keys.pop() if len(keys) == 1 else None


def built(design: Design, key: str | None) -> Built | None:
    """Give the assembly of a key."""
    return next((one for one in design.assemblies if one.key == key), None)


def first_copy(design: Design, key: str | None) -> frozenset[str] | None:
    """Give the pieces of the first copy of an assembly: those that are shown and spoken of; None for all."""
    found = built(design, key)
    return frozenset(found.copies[0].members) if found else None


def shown_of(copies: Iterable[str], shown: frozenset[str] | None) -> tuple[str, ...]:
    """Give the copies that are among those shown, each once."""
    return tuple(copy for copy in dict.fromkeys(copies) if shown is None or copy in shown)


def joints_shown(joints: Iterable[Joint], shown: frozenset[str] | None) -> list[Joint]:
    """Give joints with only the contacts between pieces that are shown."""
    if shown is None:
        return list(joints)
    return [
        replace(joint, contacts=tuple(c for c in joint.contacts if c.fixed in shown and c.moving in shown))
        for joint in joints
    ]


def brought_by(design: Design, assembly: Assembly, plan: Plan) -> tuple[str, ...]:
    """Name the placed assemblies that a step handles as one thing: those it joins, and those it sets down."""
    within = scope_of(design, assembly, plan)
    joints = speaking([joint for joint in design.joints if joint.name in (*plan.joints, *plan.dry)])
    bodies = [assembly.body(copy, within) for copy in assembly.members(joint.name for joint in joints)]
    return tuple(dict.fromkeys([*(body.copy.name for body in bodies if body), *plan.brought]))


def handled_as(assembly: Assembly, copy: str, within: str | None) -> str:
    """Name what a piece is handled as where ``within`` is built: the placed assembly it is in, or itself."""
    body = assembly.body(copy, within)
    return body.copy.name if body else copy


def pieces_within(design: Design, key: str | None) -> tuple[str, ...]:
    """Give every piece of the first copy of an assembly, or of the whole."""
    found = built(design, key)
    return found.copies[0].members if found else tuple(design.copies)

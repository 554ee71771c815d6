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


def speaking(joints: Sequence[Joint]) -> list[Joint]:
    """Give the joints that a step is about: those that rest only where nothing else is closed."""
    held = [joint for joint in joints if not is_resting(joint)]
    return held or list(joints)


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


def resting_pieces(
    design: Design, assembly: Assembly, joints: Sequence[Joint]
) -> tuple[list[str], list[tuple[str, str]]]:
    """Give the copies that are set down, and what they touch: each with ``on``, ``under`` or ``against``.

    Of two things the one of fewer pieces is set down; of two as large, and where one is an assembly that
    was built by itself, the upper one.
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
    rest = [(copy, how) for copy, how in touched.items() if copy not in down]
    return list(down), sorted(rest, key=lambda pair: ("on", "under", "against").index(pair[1]))

"""What to check before going on from a step."""

from __future__ import annotations

from collections.abc import Sequence

from plangen.design.model import Design, Joint
from plangen.joinery.operation import Group
from plangen.joinery.ranks import work_group
from plangen.joinery.space import Axis
from plangen.sequence.bodies import first_copy, joints_shown
from plangen.sequence.plan import Plan
from plangen.sequence.resting import speaking
from plangen.sequence.tokens import length_token
from plangen.sequence.trade import trade_of
from plangen.sequence.words import copies_counted


def joints_named(design: Design, names: Sequence[str]) -> list[Joint]:
    """Give the joints of some names, in the order of the names."""
    return [joint for name in names for joint in design.joints if joint.name == name]


def checks_of(design: Design, plan: Plan) -> tuple[str, ...]:
    """Give what to check before going on: the maker's, or the tool's own for a drafted step."""
    if plan.checks or not plan.drafted:
        return plan.checks
    if plan.joints and plan.kind == "glue":
        checks = ["Dry, every shoulder closes by hand."] if plan.dry else []
        checks.append("Shoulders are tight and corners are square.")
        if _ring(speaking(joints_named(design, plan.joints))):
            checks.append("Both diagonals are equal.")
        return tuple(checks)
    if plan.dry:
        return ("Every shoulder closes by hand.", "Nothing has to be forced.", *_dry_checks(design, plan))
    if plan.made and any(len(design.part(key).copies) > 1 for key in plan.made):
        return ("Pieces with one mark are alike: hold them side by side.",)
    if any(_fits_together(design, key, index) for key, index in plan.worked):
        return ("Try the first cut in scrap of the same thickness.",)
    return ()


def _ring(joints: Sequence[Joint]) -> bool:
    """Whether pieces close a ring, so that its diagonals can be compared."""
    contacts = [item for joint in joints for item in joint.contacts]
    pairs = {frozenset((item.fixed, item.moving)) for item in contacts}
    return bool(pairs) and len(pairs) >= len(frozenset().union(*pairs))


def _dry_checks(design: Design, plan: Plan) -> list[str]:
    """Give what to measure on what stands together dry: diagonals, what has to move, and its outside."""
    joints = joints_named(design, plan.dry)
    checks = ["Both diagonals are equal."] if _ring(joints) else []
    loose = dict.fromkeys(item.moving for joint in joints if not joint.glue for item in joint.contacts)
    if loose:
        checks.append(f"You can still move {copies_counted(design, loose)}.")
    copies = design.copies
    whole = _one_thing(joints, first_copy(design, joints[0].assembly))
    if whole and all(copies[copy].stance is None for copy in whole):
        sizes = [
            max(copies[copy].box.high.at(axis) for copy in whole)
            - min(copies[copy].box.low.at(axis) for copy in whole)
            for axis in Axis
        ]
        across, deep, up = (length_token(size) for size in sizes)
        checks.append(f"Outside it measures {across} wide, {deep} deep and {up} high.")
    return checks


def _one_thing(joints: Sequence[Joint], shown: frozenset[str] | None) -> tuple[str, ...]:
    """Give the pieces of joints that hang together as one thing; none where they are several things."""
    groups: list[dict[str, None]] = []
    for joint in joints_shown(joints, shown):
        for contact in joint.contacts:
            met = [one for one in groups if contact.fixed in one or contact.moving in one]
            groups = [one for one in groups if one not in met]
            groups.append(
                dict.fromkeys([*(copy for one in met for copy in one), contact.fixed, contact.moving])
            )
    return tuple(groups[0]) if len(groups) == 1 else ()


def _fits_together(design: Design, key: str, index: int) -> bool:
    """Whether a piece of another part has to fit into what an operation cuts."""
    operation = design.part(key).operations[index]
    inside = any(joint.name == operation.joint and not trade_of(joint).lies for joint in design.joints)
    return inside and work_group(operation) is Group.JOINTS

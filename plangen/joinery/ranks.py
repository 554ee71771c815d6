"""The order in which the trade works a piece."""

from __future__ import annotations

from typing import Final

from plangen.joinery.joints import JOINTS
from plangen.joinery.operation import Group, Operation
from plangen.joinery.operations import OPERATIONS

# What joints cut, in the trade's order within its group; a joint's operation that is not listed
# names its group itself. Common practice, no source.
JOINT_WORK: Final[tuple[tuple[Group, tuple[str, ...]], ...]] = (
    (Group.JOINTS, ("half-lap", "dado", "groove", "rabbet", "mortise", "tenon")),
    (Group.HOLES, ("dowel hole", "lead hole", "screw hole")),
)

_KINDS: Final[dict[str, Group]] = {
    **{kind: group for group, kinds in JOINT_WORK for kind in kinds},
    # What one kind of joint alone cuts, in the order in which that joint says it.
    **{kind: Group.JOINTS for joint in JOINTS.values() for kind in joint.says},
    **{name: kind.group for name, kind in OPERATIONS.items()},
}
_PLACE: Final = {kind: place for place, kind in enumerate(_KINDS)}


def work_group(operation: Operation) -> Group:
    """The group of an operation: its own, its kind's, or that of the outlines."""
    if operation.group is not None:
        return operation.group
    if operation.kind == "notch" and operation.joint is not None:
        return Group.JOINTS  # it fits a piece round a stopped housing
    return _KINDS.get(operation.kind, Group.SHAPES)


def work_rank(operation: Operation) -> int:
    """Where an operation stands in the order of work; equal ranks keep the order they came in.

    A kind that is in no table stands with the curves of its group.
    """
    place = _PLACE.get(operation.kind, _PLACE["curve"])
    return work_group(operation).value * len(_PLACE) + place

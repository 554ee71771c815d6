"""What kinds of joint and of operation say of the order of work; each says it in its own module."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from plangen.design.model import Joint
from plangen.joinery.body import JointKind
from plangen.joinery.joints import JOINTS
from plangen.joinery.kinds import CUT_IN
from plangen.joinery.operation import Form, Operation
from plangen.joinery.operations import OPERATIONS

DRILL_IN: Final = "Drill the {work} in the {pieces}"
MARK_ON: Final = "Mark the {work} on the {pieces}"
# What a part's own keys have sawn: its `outline`, and its ends where it leans.
_OF_PARTS: Final = {
    "outline": "Saw the {work} of the {pieces}",
    "angled end": "Saw the {work} on the {pieces}",
}


def plain_kind(kind: str) -> str:
    """Give a kind's words alike however they are joined: ``half-lap``, ``half_lap``, ``half lap``."""
    return kind.replace("-", " ").replace("_", " ").lower()


_JOINTS: Final[Mapping[str, JointKind]] = MappingProxyType({
    plain_kind(name): kind for name, kind in JOINTS.items()
})  # fmt: skip
_HEADINGS: Final[Mapping[str, str]] = MappingProxyType(
    {
        **_OF_PARTS,
        **{kind: heading for joint in JOINTS.values() for kind, heading in joint.headings.items()},
        **{name: kind.heading for name, kind in OPERATIONS.items()},
    }
)


def trade_of(joint: Joint) -> JointKind:
    """Give the kind of a joint."""
    return _JOINTS[plain_kind(joint.kind)]


def is_resting(joint: Joint) -> bool:
    """Whether the pieces of a joint lie together with neither glue nor hardware."""
    return trade_of(joint).rests and not joint.glue and not joint.hardware


def verb_for(joint: Joint, glued: bool) -> str:
    """Give the verb that heads the step in which a joint is closed."""
    return trade_of(joint).verb or ("Glue" if glued else "Fit")


def heading_of(operation: Operation) -> str:
    """Give the heading of the step that does a kind of work, with ``{work}`` and ``{pieces}`` to fill in."""
    if operation.kind in _HEADINGS:
        return _HEADINGS[operation.kind]
    if operation.features and all(one.form is Form.MARK for one in operation.features):
        return MARK_ON
    bored = bool(operation.features) and all(one.form is Form.HOLE for one in operation.features)
    return DRILL_IN if bored or operation.kind.endswith("hole") else CUT_IN

"""An item under ``joints``: one kind of joint with its values."""

from typing import Annotated

from plangen.expressions import KindEntry, one_of_kinds
from plangen.joinery.joints import JOINTS

JointEntry = Annotated[
    KindEntry, one_of_kinds(lambda: {name: kind.entry for name, kind in JOINTS.items()}, "joint")
]

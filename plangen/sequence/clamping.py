"""How many clamps closing some joints takes, one for each piece that is drawn along one line."""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import Final

from plangen.design.model import Joint
from plangen.joinery.space import Axis
from plangen.sequence.trade import trade_of
from plangen.sequence.words import number_word
from plangen.units import millimetres

APART: Final = millimetres(200)  # along a glued face or edge; common practice, no source


def clamps_for(joints: Iterable[Joint]) -> int:
    """Give how many clamps glued joints take that no fasteners draw tight.

    One bar clamp closes both ends of a rail, so that what goes into another piece counts once for each
    piece and line; where faces only lie together there is a clamp for each 200 mm (8 in). Common
    practice, no source.
    """
    lines: dict[tuple[str, str], int] = {}
    for joint in joints:
        if not joint.glue or trade_of(joint).tight:
            continue
        for number, contact in enumerate(joint.contacts):
            if trade_of(joint).lies:
                longest = max(contact.face.size(axis).mm for axis in Axis)
                lines[contact.moving, f"{joint.name} {number}"] = max(1, math.ceil(longest / APART.mm))
            else:
                line = contact.closes.axis.name if contact.closes is not None else f"{joint.name} {number}"
                lines[contact.moving, line] = 1
    return sum(lines.values())


def clamps_counted(number: int) -> str:
    """Give so many clamps in words: ``a clamp``, ``four clamps``."""
    return "a clamp" if number == 1 else f"{number_word(number)} clamps"

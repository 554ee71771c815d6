"""A butt joint: two pieces glued face to face; and pieces that only rest on each other."""

from __future__ import annotations

from plangen.expressions import Names
from plangen.joinery.body import Expansion, JointBody, JointKind, Meeting, between
from plangen.joinery.piece import Bench
from plangen.units import phrase


class Butt(JointBody):
    """``butt: {between: [rail, shelf], glue: wood glue}``."""

    between: Names


def expand(entry: Butt, meeting: Meeting, bench: Bench) -> Expansion:
    """Cut nothing; say the area for the glue."""
    return Expansion(closes=meeting.side.opposite, glue_area=meeting.area)


KIND = JointKind(
    "butt",
    "Butt joint",
    Butt,
    lambda entry: between(entry, 0),
    lambda entry: between(entry, 1),
    expand,
    phrase("Glue the faces together and clamp them."),
    symmetric=True,
    cautions=("glue",),
    lies=True,
    faces=True,
    spreads=True,
)
RESTS = JointKind(
    "rests",
    "Resting",
    Butt,
    lambda entry: between(entry, 0),
    lambda entry: between(entry, 1),
    expand,
    phrase("Set the one on the other; it stays loose."),
    symmetric=True,
    glued=False,
    verb="Set",
    lies=True,
    rests=True,
)

"""A bolted joint: bolts through one piece into a nut, a barrel nut, an insert or a T-nut of another."""

from __future__ import annotations

from plangen.expressions import Names
from plangen.joinery.body import Expansion, JointKind, Meeting
from plangen.joinery.bolting import Bolting, bolted_at, stack_of
from plangen.joinery.fastening import never_glued, places_along
from plangen.joinery.piece import Bench
from plangen.units import phrase


class Bolted(Bolting):
    """``bolted: {through: leg, into: rail, with: bolt, nut: barrel nut, face: inside, per joint: 1}``."""

    through: Names
    into: Names


def expand(entry: Bolted, meeting: Meeting, bench: Bench) -> Expansion:
    """Bore for each bolt and what holds it."""
    if not never_glued(entry, "a bolted joint", bench):
        return Expansion()
    stack = stack_of(entry, meeting, bench)
    if stack is None:
        return Expansion()
    return bolted_at(entry, stack, places_along(entry, meeting, stack.hole, bench), meeting, bench)


KIND = JointKind(
    "bolted",
    "Bolted joint",
    Bolted,
    lambda entry: entry.through,
    lambda entry: entry.into,
    expand,
    phrase(
        "Set the nuts or inserts, push the bolts through and draw the joint tight, but not into the wood."
    ),
    claims=False,
    fastens=True,
    glued=False,
    comes_apart=True,
    verb="Bolt",
    lies=True,
    tight=True,
)

"""What a step lifts: an assembly that is brought, a heavy piece, the work turned over or hung up.

Weights are those of the blanks by the density of their stock, without hardware: a little more than the
wood weighs once it is worked, and nothing where no density is known.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from plangen.design.model import Design, HardwareUse
from plangen.handbook.lifting import MOST_FOR_ONE
from plangen.joinery.space import Side
from plangen.sequence.assembly import Assembly
from plangen.sequence.bodies import brought_by
from plangen.sequence.plan import Plan
from plangen.takeoff.weights import mass_of, part_masses, whole_mass


@dataclass(frozen=True, slots=True)
class Weights:
    """The weights of one design, worked out once for all of its steps."""

    masses: Mapping[str, Fraction]  # kg, by part key
    whole: Fraction  # kg

    @classmethod
    def of(cls, design: Design) -> Weights:
        """Weigh the blanks."""
        masses = part_masses(design, None)
        return cls(masses, whole_mass(design, masses))


def lifted(
    design: Design,
    assembly: Assembly,
    weights: Weights,
    plan: Plan,
    new: Sequence[str],
    closed: Sequence[str],
) -> tuple[str, ...]:
    """Give the copies of the heaviest thing that a step lifts; none where one person can lift all of it.

    ``new`` are the copies that it puts in place, ``closed`` the joints closed before it. Hardware that goes
    in from below turns over what it goes into: that of a joint what was joined before, that of a fit all
    that is joined by then. What hangs is lifted whole.
    """
    if weights.whole <= MOST_FOR_ONE:
        return ()
    heaviest: tuple[str, ...] = ()
    most = MOST_FOR_ONE
    for thing in _things(design, assembly, plan, new, closed):
        mass = mass_of(design, thing, weights.masses)
        if mass > most:
            heaviest, most = tuple(thing), mass
    return heaviest


def _things(
    design: Design, assembly: Assembly, plan: Plan, new: Sequence[str], closed: Sequence[str]
) -> Iterable[Sequence[str]]:
    """Give the copies of every thing that a step moves as one."""
    if plan.kind == "hang":
        yield tuple(design.copies)
        return
    keys = dict.fromkeys([*plan.made, *plan.panels, *(key for key, _ in plan.worked)])
    yield from ((design.part(key).copies[0].name,) for key in keys)
    yield from ((copy,) for copy in new)
    brought = frozenset(brought_by(design, assembly, plan))
    yield from (one.members for body in design.assemblies for one in body.copies if one.name in brought)
    of_joints = [use for one in design.joints if one.name in plan.joints for use in one.hardware]
    of_fits = [fit.hardware for fit in design.fits if fit.name in plan.fits]
    for uses, joined in ((of_joints, closed), (of_fits, (*closed, *plan.joints))):
        turned = _from_below(uses)
        groups = assembly.groups(joined) if turned else {}
        for leader in sorted({groups[copy] for copy in turned}):
            yield tuple(copy for copy, group in groups.items() if group == leader)


def _from_below(uses: Iterable[HardwareUse]) -> tuple[str, ...]:
    """Name the copies that hardware goes into from below."""
    return tuple(copy for use in uses for copy, _, side in use.spots if side is Side.BOTTOM)

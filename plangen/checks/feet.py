"""Casters and levelers: whether they all reach one floor, and carry what stands on them."""

from __future__ import annotations

from dataclasses import dataclass

from plangen.checks.frame import printed
from plangen.checks.masses import mass_of
from plangen.design.model import Design, Fit
from plangen.findings import Findings
from plangen.joinery.space import Side, to_nanometre
from plangen.solids import Solids
from plangen.units import Length

# On an uneven floor three of four feet carry all: common practice, no source.
CARRYING = 3


@dataclass(frozen=True, slots=True)
class _Foot:
    """A fit of feet, and how high the floor under it lies: from its lowest to its highest."""

    fit: Fit
    low: Length
    high: Length


def feet_reach_one_floor(design: Design, solids: Solids, findings: Findings) -> None:
    """Add ``rocks`` where casters or levelers of one piece cannot all stand on a level floor."""
    feet = _feet(design)
    if len(feet) < 2:
        return
    highest, lowest = max(feet, key=lambda foot: foot.low.mm), min(feet, key=lambda foot: foot.high.mm)
    if highest.low <= lowest.high:
        return
    differ = highest.low - lowest.high
    findings.error(
        "rocks",
        f"`{highest.fit.name}` ends {printed(differ, design)} above the floor that `{lowest.fit.name}` "
        "stands on: the piece would rock",
        highest.fit.place,
        "take feet of one height, or make the legs shorter by the difference, or use levelers that cover it",
        also=((lowest.fit.place, f"`{lowest.fit.name}` is here"),),
    )


def feet_carry_the_piece(design: Design, solids: Solids, findings: Findings) -> None:
    """Add ``foot-load`` where a foot is not made for a third of what the piece weighs."""
    mass = mass_of(design, design.copies)
    for fit in design.fits:
        item = design.hardware.get(fit.hardware.item)
        load = item.ware.load if item is not None and item.ware is not None else None
        if load is None or item is None or item.ware is None or item.ware.height is None:
            continue
        if load * CARRYING < mass:
            findings.warning(
                "foot-load",
                f"the piece weighs about {float(mass):.0f} kg empty, and three feet carry it on an uneven "
                f"floor: `{item.name}` is made for {float(load):g} kg",
                fit.place,
                f"take feet for {float(-(-mass // CARRYING)):g} kg or more, and add what will stand on it",
            )


def _feet(design: Design) -> list[_Foot]:
    copies, found = design.copies, []
    for fit in design.fits:
        item = design.hardware.get(fit.hardware.item)
        height = item.ware.height if item is not None and item.ware is not None else None
        if height is None:
            continue
        if fit.hardware.spots:
            bases = {to_nanometre(at[2]) for _, at, side in fit.hardware.spots if side is Side.BOTTOM}
        else:
            bases = {copies[copy].box.low.up for copy in fit.copies if copies[copy].stance is None}
        found += [
            _Foot(fit, base - height[1], base - height[0]) for base in sorted(bases, key=lambda base: base.mm)
        ]
    return found

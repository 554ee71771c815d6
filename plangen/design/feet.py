"""What the piece stands on: casters and levelers, and the floor under them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from plangen.design.model import Design
from plangen.joinery.space import Box, Direction, Side, to_nanometre
from plangen.units import Length


@dataclass(frozen=True, slots=True)
class Foot:
    """One caster or leveler: where it is fitted, mm, and how far down it reaches, at least and at most."""

    at: Direction
    least: Length
    most: Length

    @property
    def floor(self) -> Length:
        """Where the floor is when it is turned in: the highest that it can be."""
        return to_nanometre(self.at[2]) - self.least


def feet(design: Design) -> Iterator[Foot]:
    """Every foot that is fitted under a piece."""
    for fit in design.fits:
        item = design.hardware.get(fit.hardware.item)
        height = item.ware.height if item is not None and item.ware is not None else None
        if height is not None:
            for _, at, side in fit.hardware.spots:
                if side is Side.BOTTOM:
                    yield Foot(at, *height)


def on_its_feet(box: Box, design: Design) -> Box:
    """Give the box of the whole with what it stands on.

    A foot of one height settles where the floor is; adjustable ones are turned until they meet it.
    """
    standing = list(feet(design))
    fixed = [foot for foot in standing if foot.least == foot.most] or standing
    if not fixed:
        return box
    floor = min((foot.floor for foot in fixed), key=lambda at: at.mm)
    return box.with_side(Side.BOTTOM, floor) if floor < box.low.up else box

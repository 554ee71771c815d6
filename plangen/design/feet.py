"""What the piece stands on: casters and levelers, and the floor under them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TypeAlias

from plangen.design.model import Design, Fit
from plangen.joinery.space import Axis, Box, Direction, Side, to_nanometre
from plangen.units import Length

Spot: TypeAlias = tuple[str, tuple[float, float, float], Side]


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
        if height is None:
            continue
        for _, at, side in fit.hardware.spots or _under(design, fit):
            if side is Side.BOTTOM:
                yield Foot(at, *height)


def _under(design: Design, fit: Fit) -> Iterator[Spot]:
    """Where feet that only have a number are taken to be: in the middle under each of their pieces."""
    for name in fit.copies:
        copy = design.copies[name]
        if copy.stance is None:
            low = copy.box.low.with_(Axis.ACROSS, copy.box.middle(Axis.ACROSS))
            yield name, low.with_(Axis.DEEP, copy.box.middle(Axis.DEEP)).floats(), Side.BOTTOM


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

"""A picture with what it was drawn from, so that it can be measured."""

from __future__ import annotations

from dataclasses import dataclass

from plangen.drawing.angles import Angle
from plangen.drawing.balloons import PlacedLabel
from plangen.drawing.scene import Placing
from plangen.drawing.sheet.measure import Bounds
from plangen.drawing.sheet.model import Drawing


@dataclass(frozen=True)
class Shot:
    """A picture with what it was drawn from.

    ``panels`` are the views in it, each with the place of its scene and its rectangle on the sheet (mm);
    ``details`` names the joints that ringed details show; ``held`` tells that the picture says how to hold
    what does not stand by itself.
    """

    drawing: Drawing
    labels: tuple[PlacedLabel, ...]
    panels: tuple[tuple[Angle, Placing, Bounds], ...] = ()
    details: tuple[str, ...] = ()
    held: bool = False

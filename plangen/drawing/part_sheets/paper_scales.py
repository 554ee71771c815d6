"""The scales a part sheet may have: the standard ones, and steps between them that fill a page better."""

from __future__ import annotations

from plangen.drawing.scales import Scale, fine_scales
from plangen.units.printing import System

LARGEST = Scale(2, 1)


def sheet_scales(system: System) -> tuple[Scale, ...]:
    """Give the scales for a part sheet, the largest first."""
    return tuple(scale for scale in fine_scales(system) if scale.factor <= LARGEST.factor)

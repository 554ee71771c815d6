"""The scales a part sheet may have: the standard ones, and steps between them that fill a page better."""

from __future__ import annotations

from plangen.drawing.scales import Scale, standard_scales
from plangen.units.printing import System

# ISO 5455:1979 lets intermediate scales be used in exceptional cases (as remembered).
# 1:3 and 1:6 are 4 in and 2 in to the foot (common practice, no source).
BETWEEN: dict[str, tuple[Scale, ...]] = {
    "inch": (Scale(1, 3), Scale(1, 6)),
    "mm": (Scale(1, 3), Scale(1, 4), Scale(1, 8), Scale(1, 15)),
}
LARGEST = Scale(2, 1)


def sheet_scales(system: System) -> tuple[Scale, ...]:
    """Give the scales for a part sheet, the largest first."""
    extra = BETWEEN["mm" if system == "mm" else "inch"]
    chosen = [scale for scale in (*standard_scales(system), *extra) if scale.factor <= LARGEST.factor]
    return tuple(sorted(chosen, key=lambda scale: -scale.factor))

"""What a sheet really says: every printed dimension with the exact stretches that it stands for."""

from __future__ import annotations

from dataclasses import dataclass

from plangen.drawing.part_sheets.plan import Dimension, Kind, Pair
from plangen.joinery.space import Axis
from plangen.units import LengthStyle


@dataclass(frozen=True, slots=True)
class PrintedDimension:
    """A dimension as printed.

    ``pairs`` are the exact stretches, from and to, in the part's own frame; ``reference`` says that it
    stands in parentheses and adds nothing new. ``style`` is how its text was rounded.
    """

    axis: Axis
    kind: Kind
    text: str
    pairs: tuple[Pair, ...]
    reference: bool
    style: LengthStyle


def printed(dimension: Dimension, style: LengthStyle) -> PrintedDimension:
    """Give the record of a dimension that was drawn."""
    return PrintedDimension(
        dimension.axis, dimension.kind, dimension.text, dimension.pairs, dimension.kind == "reference", style
    )

"""What the sides of a part are called over its views."""

from __future__ import annotations

from plangen.design.model import Part
from plangen.joinery.space import Side


def caption(part: Part, side: Side) -> str:
    """Give the maker's name for a view: "Inside face", "Back edge", "Top end"."""
    if side.axis is part.runs:
        return f"{side.word.capitalize()} end"
    if side.axis is part.wide:
        return f"{side.word.capitalize()} edge"
    if part.inside is not None and part.inside.axis is side.axis:
        return "Inside face" if side is part.inside else "Outside face"
    return f"{side.word.capitalize()} face"

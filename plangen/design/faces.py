"""Which face of a part is its face side."""

from __future__ import annotations

from plangen.design.model import Part
from plangen.joinery.operation import Form
from plangen.joinery.space import Axis, Side


def face_side(part: Part) -> Side:
    """Give the face side: the inside where the part has one, else the face that most is cut from."""
    low, high = Side.of(part.thick, False), Side.of(part.thick, True)
    weight = {low: 0, high: 0}
    for operation in part.operations:
        for feature in operation.features:
            if feature.side in weight:
                weight[feature.side] += 2 if feature.form is Form.SLOT else 1
    inside = part.inside if part.inside in weight else None
    order = (inside, low, high) if part.thick is not Axis.UP else (inside, high, low)
    first = [side for side in order if side is not None]
    return max(first, key=lambda side: (weight[side] + (2 if side is inside else 0), -first.index(side)))

"""Where a long part may be interrupted: the stretches of its length on which nothing is cut."""

from __future__ import annotations

from itertools import pairwise

from plangen.drawing.part_sheets.plan import PartPlan, wanted
from plangen.joinery.operation import Form

SLENDER = 6  # length over width from which interrupting helps
KEEP = 0.6  # widths of the part kept at either side of what is cut
WORTH = 8  # a stretch is left out when it is longer than the part's length over this


def plain_stretches(plan: PartPlan) -> tuple[tuple[float, float], ...]:
    """Give the stretches to leave out, in mm from the low end of the length, low to high.

    None for a part that is not slender. Nothing that the sheet has to locate lies in them, and outlines,
    which change all along, are never cut.
    """
    part = plan.part
    if part.length < part.width * SLENDER:
        return ()
    stops = [float(value) for value in wanted(part, plan.shapes, part.runs)]
    outlined = []
    for shape in plan.shapes:
        span = shape.span(part.runs)
        along = shape.feature.form is Form.OUTLINE and shape.side.axis is not part.runs
        if along or shape.feature.form is Form.PLANE:
            outlined.append((float(span.low), float(span.high)))
    margin = float(part.width) * KEEP
    found = []
    for low, high in pairwise(stops):
        inner = (low + margin, high - margin)
        clear = not any(start < high and end > low for start, end in outlined)
        if clear and inner[1] - inner[0] > float(part.length) / WORTH:
            found.append(inner)
    return tuple(found)

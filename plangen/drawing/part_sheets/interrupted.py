"""Where a long part may be interrupted: the longest stretch of its length on which nothing is cut."""

from __future__ import annotations

from plangen.drawing.part_sheets.plan import PartPlan, wanted
from plangen.joinery.operation import Form

SLENDER = 6  # length over width from which interrupting helps
KEEP = 0.9  # widths of the part kept at either side of what is cut


def plain_stretch(plan: PartPlan) -> tuple[float, float] | None:
    """Give the stretch to leave out, in mm from the low end of the length; None where the part is not slender.

    Nothing that the sheet has to locate lies in it, and outlines (which change all along) are never cut.
    """
    part = plan.part
    if part.length < part.width * SLENDER:
        return None
    stops = [float(value) for value in wanted(part, plan.shapes, part.runs)]
    outlined = []
    for shape in plan.shapes:
        span = shape.span(part.runs)
        if shape.feature.form is Form.OUTLINE and shape.side.axis is not part.runs:
            outlined.append((float(span.low), float(span.high)))
    best: tuple[float, float] | None = None
    for low, high in zip(stops, stops[1:], strict=False):
        if any(start < high and end > low for start, end in outlined):
            continue
        margin = float(part.width) * KEEP
        inner = (low + margin, high - margin)
        if inner[1] - inner[0] > float(part.length) / 4 and (
            best is None or inner[1] - inner[0] > best[1] - best[0]
        ):
            best = inner
    return best

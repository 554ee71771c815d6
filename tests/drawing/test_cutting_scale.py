"""Boards are drawn as wide as the page wherever they stand on it at that scale."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from plangen.drawing.cutting_sheets import cutting_drawing
from plangen.drawing.sheet.measure import bounds
from plangen.drawing.sheet.model import Fill, Tone
from plangen.units import LengthStyle
from tests.sample_design import sample_design
from tests.takeoff.cases import taken

WIDTH = 165.0


def test_what_shares_a_page_is_drawn_at_the_scale_of_one_board_alone() -> None:
    design, style = sample_design(), LengthStyle()
    for plan in taken(design)[0].plans:
        alone = cutting_drawing(plan, plan.diagrams[:1], style, WIDTH, 400.0)
        one = plan.diagrams[0]
        # Four boards that differ only in what they say becomes parts, so that each is drawn.
        several = tuple(replace(one, used=one.used - Fraction(number, 100)) for number in range(4))
        height = cutting_drawing(plan, several, style, WIDTH, 2000.0).height
        drawn = cutting_drawing(plan, several, style, WIDTH, height)
        assert _width(drawn.marks) == _width(alone.marks)
        assert drawn.height <= height
        lower = cutting_drawing(plan, several, style, WIDTH, height - 5.0)
        assert lower.height <= height - 5.0
        assert _width(lower.marks) > 0.5 * _width(alone.marks), (
            "a little less room takes a little of the scale"
        )


def _width(marks: object) -> float:
    """Give the width of the first board that is drawn."""
    paper = next(mark for mark in marks if isinstance(mark, Fill) and mark.tone is Tone.PAPER)  # type: ignore[attr-defined]
    low, _, high, _ = bounds([paper])
    return round(high - low, 6)

"""Boards are drawn as wide as the page wherever they stand on it at that scale."""

from __future__ import annotations

from plangen.drawing.cutting_sheets import cutting_drawing, pages_of
from plangen.drawing.sheet.measure import bounds
from plangen.drawing.sheet.model import Fill, Tone
from plangen.units import LengthStyle
from tests.sample_design import sample_design
from tests.takeoff.cases import taken

WIDTH = 165.0


def test_what_shares_a_page_is_drawn_at_the_scale_of_one_board_alone() -> None:
    design, style = sample_design(), LengthStyle()
    for plan in taken(design)[0].plans:
        alone = cutting_drawing(design, plan, plan.diagrams[:1], style, WIDTH, 400.0)
        several = plan.diagrams[:1] * 4  # as four equal boards, which just find room one under another
        height = cutting_drawing(design, plan, several, style, WIDTH, 2000.0).height
        drawn = cutting_drawing(design, plan, several, style, WIDTH, height)
        assert _width(drawn.marks) == _width(alone.marks)
        assert drawn.height <= height
        lower = cutting_drawing(design, plan, several, style, WIDTH, height - 5.0)
        assert lower.height <= height - 5.0
        assert _width(lower.marks) > 0.5 * _width(alone.marks), (
            "a little less room takes a little of the scale"
        )
        assert all(pages_of(plan, style, WIDTH, height))


def _width(marks: object) -> float:
    """Give the width of the first board that is drawn."""
    paper = next(mark for mark in marks if isinstance(mark, Fill) and mark.tone is Tone.PAPER)  # type: ignore[attr-defined]
    low, _, high, _ = bounds([paper])
    return round(high - low, 6)

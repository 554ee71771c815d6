"""Scales, the title block, the projection symbol and the scale bar."""

from __future__ import annotations

import pytest

from plangen.drawing.dimension_lines import circle
from plangen.drawing.scales import INCH_SCALES, METRIC_SCALES, Scale, choose_scale
from plangen.drawing.sheet.measure import bounds, texts_over_strokes, texts_over_texts
from plangen.drawing.sheet.model import Fill, Meaning, Stroke, Text
from plangen.drawing.title_block import BLOCK_HEIGHT, block_of, projection_symbol, scale_bar, title_block
from tests.sample_design import sample_design


def test_metric_reductions_are_those_of_the_standard() -> None:
    # ISO 5455:1979, table 1 (from memory): 1:2, 1:5, 1:10, 1:20, 1:50, 1:100, 1:200.
    reductions = [scale.text for scale in METRIC_SCALES if scale.factor < 1]
    assert reductions == ["1:2", "1:5", "1:10", "1:20", "1:50", "1:100", "1:200"]


@pytest.mark.parametrize(
    ("size", "room", "system", "text"),
    [
        ((900, 300), (180, 100), "mm", "1:5"),
        ((901, 300), (180, 100), "mm", "1:10"),
        ((609.6, 457.2), (160, 120), "inch", "1:4"),
        ((609.6, 457.2), (150, 120), "inch", "1:8"),
        ((20, 20), (180, 180), "inch", "1:1"),
    ],
)
def test_the_largest_scale_that_fits_is_chosen(
    size: tuple[float, float], room: tuple[float, float], system: str, text: str
) -> None:
    assert choose_scale(*size, *room, system).text == text  # type: ignore[arg-type]


def test_enlargement_is_by_leave_only_and_huge_things_still_get_a_scale() -> None:
    assert choose_scale(20, 20, 180, 180, "mm", largest=Scale(5, 1)).text == "5:1"
    huge = choose_scale(100_000, 10, 100, 100, "mm")
    assert 100_000 * huge.factor <= 100
    assert choose_scale(10_000, 10, 100, 100, "inch").real % 48 == 0
    with pytest.raises(ValueError, match="room"):
        choose_scale(1, 1, 0, 10, "mm")
    assert {scale.text for scale in INCH_SCALES} >= {"1:1", "1:2", "1:4", "1:8", "1:12", "1:16", "1:24"}


def test_the_title_block_says_all_that_the_standard_asks_and_nothing_touches() -> None:
    block = block_of(
        sample_design().project, "Assembly drawing", 3, sheets=12, scale="1:8", approved="A. Reader"
    )
    marks = title_block(block, 178)
    said = {mark.text for mark in marks if isinstance(mark, Text)}
    # ISO 7200:2004, tables 1 and 2 (from memory): the mandatory data fields.
    assert said >= {
        "Sample Workshop",
        "OC-1",
        "2026-03-14",
        "3 of 12",
        "Open Case",
        "A. Reader",
        "Assembly drawing",
    }
    assert said >= {"B", "1:8"}
    assert texts_over_texts(marks) == ()
    assert texts_over_strokes(marks) == ()
    low_x, low_y, high_x, high_y = bounds(marks)
    assert (low_x, low_y) == (0, 0)
    assert high_x <= 178.6
    assert high_y == BLOCK_HEIGHT
    with pytest.raises(ValueError, match="140"):
        title_block(block, 100)


def test_the_symbol_puts_the_left_view_where_the_method_puts_it() -> None:
    def places(third_angle: bool) -> tuple[float, float]:
        marks = [
            mark
            for mark in projection_symbol((0, 0), third_angle=third_angle, height=6)
            if isinstance(mark, Stroke)
        ]
        solid = [mark for mark in marks if mark.meaning is Meaning.CONTEXT]
        ring, cone = solid[0], solid[2]
        assert len(ring.points) == len(circle((0, 0), 1))
        # the cone's narrow end is at its left: the view from the left shows both circles whole
        left = min(x for x, _ in cone.points)
        ends = {x: max(y for px, y in cone.points if px == x) for x, _ in cone.points}
        assert ends[left] < max(ends.values())
        return sum(x for x, _ in ring.points) / len(ring.points), sum(x for x, _ in cone.points) / 4

    # ISO 5456-2 (from memory): the ends of the cone are 2:1, and the rings are its two ends.
    outer, inner, cone_line = (
        mark
        for mark in projection_symbol((0, 0), height=6)
        if getattr(mark, "meaning", None) is Meaning.CONTEXT
    )
    spans = [max(y for _, y in m.points) - min(y for _, y in m.points) for m in (outer, inner, cone_line)]  # type: ignore[union-attr]
    assert spans == pytest.approx([6, 3, 6], rel=0.01)

    ring, cone = places(True)
    assert ring < cone
    ring, cone = places(False)
    assert ring > cone


@pytest.mark.parametrize(
    ("scale", "system"), [(Scale(1, 8), "inch"), (Scale(1, 10), "mm"), (Scale(1, 1), "inch")]
)
def test_the_bar_is_as_long_as_it_says(scale: Scale, system: str) -> None:
    marks = scale_bar((0, 0), scale, system)  # type: ignore[arg-type]
    number, unit = next(mark.text for mark in marks if isinstance(mark, Text) and mark.text != "0").split(
        "\u00a0"
    )
    length = max(
        x
        for mark in marks
        if isinstance(mark, Fill | Stroke)
        for x, _ in (mark.loops[0] if isinstance(mark, Fill) else mark.points)
    )
    assert length == pytest.approx(float(number) * (25.4 if unit == "in" else 1) * scale.factor)
    assert length <= 45

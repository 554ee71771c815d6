"""Diagrams of whatever may come: long boards with small pieces, many pieces, many cuts, cuts by hand."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from plangen.drawing.cutting_sheets import cutting_drawing
from plangen.drawing.sheet.measure import bounds, overlaps
from plangen.drawing.sheet.model import Drawing, Meaning, Stroke, Text
from plangen.takeoff.model import CuttingDiagram, StockPlan
from plangen.takeoff.saw_settings import alike, saw_settings
from plangen.units import LengthStyle, millimetres
from tests.sample_design import sample_design
from tests.takeoff.cases import metric_plywood, pine, plain_design, taken

WIDTH, HEIGHT = 177.9, 200.0
SMALL = st.tuples(st.integers(1, 14), st.integers(12, 60), st.integers(20, 160))
MIXED = st.tuples(st.integers(1, 8), st.integers(15, 250), st.integers(60, 1900))


def plans_of(rows: list[tuple[int, int, int]], long: int, units: str) -> tuple[StockPlan, ...]:
    """Plans on boards as long as is said; on sheets where that is nothing."""
    goods = (
        pine(widths=(millimetres(140), millimetres(260)), lengths=(millimetres(long),))
        if long
        else metric_plywood()
    )
    sizes = [(number, millimetres(wide), millimetres(length)) for number, wide, length in rows]
    return taken(plain_design(goods, sizes, units))[0].plans


@settings(max_examples=10, deadline=None, phases=(Phase.explicit, Phase.reuse, Phase.generate))
@given(
    st.one_of(st.lists(SMALL, min_size=1, max_size=5), st.lists(MIXED, min_size=1, max_size=5)),
    st.sampled_from([0, 2400, 6000]),
    st.sampled_from(["inch", "mm", "both"]),
    st.booleans(),
)
def test_nothing_lies_over_anything_however_crowded(rows, long, system, ticked) -> None:
    style = LengthStyle(system)
    for plan in plans_of(rows, long, "inch" if system == "inch" else "mm"):
        for group in alike(plan.diagrams):
            drawing = cutting_drawing(plan, group, style, WIDTH, HEIGHT, ticked=ticked)
            assert overlaps(drawing).count == 0, str(overlaps(drawing))
            low_x, low_y, high_x, high_y = bounds(drawing.marks)
            assert (low_x, low_y) >= (-0.1, -0.1)
            assert high_x <= WIDTH + 0.1
            assert high_y <= drawing.height + 0.1 <= HEIGHT + 0.2
            assert_every_mark_is_said(drawing, group[0])
            assert_numbers_are_those_of_cuts(drawing, group[0])


def texts(drawing: Drawing, role: str) -> list[str]:
    return [mark.text for mark in drawing.marks if isinstance(mark, Text) and mark.role == role]


def assert_every_mark_is_said(drawing: Drawing, diagram: CuttingDiagram) -> None:
    """On its piece, over the board, or among those that the words under the board name."""
    named = " ".join(texts(drawing, "note"))
    for mark in {piece.mark for piece in diagram.pieces}:
        assert mark in texts(drawing, "balloon") or f"\u00d7\u00a0{mark}" in named


def assert_numbers_are_those_of_cuts(drawing: Drawing, diagram: CuttingDiagram) -> None:
    numbers = Counter(texts(drawing, "cut"))
    assert set(numbers) <= {str(cut.number) for cut in diagram.cuts}
    assert not numbers or max(numbers.values()) == 1


def test_of_too_many_cuts_the_ends_of_each_setting_are_numbered() -> None:
    goods = pine(widths=(millimetres(140),), lengths=(millimetres(6000),))
    [plan] = taken(plain_design(goods, [(60, millimetres(140), millimetres(80))], "mm"))[0].plans
    diagram = plan.diagrams[0]
    drawing = cutting_drawing(plan, (diagram,), LengthStyle("mm"), WIDTH, HEIGHT)
    numbers = texts(drawing, "cut")
    assert len(diagram.cuts) > 60
    assert 2 <= len(numbers) < 27  # discs of 6 mm with a little air on 178 mm
    ends = {str(n) for one in saw_settings(diagram) for n in (one.numbers[0], one.numbers[-1])}
    assert set(numbers) == ends
    readings = [mark for mark in drawing.marks if isinstance(mark, Text) and mark.role == "dimension"]
    assert readings
    assert {mark.angle for mark in readings} == {0.0} or {mark.angle for mark in readings} == {90.0}


@pytest.mark.parametrize("ticked", [False, True])
def test_boards_cut_alike_are_drawn_once_with_a_box_for_each(ticked) -> None:
    [plan] = plans_of([(8, 240, 1100)], 2400, "mm")
    assert len(plan.diagrams) == 4
    drawing = cutting_drawing(plan, plan.diagrams, LengthStyle("mm"), WIDTH, HEIGHT, ticked=ticked)
    assert texts(drawing, "title") == ["Boards 1 to 4"]
    assert any("cut 4 like this" in note for note in texts(drawing, "note"))
    boxes = [
        mark
        for mark in drawing.marks
        if isinstance(mark, Stroke)
        and mark.meaning is Meaning.BALLOON
        and mark.closed
        and len(mark.points) == 4
    ]
    assert len(boxes) == (4 if ticked else 0)


def test_cuts_by_hand_have_a_line_of_their_own_and_words() -> None:
    plan = taken(sample_design())[0].plans[0]
    [first, *_] = plan.diagrams
    by_hand = replace(
        first, cuts=tuple(replace(cut, by="hand") if cut.number <= 2 else cut for cut in first.cuts)
    )
    for diagram, number in ((first, 0), (by_hand, 2)):
        drawing = cutting_drawing(plan, (diagram,), LengthStyle(), WIDTH, HEIGHT)
        lines = [m for m in drawing.marks if isinstance(m, Stroke) and m.meaning is Meaning.HAND_CUT]
        assert len(lines) == number
        said = " ".join(texts(drawing, "note"))
        assert ("by hand along a rail" in said) == bool(number)


def test_every_off_cut_is_framed_and_its_size_said() -> None:
    plan = taken(sample_design())[0].plans[0]
    for diagram in plan.diagrams:
        drawing = cutting_drawing(plan, (diagram,), LengthStyle(), WIDTH, HEIGHT)
        frames = [m for m in drawing.marks if isinstance(m, Stroke) and m.meaning is Meaning.KEEP]
        assert len(frames) <= len(diagram.off_cuts)
        said = " ".join(texts(drawing, "note"))
        assert ("Keep the off-cut" in said) == bool(diagram.off_cuts)

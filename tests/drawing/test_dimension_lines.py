"""Dimension lines say what they measure: ends on the features, text clear of lines, no text lost."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from plangen.drawing.dimension_lines import PUBLISH, leader_note, linear, radius, running, spread
from plangen.drawing.sheet.measure import texts_over_strokes, texts_over_texts
from plangen.drawing.sheet.model import Fill, Mark, Meaning, Stroke, Text


def _strokes(marks: tuple[Mark, ...], meaning: Meaning) -> list[Stroke]:
    return [mark for mark in marks if isinstance(mark, Stroke) and mark.meaning is meaning]


def _tips(marks: tuple[Mark, ...]) -> list[tuple[float, float]]:
    return sorted(mark.loops[0][0] for mark in marks if isinstance(mark, Fill))


def test_arrow_tips_stand_over_the_two_points() -> None:
    marks = linear((10, 20), (60, 35), -12, "24", direction="across")
    assert _tips(marks) == [(10, 8), (60, 8)]
    (text,) = [mark for mark in marks if isinstance(mark, Text)]
    assert text.at[0] == pytest.approx(35)
    assert text.at[1] == pytest.approx(8 - PUBLISH.figure / 2)


def test_points_in_the_other_order_give_the_same_line() -> None:
    one = linear((10, 20), (60, 35), -12, "24", direction="across")
    two = linear((60, 35), (10, 20), -27, "24", direction="across")
    assert _tips(one) == _tips(two)


def test_extension_lines_leave_a_gap_and_pass_the_line() -> None:
    marks = linear((0, 0), (0, 50), -10, "2", direction="up")
    ends = sorted(stroke.points for stroke in _strokes(marks, Meaning.EXTENSION))
    assert ends == [((-1.2, 0), (-11.5, 0)), ((-1.2, 50), (-11.5, 50))]


@given(
    reach=st.floats(1, 120),
    offset=st.floats(4, 30),
    side=st.sampled_from([-1.0, 1.0]),
    direction=st.sampled_from(["across", "up", "aligned"]),
    text=st.sampled_from(["3", "18", "24\u00a03/4", "1 067"]),
)
def test_a_text_never_lies_on_a_line_of_its_own_dimension(
    reach: float, offset: float, side: float, direction: str, text: str
) -> None:
    end = (
        (reach, reach / 3)
        if direction == "aligned"
        else (reach, 0.0)
        if direction == "across"
        else (0.0, reach)
    )
    marks = linear((0, 0), end, side * offset, text, direction=direction)  # type: ignore[arg-type]
    lines = [mark for mark in marks if not isinstance(mark, Stroke) or mark.meaning is Meaning.DIMENSION]
    assert texts_over_strokes(lines) == ()


def test_a_short_dimension_turns_its_arrows_out() -> None:
    inside = linear((0, 0), (40, 0), 5, "3/4", direction="across")
    outside = linear((0, 0), (4, 0), 5, "3/4", direction="across")

    def first_base(marks: tuple[Mark, ...]) -> float:
        loop = next(mark.loops[0] for mark in marks if isinstance(mark, Fill) and mark.loops[0][0][0] == 0)
        return loop[1][0]

    assert first_base(inside) > 0 > first_base(outside)


def test_two_equal_points_are_refused() -> None:
    with pytest.raises(ValueError, match="two different points"):
        linear((5, 5), (9, 5), 4, "0", direction="up")


@pytest.mark.parametrize(("direction", "offset"), [("up", 10), ("up", -10), ("across", 9), ("across", -9)])
def test_running_values_keep_clear_of_each_other(direction: str, offset: float) -> None:
    reaches = [3.0, 4.0, 4.5, 20.0, 60.0]
    points = [
        ((0.0, r) if direction == "up" else (r, 0.0), f"{n}\u00a013/16") for n, r in enumerate(reaches, 1)
    ]
    marks = running((0, 0), points, offset, direction=direction)  # type: ignore[arg-type]
    texts = [mark for mark in marks if isinstance(mark, Text)]
    assert [text.text for text in texts] == ["0", *(text for _, text in points)]
    assert texts_over_texts(marks) == ()
    assert texts_over_strokes(marks) == ()
    assert len(_tips(marks)) == len(points)


def test_a_radius_points_at_its_arc_and_a_note_stands_beside_its_elbow() -> None:
    marks = radius((10, 10), (20, 16), "R 3", note="2 arcs")
    assert _tips(marks) == [(10, 10)]
    notes = leader_note((50, 10), (40, 20), ["2 holes", "through"])
    texts = [mark for mark in notes if isinstance(mark, Text)]
    assert [text.anchor for text in texts] == ["end", "end"]
    assert texts[0].at[0] < 40
    assert texts[1].at[1] < texts[0].at[1]


@given(st.lists(st.tuples(st.floats(-50, 50), st.floats(0.5, 9)), min_size=1, max_size=9))
def test_spread_keeps_order_and_distance_and_moves_nothing_in_vain(items: list[tuple[float, float]]) -> None:
    stops, sizes = [stop for stop, _ in items], [size for _, size in items]
    places = spread(stops, sizes)
    order = sorted(range(len(items)), key=lambda i: (stops[i], i))
    for i, j in pairwise(order):
        assert places[j] - places[i] >= (sizes[i] + sizes[j]) / 2 - 1e-6
    clear = all(stops[j] - stops[i] >= (sizes[i] + sizes[j]) / 2 for i, j in pairwise(order))
    if clear:
        assert places == pytest.approx(stops)
    # The mean of a least-squares spread never moves: every pool keeps its own mean.
    assert sum(places) == pytest.approx(sum(stops), abs=1e-6)

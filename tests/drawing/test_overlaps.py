"""The counter of overlaps: each kind is found, what is painted over is not, and clean drawings are clean."""

from __future__ import annotations

from fontTools.pens.boundsPen import ControlBoundsPen
from hypothesis import given
from hypothesis import strategies as st

from plangen.drawing.dimension_lines import leader_note, linear
from plangen.drawing.sheet.lettering import draw_glyph, glyph_outlines
from plangen.drawing.sheet.measure import (
    FRACTION_DROP,
    FRACTION_SHARE,
    overlaps,
    text_corners,
    texts_over_strokes,
)
from plangen.drawing.sheet.model import Drawing, Fill, Mark, Meaning, Stroke, Text, Tone, carried

FIGURE = Text((50, 50), "412", 4, "middle", role="dimension")


def _square(x: float, y: float, half: float, tone: Tone = Tone.PAPER) -> Fill:
    return Fill(
        (((x - half, y - half), (x + half, y - half), (x + half, y + half), (x - half, y + half)),), tone
    )


def _drawing(*marks: Mark) -> Drawing:
    return Drawing(100, 100, marks)


def _hatching(low: float, high: float, pitch: float = 2.0) -> tuple[Stroke, ...]:
    count = round((high - low) / pitch)
    rows = [low + pitch * number for number in range(count + 1)]
    return tuple(Stroke(((low, y), (high, y)), Meaning.HATCH) for y in rows)


def test_a_clean_dimension_and_note_have_none() -> None:
    marks = (
        *linear((20, 20), (80, 20), -10, "412", direction="across"),
        *leader_note((30, 40), (45, 60), ("⌀ 8, 12 deep", "from the face")),
    )
    found = overlaps(_drawing(*marks))
    assert found.count == 0
    assert str(found) == "nothing overlaps"


def test_texts_over_texts() -> None:
    other = Text((52, 51), "13", 4, "middle")
    found = overlaps(_drawing(FIGURE, other))
    assert found.texts == ((FIGURE, other),)
    assert found.count == 1
    assert "'412'" in str(found)
    assert "'13'" in str(found)
    assert overlaps(_drawing(FIGURE, Text((50, 54), "13", 4, "middle"))).count == 0


def test_turned_texts_are_measured_by_their_turned_boxes() -> None:
    long = Text((20, 20), "a long line of words", 4, angle=45)
    beside = Text((40, 22), "13", 4)  # in the box round the turned one, and clear of it
    assert overlaps(_drawing(long, beside)).count == 0
    assert overlaps(_drawing(long, Text((30, 30), "13", 4))).count == 1


def test_a_line_through_a_text_until_it_is_painted_over() -> None:
    line = Stroke(((0, 51), (100, 51)), Meaning.VISIBLE)
    assert overlaps(_drawing(line, FIGURE)).lines == ((FIGURE, line),)
    assert overlaps(_drawing(FIGURE, line)).lines == ((FIGURE, line),)
    assert overlaps(_drawing(line, _square(50, 51, 6), FIGURE)).count == 0
    # Half of the line still shows.
    assert overlaps(_drawing(line, _square(44, 51, 6), FIGURE)).lines == ((FIGURE, line),)
    # A fill under the line hides nothing.
    assert overlaps(_drawing(_square(50, 51, 6), line, FIGURE)).lines == ((FIGURE, line),)


def test_an_arrowhead_on_a_text_counts_as_a_line_and_a_tint_does_not() -> None:
    head = _square(51, 51, 0.5, Tone.INK)
    assert overlaps(_drawing(head, FIGURE)).lines == ((FIGURE, head),)
    assert overlaps(_drawing(FIGURE, head)).lines == ((FIGURE, head),)
    assert overlaps(_drawing(_square(50, 51, 9, Tone.NEW_FRONT), FIGURE)).count == 0


def test_white_letters_on_black_are_meant() -> None:
    letter = Text((50, 50), "A", 4, "middle", tone=Tone.PAPER)
    assert overlaps(_drawing(_square(50, 51, 4, Tone.BLACK_DISC), letter)).count == 0
    assert overlaps(_drawing(letter, _square(50, 51, 4, Tone.BLACK_DISC))).count == 1


def test_a_text_painted_over() -> None:
    tint = _square(51, 51, 1, Tone.PLAIN_SIDE)
    found = overlaps(_drawing(FIGURE, tint))
    assert found.covered == ((FIGURE, tint),)
    assert found.count == 1


def test_a_figure_in_hatching_counts_until_the_hatching_is_interrupted() -> None:
    rows = _hatching(30, 70)
    found = overlaps(_drawing(*rows, FIGURE))
    assert {text for text, _ in found.hatched} == {FIGURE}
    assert not found.lines
    apart = []
    for row in rows:
        y = row.points[0][1]
        pieces = [(30, 44), (56, 70)] if 48 < y < 55 else [(30, 70)]
        apart += [Stroke(((low, y), (high, y)), Meaning.HATCH) for low, high in pieces]
    assert overlaps(_drawing(*apart, FIGURE)).count == 0


def test_other_words_on_hatching_count_as_on_lines() -> None:
    words = Text((50, 50), "waste", 4, "middle")
    found = overlaps(_drawing(*_hatching(30, 70), words))
    assert not found.hatched
    assert {text for text, _ in found.lines} == {words}


def test_a_dimension_line_in_a_hatched_area_counts_across_and_along() -> None:
    across = Stroke(((50, 20), (50, 80)), Meaning.DIMENSION)
    along = Stroke(((35, 51), (65, 51)), Meaning.DIMENSION)  # between two rows, touching neither
    below = Stroke(((35, 27), (65, 27)), Meaning.DIMENSION)
    for line, count in ((across, 1), (along, 1), (below, 0)):
        found = overlaps(_drawing(*_hatching(30, 70), line))
        assert [one for one, _ in found.hatched] == [line] * count
    over = Stroke(((35, 50), (65, 50)), Meaning.EXTENSION)
    assert overlaps(_drawing(*_hatching(30, 70), over)).count == 0


def test_a_dimension_line_between_two_hatched_pieces_is_outside_both() -> None:
    left = [Stroke(((46, y), (49, y)), Meaning.HATCH) for y in range(30, 70, 2)]
    right = [Stroke(((54, y), (57, y)), Meaning.HATCH) for y in range(30, 70, 2)]
    walls = [Stroke(((x, 20), (x, 80)), Meaning.VISIBLE) for x in (49.5, 53.5)]
    line = Stroke(((51.5, 30), (51.5, 70)), Meaning.DIMENSION)
    assert overlaps(_drawing(*left, *right, *walls, line)).count == 0
    assert overlaps(_drawing(*left, *right, line)).count == 1


def test_a_leader_through_a_letter() -> None:
    leader = Stroke(((20, 20), (80, 82)), Meaning.LEADER)
    found = overlaps(_drawing(leader, FIGURE))
    assert found.leaders_through_texts == ((FIGURE, leader),)
    assert not found.lines
    assert overlaps(_drawing(Stroke(((20, 20), (80, 22)), Meaning.LEADER), FIGURE)).count == 0


def test_leaders_cross_and_may_start_at_one_point() -> None:
    one = Stroke(((0, 0), (60, 60)), Meaning.LEADER)
    two = Stroke(((0, 60), (60, 0)), Meaning.LEADER)
    assert overlaps(_drawing(one, two)).leaders_over_leaders == ((one, two),)
    assert overlaps(_drawing(one, two, _square(30, 30, 2))).count == 0
    assert overlaps(_drawing(one, Stroke(((0, 0), (60, 0)), Meaning.LEADER))).count == 0
    assert overlaps(_drawing(one, Stroke(((30, 30), (60, 0)), Meaning.LEADER))).count == 1
    # One on top of the other for a while.
    assert overlaps(_drawing(one, Stroke(((0, 0), (30, 30)), Meaning.LEADER))).count == 1


@given(
    st.floats(-30, 30),
    st.floats(-30, 30),
    st.floats(0, 360),
    st.sampled_from([Meaning.VISIBLE, Meaning.CENTRE, Meaning.EXTENSION, Meaning.LEADER, Meaning.HATCH]),
)
def test_a_line_through_the_middle_of_any_text_is_found(
    dx: float, dy: float, angle: float, kind: Meaning
) -> None:
    text = Text((50 + dx, 50 + dy), "Shelf", 4, "middle", angle=angle, role="note")
    corners = text_corners(text)
    middle = (sum(x for x, _ in corners) / 4, sum(y for _, y in corners) / 4)
    line = Stroke(((0, middle[1]), (100, middle[1])), kind)
    assert overlaps(_drawing(text, line)).count == 1
    far = carried(line, lambda p: (p[0], p[1] + 30))
    assert overlaps(_drawing(text, far)).count == 0


def test_the_counter_agrees_with_the_pairs_of_texts_and_strokes() -> None:
    line = Stroke(((0, 51), (100, 51)), Meaning.VISIBLE)
    leader = Stroke(((20, 20), (80, 82)), Meaning.LEADER)
    marks = (line, leader, FIGURE)
    assert set(texts_over_strokes(marks)) == {(FIGURE, line), (FIGURE, leader)}
    assert overlaps(_drawing(*marks)).count == 2


def test_the_box_of_a_fraction_holds_its_ink() -> None:
    over = Stroke(((40, 50 + 0.69 * 4), (60, 50 + 0.69 * 4)), Meaning.EXTENSION)
    fraction = Text((50, 50), "3/4", 4, "middle", role="dimension")
    assert overlaps(_drawing(over, fraction)).lines == ((fraction, over),)
    assert overlaps(_drawing(over, FIGURE)).count == 0
    top, bottom = ([draw_glyph_box(name) for name, _ in glyph_outlines(part)] for part in ("1/2", "3/8"))
    assert max(box[3] for box in top + bottom) <= 10 * (FRACTION_SHARE * 100 + 1)
    assert min(box[1] for box in top + bottom) >= -1000 * FRACTION_DROP - 1


def draw_glyph_box(name: str) -> tuple[float, float, float, float]:
    pen = ControlBoundsPen(None)
    draw_glyph(name, pen)
    return pen.bounds or (0.0, 0.0, 0.0, 0.0)

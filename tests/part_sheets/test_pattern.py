"""Full-size patterns: true size, tiles that join, rulers that prove it."""

from __future__ import annotations

from itertools import pairwise
from math import asin, cos, dist, hypot, pi

import pytest

from plangen.drawing.part_sheets import pattern_pages
from plangen.drawing.part_sheets.pattern_grid import OVERLAP
from plangen.drawing.part_sheets.pattern_sheet import DIAMOND
from plangen.drawing.sheet.measure import FIGURE_SHARE, bounds, texts_over_strokes, texts_over_texts
from plangen.drawing.sheet.model import Drawing, Meaning, Stroke, Text
from plangen.units import LengthStyle
from tests.part_sheets.pieces import hard_design

DESIGN = hard_design()
PAPER = (178.0, 225.0)
INCH = 25.4


def pages(key: str) -> tuple[Drawing, ...]:
    return pattern_pages(DESIGN, DESIGN.part(key), LengthStyle(), PAPER)


def tiles(key: str) -> tuple[Drawing, ...]:
    """The sheets without the key."""
    return tuple(page for page in pages(key) if page.title.startswith("Full-size pattern"))


def strokes(page: Drawing, meaning: Meaning) -> list[Stroke]:
    return [mark for mark in page.marks if isinstance(mark, Stroke) and mark.meaning is meaning]


def test_a_part_without_a_pattern_has_no_pages() -> None:
    assert pages("rail") == ()


def test_the_arc_is_printed_at_full_size() -> None:
    """The quarter round of the side has radius 3 in: exact as an arc, and so is every chord drawn for it."""
    (page,) = pages("side left")
    (edge,) = [line for line in strokes(page, Meaning.VISIBLE) if line.arc is not None]
    arc = edge.arc
    assert arc is not None
    assert dist(arc.centre, arc.major) == pytest.approx(3 * INCH, abs=1e-6)
    assert dist(arc.centre, arc.minor) == pytest.approx(3 * INCH, abs=1e-6)
    assert arc.end - arc.start == pytest.approx(pi / 2, abs=1e-6)
    assert dist(edge.points[0], edge.points[-1]) == pytest.approx(hypot(3 * INCH, 3 * INCH), abs=0.01)
    for one, two in pairwise(edge.points):
        middle = [(a + b) / 2 for a, b in zip(one, two, strict=True)]
        assert dist(arc.centre, middle) == pytest.approx(3 * INCH, abs=0.01)


@pytest.mark.parametrize("key", ["side left", "side right", "apron"])
def test_both_rulers_measure_4_in_and_100_mm_both_ways(key: str) -> None:
    for page in tiles(key):
        lines = [line for line in strokes(page, Meaning.DIMENSION) if len(line.points) == 2]
        for way in (0, 1):
            along = [line for line in lines if abs(line.points[0][1 - way] - line.points[1][1 - way]) < 1e-9]
            longest = max(along, key=lambda line: dist(*line.points))
            assert dist(*longest.points) == pytest.approx(4 * INCH)
            zero = longest.points[0][way]
            ticks = [
                line.points[0][way] - zero
                for line in lines
                if line is not longest
                and abs(line.points[0][1 - way] - longest.points[0][1 - way]) < 1e-9
                and abs(line.points[0][way] - line.points[1][way]) < 1e-9
            ]
            assert any(tick == pytest.approx(100.0) for tick in ticks)
            assert any(tick == pytest.approx(4 * INCH) for tick in ticks)


@pytest.mark.parametrize("key", ["side left", "side right", "apron"])
def test_labels_are_clear_and_everything_is_on_the_paper(key: str) -> None:
    for page in pages(key):
        assert texts_over_texts(page.marks) == ()
        assert texts_over_strokes(page.marks) == ()
        low_x, low_y, high_x, high_y = bounds(page.marks)
        assert low_x >= 0.0
        assert low_y >= 0.0
        assert high_x <= PAPER[0] + 1e-6
        assert high_y <= PAPER[1] + 1e-6
        labels = [mark for mark in page.marks if isinstance(mark, Text) and mark.role in ("pattern", "title")]
        assert any(label.text.startswith(DESIGN.part(key).mark) for label in labels)


@pytest.mark.parametrize("key", ["side left", "apron"])
def test_template_labels_have_figures_of_5_mm(key: str) -> None:
    """A label that is read at arm's length over a board: 5 mm, as in a binder; common practice, no source."""
    for page in tiles(key):
        sizes = {mark.size for mark in page.marks if isinstance(mark, Text) and mark.role == "pattern"}
        assert min(sizes) * FIGURE_SHARE >= 5.0


def diamonds(page: Drawing) -> list[tuple[float, float]]:
    found = []
    for line in strokes(page, Meaning.CONTEXT):
        xs, ys = [x for x, _ in line.points], [y for _, y in line.points]
        if (
            line.closed
            and max(xs) - min(xs) == pytest.approx(2 * DIAMOND, abs=1e-6)
            and len(line.points) == 4
        ):
            found.append(((max(xs) + min(xs)) / 2, (max(ys) + min(ys)) / 2))
    return sorted(found)


def frame(page: Drawing) -> tuple[float, float, float, float]:
    boxes = [line for line in strokes(page, Meaning.HAIR) if line.closed]
    return bounds([max(boxes, key=lambda line: bounds([line])[2] - bounds([line])[0])])


def test_diamonds_of_neighbouring_tiles_cover_each_other() -> None:
    """Diamonds laid on diamonds, the next tile lies one frame less the overlap to the right, and level."""
    found = tiles("apron")
    assert len(found) == 5
    for left, right in pairwise(found):
        low_x, _, high_x, _ = frame(left)
        one = [mark for mark in diamonds(left) if mark[0] > (low_x + high_x) / 2]
        two = [mark for mark in diamonds(right) if mark[0] < (low_x + high_x) / 2]
        assert len(one) == len(two) == 2
        shift = {(round(a[0] - b[0], 6), round(a[1] - b[1], 6)) for a, b in zip(one, two, strict=True)}
        assert shift == {(round(high_x - low_x - OVERLAP, 6), 0.0)}


def test_the_tiles_together_show_the_whole_arc() -> None:
    """24 in across and 1-1/2 in high: its length by the angle it spans, each overlap counted twice."""
    chord, rise = 24 * INCH, 1.5 * INCH
    radius = (chord**2 / 4 + rise**2) / (2 * rise)
    arcs = [
        line.arc
        for page in tiles("apron")
        for line in strokes(page, Meaning.VISIBLE)
        if line.arc is not None and dist(line.arc.centre, line.arc.major) > 100.0
    ]
    assert all(dist(arc.centre, arc.major) == pytest.approx(radius, abs=1e-6) for arc in arcs)
    drawn = sum((arc.end - arc.start) * radius for arc in arcs)
    whole = 2 * asin(chord / 2 / radius) * radius
    joins = len(arcs) - 1
    assert joins >= 3
    # an overlap is 10 mm across and the arc slopes at most asin(12 / r) there
    assert whole + joins * OVERLAP <= drawn <= whole + joins * OVERLAP / cos(asin(chord / 2 / radius))


def test_the_long_check_is_as_long_as_it_says() -> None:
    """Crosses P and Q: where they lie on the joined tiles, a whole number of inches apart."""
    found = tiles("apron")
    low_x, _, high_x, _ = frame(found[0])
    at: dict[str, tuple[float, float]] = {}
    for number, page in enumerate(found):
        rings = [
            line for line in strokes(page, Meaning.DIMENSION)
            if line.closed and len(line.points) == 4
        ]  # fmt: skip
        words = [
            m.text for m in page.marks if isinstance(m, Text) and (" to P " in m.text or " to Q " in m.text)
        ]
        assert len(rings) == len(words)
        for ring, said in zip(rings, words, strict=True):
            box = bounds([ring])
            middle = ((box[0] + box[2]) / 2, (box[1] + box[3]) / 2)
            at[said] = (middle[0] + number * (high_x - low_x - OVERLAP), middle[1])
    assert len(at) == 2
    (one, two) = at
    length = one.removeprefix("P to Q ").removesuffix("\u00a0in")
    assert one.startswith("P")
    assert two == f"Q to P {length}\u00a0in"
    assert dist(at[one], at[two]) == pytest.approx(float(length) * INCH, abs=1e-6)


def test_paper_that_cannot_hold_a_ruler_is_refused() -> None:
    with pytest.raises(ValueError, match="sheets of at least"):
        pattern_pages(DESIGN, DESIGN.part("apron"), LengthStyle(), (120.0, 120.0))


def test_a_tile_names_the_face_and_a_part_alike_on_both_sides_has_its_centre_line() -> None:
    (page,) = pages("side left")
    words = [mark.text for mark in page.marks if isinstance(mark, Text)]
    assert any("Inside face" in word for word in words)
    assert strokes(page, Meaning.CENTRE) == []  # rounded at one corner only
    found = tiles("apron")  # mitred at one end only: its only centre lines are the joins
    assert sum(len(strokes(page, Meaning.CENTRE)) for page in found) == 2 * (len(found) - 1)

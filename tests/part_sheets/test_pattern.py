"""Full-size patterns: true size, tiles that join, rulers that prove it."""

from __future__ import annotations

from itertools import pairwise
from math import dist, hypot

import pytest

from plangen.drawing.part_sheets import pattern_pages
from plangen.drawing.part_sheets.pattern import DIAMOND, OVERLAP
from plangen.drawing.part_sheets.pattern_outline import full_size
from plangen.drawing.part_sheets.plan import part_dimensions
from plangen.drawing.part_sheets.sights import arrangements
from plangen.drawing.sheet.measure import bounds, texts_over_strokes, texts_over_texts
from plangen.drawing.sheet.model import Drawing, Meaning, Stroke, Text
from plangen.units import LengthStyle
from tests.part_sheets.pieces import hard_design

DESIGN = hard_design()
PAPER = (178.0, 225.0)
INCH = 25.4


def pages(key: str) -> tuple[Drawing, ...]:
    return pattern_pages(DESIGN, DESIGN.part(key), LengthStyle(), PAPER)


def strokes(page: Drawing, meaning: Meaning) -> list[Stroke]:
    return [mark for mark in page.marks if isinstance(mark, Stroke) and mark.meaning is meaning]


def test_a_part_without_a_pattern_has_no_pages() -> None:
    assert pages("rail") == ()


def test_the_arc_is_printed_at_full_size() -> None:
    """The quarter round of the side has radius 3 in: every point of it, and the chord between its ends."""
    (page,) = pages("side left")
    (edge,) = [line for line in strokes(page, Meaning.VISIBLE) if len(line.points) > 10]
    steps = [dist(*pair) for pair in pairwise(edge.points)]
    arc = [i for i, step in enumerate(steps) if step < 5.0]
    start, end = edge.points[arc[0]], edge.points[arc[-1] + 1]
    assert dist(start, end) == pytest.approx(hypot(3 * INCH, 3 * INCH), abs=0.01)
    corner = (min(start[0], end[0]), min(start[1], end[1]))
    for index in arc:
        middle = [(a + b) / 2 for a, b in zip(edge.points[index], edge.points[index + 1], strict=True)]
        assert dist(corner, middle) == pytest.approx(3 * INCH, abs=0.01)


@pytest.mark.parametrize("key", ["side left", "side right", "apron"])
def test_both_rulers_measure_4_in_and_100_mm_both_ways(key: str) -> None:
    for page in pages(key):
        lines = strokes(page, Meaning.DIMENSION)
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
        labels = [mark for mark in page.marks if isinstance(mark, Text) and mark.role == "pattern"]
        assert any(label.text.startswith(DESIGN.part(key).mark) for label in labels)


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
    tiles = pages("apron")
    assert len(tiles) == 5
    for left, right in pairwise(tiles):
        low_x, _, high_x, _ = frame(left)
        one = [mark for mark in diamonds(left) if mark[0] > (low_x + high_x) / 2]
        two = [mark for mark in diamonds(right) if mark[0] < (low_x + high_x) / 2]
        assert len(one) == len(two) == 2
        shift = {(round(a[0] - b[0], 6), round(a[1] - b[1], 6)) for a, b in zip(one, two, strict=True)}
        assert shift == {(round(high_x - low_x - OVERLAP, 6), 0.0)}


def test_the_tiles_together_cover_all_that_is_sawn() -> None:
    part = DESIGN.part("apron")
    shape = full_size(part, arrangements(part_dimensions(part, LengthStyle()))[0].sights[0])
    tiles = pages("apron")
    low_x, _, high_x, _ = frame(tiles[0])
    covered = len(tiles) * (high_x - low_x) - (len(tiles) - 1) * OVERLAP
    assert covered >= shape.region[2] - shape.region[0]
    # along the top: from the mitre's corner, 2 in from the end, to 15 mm past the arc's end at 27 in, and the
    # 4 mm that the frame leaves; every overlap shows its stretch twice
    top = sum(
        abs(b[0] - a[0])
        for page in tiles
        for line in strokes(page, Meaning.VISIBLE)
        for a, b in pairwise(line.points)
        if abs(b[1] - a[1]) < 1e-9 and a[1] > 120.0
    )
    assert top == pytest.approx(25 * INCH + 15.0 + 4.0 + (len(tiles) - 1) * OVERLAP, abs=0.01)


def test_paper_that_cannot_hold_a_ruler_is_refused() -> None:
    with pytest.raises(ValueError, match="sheets of at least"):
        pattern_pages(DESIGN, DESIGN.part("apron"), LengthStyle(), (120.0, 120.0))


def test_a_tile_names_the_face_and_a_part_alike_on_both_sides_has_its_centre_line() -> None:
    (page,) = pages("side left")
    words = [mark.text for mark in page.marks if isinstance(mark, Text)]
    assert any("Inside face" in word for word in words)
    assert strokes(page, Meaning.CENTRE) == []  # rounded at one corner only
    tiles = pages("apron")
    shape = full_size(
        DESIGN.part("apron"), arrangements(part_dimensions(DESIGN.part("apron"), LengthStyle()))[0].sights[0]
    )
    upright = [
        line
        for page in tiles
        for line in strokes(page, Meaning.CENTRE)
        if abs(line.points[0][0] - line.points[1][0]) < 1e-9
    ]
    joins = 2 * (len(tiles) - 1)
    alike = abs(shape.shape.centroid.x - shape.width / 2) < 0.01
    assert (len(upright) > joins) == alike

"""Balloons: no leader crosses a leader, a balloon or a dot; none covers the picture while there is room."""

from __future__ import annotations

from math import dist, hypot

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from plangen.drawing.labels import (
    RADIUS,
    Label,
    PlacedLabel,
    balloon,
    label_marks,
    labels_conflicts,
    place_labels,
    ring_edge,
)
from plangen.drawing.sheet.model import Fill, Link, Meaning, Stroke, Text

ROOM = (0.0, 0.0, 160.0, 110.0)


def _label(text: str, x: float, y: float, size: float = 6, **more: bool) -> Label:
    return Label(text, ((x, y),), shapely.box(x - size, y - size, x + size, y + size), **more)  # type: ignore[arg-type]


def _placed(text: str, centre: tuple[float, float], anchor: tuple[float, float]) -> PlacedLabel:
    return PlacedLabel(Label(text, (anchor,), shapely.Point(anchor).buffer(1)), centre, anchor)


def test_conflicts_are_counted_one_by_one() -> None:
    cross = [_placed("A", (0, 0), (20, 20)), _placed("B", (20, 0), (0, 20))]
    over_ring = [_placed("A", (0, 0), (40, 0)), _placed("B", (20, 0), (20, 30))]
    touching = [_placed("A", (0, 0), (0, 20)), _placed("B", (5, 0), (5, -20))]
    over_dot = [_placed("A", (0, 0), (40, 0)), _placed("B", (20, 20), (20, 0))]
    free = [_placed("A", (0, 0), (0, 20)), _placed("B", (20, 0), (20, 20))]
    assert labels_conflicts(free) == 0
    assert labels_conflicts(cross) == 1
    assert labels_conflicts(over_ring) >= 1
    assert labels_conflicts(touching) == 1
    assert labels_conflicts(over_dot) >= 1


@settings(max_examples=15, deadline=None)
@given(st.lists(st.tuples(st.integers(0, 6), st.integers(0, 3)), min_size=1, max_size=12, unique=True))
def test_twelve_parts_in_any_order_get_balloons_without_a_conflict(cells: list[tuple[int, int]]) -> None:
    labels = [_label(chr(65 + n), 35 + 15 * i, 30 + 17 * j, 5) for n, (i, j) in enumerate(cells)]
    ink = shapely.union_all([label.region for label in labels])
    placed = place_labels(labels, ink, ROOM)
    assert labels_conflicts(placed) == 0
    for item in placed:
        assert shapely.intersects_xy(item.label.region, *item.anchor)
        assert ROOM[0] + RADIUS <= item.centre[0] <= ROOM[2] - RADIUS
        assert ROOM[1] + RADIUS <= item.centre[1] <= ROOM[3] - RADIUS


def test_balloons_stand_clear_of_the_picture_and_near_their_part() -> None:
    labels = [_label("A", 60, 55, 20), _label("B", 110, 55, 20)]
    ink = shapely.union_all([label.region for label in labels])
    for item in place_labels(labels, ink, ROOM):
        assert ink.distance(shapely.Point(item.centre)) >= RADIUS
        assert dist(item.centre, item.anchor) < 32


def test_a_full_sheet_still_gets_its_balloons() -> None:
    labels = [_label(str(n), 30 + 20 * n, 55, 4) for n in range(6)]
    placed = place_labels(labels, shapely.box(*ROOM), ROOM)
    assert labels_conflicts(placed) == 0


@pytest.mark.parametrize(
    ("text", "square"), [("A", False), ("A-L", False), ("AA-R", False), ("3", True), ("12", True)]
)
@pytest.mark.parametrize("anchor", [(30.0, 4.0), (3.0, -25.0), (-20.0, 20.0), (0.0, 15.0)])
def test_a_leader_starts_on_the_ring(text: str, square: bool, anchor: tuple[float, float]) -> None:
    item = PlacedLabel(
        Label(text, (anchor,), shapely.Point(anchor).buffer(1), square=square), (0.0, 0.0), anchor
    )
    start = ring_edge(item)
    assert start is not None
    ring = next(mark for mark in balloon((0, 0), text, square=square) if isinstance(mark, Stroke))
    assert shapely.LinearRing(ring.points).distance(shapely.Point(start)) < 0.02
    # on the straight way from the middle to the anchor
    assert abs(start[0] * anchor[1] - start[1] * anchor[0]) < 1e-9 * hypot(*anchor) + 1e-9


def test_marks_carry_ring_weight_letter_dot_and_link() -> None:
    item = PlacedLabel(
        Label("A", ((30.0, 0.0),), shapely.Point(30, 0).buffer(2), new=True, target="part:side"),
        (0.0, 0.0),
        (30.0, 0.0),
    )
    marks = label_marks([item])
    assert [mark.meaning for mark in marks if isinstance(mark, Stroke)] == [
        Meaning.LEADER,
        Meaning.BALLOON_NEW,
    ]
    assert [mark.text for mark in marks if isinstance(mark, Text)] == ["A"]
    assert [mark.target for mark in marks if isinstance(mark, Link)] == ["part:side"]
    assert any(isinstance(mark, Fill) and dist(mark.loops[0][0], (30, 0)) < 0.6 for mark in marks)

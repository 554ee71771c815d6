"""Turns and mirrorings: a group that acts on operations, and signatures that know equal pieces."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plangen.joinery.cuts import Arc, BoxCut, Curve, Line, Loop, PrismCut, RoundCut, plane_axes
from plangen.joinery.operation import Corner, Feature, Form, Operation, Repeat, Span
from plangen.joinery.shapes import points_of
from plangen.joinery.space import IDENTITY_TURN, ORIGIN, Axis, Box, Point, Side
from plangen.joinery.transform import (
    Transform,
    after,
    all_turns,
    box_onto_box,
    determinant,
    inverse,
    mirroring,
    moved,
    signature,
    transform_cut,
    transform_feature,
    transform_operation,
)
from plangen.units import Length, Phrase

lengths = st.integers(-400, 400).map(lambda n: Length(Fraction(n, 4)))
sizes = st.integers(1, 200).map(lambda n: Length(Fraction(n, 4)))
points = st.builds(Point, lengths, lengths, lengths)
turns = st.sampled_from(all_turns())
transforms = st.builds(Transform, turns, points)
axes = st.sampled_from(list(Axis))
sides = st.sampled_from(list(Side))


@st.composite
def boxes(draw: st.DrawFn) -> Box:
    low = draw(points)
    return Box(low, low + Point(draw(sizes), draw(sizes), draw(sizes)))


@st.composite
def loops(draw: st.DrawFn) -> Loop:
    """A quarter disc and a smooth tail: a line, an arc and a curve."""
    x, y, r = draw(lengths), draw(lengths), draw(sizes)
    left = draw(st.booleans())
    return Loop(
        (x, y),
        (
            Line((x + r, y)),
            Arc((x, y + r), r, left),
            Curve(((x - r, y + r * 2), (x - r * 2, y))),
            Line((x, y)),
        ),
    )


cuts = st.one_of(
    st.builds(BoxCut, boxes()),
    st.builds(RoundCut, points, sides, sizes, sizes),
    st.builds(
        lambda axis, low, size, loop: PrismCut(axis, low, low + size, (loop,)), axes, lengths, sizes, loops()
    ),
)
operations = st.builds(
    lambda cut, side: Operation("dado", "Dado", side, (cut,), (Feature(Form.SLOT, side, ()),), Phrase()),
    cuts,
    sides,
)


def test_there_are_24_turns_and_24_mirrorings() -> None:
    assert len(set(all_turns())) == 48
    assert [determinant(turn) for turn in all_turns()] == [1] * 24 + [-1] * 24
    assert all_turns()[0] == IDENTITY_TURN


@given(turns, turns)
def test_turns_are_a_group(one: object, two: object) -> None:
    assert after(one, two) in all_turns()
    assert determinant(after(one, two)) == determinant(one) * determinant(two)
    assert after(one, inverse(one)) == IDENTITY_TURN


@given(turns, turns, points)
def test_one_turn_after_the_other(one: object, two: object, point: Point) -> None:
    both = Transform(after(two, one), ORIGIN)
    assert both.point(point) == Transform(two, ORIGIN).point(Transform(one, ORIGIN).point(point))


def test_mirroring_reverses_one_axis() -> None:
    seen = Transform(mirroring(Axis.DEEP), ORIGIN)
    assert seen.side(Side.FRONT) is Side.BACK
    assert seen.side(Side.LEFT) is Side.LEFT
    assert seen.mirrors


def undone(by: Transform) -> Transform:
    back = inverse(by.turn)
    return Transform(back, ORIGIN - Transform(back, ORIGIN).point(by.move))


@given(cuts, transforms)
def test_there_and_back_is_the_same_cut(cut: object, by: Transform) -> None:
    assert transform_cut(transform_cut(cut, by), undone(by)) == cut


@given(st.lists(operations, max_size=4), boxes(), transforms)
@settings(max_examples=60)
def test_there_and_back_has_the_same_signature(made: list[Operation], blank: Box, by: Transform) -> None:
    carried = tuple(transform_operation(operation, by) for operation in made)
    again = tuple(transform_operation(operation, undone(by)) for operation in carried)
    assert signature(again, blank) == signature(tuple(made), blank)


@given(st.lists(operations, min_size=2, max_size=4), boxes())
def test_the_order_of_operations_does_not_tell_pieces_apart(made: list[Operation], blank: Box) -> None:
    assert signature(tuple(made), blank) == signature(tuple(reversed(made)), blank)


@given(loops(), transforms, axes)
def test_an_outline_carried_is_the_outline_of_carried_points(loop: Loop, by: Transform, axis: Axis) -> None:
    """The sense of each arc must turn with a mirroring, or the bow would fall on the other side."""
    carried = transform_cut(PrismCut(axis, Length(Fraction(0)), Length(Fraction(1)), (loop,)), by)
    first, second = plane_axes(axis)
    expected = []
    for x, y in points_of(loop):
        point = [0.0, 0.0, 0.0]
        point[first.value], point[second.value] = x, y
        image = [
            sum(row[k] * point[k] for k in range(3)) + move
            for row, move in zip(by.turn, by.move.floats(), strict=True)
        ]
        one, two = plane_axes(by.axis(axis))
        expected.append((image[one.value], image[two.value]))
    for (x, y), (u, v) in zip(points_of(carried.loops[0]), expected, strict=True):
        assert (x, y) == pytest.approx((u, v), abs=1e-6)


@given(boxes(), turns, points)
def test_a_box_is_found_on_its_image(box: Box, turn: object, move: Point) -> None:
    by = Transform(turn, move)
    assert box_onto_box(turn, box, by.box(box)) == by
    assert box_onto_box(turn, box, by.box(box).grown(Side.TOP, Length(Fraction(1)))) is None


@given(transforms, st.integers(2, 9), sizes, points, sides, sizes)
def test_a_row_still_grows_upward(
    by: Transform, number: int, pitch: Length, start: Point, side: Side, depth: Length
) -> None:
    along = next(axis for axis in Axis if axis is not side.axis)
    spans = {axis: Span(start.at(axis), start.at(axis)) for axis in Axis}
    row = Feature(Form.HOLE, side, tuple(spans.items()), (Side.of(along, True),), diameter=depth,
                  repeat=(Repeat(along, number, pitch),))  # fmt: skip
    carried = transform_feature(row, by)
    (repeat,) = carried.repeat
    assert repeat == Repeat(by.axis(along), number, pitch)
    assert carried.side is by.side(side)
    assert carried.datum == (by.side(Side.of(along, True)),)
    found = {carried.span(repeat.axis).low + pitch * k for k in range(number)}
    expected = {by.point(start.moved(along, pitch * k)).at(repeat.axis) for k in range(number)}
    assert found == expected


@given(transforms, points)
def test_corners_go_with_their_plane(by: Transform, at: Point) -> None:
    feature = Feature(Form.OUTLINE, Side.TOP, (), corners=(Corner((at.across, at.deep), None),))
    (corner,) = transform_feature(feature, by).corners
    image = by.point(at.with_(Axis.UP, Length(Fraction(0))))
    assert corner.at == tuple(image.at(axis) for axis in plane_axes(by.axis(Axis.UP)))


def hole(at: int) -> Operation:
    mouth = Point(*(Length(Fraction(n)) for n in (at, 5, 0)))
    cut = RoundCut(mouth, Side.BOTTOM, Length(Fraction(3)), Length(Fraction(5)))
    return Operation("hole", "Hole", Side.BOTTOM, (cut,), (), Phrase())


BLANK = Box(ORIGIN, Point(*(Length(Fraction(n)) for n in (100, 10, 5))))


def test_different_places_depths_and_joints_have_different_signatures() -> None:
    from dataclasses import replace

    base = signature((hole(20),), BLANK)
    assert signature((hole(21),), BLANK) != base
    assert signature((replace(hole(20), joint="pins"),), BLANK) != base
    assert signature((replace(hole(20), kind="dowel hole"),), BLANK) != base
    assert signature((hole(20), hole(20)), BLANK) != base


def test_what_reaches_past_the_blank_makes_no_difference() -> None:
    low, high = (
        Point(*(Length(Fraction(n)) for n in (10, 0, 3))),
        Point(*(Length(Fraction(n)) for n in (20, 10, 5))),
    )
    taller = high.with_(Axis.UP, Length(Fraction(9)))
    made = [
        Operation("dado", "Dado", Side.TOP, (BoxCut(Box(low, top)),), (), Phrase()) for top in (high, taller)
    ]
    assert signature((made[0],), BLANK) == signature((made[1],), BLANK)


def test_moved_only_moves() -> None:
    by = Point(*(Length(Fraction(n)) for n in (1, 2, 3)))
    assert moved(by).box(BLANK) == BLANK.shifted(by)
    assert not moved(by).mirrors

"""The plan of dimensions: complete, nothing twice, and true to the records."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plangen.design.model import Part
from plangen.drawing.part_sheets.plan import Dimension, PartPlan, part_dimensions
from plangen.findings.model import ProjectError
from plangen.joinery.cuts import plane_axes
from plangen.joinery.operation import Form
from plangen.joinery.space import Axis, Side
from plangen.units import ZERO, Length, LengthStyle, inches, millimetres
from tests.part_sheets.pieces import (
    PIECES,
    box,
    hard_design,
    hole,
    lapped_rail,
    piece,
    pinned_side,
    slot,
    tenoned_rail,
)
from tests.part_sheets.trees import assert_spans

A, D, U = Axis.ACROSS, Axis.DEEP, Axis.UP
INCH, METRIC, BOTH = LengthStyle(), LengthStyle("mm"), LengthStyle("both")
PARTS = hard_design().parts


def needed(part: Part, axis: Axis) -> set[Length]:
    """What has to be given along an axis, worked out from the operations without the room's own code."""
    size = part.blank.size(axis)
    wanted = {ZERO, size}
    for operation in part.operations:
        for feature in operation.features:
            if feature.form is Form.EDGE:
                continue
            moves = [ZERO]
            for row in feature.repeat:
                if row.axis is axis:
                    moves = [row.pitch * n for n in range(row.number)]
            if feature.form is Form.OUTLINE:
                plane = plane_axes(feature.side.axis)
                if axis in plane:
                    wanted |= {corner.at[plane.index(axis)] for corner in feature.corners}
            elif not (feature.form is Form.HOLE and axis is feature.side.axis):
                span = feature.span(axis)
                ends = {min(max(end, ZERO), size) for end in (span.low, span.high)}
                wanted |= {end + move for end in ends for move in moves}
    return wanted


def pairs_along(dimensions: Iterable[Dimension], axis: Axis) -> list[tuple[Length, Length]]:
    return [pair for d in dimensions if d.axis is axis and d.kind != "reference" for pair in d.pairs]


@pytest.mark.parametrize("part", PARTS, ids=lambda part: part.key)
@pytest.mark.parametrize("style", [INCH, METRIC, BOTH], ids=lambda style: style.system)
def test_every_coordinate_is_reached_once(part: Part, style: LengthStyle) -> None:
    plan = part_dimensions(part, style)
    for axis in Axis:
        assert_spans(pairs_along(plan.dimensions, axis), needed(part, axis))


@pytest.mark.parametrize("part", PARTS, ids=lambda part: part.key)
def test_equal_stretches_only_are_said_together(part: Part) -> None:
    for dimension in part_dimensions(part, INCH).dimensions:
        lengths = {abs(end - start) for start, end in (*dimension.pairs, *dimension.echoes)}
        assert lengths == {dimension.value}


def texts(plan: PartPlan, axis: Axis, kind: str) -> list[str]:
    return [d.text.replace("\u00a0", " ") for d in plan.dimensions if d.axis is axis and d.kind == kind]


def test_tenons_are_given_by_thickness_width_and_length_with_the_shoulders_for_reference() -> None:
    plan = part_dimensions(tenoned_rail(), INCH)
    assert texts(plan, A, "overall") == ["22"]
    assert texts(plan, A, "size") == ["2 × 1"]
    assert texts(plan, A, "reference") == ["(20)"]
    assert texts(plan, D, "size") == ["1/4"]  # the tongue; the groove has the same edges
    assert texts(plan, U, "size") == ["3/8", "2 × 2"]
    assert texts(plan, U, "location") == ["1/2"]


def test_rows_of_holes_are_given_by_number_pitch_and_total_where_the_figures_add_up() -> None:
    metric = part_dimensions(pinned_side(), METRIC)
    assert texts(metric, U, "row") == ["5 × 32 = 160"]
    # 32 mm prints as 1 1/4 in, and 5 × 1 1/4 is not the 6 5/16 that the row measures: hole by hole then
    inch = part_dimensions(pinned_side(), INCH)
    assert texts(inch, U, "row") == []
    assert len([d for d in inch.dimensions if d.axis is U and d.kind == "location" and d.shapes]) >= 6
    assert texts(part_dimensions(pinned_side(metric=False), INCH), U, "row") == ["5 × 1 = 5"]
    # 1 in prints as 25.5 mm, and 5 × 25.5 is not 127: beside the inches only the total is told
    assert texts(part_dimensions(pinned_side(metric=False), BOTH), U, "row") == ["5 × 1 = 5 (127 mm)"]


def test_equal_cuts_from_both_faces_are_counted_together() -> None:
    plan = part_dimensions(lapped_rail(), METRIC)
    assert texts(plan, D, "size") == ["3 × 10"]
    assert texts(plan, A, "size") == ["3 × 40"]


def test_the_depth_of_every_kind_of_cut_is_printed() -> None:
    plan = part_dimensions(pinned_side(), METRIC)
    assert sorted(texts(plan, A, "size") + texts(plan, A, "reference")) == ["(6)", "6"]


@pytest.mark.parametrize(
    ("diameter", "style", "shown"),
    [
        (inches("11/64"), INCH, "11/64 in"),  # not 3/16: the next bit would let the screw slip
        (millimetres(5), INCH, "5 mm"),
        (inches("11/64"), METRIC, "4.5 mm"),  # no metric bit: as the prose prints it
        (millimetres(5), METRIC, "5 mm"),
        (inches("1/4"), BOTH, "1/4 in (6.5 mm)"),
    ],
)
def test_bits_are_named_so_that_the_right_one_is_taken(
    diameter: Length, style: LengthStyle, shown: str
) -> None:
    blank = box(ZERO, inches(4), ZERO, inches(2), ZERO, inches("3/4"))
    part = piece(
        "plate", "P", blank, A, D, U, (hole(Side.TOP, blank, {A: inches(1), D: inches(1)}, diameter),)
    )
    (note,) = part_dimensions(part, style).notes
    assert note.text.replace("\u00a0", " ") == f"1 hole {shown}, through"


def test_equal_holes_are_noted_once_and_counted() -> None:
    notes = [note.text.replace("\u00a0", " ") for note in part_dimensions(pinned_side(), METRIC).notes]
    assert notes == ["12 holes 5 × 10 deep", "3 holes 8 × 30 deep"]


def test_holes_opposite_each_other_are_noted_once() -> None:
    blank = box(ZERO, inches(20), ZERO, inches("3/4"), ZERO, inches(3))
    at = {D: inches("3/8"), U: inches("3/2")}
    ends = tuple(hole(side, blank, at, inches("3/32"), inches(1)) for side in (Side.LEFT, Side.RIGHT))
    (note,) = part_dimensions(piece("rail", "R", blank, A, U, D, ends), INCH).notes
    assert note.text.replace("\u00a0", " ") == "1 hole 3/32 × 1 deep, in each end"
    assert note.shapes == (0, 1)
    elsewhere = hole(Side.RIGHT, blank, {D: inches("3/8"), U: inches(1)}, inches("3/32"), inches(1))
    assert len(part_dimensions(piece("rail", "R", blank, A, U, D, (ends[0], elsewhere)), INCH).notes) == 2


def test_nothing_prints_as_zero() -> None:
    blank = box(ZERO, inches(4), ZERO, inches(2), ZERO, inches("3/4"))
    shallow = box(ZERO, inches(4), ZERO, inches(1), inches("3/4") - inches("1/64"), inches("3/4"))
    part = piece("plate", "P", blank, A, D, U, (slot("rabbet", Side.TOP, shallow),))
    assert texts(part_dimensions(part, INCH), U, "size") == ["1/64"]
    hair = box(ZERO, inches(4), ZERO, inches(1), inches("3/4") - inches("1/500"), inches("3/4"))
    part = piece("plate", "P", blank, A, D, U, (slot("rabbet", Side.TOP, hair),))
    assert texts(part_dimensions(part, INCH), U, "size") == ["0.002"]


@pytest.mark.parametrize("lack", ["corners", "diameter", "span", "size"])
def test_what_cannot_be_dimensioned_is_an_error_with_its_place(lack: str) -> None:
    part = PIECES[5]() if lack == "corners" else lapped_rail()
    index = {"corners": 0, "diameter": 3, "span": 0, "size": 0}[lack]
    operation = part.operations[index]
    (feature,) = operation.features
    broken = {
        "corners": replace(feature, corners=()),
        "diameter": replace(feature, diameter=None),
        "span": replace(feature, spans=feature.spans[:2]),
        "size": replace(
            feature, spans=tuple((axis, replace(span, high=span.low)) for axis, span in feature.spans)
        ),
    }[lack]
    operations = list(part.operations)
    operations[index] = replace(operation, features=(broken,))
    with pytest.raises(ProjectError) as caught:
        part_dimensions(replace(part, operations=tuple(operations)), INCH)
    (finding,) = caught.value.findings
    assert finding.kind == "undimensioned-feature"
    assert finding.place == operation.place
    assert finding.part == part.key


sixteenths = st.integers(1, 15 * 16)


@settings(max_examples=40, deadline=None)
@given(
    st.lists(
        st.tuples(sixteenths, st.integers(1, 32), sixteenths, st.integers(1, 32), st.booleans()), max_size=6
    )
)
def test_any_cuts_and_holes_are_dimensioned_completely(cuts: list[tuple[int, int, int, int, bool]]) -> None:
    """Cuts that touch, overlap, share edges or run off the blank: still one tree along every axis."""
    blank = box(ZERO, inches(16), ZERO, inches(16), ZERO, inches(1))
    operations = []
    for a, long, d, wide, bored in cuts:
        low_a, low_d = inches(Fraction(a, 16)), inches(Fraction(d, 16))
        if bored:
            operations.append(hole(Side.TOP, blank, {A: low_a, D: low_d}, inches("1/4")))
        else:
            where = box(
                low_a,
                low_a + inches(Fraction(long, 4)),
                low_d,
                low_d + inches(Fraction(wide, 4)),
                inches("1/2"),
                inches(1),
            )
            operations.append(slot("dado", Side.TOP, where))
    part = piece("plate", "P", blank, A, D, U, tuple(operations))
    plan = part_dimensions(part, INCH)
    for axis in Axis:
        assert_spans(pairs_along(plan.dimensions, axis), needed(part, axis))

"""Sheets of the newer kinds of work: complete, nothing twice, nothing touching, and true by hand."""

from __future__ import annotations

import math
from dataclasses import replace
from fractions import Fraction
from functools import cache, lru_cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plangen.design.model import Part
from plangen.drawing.part_sheets import PartSheet, part_dimensions, part_sheet
from plangen.drawing.part_sheets.pattern_outline import FullSize, full_size
from plangen.drawing.part_sheets.plan import PartPlan
from plangen.drawing.part_sheets.sights import arrangements
from plangen.drawing.sheet.measure import texts_over_strokes, texts_over_texts
from plangen.drawing.sheet.model import Fill, Meaning, Stroke
from plangen.findings.model import ProjectError
from plangen.joinery.cuts import PlaneCut, plane_axes
from plangen.joinery.operation import Form
from plangen.joinery.space import Axis, to_nanometre
from plangen.solids import Solids, build_solids
from plangen.units import ZERO, Length, LengthStyle, inches
from tests.joinery.boards import top
from tests.part_sheets.pieces import A, D, U
from tests.part_sheets.trees import assert_spans
from tests.part_sheets.worked import low_cut_leg, splayed_leg, worked_design

DESIGN = worked_design()
PARTS = {part.key: part for part in DESIGN.parts}
INCH, METRIC = LengthStyle(), LengthStyle("mm")
# By hand: a cut at 10 degrees that starts at the corner of 1-1/4 in has fallen by half of that times tan 10°
# at the middle, and stands higher by 3/8 in times tan 10° at the rim of a tenon 3/4 in across.
TAN = math.tan(math.radians(10))
RIM = inches(10) - to_nanometre(0.625 * 25.4 * TAN) + to_nanometre(0.375 * 25.4 * TAN)


@lru_cache(maxsize=1)
def solids() -> Solids:
    return build_solids(DESIGN)


@cache
def sheet(key: str, system: str = "inch") -> PartSheet:
    style = INCH if system == "inch" else METRIC
    return part_sheet(DESIGN, solids(), PARTS[key], style, width=178, height=200)


def needed(part: Part, axis: Axis) -> set[Length]:
    """What has to be given along an axis, from the cuts and features, without the room's own code."""
    size = part.blank.size(axis)
    wanted = {ZERO, size}
    for operation in part.operations:
        for feature in operation.features:
            span = feature.span(axis) if axis in dict(feature.spans) else None
            moves = [ZERO]
            for row in feature.repeat:
                if row.axis is axis:
                    moves = [row.pitch * n for n in range(row.number)]
            if feature.form is Form.OUTLINE and axis in plane_axes(feature.side.axis):
                index = plane_axes(feature.side.axis).index(axis)
                wanted |= {corner.at[index] for corner in feature.corners}
            elif feature.form is Form.HOLE and axis is not feature.side.axis and span is not None:
                wanted |= {span.low + move for move in moves}
            elif feature.form is Form.SLOT and span is not None:
                ends = {min(max(end, ZERO), size) for end in (span.low, span.high)}
                wanted |= {end + move for end in ends for move in moves}
            elif feature.form is Form.ROUND and axis is feature.side.axis and span is not None:
                wanted |= {span.low, span.high}
            elif feature.form is Form.EDGE and operation.kind == "chamfer" and axis is part.runs:
                assert span is not None
                wanted |= {span.low, span.high}
            elif part.key == "leg with a sawn tenon" and feature.form is Form.PLANE and axis is U:
                wanted.add(RIM)
            elif feature.form is Form.PLANE and axis is feature.side.axis:
                (cut,) = operation.cuts
                assert isinstance(cut, PlaneCut)
                wanted.add(cut.through.at(axis))  # the legs are cut through the corner that stays longest
    return wanted


@pytest.mark.parametrize("key", PARTS)
@pytest.mark.parametrize("style", [INCH, METRIC], ids=["inch", "mm"])
def test_every_coordinate_is_reached_once(key: str, style: LengthStyle) -> None:
    part = PARTS[key]
    plan = part_dimensions(part, style)
    for axis in Axis:
        given = [d for d in plan.dimensions if d.axis is axis and d.kind != "reference"]
        assert_spans([pair for d in given for pair in d.pairs], needed(part, axis))


@pytest.mark.parametrize("key", PARTS)
@pytest.mark.parametrize("system", ["inch", "mm"])
def test_nothing_touches_on_the_sheet(key: str, system: str) -> None:
    drawn = sheet(key, system)
    assert drawn.clashes == 0
    assert texts_over_texts(drawn.drawing.marks) == ()
    assert texts_over_strokes(drawn.drawing.marks) == ()


def notes(key: str, style: LengthStyle = INCH) -> list[str]:
    return [note.text.replace("\u00a0", " ") for note in part_dimensions(PARTS[key], style).notes]


def texts(plan: PartPlan, axis: Axis, kind: str) -> list[str]:
    return [d.text.replace("\u00a0", " ") for d in plan.dimensions if d.axis is axis and d.kind == kind]


@pytest.mark.parametrize(
    ("key", "said"),
    [
        ("slots", ["8 × R 1/4"]),
        ("pocket", ["4 × R 1/4", "4 × R 3/8"]),
        ("round pocket", ["1 hole 2 1/2 in, through, counterbore 3 × 1/8 deep"]),
        ("leaf recesses", ["2 × R 1/4"]),
        ("bevelled edge", ["bevel (30°)"]),
        # Operator's manual of a 10 in compound mitre saw, model 315.21212, page 24: 26.57° and 37.76°.
        ("hopper side", ["mitre 26.6°, blade tilted 37.8°; longest at the back top edge"]),
        ("moulded edges", ["4 × ogee R 1/8"]),
        ("stopped chamfer", ["chamfer 1/4"]),
        ("banded shelf", ["2 × birch tape, 1/32 thick, counted in the size"]),
        ("rounded notch", ["R 1"]),
        ("round rail", ["⌀ 1 1/4"]),
        ("turned foot", ["⌀ 1"]),
        (
            "tilted holes",
            ["4 holes 3/4 in, through, tilted 14.3° as the arrow points, sight line 33.5° to the long edges"],
        ),
        (
            "seat",
            ["4 holes 1 in, through, tilted 14.3° as the arrow points, sight line 33.5° to the long edges"],
        ),
        (
            "splayed leg",
            [
                "mitre 12°, blade tilted 8°; longest at the left front edge",
                "mitre 12°, blade tilted 8°; longest at the right back edge",
            ],
        ),
        ("leg with a round tenon", ["⌀ 1", "mitre 15°; longest at the right edge"]),
    ],
)
def test_the_notes_say_it(key: str, said: list[str]) -> None:
    assert notes(key) == said


def test_a_row_of_shelf_pin_holes_is_given_by_number_pitch_and_total() -> None:
    assert texts(part_dimensions(PARTS["row of holes"], METRIC), A, "row") == ["5 × 32 = 160"]
    assert texts(part_dimensions(PARTS["slots"], INCH), A, "row") == ["3 × 4 = 12"]


def test_a_slanted_end_tells_how_far_it_falls_over_both_faces() -> None:
    """By hand: 1-3/4 in times tan 12° is 0.372 in; 1-3/4 in times tan 8° / cos 12° is 0.251 in."""
    plan = part_dimensions(splayed_leg(), INCH)
    falls = [float(Fraction(text.strip("()"))) for text in texts(plan, U, "reference")]
    across, deep = (
        1.75 * math.tan(math.radians(12)),
        1.75 * math.tan(math.radians(8)) / math.cos(math.radians(12)),
    )
    assert sorted(falls) == [pytest.approx(value, abs=1 / 128) for value in (deep, deep, across, across)]
    # what falls across the width is seen looking through the thickness, and the other way round
    looks = {d.text: d.looks for d in plan.dimensions if d.kind == "reference"}
    assert looks == {"(3/8)": (D,), "(1/4)": (A,)}


def test_the_corner_of_a_cut_inside_the_blank_is_located() -> None:
    plan = part_dimensions(low_cut_leg(), INCH)
    assert texts(plan, U, "location") == ["1"]


def test_a_plane_that_does_not_close_its_end_is_an_error_with_its_place() -> None:
    part = splayed_leg()
    first, second = part.operations
    (feature,) = first.features
    wrong = replace(first, features=(replace(feature, side=feature.side.opposite),))
    with pytest.raises(ProjectError) as caught:
        part_dimensions(replace(part, operations=(wrong, second)), INCH)
    (finding,) = caught.value.findings
    assert (finding.kind, finding.place) == ("undimensioned-feature", first.place)
    for broken in (replace(feature, way=None), feature):
        cuts = () if broken is feature else first.cuts
        with pytest.raises(ProjectError):
            part_dimensions(replace(part, operations=(replace(first, cuts=cuts, features=(broken,)),)), INCH)


def test_what_is_round_beside_the_middle_is_located() -> None:
    part = PARTS["turned foot"]
    (operation,) = part.operations
    (feature,) = operation.features
    moved = tuple(
        (
            axis,
            replace(span, low=span.low - inches("1/4"), high=span.high - inches("1/4"))
            if axis is A
            else span,
        )
        for axis, span in feature.spans
    )
    aside = replace(part, operations=(replace(operation, features=(replace(feature, spans=moved),)),))
    assert texts(part_dimensions(aside, INCH), A, "location") == ["1/2"]
    assert texts(part_dimensions(part, INCH), A, "location") == []


def test_each_leaning_hole_has_its_sight_line_with_an_arrow_the_way_the_point_goes() -> None:
    marks = sheet("seat").drawing.marks
    arrows = [mark for mark in marks if isinstance(mark, Fill)]
    slanted = [
        mark
        for mark in marks
        if isinstance(mark, Stroke) and mark.meaning is Meaning.CENTRE and _slope(mark) is not None
    ]
    assert len(slanted) == 4
    assert {round(abs(_slope(mark) or 0.0), 1) for mark in slanted} == {33.5}
    tips = [mark.loops[0][0] for mark in arrows]
    assert all(any(math.dist(mark.points[-1], tip) < 1e-6 for tip in tips) for mark in slanted)
    # The seat's mouths are below and its legs lean outward, so that the points go towards the middle.
    middle = [sum(mark.points[0][k] for mark in slanted) / 4 for k in (0, 1)]
    assert all(math.dist(mark.points[-1], middle) < math.dist(mark.points[0], middle) for mark in slanted)


def _slope(mark: Stroke) -> float | None:
    (x0, y0), (x1, y1) = mark.points[0], mark.points[-1]
    if abs(x1 - x0) < 1e-6 or abs(y1 - y0) < 1e-6:
        return None
    angle = math.degrees(math.atan2(y1 - y0, x1 - x0))
    return angle if abs(angle) <= 90 else angle - math.copysign(180, angle)


def test_a_chain_line_stands_beside_each_banded_edge_of_the_face() -> None:
    lines = [
        mark
        for mark in sheet("banded shelf").drawing.marks
        if isinstance(mark, Stroke) and mark.meaning is Meaning.CENTRE
    ]
    lengths = sorted(round(math.dist(mark.points[0], mark.points[-1]), 2) for mark in lines)
    long, wide, thick = (float(PARTS["banded shelf"].blank.size(axis)) / 4 for axis in (A, D, U))
    expected = [round(value, 2) for value in (thick, wide, long)]
    assert [length for length in lengths if length in expected] == expected  # the rest: the sign of the views


def flat(key: str) -> FullSize:
    part = PARTS[key]
    plan = part_dimensions(part, INCH)
    return full_size(part, arrangements(plan)[0].sights[0])


def test_a_pattern_leaves_out_what_a_slanted_cut_takes_off_both_faces() -> None:
    """By hand: tan of the mitre is cos 60° · tan 45° = 1/2, so the top face loses 5 in by 10 in, halved."""
    shape = flat("hopper side")
    assert shape.shape.area / 25.4**2 == pytest.approx(200 - 25, rel=1e-4)
    assert shape.marked == ()


def test_a_pattern_shows_the_mouths_of_leaning_holes() -> None:
    bores = flat("seat").bores
    assert sorted((round(b.at[0] / 25.4, 3), round(b.at[1] / 25.4, 3)) for b in bores) == [
        (3, 2),
        (3, 8),
        (15, 2),
        (15, 8),
    ]
    assert {round(b.radius / 25.4, 6) for b in bores} == {0.5}


@settings(max_examples=25, deadline=None)
@given(st.data())
def test_any_slot_and_pocket_that_fits_is_located_and_sized(data: st.DataObject) -> None:
    sixteenth = st.integers(1, 48)
    width = data.draw(st.integers(4, 24))
    sizes = {
        "w": Fraction(width, 16),
        "l": Fraction(width + data.draw(sixteenth), 16),
        "x": Fraction(data.draw(st.integers(0, 120)), 16),
        "y": Fraction(data.draw(st.integers(0, 24)), 16),
        "d": Fraction(data.draw(st.integers(1, 11)), 16),
    }
    kind = data.draw(st.sampled_from(["slot", "pocket"]))
    side = data.draw(st.sampled_from(["left", "right"]))
    row = data.draw(st.sampled_from(["", ", along: {number: 2, pitch: 5in}", ", mirrored: deep"]))
    place = f"from {side}: {sizes['x']}in, from front: {sizes['y']}in"
    size = f"length: {sizes['l']}in, width: {sizes['w']}in, depth: {sizes['d']}in"
    part = top(f"{kind}: {{face: top, {place}, {size}{row}}}")
    plan = part_dimensions(part, INCH)
    for axis in Axis:
        given_here = [d for d in plan.dimensions if d.axis is axis and d.kind != "reference"]
        assert_spans([pair for d in given_here for pair in d.pairs], needed(part, axis))


def test_a_cut_through_a_round_tenon_is_measured_on_its_rim() -> None:
    """By hand: 1/4 in · tan 10° = 0.044 in below the end, and 3/4 in · tan 10° = 0.132 in over the tenon."""
    plan = part_dimensions(PARTS["leg with a sawn tenon"], INCH)
    assert texts(plan, U, "location") == ["3/64"]
    assert texts(plan, U, "reference") == ["(1/8)"]
    assert notes("leg with a sawn tenon") == ["⌀ 3/4", "mitre 10°; longest at the right"]

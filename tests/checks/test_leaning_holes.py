"""Leaning holes that meet, keep apart or break out, and profiles that meet, in parts made by hand."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plangen.checks.edges_together import edges_leave_wood
from plangen.checks.holes_cross import _between, holes_keep_apart
from plangen.design.model import Design, Part
from plangen.findings import Finding, Findings, Severity
from plangen.joinery.angles import leaning
from plangen.joinery.cuts import BoreCut
from plangen.joinery.operation import Feature, Form, Operation
from plangen.joinery.space import Point, Side
from plangen.solids import build_solids, check_solids
from plangen.units import ZERO, Length, inches, phrase
from tests.design.small import project, solve
from tests.joinery.boards import TAPE, TOP
from tests.part_sheets.pieces import A, D, U, box, piece
from tests.part_sheets.pieces import hole as square_hole
from tests.sample_design import PLACE, sample_design

i = inches
BLANK = box(ZERO, i(10), ZERO, i(10), ZERO, i(2))


def bored(
    x: Length, y: Length, leans: dict[Side, float], depth: Length, diameter: Length | None = None
) -> Operation:
    """A leaning hole from the bottom of the blank."""
    way = leaning(Side.TOP, leans)
    across = diameter or i("1/2")
    feature = Feature(Form.HOLE, Side.BOTTOM, (), diameter=across, depth=depth, way=way)
    cut = BoreCut(Point(x, y, ZERO), way, across, depth)
    return Operation("hole", "Hole", Side.BOTTOM, (cut,), (feature,), phrase(), place=PLACE)


def design(*operations: Operation) -> Design:
    made: Part = piece("block", "B", BLANK, A, D, U, operations)
    return replace(sample_design(), parts=(made,))


def crossing(*operations: Operation) -> list[Finding]:
    made, findings = design(*operations), Findings()
    holes_keep_apart(made, build_solids(made), findings)
    return list(findings)


def test_two_that_lean_together_meet_inside() -> None:
    """3 in apart at their mouths, each leaning 45 degrees: their middles cross 1-1/2 in up."""
    one = bored(i(3), i(5), {Side.RIGHT: 45.0}, i("5/2"))
    (finding,) = crossing(one, bored(i(6), i(5), {Side.LEFT: 45.0}, i("5/2")))
    assert (finding.kind, finding.severity) == ("holes-cross", Severity.WARNING)
    assert "pass 0 in apart and need 1/2 in" in finding.message.replace("\u00a0", " ")
    # Leaning the same way they run side by side; leaning apart they never meet.
    assert crossing(one, bored(i(8), i(5), {Side.RIGHT: 45.0}, i(2))) == []
    assert (
        crossing(bored(i(3), i(5), {Side.LEFT: 45.0}, i(2)), bored(i(6), i(5), {Side.RIGHT: 45.0}, i(2)))
        == []
    )


def test_one_that_leans_into_a_square_one() -> None:
    upright = square_hole(Side.BOTTOM, BLANK, {A: i(5), D: i(5)}, i("1/2"), i("3/2"))
    (finding,) = crossing(upright, bored(i(4), i(5), {Side.RIGHT: 45.0}, i(2)))
    assert finding.kind == "holes-cross"
    assert crossing(upright, bored(i(4), i(5), {Side.LEFT: 45.0}, i(2))) == []


def test_a_wider_mouth_on_the_same_line_is_meant() -> None:
    narrow = bored(i(4), i(5), {Side.RIGHT: 20.0}, i("3/2"))
    assert crossing(narrow, bored(i(4), i(5), {Side.RIGHT: 20.0}, i("1/2"), i("3/4"))) == []
    (finding,) = crossing(narrow, bored(i(4), i(5), {Side.RIGHT: 30.0}, i("1/2"), i("3/4")))
    assert finding.kind == "holes-cross"


coordinates = st.floats(-50, 50)
points = st.tuples(coordinates, coordinates, coordinates)


@settings(max_examples=60, deadline=None)
@given(points, points, points, points)
def test_the_least_distance_is_no_more_than_any_distance(
    a: tuple[float, float, float], b: tuple[float, float, float], c: tuple[float, float, float],
    d: tuple[float, float, float],
) -> None:  # fmt: skip
    """Against a net of points along both stretches."""
    if math.dist(a, b) < 1 or math.dist(c, d) < 1:
        return
    steps = [step / 40 for step in range(41)]

    def at(start: tuple[float, ...], end: tuple[float, ...], share: float) -> list[float]:
        return [x + (y - x) * share for x, y in zip(start, end, strict=True)]

    net = min(math.dist(at(a, b, s), at(c, d, t)) for s in steps for t in steps)
    found = _between((a, b), (c, d))
    assert found <= net + 1e-6
    assert found >= net - (math.dist(a, b) + math.dist(c, d)) / 80


def broken_out(operation: Operation) -> list[str]:
    made, findings = design(operation), Findings()
    check_solids(made, build_solids(made), findings)
    return [finding.kind for finding in findings]


@pytest.mark.parametrize(
    ("x", "depth", "kinds"),
    [
        # Leaning 30 degrees to the left, 2 in of thickness carry the middle 1.155 in that way; cut level the
        # half-inch hole is 0.289 in to either side.
        ("23/16", "4", ["hole-breaks-edge"]),  # 1.4375 < 1.155 + 0.289
        ("3/2", "4", []),
        ("1/4", "1/4", ["hole-breaks-edge"]),  # its mouth alone reaches further than the edge
    ],
)
def test_a_leaning_hole_that_breaks_out_is_told(x: str, depth: str, kinds: list[str]) -> None:
    assert broken_out(bored(i(x), i(5), {Side.LEFT: 30.0}, i(depth))) == kinds


def test_a_leaning_hole_beside_its_part_is_told() -> None:
    assert broken_out(bored(i(12), i(5), {Side.RIGHT: 30.0}, i(1))) == ["cut-off-part"]


def meeting(*cuts: str) -> list[str]:
    text = project(TOP.format(cut="\n    - ".join(cuts)), hardware=TAPE)
    made, findings = solve(text), Findings()
    edges_leave_wood(made, build_solids(made), findings)
    return [finding.kind for finding in findings]


def test_profiles_and_chamfers_count_together() -> None:
    ogee = "profile: {shape: ogee, radius: 1/4in, edges: front top}"  # takes 1/2 in of the 3/4 in
    assert meeting(ogee, "chamfer: {edges: front bottom, size: 1/4in}") == ["edge-too-big"]
    assert meeting(ogee, "chamfer: {edges: front bottom, size: 3/16in}") == []


def test_stopped_edges_that_do_not_lie_opposite_are_left_alone() -> None:
    left = "chamfer: {edges: front top, size: 1/2in, stopped: {right: 12in}}"
    assert meeting(left, "chamfer: {edges: front bottom, size: 1/2in, stopped: {left: 8in}}") == []
    assert meeting(left, "chamfer: {edges: front bottom, size: 1/2in, stopped: {left: 7in}}") == [
        "edge-too-big"
    ]


def test_banding_is_no_profile() -> None:
    assert (
        meeting(
            "edge banding: {edges: [front], with: birch tape, thickness: 1/32in}",
            "chamfer: {edges: around top, size: 1/4in}",
        )
        == []
    )

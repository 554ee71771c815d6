"""Mains outlet plates: through a thin part, let in flush, their screws bored, and what can not be."""

from __future__ import annotations

import pytest

from plangen.joinery.cuts import Arc, PrismCut
from plangen.joinery.ranks import work_rank
from plangen.joinery.space import Axis
from tests.design.small import box_cut, kinds, length, project, rounds, solve, work

ROW = (
    "outlet: {{kind: mains outlet plate, plate length: 4-1/2in, plate width: 3in, plate thickness: 1/8in, "
    "body length: 3in, body width: 2in, body depth: {depth}{more}}}"
)
TOP = """
top:
  stock: pine
  runs: across
  thick: up
  place: {left: 0, right: 20in, front: 0, back: 10in, bottom: 0}
  fit:
    - outlet: {face: top, at: middle}
"""
LET_IN = ", let in: yes"
SCREWS = ", screws: {number: 2, gauge: 6, length: 1/2in, pitch: 3-3/4in}"


def outlet(depth: str = "2in", more: str = "") -> str:
    return project(TOP, hardware=ROW.format(depth=depth, more=more))


def test_a_body_deeper_than_the_board_goes_right_through() -> None:
    (pocket,) = work(solve(outlet()).part("top"), "let in")
    assert box_cut(pocket).size(Axis.UP) == length("3/4")
    assert pocket.features[0].depth is None


def test_let_in_the_plate_lies_flush_in_rounded_corners() -> None:
    recess, pocket = work(solve(outlet(more=LET_IN)).part("top"), "let in")
    (cut,) = recess.cuts
    assert isinstance(cut, PrismCut)
    assert cut.high - cut.low == length("1/8")
    arcs = [edge.radius for edge in cut.loops[0].segments if isinstance(edge, Arc)]
    assert arcs == [length("1/4")] * 4
    spans = dict(recess.features[0].spans)
    assert spans[Axis.ACROSS].high - spans[Axis.ACROSS].low == length("4-1/2")
    assert spans[Axis.DEEP].high - spans[Axis.DEEP].low == length("3")
    assert recess.features[0].radii == (length("1/4"),)
    assert pocket.features[0].depth is None


def test_the_body_reaches_as_much_deeper_as_the_plate_is_sunk() -> None:
    _, pocket = work(solve(outlet("3/8in", LET_IN)).part("top"), "let in")
    assert pocket.features[0].depth == length("1/2")


def test_it_sits_in_the_middle_of_its_recess() -> None:
    (spot,) = solve(outlet(more=LET_IN)).fits[0].hardware.spots
    assert spot[1] == pytest.approx((10 * 25.4, 5 * 25.4, 0.75 * 25.4))


@pytest.mark.parametrize(("more", "mouth"), [("", "3/4"), (LET_IN, "5/8")])
def test_its_screws_are_bored_from_where_the_plate_lies(more: str, mouth: str) -> None:
    design = solve(outlet(more=more + SCREWS))
    leads = [cut for operation in work(design.part("top"), "lead hole") for cut in rounds(operation)]
    assert sorted(cut.mouth.across for cut in leads) == [length("8-1/8"), length("11-7/8")]
    assert {cut.mouth.up for cut in leads} == {length(mouth)}
    assert {cut.depth for cut in leads} == {length("3/8")}  # what of the screw lies behind the plate
    assert {use.hardware.item: use.hardware.number for use in design.fits} == {"outlet": 1, "outlet screw": 2}


@pytest.mark.parametrize(
    ("more", "kind"),
    [
        (", corner: 1/4in", "hardware-size"),
        (LET_IN + ", corner: 2in", "hardware-size"),
        (SCREWS.replace("3-3/4in", "2-1/2in"), "hardware-size"),
        (SCREWS.replace("3-3/4in", "5in").replace("1/2in", "1in"), "screw-too-long"),
    ],
)
def test_what_can_not_be(more: str, kind: str) -> None:
    assert kinds(outlet(more=more)) == [kind]


def test_a_plate_thicker_than_the_part_can_not_be_let_in() -> None:
    text = outlet(more=LET_IN).replace("plate thickness: 1/8in", "plate thickness: 1in")
    assert kinds(text) == ["recess-too-deep"]


def test_the_recess_is_cut_before_the_holes_that_begin_on_its_floor() -> None:
    part = solve(outlet(more=LET_IN + SCREWS)).part("top")
    kinds_in_order = [operation.kind for operation in sorted(part.operations, key=work_rank)]
    assert kinds_in_order.index("let in") < kinds_in_order.index("lead hole")

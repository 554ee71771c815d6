"""Stopped dadoes and grooves with the ends that a router leaves: the piece keeps clear of them."""

from __future__ import annotations

import math

import pytest

from plangen.joinery.cuts import BoxCut, PrismCut
from plangen.joinery.space import Axis
from tests.design.small import box, box_cut, faults, length, line_at, one, project, solve, work
from tests.joinery.corners import shelf
from tests.joinery.together import filled, overlap, removed

WHOLE = (2 * 10 * 20 + 14.5 * 10) * 0.75


class TestDado:
    design = solve(shelf("dado: {in: side, for: shelf, depth: 1/4in, stopped: {front: 1in}, ends: round}"))

    def test_the_notch_is_longer_by_the_radius(self) -> None:
        # Stopped 1 in from the front; the half circle is 3/8 long.
        left, right = work(self.design.part("shelf"), "notch")
        assert box_cut(left) == box(0, 0, 0, "1/4", "1-3/8", "3/4")
        assert box_cut(right) == box("14-3/4", 0, 0, 15, "1-3/8", "3/4")

    def test_the_dado_ends_in_a_half_circle_and_runs_out_square(self) -> None:
        (cut,) = one(self.design.part("side left"), "dado").cuts
        assert isinstance(cut, PrismCut)
        area = (9 - 0.375) * 0.75 + math.pi * 0.375**2 / 2
        assert removed(self.design, "left side") == pytest.approx(0.25 * area, rel=2e-3)

    def test_nothing_overlaps_and_only_the_half_circles_stay_empty(self) -> None:
        assert overlap(self.design) == pytest.approx(0, abs=1e-6)
        empty = 2 * 0.25 * math.pi * 0.375**2 / 2
        assert filled(self.design) == pytest.approx(WHOLE - empty, rel=1e-5)


def test_stopped_at_both_ends() -> None:
    design = solve(
        shelf("dado: {in: side, for: shelf, depth: 1/4in, stopped: {front: 1in, back: 2in}, ends: round}")
    )
    area = (7 - 0.75) * 0.75 + math.pi * 0.375**2
    assert removed(design, "left side") == pytest.approx(0.25 * area, rel=2e-3)
    assert len(work(design.part("shelf"), "notch")) == 4
    assert overlap(design) == pytest.approx(0, abs=1e-6)


def test_a_shelf_that_ends_in_the_wood_keeps_clear_as_well() -> None:
    # The shelf is 1 in short of the back, where its dado ends with it.
    design = solve(shelf("dado: {in: side, for: shelf, depth: 1/4in, ends: round}", back="9in"))
    assert {float(box_cut(cut).low.deep.inches) for cut in work(design.part("shelf"), "notch")} == {9 - 0.375}
    assert overlap(design) == pytest.approx(0, abs=1e-6)


def test_a_dado_that_runs_out_has_no_ends_to_be_round() -> None:
    design = solve(shelf("dado: {in: side, for: shelf, depth: 1/4in, ends: round}"))
    assert isinstance(one(design.part("side"), "dado").cuts[0], BoxCut)
    assert design.part("shelf").operations == ()


def test_square_ends_are_usual() -> None:
    plain = solve(shelf("dado: {in: side, for: shelf, depth: 1/4in, stopped: {front: 1in}}"))
    said = solve(shelf("dado: {in: side, for: shelf, depth: 1/4in, stopped: {front: 1in}, ends: square}"))
    assert removed(plain, "left side") == removed(said, "left side") == pytest.approx(0.25 * 9 * 0.75)


def test_a_stopped_groove() -> None:
    text = project(
        """
        stile:
          stock: pine
          runs: up
          thick: deep
          width: 3in
          place: {left: 0, front: 0, bottom: 0, top: 20in}
        panel:
          stock: thin
          runs: up
          thick: deep
          place: {left: stile.right, right: 15in, bottom: 3in, top: 17in, front: 1/4in}
        """,
        "- groove: {in: stile, for: panel, depth: 1/2in, stopped: {top: 0in, bottom: 0in}, ends: round}",
        stock="thin: {kind: solid, species: eastern white pine, rough: 4/4, thickness: 1/4in}",
    )
    design = solve(text)
    # 14 in long to the tips; the panel's tongue is 1/8 shorter at both ends.
    area = (14 - 0.25) * 0.25 + math.pi * 0.125**2
    assert removed(design, "stile") == pytest.approx(0.5 * area, rel=2e-3)
    assert (
        sorted(box_cut(cut).size(Axis.UP).inches for cut in work(design.part("panel"), "notch"))
        == [length("1/8").inches] * 2
    )
    assert overlap(design) == pytest.approx(0, abs=1e-6)


def test_a_housing_too_short_for_round_ends() -> None:
    text = shelf(
        "dado: {in: side, for: shelf, depth: 1/4in, stopped: {front: 5in, back: 4-1/4in}, ends: round}"
    )
    wrong = faults(text)
    assert {item.kind for item in wrong} == {"stopped-away"}
    assert line_at(text, wrong[0]).startswith("ends")

"""Finger joints: the pins divide the width, alternate, and fill the corner but for the gap."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plangen.joinery.cuts import BoxCut
from plangen.joinery.space import Side
from tests.design.small import box, length, line_at, one, project, said, solve, the_fault
from tests.joinery.corners import CASE, CASE_FILLED, case
from tests.joinery.together import filled, overlap, removed


def slots(design: object, part: str) -> list[object]:
    cuts = one(design.part(part), "finger slots").cuts  # type: ignore[attr-defined]
    assert all(isinstance(cut, BoxCut) for cut in cuts)
    return [cut.box for cut in cuts]


class TestCorner:
    design = solve(case("finger: {between: [upright, lid], pin: 2in}"))

    def test_the_first_named_begins(self) -> None:
        # 6 in has three pins of 2 in: the upright keeps the first and the third.
        assert slots(self.design, "upright") == [box(0, 2, "11-1/4", "3/4", 4, 12)]
        assert slots(self.design, "lid") == [box(0, 0, 0, "3/4", 2, "3/4"), box(0, 4, 0, "3/4", 6, "3/4")]

    def test_the_slots_open_the_ends(self) -> None:
        upright, lid = (one(self.design.part(part), "finger slots") for part in ("upright", "lid"))
        assert (upright.side, lid.side) == (Side.TOP, Side.LEFT)
        assert {feature.depth for feature in (*upright.features, *lid.features)} == {length("3/4")}

    def test_both_fill_the_corner(self) -> None:
        assert removed(self.design, "upright") == pytest.approx(2 * 0.75 * 0.75)
        assert removed(self.design, "lid") == pytest.approx(4 * 0.75 * 0.75)
        assert overlap(self.design) == pytest.approx(0, abs=1e-9)
        assert filled(self.design) == pytest.approx(CASE_FILLED)

    def test_the_joint(self) -> None:
        (joint,) = self.design.joints
        assert [(c.fixed, c.moving, c.closes) for c in joint.contacts] == [("upright", "lid", Side.LEFT)]
        # Two sides of pins that touch, 3/4 by 3/4.
        assert float(joint.glue_area) == pytest.approx(2 * 0.75 * 0.75 * 25.4**2)


def test_rows_of_equal_slots_are_one_feature() -> None:
    design = solve(case("finger: {between: [upright, lid], pin: 1/2in}"))
    upright, lid = (one(design.part(part), "finger slots") for part in ("upright", "lid"))
    for operation in (upright, lid):
        (feature,) = operation.features
        (repeat,) = feature.repeat
        assert (repeat.number, repeat.pitch) == (6, length("1"))
        assert len(operation.cuts) == 6


def test_the_other_begins() -> None:
    design = solve(case("finger: {between: [upright, lid], pin: 2in, begins: lid}"))
    assert slots(design, "lid") == [box(0, 2, 0, "3/4", 4, "3/4")]


def test_a_gap_is_left_between_slot_and_pin_and_nowhere_else() -> None:
    design = solve(case("finger: {between: [upright, lid], pin: 2in, gap: 1/32in}"))
    (slot,) = slots(design, "upright")
    pin = 2 - 2 / 128  # the middle pin of the lid, between two slots that each take a quarter of the gap
    wide = float(slot.high.deep - slot.low.deep) / 25.4  # type: ignore[attr-defined]
    assert wide - pin == pytest.approx(1 / 32)
    assert overlap(design) == pytest.approx(0, abs=1e-9)
    # Two places where pins meet, half of the gap each.
    assert filled(design) == pytest.approx(CASE_FILLED - 2 * (1 / 64) * 0.75 * 0.75)


@settings(max_examples=12, deadline=None)
@given(number=st.integers(2, 24), begins=st.sampled_from(["upright", "lid"]))
def test_any_number_of_pins_fills_the_corner(number: int, begins: str) -> None:
    design = solve(case(f"finger: {{between: [upright, lid], pin: 6in / {number}, begins: {begins}}}"))
    assert overlap(design) == pytest.approx(0, abs=1e-9)
    assert filled(design) == pytest.approx(CASE_FILLED)
    kept = number - number // 2 if begins == "upright" else number // 2
    assert removed(design, "lid") == pytest.approx(kept * 6 / number * 0.75 * 0.75)


def test_four_boards_round_a_box_close_on_each_other() -> None:
    text = project(
        """
        end:
          stock: pine
          runs: deep
          thick: across
          width: 4in
          place:
            left end: {left: 0, front: 0, back: 8in, bottom: 0}
            right end: {mirror of: left end, plane: across at 6in}
        wall:
          stock: pine
          runs: across
          thick: deep
          width: 4in
          place:
            front wall: {left: 0, right: 12in, front: 0, bottom: 0}
            back wall: {mirror of: front wall, plane: deep at 4in}
        """,
        "- finger: {between: [wall, end], pin: 1/2in, contacts: 4}",
    )
    design = solve(text)
    assert [(part.key, len(part.copies)) for part in design.parts] == [("end", 2), ("wall", 2)]
    assert overlap(design) == pytest.approx(0, abs=1e-9)
    assert filled(design) == pytest.approx(4 * (12 * 8 - 10.5 * 6.5))


@pytest.mark.parametrize(
    ("joint", "kind", "at"),
    [
        ("finger: {between: [upright, lid], pin: 5/8in}", "finger-pins", "pin"),
        ("finger: {between: [upright, lid], pin: 4in}", "finger-pins", "pin"),
        ("finger: {between: [upright, lid], pin: 0in}", "finger-pins", "pin"),
        ("finger: {between: [upright, lid], pin: 2in, gap: 2in}", "bad-gap", "gap"),
        ("finger: {between: [upright, lid], pin: 2in, gap: -1in}", "bad-gap", "gap"),
        ("finger: {between: [upright, lid], pin: 2in, begins: shelf}", "finger-begins", "begins"),
    ],
)
def test_what_cannot_be_cut(joint: str, kind: str, at: str) -> None:
    text = case(joint)
    assert line_at(text, the_fault(text, kind)).startswith(at)


def test_the_two_nearest_pins_that_divide_are_named() -> None:
    # 6 over 5/8 is 9.6: nine pins or ten.
    found = the_fault(case("finger: {between: [upright, lid], pin: 5/8in}"), "finger-pins")
    assert found.remedy == "write `pin: 6in / 10` (about 19/32in) or `pin: 6in / 9` (about 43/64in)"
    exact = the_fault(case("finger: {between: [upright, lid], pin: 7/16in}"), "finger-pins")
    assert exact.remedy == "write `pin: 6in / 14` (about 27/64in) or `pin: 6in / 13` (about 15/32in)"


def test_boards_that_are_not_flush_make_no_corner() -> None:
    text = case("finger: {between: [upright, lid], pin: 2in}").replace(
        "place: {left: 0, right: 16in, front: 0", "place: {left: -1in, right: 16in, front: 0"
    )
    assert line_at(text, the_fault(text, "not-a-corner")).startswith("{between")


def test_the_sentences_say_where_the_first_slot_is_and_the_pitch() -> None:
    design = solve(case("finger: {between: [upright, lid], pin: 1/2in}"))
    assert said(one(design.part("upright"), "finger slots")) == (
        "Cut 6 slots 1/2 in wide and 3/4 in deep in the top end, the first 1/2 in from the front edge, "
        "1 in from one to the next."
    )
    assert said(one(design.part("lid"), "finger slots")) == (
        "Cut 6 slots 1/2 in wide and 3/4 in deep in the left end, the first along the front edge, "
        "1 in from one to the next."
    )


def test_pins_that_do_not_divide_are_told_in_millimetres_too() -> None:
    text = project(
        CASE.replace("6in", "150mm").replace("12in", "300mm").replace("16in", "400mm"),
        "- finger: {between: [upright, lid], pin: 20mm}",
        units="mm",
    )
    found = the_fault(text, "finger-pins")
    assert "pins of 20mm do not divide the width of 150mm" in found.message
    assert found.remedy == "write `pin: 150mm / 8` (about 19mm) or `pin: 150mm / 7` (about 21.5mm)"

"""Through dovetails: tails and pins fill their corner, and slide together one way only. Worked by hand."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plangen.joinery.cuts import PrismCut
from plangen.joinery.ranks import work_rank
from plangen.joinery.space import Axis, Side
from plangen.units import LengthStyle
from tests.design.small import length, line_at, one, project, said, solve, the_fault
from tests.joinery.corners import CASE, CASE_FILLED, case
from tests.joinery.together import filled, overlap, removed

JOINT = "through dovetails: {tails: lid, pins: upright, number: 4, slope: 1:6, pin: 3/8in}"


def widths(operation: object, level: str) -> list[tuple[float, float]]:
    """Where each socket begins and ends, in inches, at a distance from the left."""
    found = []
    for cut in operation.cuts:  # type: ignore[attr-defined]
        assert isinstance(cut, PrismCut)
        assert cut.axis is Axis.UP
        points = [cut.loops[0].start, *(segment.to for segment in cut.loops[0].segments)]
        deep = [float(y) / 25.4 for x, y in points if x == length(level)]
        found.append((min(deep), max(deep)))
    return found


def flat(pairs: list[tuple[float, float]]) -> list[float]:
    return [value for pair in pairs for value in pair]


class TestLayout:
    """Four tails over 6 in: half pins of 3/8, three pins of 3/8, so tails of (6 - 3/4 - 9/8) / 4."""

    design = solve(case(JOINT))
    tail = (6 - 0.75 - 3 * 0.375) / 4
    run = 0.75 / 6

    def test_the_pins_board_takes_the_tails_wide_outside_and_narrow_inside(self) -> None:
        pins = one(self.design.part("upright"), "dovetail pins")
        starts = [0.375 + k * (self.tail + 0.375) for k in range(4)]
        assert flat(widths(pins, "0")) == pytest.approx(flat([(s, s + self.tail) for s in starts]))
        inside = [(s + self.run, s + self.tail - self.run) for s in starts]
        assert flat(widths(pins, "3/4")) == pytest.approx(flat(inside))
        assert pins.side is Side.TOP

    def test_the_tails_board_takes_the_pins_and_two_half_pins(self) -> None:
        tails = one(self.design.part("lid"), "dovetail tails")
        outside, root = widths(tails, "0"), widths(tails, "3/4")
        assert [b - a for a, b in outside] == pytest.approx([0.375] * 5)
        assert [b - a for a, b in root] == pytest.approx(
            [0.375 + self.run, *[0.375 + 2 * self.run] * 3, 0.375 + self.run]
        )
        assert (outside[0][0], outside[-1][1]) == pytest.approx((0, 6))

    def test_each_row_of_equal_sockets_is_one_feature(self) -> None:
        (row,) = one(self.design.part("upright"), "dovetail pins").features
        assert [(r.axis, r.number) for r in row.repeat] == [(Axis.DEEP, 4)]
        tails = one(self.design.part("lid"), "dovetail tails").features
        assert [f.repeat[0].number if f.repeat else 1 for f in tails] == [1, 3, 1]
        assert row.note.text(LengthStyle("inch")) == "slope 1:6"

    def test_both_fill_the_corner(self) -> None:
        mean = self.tail - self.run
        assert removed(self.design, "upright") == pytest.approx(4 * mean * 0.75 * 0.75)
        assert removed(self.design, "lid") == pytest.approx((6 - 4 * mean) * 0.75 * 0.75)
        assert overlap(self.design) == pytest.approx(0, abs=1e-9)
        assert filled(self.design) == pytest.approx(CASE_FILLED)

    def test_the_tails_come_down_onto_the_pins(self) -> None:
        (joint,) = self.design.joints
        assert [(c.fixed, c.moving, c.closes) for c in joint.contacts] == [("upright", "lid", Side.BOTTOM)]
        assert self.design.part("lid").length == length("16")


def test_softwood_slopes_one_in_six_unless_said() -> None:
    design = solve(case("through dovetails: {tails: lid, pins: upright, number: 3}"))
    (row,) = one(design.part("upright"), "dovetail pins").features
    # Common practice, no source.
    assert row.note.text(LengthStyle("inch")) == "slope 1:6"


def test_the_half_pins_may_be_wider() -> None:
    design = solve(case(JOINT.replace("pin: 3/8in}", "pin: 1/4in, half pin: 1/2in}")))
    outside = widths(one(design.part("lid"), "dovetail tails"), "0")
    assert [b - a for a, b in outside] == pytest.approx([0.5, 0.25, 0.25, 0.25, 0.5])


@settings(max_examples=12, deadline=None)
@given(number=st.integers(1, 8), slope=st.sampled_from(["1:5", "1:8", "7deg", "14deg"]))
def test_any_number_and_slope_fills_the_corner(number: int, slope: str) -> None:
    joint = f"through dovetails: {{tails: lid, pins: upright, number: {number}, slope: {slope}, pin: 1/8in}}"
    design = solve(case(joint))
    assert overlap(design) == pytest.approx(0, abs=1e-6)
    assert filled(design) == pytest.approx(CASE_FILLED)


def test_boards_of_two_thicknesses() -> None:
    parts = CASE.replace("stock: pine\n  runs: across", "stock: thin\n  runs: across")
    text = project(
        parts,
        f"- {JOINT}",
        stock="thin: {kind: solid, species: eastern white pine, rough: 4/4, thickness: 1/2in}",
    )
    design = solve(text)
    assert overlap(design) == pytest.approx(0, abs=1e-9)
    assert filled(design) == pytest.approx(6 * (12 * 0.75 + 16 * 0.5 - 0.75 * 0.5))
    # The sockets of the pins are as deep as the tails' board is thick, and slope over the pins' thickness.
    (cut, *_) = one(design.part("upright"), "dovetail pins").cuts
    assert cut.high - cut.low == length("1/2")
    assert widths(one(design.part("upright"), "dovetail pins"), "3/4")[0][0] == pytest.approx(0.375 + 0.125)


@pytest.mark.parametrize(
    ("keys", "kind", "at"),
    [
        ("number: 0", "dovetails", "number"),
        ("number: 400", "dovetails", "number"),
        ("number: 30", "dovetails", "number"),
        ("number: 4, pin: 0in", "dovetails", "pin"),
        ("number: 4, pin: 2in", "dovetails", "pin"),
        ("number: 2, pin: 1/4in, half pin: 3in", "dovetails", "half pin"),
        ("number: 4, slope: 1:1", "bad-slope", "slope"),
        ("number: 4, slope: 60deg", "bad-slope", "slope"),
    ],
)
def test_what_cannot_be_cut(keys: str, kind: str, at: str) -> None:
    text = case(f"through dovetails: {{tails: lid, pins: upright, {keys}}}")
    assert line_at(text, the_fault(text, kind)).startswith(at)


def test_the_sentences_count_the_tails() -> None:
    design = solve(case(JOINT))
    assert said(one(design.part("lid"), "dovetail tails")) == (
        "Mark 4 tails on the left end, slope 1:6, saw beside the lines in the waste "
        "and chisel to the base line."
    )
    assert said(one(design.part("upright"), "dovetail pins")) == (
        "Scribe the 4 tails onto the top end, saw beside the lines in the waste and chisel the sockets "
        "from both faces."
    )


def test_the_tails_are_cut_before_the_pins_that_are_scribed_from_them() -> None:
    design = solve(case(JOINT))
    tails, pins = one(design.part("lid"), "dovetail tails"), one(design.part("upright"), "dovetail pins")
    assert work_rank(tails) < work_rank(pins)


def test_the_drawing_locates_widths_outside_and_the_base_line_at_the_edges() -> None:
    design = solve(case(JOINT))
    half, row, _ = one(design.part("lid"), "dovetail tails").features
    # Coordinates across and deep: the tails' board ends at 0, its base line is 3/4 in.
    zero, base = length("0"), length("3/4")
    assert {corner.at for corner in half.corners} == {(zero, zero), (zero, length("3/8")), (base, zero)}
    assert {corner.at[0] for corner in row.corners} == {zero}

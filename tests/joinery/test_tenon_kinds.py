"""Through, twin, haunched, pegged and wedged tenons, and round mortises. Volumes are worked by hand."""

from __future__ import annotations

import math

import pytest

from plangen.joinery.cuts import PrismCut
from plangen.joinery.space import Axis, Side
from plangen.units import LengthStyle
from tests.design.small import (
    box,
    box_cut,
    faults,
    length,
    line_at,
    one,
    project,
    rounds,
    solve,
    the_fault,
    work,
)
from tests.joinery.boards import LEGS_AND_RAIL
from tests.joinery.together import filled, overlap, removed, words

HARDWARE = """
peg: {kind: peg, diameter: 3/8in}
wedge: {kind: wedge, title: Wedge}
blank: {kind: peg}
"""
# Two legs 1-1/2 in square, a rail 16 in long between them.
WHOLE = 2 * 1.5 * 1.5 * 20 + 16 * 4 * 0.75


def railed(keys: str) -> str:
    return project(LEGS_AND_RAIL, f"- mortise and tenon: {{in: leg, for: rail, {keys}}}", hardware=HARDWARE)


class TestThrough:
    def test_it_is_as_long_as_the_leg_is_deep(self) -> None:
        design = solve(railed("through: yes"))
        assert design.part("rail").length == length("19")
        assert one(design.part("leg"), "mortise").features[0].depth is None
        assert overlap(design) == pytest.approx(0, abs=1e-9)
        assert filled(design) == pytest.approx(WHOLE)

    def test_it_may_stand_proud(self) -> None:
        design = solve(railed("through: yes, proud: 1/4in"))
        assert design.part("rail").length == length("19-1/2")
        assert overlap(design) == pytest.approx(0, abs=1e-9)
        # Each tongue of 1/4 by 3-1/2 stands out 1/4.
        assert filled(design) == pytest.approx(WHOLE + 2 * 0.25 * 0.25 * 3.5)


class TestRound:
    design = solve(railed("length: 1in, ends: round, gap: 1/16in"))

    def test_mortise_and_tenon_have_the_same_ends(self) -> None:
        section = 3.25 * 0.25 + math.pi * 0.125**2  # a slot of 3-1/2 by 1/4
        assert removed(self.design, "left leg") == pytest.approx(1.0625 * section, rel=4e-3)
        assert removed(self.design, "rail") == pytest.approx(2 * (0.75 * 4 - section), rel=4e-3)
        (cut,) = one(self.design.part("leg"), "mortise").cuts
        assert isinstance(cut, PrismCut)

    def test_only_the_bottom_of_each_mortise_stays_empty(self) -> None:
        assert overlap(self.design) == pytest.approx(0, abs=1e-6)
        section = removed(self.design, "left leg") / 1.0625
        assert filled(self.design) == pytest.approx(WHOLE - 2 * 0.0625 * section)


class TestTwo:
    def test_one_above_the_other_they_share_the_width(self) -> None:
        design = solve(railed("length: 1in, number: 2, gap: 0in"))
        lower, upper = (box_cut(cut) for cut in work(design.part("leg"), "mortise"))
        # 3-1/2 in three equal parts.
        assert [float(cut.low.up) / 25.4 for cut in (lower, upper)] == pytest.approx([15.25, 15.25 + 7 / 3])
        assert {float(cut.size(Axis.UP).inches) for cut in (lower, upper)} == {7 / 6}
        assert overlap(design) == pytest.approx(0, abs=1e-9)
        assert filled(design) == pytest.approx(WHOLE)
        assert removed(design, "left leg") == pytest.approx(2 * 7 / 6 * 0.25)

    def test_twins_stand_side_by_side_in_the_thickness(self) -> None:
        design = solve(railed("length: 1in, number: 2, twin: yes, thickness: 3/16in, space: 1/8in, gap: 0in"))
        front, back = (box_cut(cut) for cut in work(design.part("leg"), "mortise"))
        # 3/16 + 1/8 + 3/16 in the middle of 1-1/2.
        assert front == box("1/2", "1/2", "15-1/4", "1-1/2", "11/16", "18-3/4")
        assert back == box("1/2", "13/16", "15-1/4", "1-1/2", 1, "18-3/4")
        assert overlap(design) == pytest.approx(0, abs=1e-9)
        assert filled(design) == pytest.approx(WHOLE)

    def test_the_sentence_says_both(self) -> None:
        design = solve(railed("length: 1in, number: 2, space: 1/2in"))
        assert words(design, "mortise and tenon", "rail", "tenons") == (
            "Cut 2 tenons, each 1 in long, 1/4 in thick and 1 1/2 in wide, on the left end."
        )


class TestHaunch:
    """The rail's top is flush with the leg's, so the haunch keeps its corner from turning."""

    design = solve(
        railed("length: 1in, shoulders: {top: 1in, bottom: 1/4in}, haunch: {top: 3/8in}, gap: 0in").replace(
            "top: 19in", "top: 20in"
        )
    )

    def test_the_socket_is_open_to_the_end_of_the_leg(self) -> None:
        socket = one(self.design.part("leg"), "mortise haunch")
        assert box_cut(socket) == box("1-1/8", "5/8", 19, "1-1/2", "7/8", 20)

    def test_both_fill_the_wood(self) -> None:
        assert overlap(self.design) == pytest.approx(0, abs=1e-9)
        assert filled(self.design) == pytest.approx(WHOLE)
        # The tongue of 2-3/4 by 1 and the haunch of 1 by 3/8, both 1/4 thick.
        assert removed(self.design, "left leg") == pytest.approx(0.25 * (2.75 + 0.375))

    def test_a_third_of_the_width_is_its_shoulder_unless_said(self) -> None:
        design = solve(railed("length: 1in, haunch: {top: 3/8in}"))
        # A third of 4 in is nearest to 1-5/16.
        assert box_cut(one(design.part("leg"), "mortise haunch")).low.up == length("17-11/16")

    def test_the_sentence(self) -> None:
        assert words(self.design, "mortise and tenon", "rail", "haunched tenon") == (
            "Cut a tenon 1 in long, 1/4 in thick and 2 3/4 in wide on the left end, "
            "with a haunch 3/8 in long to the top edge."
        )


class TestPegged:
    design = solve(railed("length: 1in, gap: 0in, pegged: {with: peg, number: 2, drawbore: 1/32in}"))

    def test_the_holes_go_through_the_leg_and_stand_nearer_the_shoulder_in_the_tenon(self) -> None:
        leg = self.design.part(self.design.copies["left leg"].part)
        legs = [rounds(hole)[0] for hole in work(leg, "peg hole")]
        # Half of 1 in from the face at 1-1/2; a quarter and three quarters of 3-1/2 up from 15-1/4.
        assert [(c.mouth.across, c.mouth.up) for c in legs] == [
            (length("1"), length("16-1/8")),
            (length("1"), length("17-7/8")),
        ]
        assert {(c.side, c.depth) for c in legs} == {(Side.FRONT, length("1-1/2"))}
        rail = [rounds(hole)[0] for hole in work(self.design.part("rail"), "peg hole")]
        # From the end of the left tenon: 1 in less 1/2 in, and 1/32 nearer the shoulder.
        assert sorted({float(c.mouth.across) / 25.4 for c in rail}) == pytest.approx(
            [0.5 + 1 / 32, 18 - 0.5 - 1 / 32]
        )

    def test_what_the_pegs_fill(self) -> None:
        hole = math.pi * (3 / 16) ** 2  # solids have chords for arcs
        bare = solve(railed("length: 1in, gap: 0in"))
        assert removed(self.design, "left leg") - removed(bare, "left leg") == pytest.approx(
            2 * hole * (1.5 - 0.25), rel=3e-2
        )
        assert removed(self.design, "rail") - removed(bare, "rail") == pytest.approx(
            4 * hole * 0.25, rel=3e-2
        )
        assert overlap(self.design) == pytest.approx(0, abs=1e-9)

    def test_pegs_are_counted(self) -> None:
        (joint,) = self.design.joints
        assert [(use.item, use.number) for use in joint.hardware] == [("peg", 4)]


class TestWedged:
    design = solve(railed("through: yes, wedged: {with: wedge, number: 2}"))

    def test_kerfs_go_two_thirds_down_each_tenon(self) -> None:
        left, right = work(self.design.part("rail"), "wedge kerf")
        assert {left.side, right.side} == {Side.LEFT, Side.RIGHT}
        assert [cut.box for cut in left.cuts] == [
            box(0, "1/4", "1-3/32", 1, "1/2", "1-5/32"),
            box(0, "1/4", "2-27/32", 1, "1/2", "2-29/32"),
        ]
        assert filled(self.design) == pytest.approx(WHOLE - 4 * 0.0625 * 0.25)

    def test_wedges_are_counted(self) -> None:
        assert [(use.item, use.number) for use in self.design.joints[0].hardware] == [("wedge", 4)]
        assert words(self.design, "mortise and tenon", "rail", "wedge kerf") == (
            "Saw 2 kerfs 1 in deep into the tenon on the left end for the wedges."
        )
        # As wide as the tenon is thick, as long as the kerf is deep, twice the kerf at the butt.
        assert (
            "For each kerf 1 in deep make a wedge as wide as the tenon is thick, 1/4 in, and as long as the "
            "kerf is deep, tapering along the grain from 1/8 in thick to an edge. Brush glue"
        ) in self.design.joints[0].say.text(LengthStyle()).replace("\u00a0", " ")


@pytest.mark.parametrize(
    ("keys", "kind", "at"),
    [
        ("thickness: 1/4in", "missing-key", "{in"),
        ("through: yes, length: 1in", "idle-key", "length"),
        ("length: 1in, proud: 1/4in", "idle-key", "proud"),
        ("through: yes, proud: -1in", "bad-value", "proud"),
        ("length: 1in, number: 0", "bad-value", "number"),
        ("length: 1in, twin: yes", "idle-key", "twin"),
        ("length: 1in, space: 1in", "idle-key", "space"),
        ("length: 1in, number: 2, space: 4in", "tenon-too-wide", "space"),
        ("length: 1in, number: 3, twin: yes, thickness: 1/4in", "tenon-too-wide", "thickness"),
        ("length: 1in, ends: round, width: 1/8in", "tenon-too-wide", "ends"),
        ("length: 1in, haunch: {top: 1in}", "haunch", "haunch"),
        ("length: 1in, haunch: {top: 0in}", "haunch", "haunch"),
        ("length: 1in, haunch: {front: 1/2in}", "wrong-side", "front"),
        ("length: 1in, haunch: {top: 1/2in}, shoulders: {top: 0in}", "haunch", "haunch"),
        ("length: 1in, haunch: {top: 1/2in}, ends: round", "haunch", "ends"),
        ("length: 1in, wedged: {with: wedge}", "idle-key", "wedged"),
        ("through: yes, wedged: {with: nothing}", "undefined-name", "nothing"),
        ("through: yes, wedged: {with: wedge, kerf: 1in}", "kerf-too-wide", "kerf"),
        ("through: yes, wedged: {with: wedge, number: 9}", "bad-value", "number"),
        ("length: 1in, pegged: {with: nothing}", "undefined-name", "nothing"),
        ("length: 1in, pegged: {with: blank}", "peg-size", "with"),
        ("length: 1in, pegged: {with: peg, number: 0}", "bad-value", "number"),
        ("length: 1in, pegged: {with: peg, from shoulder: 1/8in}", "peg-breaks-out", "from shoulder"),
        ("length: 1in, pegged: {with: peg, from shoulder: 7/8in}", "peg-breaks-out", "from shoulder"),
        ("length: 1in, width: 3/8in, pegged: {with: peg}", "peg-breaks-out", "with"),
        ("length: 1in, pegged: {with: peg, drawbore: 1/4in}", "drawbore", "drawbore"),
    ],
)
def test_what_cannot_be_cut(keys: str, kind: str, at: str) -> None:
    text = railed(keys)
    wrong = faults(text)
    assert {item.kind for item in wrong} == {kind}, wrong
    assert line_at(text, wrong[0]).startswith(at)


def test_a_word_that_is_no_shape_of_end() -> None:
    text = railed("length: 1in, ends: oval")
    assert line_at(text, the_fault(text, faults(text)[0].kind)).startswith("oval")

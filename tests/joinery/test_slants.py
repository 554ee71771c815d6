"""Bevels, compound mitres, tilted holes and rounds: shapes and volumes worked by hand."""

from __future__ import annotations

import math

import pytest

from plangen.design.model import Part
from plangen.joinery.angles import settings_of
from plangen.joinery.cuts import BoreCut, PlaneCut
from plangen.joinery.operation import Form, Operation
from plangen.joinery.piece import Piece
from plangen.joinery.saying import say
from plangen.joinery.space import Axis, Side
from plangen.units import LengthStyle
from tests.design.small import length, line_at, prism, said, taken, the_fault
from tests.joinery.boards import leg, leg_text, only, top, top_text
from tests.part_sheets.worked import bored_seat, splayed_leg, tenoned_leg
from tests.sample_design import PLACE


class TestBevel:
    def test_along_an_edge(self) -> None:
        part = top("bevel: {at: front, angle: 45deg, long: top}")
        assert prism(only(part)).axis is Axis.ACROSS
        assert taken(part) == pytest.approx(20 * 0.75 * 0.75 / 2)
        (feature,) = only(part).features
        assert (feature.form, feature.angle_degrees) == (Form.OUTLINE, 45.0)
        assert said(only(part)) == (
            "Saw the front edge to a bevel, the blade tilted 45° from square; the top face stays long."
        )

    def test_across_an_end(self) -> None:
        part = top("bevel: {at: right, angle: 10deg, long: bottom}")
        assert taken(part) == pytest.approx(10 * 0.75 * 0.75 * math.tan(math.radians(10)) / 2, rel=1e-5)
        heel, tip = sorted(corner.at[0] for corner in only(part).features[0].corners)
        assert tip == length("20")
        assert float(tip - heel) / 25.4 == pytest.approx(0.75 * math.tan(math.radians(10)))

    @pytest.mark.parametrize(
        ("bevel", "at"),
        [
            ("at: top, angle: 45deg, long: top", "at"),
            ("at: front, angle: 45deg, long: back", "long"),
            ("at: front, angle: 0deg, long: top", "angle"),
            ("at: front, angle: 85deg, long: top", "angle"),
        ],
    )
    def test_what_cannot_be_sawn(self, bevel: str, at: str) -> None:
        text = top_text(f"bevel: {{{bevel}}}")
        assert line_at(text, the_fault(text, "bevel")).startswith(at)

    def test_an_edge_across_the_face_wants_a_mitre(self) -> None:
        text = top_text("bevel: {at: left, angle: 30deg, long: back}")
        finding = the_fault(text, "bevel")
        assert "`mitre: {end: left, angle: …, long: back}`" in finding.remedy
        assert line_at(text, finding).startswith("long")

    def test_one_that_takes_everything(self) -> None:
        text = leg_text("bevel: {at: front, angle: 45deg, long: left}")
        assert line_at(text, the_fault(text, "bevel")).startswith("angle")


class TestCompoundMitre:
    def test_the_volume_is_that_of_the_slanted_end(self) -> None:
        part = top("compound mitre: {end: right, long: back, face: top, mitre: 30deg, bevel: 20deg}")
        (cut,) = only(part).cuts
        assert isinstance(cut, PlaneCut)
        assert tuple(round(value / 25.4, 6) for value in cut.through.floats()) == (20, 10, 0.75)
        # On average over the section the end is shorter by half the fall to the front and to the bottom.
        fall = [abs(cut.normal[axis] / cut.normal[0]) for axis in (1, 2)]
        assert taken(part) == pytest.approx(10 * 0.75 * (10 * fall[0] + 0.75 * fall[1]) / 2, rel=1e-4)
        saw = settings_of(cut.normal, Side.RIGHT, Axis.UP)
        assert (saw.mitre, saw.tilt) == (pytest.approx(30), pytest.approx(20))
        assert said(only(part)) == (
            "Saw the right end with the saw set to a mitre of 30° and the blade tilted 20°; "
            "the back edge and the top face stay long."
        )

    def test_the_slope_and_the_number_of_sides_give_the_settings(self) -> None:
        part = top("compound mitre: {end: left, long: front, face: top, slope: 30deg, sides: 4}")
        # Operator's manual of a 10 in compound mitre saw, model 315.21212, page 24: 40.89° and 20.70°.
        assert "the saw set to a mitre of 40.9° and the blade tilted 20.7°" in said(only(part))

    @pytest.mark.parametrize(
        ("cut", "at"),
        [
            ("end: front, long: back, face: top, mitre: 30deg, bevel: 20deg", "end"),
            ("end: left, long: right, face: top, mitre: 30deg, bevel: 20deg", "long"),
            ("end: left, long: back, face: front, mitre: 30deg, bevel: 20deg", "face"),
            ("end: left, long: back, face: top, mitre: 30deg", "{"),
            ("end: left, long: back, face: top, mitre: 30deg, bevel: 20deg, sides: 4", "{"),
            ("end: left, long: back, face: top, mitre: 0deg, bevel: 20deg", "mitre"),
            ("end: left, long: back, face: top, mitre: 30deg, bevel: 85deg", "bevel"),
            ("end: left, long: back, face: top, slope: 30deg, sides: 2", "sides"),
            ("end: left, long: back, face: top, slope: 90deg, sides: 4", "slope"),
            ("end: left, long: back, face: top, mitre: 70deg, bevel: 20deg", "{"),
        ],
    )
    def test_what_cannot_be_sawn(self, cut: str, at: str) -> None:
        text = top_text(f"compound mitre: {{{cut}}}")
        assert line_at(text, the_fault(text, "compound-mitre")).startswith(at)


class TestTiltedHole:
    def test_through_is_longer_than_the_top_is_thick(self) -> None:
        part = top(
            "hole: {face: bottom, from left: 3in, from front: 3in, diameter: 1in, tilt: {left: 20deg}}"
        )
        (cut,) = only(part).cuts
        assert isinstance(cut, BoreCut)
        assert cut.way == (
            pytest.approx(-math.sin(math.radians(20))),
            0.0,
            pytest.approx(math.cos(math.radians(20))),
        )
        # Level slices of a slanted cylinder are ellipses: the circle's area over the cosine.
        area = math.pi / 4 / math.cos(math.radians(20))
        assert taken(part) == pytest.approx(area * 0.75, rel=0.02)
        (feature,) = only(part).features
        assert (feature.depth, feature.angle_degrees) == (None, pytest.approx(20))
        assert said(only(part)) == (
            "Drill a hole 1 in across, through in the bottom face, 3 in from the left end and 3 in from the "
            "front edge. Lean the bit 20° from square, its point to the left."
        )

    def test_blind_leaning_two_ways_with_its_sight_line(self) -> None:
        part = top(
            "hole: {face: top, from left: 3in, from front: 3in, diameter: 1/2in, depth: 1/2in, "
            "tilt: {right: 10deg, back: 10deg}}"
        )
        assert "Lean the bit 14° from square, along a sight line 45° from right towards back" in said(
            only(part)
        )
        assert only(part).features[0].depth == length("1/2")

    def test_mirrored_ones_lean_apart(self) -> None:
        part = top(
            "holes: {face: bottom, from left: 3in, from front: 2in, diameter: 3/4in, "
            "tilt: {right: 12deg, back: 8deg}, mirrored: [across, deep]}"
        )
        ways = {tuple(math.copysign(1, value) for value in cut.way[:2]) for cut in only(part).cuts}  # type: ignore[union-attr]
        assert ways == {(1, 1), (-1, 1), (1, -1), (-1, -1)}
        assert said(only(part)) == (
            "Drill 4 holes 3/4 in across, through in the bottom face, the first 3 in from the left end and "
            "2 in from the front edge, and at the mirror places. Lean the bit 14.3° from square, along "
            "a sight line 33.5° from right towards back, its point to the right and back; at the mirror "
            "places to the other side, as the arrows of the part sheet show."
        )

    @pytest.mark.parametrize(
        ("hole", "kind", "at"),
        [
            ("tilt: {top: 8deg}", "wrong-side", "top"),
            ("tilt: {left: 8deg, right: 8deg}", "wrong-side", "right"),
            ("tilt: {lft: 8deg}", "wrong-side", "lft"),
            ("tilt: {left: 0deg}", "tilt", "0deg"),
            ("tilt: {left: 61deg}", "tilt", "61deg"),
            ("tilt: {}", "missing-key", "tilt"),
            ("tilt: {left: 20deg}, depth: 1in", "hole-too-deep", "depth"),
            ("tilt: {left: 60deg}", "hole-off-part", "{"),
        ],
    )
    def test_what_cannot_be_drilled(self, hole: str, kind: str, at: str) -> None:
        text = top_text(f"hole: {{face: bottom, from left: 1in, from front: 3in, diameter: 1/2in, {hole}}}")
        assert line_at(text, the_fault(text, kind)).startswith(at)


class TestRound:
    def test_over_all(self) -> None:
        part = leg("round: {diameter: 1-1/4in}")
        assert taken(part) == pytest.approx(20 * (1.5**2 - math.pi * 0.625**2), rel=0.015)
        (feature,) = only(part).features
        assert (feature.form, feature.diameter) == (Form.ROUND, length("1-1/4"))
        assert said(only(part)) == "Turn or plane it round, 1 1/4 in across, over its whole length."

    def test_a_stretch(self) -> None:
        part = leg("round: {diameter: 1in, from top: 17in}")
        assert taken(part) == pytest.approx(3 * (1.5**2 - math.pi * 0.25), rel=0.01)
        assert said(only(part)) == "Turn or plane it round, 1 in across, 3 in long at the bottom end."
        part = leg("round: {diameter: 1in, from bottom: 5in, from top: 6in}")
        assert said(only(part)).endswith("9 in long, from 5 in from the bottom end.")

    @pytest.mark.parametrize(
        ("cut", "kind", "at"),
        [
            ("{diameter: 1-5/8in}", "round", "diameter"),
            ("{diameter: 0}", "round", "diameter"),
            ("{diameter: 1in, from top: 20in}", "round", "{"),
            ("{diameter: 1in, from bottom: -1in}", "round", "{"),
            ("{diameter: 1in, from left: 1in}", "idle-key", "from left"),
        ],
    )
    def test_what_cannot_be_turned(self, cut: str, kind: str, at: str) -> None:
        text = leg_text(f"round: {cut}")
        assert line_at(text, the_fault(text, kind)).startswith(at)


class TestWhatJointsMake:
    """Leaning legs bring slanted ends, leaning mortises and round tenons of their own kinds."""

    def test_they_are_said_by_their_form(self) -> None:
        made = {part.key: part for part in (splayed_leg(), tenoned_leg(), bored_seat())}
        words = {key: [said_of(part, one) for one in part.operations] for key, part in made.items()}
        assert words["splayed leg"][0] == (
            "Saw the top end with the saw set to a mitre of 12° and the blade tilted 8°; "
            "the left edge and the front face stay long."
        )
        assert words["leg with a round tenon"] == [
            "Turn or shave the round tenon at the top end to 1 in across, 1 1/4 in long.",
            "Saw the bottom end with the saw set to a mitre of 15° and the blade upright; "
            "the right edge stays long.",
        ]
        assert words["seat"][0] == (
            "Drill a hole 1 in across, through in the bottom face, 3 in from the left end and 2 in from the "
            "front edge. Lean the bit 14.3° from square, along a "
            "sight line 33.5° from right towards back, its point to the right and back."
        )


def said_of(part: Part, operation: Operation) -> str:
    """The sentence of an operation of a part made by hand, lengths printed in inches."""
    piece = Piece(
        part.key, part.name, part.blank, part.blank, part.runs, part.wide, part.thick, True, True, None, PLACE
    )
    return say(operation, piece).text(LengthStyle("inch")).replace("\u00a0", " ")

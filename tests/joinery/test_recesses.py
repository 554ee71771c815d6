"""Slots, pockets, leaf recesses and rounded notches: shapes and volumes worked by hand."""

from __future__ import annotations

import math

import pytest

from plangen.joinery.cuts import Arc, BoxCut, PrismCut, RoundCut
from plangen.joinery.operation import Form, Repeat
from plangen.joinery.shapes import channel, points_of
from plangen.joinery.space import Axis, Side
from tests.design.small import box, length, line_at, prism, said, taken, the_fault
from tests.joinery.boards import only, top, top_text

IN = 25.4


class TestChannel:
    @pytest.mark.parametrize("along", [Axis.ACROSS, Axis.DEEP])
    def test_round_ends_are_half_circles_within_the_box(self, along: Axis) -> None:
        low, high = ((0, 0), (4, 1)) if along is Axis.ACROSS else ((0, 0), (1, 4))
        room = box(low[0], low[1], 0, high[0], high[1], 1)
        cut = channel(room, along, "round", Side.TOP)
        assert isinstance(cut, PrismCut)
        (loop,) = cut.loops
        arcs = [segment for segment in loop.segments if isinstance(segment, Arc)]
        assert [arc.radius for arc in arcs] == [length("1/2")] * 2
        xs, ys = zip(*points_of(loop), strict=True)
        assert (min(xs), max(xs)) == (pytest.approx(0), pytest.approx(high[0] * IN))
        assert (min(ys), max(ys)) == (pytest.approx(0), pytest.approx(high[1] * IN))
        assert loop.segments[-1].to == loop.start  # type: ignore[union-attr]

    def test_an_end_that_runs_out_stays_square(self) -> None:
        cut = channel(box(0, 0, 0, 4, 1, 1), Axis.ACROSS, "round", Side.TOP, (False, True))
        assert isinstance(cut, PrismCut)
        points = {(round(x / IN, 6), round(y / IN, 6)) for x, y in points_of(cut.loops[0])}
        assert {(0, 0), (0, 1)} <= points
        assert not {(4, 0), (4, 1)} & points

    def test_a_square_one_is_a_box(self) -> None:
        room = box(0, 0, 0, 4, 1, 1)
        assert channel(room, Axis.ACROSS, "square", Side.TOP) == BoxCut(room)
        assert channel(room, Axis.ACROSS, "round", Side.TOP, (False, False)) == BoxCut(room)

    def test_one_that_is_shorter_than_its_ends_is_refused(self) -> None:
        with pytest.raises(ValueError, match="longer than"):
            channel(box(0, 0, 0, 1, 2, 1), Axis.ACROSS, "round", Side.TOP)


class TestSlot:
    def test_through_with_round_ends(self) -> None:
        part = top("slot: {face: top, from left: 3in, from front: 1in, length: 4in, width: 1/2in}")
        slot = only(part)
        (feature,) = slot.features
        assert (feature.form, feature.depth, feature.radii) == (Form.SLOT, None, (length("1/4"),))
        assert feature.span(Axis.ACROSS).low == length("3")
        assert feature.span(Axis.DEEP).high == length("1-1/2")
        area = 3.5 * 0.5 + math.pi * 0.25**2
        assert taken(part) == pytest.approx(area * 0.75, rel=0.01)
        assert said(slot) == (
            "Rout a slot 1/2 in wide, 4 in long, right through in the top face, 1 in from the front edge "
            "and 3 in from the left end. Leave the ends round."
        )

    def test_over_the_grain_blind_and_square(self) -> None:
        part = top(
            "slot: {face: bottom, from right: 3in, from back: 1in, length: 4in, width: 1/2in, "
            "depth: 1/4in, going: over, ends: square}"
        )
        (cut,) = only(part).cuts
        assert cut == BoxCut(box("16-1/2", 5, 0, 17, 9, "1/4"))
        assert "Square the ends with a chisel." in said(only(part))
        assert "chisel" in only(part).cautions

    def test_in_an_edge(self) -> None:
        part = top(
            "slot: {face: front, from left: 2in, from top: 1/4in, length: 3in, width: 1/4in, depth: 1in}"
        )
        assert prism(only(part)).axis is Axis.DEEP
        assert taken(part) == pytest.approx(2.75 * 0.25 + math.pi * 0.125**2, rel=0.01)

    def test_a_grid_of_mirrored_slots(self) -> None:
        part = top(
            "slot: {face: top, from left: 2in, from front: 1in, length: 2in, width: 1/2in, "
            "along: {number: 2, pitch: 3in}, over: {number: 2, pitch: 1in}, mirrored: across}"
        )
        slots = only(part)
        assert (slots.title, len(slots.cuts)) == ("Slots", 8)
        first, second = slots.features
        assert first.repeat == (Repeat(Axis.ACROSS, 2, length("3")), Repeat(Axis.DEEP, 2, length("1")))
        assert second.repeat == first.repeat
        assert (first.datum, second.datum) == ((Side.LEFT, Side.FRONT), (Side.RIGHT, Side.FRONT))
        assert [f.span(Axis.ACROSS).low for f in slots.features] == [length("2"), length("13")]
        assert said(slots).startswith("Rout 8 slots 1/2 in wide")

    @pytest.mark.parametrize(
        ("slot", "kind", "at"),
        [
            ("from left: 3in, from front: 1in, length: 1/4in, width: 1/2in", "slot-size", "length"),
            ("from left: 3in, from front: 1in, length: 1in, width: 0", "slot-size", "width"),
            ("from left: 18in, from front: 1in, length: 4in, width: 1/2in", "slot-off-part", "from left"),
            ("from left: 1in, from back: 9-3/4in, length: 4in, width: 1/2in", "slot-off-part", "from back"),
            ("from left: 1in, length: 4in, width: 1/2in", "missing-key", "{"),
            (
                "from left: 1in, from front: 1in, length: 4in, width: 1/2in, from top: 0",
                "idle-key",
                "from top",
            ),
            (
                "from left: 1in, from front: 1in, length: 4in, width: 1/2in, depth: 1in",
                "recess-too-deep",
                "depth",
            ),
            (
                "from left: 1in, from front: 1in, length: 4in, width: 1/2in, along: {number: 3, pitch: 4in}",
                "row",
                "{",
            ),
            (
                "from left: 1in, from front: 1in, length: 4in, width: 1/2in, along: {number: 5, pitch: 5in}",
                "slot-off-part",
                "{",
            ),
            (
                "from left: 8in, from front: 1in, length: 4in, width: 1/2in, mirrored: across",
                "row",
                "across",
            ),
            (
                "from left: 1in, from front: 1in, length: 4in, width: 1/2in, mirrored: up",
                "unknown-word",
                "up",
            ),
        ],
    )
    def test_what_cannot_be_routed(self, slot: str, kind: str, at: str) -> None:
        text = top_text(f"slot: {{face: top, {slot}}}")
        assert line_at(text, the_fault(text, kind)).startswith(at)


class TestPocket:
    def test_a_flange_recess_with_its_opening(self) -> None:
        part = top(
            "pocket: {face: top, from left: 3in, from front: 2in, length: 4in, width: 2in, radius: 1/4in, "
            "depth: 1/8in, opening: {length: 3in, width: 1in}}"
        )
        pocket = only(part)
        recess, opening = pocket.features
        assert (recess.depth, recess.radii, recess.datum) == (
            length("1/8"),
            (length("1/4"),),
            (Side.LEFT, Side.FRONT),
        )
        assert (opening.depth, opening.radii) == (None, ())
        assert (opening.span(Axis.ACROSS).low, opening.span(Axis.DEEP).high) == (
            length("3-1/2"),
            length("3-1/2"),
        )
        corners = (4 - math.pi) * 0.25**2
        assert taken(part) == pytest.approx((8 - corners) * 0.125 + 3 * (0.75 - 0.125), rel=0.005)
        assert said(pocket) == (
            "Rout a pocket 4 in by 2 in and 1/8 in deep in the top face, 3 in from the left end, "
            "2 in from the front edge; saw an opening 3 in by 1 in through its middle."
        )
        assert pocket.cautions == ("router", "jigsaw")

    def test_a_round_one_is_drawn_as_a_hole_with_its_counterbore(self) -> None:
        part = top(
            "pocket: {face: bottom, from left: 5in, from front: 5in, diameter: 3in, depth: 1/8in, "
            "opening: {diameter: 2in}}"
        )
        pocket = only(part)
        assert all(isinstance(cut, RoundCut) for cut in pocket.cuts)
        (feature,) = pocket.features
        assert (feature.form, feature.diameter, feature.depth) == (Form.HOLE, length("2"), None)
        assert feature.counterbore == (length("3"), length("1/8"))
        assert feature.span(Axis.ACROSS).low == feature.span(Axis.ACROSS).high == length("5")
        assert taken(part) == pytest.approx(math.pi * (1.5**2 * 0.125 + 0.625), rel=0.01)
        assert said(pocket) == (
            "Rout a pocket 3 in across and 1/8 in deep in the bottom face, "
            "and cut an opening 2 in across through its middle."
        )

    def test_two_mirrored_are_two(self) -> None:
        pocket = only(
            top(
                "pocket: {face: top, from left: 2in, from front: 2in, length: 3in, width: 2in, depth: 1/8in, "
                "opening: {diameter: 1in}, mirrored: [across, deep]}"
            )
        )
        assert (pocket.title, len(pocket.cuts), len(pocket.features)) == ("Pockets", 8, 8)
        assert said(pocket).startswith("Rout 4 pockets 3 in by 2 in and 1/8 in deep")
        assert said(pocket).endswith("cut an opening 1 in across through its middle.")

    @pytest.mark.parametrize(
        ("pocket", "kind", "at"),
        [
            ("length: 4in, width: 2in, depth: 3/4in", "recess-too-deep", "depth"),
            ("length: 4in, width: 2in, depth: 1in", "recess-too-deep", "depth"),
            ("length: 4in, width: 2in, depth: 0", "recess-too-deep", "depth"),
            ("length: 4in, width: 2in, depth: 1/8in, radius: 1-1/8in", "radius-too-large", "radius"),
            ("length: 4in, depth: 1/8in", "pocket-size", "{"),
            ("length: 4in, width: 2in, diameter: 1in, depth: 1/8in", "pocket-size", "{"),
            ("diameter: 4in, radius: 1in, depth: 1/8in", "pocket-size", "{"),
            ("length: 0, width: 2in, depth: 1/8in", "zero-size", "length"),
            ("length: 19in, width: 2in, depth: 1/8in", "pocket-off-part", "from left"),
            ("diameter: 5in, depth: 1/8in", "pocket-off-part", "from left"),
            (
                "length: 4in, width: 2in, depth: 1/8in, opening: {length: 4in, width: 1in}",
                "opening-too-large",
                "{length: 4in, width: 1in}",
            ),
            (
                "diameter: 3in, depth: 1/8in, opening: {length: 2-1/2in, width: 2in}",
                "opening-too-large",
                "{length: 2-1/2in",
            ),
        ],
    )
    def test_what_cannot_be_routed(self, pocket: str, kind: str, at: str) -> None:
        text = top_text(f"pocket: {{face: top, from left: 2in, from front: 3in, {pocket}}}")
        assert line_at(text, the_fault(text, kind)).startswith(at)


class TestLeafRecess:
    def test_open_to_the_knuckle_with_two_round_corners(self) -> None:
        part = top(
            "leaf recess: {face: front, open: top, from left: 3in, length: 2in, width: 1/2in, depth: 1/16in, "
            "radius: 1/4in}"
        )
        recess = only(part)
        cut = prism(recess)
        assert cut.axis is Axis.DEEP
        assert sum(isinstance(segment, Arc) for segment in cut.loops[0].segments) == 2
        (feature,) = recess.features
        assert (feature.span(Axis.UP).low, feature.span(Axis.UP).high) == (length("1/4"), length("3/4"))
        corners = (2 - math.pi / 2) * 0.25**2
        assert taken(part) == pytest.approx((1 - corners) / 16, rel=0.01)
        assert said(recess) == (
            "Let in a hinge leaf 2 in long, 1/2 in wide and 1/16 in deep in the front edge, open to the top "
            "face, 3 in from the left end."
        )

    def test_square_corners_want_a_chisel(self) -> None:
        recess = only(
            top(
                "leaf recess: {face: front, open: top, from right: 3in, length: 1in, "
                "width: 1/2in, depth: 2mm}"
            )
        )
        assert recess.cautions == ("chisel", "router")
        assert recess.features[0].span(Axis.ACROSS).high == length("17")

    @pytest.mark.parametrize(
        ("recess", "kind", "at"),
        [
            ("open: back, length: 2in, width: 1/2in, depth: 2mm, from left: 3in", "leaf-recess", "open"),
            (
                "open: top, length: 2in, width: 1in, depth: 2mm, from left: 3in",
                "leaf-recess-off-part",
                "width",
            ),
            ("open: top, length: 2in, width: 0, depth: 2mm, from left: 3in", "zero-size", "width"),
            ("open: top, length: 2in, width: 1/2in, depth: 12in, from left: 3in", "recess-too-deep", "depth"),
            ("open: top, length: 2in, width: 1/2in, depth: 2mm", "missing-key", "{"),
            (
                "open: top, length: 2in, width: 1/2in, depth: 2mm, from left: 3in, radius: 5/8in",
                "radius-too-large",
                "radius",
            ),
        ],
    )
    def test_what_cannot_be_let_in(self, recess: str, kind: str, at: str) -> None:
        text = top_text(f"leaf recess: {{face: front, {recess}}}")
        assert line_at(text, the_fault(text, kind)).startswith(at)


class TestRoundedNotch:
    def test_one_corner_and_two(self) -> None:
        part = top("notch: {at: [left, front], across: 3in, deep: 2in, radius: 1in}")
        assert only(part).features[0].radii == (length("1"),)
        assert taken(part) == pytest.approx((6 - (1 - math.pi / 4)) * 0.75, rel=0.005)
        assert said(only(part)).endswith("its inner corner rounded to 1 in.")
        part = top("notch: {at: [front], across: 3in, deep: 2in, from left: 4in, radius: 1/2in}")
        assert taken(part) == pytest.approx((6 - 2 * (1 - math.pi / 4) * 0.25) * 0.75, rel=0.005)
        assert said(only(part)).endswith("its inner corners rounded to 1/2 in.")

    def test_a_radius_that_has_no_room(self) -> None:
        for cut in ("at: [left, front], radius: 2-1/8in", "at: [front], from left: 4in, radius: 1-5/8in"):
            text = top_text(f"notch: {{across: 3in, deep: 2in, {cut}}}")
            assert line_at(text, the_fault(text, "radius-too-large")).startswith("radius")

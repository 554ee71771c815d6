"""Tops that can move: slotted holes, buttons in a groove, figure-eights; and nails."""

from __future__ import annotations

import math
from dataclasses import replace
from fractions import Fraction

import pytest

from plangen.joinery.slotted import moves_by, slot_length
from plangen.joinery.space import Axis, Side
from plangen.units import Length, LengthStyle, inches
from tests.design.small import (
    box_cut,
    faults,
    kinds,
    length,
    line_at,
    one,
    project,
    rounds,
    said,
    solve,
    taken,
    work,
)
from tests.joinery.test_frame_and_panel import TestMovement

HARDWARE = """
screw: {kind: wood screw, gauge: 8, length: 1-1/4in, head: pan}
flat: {kind: wood screw, gauge: 8, length: 1-1/4in, head: flat}
button: {kind: table button, length: 1-1/2in, width: 1in, thickness: 3/4in, tongue: 3/8in}
short button: {kind: table button, length: 1-1/2in, width: 1in, thickness: 3/4in, tongue: 1/16in}
eight: {kind: figure-eight fastener, diameter: 3/4in, thickness: 3/32in, screws: 2}
wide eight: {kind: figure-eight fastener, diameter: 1-1/4in, thickness: 3/32in, screws: 2}
nail: {kind: nail, diameter: 0.113in, length: 2in}
brad: {kind: brad, diameter: 0.048in, length: 1-1/4in}
plug: {kind: plug, diameter: 3/8in}
bolt: {kind: bolt, diameter: 1/4in, length: 1-1/4in}
insert: {kind: threaded insert, thread: 1/4-20, bore: 3/8in, depth: 1/2in}
washer: {kind: washer, bore: 17/64in, diameter: 5/8in, thickness: 1/16in}
dowel: {kind: dowel, diameter: 1/4in, length: 1in}
"""
# A top 24 in deep, its grain across, on two aprons 3 in wide and on a cleat between them.
PARTS = """
apron:
  stock: pine
  runs: across
  thick: deep
  place:
    front apron: {left: 2in, right: 30in, front: 2in, bottom: 26in, top: 29in}
    back apron: {mirror of: front apron, plane: deep at 12in}
cleat:
  stock: pine
  runs: deep
  thick: up
  place: {left: 15in, right: 17in, front: front apron.back, back: back apron.front, top: 29in}
top:
  stock: TOP
  runs: across
  thick: up
  place: {left: 0, right: 32in, front: 0, back: 24in, bottom: 29in}
"""
SHEET = "sheet: {kind: plywood, label: 3/4in, thickness: 3/4in, sheet: 48in x 96in}"


def topped(joint: str, top: str = "pine") -> str:
    return project(PARTS.replace("TOP", top), f"- {joint}", hardware=HARDWARE, stock=SHEET)


def bench(change: int = 4) -> object:
    """A bench of a shop with that change of moisture."""
    from plangen.joinery.piece import Bench

    return Bench(None, None, None, "inch", (), Fraction(change))  # type: ignore[arg-type]


class TestSlots:
    JOINT = "screwed: {through: cleat, into: top, with: screw, per joint: 3, slotted: yes}"

    def test_the_slot_is_as_long_as_the_wood_moves(self) -> None:
        # Wood Handbook, FPL-GTR-190 (2010), Eq. 13-2, Table 13-5, "Red oak, commercial", 0.00369:
        # 7-1/4 in from the middle it moves 0.107 in each way at 4 %: 11/64 + 0.214 is 0.386 in.
        oak = TestMovement.panel("Oak, northern red")
        moves = moves_by(oak, inches("29/4"), bench())  # type: ignore[arg-type]
        assert float(moves.inches) == pytest.approx(0.10701)
        assert slot_length(inches("11/64"), moves, bench()) == inches("7/16")  # type: ignore[arg-type]
        assert moves_by(replace(oak, solid=False), inches(10), bench()) == Length(Fraction(0))  # type: ignore[arg-type]

    def test_the_middle_screw_holds_and_the_others_travel(self) -> None:
        cleat = solve(topped(self.JOINT)).part("cleat")
        (held,) = work(cleat, "screw hole")
        # The cleat is 18-1/2 in long and its screws 2 in from its ends.
        assert rounds(held)[0].mouth.deep == length("9-1/4")
        slots = work(cleat, "slotted hole")
        middles = []
        for operation in slots:
            deep = operation.features[0].span(Axis.DEEP)
            across = operation.features[0].span(Axis.ACROSS)
            middles.append((deep.high + deep.low) / 2)
            assert across.high - across.low == length("11/64")
            # 7-1/4 in from the middle, eastern white pine (0.00212) moves 0.061 in each way at 4 %, the
            # liveliest wood of the table 0.125 in: with the hole of 11/64 in, 0.295 to 0.422 in.
            assert length("5/16") <= deep.high - deep.low <= length("7/16")
        assert middles == [length("2"), length("16-1/2")]
        assert "right through in the bottom face" in said(slots[0])

    def test_lead_holes_stay_round(self) -> None:
        assert len(work(solve(topped(self.JOINT)).part("top"), "lead hole")) == 3

    @pytest.mark.parametrize(
        ("joint", "top", "kind", "at"),
        [
            (JOINT, "sheet", "idle-key", "slotted: yes"),
            (JOINT.replace("slotted", "plug: plug, slotted"), "pine", "slotted-plug", "plug: plug"),
        ],
    )
    def test_where_slots_make_no_sense(self, joint: str, top: str, kind: str, at: str) -> None:
        text = topped(joint, top)
        (finding,) = faults(text)
        assert finding.kind == kind
        assert line_at(text, finding).startswith(at)

    def test_a_flat_head_wedges(self) -> None:
        text = topped(self.JOINT.replace("with: screw", "with: flat"))
        assert "slotted-head" in [item.kind for item in faults(text, only_errors=False)]
        assert "slotted-head" not in [item.kind for item in faults(topped(self.JOINT), only_errors=False)]

    def test_a_sheet_top_gets_plain_holes(self) -> None:
        design = solve(topped("top fastened: {top: top, to: cleat, with: screw, per joint: 3}", "sheet"))
        assert len(work(design.part("cleat"), "screw hole")) == 3
        assert not work(design.part("cleat"), "slotted hole")


class TestButtons:
    JOINT = "top fastened: {top: top, to: apron, with: button, face: inside, per joint: 3}"

    def test_a_groove_that_draws_the_tongue_down(self) -> None:
        groove = one(solve(topped(self.JOINT)).part("apron"), "groove")
        box = box_cut(groove)
        # The tongue is 3/8 in thick, its upper side 3/8 in under the top; the wall lies 1/32 in lower,
        # the groove is 1/16 in wider than the tongue.
        assert (length("3") - box.high.up, box.size(Axis.UP)) == (length("13/32"), length("7/16"))
        assert box.size(Axis.ACROSS) == length("28")
        # The aprons lie 9-5/8 in from the middle of the top, which moves there 0.082 in (eastern white
        # pine, 0.00212) to 0.166 in (the liveliest wood of the table) past the tongue of 3/8 in.
        assert length("1/2") <= box.size(Axis.DEEP) <= length("9/16")

    def test_buttons_are_counted(self) -> None:
        (joint,) = solve(topped(self.JOINT)).joints
        assert [(use.item, use.number) for use in joint.hardware] == [("button", 6)]
        assert joint.glue is None

    @pytest.mark.parametrize(
        ("joint", "kind"),
        [
            (JOINT.replace("with: button", "with: short button"), "button-no-room"),
            (JOINT.replace("face: inside, ", ""), "missing-key"),
            (JOINT.replace("inside", "top"), "wrong-side"),
            (JOINT.replace("with: button", "with: dowel"), "no-top-fastener"),
            (JOINT.replace("per joint", "glue: wood glue, per joint"), "glued-apart"),
            (JOINT.replace("per joint", "sunk: 1/4in, per joint"), "idle-key"),
        ],
    )
    def test_wrong_uses(self, joint: str, kind: str) -> None:
        assert set(kinds(topped(joint))) == {kind}

    def test_little_wood_above_the_groove(self) -> None:
        thin = topped(self.JOINT).replace("tongue: 3/8in", "tongue: 3/8in, tongue thickness: 1/2in")
        warning, *_ = [item for item in faults(thin, only_errors=False) if item.kind == "little-above-groove"]
        # 3/4 in less the tip of 1/2 in, and 1/32 in of draw: 9/32 in stay.
        assert "only 9/32\u00a0in of " in warning.message
        assert "little-above-groove" not in [
            item.kind for item in faults(topped(self.JOINT), only_errors=False)
        ]


class TestBolts:
    JOINT = "top fastened: {top: top, to: cleat, with: bolt, nut: insert, washer: washer, per joint: 3}"

    def test_slots_under_inserts(self) -> None:
        design = solve(topped(self.JOINT))
        cleat, top = design.part("cleat"), design.part("top")
        (held,) = work(cleat, "bolt hole")
        first, last = work(cleat, "slotted hole")
        for slot in (first, last):
            deep, across = slot.features[0].span(Axis.DEEP), slot.features[0].span(Axis.ACROSS)
            assert across.high - across.low == rounds(held)[0].diameter
            assert deep.high - deep.low > across.high - across.low
        assert [rounds(one)[0].side for one in work(top, "insert hole")] == [Side.BOTTOM] * 3
        (joint,) = design.joints
        assert [(use.item, use.number) for use in joint.hardware] == [
            ("bolt", 3),
            ("insert", 3),
            ("washer", 3),
        ]

    def test_a_sunk_head_has_a_slot_of_its_own_that_is_said(self) -> None:
        cleat = solve(topped(self.JOINT.replace("per joint", "sunk: 1/16in, per joint"))).part("cleat")
        slot = work(cleat, "slotted hole")[0]
        through, room = slot.features
        assert (through.depth, room.depth) == (None, length("1/16"))
        words = said(slot)
        assert words.startswith("First sink a slot for the head in the bottom face: ")
        assert " 1/16 in deep. Cut a slotted hole " in words
        assert any("flat-bottomed" in tool.text(LengthStyle()) for tool in slot.tools)

    @pytest.mark.parametrize(
        ("joint", "kind"),
        [
            (JOINT.replace("nut: insert, ", ""), "missing-key"),
            (JOINT.replace("nut: insert", "nut: washer"), "no-nut"),
            (JOINT.replace("washer: washer", "face: inside"), "idle-key"),
            (JOINT.replace("with: bolt", "with: screw"), "idle-key"),
        ],
    )
    def test_wrong_uses(self, joint: str, kind: str) -> None:
        assert set(kinds(topped(joint))) == {kind}

    def test_a_head_over_a_slot_wants_a_washer(self) -> None:
        text = topped(self.JOINT.replace("washer: washer, ", ""))
        assert [item.kind for item in faults(text, only_errors=False) if item.kind == "slotted-head"]


class TestFigureEights:
    JOINT = "top fastened: {top: top, to: apron, with: eight, face: inside, per joint: 2}"

    def test_the_recess_opens_to_the_inside(self) -> None:
        apron = solve(topped(self.JOINT)).part("apron")
        made = work(apron, "hole")
        assert len(made) == 2
        disc = made[0].features[0]
        assert (disc.side, disc.diameter, disc.depth) == (Side.TOP, length("3/4"), length("3/32"))
        # Two fifths of 3/4 in is 0.3 in, 5/16 in on the tape: the rim of 3/8 in opens the inside face
        assert length("3/4") - disc.span(Axis.DEEP).low == length("5/16")
        # What it takes: the circle less the segment beyond the face, r2 acos(d/r) - d sqrt(r2 - d2).
        radius, inward = 0.375, 0.3125
        lost = radius**2 * math.acos(inward / radius) - inward * math.sqrt(radius**2 - inward**2)
        whole = 2 * (math.pi * radius**2 - lost) * 3 / 32
        assert whole * 0.985 < taken(apron) < whole  # the solid's facets lie inside the circle

    def test_the_screws_that_each_brings_are_bought(self) -> None:
        (joint,) = solve(topped(self.JOINT)).joints
        assert [(use.item, use.number) for use in joint.hardware] == [("eight", 4), ("eight screw", 8)]

    def test_a_plate_too_wide_for_the_apron(self) -> None:
        text = topped(self.JOINT.replace("with: eight", "with: wide eight"))
        assert set(kinds(text)) == {"recess-breaks-out"}


class TestNailed:
    JOINT = "nailed: {through: top, into: apron, with: nail, every: 6in}"

    def test_a_thick_nail_is_predrilled(self) -> None:
        design = solve(topped(self.JOINT))
        made = work(design.part("top"), "nail hole")
        # Over 28 in with 2 in left at both ends: 24 in, five nails 6 in apart in each of two aprons.
        assert len(made) == 10
        cut = rounds(made[0])[0]
        # 6d: 0.113 in after ASTM F1667; three quarters of it is 0.085 in, nearest 5/64 in.
        assert (cut.diameter, cut.depth, cut.side) == (length("5/64"), length("3/4"), Side.TOP)
        assert [(use.item, use.number) for use in design.joints[0].hardware] == [("nail", 10)]

    def test_a_brad_is_not_unless_the_maker_says(self) -> None:
        brads = self.JOINT.replace("with: nail", "with: brad")
        assert not work(solve(topped(brads)).part("top"), "nail hole")
        told = solve(topped(brads.replace("every", "predrill: yes, every"))).part("top")
        assert len(work(told, "nail hole")) == 10

    @pytest.mark.parametrize(
        ("size", "kind"),
        [("length: 3/4in", "nail-too-short"), ("length: 4in", "nail-too-long"), ("head: flat", "nail-size")],
    )
    def test_wrong_nails(self, size: str, kind: str) -> None:
        text = topped(self.JOINT).replace("diameter: 0.113in, length: 2in", f"diameter: 0.113in, {size}")
        assert set(kinds(text)) == {kind}

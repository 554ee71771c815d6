"""Loose tenons: one mortise in each piece, facing, with the ends that the cutter leaves. Worked by hand."""

from __future__ import annotations

import math

import pytest

from plangen.joinery.cuts import BoxCut, PrismCut
from plangen.joinery.space import Axis
from plangen.units import LengthStyle
from tests.design.small import box, box_cut, faults, kinds, length, line_at, one, project, solve, work
from tests.joinery.boards import LEGS_AND_RAIL
from tests.joinery.together import filled, overlap, removed

TENON = "tenon: {kind: loose tenon, length: 2in}"
WHOLE = 2 * 1.5 * 1.5 * 20 + 16 * 4 * 0.75


def tenoned(keys: str, hardware: str = TENON) -> str:
    return project(
        LEGS_AND_RAIL, f"- loose tenon: {{between: [rail, leg], with: tenon, {keys}}}", hardware=hardware
    )


class TestSquare:
    design = solve(tenoned("width: 2in, ends: square, contacts: 2"))

    def test_both_mortises_face_each_other(self) -> None:
        # A third of the rail's 3/4; 1 in and 1/16 deep; in the middle of 4 in.
        assert box_cut(one(self.design.part("leg"), "mortise")) == box("7/16", "5/8", 16, "1-1/2", "7/8", 18)
        left, right = work(self.design.part("rail"), "mortise")
        assert {box_cut(cut) for cut in (left, right)} == {
            box(0, "1/4", 1, "1-1/16", "1/2", 3),
            box("14-15/16", "1/4", 1, 16, "1/2", 3),
        }

    def test_what_is_empty_is_room_for_the_tenons_and_the_glue(self) -> None:
        mortise = 1.0625 * 0.25 * 2
        assert removed(self.design, "left leg") == pytest.approx(mortise)
        assert overlap(self.design) == pytest.approx(0, abs=1e-9)
        assert filled(self.design) == pytest.approx(WHOLE - 4 * mortise)
        tenon = 2 * 0.25 * 2
        assert WHOLE - filled(self.design) - 2 * tenon == pytest.approx(4 * 0.0625 * 0.25 * 2)

    def test_nothing_is_added_and_the_tenons_are_counted(self) -> None:
        assert self.design.part("rail").length == length("16")
        (joint,) = self.design.joints
        assert [(use.item, use.number) for use in joint.hardware] == [("tenon", 2)]
        # The shoulder and the four faces of the tenon, twice.
        assert float(joint.glue_area) == pytest.approx(2 * (0.75 * 4 + 2 * 2 * (2 + 0.25)) * 25.4**2)


def test_round_ends_are_those_of_a_router_bit() -> None:
    design = solve(tenoned("width: 2in"))
    (cut,) = one(design.part("leg"), "mortise").cuts
    assert isinstance(cut, PrismCut)
    # A slot of 2 by 1/4 with half circles of 1/8 at its ends, for which solids have chords.
    area = 1.75 * 0.25 + math.pi * 0.125**2
    assert removed(design, "left leg") == pytest.approx(1.0625 * area, rel=4e-3)
    square = solve(tenoned("width: 2in, ends: square"))
    assert isinstance(one(square.part("leg"), "mortise").cuts[0], BoxCut)


def test_two_of_them() -> None:
    design = solve(tenoned("width: 1in, per joint: 2, from ends: 1in, thickness: 3/8in, ends: square"))
    cuts = [box_cut(operation) for operation in work(design.part("leg"), "mortise")]
    assert cuts == [
        box("7/16", "9/16", "15-1/2", "1-1/2", "15/16", "16-1/2"),
        box("7/16", "9/16", "17-1/2", "1-1/2", "15/16", "18-1/2"),
    ]
    assert design.joints[0].hardware[0].number == 4


@pytest.mark.parametrize(
    ("keys", "kind", "at"),
    [
        ("width: 2in, length: 3in", "tenon-too-long", "length"),
        ("width: 2in, length: 0in", "tenon-too-long", "length"),
        ("width: 4in", "tenon-too-wide", "width"),
        ("width: 2in, thickness: 3/4in", "tenon-too-wide", "thickness"),
        ("width: 2in, thickness: 0in", "tenon-too-wide", "thickness"),
        ("width: 1/8in", "tenon-too-wide", "width"),
        ("width: 2in, gap: -1in", "bad-gap", "gap"),
        ("width: 1in, per joint: 4", "fasteners", "per joint"),
    ],
)
def test_what_cannot_be_cut(keys: str, kind: str, at: str) -> None:
    text = tenoned(keys)
    wrong = faults(text)
    assert {item.kind for item in wrong} == {kind}
    assert line_at(text, wrong[0]).startswith(at)


def test_a_tenon_of_no_length() -> None:
    text = tenoned("width: 2in", hardware="tenon: {kind: loose tenon}")
    assert {item.kind for item in faults(text)} == {"missing-key"}


class TestItsRow:
    """The row under `hardware` may give the tenon's sizes."""

    ROW = "tenon: {{kind: loose tenon{sizes}}}"
    LEGS_AND_RAIL = """
    stile:
      stock: pine
      runs: up
      thick: deep
      width: 4in
      place: {left: 0, front: 0, bottom: 0, top: 20in}
    rail:
      stock: pine
      runs: across
      thick: deep
      width: 4in
      place: {left: stile.right, right: 20in, front: 0, bottom: 8in}
    """

    def text(self, sizes: str, keys: str = "") -> str:
        joint = f"- loose tenon: {{between: [stile, rail], with: tenon{keys}}}"
        return project(self.LEGS_AND_RAIL, joint, hardware=self.ROW.format(sizes=sizes))

    def test_its_sizes_are_those_of_the_row(self) -> None:
        design = solve(self.text(", thickness: 3/8in, width: 1-3/4in, length: 3in"))
        (mortise,) = work(design.part("rail"), "mortise")
        spans = dict(mortise.features[0].spans)
        assert spans[Axis.UP].high - spans[Axis.UP].low == length("1-3/4")
        assert spans[Axis.DEEP].high - spans[Axis.DEEP].low == length("3/8")
        assert mortise.features[0].depth == length("1-9/16")  # half of it, and 1/16 in for glue
        size = design.hardware["tenon"].size.text(LengthStyle("inch")).replace("\u00a0", " ")
        assert size == "3/8 in × 1 3/4 in × 3 in"

    def test_the_joint_may_say_otherwise(self) -> None:
        design = solve(self.text(", thickness: 3/8in, width: 1-3/4in, length: 3in", ", thickness: 1/4in"))
        spans = dict(work(design.part("rail"), "mortise")[0].features[0].spans)
        assert spans[Axis.DEEP].high - spans[Axis.DEEP].low == length("1/4")

    @pytest.mark.parametrize(
        ("sizes", "kind"),
        [
            (", length: 3in", "missing-key"),
            (", width: 1in", "missing-key"),
            (", length: 3in, width: 0in", "zero-size"),
            (", length: 3in, width: 5in", "tenon-too-wide"),
            (", length: 3in, width: 2in, thickness: 3/4in", "tenon-too-wide"),
        ],
    )
    def test_what_can_not_be(self, sizes: str, kind: str) -> None:
        assert kinds(self.text(sizes)) == [kind]

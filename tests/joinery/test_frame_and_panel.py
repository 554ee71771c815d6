"""Frame and panel: the grooves, the gap that the wood's movement asks for, raised edges, wrong uses."""

from __future__ import annotations

from fractions import Fraction

import pytest

from plangen.handbook.movement import MOST_TANGENTIAL, coefficients
from plangen.joinery.joints.frame_and_panel import FrameAndPanel, gap_at
from plangen.joinery.piece import Bench, Piece
from plangen.joinery.space import Axis, Box, Point
from plangen.units import ZERO, Length, inches, millimetres
from tests.design.small import box_cut, faults, length, line_at, one, project, sizes, solve, work
from tests.joinery.together import overlap

# A frame 16 in wide and 20 in high of stiles and rails 2 in wide, around an opening of 12 by 16 in.
FRAME = """
stile:
  stock: pine
  runs: up
  thick: deep
  width: 2in
  place:
    left stile: {{left: 0, back: 3/4in, bottom: 0, top: 20in}}
    right stile: {{same as: left stile, left: 14in}}
rail:
  stock: pine
  runs: across
  thick: deep
  width: 2in
  place:
    bottom rail: {{left: left stile.right, right: right stile.left, back: 3/4in, bottom: 0}}
    top rail: {{same as: bottom rail, bottom: 18in}}
panel:
  stock: {stock}
  runs: up
  thick: deep
  place:
    left: left stile.right
    right: right stile.left
    bottom: bottom rail.top
    top: top rail.bottom
    deep: centred at 3/8in
"""
STOCK = """
board: {kind: solid, species: eastern white pine, rough: 4/4, thickness: 1/4in}
thick board: {kind: solid, species: eastern white pine, rough: 4/4, thickness: 1/2in}
sheet: {kind: plywood, label: 1/4in, thickness: 1/4in, sheet: 48in x 96in}
"""
RAILS = "- mortise and tenon: {in: stile, for: rail, length: 1in}\n"


def frame(joint: str, stock: str = "board") -> str:
    return project(FRAME.format(stock=stock), f"{RAILS}- frame and panel: {joint}", stock=STOCK)


PLAIN = "{panel: panel, in: [stile, rail], depth: 3/8in}"


class TestSizes:
    def test_a_solid_panel_floats_across_its_grain(self) -> None:
        text = frame("{panel: panel, in: [stile, rail], depth: 3/8in, gap: 1/8in}")
        # 12 and 16 in between the shoulders, and 3/8 - 1/8 in into each groove.
        assert sizes(solve(text).part("panel")) == (length("16-1/2"), length("12-1/2"), length("1/4"))

    def test_a_sheet_gets_a_small_gap_all_round(self) -> None:
        # 3/8 - 1/32 = 11/32 in at each edge.
        assert sizes(solve(frame(PLAIN, "sheet")).part("panel")) == (
            length("16-11/16"),
            length("12-11/16"),
            length("1/4"),
        )

    def test_every_member_is_grooved_and_no_wood_is_in_two_places(self) -> None:
        design = solve(frame(PLAIN))
        for part in ("stile", "rail"):
            groove = one(design.part(part), "groove")
            assert groove.features[0].depth == length("3/8")
        joint = next(joint for joint in design.joints if joint.kind == "frame and panel")
        assert (len(joint.contacts), joint.glue, joint.glue_area) == (4, None, 0)
        assert overlap(design) == pytest.approx(0, abs=1e-3)

    def test_a_stile_s_groove_ends_with_the_panel_and_its_gap(self) -> None:
        groove = box_cut(one(solve(frame(PLAIN)).part("stile"), "groove"))
        # The panel enters the rails by 3/8 less the gap of 1/32 in: the groove ends on the floors' lines.
        assert (groove.low.up, groove.high.up) == (length("1-5/8"), length("18-3/8"))
        assert (groove.low.deep, groove.high.deep) == (length("1/4"), length("1/2"))

    def test_through_grooves_run_from_end_to_end(self) -> None:
        text = frame("{panel: panel, in: [stile, rail], depth: 3/8in, through: yes}")
        groove = box_cut(one(solve(text).part("stile"), "groove"))
        assert (groove.low.up, groove.high.up) == (ZERO, length("20"))

    def test_a_rail_s_groove_runs_out_at_its_ends(self) -> None:
        rail = solve(frame(PLAIN)).part("rail")
        groove = box_cut(one(rail, "groove"))
        assert groove.size(Axis.ACROSS) == rail.length == length("14")  # with two tenons of 1 in


class TestMovement:
    @staticmethod
    def panel(species: str, solid: bool = True) -> Piece:
        """A panel of 12 in between the stiles, whose grain runs up."""
        shoulders = Box(Point(ZERO, ZERO, ZERO), Point(inches(12), inches("1/4"), inches(16)))
        axes = (Axis.UP, Axis.ACROSS, Axis.DEEP)
        place = solve(frame(PLAIN)).joints[0].place
        assert place is not None
        return Piece("panel", "panel", shoulders, shoulders, *axes, solid, True, None, place, species)

    @staticmethod
    def gap(panel: Piece, axis: Axis, change: int, units: str = "inch") -> Length:
        class Depth:
            def length(self, _scope: object) -> Length:
                return inches("3/8")

        entry = FrameAndPanel.model_construct(depth=Depth(), gap=None)
        bench = Bench(None, None, None, units, (), Fraction(change))  # type: ignore[arg-type]
        return gap_at(entry, panel, axis, bench)

    def test_red_oak_by_the_wood_handbook(self) -> None:
        # Wood Handbook, FPL-GTR-190 (2010), Eq. 13-2 with the row "Red oak, commercial" of Table 13-5,
        # C_T = 0.00369: 12-3/4 in x 0.00369 x 4 = 0.188 in; half of it at each edge, 0.094 in, is over
        # 1/16 in (0.0625), so the next mark is 1/8 in.
        assert self.gap(self.panel("Oak, northern red"), Axis.ACROSS, 4) == inches("1/8")
        # at 2 % half of it: 0.047 in, under 1/16 in
        assert self.gap(self.panel("Oak, northern red"), Axis.ACROSS, 2) == inches("1/16")
        # at 6 % 0.141 in: past 1/8 in
        assert self.gap(self.panel("Oak, northern red"), Axis.ACROSS, 6) == inches("3/16")

    def test_metric_gaps_are_whole_millimetres(self) -> None:
        # 323.85 mm x 0.00369 x 4 / 2 = 2.39 mm
        gap = self.gap(self.panel("Oak, northern red"), Axis.ACROSS, 4, "mm")
        assert gap == millimetres(3)

    def test_along_the_grain_and_for_sheets_it_is_small(self) -> None:
        assert self.gap(self.panel("Oak, northern red"), Axis.UP, 6) == inches("1/32")
        assert self.gap(self.panel("", solid=False), Axis.ACROSS, 6) == inches("1/32")

    def test_an_unknown_species_moves_like_the_liveliest(self) -> None:
        beech = coefficients("Beech, American")
        assert beech is not None
        assert beech.tangential == MOST_TANGENTIAL == Fraction(431, 100000)  # Table 13-5, read
        # 12-3/4 in x 0.00431 x 5 / 2 = 0.137 in
        assert self.gap(self.panel("an unheard-of wood"), Axis.ACROSS, 5) == inches("3/16")
        assert self.gap(self.panel("Beech, American"), Axis.ACROSS, 5) == inches("3/16")


class TestRaised:
    TEXT = "{panel: panel, in: [stile, rail], depth: 3/8in, gap: 1/8in, tongue: 1/4in, raised: front}"

    def test_a_rabbet_all_round_leaves_the_tongue(self) -> None:
        design = solve(frame(self.TEXT, "thick board"))
        panel = design.part("panel")
        rabbets = work(panel, "rabbet")
        assert len(rabbets) == 4
        assert all(operation.side.word == "front" for operation in rabbets)
        boxes = [box_cut(operation) for operation in rabbets]
        assert all(cut.size(Axis.DEEP) == length("1/4") for cut in boxes)
        # As wide as the groove is deep, so that the shoulder stands the gap clear of the frame.
        assert sorted(min(cut.size(Axis.ACROSS), cut.size(Axis.UP)) for cut in boxes) == [length("3/8")] * 4
        groove = box_cut(one(design.part("stile"), "groove"))
        assert groove.size(Axis.DEEP) == length("1/4")
        assert overlap(design) == pytest.approx(0, abs=1e-3)

    @pytest.mark.parametrize(
        ("typed", "kind", "at"),
        [
            ("tongue: 1/2in, raised: front", "bad-tongue", "tongue: 1/2in"),
            ("tongue: 1/4in, raised: left", "wrong-side", "raised: left"),
            ("tongue: 1/4in", "wrong-side", "tongue"),
            ("raised: front", "missing-key", "raised"),
        ],
    )
    def test_what_cannot_be_is_told(self, typed: str, kind: str, at: str) -> None:
        text = frame(f"{{panel: panel, in: [stile, rail], depth: 3/8in, {typed}}}", "thick board")
        wrong = faults(text)
        assert wrong
        assert {item.kind for item in wrong} == {kind}
        assert all(line_at(text, item).startswith(at) for item in wrong)


class TestWrong:
    def test_glue(self) -> None:
        text = frame("{panel: panel, in: [stile, rail], depth: 3/8in, glue: wood glue}")
        assert {item.kind for item in faults(text)} == {"glued-apart"}

    def test_a_gap_as_deep_as_the_groove(self) -> None:
        text = frame("{panel: panel, in: [stile, rail], depth: 3/8in, gap: 3/8in}")
        assert "bad-gap" in {item.kind for item in faults(text)}

    def test_a_groove_through_its_member(self) -> None:
        text = frame("{panel: panel, in: [stile, rail], depth: 2in, gap: 1/8in}")
        assert "groove-too-deep" in {item.kind for item in faults(text)}

    def test_a_shallow_groove_that_the_panel_shrinks_out_of(self) -> None:
        text = frame("{panel: panel, in: [stile, rail], depth: 1/8in, gap: 3/32in}")
        # Even eastern white pine, 0.00212, shrinks 12-1/4 in x 0.00212 x 4 / 2 = 0.052 in; 1/32 in enters.
        found = [item for item in faults(text, only_errors=False) if item.kind == "panel-falls-out"]
        assert found
        assert line_at(text, found[0]).startswith("depth: 1/8in")

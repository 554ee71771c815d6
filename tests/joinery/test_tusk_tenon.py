"""Tusk tenons: the tenon that stands proud, the wedge's mortise, wrong uses."""

from __future__ import annotations

import pytest

from plangen.joinery.cuts import PrismCut
from plangen.joinery.shapes import points_of
from plangen.joinery.space import Axis, Side
from plangen.units import LengthStyle
from tests.design.small import faults, length, line_at, one, prism, project, said, sizes, solve, taken
from tests.joinery.together import overlap

HARDWARE = "wedge: {kind: wedge, length: 4in}"
# A leg 1-1/2 in thick and 5 in wide; a rail 3/4 by 4 in from it to the right.
PARTS = """
leg:
  stock: post
  runs: up
  thick: across
  width: 5in
  place: {right: 0, front: 0, bottom: 0, top: 20in}
rail:
  stock: pine
  runs: across
  thick: deep
  width: 4in
  place: {left: leg.right, right: 20in, front: 2in, bottom: 8in}
"""
STOCK = "post: {kind: solid, species: red oak, rough: 8/4, thickness: 1-1/2in}"
KEYS = (
    "in: leg, for: rail, proud: 2-1/4in, thickness: 3/4in, shoulders: {top: 1in, bottom: 1in}, wedge: wedge"
)
TUSK = f"{KEYS}, driven: top, wedge thickness: 1/4in"


def tusk(keys: str = TUSK) -> str:
    return project(PARTS, f"- tusk tenon: {{{keys}}}", hardware=HARDWARE, stock=STOCK)


class TestTenon:
    def test_it_goes_through_and_stands_proud(self) -> None:
        # 20 in between the shoulders, 1-1/2 in of leg and 2-1/4 in proud
        assert sizes(solve(tusk()).part("rail"))[0] == length("23-3/4")

    def test_it_comes_apart_and_has_no_glue(self) -> None:
        design = solve(tusk())
        (joint,) = design.joints
        assert (joint.glue, joint.glue_area) == (None, 0)
        assert [(use.item, use.number) for use in joint.hardware] == [("wedge", 1)]
        assert joint.contacts[0].closes is Side.LEFT
        assert overlap(design) == pytest.approx(0, abs=1e-3)


class TestWedgeMortise:
    def cut(self) -> PrismCut:
        return prism(one(solve(tusk()).part("rail"), "wedge mortise"))

    def test_where_it_lies(self) -> None:
        # The leg's outer face lies 2-1/4 in from the tip. The mortise begins 1/8 in inside of it, and
        # reaches 3/4 in, a third of 2-1/4, past it at the top; the tenon is 2 in high, so that 1:8 makes
        # it 1/4 in less at the bottom.
        cut = self.cut()
        assert (cut.axis, cut.high - cut.low) == (Axis.DEEP, length("1/4"))
        assert cut.low + cut.high == length("3/4")  # in the middle of the rail
        corners = sorted((round(x / 25.4, 6), round(y / 25.4, 6)) for x, y in set(points_of(cut.loops[0])))
        assert corners == [(1.5, 3.0), (1.75, 1.0), (2.375, 1.0), (2.375, 3.0)]

    def test_what_it_takes(self) -> None:
        # Over the mean of 7/8 and 5/8 in, 2 in high and 1/4 in thick; and two shoulders of 1 in by
        # 3-3/4 in by 3/4 in.
        rail = solve(tusk()).part("rail")
        assert taken(rail) == pytest.approx(0.75 * 2 * 0.25 + 2 * 3.75 * 0.75)

    def test_said_with_both_openings(self) -> None:
        assert said(one(solve(tusk()).part("rail"), "wedge mortise")) == (
            "Chop a mortise for the wedge right through the tenon at the left end, from the top edge, "
            "its inner wall 1 3/8 in from the shoulder, 1/4 in thick and 7/8 in "
            "long there, its outer wall sloped to 5/8 in long where it comes out."
        )

    def test_the_wedge_is_said(self) -> None:
        # 2 in across the tenon, 3/4 in past the face where it enters; 4 in long it stands out 1 in at both
        # sides: 3/4 + 1/8 at the butt, and 4/8 less at the tip.
        (joint,) = solve(tusk()).joints
        assert (
            "Make each wedge 1/4 in thick and 4 in long, one edge straight along the grain and the other "
            "sloped 1:8: 7/8 in wide at the butt and 3/8 in at the tip. Push the tenon through dry"
        ) in joint.say.text(LengthStyle()).replace("\u00a0", " ")

    def test_the_thickness_of_its_row(self) -> None:
        text = tusk(KEYS + ", driven: top").replace("length: 4in", "length: 4in, thickness: 3/16in")
        cut = prism(one(solve(text).part("rail"), "wedge mortise"))
        assert cut.high - cut.low == length("3/16")

    def test_driven_through_the_thickness(self) -> None:
        rail = solve(tusk(f"{KEYS}, driven: front")).part("rail")
        cut = prism(one(rail, "wedge mortise"))
        # A third of 2 in is 2/3 in, 11/16 in on the tape.
        assert (cut.axis, cut.high - cut.low) == (Axis.UP, length("11/16"))

    def test_the_tenon_is_cut_first(self) -> None:
        kinds = [operation.kind for operation in solve(tusk()).part("rail").operations]
        assert kinds.index("tenon") < kinds.index("wedge mortise")


class TestWrong:
    @pytest.mark.parametrize(
        ("keys", "kind", "at"),
        [
            (f"{TUSK}, glue: wood glue", "glued-apart", "glue"),
            (TUSK.replace("wedge: wedge", "wedge: key"), "undefined-name", "key"),
            (TUSK.replace("driven: top", "driven: left"), "wrong-side", "driven: left"),
            (f"{TUSK}, wedge width: 2-1/4in", "tusk-too-short", "proud"),
            (f"{TUSK}, wedge width: 1/4in", "wedge-too-narrow", "wedge width"),
            (TUSK.replace("wedge thickness: 1/4in", "wedge thickness: 3/4in"), "wedge-too-thick", "wedge th"),
        ],
    )
    def test_what_cannot_be(self, keys: str, kind: str, at: str) -> None:
        text = tusk(keys)
        (finding,) = faults(text)
        assert finding.kind == kind
        assert line_at(text, finding).startswith(at)

    def test_a_wedge_shorter_than_the_tenon_is_wide(self) -> None:
        text = tusk(TUSK).replace("length: 4in", "length: 1in")
        (finding,) = faults(text)
        assert (finding.kind, line_at(text, finding).startswith("wedge: wedge")) == ("wedge-too-short", True)

    def test_a_row_without_a_size_is_told_what_comes_out(self) -> None:
        text = tusk(TUSK).replace("{kind: wedge, length: 4in}", "{kind: wedge}")
        (finding,) = [one for one in faults(text, only_errors=False) if one.kind == "hardware-no-size"]
        assert "`thickness: 1/4in, width: 7/8in, length: 4in`" in finding.remedy
        assert "hardware-no-size" not in [one.kind for one in faults(tusk(TUSK), only_errors=False)]

    def test_little_wood_beyond_the_wedge(self) -> None:
        text = tusk(f"{TUSK}, wedge width: 1-1/4in")
        assert "tusk-short" in [item.kind for item in faults(text, only_errors=False)]
        assert "tusk-short" not in [item.kind for item in faults(tusk(), only_errors=False)]

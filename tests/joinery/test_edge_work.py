"""Profiles, stopped edges, edge banding and curves to a pattern: volumes and words worked by hand."""

from __future__ import annotations

import math

import pytest

from plangen.joinery.operation import Added, Form
from plangen.joinery.space import Axis, Side
from tests.design.small import length, line_at, prism, said, taken, the_fault
from tests.joinery.boards import only, top, top_text

FACETS = 0.03 * math.pi / 4 * 0.25**2  # in2 that a quarter circle of 1/4 in loses to its chords


class TestProfile:
    @pytest.mark.parametrize(
        ("shape", "area"),
        [
            ("cove", math.pi / 4 * 0.25**2),
            ("round over", (1 - math.pi / 4) * 0.25**2),
            # a square of the radius, a quarter circle and what a quarter circle leaves: 2 r² in all
            ("ogee", 2 * 0.25**2),
        ],
    )
    def test_what_each_shape_takes_off(self, shape: str, area: float) -> None:
        for edge in ("front top", "back bottom", "back top"):
            part = top(f"profile: {{shape: {shape}, radius: 1/4in, edges: {edge}}}")
            assert taken(part) == pytest.approx(20 * area, abs=20 * FACETS)
        assert said(only(part)) == f"Rout a profile, {shape} R 1/4 in, along the top back edge."

    def test_the_finding_knows_that_an_ogee_is_twice_as_wide(self) -> None:
        top("profile: {shape: cove, radius: 1/2in, edges: front top}")
        text = top_text("profile: {shape: ogee, radius: 1/2in, edges: front top}")
        assert line_at(text, the_fault(text, "edge-too-big")).startswith("{")
        text = top_text("profile: {shape: bead, radius: 1/8in, edges: front top}")
        assert "bead" in line_at(text, the_fault(text, "unknown-word"))


class TestStopped:
    @pytest.mark.parametrize(
        ("cut", "start"),
        [
            ("chamfer: {edges: front top, size: 1/4in", "Chamfer the top front edge by 1/4 in"),
            (
                "round over: {edges: front top, radius: 1/4in",
                "Round the top front edge over to a radius of 1/4 in",
            ),
            (
                "profile: {shape: cove, radius: 1/4in, edges: front top",
                "Rout a profile, cove R 1/4 in, along",
            ),
        ],
    )
    def test_short_of_the_ends(self, cut: str, start: str) -> None:
        whole = top(cut + "}")
        part = top(cut + ", stopped: {left: 2in, right: 3in}}")
        assert taken(part) == pytest.approx(taken(whole) * 15 / 20, rel=0.001)
        feature = only(part).features[0]
        assert (feature.form, feature.span(Axis.ACROSS).low) == (Form.EDGE, length("2"))
        assert said(only(part)).startswith(start)
        assert said(only(part)).endswith(
            ", stopped 2 in short of the left end and 3 in short of the right end."
        )

    def test_only_the_edges_that_run_there(self) -> None:
        part = top("chamfer: {edges: around top, size: 1/4in, stopped: {left: 2in}}")
        lows = [cut.low for cut in only(part).cuts if cut.axis is Axis.ACROSS]  # type: ignore[union-attr]
        assert lows == [length("2")] * 2
        assert [cut.low.mm for cut in only(part).cuts if cut.axis is Axis.DEEP] == [0, 0]  # type: ignore[union-attr]

    @pytest.mark.parametrize(
        ("stopped", "kind", "at"),
        [
            ("{front: 1in}", "wrong-side", "front"),
            ("{lfet: 1in}", "wrong-side", "lfet"),
            ("{left: -1in}", "bad-value", "-1in"),
            ("{left: 12in, right: 8in}", "stopped-away", "stopped"),
        ],
    )
    def test_what_cannot_stop(self, stopped: str, kind: str, at: str) -> None:
        text = top_text(f"chamfer: {{edges: front top, size: 1/4in, stopped: {stopped}}}")
        assert line_at(text, the_fault(text, kind)).startswith(at)


class TestEdgeBanding:
    def test_it_adds_and_cuts_nothing(self) -> None:
        part = top("edge banding: {edges: [front, left], with: birch tape, thickness: 1/32in}")
        banding = only(part)
        assert (banding.cuts, taken(part)) == ((), 0.0)
        assert banding.adds == (
            Added(Side.FRONT, length("1/32"), "birch tape"),
            Added(Side.LEFT, length("1/32"), "birch tape"),
        )
        assert part.length == length("20")  # the finished size counts it
        assert [feature.form for feature in banding.features] == [Form.EDGE, Form.EDGE]
        assert said(banding) == (
            "Glue birch tape, 1/32 in thick, to the front edge and the left end and trim it flush; "
            "the finished size counts it."
        )

    def test_its_row_says_how_thick_it_is(self) -> None:
        for tail in ("", ", thickness: 1/32in"):
            banding = only(top(f"edge banding: {{edges: [front], with: birch tape{tail}}}"))
            assert banding.adds == (Added(Side.FRONT, length("1/32"), "birch tape"),)

    @pytest.mark.parametrize(
        ("banding", "kind", "at"),
        [
            ("edges: [top], with: birch tape, thickness: 1/32in", "wrong-side", "top"),
            ("edges: [front, front], with: birch tape, thickness: 1/32in", "wrong-side", "front], with"),
            ("edges: [front], with: brich tape, thickness: 1/32in", "unknown-name", "brich tape"),
            ("edges: [front], with: plain, thickness: 0", "banding-thickness", "thickness"),
            ("edges: [front, back], with: plain, thickness: 5in", "banding-thickness", "thickness"),
            ("edges: [front], with: birch tape, thickness: 1/16in", "banding-thickness", "thickness"),
            ("edges: [front], with: plain", "missing-key", "{"),
            ("edges: [front], with: narrow tape", "banding-width", "with"),
            ("edges: [], with: birch tape, thickness: 1/32in", "unknown-edge", "edges"),
        ],
    )
    def test_what_cannot_be_banded(self, banding: str, kind: str, at: str) -> None:
        text = top_text(f"edge banding: {{{banding}}}")
        assert at in line_at(text, the_fault(text, kind))


def test_a_curve_to_a_pattern_is_routed_late() -> None:
    part = top("curve: {edge: front, from left: 2in, from right: 2in, rise: 1in, by: pattern}")
    curve = only(part)
    assert "router" in curve.cautions
    assert said(curve).startswith("Saw the curve 1/16 in outside its line, then rout it flush to a pattern.")
    assert prism(curve) == prism(
        only(top("curve: {edge: front, from left: 2in, from right: 2in, rise: 1in}"))
    )
    text = top_text("curve: {edge: front, rise: 1in, by: eye}")
    assert "eye" in line_at(text, the_fault(text, "unknown-word"))

"""Tapers, curves, mitres and outlines: corners and areas against closed forms."""

from __future__ import annotations

import math

import pytest

from plangen.design.model import Part
from plangen.joinery.cuts import Arc
from plangen.joinery.shapes import points_of
from plangen.joinery.space import Axis
from tests.design.small import (
    kinds,
    length,
    line_at,
    one,
    prism,
    project,
    said,
    solve,
    taken,
    the_fault,
    work,
)

# One board 3/4 in thick, 10 in wide and 20 in long, its length and its thickness in any two directions.
PLACES = {"across": ("left", "right"), "deep": ("front", "back"), "up": ("bottom", "top")}
LIES = [(runs, thick) for runs in PLACES for thick in PLACES if runs != thick]


def text_of(cut: str, runs: str = "up", thick: str = "across", key: str = "cut") -> str:
    wide = next(axis for axis in PLACES if axis not in (runs, thick))
    pins = f"{PLACES[runs][0]}: 0, {PLACES[runs][1]}: 20in, {PLACES[wide][0]}: 0, {PLACES[wide][1]}: 10in"
    body = f"cut:\n    - {cut}" if key == "cut" else f"outline:\n    {cut}"
    return project(
        f"board:\n  stock: pine\n  runs: {runs}\n  thick: {thick}\n"
        f"  place: {{{pins}, {PLACES[thick][0]}: 0}}\n  {body}\n"
    )


def board(cut: str, runs: str = "up", thick: str = "across") -> Part:
    return solve(text_of(cut, runs, thick)).part("board")


def area(part: Part) -> float:
    """What is sawn off a board 3/4 in thick, in square inches."""
    return taken(part) / 0.75


class TestTaper:
    @pytest.mark.parametrize("edge", ["front", "back"])
    @pytest.mark.parametrize(("end", "start"), [("bottom", "top"), ("top", "bottom")])
    def test_it_takes_a_triangle_off(self, edge: str, end: str, start: str) -> None:
        part = board(f"taper: {{edge: {edge}, from {start}: 5in, to {end}: 6in}}")
        assert area(part) == pytest.approx(15 * 4 / 2)  # 15 in long, from 10 in down to 6 in
        assert said(one(part, "taper")) == f"Saw a taper 15 in long on the {edge} edge, down to 6 in wide."

    def test_its_corners(self) -> None:
        operation = one(board("taper: {edge: front, from top: 5in, to bottom: 6in}"), "taper")
        assert [corner.at for corner in operation.features[0].corners] == [
            (length("0"), length("15")),
            (length("4"), length("0")),
        ]

    @pytest.mark.parametrize(
        ("keys", "at"),
        [
            ("edge: front, from top: 5in", "{"),
            ("edge: front, from top: 5in, to bottom: 6in, to top: 6in", "{"),
            ("edge: front, from top: 5in, to back: 6in", "{"),
            ("edge: front, from top: 5in, to bottom: 10in", "to bottom"),
            ("edge: front, from top: 5in, to bottom: 0", "to bottom"),
            ("edge: front, from top: 20in, to bottom: 6in", "from top"),
            ("edge: front, from top: -1in, to bottom: 6in", "from top"),
        ],
    )
    def test_what_cannot_be_sawn(self, keys: str, at: str) -> None:
        text = text_of(f"taper: {{{keys}}}")
        assert line_at(text, the_fault(text, "taper")).startswith(at)


def segment(chord: float, rise: float) -> float:
    """The area of a circular segment: r² asin(c / 2r) - (r - h) c / 2."""
    radius = (chord * chord / 4 + rise * rise) / (2 * rise)
    return radius**2 * math.asin(chord / (2 * radius)) - (radius - rise) * chord / 2


class TestCurve:
    @pytest.mark.parametrize(("runs", "thick"), LIES)
    @pytest.mark.parametrize("high", [False, True])
    def test_an_arc_is_a_circular_segment_whichever_way_the_board_lies(
        self, runs: str, thick: str, high: bool
    ) -> None:
        wide = next(axis for axis in PLACES if axis not in (runs, thick))
        low_end, high_end = PLACES[runs]
        part = board(
            f"curve: {{edge: {PLACES[wide][high]}, from {low_end}: 3in, from {high_end}: 5in, rise: 2in}}",
            runs,
            thick,
        )
        assert area(part) == pytest.approx(segment(12, 2), rel=0.005)
        (radius,) = one(part, "curve").features[0].radii
        assert radius == length("10")  # (36 + 4) / 4

    @pytest.mark.parametrize(("runs", "thick"), LIES)
    def test_an_arc_in_an_end(self, runs: str, thick: str) -> None:
        wide = next(axis for axis in PLACES if axis not in (runs, thick))
        keys = f"from {PLACES[wide][0]}: 1in, from {PLACES[wide][1]}: 1in"
        part = board(f"curve: {{edge: {PLACES[runs][1]}, {keys}, rise: 1in}}", runs, thick)
        assert area(part) == pytest.approx(segment(8, 1), rel=0.005)

    def test_half_a_circle_is_the_most(self) -> None:
        assert area(
            board("curve: {edge: bottom, from front: 2in, from back: 2in, rise: 3in}")
        ) == pytest.approx(math.pi * 9 / 2, rel=0.005)
        assert kinds(text_of("curve: {edge: bottom, from front: 2in, from back: 2in, rise: 4in}")) == [
            "curve"
        ]

    @pytest.mark.parametrize(("runs", "thick"), LIES)
    def test_an_arch_is_a_rectangle_with_two_rounded_corners(self, runs: str, thick: str) -> None:
        wide = next(axis for axis in PLACES if axis not in (runs, thick))
        keys = f"from {PLACES[runs][0]}: 4in, from {PLACES[runs][1]}: 4in"
        for edge in PLACES[wide]:
            part = board(f"curve: {{edge: {edge}, {keys}, rise: 3in, radius: 1in}}", runs, thick)
            assert area(part) == pytest.approx(12 * 3 - 2 * (1 - math.pi / 4), rel=0.003)

    def test_an_arch_of_quarter_circles_only(self) -> None:
        keys = "from front: 2in, from back: 2in"
        assert area(board(f"curve: {{edge: bottom, {keys}, rise: 3in, radius: 3in}}")) == pytest.approx(
            math.pi * 9 / 2, rel=0.005
        )
        assert area(board(f"curve: {{edge: bottom, {keys}, rise: 4in, radius: 3in}}")) == pytest.approx(
            6 * 1 + math.pi * 9 / 2, rel=0.005
        )

    def test_a_smooth_line_goes_through_its_points(self) -> None:
        part = board(
            "curve: {edge: front, from bottom: 2in, from top: 2in, "
            "through: [{at: 6in, rise: 1in}, {at: 10in, rise: 2in}, {at: 14in, rise: 1in}]}"
        )
        (loop,) = prism(one(part, "curve")).loops
        found = {(round(x / 25.4, 6), round(y / 25.4, 6)) for x, y in points_of(loop)}
        assert {(0, 2), (1, 6), (2, 10), (1, 14), (0, 18)} <= found
        # Symmetric about the middle; more than the polygon through the points, which has 4·½·1·2 + … in it.
        polygon = 2 * (4 * 1 / 2 + 4 * (1 + 2) / 2)
        assert polygon < area(part) < polygon * 1.15

    @pytest.mark.parametrize(
        ("keys", "kind"),
        [
            ("edge: left, rise: 1in", "curve"),
            ("edge: front", "missing-key"),
            ("edge: front, rise: 0", "curve"),
            ("edge: front, rise: 10in", "curve"),
            ("edge: front, from top: 11in, from bottom: 11in, rise: 1in", "curve"),
            ("edge: front, from top: -1in, rise: 1in", "curve"),
            ("edge: front, from front: 1in, rise: 1in", "idle-key"),
            ("edge: front, rise: 1in, radius: 2in", "curve"),
            ("edge: bottom, rise: 3in, radius: 0", "curve"),
            ("edge: front, through: []", "curve"),
            ("edge: front, through: [{at: 5in, rise: 1in}, {at: 5in, rise: 2in}]", "curve"),
            ("edge: front, through: [{at: 8in, rise: 1in}, {at: 5in, rise: 2in}]", "curve"),
            ("edge: front, through: [{at: 5in, rise: -1in}]", "curve"),
            ("edge: front, through: [{at: 5in, rise: 10in}]", "curve"),
            ("edge: front, through: [{at: 0, rise: 1in}]", "curve"),
            ("edge: front, rise: 1in, through: [{at: 5in, rise: 1in}]", "curve"),
        ],
    )
    def test_what_cannot_be_sawn(self, keys: str, kind: str) -> None:
        assert kinds(text_of(f"curve: {{{keys}}}")) == [kind]


class TestMitre:
    @pytest.mark.parametrize("end", ["bottom", "top"])
    @pytest.mark.parametrize("long", ["front", "back"])
    def test_it_takes_a_triangle_off_the_end(self, end: str, long: str) -> None:
        part = board(f"mitre: {{end: {end}, angle: 45deg, long: {long}}}")
        assert area(part) == pytest.approx(10 * 10 / 2)
        assert said(one(part, "mitre")) == (
            f"Saw the {end} end to a mitre of 45°; the {long} edge stays long."
        )

    def test_thirty_degrees(self) -> None:
        part = board("mitre: {end: top, angle: 30deg, long: back}")
        assert area(part) == pytest.approx(10 * 10 * math.tan(math.radians(30)) / 2, rel=1e-6)
        tip, heel = (corner.at for corner in one(part, "mitre").features[0].corners)
        assert tip == (length("10"), length("20"))
        assert float(heel[1].inches) == pytest.approx(20 - 10 / math.sqrt(3), abs=1e-6)

    @pytest.mark.parametrize(
        ("keys", "at"),
        [
            ("end: front, angle: 45deg, long: back", "{"),
            ("end: top, angle: 45deg, long: left", "{"),
            ("end: top, angle: 0deg, long: back", "angle"),
            ("end: top, angle: 85deg, long: back", "angle"),
            ("end: top, angle: 70deg, long: back", "angle"),  # 27 in long on a board of 20 in
        ],
    )
    def test_what_cannot_be_sawn(self, keys: str, at: str) -> None:
        text = text_of(f"mitre: {{{keys}}}")
        assert line_at(text, the_fault(text, "mitre")).startswith(at)


def outline(*items: str, runs: str = "up", thick: str = "across") -> str:
    return text_of("\n    ".join(f"- {item}" for item in items), runs, thick, "outline")


TRIANGLE = ("start: {along: 0, over: 0}", "line: {along: 20in, over: 0}", "line: {along: 0, over: 10in}")


class TestOutline:
    @pytest.mark.parametrize(("runs", "thick"), LIES)
    def test_all_outside_a_triangle_goes(self, runs: str, thick: str) -> None:
        part = solve(outline(*TRIANGLE, runs=runs, thick=thick)).part("board")
        assert area(part) == pytest.approx(200 - 100)

    @pytest.mark.parametrize(("runs", "thick"), LIES)
    @pytest.mark.parametrize("clockwise", [False, True])
    def test_an_arc_bulges_out_or_in_whichever_way_it_is_drawn(
        self, runs: str, thick: str, clockwise: bool
    ) -> None:
        # A rectangle of 12 by 4 whose end is a bow over a chord of 4 with radius 2-1/2: it rises 1 in.
        corners = [(0, 3), (12, 3), (12, 7), (0, 7)]
        arc_to = 2
        if clockwise:
            corners = [(0, 7), (12, 7), (12, 3), (0, 3)]
        for bulge, sign in (("out", 1), ("in", -1)):
            items = []
            for index, (along, over) in enumerate(corners):
                point = f"along: {along}in, over: {over}in"
                kind = "start" if index == 0 else "line"
                items.append(
                    f"arc: {{{point}, radius: 5/2 * 1in, bulge: {bulge}}}"
                    if index == arc_to
                    else f"{kind}: {{{point}}}"
                )
            part = solve(outline(*items, runs=runs, thick=thick)).part("board")
            assert area(part) == pytest.approx(200 - (48 + sign * segment(4, 1)), rel=0.001)

    @pytest.mark.parametrize("over", [0, 10])
    def test_a_line_and_a_bow_stay_on_the_blank(self, over: int) -> None:
        part = solve(
            outline(
                f"start: {{along: 4in, over: {over}in}}",
                f"line: {{along: 10in, over: {over}in}}",
                f"arc: {{along: 4in, over: {over}in, radius: 3in, bulge: out}}",
            )
        ).part("board")
        assert area(part) == pytest.approx(200 - math.pi * 9 / 2, rel=0.001)

    def test_a_round_opening(self) -> None:
        design = solve(outline(*TRIANGLE, "circle: {along: 5in, over: 3in, diameter: 2in}"))
        part = design.part("board")
        assert area(part) == pytest.approx(100 + math.pi, rel=0.001)
        assert [operation.title for operation in work(part, "hole")] == ["Round opening"]
        assert part.pattern

    def test_a_smooth_edge_goes_through_its_points(self) -> None:
        part = solve(
            outline(
                "start: {along: 0, over: 0}",
                "line: {along: 20in, over: 0}",
                "curve: {through: [{along: 10in, over: 8in}, {along: 0, over: 0}]}",
            )
        ).part("board")
        first = one(part, "outline")
        corners = [corner.at for corner in first.features[0].corners]
        assert corners == [
            (length("0"), length("0")),
            (length("0"), length("20")),
            (length("8"), length("10")),
        ]

    def test_radii_are_those_typed(self) -> None:
        part = solve(
            outline(
                "start: {along: 0, over: 0}",
                "line: {along: 18in, over: 0}",
                "arc: {along: 18in, over: 6in, radius: 4in, bulge: in}",
                "line: {along: 0, over: 6in}",
            )
        ).part("board")
        operation = one(part, "outline")
        assert operation.features[0].radii == (length("4"),)
        assert [s.radius for s in prism(operation).loops[1].segments if isinstance(s, Arc)] == [length("4")]
        assert operation.features[0].span(Axis.UP).high == length("20")

    @pytest.mark.parametrize(
        "items",
        [
            ("line: {along: 0, over: 0}",),
            ("start: {along: 0, over: 0}",),
            ("start: {along: 0, over: 0}", "line: {along: 1in, over: 0}"),
            ("start: {along: 0, over: 0}", "start: {along: 1in, over: 0}", "line: {along: 1in, over: 1in}"),
            ("start: {along: 0, over: 0}", "line: {along: 1in, over: 0}", "curve: {through: []}"),
            # all on one line
            ("start: {along: 0, over: 0}", "line: {along: 5in, over: 0}", "line: {along: 9in, over: 0}"),
            # a bow tie
            (
                "start: {along: 0, over: 0}",
                "line: {along: 10in, over: 5in}",
                "line: {along: 10in, over: 0}",
                "line: {along: 0, over: 5in}",
            ),
            # off the blank: a corner, and a bow whose ends are on it
            (TRIANGLE[0], TRIANGLE[1], "line: {along: 0, over: 11in}"),
            (
                "start: {along: 0, over: 0}",
                "line: {along: 20in, over: 0}",
                "arc: {along: 20in, over: 10in, radius: 6in, bulge: out}",
                "line: {along: 0, over: 10in}",
            ),
            # arcs that cannot reach, or go nowhere
            (TRIANGLE[0], TRIANGLE[1], "arc: {along: 0, over: 10in, radius: 2in, bulge: in}"),
            (TRIANGLE[0], TRIANGLE[1], "arc: {along: 20in, over: 0, radius: 2in, bulge: in}"),
            (*TRIANGLE, "circle: {along: 5in, over: 3in, diameter: 0}"),
            (*TRIANGLE, "circle: {along: 1in, over: 1in, diameter: 4in}"),
        ],
    )
    def test_what_cannot_be_sawn(self, items: tuple[str, ...]) -> None:
        text = outline(*items)
        assert the_fault(text, "outline").part == "board"

"""Notches, holes, chamfers and round-overs on one board: boxes and volumes worked by hand."""

from __future__ import annotations

import math

import pytest

from plangen.design.model import Part
from plangen.joinery.cuts import Arc, Line
from plangen.joinery.operation import Repeat
from plangen.joinery.space import Axis, Side
from tests.design.small import (
    box,
    box_cut,
    kinds,
    length,
    line_at,
    one,
    prism,
    project,
    rounds,
    said,
    solve,
    taken,
    the_fault,
)

# A side board 10 in deep, 20 in high; a cap that is 30 in long and 1 in from it makes its right the inside.
BOARD = """
board:
  stock: pine
  runs: up
  thick: across
  place: {{left: 0, front: 0, back: 10in, bottom: 0, top: 20in}}
  cut:
    - {cut}
stand:
  stock: pine
  runs: up
  thick: across
  place: {{left: 30in, front: 0, back: 10in, bottom: 0, top: 20in}}
"""


def text_of(cut: str) -> str:
    return project(BOARD.format(cut=cut))


def board(cut: str) -> Part:
    return solve(text_of(cut)).part("board")


class TestNotch:
    def test_at_a_corner(self) -> None:
        part = board("notch: {at: [back, bottom], deep: 3/4in, up: 3in}")
        assert box_cut(one(part, "notch")) == box(0, "9-1/4", 0, "3/4", 10, 3)
        assert taken(part) == pytest.approx(0.75 * 3 * 0.75)
        assert said(one(part, "notch")) == (
            "Cut a notch reaching 3/4 in from the back edge and 3 in from the bottom end."
        )

    def test_in_the_middle_of_an_edge(self) -> None:
        part = board("notch: {at: [top], deep: 2in, up: 1in, from front: 4in}")
        assert box_cut(one(part, "notch")) == box(0, 4, 19, "3/4", 6, 20)
        part = board("notch: {at: [top], deep: 2in, up: 1in, from back: 3in}")
        assert box_cut(one(part, "notch")) == box(0, 5, 19, "3/4", 7, 20)
        assert said(one(part, "notch")) == (
            "Cut a notch 2 in wide, 3 in from the back edge, reaching 1 in from the top end."
        )

    def test_in_the_thickness_of_an_edge_it_runs_the_whole_length(self) -> None:
        part = board("notch: {at: [left, front], across: 1/4in, deep: 1/2in}")
        assert box_cut(one(part, "notch")) == box(0, 0, 0, "1/4", "1/2", 20)

    @pytest.mark.parametrize(
        ("cut", "kind", "at"),
        [
            ("{at: [], deep: 1in, up: 1in}", "notch-sides", "at"),
            ("{at: [front, back], deep: 1in, up: 1in}", "notch-sides", "at"),
            ("{at: [front, top], deep: 1in}", "notch-size", "{"),
            ("{at: [front, top], deep: 1in, up: 1in, across: 1/4in}", "notch-size", "{"),
            ("{at: [front, left], deep: 1in, up: 1in}", "notch-size", "{"),
            ("{at: [front, top], deep: 10in, up: 1in}", "notch-size", "deep"),
            ("{at: [front, top], deep: 1in, up: 0}", "notch-size", "up"),
            ("{at: [top], deep: 2in, up: 1in}", "missing-key", "{"),
            ("{at: [top], deep: 2in, up: 1in, from front: 9in}", "notch-off-part", "from front"),
            ("{at: [top], deep: 2in, up: 1in, from front: 1in, from back: 1in}", "over-located", "from back"),
            ("{at: [top, front], deep: 2in, up: 1in, from back: 1in}", "idle-key", "from back"),
            ("{at: [front, tpo], deep: 1in, up: 1in}", "unknown-word", "tpo"),
        ],
    )
    def test_what_cannot_be_sawn(self, cut: str, kind: str, at: str) -> None:
        text = text_of(f"notch: {cut}")
        assert line_at(text, the_fault(text, kind)).startswith(at)


class TestHole:
    def test_one_through(self) -> None:
        part = board("hole: {face: inside, from front: 2in, from bottom: 4in, diameter: 1/2in}")
        (hole,) = rounds(one(part, "hole"))
        assert (hole.mouth.across, hole.mouth.deep, hole.mouth.up) == (
            length("3/4"),
            length("2"),
            length("4"),
        )
        assert (hole.side, hole.diameter, hole.depth) == (Side.RIGHT, length("1/2"), length("3/4"))
        assert one(part, "hole").features[0].depth is None
        # A round hole is broken into facets: up to a few thousandths less than the true circle.
        assert taken(part) == pytest.approx(math.pi * 0.25**2 * 0.75, rel=0.02)
        assert said(one(part, "hole")) == (
            "Drill a hole 1/2 in across, through in the inside face, "
            "2 in from the front edge and 4 in from the bottom end."
        )

    def test_blind_and_counted_from_the_far_sides(self) -> None:
        part = board("hole: {face: outside, from back: 2in, from top: 4in, diameter: 1/4in, depth: 3/8in}")
        (hole,) = rounds(one(part, "hole"))
        assert (hole.mouth.across, hole.mouth.deep, hole.mouth.up) == (length("0"), length("8"), length("16"))
        feature = one(part, "hole").features[0]
        assert (feature.depth, feature.datum) == (length("3/8"), (Side.BACK, Side.TOP))

    def test_a_grid_grows_away_from_where_it_is_counted(self) -> None:
        part = board(
            "holes: {face: inside, from back: 1in, from bottom: 3in, diameter: 1/4in, depth: 3/8in, "
            "along: {number: 4, pitch: 2in}, over: {number: 2, pitch: 5in}}"
        )
        found = {
            (round(h.mouth.floats()[1] / 25.4, 6), round(h.mouth.floats()[2] / 25.4, 6))
            for h in rounds(one(part, "hole"))
        }
        assert found == {(deep, up) for deep in (9, 4) for up in (3, 5, 7, 9)}
        feature = one(part, "hole").features[0]
        # The feature's own place is the low end of its rows, which grow upward.
        assert (feature.span(Axis.DEEP).low, feature.span(Axis.UP).low) == (length("4"), length("3"))
        assert feature.repeat == (Repeat(Axis.DEEP, 2, length("5")), Repeat(Axis.UP, 4, length("2")))
        assert said(one(part, "hole")) == (
            "Drill 8 holes 1/4 in across and 3/8 in deep in the inside face, the first 1 in from the back "
            "edge and 3 in from the bottom end, then every 5 in front to back, then every 2 in up and down."
        )

    def test_a_counterbore_is_a_second_wider_cut(self) -> None:
        part = board(
            "hole: {face: left, from front: 2in, from bottom: 4in, diameter: 1/4in, "
            "counterbore: {diameter: 1/2in, depth: 1/4in}}"
        )
        hole, mouth = rounds(one(part, "hole"))
        assert (mouth.diameter, mouth.depth) == (length("1/2"), length("1/4"))
        volume = math.pi * (0.125**2 * 0.5 + 0.25**2 * 0.25)
        assert taken(part) == pytest.approx(volume, rel=0.03)
        assert "counterbored 1/2 in across and 1/4 in deep" in said(one(part, "hole"))
        assert hole.depth == length("3/4")

    def test_in_an_end(self) -> None:
        part = board("hole: {face: top, from front: 2in, from left: 3/8in, diameter: 1/4in, depth: 1in}")
        (hole,) = rounds(one(part, "hole"))
        assert (hole.side, hole.mouth.up) == (Side.TOP, length("20"))

    @pytest.mark.parametrize(
        ("keys", "kind", "at"),
        [
            ("from front: 2in", "missing-key", "{"),
            ("from front: 2in, from top: 11in, from bottom: 9in", "over-located", "from top"),
            ("from front: 2in, from top: 1in, from left: 1in", "idle-key", "from left"),
            ("from front: -2in, from top: 1in", "hole-off-part", "{"),
        ],
    )
    def test_what_is_badly_placed(self, keys: str, kind: str, at: str) -> None:
        text = text_of(f"hole: {{face: inside, diameter: 1/4in, {keys}}}")
        assert line_at(text, the_fault(text, kind)).startswith(at)

    @pytest.mark.parametrize(
        ("keys", "kind", "at"),
        [
            ("diameter: 0", "zero-size", "{"),
            ("diameter: 1/4in, depth: 0", "zero-size", "{"),
            ("diameter: 1/4in, depth: 1in", "hole-too-deep", "depth"),
            ("diameter: 1/4in, along: {number: 20, pitch: 1in}", "hole-off-part", "{"),
            ("diameter: 1/4in, along: {number: 2}", "row", "{"),
            ("diameter: 1/4in, along: {number: 2, pitch: 0}", "row", "pitch"),
            ("diameter: 1/4in, along: {number: 0, pitch: 1in}", "row", "{"),
            (
                "diameter: 1/32in, along: {number: 99, pitch: 1/16in}, over: {number: 50, pitch: 1/16in}",
                "row",
                "{",
            ),
            ("diameter: 1/4in, counterbore: {diameter: 1/8in, depth: 1/4in}", "counterbore", "diameter"),
            ("diameter: 1/4in, counterbore: {diameter: 1/2in, depth: 3/4in}", "counterbore", "depth"),
        ],
    )
    def test_what_cannot_be_bored(self, keys: str, kind: str, at: str) -> None:
        text = text_of(f"hole: {{face: inside, from front: 2in, from top: 1in, {keys}}}")
        assert line_at(text, the_fault(text, kind)).startswith(at)

    def test_a_part_in_the_middle_has_no_inside(self) -> None:
        text = project(
            """
            board:
              stock: pine
              runs: up
              thick: across
              place: {left: 0, front: 0, back: 10in, bottom: 0, top: 20in}
              cut:
                - hole: {face: inside, from front: 2in, from bottom: 4in, diameter: 1/2in}
            """
        )
        wrong = the_fault(text, "no-inside")
        assert wrong.part == "board"
        assert "name the side" in wrong.remedy


class TestEdges:
    def test_a_chamfer_takes_a_triangle(self) -> None:
        part = board("chamfer: {edges: front right, size: 1/4in}")
        assert taken(part) == pytest.approx(0.25 * 0.25 / 2 * 20)
        assert said(one(part, "chamfer")) == "Chamfer the front right edge by 1/4 in."

    def test_a_round_over_takes_a_square_less_a_quarter_circle(self) -> None:
        for edge in ("front right", "front left", "back right", "back left"):
            part = board(f"round over: {{edges: {edge}, radius: 1/2in}}")
            assert taken(part) == pytest.approx((1 - math.pi / 4) * 0.25 * 20, rel=0.05), edge

    def test_its_arc_turns_about_the_middle_of_the_quarter(self) -> None:
        (loop,) = prism(one(board("round over: {edges: front right, radius: 1/2in}"), "round over")).loops
        line, arc, back = loop.segments
        assert isinstance(line, Line)
        assert isinstance(arc, Arc)
        assert arc.radius == length("1/2")
        assert back.to == loop.start == (length("3/4"), length("0"))  # the corner itself

    @pytest.mark.parametrize(
        ("edges", "number", "words"),
        [
            ("all", 12, "all edges"),
            ("long", 4, "the four long edges"),
            ("ends", 8, "the edges around both ends"),
            ("around top", 4, "the edges around the top end"),
            ("[front right, back right]", 2, "the front right and back right edges"),
            ("around inside", 4, "the edges around the inside face"),
        ],
    )
    def test_words_for_edges(self, edges: str, number: int, words: str) -> None:
        operation = one(board(f"chamfer: {{edges: {edges}, size: 1/16in}}"), "chamfer")
        assert len(operation.features) == len(operation.cuts) == number
        assert said(operation).lower() == f"chamfer {words} by 1/16 in."

    def test_an_edge_named_twice_is_worked_once(self) -> None:
        part = board("chamfer: {edges: [front right, right front, around front], size: 1/16in}")
        assert len(one(part, "chamfer").features) == 4

    def test_all_edges_of_a_board(self) -> None:
        # The box with 45 degree edges: each of 12 edges loses a prism; at each of 8 corners three prisms
        # overlap, and the union is taken. Inclusion and exclusion with size s: pairs meet in s^3 / 3,
        # all three in s^3 / 4 (integrals over the corner cube).
        s = 0.125
        edges = 4 * (0.75 + 10 + 20) * s * s / 2
        corners = 8 * s**3 * (3 / 3 - 1 / 4)
        assert taken(board("chamfer: {edges: all, size: 1/8in}")) == pytest.approx(edges - corners, rel=1e-9)

    @pytest.mark.parametrize(
        ("cut", "kind"),
        [
            ("chamfer: {edges: front right, size: 3/4in}", "edge-too-big"),
            ("chamfer: {edges: front right, size: 0}", "edge-too-big"),
            ("chamfer: {edges: front right, size: -1/8in}", "edge-too-big"),
            ("chamfer: {edges: [front right, front left], size: 3/8in}", "edge-too-big"),
            ("chamfer: {edges: front back, size: 1/8in}", "unknown-edge"),
            ("chamfer: {edges: front, size: 1/8in}", "unknown-edge"),
            ("chamfer: {edges: round about, size: 1/8in}", "unknown-edge"),
            ("chamfer: {edges: around nothing, size: 1/8in}", "unknown-edge"),
        ],
    )
    def test_what_cannot_be_worked(self, cut: str, kind: str) -> None:
        text = text_of(cut)
        assert kinds(text) == [kind]

    def test_one_edge_may_lose_more_than_half_of_the_thickness(self) -> None:
        assert taken(board("chamfer: {edges: front right, size: 1/2in}")) == pytest.approx(0.125 * 20)


def test_cuts_count_from_the_shoulders_of_a_piece_that_grows() -> None:
    text = project(
        """
        side:
          stock: pine
          runs: up
          thick: across
          place: {left: 0, front: 0, back: 10in, bottom: 0, top: 20in}
        shelf:
          stock: pine
          runs: across
          thick: up
          place: {left: side.right, right: 12in, front: 0, back: 10in, bottom: 6in}
          cut:
            - hole: {face: top, from left: 2in, from front: 2in, diameter: 1/2in}
        """,
        "- dado: {in: side, for: shelf, depth: 1/4in}",
    )
    (hole,) = rounds(one(solve(text).part("shelf"), "hole"))
    assert hole.mouth.across == length("2-1/4")  # 2 in from the shoulder, which is 1/4 in from the end


def test_operations_stand_in_the_order_they_are_worked() -> None:
    part = board(
        "round over: {edges: front right, radius: 1/8in}\n"
        "    - taper: {edge: front, from top: 10in, to bottom: 8in}\n"
        "    - hole: {face: right, from back: 2in, from bottom: 4in, diameter: 1/2in}"
    )
    assert [operation.kind for operation in part.operations] == ["hole", "taper", "round over"]

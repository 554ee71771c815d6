"""Boards glued edge to edge, and layers glued face to face."""

from __future__ import annotations

import pytest

from plangen.joinery.space import Axis, Side
from tests.design.small import faults, kinds, length, line_at, project, rounds, solve, work

# Three boards 4 in wide and 20 in long, edge to edge.
BOARDS = """
board:
  stock: pine
  runs: across
  thick: up
  width: 4in
  place:
    one: {left: 0, right: 20in, front: 0, bottom: 0}
    two: {same as: one, front: one.back}
    three: {same as: one, front: two.back}
"""
LAYERS = """
layer:
  stock: pine
  runs: across
  thick: up
  width: 4in
  place:
    one: {left: 0, right: 20in, front: 0, bottom: 0}
    two: {same as: one, bottom: one.top}
"""
CROSSED = """
layer:
  stock: STOCK
  runs: across
  thick: up
  place: {left: 0, right: 20in, front: 0, back: 10in, bottom: 0}
other:
  stock: STOCK
  runs: deep
  thick: up
  place: {left: 0, right: 20in, front: 0, back: 10in, bottom: layer.top}
"""
HARDWARE = """
dowel: {kind: dowel, diameter: 1/4in, length: 1in}
long dowel: {kind: dowel, diameter: 1/4in, length: 10in}
"""
SHEET = "sheet: {kind: plywood, label: 3/4in, thickness: 3/4in, sheet: 48in x 96in}"
EDGES = "edge-glued: {between: [board, board]}"


def glued(joint: str, parts: str = BOARDS) -> str:
    return project(parts, f"- {joint}", hardware=HARDWARE, stock=SHEET)


class TestEdges:
    def test_a_part_is_glued_to_its_own_copies(self) -> None:
        (joint,) = solve(glued(EDGES)).joints
        assert sorted((contact.fixed, contact.moving) for contact in joint.contacts) == [
            ("one", "two"),
            ("two", "three"),
        ]
        # two seams 20 in long and 3/4 in thick
        assert joint.glue_area == 2 * 20 * length("3/4").mm * length("1").mm
        assert joint.glue == "wood glue"

    def test_dowels_line_the_edges_up(self) -> None:
        pair = BOARDS.replace("    three: {same as: one, front: two.back}\n", "")
        design = solve(glued("edge-glued: {between: [one, two], align: dowel, per joint: 3}", pair))
        bored = [cut for part in design.parts for op in work(part, "dowel hole") for cut in rounds(op)]
        # The same piece serves as both boards, turned end for end: the holes lie alike in each.
        assert {cut.depth for cut in bored} == {length("9/16")}
        assert {cut.mouth.up for cut in bored} == {length("3/8")}
        assert {cut.side.axis for cut in bored} == {Axis.DEEP}
        assert [(use.item, use.number) for use in design.joints[0].hardware] == [("dowel", 3)]

    @pytest.mark.parametrize(
        ("joint", "kind", "at"),
        [
            ("edge-glued: {between: [one, two], every: 4in}", "idle-key", "every: 4in"),
            ("edge-glued: {between: [one, two], align: none such}", "undefined-name", "none such"),
            ("edge-glued: {between: [one, two], align: long dowel}", "dowel-too-long", "align: long dowel"),
        ],
    )
    def test_wrong_keys(self, joint: str, kind: str, at: str) -> None:
        text = glued(joint)
        (finding,) = faults(text)
        assert finding.kind == kind
        assert line_at(text, finding).startswith(at)

    def test_faces_and_steps_are_no_edge_joint(self) -> None:
        assert kinds(glued("edge-glued: {between: [layer, layer]}", LAYERS)) == ["not-edge-to-edge"]
        step = BOARDS.replace("front: one.back}", "front: one.back, bottom: 1/8in}")
        assert kinds(glued("edge-glued: {between: [one, two]}", step)) == ["not-flush"]


class TestFaces:
    def test_layers(self) -> None:
        (joint,) = solve(glued("face-glued: {between: [layer, layer]}", LAYERS)).joints
        assert joint.glue_area == 80 * length("1").mm ** 2
        assert joint.contacts[0].closes is Side.BOTTOM
        assert "clamps" in joint.cautions

    def test_edges_are_no_face_joint(self) -> None:
        assert kinds(glued("face-glued: {between: [one, two]}")) == ["not-face-to-face"]

    def test_crossed_solid_layers_are_refused_and_sheets_are_not(self) -> None:
        joint = "face-glued: {between: [layer, other]}"
        assert kinds(glued(joint, CROSSED.replace("STOCK", "pine"))) == ["layers-across"]
        assert not kinds(glued(joint, CROSSED.replace("STOCK", "sheet")))

"""Legs that lean and splay, and stretchers between them, checked with rotations of the tests' own."""

from __future__ import annotations

import math

import numpy as np
import pytest
from shapely import MultiPoint

from plangen.design.model import Copy, Design
from plangen.joinery.cuts import BoreCut, PlaneCut
from plangen.joinery.space import Axis, Side
from plangen.solids import build_solids, find_interference, transform
from tests.design.small import copy, faults, solve, the_fault

STOOL = """
plangen: 1
project: {title: Stool, units: mm}
sizes:
  splay: 8deg
  rake: 5deg
stock:
  ash: {kind: solid, species: white ash, rough: 8/4, thickness: 44mm,
    widths: 200mm to 300mm, lengths: [2400mm]}
parts:
  seat: {stock: ash, runs: across, thick: up, length: 400mm, width: 300mm,
    place: {left: 0, front: 0, top: 450mm}}
  leg:
    stock: ash
    runs: up
    thick: deep
    width: 44mm
    place:
      front left leg: {across: centred at 90mm, deep: centred at 80mm, bottom: 0, top: seat.bottom, LEAN}
      front right leg: {mirror of: front left leg, plane: across at 200mm}
      back left leg: {mirror of: front left leg, plane: deep at 150mm}
      back right leg: {mirror of: front right leg, plane: deep at 150mm}
  rung:
    stock: ash
    runs: deep
    thick: up
    thickness: 25mm
    width: 25mm
    place:
      left rung: {stretch: {from: front left leg, to: back left leg, up: 150mm}}
      right rung: {stretch: {from: front right leg, to: back right leg, up: 150mm}}
  bar: {stock: ash, runs: across, thick: up, thickness: 25mm, width: 25mm,
    place: {stretch: {from: left rung, to: right rung, deep: 150mm}}}
joints:
  - round tenon: {name: leg tenons, in: seat, for: leg, diameter: 25mm, length: 60mm}
  - round tenon: {name: rung tenons, in: leg, for: rung, diameter: 16mm, length: 20mm}
  - round tenon: {name: bar tenons, in: rung, for: bar, diameter: 12mm, length: 15mm}
"""
LEAN = "lean: {bottom: {left: splay, front: rake}}"


def stool(lean: str = LEAN) -> Design:
    return solve(STOOL.replace("LEAN", lean))


def corners(design: Design, piece: Copy) -> np.ndarray:
    mesh = build_solids(design).parts[piece.part].mesh
    turn, move = transform(piece)
    return mesh.vertices @ turn.T + move


class TestLegs:
    def test_every_foot_lies_flat_on_the_floor(self) -> None:
        design = stool()
        for name in ("front left leg", "front right leg", "back left leg", "back right leg"):
            heights = corners(design, copy(design, name))[:, 2]
            assert heights.min() == pytest.approx(0.0, abs=1e-6)
            # Four corners of the foot stand on the floor, not one.
            assert np.count_nonzero(np.abs(heights) < 1e-5) >= 4

    def test_a_foot_stands_with_the_whole_of_its_section(self) -> None:
        design = stool()
        points = corners(design, copy(design, "front left leg"))
        foot = MultiPoint([(x, y) for x, y, z in points if abs(z) < 1e-5]).convex_hull
        # A level cut through a leaning section is larger than it by one over the cosine of the lean.
        cosine = 1 / math.sqrt(1 + math.tan(math.radians(8)) ** 2 + math.tan(math.radians(5)) ** 2)
        assert foot.area == pytest.approx(44 * 44 / cosine, rel=1e-6)

    def test_it_leans_as_seen_from_the_front_and_from_the_side(self) -> None:
        leg = copy(stool(), "front left leg")
        assert leg.stance is not None
        down = np.array(leg.stance.direction((0.0, 0.0, -1.0)))
        assert math.degrees(math.atan2(-down[0], -down[2])) == pytest.approx(8.0)
        assert math.degrees(math.atan2(-down[1], -down[2])) == pytest.approx(5.0)
        # The angle from plumb: tan² is the sum of the two tan² (plane trigonometry).
        tangent = math.hypot(math.tan(math.radians(8)), math.tan(math.radians(5)))
        assert math.acos(-down[2]) == pytest.approx(math.atan(tangent))

    def test_its_rows_are_a_rotation(self) -> None:
        leg = copy(stool(), "back right leg")
        assert leg.stance is not None
        rows = np.array(leg.stance.rows)
        assert rows @ rows.T == pytest.approx(np.eye(3))
        assert np.linalg.det(rows) == pytest.approx(1.0)

    def test_the_middle_line_ends_on_the_floor_and_under_the_seat(self) -> None:
        design = stool()
        leg = design.part("leg left")
        piece = leg.copies[0]
        (foot,) = (
            cut
            for operation in leg.operations
            for cut in operation.cuts
            if isinstance(cut, PlaneCut) and cut.normal[2] < 0
        )
        turn, move = transform(piece)
        low = turn @ np.array(foot.through.floats()) + move
        drop = 450.0 - 44.0
        expected = (90 - drop * math.tan(math.radians(8)), 80 - drop * math.tan(math.radians(5)), 0.0)
        assert low == pytest.approx(np.array(expected), abs=1e-5)
        assert turn @ np.array(foot.normal) == pytest.approx(np.array([0.0, 0.0, -1.0]), abs=1e-9)

    def test_legs_are_a_left_and_a_right_one(self) -> None:
        design = stool()
        assert [(part.key, len(part.copies)) for part in design.parts if part.name == "leg"] == [
            ("leg left", 2),
            ("leg right", 2),
        ]

    def test_equal_leans_of_a_square_leg_make_one_part(self) -> None:
        design = stool("lean: {bottom: {left: 8deg, front: 8deg}}")
        plain = solve(STOOL.replace("LEAN", "lean: {bottom: {left: 8deg, front: 8deg}}").split("  rung:")[0])
        assert [part.key for part in plain.parts] == ["seat", "leg"]
        # The rungs' holes go front to back and so tell left from right again.
        assert [part.key for part in design.parts if part.name == "leg"] == ["leg left", "leg right"]

    def test_bores_in_the_seat_follow_the_legs(self) -> None:
        design = stool()
        seat = design.part("seat")
        ways = [
            cut.way for operation in seat.operations for cut in operation.cuts if isinstance(cut, BoreCut)
        ]
        signs = {(round(way[0] * 1000), round(way[1] * 1000)) for way in ways}
        assert len(ways) == 4
        assert len({(abs(a), abs(b)) for a, b in signs}) == 1
        assert len(signs) == 4

    def test_nothing_takes_the_same_room(self) -> None:
        design = stool()
        assert find_interference(design, build_solids(design)) == ()

    def test_the_whole_is_as_high_as_the_seat(self) -> None:
        overall = stool().overall
        assert float(overall.low.up) == pytest.approx(0.0, abs=1e-5)
        assert float(overall.high.up) == pytest.approx(450.0, abs=1e-5)

    def test_upright_legs_stay_exact(self) -> None:
        leg = copy(stool("lean: {bottom: {left: 0deg}}"), "front left leg")
        assert leg.stance is None
        assert leg.shoulders.low.up.mm == 0
        assert float(leg.box.high.up) == 450 - 44 + 60


class TestStretchers:
    def test_a_rung_reaches_into_both_legs_and_the_bar_into_both_rungs(self) -> None:
        design = stool()
        counts = {joint.name: len(joint.contacts) for joint in design.joints}
        assert counts == {"leg tenons": 4, "rung tenons": 4, "bar tenons": 2}

    def test_the_middle_of_the_rung_is_at_its_height(self) -> None:
        design = stool()
        rung = copy(design, "left rung")
        points = corners(design, rung)
        assert (points[:, 2].min() + points[:, 2].max()) / 2 == pytest.approx(150.0, abs=1e-5)
        # At that height the leg's middle stands under its top by the drop times the tangent.
        drop = 450.0 - 44.0 - 150.0
        middle = (points[:, 0].min() + points[:, 0].max()) / 2
        assert middle == pytest.approx(90 - drop * math.tan(math.radians(8)), abs=1e-5)

    def test_a_rung_at_no_height_of_the_leg(self) -> None:
        found = faults(
            STOOL.replace("LEAN", LEAN).replace("up: 150mm}}\n      right", "up: 900mm}}\n      right")
        )
        assert "stretch" in {fault.kind for fault in found}

    def test_a_rung_that_runs_the_wrong_way(self) -> None:
        text = STOOL.replace("LEAN", LEAN).replace("    runs: deep\n", "    runs: across\n")
        assert "stretch" in {fault.kind for fault in faults(text)}


class TestWrong:
    @pytest.mark.parametrize(
        ("lean", "words"),
        [
            ("lean: {bottom: {up: 8deg}}", "not a side"),
            ("lean: {bottom: {left: 8deg, right: 8deg}}", "cannot lean to `right`"),
            ("lean: {bottom: {left: 60deg}}", "would lean 60°"),
            ("lean: {left: {front: 8deg}}", "runs up"),
            ("lean: {bottom: {left: 8deg}, top: {left: 2deg}}", "leans with 2 ends"),
            ("lean: {ends: square}", "is not said"),
        ],
    )
    def test_a_lean_that_says_too_little_or_too_much(self, lean: str, words: str) -> None:
        text = STOOL.replace("LEAN", lean).split("  rung:")[0]
        assert any(words in fault.message for fault in faults(text))

    def test_a_leaning_piece_has_no_sides(self) -> None:
        text = STOOL.replace("LEAN", LEAN).split("  rung:")[0] + "expect:\n  - front left leg.left = 0\n"
        assert "its length, width" in the_fault(text, "leaning-side").remedy

    def test_other_joints_cannot_hold_it(self) -> None:
        text = STOOL.replace("LEAN", LEAN).split("  rung:")[0]
        found = the_fault(text + "joints:\n  - butt: {between: [seat, leg]}\n", "nothing-meets")
        assert "round tenon" in found.remedy

    def test_a_tenon_shorter_than_its_shoulder_stands_off(self) -> None:
        text = STOOL.replace("LEAN", LEAN).replace(
            "diameter: 16mm, length: 20mm", "diameter: 16mm, length: 1mm"
        )
        assert "tenon-too-short" in {fault.kind for fault in faults(text)}


def test_a_leaning_assembly_leans_whole() -> None:
    design = solve(
        """
plangen: 1
project: {title: Easel, units: mm}
stock:
  ash: {kind: solid, species: white ash, rough: 4/4, thickness: 20mm,
    widths: 200mm to 300mm, lengths: [2400mm]}
assemblies:
  frame:
    parts:
      stile:
        stock: ash
        runs: up
        thick: deep
        length: 800mm
        width: 40mm
        place:
          left stile: {left: 0, front: 0, bottom: 0}
          right stile: {right: 400mm, front: 0, bottom: 0}
      rail: {stock: ash, runs: across, thick: deep, width: 40mm,
        place: {left: left stile.right, right: right stile.left, front: 0, bottom: 100mm}}
    joints:
      - mortise and tenon: {in: stile, for: rail, length: 20mm}
    place: {left: 0, front: 0, bottom: 0, lean: {top: {back: 15deg}}}
"""
    )
    rail, stile = copy(design, "frame.rail"), copy(design, "frame.left stile")
    assert rail.stance == stile.stance is not None
    up = rail.stance.direction((0.0, 0.0, 1.0))
    assert math.degrees(math.atan2(up[1], up[2])) == pytest.approx(15.0)
    (joint,) = design.joints
    assert joint.contacts[0].closes in (Side.LEFT, Side.RIGHT)
    assert joint.contacts[0].way == pytest.approx((1.0, 0.0, 0.0)) or joint.contacts[0].way == pytest.approx(
        (-1.0, 0.0, 0.0)
    )
    assert find_interference(design, build_solids(design)) == ()
    # It turns about the middle of its foot, whose back edge sinks by half a thickness times the sine.
    low = float(design.overall.low.up)
    assert low == pytest.approx(-10 * math.sin(math.radians(15)), abs=1e-5)
    assert float(design.part("frame.rail").blank.size(Axis.ACROSS)) == 400 - 80 + 40

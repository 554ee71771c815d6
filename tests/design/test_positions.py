"""Motions of hinges and slides, and the positions that a maker lists, against rotations worked out here."""

from __future__ import annotations

import math
from fractions import Fraction

import numpy as np
import pytest

from plangen.design.model import Design
from plangen.design.positions import moved_by
from plangen.findings import Findings
from plangen.joinery.space import Axis
from plangen.solids import build_solids, check_positions, transform
from tests.design.small import faults, solve, the_fault

CABINET = """
plangen: 1
project: {title: Cabinet, units: mm}
stock:
  ply: {kind: plywood, label: 18mm, thickness: 18mm, sheet: 1220mm x 2440mm}
hardware:
  hinge: {kind: butt hinge, length: 50mm, leaf: 18mm, thickness: 1.5mm,
    screws: {number: 4, gauge: 3mm, length: 12mm}}
  slide: {kind: drawer slide, length: 250mm, thickness: 12.5mm, height: 35mm, travel: 240mm,
    screws: {number: 6, gauge: 3mm, length: 12mm}}
parts:
  left side: {stock: ply, runs: up, thick: across, length: 400mm, width: 300mm,
    place: {left: 0, front: 0, bottom: 0}}
  right side: {stock: ply, runs: up, thick: across, length: 400mm, width: 300mm,
    place: {right: 500mm, front: 0, bottom: 0}}
  door: {stock: ply, runs: up, thick: deep, length: 180mm, width: 460mm,
    place: {left: left side.right + 2mm, front: 0, top: 400mm}}
  handle: {stock: ply, runs: up, thick: deep, length: 60mm, width: 20mm,
    place: {left: 400mm, back: 0, top: 340mm}}
assemblies:
  drawer:
    parts:
      cheek:
        stock: ply
        runs: deep
        thick: across
        length: 250mm
        width: 100mm
        place:
          left cheek: {left: 0, front: 0, bottom: 0}
          right cheek: {right: 439mm, front: 0, bottom: 0}
      end: {stock: ply, runs: across, thick: deep, width: 100mm,
        place: {left: left cheek.right, right: right cheek.left, front: 0, bottom: 0}}
    joints:
      - butt: {between: [cheek, end]}
    place: {left: left side.right + 12.5mm, front: 10mm, bottom: 60mm}
joints:
  - hinged: {name: door hinge, leaf: door, to: left side, with: hinge, number: 1,
      swing: front 110deg, gap: 2mm}
  - butt: {between: [door, handle]}
  - slides: {name: runners, out: drawer.cheek, in: [left side, right side], with: slide, contacts: 2}
positions:
  shut: {}
  open: {door hinge: 90deg, runners: 200mm}
"""


@pytest.fixture(scope="module")
def cabinet() -> Design:
    return solve(CABINET)


def corners(design: Design, name: str, position: str | None) -> np.ndarray:
    piece = design.copies[name]
    if position is not None:
        (found,) = (one for one in design.positions if one.name == position)
        rows, move = np.eye(3), np.zeros(3)
        if name in found.stances:
            rows, move = np.array(found.stances[name].rows), np.array(found.stances[name].move)
    turn, shift = transform(piece)
    points = build_solids(design).parts[piece.part].mesh.vertices @ turn.T + shift
    return points if position is None else points @ rows.T + move


class TestMotions:
    def test_a_door_takes_its_handle_along(self, cabinet: Design) -> None:
        motions = {motion.joint: motion for motion in cabinet.motions}
        assert set(motions["door hinge"].moves) == {"door", "handle"}
        assert motions["door hinge"].against == "left side"

    def test_a_drawer_goes_as_one_and_as_far_as_its_slide(self, cabinet: Design) -> None:
        motions = {motion.joint: motion for motion in cabinet.motions}
        assert set(motions["runners"].moves) == {"drawer.left cheek", "drawer.right cheek", "drawer.end"}
        assert motions["runners"].way == (0.0, -1.0, 0.0)
        assert motions["runners"].most == 240

    def test_the_pin_stands_upright_at_the_front_of_the_gap(self, cabinet: Design) -> None:
        (hinge,) = (motion for motion in cabinet.motions if motion.kind == "turns")
        assert np.abs(hinge.way) == pytest.approx([0, 0, 1])
        assert 18.0 <= hinge.point[0] <= 20.0
        assert hinge.point[1] <= 0.0


class TestPositions:
    def test_nothing_has_moved_in_the_first(self, cabinet: Design) -> None:
        assert cabinet.positions[0].stances == {}
        assert cabinet.positions[0].overall == cabinet.overall

    def test_the_drawer_is_out_by_what_is_typed(self, cabinet: Design) -> None:
        shut, out = (corners(cabinet, "drawer.end", name) for name in (None, "open"))
        assert out - shut == pytest.approx(np.tile([0.0, -200.0, 0.0], (len(shut), 1)))

    def test_the_door_is_where_a_rotation_about_its_pin_puts_it(self, cabinet: Design) -> None:
        (hinge,) = (motion for motion in cabinet.motions if motion.kind == "turns")
        shut, out = (corners(cabinet, "handle", name) for name in (None, "open"))
        sense = math.copysign(1.0, hinge.way[2])
        turned = np.array([[0.0, -sense, 0.0], [sense, 0.0, 0.0], [0.0, 0.0, 1.0]])
        pin = np.array(hinge.point)
        # The pin stands upright, so its own height does not matter.
        assert out == pytest.approx((shut - pin) @ turned.T + pin, abs=1e-6)
        # It swings out of the cabinet and not into it.
        assert out[:, 1].max() < 0.0

    def test_overall_sizes_follow(self, cabinet: Design) -> None:
        opened = cabinet.positions[1].overall
        door = corners(cabinet, "door", "open")
        assert float(opened.low.deep) == pytest.approx(door[:, 1].min())
        assert opened.size(Axis.UP) == cabinet.overall.size(Axis.UP)

    def test_half_way_is_half_the_angle(self, cabinet: Design) -> None:
        half = moved_by(cabinet, (("door hinge", Fraction(90)),), 0.5)["door"]
        assert math.degrees(math.atan2(half.rows[1][0], half.rows[0][0])) in (
            pytest.approx(45.0),
            pytest.approx(-45.0),
        )

    def test_the_way_is_free(self, cabinet: Design) -> None:
        findings = Findings()
        check_positions(cabinet, build_solids(cabinet), findings)
        assert list(findings) == []

    def test_a_post_in_the_way_is_met(self) -> None:
        post = (
            "  post: {stock: ply, runs: up, thick: deep, length: 400mm, width: 30mm,\n"
            "    place: {left: 300mm, back: -200mm, bottom: 0}}\n"
        )
        design = solve(CABINET.replace("assemblies:\n", post + "assemblies:\n"))
        findings = Findings()
        check_positions(design, build_solids(design), findings)
        assert {(one.kind, "open" in one.message) for one in findings} == {("position-collides", True)}
        assert any("of the way to" in one.message for one in findings)


PAIR = """
plangen: 1
project: {title: Two lockers, units: mm}
stock:
  ply: {kind: plywood, label: 18mm, thickness: 18mm, sheet: 1220mm x 2440mm}
hardware:
  hinge: {kind: butt hinge, length: 50mm, leaf: 18mm, thickness: 1.5mm,
    screws: {number: 4, gauge: 3mm, length: 12mm}}
assemblies:
  locker:
    parts:
      wall: {stock: ply, runs: up, thick: across, length: 400mm, width: 300mm,
        place: {left: 0, front: 0, bottom: 0}}
      door: {stock: ply, runs: up, thick: deep, length: 400mm, width: 200mm,
        place: {left: wall.right + 2mm, front: 0, bottom: 0}}
    joints:
      - hinged: {name: door hinge, leaf: door, to: wall, with: hinge, number: 2,
          swing: front 110deg, gap: 2mm}
    place:
      left locker: {left: 0, front: 0, bottom: 0}
      right locker: {mirror of: left locker, plane: across at 300mm}
positions:
  open: {left locker.door hinge: 90deg, right locker.door hinge: 90deg}
"""


def test_a_mirrored_door_swings_the_mirrored_way() -> None:
    design = solve(PAIR)
    left, right = (corners(design, f"{side} locker.door", "open") for side in ("left", "right"))
    assert left[:, 1].min() == pytest.approx(right[:, 1].min())
    assert left[:, 1].min() < -150
    # Both doors stand in front of their own walls.
    assert sorted(600 - left[:, 0]) == pytest.approx(sorted(right[:, 0]))


class TestWrong:
    def test_a_motion_that_is_not_there(self) -> None:
        fault = the_fault(CABINET.replace("{door hinge: 90deg,", "{door hinges: 90deg,"), "undefined-name")
        assert fault.remedy == "did you mean `door hinge`?"

    @pytest.mark.parametrize("values", ["{runners: 300mm}", "{door hinge: 170deg}"])
    def test_further_than_it_goes(self, values: str) -> None:
        text = CABINET.replace("{door hinge: 90deg, runners: 200mm}", values)
        the_fault(text, "moves-too-far")

    def test_a_length_for_a_turn(self) -> None:
        text = CABINET.replace("{door hinge: 90deg, runners: 200mm}", "{door hinge: 20mm}")
        assert faults(text)

    def test_more_positions_than_anyone_looks_at(self) -> None:
        more = "".join(f"  number {index}: {{runners: {index}mm}}\n" for index in range(60))
        the_fault(CABINET + more, "too-many-positions")

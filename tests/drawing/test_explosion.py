"""Pieces are drawn out against the way they close, far enough, and level with what they join otherwise."""

from __future__ import annotations

from itertools import combinations

import pytest

from plangen.description import read_description
from plangen.design.build import make_design
from plangen.design.model import Design
from plangen.drawing.explosion import closing_side, explode, explode_some, openings, ways_out
from plangen.drawing.stage import overlapping
from plangen.findings import Findings
from plangen.joinery.space import Axis, Point
from plangen.units import Length, millimetres
from tests.drawing.sample_table import sample_table
from tests.sample_design import sample_design

GAPS = {Axis.ACROSS: 100.0, Axis.DEEP: 120.0, Axis.UP: 90.0}
DESIGNS = pytest.mark.parametrize("design", [sample_design(), sample_table()], ids=["case", "table"])


@DESIGNS
def test_every_joint_opens_by_its_depth_and_the_gap(design: Design) -> None:
    offsets = explode(design, GAPS)
    for joint in design.joints:
        for contact in joint.contacts:
            side = closing_side(contact, design)
            axis = side.axis
            entered = float(
                design.copies[contact.moving].box.overlap(design.copies[contact.fixed].box).size(axis)
            )
            opened = offsets[contact.moving][axis.value] - offsets[contact.fixed][axis.value]
            assert -side.sign * opened >= max(entered, 0.0) + GAPS[axis] - 1e-6, (
                contact.moving,
                contact.fixed,
            )


@DESIGNS
def test_nothing_touches_once_it_is_drawn_out(design: Design) -> None:
    offsets = explode(design, GAPS)
    boxes = [
        copy.box.shifted(Point(*(millimetres(0) + _length(v) for v in offsets[name])))
        for name, copy in design.copies.items()
    ]
    for one, two in combinations(boxes, 2):
        assert one.overlap(two).empty


def _length(value: float) -> Length:
    return millimetres(str(round(value, 6)))


def test_a_case_opens_evenly_and_its_shelves_stay() -> None:
    offsets = explode(sample_design(), GAPS)
    # 100 gap + 1/4 in dado, to either side; the back 120 + 0.22 in behind, half of it each way
    assert offsets["left side"] == pytest.approx((-106.35, -62.794, 0))
    assert offsets["right side"] == pytest.approx((106.35, -62.794, 0))
    assert offsets["upper shelf"] == offsets["rail"] == pytest.approx((0, -62.794, 0))
    assert offsets["back"] == pytest.approx((0, 62.794, 0))


def test_a_table_opens_like_a_flower() -> None:
    offsets = explode(sample_table(), GAPS)
    # aprons enter the legs by 18
    assert offsets["front left leg"] == pytest.approx((-118, -138, -45))
    assert offsets["back right leg"] == pytest.approx((118, 138, -45))
    assert offsets["front apron"] == pytest.approx((0, -138, -45))
    assert offsets["left apron"] == pytest.approx((-118, 0, -45))
    assert offsets["top"] == pytest.approx((0, 0, 45))


def test_a_ring_of_openings_is_cut_and_not_followed_for_ever() -> None:
    design = sample_table()
    tenons = design.joints[0]
    first = tenons.contacts[0]
    turned = type(first)(first.moving, first.fixed, first.face, first.closes)
    ringed = type(design)(
        **{
            **{name: getattr(design, name) for name in design.__dataclass_fields__},
            "joints": (
                *design.joints,
                type(tenons)(
                    **{
                        **{name: getattr(tenons, name) for name in tenons.__dataclass_fields__},
                        "contacts": (turned,),
                        "name": "ring",
                    }
                ),
            ),
        }
    )
    assert explode(ringed, GAPS) == explode(design, GAPS)
    assert len(openings(ringed)) == len(openings(design))


# A tray: the bottom in grooves on four sides, a divider housed in the long sides and resting on the bottom.
TRAY = """\
plangen: 1
project: {title: Tray, units: mm}
stock:
  pine: {kind: solid, species: white pine, rough: 4/4, thickness: 18mm, widths: [240mm], lengths: [2400mm]}
  ply: {kind: plywood, title: Birch plywood, label: 6mm, thickness: 6mm, sheet: 1220mm x 2440mm}
parts:
  end:
    stock: pine
    runs: deep
    thick: across
    width: 150mm
    place:
      left: {left: 0, front: 0, back: 240mm, bottom: 0}
      right: {mirror of: left, plane: across at 250mm}
  side:
    stock: pine
    runs: across
    thick: deep
    width: 100mm
    place:
      front: {left: left.right, right: right.left, front: 12mm, bottom: 0}
      back: {mirror of: front, plane: deep at 120mm}
  bottom:
    stock: ply
    runs: across
    thick: up
    place: {left: left.right, right: right.left, front: front.back, back: back.front, bottom: 12mm}
  divider:
    stock: pine
    runs: deep
    thick: across
    width: 70mm
    place: {across: centred at 250mm, front: front.back, back: back.front, bottom: bottom.top}
joints:
  - butt: {name: corners, between: [end, side], glue: wood glue}
  - groove: {name: grooves, in: [end, side], for: bottom, depth: 6mm, floating: yes, gap: 1mm}
  - dado: {name: dadoes, in: side, for: divider, depth: 6mm}
  - rests: {name: seat, between: [bottom, divider]}
"""


def _tray() -> Design:
    findings = Findings()
    description = read_description(TRAY.encode(), "tray.yaml", findings)
    assert description is not None, findings.items
    solved = make_design(description, findings)
    assert solved is not None, findings.items
    return solved.design


def test_a_panel_held_on_four_sides_stays_while_they_leave_it() -> None:
    design = _tray()
    offsets = explode(design, GAPS)
    assert ways_out(design, ("bottom",)) == ()  # it can leave the four in no one direction
    x, y, z = offsets["bottom"]
    assert offsets["left"][0] < x < offsets["right"][0]
    assert offsets["front"][1] < y < offsets["back"][1]
    assert {offsets[name][2] for name in ("left", "right", "front", "back")} == {z}


def test_what_a_piece_enters_goes_before_what_it_rests_on() -> None:
    """The divider is housed in the sides: it stays level with them, although it also stands on the bottom."""
    offsets = explode(_tray(), GAPS)
    assert offsets["divider"][2] == offsets["front"][2] == offsets["bottom"][2]
    assert offsets["front"][1] < offsets["divider"][1] < offsets["back"][1]


def test_pieces_joined_from_several_sides_do_not_stand_in_each_other() -> None:
    """Every apron moved one way and the legs another, as a step of only one direction each would, collide."""
    design = sample_table()
    pushed = {name: (0.0, 0.0, 0.0) for name in design.copies if name != "top"}
    pushed["left apron"] = pushed["right apron"] = (0.0, 200.0, 0.0)
    pushed["back apron"] = (300.0, 0.0, 0.0)
    assert overlapping(design, pushed)
    opened = explode_some(design, list(pushed), [design.joints[0]], (), GAPS)
    assert overlapping(design, opened) == ()


def test_what_stands_already_stays_still() -> None:
    design = sample_table()
    legs = ["front left leg", "front right leg"]
    opened = explode_some(design, [*legs, "left apron", "right apron"], [design.joints[0]], legs, GAPS)
    assert {opened[leg] for leg in legs} == {(0.0, 0.0, 0.0)}
    assert opened["left apron"][1] > 0

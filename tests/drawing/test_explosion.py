"""Pieces are drawn out against the way they close, far enough, and level with what they join otherwise."""

from __future__ import annotations

from itertools import combinations

import pytest

from plangen.design.model import Design
from plangen.drawing.explosion import closing_side, explode, openings
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

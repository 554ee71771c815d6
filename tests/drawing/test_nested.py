"""Assemblies, positions and leaning pieces in pictures."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import numpy as np
import pytest

from plangen.design.model import Design, Joint
from plangen.drawing.camera import camera
from plangen.drawing.detail import choose
from plangen.drawing.exploded import _loose, exploded
from plangen.drawing.explosion import entered, explode, way_of
from plangen.drawing.hidden_lines import View
from plangen.drawing.nested import corners_of, inside, moved_by, standing, units, upright
from plangen.drawing.opened import offsets_for
from plangen.drawing.pictures import Pictures
from plangen.drawing.positions import position_picture
from plangen.drawing.scene import Placing, copy_actor, corners
from plangen.drawing.sheet.model import Drawing, Link, Meaning, Stroke
from plangen.drawing.stage import _within, stage
from plangen.drawing.whole import WholePiece
from plangen.findings import Findings
from plangen.joinery.space import Axis, Side, Stance
from plangen.sequence import order_of_work
from plangen.solids import Solids, build_solids
from plangen.takeoff import take_off
from plangen.units import LengthStyle
from tests.nested_design import nested_design

GAPS = dict.fromkeys(Axis, 60.0)


@pytest.fixture(scope="module")
def nested() -> Design:
    return nested_design()


@pytest.fixture(scope="module")
def solids(nested: Design) -> Solids:
    return build_solids(nested)


@pytest.fixture(scope="module")
def view(nested: Design, solids: Solids) -> View:
    return camera(nested)


@pytest.fixture(scope="module")
def pictures(nested: Design, solids: Solids) -> Pictures:
    findings = Findings()
    order = order_of_work(nested, ("draft",), findings)
    volumes = {key: solid.volume for key, solid in solids.parts.items()}
    lists = take_off(nested, order, findings, volumes)
    return Pictures(nested, solids, lists, order, LengthStyle("mm"))


def _stays_whole(offsets: Mapping[str, tuple[float, float, float]], drawer: str) -> bool:
    return len({at for name, at in offsets.items() if name.startswith(f"{drawer}.")}) == 1


def test_an_assembly_explodes_as_one(nested: Design, solids: Solids, view: View) -> None:
    for offsets in (explode(nested, GAPS), offsets_for(nested, solids, view, 178, 180)):
        assert _stays_whole(offsets, "top drawer")
        assert _stays_whole(offsets, "bottom drawer")
        assert offsets["left side"] != offsets["top drawer.left side"]
    assert len(set(units(nested).values())) == len(nested.copies) - 8


def test_an_assembly_has_an_exploded_view_of_its_first_copy_alone(nested: Design, pictures: Pictures) -> None:
    one = inside(nested, "drawer")
    assert sorted(one.copies) == sorted(nested.assemblies[0].copies[0].members)
    assert {joint.name for joint in one.joints} == set(nested.assemblies[0].joints)
    assert sum(use.number for joint in one.joints for use in joint.hardware) == 8, "half of both drawers'"
    offsets = explode(one, GAPS)
    assert len(set(offsets.values())) > 3
    assert _targets(pictures.assembly("drawer", 178, 120)) == {
        *(f"part:drawer.{piece}" for piece in ("face", "side", "back", "bottom")),
        "hardware:screw",
        "hardware:knob",
    }


def _targets(drawing: Drawing) -> set[str]:
    return {mark.target for mark in drawing.marks if isinstance(mark, Link)}


def test_a_leaning_piece_leaves_along_its_own_way(nested: Design) -> None:
    offsets = explode(nested, GAPS)
    contact = next(joint for joint in nested.joints if joint.name == "prop to shelf").contacts[0]
    out = np.subtract(offsets["prop"], offsets["top shelf"])
    assert np.linalg.norm(out) > 50
    assert np.allclose(np.cross(out, contact.way), 0, atol=1e-6)
    assert np.dot(out, contact.way) < 0, "against the way it closes"


def test_how_deep_a_leaning_piece_enters_is_not_how_far_the_boxes_overlap(nested: Design) -> None:
    contact = next(joint for joint in nested.joints if joint.name == "prop to shelf").contacts[0]
    way = np.array(way_of(contact, nested))
    reach = max(float(way @ np.array(corner)) for corner in corners_of(nested, "prop"))
    middle = float(way @ np.array([float(contact.face.middle(axis)) for axis in Axis]))
    assert entered(contact, nested) == pytest.approx(max(0.0, reach - middle))
    straight = next(joint for joint in nested.joints if joint.name == "slides").contacts[0]
    assert entered(straight, nested) == 0.0, "they stand apart"


def test_pieces_at_the_bench_stand_upright(nested: Design, solids: Solids) -> None:
    bench = upright(nested)
    assert bench.copies["prop"].stance is None
    points = corners(copy_actor(bench, solids, bench.copies["prop"], "plain").body)
    assert np.ptp(points, axis=0) == pytest.approx([20, 20, 400])
    assert np.ptp(corners(copy_actor(nested, solids, nested.copies["prop"], "plain").body), axis=0)[1] > 90


def test_a_position_places_what_moved_by_its_stances(nested: Design, solids: Solids) -> None:
    opened = nested.positions[1]
    stood = standing(nested, opened)
    points = corners(copy_actor(stood, solids, stood.copies["door"], "plain").body)
    assert points.min(axis=0) == pytest.approx([-20, -500, 280])
    assert points.max(axis=0) == pytest.approx([0, 0, 400])
    assert stood.copies["left side"] == nested.copies["left side"]
    leaning = replace(opened, stances={"prop": opened.stances["door"]})
    turned = moved_by(nested, leaning)["prop"]
    described = nested.copies["prop"].stance
    assert described is not None
    both = turned.after(described)
    assert both.point((1.0, 2.0, 3.0)) == pytest.approx(opened.stances["door"].point((1.0, 2.0, 3.0)))


def test_a_position_is_drawn_solid_with_the_described_one_in_phantom_lines(
    nested: Design, solids: Solids, view: View
) -> None:
    def drawn(number: int) -> tuple[list[Stroke], Drawing]:
        drawing = position_picture(WholePiece(nested, solids, nested.positions[number]), view, 120, 90)
        strokes = [mark for mark in drawing.marks if isinstance(mark, Stroke)]
        return [stroke for stroke in strokes if stroke.meaning is Meaning.PHANTOM], drawing

    assert drawn(0)[0] == [], "nothing has moved"
    phantom, drawing = drawn(1)
    assert len(phantom) == 4, "of nine edges those that no solid piece hides or has a line on"
    assert "Moved: door." in drawing.description
    for mark in drawing.marks:
        if isinstance(mark, Stroke):
            assert all(0 <= x <= 120 and 0 <= y <= 90 for x, y in mark.points)
    _, drawer = drawn(2)
    assert "Moved:" in drawer.description


def test_phantom_lines_end_where_a_solid_piece_stands_before_them(
    nested: Design, solids: Solids, view: View
) -> None:
    upright = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))

    def phantom(forward: float) -> float:
        """Give the length of the phantom lines with the door moved forward, in edges of the cabinet."""
        moved = replace(nested.positions[1], stances={"door": Stance(upright, (0.0, -forward, 0.0))})
        lengths: dict[Meaning, list[float]] = {}
        for mark in position_picture(WholePiece(nested, solids, moved), view, 120, 90).marks:
            if isinstance(mark, Stroke):
                along = float(np.hypot(*np.subtract(mark.points[0], mark.points[1])))
                lengths.setdefault(mark.meaning, []).append(along)
        return sum(lengths[Meaning.PHANTOM]) / max(lengths[Meaning.VISIBLE])

    assert phantom(40.0) < 0.7 * phantom(900.0), "the door right before it hides most of where it was"


def test_step_pictures_show_one_copy(pictures: Pictures) -> None:
    step = next(step for step in pictures.order.steps if "drawer.back to sides" in step.joints)
    drawing = pictures.step(step, 178, 120)
    assert _targets(drawing) == {"part:drawer.back", "part:drawer.side"}


def test_what_runs_on_slides_is_let_into_nothing_and_wants_no_detail(
    nested: Design, solids: Solids, view: View
) -> None:
    def runs_in(joint: Joint) -> Joint:
        contacts = tuple(replace(contact, closes=Side.BACK) for contact in joint.contacts)
        return replace(joint, contacts=contacts) if joint.name == "slides" else joint

    sliding = replace(nested, joints=tuple(runs_in(joint) for joint in nested.joints))
    contact = next(joint for joint in sliding.joints if joint.name == "slides").contacts[0]
    assert entered(contact, sliding) > 200, "it has to come out all the way"
    step = next(
        step for step in order_of_work(sliding, ("draft",), Findings()).steps if "slides" in step.joints
    )
    assert choose(sliding, step, stage(sliding, solids, step, view), Placing(0.1, 0.0, 0.0)) is None


def test_what_no_joint_holds_comes_out_the_way_its_step_puts_it_in(nested: Design, solids: Solids) -> None:
    loose = replace(nested, joints=tuple(joint for joint in nested.joints if joint.name != "slides"))
    findings = Findings()
    order = order_of_work(loose, ("draft",), findings)
    volumes = {key: solid.volume for key, solid in solids.parts.items()}
    view = camera(loose)
    found = _loose(loose, order)
    assert {name.split(".")[0] for name in found} == {"top drawer", "bottom drawer"}
    assert set(found.values()) == {Side.FRONT}
    offsets = offsets_for(loose, solids, view, 178, 180, found)
    assert offsets["top drawer.face"][1] < offsets["bottom shelf"][1] - 0.6 * 300
    assert _stays_whole(offsets, "top drawer")
    drawing = exploded(loose, solids, order, take_off(loose, order, findings, volumes), view, 178, 180)
    assert "assembly:drawer" in _targets(drawing)
    assert "part:drawer.face" not in _targets(drawing), "an assembly has a picture of its own"
    assert _loose(inside(loose, "drawer"), order) == {}, "inside a drawer every piece is joined"


def test_hardware_is_shown_on_the_copy_that_is_built_and_not_on_its_twin(
    nested: Design, pictures: Pictures
) -> None:
    twice = next(one for one in nested.assemblies if len(one.copies) > 1)
    step = next(
        one for one in pictures.order.steps if one.assembly == twice.key and one.picture.kind == "assembly"
    )
    shown, twin = twice.copies[0].members, twice.copies[1].members
    assert {*step.picture.new, *step.picture.context} <= set(shown)
    assert _within(nested, step, (shown[0], twin[0])) == (shown[0],)
    whole = replace(step, assembly=None)
    assert _within(nested, whole, (shown[0], twin[0])) == (shown[0], twin[0])

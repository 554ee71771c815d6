"""Sections: exact cut faces, planes that show something, marks that agree, sizes that are the model's."""

from __future__ import annotations

import tomllib
from dataclasses import replace
from functools import cache
from math import hypot
from pathlib import Path
from typing import Literal

import numpy as np
import pytest
import shapely
import trimesh

from plangen.design.model import Design
from plangen.drawing.cutting_plane import (
    FROM_FACE,
    LOOKS,
    CuttingPlane,
    candidates,
    choose_planes,
    joint_sites,
)
from plangen.drawing.hatching import CLEAR
from plangen.drawing.hidden_lines import orthographic
from plangen.drawing.part_sheets.figures import NO_BREAK_SPACE, bit, figure
from plangen.drawing.plane_marks import PARENT, plane_marks
from plangen.drawing.scene import Placing, fitted
from plangen.drawing.section_details import SMALLEST, joints_cut, wanted_details
from plangen.drawing.section_sheet import details_on, section_sheet
from plangen.drawing.section_sizes import clear_room, section_axes, section_gaps, section_sizes
from plangen.drawing.sections import Section, cut_through, section_marks
from plangen.drawing.sheet.measure import overlaps
from plangen.drawing.sheet.model import Drawing, Fill, Meaning, Stroke, Text, Tone
from plangen.drawing.views import whole_views
from plangen.joinery.space import Axis, Side
from plangen.pipeline import Source, check
from plangen.plates import Plates
from plangen.solids import Solids, build_solids, transform
from plangen.units import LengthStyle
from tests.drawing.sample_table import sample_table
from tests.part_sheets.everything import cabinets_by_chance
from tests.sample_design import sample_design

ROOT = Path(__file__).parents[2]
NAMES = ("step-stool", "wall-cabinet", "splayed-stool", "blanket-chest")
System = Literal["inch", "mm", "both"]


@cache
def made(name: str) -> tuple[Design, Solids]:
    if name in ("case", "table"):
        design = sample_design() if name == "case" else sample_table()
        return design, build_solids(design)
    data = (ROOT / "projects" / name / "project.yaml").read_bytes()
    checked = check(Source(name, "project.yaml", data)).checked
    assert checked is not None
    return checked.design, checked.solids


@cache
def planes(name: str) -> tuple[CuttingPlane, ...]:
    return choose_planes(*made(name))


@cache
def section(name: str, letter: str) -> Section:
    return cut_through(*made(name), next(one for one in planes(name) if one.letter == letter))


@cache
def sheet(name: str, letter: str, system: System) -> Drawing:
    return section_sheet(made(name)[0], section(name, letter), LengthStyle(system), 178.0, 190.0)


def letters(name: str) -> list[str]:
    return [plane.letter for plane in planes(name)]


def standing(name: str, copy: str) -> trimesh.Trimesh:
    design, solids = made(name)
    mesh = solids.parts[design.part_of[copy].key].mesh
    turn, move = transform(design.copies[copy])
    return trimesh.Trimesh(mesh.vertices @ turn.T + move, mesh.triangles, process=False)


def sliced(solid: trimesh.Trimesh, origin: np.ndarray, normal: np.ndarray) -> float:
    """The area of a slice by Green's theorem: its lines, each with the solid on its left."""
    lines, faces = trimesh.intersections.mesh_plane(solid, normal, origin, return_faces=True)
    if not len(lines):
        return 0.0
    one, two = lines[:, 0], lines[:, 1]
    left = np.cross(normal, two - one)
    out = solid.face_normals[faces]
    backwards = (left * out).sum(axis=1) > 0
    area = (np.cross(one, two) @ normal) / 2
    return float(np.where(backwards, -area, area).sum())


def without_hardware(design: Design) -> Design:
    return replace(design, joints=tuple(replace(j, hardware=()) for j in design.joints), fits=())


@pytest.mark.parametrize("name", NAMES)
def test_cut_faces_have_the_area_that_slicing_the_meshes_gives(name: str) -> None:
    design, solids = made(name)
    for plane in planes(name):
        found = {
            piece.copy: piece.region.area
            for piece in cut_through(without_hardware(design), solids, plane).pieces
        }
        origin = np.zeros(3)
        origin[plane.side.axis.value] = float(plane.at)
        expected = {}
        for copy in design.copies:
            area = sliced(standing(name, copy), origin, np.array(plane.view.toward, dtype=float))
            if area > 0.05:
                expected[copy] = area
        assert found == pytest.approx(expected, rel=1e-4, abs=0.05)
        assert found


@pytest.mark.parametrize("name", NAMES)
def test_no_plane_lies_in_a_face_or_near_one(name: str) -> None:
    design, _ = made(name)
    assert planes(name)
    for plane in planes(name):
        axis = plane.side.axis.value
        for copy in design.copies:
            solid = standing(name, copy)
            flat = np.abs(np.abs(solid.face_normals[:, axis]) - 1.0) < 1e-9
            at = solid.triangles_center[flat, axis]
            assert not len(at) or np.abs(at - float(plane.at)).min() >= FROM_FACE - 1e-5


@pytest.mark.parametrize("name", NAMES)
def test_the_first_looks_left_and_the_second_down_or_back_and_each_shows_joints(name: str) -> None:
    first, second, *others = planes(name)
    assert (first.letter, first.side) == ("A", Side.RIGHT)
    assert second.side in (Side.TOP, Side.FRONT)
    assert all(plane.shows for plane in others)
    assert first.shows or second.shows
    assert letters(name) == list("ABCD")[: len(planes(name))]
    design, _ = made(name)
    joints = {joint.name for joint in design.joints}
    sites = joint_sites(design)
    for plane in planes(name):
        assert set(plane.shows) <= joints
        for joint in plane.shows:  # it really runs through the pieces of that joint
            near = [site for site in sites if site.joint == joint]
            axis = plane.side.axis
            reach = (
                min(float(s.box.low.at(axis)) for s in near),
                max(float(s.box.high.at(axis)) for s in near),
            )
            assert reach[0] - 40 <= float(plane.at) <= reach[1] + 40


def test_a_chosen_plane_shows_more_than_any_other_of_its_direction() -> None:
    design, solids = made("wall-cabinet")
    sites = joint_sites(design)

    def grooves_open(at: float, axis: Axis) -> int:
        return len({
            (s.joint, s.part)
            for s in sites
            if s.feature.form.value == "slot"
            and float(s.box.low.at(axis)) < at < float(s.box.high.at(axis))
            and s.box.size(axis) == max(s.box.size(other) for other in Axis if other is not s.way.axis)
        })  # fmt: skip

    plane = planes("wall-cabinet")[0]
    axis = plane.side.axis
    others = [grooves_open(float(at), axis) for at in candidates(design, solids, sites, axis)]
    assert grooves_open(float(plane.at), axis) == max(others) > 0


def test_nothing_joined_is_not_cut() -> None:
    design, solids = made("case")
    assert choose_planes(replace(design, joints=()), solids) == ()


@pytest.mark.parametrize("name", NAMES)
def test_what_stands_before_the_plane_is_gone_and_what_is_behind_is_not_hidden(name: str) -> None:
    design, _solids = made(name)
    for letter in letters(name):
        cut = section(name, letter)
        axis, at = cut.plane.side.axis, float(cut.plane.at)
        tags = {edge.tag for edge in (*cut.outlines, *cut.behind)}
        for copy in design.copies.values():
            along = standing(name, copy.name).vertices[:, axis.value] - at
            before = along.min() >= 0 if cut.plane.side.high else along.max() <= 0
            assert not (before and copy.name in tags)
        region = cut.region.buffer(-0.05)
        lines = shapely.union_all([shapely.LineString(edge.points) for edge in cut.behind])
        assert lines.intersection(region).length < 0.1  # the cut faces hide what is behind them
        outline = shapely.union_all([shapely.LineString(edge.points) for edge in cut.outlines])
        border = shapely.union_all([piece.region.boundary for piece in cut.pieces])
        for whole in cut.wholes:  # a fastener bounds the wood with its own lines
            border = border.difference(whole.outline.buffer(0.05))
        # a round surface is cut in chords that leave the true curve by a tenth of a millimetre
        assert border.difference(outline.buffer(0.16)).length < 0.01 * border.length


@pytest.mark.parametrize("name", NAMES)
def test_hatching_fills_what_is_cut_and_nothing_else(name: str) -> None:
    for letter in letters(name):
        cut = section(name, letter)
        placing = fitted(cut.bounds, (10.0, 10.0, 160.0, 180.0))
        hatched = [
            m for m in section_marks(cut, placing) if isinstance(m, Stroke) and m.meaning is Meaning.HATCH
        ]
        lines = shapely.union_all([shapely.LineString(stroke.points) for stroke in hatched])
        assert lines.difference(placing.shape(cut.region).buffer(0.02)).length < 1e-6
        for piece in cut.pieces:
            if placing.shape(piece.region).buffer(-1.0).area > 4.0:
                assert lines.intersects(placing.shape(piece.region))
        text = shapely.box(*placing.shape(cut.region).centroid.buffer(4.0).bounds)
        kept = [
            shapely.LineString(m.points)
            for m in section_marks(cut, placing, clear=text)
            if isinstance(m, Stroke) and m.meaning is Meaning.HATCH
        ]
        assert all(line.distance(text) > 0.9 * CLEAR for line in kept)


def test_every_material_is_hatched_as_what_it_is() -> None:
    design, _ = made("wall-cabinet")
    kinds = {}
    for letter in letters("wall-cabinet"):
        for piece in section("wall-cabinet", letter).pieces:
            if piece.copy in design.copies:
                kinds.setdefault(design.part_of[piece.copy].stock, set()).add(piece.kind)
    assert kinds["ply"] | kinds["back ply"] <= {"plywood", "long grain"}
    assert kinds["maple"] == {"end grain", "long grain"}
    first = {piece.copy: piece.kind for piece in section("wall-cabinet", "A").pieces}
    # rails run across: a plane from front to back cuts them across the grain
    assert first["top frame rail"] == first["hanging rail"] == "end grain"


def test_fasteners_in_the_plane_are_whole_and_keep_hatching_off() -> None:
    # ISO 128-44:2001: fasteners, dowels and pins are not cut along their axis (from memory)
    cut = section("wall-cabinet", "B")
    dowels = [whole for whole in cut.wholes if "dowel" in whole.tag]
    assert len(dowels) >= 2
    design, _ = made("wall-cabinet")
    item = next(item for item in design.hardware.values() if item.kind == "dowel")
    assert item.length is not None
    assert item.diameter is not None
    for dowel in dowels:
        low_x, low_y, high_x, high_y = dowel.outline.bounds
        assert sorted((high_x - low_x, high_y - low_y)) == pytest.approx(
            sorted((float(item.length), float(item.diameter))), abs=0.1
        )
        assert cut.region.intersection(dowel.outline).area < 0.01
        # it stands in the middle of its two holes and so in both pieces
        touching = {p.copy for p in cut.pieces if p.region.buffer(0.3).intersects(dowel.outline)}
        assert len(touching & set(design.copies)) >= 2


@pytest.mark.parametrize("name", NAMES)
def test_every_size_is_a_difference_of_two_sides_and_the_picture_agrees(name: str) -> None:
    design, _ = made(name)
    for letter in letters(name):
        cut = section(name, letter)
        for size in section_sizes(design, cut, 0.2):
            sides = {
                copy: {
                    box.side(Side.of(size.axis, high))
                    for box in (design.copies[copy].box,)
                    for high in (0, 1)
                }
                for copy in (size.one, size.two)
            }
            assert {size.low, size.high} & sides[size.one]
            assert {size.low, size.high} & sides[size.two]
            index = section_axes(cut).index(size.axis)
            for begin, stop in size.places:
                assert abs(stop[index] - begin[index]) == pytest.approx(float(size.value), abs=1e-6)


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("system", ["inch", "mm"])
def test_every_printed_figure_is_a_value_of_the_model(name: str, system: System) -> None:
    design, _ = made(name)
    style = LengthStyle(system)
    printed = 0
    for letter in letters(name):
        cut, drawing = section(name, letter), sheet(name, letter, system)
        places = joints_cut(design, cut)
        boxes = [site.box for place in places for site in (place.site, place.mate) if site] + [
            copy.box for copy in design.copies.values()
        ]
        known = {
            figure(abs(one.side(Side.of(axis, a)) - two.side(Side.of(axis, b))), style)
            for axis in section_axes(cut)
            for one in boxes
            for two in boxes
            for a in (False, True)
            for b in (False, True)
        }
        figures = [m.text for m in drawing.marks if isinstance(m, Text) and m.role == "dimension"]
        known |= {
            f"⌀{NO_BREAK_SPACE}{bit(place.site.feature.diameter, style)}"
            for place in places
            if place.mate is not None and place.site.feature.diameter is not None
        }
        assert set(figures) <= known
        printed += len(figures)
    assert printed


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("system", ["inch", "mm", "both"])
def test_nothing_on_a_sheet_lies_over_anything_else(name: str, system: System) -> None:
    for letter in letters(name):
        drawing = sheet(name, letter, system)
        found = overlaps(drawing)
        assert found.count == 0, f"{letter}: {found}"
        assert drawing.width <= 178.0
        assert drawing.height <= 190.0


@pytest.mark.parametrize("name", NAMES)
def test_a_sheet_has_its_caption_scale_bar_and_the_marks_of_what_is_cut(name: str) -> None:
    design, _ = made(name)
    for letter in letters(name):
        drawing = sheet(name, letter, "mm")
        texts = [mark for mark in drawing.marks if isinstance(mark, Text)]
        assert any(text.text.startswith(f"Section {letter}–{letter}") for text in texts)
        assert sum(text.role == "scale" for text in texts) == 1
        cut = {design.part_of[p.copy].mark for p in section(name, letter).pieces if p.copy in design.copies}
        assert {text.text for text in texts if text.role == "balloon"} == cut


def test_small_joints_stand_enlarged_with_their_sizes() -> None:
    design, _ = made("blanket-chest")
    cut = section("blanket-chest", "B")
    places = joints_cut(design, cut)
    details = [one for one in wanted_details(design, cut, places, (), 0.125, 3) if one.needed]
    assert details
    axes = section_axes(cut)
    for detail in details:
        least = min(float(detail.box.size(axis)) for axis in axes)
        assert least * 0.125 < SMALLEST
        assert detail.scale.factor > 1.5 * 0.125
        site = next(place.site for place in places if place.box == detail.box)
        gauged = {(gauge.kind, gauge.axis) for gauge in detail.gauges}
        assert ("depth", site.way.axis) in gauged
        assert any(kind == "width" for kind, _ in gauged)
        floor = site.box.side(site.way.opposite)
        for gauge in detail.gauges:
            if gauge.kind == "clearance" and gauge.axis is site.way.axis:
                assert floor in (gauge.low, gauge.high)  # at the bottom of the joint, never at its mouth
    drawing = sheet("blanket-chest", "B", "mm")
    ringed = {m.text for m in drawing.marks if isinstance(m, Text) and m.role == "detail"}
    assert ringed
    for letter in ringed:
        assert any(isinstance(m, Text) and m.text.startswith(f"Detail {letter}, ") for m in drawing.marks)
    # at full size all is large enough
    assert not any(detail.needed for detail in wanted_details(design, cut, places, (), 1.0, 3))


def test_a_dowel_is_shown_with_the_depth_of_both_its_holes() -> None:
    design, _ = made("wall-cabinet")
    cut = section("wall-cabinet", "B")
    mated = [place for place in joints_cut(design, cut) if place.mate is not None]
    assert mated
    for place in mated:
        assert place.mate is not None
        assert place.mate.copy == place.entering != place.site.copy
        axis = place.site.way.axis
        assert place.box.size(axis) == place.site.box.size(axis) + place.mate.box.size(axis)
    (detail,) = (one for one in wanted_details(design, cut, mated, (), 1 / 6, 3) if "Dowel" in one.words)
    kinds = sorted(gauge.kind for gauge in detail.gauges)
    assert kinds == ["depth", "depth", "diameter"]


def test_the_play_between_loose_pieces_is_a_gap_and_that_of_a_joint_is_not() -> None:
    design, _ = made("wall-cabinet")
    gaps = section_gaps(design, clear_room(design, section("wall-cabinet", "A")))
    held = {frozenset((c.fixed, c.moving)) for joint in design.joints for c in joint.contacts}
    assert gaps
    for gap in gaps:
        assert frozenset((gap.one, gap.two)) not in held
        sides = [design.copies[gap.one].box.side(Side.of(gap.axis, True))]
        assert gap.low in sides
        assert gap.high == design.copies[gap.two].box.side(Side.of(gap.axis, False))
    shelf = design.copies["lower shelf"].box
    back = design.copies["back"].box
    play = back.low.deep - shelf.high.deep  # 1/16 in as the file has it
    assert any(gap.value == play for gap in gaps)


@pytest.mark.parametrize("name", [*NAMES, "case", "table"])
@pytest.mark.parametrize("system", ["inch", "mm", "both"])
def test_views_mark_every_section_once_and_lie_over_nothing(name: str, system: System) -> None:
    design, solids = made(name)
    drawing = whole_views(design, solids, LengthStyle(system), 178.0, 111.0, planes=planes(name))
    assert [group.key for group in drawing.groups] == [
        f"section-{plane.letter}"
        for side in (Side.FRONT, Side.RIGHT)
        for plane in planes(name)
        if PARENT[plane.side] is side
    ]
    said = [mark.text for mark in drawing.marks if isinstance(mark, Text) and mark.role == "section"]
    assert sorted(said) == sorted(letters(name) * 2)
    wide = [m for m in drawing.marks if isinstance(m, Stroke) and m.meaning is Meaning.CUTTING_PLANE]
    assert len(wide) == 2 * len(planes(name))
    assert overlaps(drawing).count == 0, str(overlaps(drawing))


@pytest.mark.parametrize("axis", list(Axis))
def test_a_mark_stands_where_the_plane_is_and_its_arrows_point_the_way_one_looks(axis: Axis) -> None:
    design, _ = made("table")
    at = design.overall.low.at(axis) + design.overall.size(axis) / 3
    plane = CuttingPlane("A", LOOKS[axis], at)
    parent = PARENT[plane.side]
    view = orthographic(parent)
    placing = Placing(0.1, 20.0, 30.0)
    marks, groups = plane_marks([plane], parent, view, placing, design.overall)
    assert [group.key for group in groups] == ["section-A"]
    (line,) = [m for m in marks if isinstance(m, Stroke) and m.meaning is Meaning.CENTRE]
    across = np.array([view.right, view.up])[:, axis.value]  # how the axis shows in the parent view
    index = int(np.argmax(np.abs(across)))
    expected = (20.0, 30.0)[index] + 0.1 * float(at) * across[index]
    assert [point[index] for point in line.points] == pytest.approx([expected] * 2)
    shafts = [m for m in marks if isinstance(m, Stroke) and m.meaning is Meaning.LEADER]
    heads = [m for m in marks if isinstance(m, Fill) and m.tone is Tone.INK]
    assert len(shafts) == len(heads) == 2
    looking = -np.array(plane.view.toward)
    for shaft, head in zip(shafts, heads, strict=True):
        (ax, ay), (bx, by) = shaft.points
        way = np.array([bx - ax, by - ay]) / hypot(bx - ax, by - ay)
        assert way == pytest.approx([looking @ np.array(view.right), looking @ np.array(view.up)], abs=1e-9)
        tip = np.array(head.loops[0][0])
        assert (tip - np.array([ax, ay])) @ way > hypot(bx - ax, by - ay)


def test_an_assembly_or_one_part_can_be_cut_by_itself() -> None:
    design, solids = made("wall-cabinet")
    plane = planes("wall-cabinet")[0]
    some = ("case top", "case bottom", "back")
    cut = cut_through(design, solids, plane, some)
    assert {piece.copy for piece in cut.pieces if piece.copy in design.copies} == set(some)
    whole = {piece.copy: piece.region.area for piece in section("wall-cabinet", "A").pieces}
    alone = cut_through(without_hardware(design), solids, plane, ("back",))
    assert [piece.copy for piece in alone.pieces] == ["back"]
    assert alone.pieces[0].region.area == pytest.approx(whole["back"], rel=1e-3)


def test_the_same_scene_gives_the_same_marks() -> None:
    design, solids = made("wall-cabinet")
    again = choose_planes(design, solids)
    assert again == planes("wall-cabinet")
    cut = cut_through(design, solids, again[0])
    assert section_sheet(design, cut, LengthStyle("mm"), 178.0, 190.0) == sheet("wall-cabinet", "A", "mm")


def test_sheets_of_cabinets_made_by_chance_lie_over_nothing() -> None:
    style = LengthStyle("inch")
    for cabinet in cabinets_by_chance(5):
        checked = check(Source("cabinet", "project.yaml", cabinet.text.encode())).checked
        assert checked is not None
        chosen = choose_planes(checked.design, checked.solids)
        drawn = [whole_views(checked.design, checked.solids, style, 178.0, 111.0, planes=chosen)]
        for plane in chosen:
            cut = cut_through(checked.design, checked.solids, plane)
            drawn.append(section_sheet(checked.design, cut, style, 178.0, 190.0))
        assert [str(overlaps(drawing)) for drawing in drawn] == ["nothing overlaps"] * len(drawn)


def test_the_booklet_shows_every_section_and_the_preview_none_of_them() -> None:
    data = (ROOT / "projects" / "step-stool" / "project.yaml").read_bytes()
    checked = check(Source("step-stool", "project.yaml", data)).checked
    assert checked is not None
    style = LengthStyle("inch")

    def plates(edition: Literal["publish", "sample"]) -> Plates:
        made = (checked.design, checked.solids, checked.take_off, checked.order)
        return Plates(*made, style, edition, "letter")

    def marked(drawing: Drawing) -> set[str]:
        return {mark.text for mark in drawing.marks if isinstance(mark, Text) and mark.role == "section"}

    full = plates("publish")
    assert marked(full.views(178.0, 160.0)) == {plane.letter for plane in full.sections} >= {"A", "B"}
    assert marked(plates("sample").views(178.0, 160.0)) == set()
    drawing = full.section("A", 178.0, 180.0)
    assert drawing.standard == checked.design.project.standard
    chapters = tomllib.loads((ROOT / "templates" / "chapters.toml").read_text(encoding="utf-8"))["chapter"]
    (sections,) = (one for one in chapters if one["name"] == "sections")
    assert "sample" not in sections["editions"]


@pytest.mark.parametrize("name", ["wall-cabinet", "blanket-chest"])
def test_no_letter_of_a_detail_says_two_things(name: str) -> None:
    """Letters leave out I, O and Q, and details take none of the planes' (ISO 128, from memory)."""
    data = (ROOT / "projects" / name / "project.yaml").read_bytes()
    checked = check(Source(name, "project.yaml", data)).checked
    assert checked is not None
    parts = (checked.design, checked.solids, checked.take_off, checked.order)

    def lettered(drawings: dict[str, Drawing]) -> list[str]:
        found: list[str] = []
        for drawing in drawings.values():
            texts = [mark for mark in drawing.marks if isinstance(mark, Text)]
            rings = [text.text for text in texts if text.role == "detail"]
            captions = [
                text.text.removeprefix("Detail ").partition(",")[0]
                for text in texts
                if text.role == "caption" and text.text.startswith("Detail ")
            ]
            assert sorted(rings) == sorted(captions)
            assert all(f"Detail {letter} at " in drawing.description for letter in rings)
            found += rings
        return found

    numbers = {}
    for room in ((178.0, 190.0), (178.0, 120.0)):
        plates = Plates(*parts, LengthStyle("mm"), "publish", "letter")
        drawn = {plane.letter: plates.section(plane.letter, *room) for plane in plates.sections}
        found = lettered(drawn)
        assert len(found) == len(set(found))
        assert not set(found) & {"I", "O", "Q", *drawn}
        backwards = Plates(*parts, LengthStyle("mm"), "publish", "letter")
        again = {plane.letter: backwards.section(plane.letter, *room) for plane in plates.sections[::-1]}
        assert lettered({letter: again[letter] for letter in drawn}) == found
        numbers[room] = [details_on(drawing) for drawing in drawn.values()]
    assert sum(number > 0 for number in numbers[178.0, 190.0]) > 1, numbers

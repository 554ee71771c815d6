"""The views of the whole piece: large where there is room, there at all where there is little."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import Literal

import pytest

from plangen.design.model import Position
from plangen.drawing.part_sheets.dual import parts
from plangen.drawing.sheet.fit import held
from plangen.drawing.sheet.measure import bounds, overlaps, texts_over_strokes, texts_over_texts
from plangen.drawing.sheet.model import Drawing, Meaning, Stroke, Text
from plangen.drawing.views import whole_views
from plangen.drawing.whole import Plain
from plangen.joinery.cuts import RoundCut
from plangen.joinery.operation import Operation
from plangen.joinery.space import Axis, Box, Stance
from plangen.solids import Solids, build_solids
from plangen.units import Length, LengthStyle, inches, print_length
from tests.drawing.sample_table import sample_table
from tests.sample_design import sample_design

DESIGNS = {"case": sample_design(), "table": sample_table()}
System = Literal["inch", "mm", "both"]


@cache
def solids(name: str) -> Solids:
    return build_solids(DESIGNS[name])


@cache
def views(name: str, system: System, width: float, height: float) -> Drawing:
    return whole_views(DESIGNS[name], solids(name), LengthStyle(system), width, height)


def texts(drawing: Drawing, role: str) -> list[str]:
    return [mark.text for mark in drawing.marks if isinstance(mark, Text) and mark.role == role]


@pytest.mark.parametrize("name", list(DESIGNS))
@pytest.mark.parametrize("system", ["inch", "mm", "both"])
@pytest.mark.parametrize("room", [(60.0, 40.0), (60.0, 200.0), (100.0, 60.0), (178.0, 111.0), (170.0, 200.0)])
def test_any_room_gets_its_drawing_and_nothing_lies_outside(
    name: str, system: System, room: tuple[float, float]
) -> None:
    drawing = views(name, system, *room)
    low_x, low_y, high_x, high_y = bounds(drawing.marks)
    assert min(low_x, low_y) >= -0.1
    assert high_x <= room[0] + 0.1
    assert high_y <= min(room[1], drawing.height) + 0.1
    assert drawing.width <= room[0]
    assert drawing.height <= room[1]
    assert len(texts(drawing, "dimension")) >= 3
    assert {"Front", "Right side"} <= set(texts(drawing, "caption"))


@pytest.mark.parametrize("name", list(DESIGNS))
@pytest.mark.parametrize("system", ["inch", "mm", "both"])
def test_on_a_page_nothing_lies_over_a_text(name: str, system: System) -> None:
    marks = views(name, system, 178.0, 111.0).marks
    assert texts_over_texts(marks) == ()
    assert texts_over_strokes(marks) == ()


def test_a_drawing_that_had_to_shrink_names_no_scale() -> None:
    plain = Drawing(
        100.0, 50.0, (Stroke(((0, 0), (120, 0)), Meaning.VISIBLE), Text((0, 10), "1:5", 3, role="scale"))
    )
    shrunk = held(plain, 60.0, 50.0)
    assert [mark for mark in shrunk.marks if isinstance(mark, Text)] == []
    assert bounds(shrunk.marks)[2] == pytest.approx(60.0)
    assert held(plain, 120.0, 50.0) is plain


def test_the_top_view_goes_before_the_others_shrink_far() -> None:
    assert "Top" in texts(views("table", "mm", 178.0, 111.0), "caption")
    assert "Top" not in texts(views("table", "mm", 60.0, 40.0), "caption")


def test_a_page_is_filled_with_a_scale_between_the_standard_ones() -> None:
    """The table is 700 by 500 by 900 mm: 1:8 takes 150 mm of width and 175 of height, 1:5 far more."""
    assert texts(views("table", "mm", 260.0, 212.0), "scale") == ["1:8"]


def test_both_systems_say_the_sizes_of_the_prose() -> None:
    """24 in are 609.6 mm, 609.5 to the half millimetre that prose is rounded to."""
    drawing = views("case", "both", 178.0, 111.0)
    assert "(609.5\u00a0mm)" in texts(drawing, "metric")
    inch, metric = parts(print_length(inches(24), LengthStyle("both")).replace("\u00a0in", "", 1))
    assert inch in texts(drawing, "dimension")
    assert metric in texts(drawing, "metric")


def test_hidden_edges_of_small_holes_are_left_out() -> None:
    """The case has screw holes of a few millimetres: at 1:8 they print under 2 mm, as if there were none."""
    design = DESIGNS["case"]
    undrilled = replace(
        design,
        parts=tuple(
            replace(part, operations=tuple(_undrilled(o) for o in part.operations)) for part in design.parts
        ),
    )
    assert any(a != b for a, b in zip(design.parts, undrilled.parts, strict=True))
    bare = whole_views(undrilled, build_solids(undrilled), LengthStyle(), 178.0, 111.0)
    assert hidden_lines(views("case", "inch", 178.0, 111.0)) == hidden_lines(bare)


def hidden_lines(drawing: Drawing) -> list[tuple[tuple[float, float], ...]]:
    return sorted(
        tuple((round(x, 3), round(y, 3)) for x, y in mark.points)
        for mark in drawing.marks
        if isinstance(mark, Stroke) and mark.meaning is Meaning.HIDDEN
    )


def _undrilled(operation: Operation) -> Operation:
    return replace(operation, cuts=tuple(cut for cut in operation.cuts if not isinstance(cut, RoundCut)))


def test_without_hidden_edges_there_are_none_and_all_else_is_the_same() -> None:
    whole = views("case", "mm", 178.0, 111.0)
    plain = whole_views(DESIGNS["case"], solids("case"), LengthStyle("mm"), 178.0, 111.0, hidden=False)
    hidden = [m for m in whole.marks if isinstance(m, Stroke) and m.meaning is Meaning.HIDDEN]
    assert hidden
    assert [m for m in plain.marks if isinstance(m, Stroke) and m.meaning is Meaning.HIDDEN] == []
    assert [m for m in whole.marks if m not in hidden] == list(plain.marks)


def test_a_position_has_the_sizes_that_it_has_then() -> None:
    design = DESIGNS["case"]
    name = next(iter(design.copies))
    lifted = Stance(((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)), (0.0, 0.0, 100.0))
    copy = design.copies[name]
    top = max(design.overall.high.up, copy.box.high.up + Length(100))
    overall = Box(design.overall.low, design.overall.high.with_(Axis.UP, top))
    position = Position("up", "One piece up", (), {name: lifted}, overall, copy.place)
    drawing = whole_views(design, solids("case"), LengthStyle("mm"), 178.0, 111.0, position=position)
    assert print_length(top - overall.low.up, LengthStyle("mm")) in texts(drawing, "dimension")
    assert drawing.title.endswith("one piece up")
    assert overlaps(drawing).count == 0


def test_only_parts_with_small_holes_are_built_again() -> None:
    design, shown = DESIGNS["case"], solids("case")
    bodies = Plain(shown).bodies(design, 0.1)
    own = {id(solid.mesh) for solid in shown.parts.values()}
    for body in bodies:
        part = design.part_of[body.tag]
        small = any(
            isinstance(cut, RoundCut) and float(cut.diameter) * 0.1 < 2.0
            for operation in part.operations
            for cut in operation.cuts
        )
        assert (id(body.mesh) in own) is not small
    assert {id(body.mesh) in own for body in bodies} == {True, False}

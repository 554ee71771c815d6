"""The drawn sheets: legible, aligned, the same each time, printing what the plan says and nothing else."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import replace
from fractions import Fraction
from functools import cache, lru_cache

import pytest

from plangen.drawing.dimension_lines import DimensionLook
from plangen.drawing.part_sheets import PartSheet, part_dimensions, part_sheet, printed_dimensions
from plangen.drawing.part_sheets.picture import Outlines
from plangen.drawing.part_sheets.placing import View
from plangen.drawing.part_sheets.plan import PartPlan
from plangen.drawing.part_sheets.proof import missing
from plangen.drawing.part_sheets.sights import arrangements
from plangen.drawing.part_sheets.viewing import Viewer
from plangen.drawing.scales import Scale
from plangen.drawing.sheet.measure import FIGURE_SHARE, bounds, texts_over_strokes, texts_over_texts
from plangen.drawing.sheet.model import Drawing, Fill, Meaning, Stroke, Text
from plangen.joinery.space import Axis
from plangen.solids import Solids, build_solids
from plangen.units import LengthStyle
from tests.part_sheets.pieces import hard_design
from tests.part_sheets.test_plan import needed
from tests.part_sheets.trees import assert_spans

DESIGN = hard_design()
KEYS = [part.key for part in DESIGN.parts]
ROOMS = [(178.0, 200.0), (178.0, 95.0)]
STYLES = {"inch": LengthStyle(), "mm": LengthStyle("mm"), "both": LengthStyle("both")}


@lru_cache(maxsize=1)
def solids() -> Solids:
    return build_solids(DESIGN)


@cache
def sheet(key: str, system: str = "inch", room: tuple[float, float] = ROOMS[0]) -> PartSheet:
    return part_sheet(DESIGN, solids(), DESIGN.part(key), STYLES[system], width=room[0], height=room[1])


def texts(drawing: Drawing) -> list[Text]:
    return [mark for mark in drawing.marks if isinstance(mark, Text)]


@pytest.mark.parametrize("key", KEYS)
@pytest.mark.parametrize(("system", "room"), [("inch", ROOMS[0]), ("mm", ROOMS[1])])
def test_no_text_lies_over_text_or_line_and_all_is_on_the_sheet(
    key: str, system: str, room: tuple[float, float]
) -> None:
    drawn = sheet(key, system, room)
    assert drawn.clashes == 0
    assert texts_over_texts(drawn.drawing.marks) == ()
    assert texts_over_strokes(drawn.drawing.marks) == ()
    low_x, low_y, high_x, high_y = bounds(drawn.drawing.marks)
    assert low_x >= -0.3
    assert low_y >= -0.3
    assert high_x <= room[0] + 0.3
    assert high_y <= drawn.drawing.height + 0.3 <= room[1] + 0.6


def read(text: str) -> tuple[int, Fraction]:
    """Read a printed inch dimension: how many equals, and the value in inches."""
    plain = text.strip("()").replace("\u00a0", " ")
    count = 1
    if match := re.match(r"(\d+) × ([^=]+)", plain):
        count, plain = int(match[1]), match[2].strip()
    return count, sum((Fraction(piece) for piece in plain.split()), Fraction(0))


@pytest.mark.parametrize("key", KEYS)
def test_every_printed_value_is_the_rounded_difference(key: str) -> None:
    """Read the printed figures back by hand: to the nearest 1/32 in, under an inch to the nearest 1/64 in."""
    for item in printed_dimensions(sheet(key)):
        _, value = read(item.text)
        for start, end in item.pairs:
            exact = abs(end - start).inches
            finest = Fraction(1, 32) if exact >= 1 else Fraction(1, 64)
            assert abs(value - exact) <= finest / 2
        assert item.reference == item.text.startswith("(")


@pytest.mark.parametrize("key", KEYS)
def test_the_printed_dimensions_are_complete_and_say_nothing_twice(key: str) -> None:
    drawn = sheet(key)
    for axis in Axis:
        said = [
            pair
            for item in printed_dimensions(drawn)
            if item.axis is axis and not item.reference
            for pair in item.pairs
        ]
        assert_spans(said, needed(DESIGN.part(key), axis))


@pytest.mark.parametrize("key", KEYS)
def test_the_figures_on_the_sheet_are_those_of_the_record(key: str) -> None:
    drawn = sheet(key)
    figures = Counter(text.text for text in texts(drawn.drawing) if text.role == "dimension")
    said = Counter(item.text for item in drawn.printed)
    said += Counter(note.text for note in drawn.plan.notes if note.kind == "radius")
    extra = figures - said
    assert said - figures == Counter()
    assert set(extra) <= {"0"}  # the origins of running dimensions


@pytest.mark.parametrize("key", KEYS)
def test_every_note_is_on_the_sheet(key: str) -> None:
    drawn = sheet(key)
    words = " ".join(text.text for text in texts(drawn.drawing) if text.role in ("note", "dimension"))
    for note in drawn.plan.notes:
        assert note.text in words


def views_lines(key: str) -> list[Stroke]:
    return [m for m in sheet(key).drawing.marks if isinstance(m, Stroke) and m.meaning is Meaning.VISIBLE]


def test_third_angle_views_are_in_line() -> None:
    """ISO 5456-2:1996: in third angle the view from above stands above the front view, in line with it."""
    drawn = sheet("back")
    assert drawn.views == ("Front face", "Top end")
    clusters: list[list[Stroke]] = []
    top = float("-inf")
    for line in sorted(views_lines("back"), key=lambda line: min(y for _, y in line.points)):
        if min(y for _, y in line.points) > top + 1:
            clusters.append([])
        clusters[-1].append(line)
        top = max(top, *(y for _, y in line.points))
    front, end = ([x for line in cluster for x, _ in line.points] for cluster in clusters)
    assert min(end) == pytest.approx(min(front), abs=0.01)
    assert max(end) == pytest.approx(max(front), abs=0.01)


def test_hands_name_each_other_and_tick_the_inside() -> None:
    for key, other in (("side left", "A-R"), ("side right", "A-L")):
        drawn = sheet(key)
        assert drawn.notes == (f"mirror of {other}",)
        assert drawn.views[0] == "Inside face"
        words = [text.text for text in texts(drawn.drawing)]
        assert f"mirror of {other}" in words
        assert words.count("✓") == 1


def test_a_mirror_pair_has_the_same_figures() -> None:
    left, right = (Counter(item.text for item in sheet(f"side {hand}").printed) for hand in ("left", "right"))
    assert left == right


def test_a_long_part_is_interrupted_and_says_so() -> None:
    drawn = sheet("long rail", "mm")
    assert "The middle is left out; sizes are true." in drawn.notes
    breaks = [m for m in drawn.drawing.marks if isinstance(m, Stroke) and m.meaning is Meaning.CUT]
    assert len(breaks) == 8  # two stretches left out, two break lines each, in two views
    assert any(item.text == "900" for item in drawn.printed)


def test_the_outline_is_never_drawn_thin() -> None:
    """The lower edge of the block's top view borders a 1/16 in chamfer's plane at its ends; it stays wide."""
    wide = [line for line in views_lines("block") if len(line.points) == 2]
    lengths = [abs(line.points[1][0] - line.points[0][0]) for line in wide]
    assert sum(length == pytest.approx(50.8, abs=0.01) for length in lengths) >= 2  # front and back edge, 1:1


def test_a_part_too_large_for_its_room_is_shrunk_whole_and_says_so() -> None:
    drawn = part_sheet(DESIGN, solids(), DESIGN.part("cabinet side"), STYLES["mm"], width=60, height=40)
    low_x, low_y, high_x, high_y = bounds(drawn.drawing.marks)
    assert min(low_x, low_y) >= -0.3
    assert high_x <= 60.3
    assert high_y <= 40.3
    assert drawn.clashes > 0
    assert drawn.scale == ""  # no scale could be named, and none is
    assert not [text for text in texts(drawn.drawing) if text.role == "scale"]
    assert {item.text for item in drawn.printed} == {
        item.text for item in sheet("cabinet side", "mm").printed
    }


def test_both_systems_stand_side_by_side() -> None:
    """23 in are 584.2 mm; the metric figure keeps at least 2.5 mm (series of ISO 3098, from memory)."""
    drawn = sheet("shelf", "both")
    by_role = {text.role: text for text in texts(drawn.drawing) if "584" in text.text or text.text == "23"}
    assert by_role["dimension"].text == "23"
    assert by_role["metric"].text.replace("\u00a0", " ") == "(584 mm)"
    assert by_role["metric"].size * FIGURE_SHARE >= 2.5 - 1e-9
    assert "23\u00a0(584\u00a0mm)" in {item.text for item in drawn.printed}


@pytest.mark.parametrize("key", ["side left", "rail with tenons"])
def test_two_systems_are_legible_too(key: str) -> None:
    marks = sheet(key, "both").drawing.marks
    assert texts_over_texts(marks) == ()
    assert texts_over_strokes(marks) == ()


def test_the_same_part_gives_the_same_drawing() -> None:
    one = part_sheet(DESIGN, solids(), DESIGN.part("leg"), STYLES["inch"], width=178, height=200)
    two = part_sheet(DESIGN, build_solids(DESIGN), DESIGN.part("leg"), STYLES["inch"], width=178, height=200)
    assert one.drawing == two.drawing


def test_binder_figures_are_larger() -> None:
    part = DESIGN.part("rail with tenons")
    large = part_sheet(DESIGN, solids(), part, STYLES["inch"], width=178, height=200, figure_height=5.0)
    sizes = {text.size for text in texts(large.drawing) if text.role == "dimension"}
    assert min(sizes) > max(text.size for text in texts(sheet(part.key).drawing) if text.role == "dimension")
    assert texts_over_texts(large.drawing.marks) == ()
    assert texts_over_strokes(large.drawing.marks) == ()


def test_a_figure_that_is_lacking_or_astray_is_found() -> None:
    view, plan = finished_view("side left")
    assert not [text for text in missing(plan, [view]) if "place" in text]
    (figure, *_) = [m for m in view.marks if isinstance(m, Text) and m.role == "dimension" and m.text != "0"]
    without = replace(view, marks=tuple(mark for mark in view.marks if mark is not figure))
    assert set(missing(plan, [without])) - set(missing(plan, [view])) == {f"{figure.text} is not printed"}
    no_arrows = replace(view, marks=tuple(mark for mark in view.marks if not isinstance(mark, Fill)))
    astray = {text for text in missing(plan, [no_arrows]) if "place" in text}
    assert len(astray) == len({item.text for item in view.printed})


def finished_view(key: str) -> tuple[View, PartPlan]:
    """The principal view of a part at 1:4."""
    part = DESIGN.part(key)
    plan = part_dimensions(part, STYLES["inch"])
    viewer = Viewer(plan, Outlines(part, solids()), STYLES["inch"], DimensionLook())
    arrangement = arrangements(plan)[0]
    placed = viewer.dimensioned(arrangement, arrangement.sights[0], Scale(1, 4), ())
    view = viewer.finished(arrangement, placed, 44.0)
    assert view is not None
    return view, plan


@pytest.mark.parametrize("key", KEYS)
def test_large_figures_and_two_systems_stay_in_the_room_at_a_named_scale(key: str) -> None:
    drawn = part_sheet(
        DESIGN, solids(), DESIGN.part(key), STYLES["both"], width=178, height=165, figure_height=5.0
    )
    low_x, low_y, high_x, high_y = bounds(drawn.drawing.marks)
    assert min(low_x, low_y) >= -0.3
    assert high_x <= 178.3
    assert high_y <= drawn.drawing.height + 0.3 <= 165.6
    assert re.fullmatch(r"\d+:\d+", drawn.scale)
    assert drawn.clashes == 0
    assert min(text.size for text in texts(drawn.drawing) if text.role == "dimension") * FIGURE_SHARE >= 2.49

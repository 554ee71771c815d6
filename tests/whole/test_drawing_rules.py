"""Rules that hold for every drawing of a build: lettering, scale bars, characters that the typeface has."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

from plangen.drawing.sheet.lettering import LEAST_SIZE, figure_height, missing_glyphs
from plangen.drawing.sheet.look import LEAST_LETTERING
from plangen.drawing.sheet.measure import bounds, overlaps
from plangen.drawing.sheet.model import Drawing, Fill, Text, Tone
from plangen.pipeline import Source, check
from plangen.plates import Plates
from plangen.units import LengthStyle

PROJECTS = Path(__file__).resolve().parents[2] / "projects"
NAMES = ("step-stool", "splayed-stool", "wall-cabinet")
SIGNS = ("face side",)  # a tick on the wood, drawn as large as its face lets it


@cache
def drawings(name: str) -> dict[str, Drawing]:
    """Every drawing that the booklet and the files of a project hold, by what it is."""
    folder = PROJECTS / name
    kept = {"marks.json": (folder / "marks.json").read_bytes()}
    checked = check(Source(name, "project.yaml", (folder / "project.yaml").read_bytes(), kept)).checked
    assert checked is not None
    design = checked.design
    style = LengthStyle(design.project.units)
    plates = Plates(design, checked.solids, checked.take_off, checked.order, style, "publish", "letter")
    return dict(_drawn(plates))


def _drawn(plates: Plates) -> Iterator[tuple[str, Drawing]]:
    width, height = 178.0, 200.0
    yield "views", plates.views(width, height)
    yield "exploded", plates.exploded(width, height)
    for part in plates.design.parts:
        yield f"part {part.mark}", plates.part_sheet(part, width, height)
    for plan in plates.take_off.plans:
        for diagram in plan.diagrams:
            yield f"cutting {plan.stock} {diagram.number}", plates.cutting((diagram,), width, height)
    for step in plates.order.steps:
        yield f"step {step.number}", plates.step(step, width, 120.0)
    for number, row in enumerate(plates.hardware(width, height)):
        yield f"hardware {number}", row
    for key, pages in plates.patterns():
        for number, page in enumerate(pages):
            yield f"pattern {key} {number}", page


@pytest.mark.parametrize("name", NAMES)
def test_no_lettering_is_smaller_than_the_standard_has_it(name: str) -> None:
    # ISO 3098-1:2015: figures of 2.5 mm at least on A4 (from memory).
    small = [
        (what, mark.text, round(figure_height(mark.size), 2))
        for what, drawing in drawings(name).items()
        for mark in drawing.marks
        if isinstance(mark, Text) and mark.role not in SIGNS and mark.size < LEAST_SIZE - 1e-6
    ]
    assert small == []


@pytest.mark.parametrize("name", NAMES)
def test_dimensions_are_lettered_as_the_drawing_standard_asks(name: str) -> None:
    # ASME Y14.2-2014: 3 mm for dimensions (from memory); these projects are in inches and say no standard.
    for what, drawing in drawings(name).items():
        assert drawing.standard == "asme", what
        if what.startswith(("part", "views")):
            for mark in drawing.marks:
                if isinstance(mark, Text) and mark.role == "dimension":
                    assert figure_height(mark.size) >= LEAST_LETTERING["asme"], (what, mark.text)


def _bars(drawing: Drawing) -> int:
    """Count the texts that end a ruler: a length with its unit, over black and white stretches."""
    black = [mark for mark in drawing.marks if isinstance(mark, Fill) and mark.tone is Tone.INK]
    stretches = [one.loops[0] for one in black if len(one.loops[0]) == 4]
    ends = 0
    for mark in drawing.marks:
        if isinstance(mark, Text) and mark.text == "0" and mark.role == "caption":
            ends += any(
                abs(loop[0][0] - mark.at[0]) < 0.01 and 0 < mark.at[1] - loop[0][1] < 4 for loop in stretches
            )
    return ends


@pytest.mark.parametrize("name", NAMES)
def test_every_drawing_to_scale_has_one_bar_that_proves_it(name: str) -> None:
    for what, drawing in drawings(name).items():
        if what.startswith(("views", "part", "cutting")):
            assert _bars(drawing) == 1, what
        if what.startswith("pattern"):
            rulers = [mark for mark in drawing.marks if isinstance(mark, Text) and mark.role == "ruler"]
            keyed = any(isinstance(mark, Text) and mark.role == "map" for mark in drawing.marks)
            assert rulers or keyed or not drawing.marks, what


@pytest.mark.parametrize("name", NAMES)
def test_every_character_can_be_printed(name: str) -> None:
    words = "".join(
        mark.text for drawing in drawings(name).values() for mark in drawing.marks if isinstance(mark, Text)
    )
    assert missing_glyphs(words) == ""


LONG = "A remarkably long title with very many words, and Donaudampfschifffahrtsgesellschaftskapitän in it"


def test_names_of_any_length_stay_on_the_sheet_and_legible() -> None:
    text = (PROJECTS / "step-stool" / "project.yaml").read_text(encoding="utf-8")
    for short in (
        "title: Two-Step Stool",
        "maker: Sample Workshop",
        "title: Poplar",
        'title: "Walnut plug, face grain"',
    ):
        assert text.count(short) == 1
        text = text.replace(short, f'{short.split(":")[0]}: "{LONG}"')
    for part in ("  lower tread:\n", "  side:\n"):
        text = text.replace(part, f'{part}    title: "{LONG}"\n', 1)
    checked = check(Source("stool", "project.yaml", text.encode())).checked
    assert checked is not None
    style = LengthStyle("inch")
    plates = Plates(
        checked.design, checked.solids, checked.take_off, checked.order, style, "publish", "letter"
    )
    for what, drawing in _drawn(plates):
        low_x, low_y, high_x, high_y = bounds(drawing.marks)
        assert min(low_x, low_y) > -0.6, what
        assert high_x < drawing.width + 0.6, what
        assert high_y < drawing.height + 0.6, what
        assert overlaps(drawing).count == 0, what
        if not what.startswith("pattern"):
            sizes = [mark.size for mark in drawing.marks if isinstance(mark, Text) and mark.role not in SIGNS]
            assert min(sizes, default=LEAST_SIZE) >= LEAST_SIZE - 1e-6, what

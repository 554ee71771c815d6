"""The chart under a sheet with no room for both systems: every inch figure of it, turned into millimetres."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from plangen.drawing.gauge_sheets import printed_value
from plangen.drawing.part_sheets import PartSheet, part_sheet
from plangen.drawing.part_sheets.conversion import HEADING
from plangen.drawing.sheet.measure import overlaps
from plangen.drawing.sheet.model import Text
from plangen.pipeline import Source, check
from plangen.units import LengthStyle

CHEST = Path(__file__).parents[2] / "projects" / "blanket-chest" / "project.yaml"


@pytest.fixture(scope="module")
def sheet() -> PartSheet:
    made = check(Source("blanket-chest", "project.yaml", CHEST.read_bytes())).checked
    assert made is not None
    part = next(part for part in made.design.parts if part.mark == "D")
    return part_sheet(made.design, made.solids, part, LengthStyle("both"), width=178, height=200)


def cells(sheet: PartSheet) -> dict[Fraction, Fraction]:
    texts = [mark.text for mark in sheet.drawing.marks if isinstance(mark, Text) and mark.role == "chart"]
    assert texts[0] == HEADING
    pairs = [text.split("\u00a0=\u00a0") for text in texts if "\u00a0=\u00a0" in text]
    return {printed_value(inches): printed_value(millimetres) for inches, millimetres in pairs}


def test_the_chart_holds_every_figure_of_the_drawing(sheet: PartSheet) -> None:
    figures = {printed_value(item.text) for item in sheet.printed}
    assert len(figures) > 10
    assert figures <= set(cells(sheet))


def test_the_chart_turns_inches_into_millimetres(sheet: PartSheet) -> None:
    # The inch is 25.4 mm exactly (ISO 80000-3:2019); rounding may cost half of 1/32 in and half of 0.5 mm.
    for inches, millimetres in cells(sheet).items():
        assert abs(inches * Fraction(254, 10) - millimetres) <= Fraction(254, 640) + Fraction(1, 4)


def test_the_sheet_is_to_scale_and_clear(sheet: PartSheet) -> None:
    assert sheet.scale
    assert overlaps(sheet.drawing).count == 0
    assert sheet.drawing.height <= 200

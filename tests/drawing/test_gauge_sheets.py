"""The rules for dimensions, measured: good sheets keep them, and a spoilt one is found out."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from functools import cache

import pytest

from plangen.drawing.gauge_model import Gauge
from plangen.drawing.gauge_sheets import gauge_sheet, printed_value
from plangen.drawing.part_sheets import PartSheet, PrintedDimension, part_sheet
from plangen.drawing.sheet.model import Meaning, Stroke, Text
from plangen.solids import build_solids
from plangen.units import ZERO, LengthStyle
from tests.part_sheets.pieces import hard_design

DESIGN = hard_design()
KEYS = [part.key for part in DESIGN.parts]


@cache
def sheet(key: str, units: str = "inch") -> PartSheet:
    part = DESIGN.part(key)
    style = LengthStyle(units)  # type: ignore[arg-type]
    return part_sheet(DESIGN, build_solids(DESIGN), part, style, width=178, height=200)


def failing(one: PartSheet) -> dict[str, Gauge]:
    return {gauge.name: gauge for gauge in gauge_sheet(one, 2.5) if not gauge.holds}


@pytest.mark.parametrize("units", ["inch", "mm", "both"])
@pytest.mark.parametrize("key", KEYS)
def test_a_sheet_keeps_the_rules(key: str, units: str) -> None:
    # In the other system a size that follows may be half a step off from the sum of the rounded others.
    loose = {"figures in parentheses off from the sum of the others"} if units == "mm" else set()
    assert set(failing(sheet(key, units))) <= loose


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("2\u00a0×\u00a03/4", Fraction(3, 4)),
        ("(14\u00a01/4)", Fraction(57, 4)),
        ("5\u00a0×\u00a032 = 160", Fraction(32)),
        ("3\u00a013/16\u00a0(97\u00a0mm)", Fraction(61, 16)),
        ("412.5", Fraction(825, 2)),
    ],
)
def test_printed_sizes_are_read(text: str, value: Fraction) -> None:
    assert printed_value(text) == value


def firm(one: PartSheet) -> list[PrintedDimension]:
    return [item for item in one.printed if not item.reference and item.kind != "overall"]


def test_a_size_left_out_is_found() -> None:
    one = next(sheet(key) for key in KEYS if firm(sheet(key)))
    lost = firm(one)[0]
    spoilt = replace(one, printed=tuple(item for item in one.printed if item is not lost))
    assert "coordinates that no figure tells" in failing(spoilt)


def test_a_size_told_twice_is_found() -> None:
    one = next(sheet(key) for key in KEYS if firm(sheet(key)))
    assert "stretches that are told twice" in failing(replace(one, printed=(*one.printed, firm(one)[0])))


def test_a_place_given_from_another_cut_is_found() -> None:
    for key in KEYS:
        one = sheet(key)
        places = [item for item in one.printed if item.kind == "location"]
        if len(places) > 1:
            break
    moved = replace(places[0], pairs=((places[0].pairs[0][1], ZERO),))
    spoilt = replace(one, printed=tuple(moved if item is places[0] else item for item in one.printed))
    assert "places that are not given from an end" in failing(spoilt)


def test_a_misprint_in_parentheses_is_found() -> None:
    one = next(sheet(key) for key in KEYS if any(item.reference for item in sheet(key).printed))
    told = next(item for item in one.printed if item.reference)
    spoilt = replace(one, printed=tuple(replace(i, text="(99)") if i is told else i for i in one.printed))
    assert failing(spoilt)["figures in parentheses off from the sum of the others"].at == "(99)"


def test_small_figures_and_close_lines_are_found() -> None:
    one = sheet(KEYS[0])
    marks = one.drawing.marks
    small = tuple(replace(m, size=2.0) if isinstance(m, Text) and m.role == "dimension" else m for m in marks)
    spoilt = failing(replace(one, drawing=replace(one.drawing, marks=small)))
    assert "least height of a dimension's figures, mm" in spoilt
    line = next(m for m in marks if isinstance(m, Stroke) and m.meaning is Meaning.DIMENSION and not m.closed)
    level = line.points[0][1] == line.points[-1][1]
    beside = replace(line, points=tuple((x, y + 1) if level else (x + 1, y) for x, y in line.points))
    spoilt = failing(replace(one, drawing=replace(one.drawing, marks=(*marks, beside))))
    assert "least gap between dimension lines, heights of a figure" in spoilt

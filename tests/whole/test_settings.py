"""A caliper reading given for one build moves what depends on it, as far as it should, and nothing else."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import Any

import pytest

from plangen.record import compare, make_record
from plangen.record.model import Comparison
from plangen.units import LengthStyle
from tests.whole.sums import MM, Project

READING = Fraction("0.69")  # inches, where the file says 0.703


def _record(checked: Any) -> dict[str, Any]:
    return make_record(
        checked.design,
        checked.take_off,
        checked.order,
        LengthStyle("inch"),
        "letter",
        "publish",
        (),
        (),
        "",
        (),
    )


@pytest.fixture(scope="module")
def moved(checked: Callable[..., Any]) -> Comparison:
    new = checked("wall-cabinet", f"ply.thickness={float(READING)}in")
    return compare(_record(checked("wall-cabinet")), _record(new))


@pytest.fixture(scope="module")
def thinner() -> Fraction:
    """How much thinner the sheet is, inches."""
    return Project("wall-cabinet")["ply.thickness"] - READING


def _blank(moved: Comparison) -> dict[tuple[str, str], Fraction]:
    """The change of every size of a blank, inches, by title and measure."""
    return {
        (one.part, one.measure): (one.new.exact - one.old.exact) / MM
        for one in moved.sizes
        if one.mark and not one.work and one.old is not None and one.new is not None
    }


def test_the_blanks_that_move(moved: Comparison, thinner: Fraction) -> None:
    """Between two sheets there is twice as much more room; a sheet is thinner by once as much."""
    parts = ("Side, left", "Side, right", "Case top", "Case bottom", "Shelf")
    wanted = {(part, "thickness"): -thinner for part in parts}
    for part in ("Case top", "Case bottom", "Hanging rail", "Spacer rail", "Shelf"):
        wanted[part, "length"] = 2 * thinner
    for part in ("Case top", "Case bottom"):
        wanted[part, "shoulder length"] = 2 * thinner
    for measure in ("length", "width", "shoulder length", "shoulder width"):
        wanted["Back", measure] = 2 * thinner
    assert _blank(moved) == wanted


def test_what_is_fixed_stays(moved: Comparison) -> None:
    """The outside of the cabinet and its solid frame do not follow the sheet."""
    named = {one.measure for one in moved.sizes if not one.mark}
    assert not named & {"overall across", "overall deep", "overall up", "width", "height", "depth"}
    assert named == {"inside"}
    frame = {"Stile", "Frame rail"}
    assert not [one for one in moved.sizes if one.part in frame]
    assert not [one for one in moved.work if one.part in frame]
    assert not moved.parts
    assert not moved.joints


def test_the_work_that_moves(moved: Comparison, thinner: Fraction) -> None:
    """The rabbets are as wide as the sheet is thick; the groove for the thin back stays."""
    sides = {"Side, left", "Side, right"}
    rabbets = [one for one in moved.sizes if one.part in sides and one.work.startswith("Rabbet")]
    widths = {(one.new.exact - one.old.exact) / MM for one in rabbets if one.measure.startswith("size")}
    assert widths == {-thinner}
    grooves = [one for one in moved.sizes if one.work.startswith("Groove")]
    assert not [one for one in grooves if one.measure == "depth"]
    pins = [one for one in moved.sizes if one.part in sides and one.work == "Hole"]
    assert not pins  # the shelf pins are measured from the front and the bottom


def test_who_holds_cut_parts_is_told(moved: Comparison) -> None:
    acts = " ".join(moved.acts)
    for part in ("Side, left", "Case top", "Shelf", "Back", "Hanging rail"):
        assert f"already cut {_mark(moved, part)} ({part})" in acts
    assert "Stile" not in acts


def _mark(moved: Comparison, part: str) -> str:
    return next(one.mark for one in moved.sizes if one.part == part)


def test_another_width_moves_lengths_across_only(checked: Callable[..., Any]) -> None:
    new = checked("step-stool", "width=18in")
    found = compare(_record(checked("step-stool")), _record(new))
    assert _blank(found) == {
        ("Lower tread", "length"): Fraction(1),
        ("Lower tread", "shoulder length"): Fraction(1),
        ("Upper tread", "length"): Fraction(1),
        ("Upper tread", "shoulder length"): Fraction(1),
        ("Rail", "length"): Fraction(1),
    }
    assert not found.hardware
    assert {one.part for one in found.sizes if one.mark} == {"Lower tread", "Upper tread", "Rail"}


def test_the_same_value_is_no_change(checked: Callable[..., Any]) -> None:
    new = checked("wall-cabinet", "ply.thickness=0.703in")
    assert not compare(_record(checked("wall-cabinet")), _record(new)).changed

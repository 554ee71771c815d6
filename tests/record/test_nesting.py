"""Assemblies, motions, positions and leaning pieces, recorded and compared."""

from __future__ import annotations

import json
from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest

from plangen.design.model import Design
from plangen.joinery.space import Axis, turn_about
from plangen.record import changes_markdown, compare, record_bytes
from plangen.units import LengthStyle, millimetres
from tests.nested_design import box, nested_design
from tests.record.sample_records import record, with_part

MM = LengthStyle("mm")


@pytest.fixture(scope="module")
def nested() -> Design:
    return nested_design()


def made(design: Design) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(record_bytes(record(design, style=MM)))
    return found


def changes(old: Design, new: Design) -> str:
    return changes_markdown(compare(made(old), made(new)), MM)


def test_an_assembly_is_recorded_with_what_goes_into_one(nested: Design) -> None:
    (drawer,) = made(nested)["assemblies"]
    assert (drawer["key"], drawer["count"], drawer["within"]) == ("drawer", 2, None)
    assert {use["part"]: use["count"] for use in drawer["pieces"]} == {
        "drawer.face": 1,
        "drawer.side": 2,
        "drawer.back": 1,
        "drawer.bottom": 1,
    }
    assert [copy["name"] for copy in drawer["copies"]] == ["top drawer", "bottom drawer"]
    part = next(part for part in made(nested)["parts"] if part["key"] == "drawer.face")
    assert part["assembly"] == "drawer"
    assert part["copies"][0]["path"] == ["top drawer"]


def test_positions_and_motions_are_recorded_with_their_sizes(nested: Design) -> None:
    found = made(nested)
    opened = found["positions"][1]
    assert {one["name"]: one["printed"] for one in opened["measures"]} == {
        "overall across": "520\u00a0mm",
        "overall deep": "903\u00a0mm",
        "overall up": "446\u00a0mm",
        "hinges": "90°",
    }
    assert opened["stances"]["door"]["move"] == [0, 0, 0]
    assert found["motions"][0]["measures"][0]["printed"] == "170°"
    assert found["motions"][1]["measures"] == [], "it has no end"


def test_a_leaning_piece_is_recorded_with_its_lean(nested: Design) -> None:
    prop = next(part for part in made(nested)["parts"] if part["key"] == "prop")
    lean = next(one for one in prop["measures"] if one["name"] == "lean")
    assert (lean["exact"], lean["printed"]) == ("12", "12.0°")
    assert prop["copies"][0]["stance"]["rows"][0] == [1, 0, 0]
    side = next(part for part in made(nested)["parts"] if part["key"] == "side")
    assert all(one["name"] != "lean" for one in side["measures"])


def test_nothing_changed_says_nothing(nested: Design) -> None:
    assert changes(nested, nested) == ""


def test_a_change_of_what_moves_is_told(nested: Design) -> None:
    opened = replace(nested.positions[1], overall=box(-20, 500, -480, 403, -46, 400))
    wider = replace(nested, positions=(nested.positions[0], opened))
    told = changes(nested, wider)
    assert "**Door open, overall deep**: 883\u00a0mm, was 903\u00a0mm" in told
    assert "**Top drawer out, overall deep**: no longer there, was 603\u00a0mm" in told
    swing = replace(nested.motions[0], most=Fraction(100))
    told = changes(nested, replace(nested, motions=(swing, nested.motions[1])))
    assert "**hinges, most**: 100°, was 170°" in told


def test_a_change_of_an_assembly_is_told(nested: Design) -> None:
    (drawer,) = nested.assemblies
    told = changes(nested, replace(nested, assemblies=(replace(drawer, copies=drawer.copies[:1]),)))
    assert "### Assemblies\n\n- **Drawer**: make 1, was 2" in told
    assert "- **Drawer**: no longer there, was made 2 times" in changes(
        nested, replace(nested, assemblies=())
    )
    assert "- **Drawer**: new, make 2" in changes(replace(nested, assemblies=()), nested)
    without = tuple(
        replace(copy, members=tuple(name for name in copy.members if not name.endswith("back")))
        for copy in drawer.copies
    )
    told = changes(nested, replace(nested, assemblies=(replace(drawer, copies=without),)))
    assert (
        "of 1 × drawer face, 2 × drawer side, 1 × drawer bottom; was of 1 × drawer face, 2 × drawer side, 1"
        in told
    )


def test_a_change_of_a_lean_is_told_to_whoever_has_cut_the_piece(nested: Design) -> None:
    prop = nested.part("prop")
    lean = turn_about((1.0, 0.0, 0.0), 10.0, (250.0, 300.0, 350.0))
    copies = tuple(replace(copy, stance=lean) for copy in prop.copies)
    told = changes(nested, with_part(nested, "prop", copies=copies))
    assert "**H Prop**: lean: 10.0°, was 12.0°" in told
    assert "Only if you have already cut H (Prop): its lean is now 10.0°, not 12.0°." in told


def test_a_record_from_before_there_were_assemblies_still_compares(nested: Design) -> None:
    old = made(nested)
    for key in ("assemblies", "motions", "positions"):
        del old[key]
    assert compare(old, made(nested)).comparable
    damaged = made(nested)
    damaged["assemblies"][0]["count"] = "two"
    assert not compare(damaged, made(nested)).comparable


def test_lengths_of_positions_are_exact(nested: Design) -> None:
    size = millimetres(Fraction(1, 3))
    first = replace(nested.positions[0], overall=nested.overall.shifted(nested.overall.low))
    grown = replace(first, overall=replace(first.overall, high=first.overall.high.moved(Axis.ACROSS, size)))
    found = made(replace(nested, positions=(grown,)))["positions"][0]["measures"][0]
    assert found["exact"] == "1501/3"


def test_how_far_a_drawer_slides_is_printed_as_the_booklet_prints_lengths(nested: Design) -> None:
    inches = record(nested, style=LengthStyle("inch", 16))
    out = next(one for one in inches["positions"] if one["name"] == "top drawer out")
    assert next(one for one in out["measures"] if one["name"] == "slides")["printed"] == "7\u00a07/8\u00a0in"

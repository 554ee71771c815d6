"""Boards in steps: every part planed to its thickness once, cut to size once, and its stock named."""

from __future__ import annotations

from pathlib import Path

import pytest

from plangen.description import read_description
from plangen.design.build import make_design
from plangen.findings import Findings
from plangen.sequence import order_of_work
from plangen.sequence.tokens import length_token
from plangen.units import inches, millimetres
from tests.sequence.designs import kinds
from tests.sequence.written_projects import ordered

PROJECTS = sorted(Path("projects").glob("*/project.yaml"))
STOCK = """
stock:
  board:
    {kind: solid, species: white ash, rough: 38mm, thickness: 32mm, widths: [150mm, 200mm], lengths: [2500mm]}
  beam: {kind: solid, species: white ash, rough: 65mm, thickness: 60mm, widths: [150mm], lengths: [2500mm]}
parts:
"""
TOP = """
  top:
    stock: board
    runs: across
    thick: up
    glue up: {boards: best, sections: 3, allowance: {length: 30mm, width: 12mm, thickness: 2mm}}
    place: {left: 0, right: 1800mm, front: 0, back: 800mm, bottom: 0}
"""
RAIL = """
  rail:
    stock: board
    runs: across
    thick: up
    width: 90mm
    place: {left: 0, right: 1800mm, front: 0, top: 0}
"""
PANEL = """
  panel:
    stock: board
    runs: across
    thick: up
    thickness: 12mm
    glue up: {boards: best}
    place: {left: 0, right: 900mm, front: 0, back: 400mm, bottom: 0}
"""


@pytest.mark.parametrize("project", PROJECTS, ids=lambda path: path.parent.name)
def test_every_thin_part_is_planed_in_a_step_that_says_so(project: Path) -> None:
    findings = Findings()
    description = read_description(project.read_bytes(), str(project), findings)
    assert description is not None
    solved = make_design(description, findings)
    assert solved is not None
    order = order_of_work(solved.design, description.steps, findings)
    for part in solved.design.parts:
        stock = solved.design.stock[part.stock]
        if stock.kind != "solid" or part.thickness >= stock.thickness:
            continue
        steps = [step for step in order.steps if (part.key, part.thickness) in step.planed]
        assert steps, part.key
        assert any(length_token(part.thickness) in step.say for step in steps if step.drafted), part.key
        assert steps[0].number <= min(order.making(part.key))


def test_a_thin_panel_is_planed_as_it_is_glued_up() -> None:
    _, order, findings = ordered(STOCK + PANEL)
    assert "operation-in-no-step" not in kinds(findings)
    (step,) = (step for step in order.steps if ("panel", millimetres(12)) in step.planed)
    assert length_token(millimetres(12)) in step.say
    (mill,) = (step for step in order.steps if step.kind == "mill")
    assert dict(mill.planed) == {"panel": millimetres(32)}


def test_a_step_that_mills_other_parts_only_leaves_a_thin_part_unplaned() -> None:
    slat = RAIL.replace("rail:", "slat:").replace("width: 90mm", "width: 90mm\n    thickness: 20mm")
    written = """
steps:
  - {step: Mill, mill: [rail]}
  - {step: Cut, cut: [rail, slat], place: [rail, slat]}
"""
    _, _, findings = ordered(STOCK + RAIL + slat + written)
    (finding,) = (one for one in findings if one.kind == "operation-in-no-step")
    assert finding.part == "slat"
    assert "mill: [slat]" in finding.remedy


def test_what_is_glued_over_its_thickness_is_never_planed_to_the_stock_first() -> None:
    _, order, _ = ordered(STOCK + TOP)
    (mill,) = (step for step in order.steps if step.kind == "mill")
    assert length_token(millimetres(34)) in mill.say
    assert length_token(millimetres(32)) not in mill.say
    _, order, _ = ordered(STOCK + TOP + RAIL)
    (mill,) = (step for step in order.steps if step.kind == "mill")
    over, full = mill.say.index(length_token(millimetres(34))), mill.say.index(length_token(millimetres(32)))
    assert over < full
    assert "rest of the white ash" in mill.say


def test_what_is_trimmed_as_it_is_glued_up_is_not_cut_again() -> None:
    _, order, findings = ordered(STOCK + TOP + RAIL)
    assert "cut-twice" not in kinds(findings)
    (glued,) = (step for step in order.steps if step.title == "Glue up the top")
    assert glued.made == ("top",)
    (cut,) = (step for step in order.steps if step.kind == "cut")
    assert cut.made == ("rail",)


def test_what_is_trimmed_to_width_alone_is_cut_to_length_later() -> None:
    _, order, _ = ordered(STOCK + TOP.replace("length: 30mm, ", "") + RAIL)
    (cut,) = (step for step in order.steps if step.kind == "cut")
    assert set(cut.made) == {"top", "rail"}


def test_stocks_of_one_wood_are_told_apart_by_what_to_ask_for() -> None:
    beam = RAIL.replace("rail:", "sill:").replace("board", "beam")
    _, order, _ = ordered(STOCK + RAIL + beam)
    (mill,) = (step for step in order.steps if step.kind == "mill")
    labels = [length_token(millimetres(38)), length_token(millimetres(65))]
    assert mill.title == f"Mill the {labels[0]} and {labels[1]} white ash"
    assert not any("beam" in step.title + step.say for step in order.steps)  # the maker's name for it


def test_one_label_planed_to_two_thicknesses_is_named_by_these_once_it_is_planed() -> None:
    stock = STOCK.replace("rough: 65mm, thickness: 60mm", "rough: 38mm, thickness: 12mm")
    beam = RAIL.replace("rail:", "lath:").replace("board", "beam")
    _, order, _ = ordered(stock + RAIL + beam)
    (mill,) = (step for step in order.steps if step.kind == "mill")
    assert mill.title == f"Mill the {length_token(millimetres(38))} white ash"
    assert f"on to {length_token(millimetres(12))}" in mill.say
    cut = next(step for step in order.steps if step.kind == "cut")
    assert f"{length_token(millimetres(32))} and {length_token(millimetres(12))} white ash" in cut.title


def test_a_thin_panel_in_inches_is_planed_too() -> None:
    text = STOCK.replace("rough: 38mm, thickness: 32mm", "rough: 4/4, thickness: 3/4in")
    _, order, _ = ordered(text + PANEL.replace("12mm", "1/2in"))
    assert any(("panel", inches("1/2")) in step.planed for step in order.steps)

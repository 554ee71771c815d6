"""What kinds say of the order of work, and headings made of it."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from plangen.joinery.joints import JOINTS
from plangen.joinery.operations import OPERATIONS
from plangen.sequence.trade import heading_of, trade_of, verb_for
from plangen.sequence.words import in_short
from plangen.takeoff.naming import copy_words, part_noun
from tests.sequence.designs import box, design, fit, joint, operation, order, part

HEADINGS = {
    **{name: kind.heading for name, kind in OPERATIONS.items()},
    **{name: text for kind in JOINTS.values() for name, text in kind.headings.items()},
}


@pytest.mark.parametrize("heading", sorted(set(HEADINGS.values())))
def test_every_heading_says_where_the_work_is_done(heading: str) -> None:
    assert set(re.findall(r"{(\w*)}", heading)) in ({"work", "pieces"}, {"pieces"})
    assert heading[0].isupper()
    assert not heading.endswith(".")


@pytest.mark.parametrize("kind", sorted(JOINTS))
def test_what_a_kind_says_of_itself_hangs_together(kind: str) -> None:
    found = JOINTS[kind]
    assert found.lies or not found.last  # what goes on last only lies against what stands
    assert found.lies or not found.faces
    if found.spreads:  # its sentence stands in for the one that puts glue on both faces
        said = "".join(str(piece) for piece in found.say.pieces).lower()
        assert "glue" in said or "glue" in found.name
    if found.comes_apart:
        assert not found.glued


@pytest.mark.parametrize(
    ("kind", "words"),
    [
        ("edge banding", "Glue the edge banding to the"),
        ("leaf recess", "Let the hinge leaves into the"),
        ("round", "Turn the"),
        ("slot", "Rout the"),
        ("pocket", "Rout the"),
        ("profile", "Rout the"),
        ("compound mitre", "Saw the"),
        ("bevel", "Saw the"),
        ("angled end", "Saw the"),
        ("hole", "Drill the"),
        ("lead hole", "Drill the"),
        ("tenon", "Cut the"),
        ("a kind that no table knows", "Cut the"),
    ],
)
def test_each_kind_of_work_has_its_verb(kind: str, words: str) -> None:
    assert heading_of(operation(kind)).startswith(words)


@pytest.mark.parametrize(
    ("kind", "glued", "verb"),
    [
        ("screwed", True, "Screw"), ("nailed", False, "Nail"), ("hinged", False, "Hinge"),
        ("slides", False, "Mount"), ("top fastened", False, "Fasten"), ("knock-down", False, "Bolt"),
        ("dado", True, "Glue"), ("dado", False, "Fit"),
    ],
)  # fmt: skip
def test_each_kind_of_joint_has_its_verb(kind: str, glued: bool, verb: str) -> None:
    assert verb_for(joint("it", kind), glued) == verb


def test_kinds_are_found_however_they_are_written() -> None:
    assert trade_of(joint("it", "half_lap")) is JOINTS["half-lap"]


def named(name: str):
    return replace(part("it", "A", box(0, 1, 0, 1, 0, 1)), name=name)


@pytest.mark.parametrize(
    ("name", "noun"),
    [
        ("leg", "leg"),
        ("gate.gate stile", "gate stile"),
        ("drawer.box front", "drawer box front"),
        ("drawer.drawer front", "drawer front"),
        ("tray.spool rack.spool board", "spool board"),
        ("tray.spool rack.peg", "spool rack peg"),
    ],
)
def test_a_part_does_not_repeat_its_assembly(name: str, noun: str) -> None:
    assert part_noun(named(name)) == noun


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("gate.gate stile", "gate stile"),
        ("top drawer.face", "face of the top drawer"),
        ("left drawer.drawer front", "drawer front of the left drawer"),
        ("chest.top drawer.face", "face of the top drawer of the chest"),
    ],
)
def test_a_piece_names_its_assembly_where_that_tells_more(name: str, words: str) -> None:
    assert copy_words(name) == words


def test_many_names_are_said_by_what_they_share() -> None:
    names = ["side aprons", "back apron", "upper rail", "lower rail", "divider"]
    assert in_short(names, 5) == names
    assert in_short(names, 3) == ["aprons", "rails", "divider"]
    assert in_short(names, 2) == []


def screwed_plate():
    """A lid and a board; a plate on the lid brings its own screws, and warns."""
    plate = replace(fit("stay", "knob", 2, "lid"), cautions=("pinch", "falling"))
    screws = fit("stay screws", "screw", 8, "lid")
    whole = design(
        part("lid", "A", box(0, 300, 0, 200, 0, 20)),
        part("board", "B", box(0, 300, 0, 20, 20, 90)),
        joints=(joint("seam", "butt", ("board", "lid", "bottom")),),
    )
    return replace(whole, fits=(plate, screws))


def test_hardware_and_the_screws_it_brings_are_one_step_with_its_cautions() -> None:
    steps, findings = order(screwed_plate())
    assert not findings.has_errors
    (fitted,) = (step for step in steps.steps if step.fits)
    assert fitted.fits == ("stay", "stay screws")
    assert fitted.title == "Fit the knobs"
    assert set(fitted.cautions) == {"pinch", "falling"}
    assert {use.item: use.number for use in fitted.hardware} == {"knob": 2, "screw": 8}
    assert fitted.say.startswith("Fit {hardware:knob*2} to {part:lid*1}.")
    assert fitted.say.endswith("Screw them on with {hardware:screw*8}.")


def test_holes_for_hardware_do_not_carry_its_cautions() -> None:
    whole = screwed_plate()
    bored = replace(operation("lead hole", "stay"), cautions=("drill", "pinch", "falling"))
    whole = replace(whole, parts=(replace(whole.parts[0], operations=(bored,)), whole.parts[1]))
    steps, _ = order(whole)
    (work,) = (step for step in steps.steps if step.kind == "work")
    assert work.cautions == ("drill",)
    assert "Lay out each hole from the sheet of its part." in work.say

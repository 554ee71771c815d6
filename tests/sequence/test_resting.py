"""Pieces that only rest on each other: closed in passing, or set in place last."""

from __future__ import annotations

from dataclasses import replace

import pytest

from plangen.design.model import Contact, Design
from plangen.joinery.space import Axis, Box
from plangen.sequence.assembly import Assembly
from plangen.sequence.rounds import joint_rounds
from tests.sequence.designs import box, design, entry, joint, kinds, order, part


def rests(whole: Design, name: str, *pairs: tuple[str, str]) -> Design:
    """The design with a joint that rests, its faces where the boxes of the copies meet."""
    contacts = []
    for fixed, moving in pairs:
        one, two = whole.copies[fixed].box, whole.copies[moving].box
        low, high = one.low, one.high
        for axis in Axis:
            low = low.with_(axis, max(one.low.at(axis), two.low.at(axis)))
            high = high.with_(axis, min(one.high.at(axis), two.high.at(axis)))
        contacts.append(Contact(fixed, moving, Box(low, high), None))
    resting = replace(joint(name, "rests", glue=None), contacts=tuple(contacts))
    return replace(whole, joints=(*whole.joints, resting))


def tote() -> Design:
    """Two ends, two sides and a base between them, all glued; a block rests in the corner."""
    whole = design(
        part("end", "A", box(0, 20, 0, 200, 0, 100), box(380, 400, 0, 200, 0, 100)),
        part("side", "B", box(20, 380, 0, 20, 0, 100), box(20, 380, 180, 200, 0, 100)),
        part("base", "C", box(20, 380, 20, 180, 0, 10)),
        part("block", "D", box(20, 100, 60, 100, 10, 60)),
        joints=(
            joint(
                "corners",
                "dowelled",
                ("end 1", "side 1", "left"),
                ("end 1", "side 2", "left"),
                ("end 2", "side 1", "right"),
                ("end 2", "side 2", "right"),
            ),
            joint("base dowels", "dowelled", ("end 1", "base", "left"), ("end 2", "base", "right")),
        ),
    )
    return rests(whole, "base edges", ("base", "side 1"), ("base", "side 2"))


def with_block() -> Design:
    return rests(rests(tote(), "block seat", ("block", "base")), "block side", ("end 1", "block"))


def test_what_others_hold_closes_in_passing() -> None:
    whole = tote()
    assert Assembly(whole).quiet == ("base edges",)
    whole = replace(whole, parts=whole.parts[:3])
    steps, findings = order(whole)
    assert kinds(findings) == []
    (step,) = [one for one in steps.steps if "base edges" in one.joints]
    assert "corners" in step.joints or "base dowels" in step.joints
    assert {"base", "side 1", "side 2"} <= {copy for one in steps.steps[: step.number] for copy in one.placed}
    assert not any("loose" in one.say or one.title.startswith("Set") for one in steps.steps)
    assert "Close the base edges" not in step.say


def test_what_nothing_holds_is_set_down_last_and_once() -> None:
    whole = with_block()
    assert Assembly(whole).quiet == ("base edges",)
    assert joint_rounds(whole, Assembly(whole))[-1] == ("block seat", "block side")
    steps, findings = order(whole)
    assert kinds(findings) == []
    set_down = [step for step in steps.steps if step.title.startswith("Set")]
    assert [step.title for step in set_down] == ["Set the block on the base"]
    assert set_down[0].placed == ("block",)
    assert set_down[0].say == ("Set {part:block*1} on {part:base*1}, against {part:end*1}; it stays loose.")
    glued = [step.number for step in steps.steps if step.kind == "glue"]
    assert set_down[0].number > max(glued)


def test_a_lid_of_several_pieces_is_set_on_as_one() -> None:
    whole = design(
        part("crate", "A", box(0, 300, 0, 200, 0, 100)),
        part("lid board", "B", box(0, 300, 0, 200, 100, 110)),
        part("batten", "C", box(50, 70, 20, 180, 90, 100)),
        part("shelf", "D", box(0, 300, 0, 200, -10, 0)),
        part("foot", "E", box(0, 20, 0, 20, -30, -10)),
        joints=(
            joint("battens", "butt", ("lid board", "batten", "top")),
            joint("base", "butt", ("crate", "shelf", "top")),
            joint("feet", "butt", ("shelf", "foot", "top")),
        ),
    )
    whole = rests(whole, "lid", ("lid board", "crate"))
    steps, findings = order(whole)
    assert kinds(findings) == []
    (step,) = [one for one in steps.steps if "lid" in one.joints]
    assert step.title == "Set the lid board on the crate"
    assert step.placed == ()


def test_assemblies_that_rest_close_when_they_are_joined() -> None:
    # The top is screwed to its cleats before the cleats are screwed to the rail on which the top lies.
    whole = design(
        part("rail", "A", box(0, 300, 0, 20, 0, 60)),
        part("cleat", "B", box(0, 300, 20, 40, 40, 60)),
        part("top", "C", box(0, 300, 0, 200, 60, 80)),
        joints=(
            joint("cleat to top", "screwed", ("top", "cleat", "top")),
            joint("cleat to rail", "screwed", ("rail", "cleat", "front")),
        ),
    )
    whole = rests(whole, "seat", ("top", "rail"))
    steps, findings = order(whole)
    assert kinds(findings) == []
    assert [step.joints for step in steps.steps if step.joints] == [
        ("cleat to top",),
        ("cleat to rail", "seat"),
    ]


CUT = entry(step="Cut", cut=["end", "side", "base", "block"])
GLUE = entry(step="Glue it all", join=["corners", "base dowels"])
SEAT = entry(step="Put the block in", join=["block seat", "block side"])


def test_a_maker_need_not_name_what_rests() -> None:
    steps, findings = order(with_block(), CUT, GLUE, SEAT)
    assert kinds(findings) == []
    assert steps.steps[1].joints == ("corners", "base dowels", "base edges")
    _, findings = order(with_block(), CUT, GLUE)
    assert set(kinds(findings)) == {"joint-in-no-step", "part-in-no-step"}


@pytest.mark.parametrize("where", ["first", "last"])
def test_no_drafted_step_is_left_with_what_rests_alone(where: str) -> None:
    entries = (GLUE, "draft") if where == "first" else ("draft", GLUE)
    steps, findings = order(with_block(), *entries)
    assert not [kind for kind in kinds(findings) if kind == "closed-twice"]
    assert sum("base edges" in step.joints for step in steps.steps) == 1
    assert [step.joints for step in steps.steps if step.joints and not step.drafted] == [
        ("corners", "base dowels", "base edges")
    ]
    assert all(step.joints != ("base edges",) for step in steps.steps)


def test_a_maker_may_name_it_all_the_same() -> None:
    glue = entry(step="Glue it all", join=["corners", "base dowels"])
    rest = entry(step="Look at the base", join=["base edges"])
    steps, findings = order(with_block(), CUT, glue, rest, SEAT)
    assert kinds(findings) == []
    assert [step.joints for step in steps.steps[1:3]] == [("corners", "base dowels"), ("base edges",)]

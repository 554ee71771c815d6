"""What the scene of a step shows: hardware that is in already, gaps, the finished work."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from plangen.drawing.camera import camera
from plangen.drawing.fittings import in_place
from plangen.drawing.sheet.model import Drawing, Text
from plangen.drawing.stage import stage, thickness
from plangen.drawing.step_pictures import step_picture
from plangen.joinery.space import Side
from plangen.sequence.model import StepPicture
from plangen.solids import build_solids
from tests.drawing.sample_work import sample_order, sample_take_off
from tests.nested_design import nested_design
from tests.sample_design import sample_design


def _balloons(drawing: Drawing) -> list[str]:
    return [mark.text for mark in drawing.marks if isinstance(mark, Text) and mark.role == "balloon"]


def test_the_finished_work_carries_no_balloons() -> None:
    whole = sample_design()
    solids, lists, view = build_solids(whole), sample_take_off(whole), camera(whole)
    step = next(step for step in sample_order().steps if step.title == "Lay in the back")
    finish = replace(step, kind="finish", picture=StepPicture("assembly", context=tuple(whole.copies)))
    assert _balloons(step_picture(whole, solids, step, lists, view, None, 178, 90))
    assert _balloons(step_picture(whole, solids, finish, lists, view, None, 178, 90)) == []


def test_hardware_goes_with_the_copy_that_it_sits_on() -> None:
    whole = nested_design()
    still = dict.fromkeys(whole.copies, (0.0, 0.0, 0.0))
    drawn = dict.fromkeys(whole.copies, (10.0, -20.0, 30.0))
    there = in_place(whole, offsets=still)
    moved = in_place(whole, offsets=drawn)
    assert there, "the sample has hardware that is seen"
    for one, two in zip(there, moved, strict=True):
        assert np.subtract(two.body.move, one.body.move) == pytest.approx([10.0, -20.0, 30.0])
    assert in_place(whole, offsets={}) == ()
    assert in_place(whole, only=()) == ()


def test_only_hardware_of_earlier_steps_stands_in_a_scene() -> None:
    whole = nested_design()
    solids, view = build_solids(whole), camera(whole)
    step = next(step for step in sample_order().steps if step.title == "Lay in the back")
    step = replace(step, picture=StepPicture("assembly", context=tuple(whole.copies)))
    names = {actor.tag.split("/")[0] for actor in in_place(whole)}

    def tags(fitted: tuple[str, ...]) -> set[str]:
        actors = stage(whole, solids, step, view, fitted=fitted).sight.actors
        return {actor.tag for actor in actors} - set(whole.copies)

    assert tags(()) == set()
    assert {tag.split("/")[0] for tag in tags(tuple(sorted(names)))} == names


def test_a_piece_is_drawn_out_by_its_thickness_at_least_and_farther_when_told() -> None:
    whole = sample_design()
    solids, view = build_solids(whole), camera(whole)
    step = next(step for step in sample_order().steps if step.title == "Lay in the back")
    assert dict(step.picture.offsets) == {"back": Side.BACK}
    near = stage(whole, solids, step, view)
    far = stage(whole, solids, step, view, stretch=3.0)
    assert near.gaps["back"] >= thickness(whole, "back")
    assert far.gaps["back"] > near.gaps["back"]
    assert far.offsets["back"][1] > near.offsets["back"][1] > 0

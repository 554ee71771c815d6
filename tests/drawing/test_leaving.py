"""Pieces leave along the way of their joint and no other; steps bring them in by ways that are open."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from plangen.design.model import Design
from plangen.drawing.explosion import entered, way_of
from plangen.drawing.hidden_lines import Body
from plangen.drawing.leaving import barred_by, with_ways_in
from plangen.drawing.scene import copy_actor, corners
from plangen.joinery.space import Side
from plangen.sequence.model import Step, StepPicture
from plangen.solids import build_solids
from tests.drawing.sample_table import sample_table
from tests.drawing.sample_work import sample_order
from tests.sample_design import sample_design
from tests.sequence.designs import box, design, part

DESIGNS = pytest.mark.parametrize("whole", [sample_design(), sample_table()], ids=["case", "table"])


def _bodies(whole: Design) -> dict[str, Body]:
    solids = build_solids(whole)
    return {name: copy_actor(whole, solids, copy, "plain").body for name, copy in whole.copies.items()}


@DESIGNS
def test_every_piece_leaves_what_it_enters_against_the_way_it_closes(whole: Design) -> None:
    bodies = _bodies(whole)
    for joint in whole.joints:
        for contact in joint.contacts:
            out = -np.asarray(way_of(contact, whole))
            moving, fixed = bodies[contact.moving], bodies[contact.fixed]
            assert not barred_by([moving], [fixed], out.tolist(), 500), (contact.moving, contact.fixed)


def test_a_housed_piece_goes_no_farther_in() -> None:
    whole = sample_design()
    bodies = _bodies(whole)
    for joint in whole.joints:
        for contact in joint.contacts:
            moving, fixed = bodies[contact.moving], bodies[contact.fixed]
            assert barred_by([moving], [fixed], way_of(contact, whole), 500) == (contact.fixed,)


def test_a_housed_piece_cannot_leave_sideways() -> None:
    whole = sample_design()
    bodies = _bodies(whole)
    housed = next(c for joint in whole.joints for c in joint.contacts if entered(c, whole) > 3)
    moving, fixed = bodies[housed.moving], bodies[housed.fixed]
    assert barred_by([moving], [fixed], (0, 0, 1), 50) == (housed.fixed,)


def _blocks() -> dict[str, Body]:
    return _bodies(
        design(
            part("post", "A", box(0, 50, 0, 50, 0, 200)),
            part("beam", "B", box(0, 50, 100, 150, 0, 50)),
            part("cap", "C", box(0, 50, 0, 50, 200, 220)),
        )
    )


def test_only_what_lies_within_the_distance_bars_the_way() -> None:
    bodies = _blocks()
    post, beam, cap = bodies["post"], bodies["beam"], bodies["cap"]
    gap = float(corners(beam)[:, 1].min() - corners(post)[:, 1].max())
    assert barred_by([post], [beam, cap], (0, 1, 0), gap + 1) == ("beam",)
    assert barred_by([post], [beam, cap], (0, 1, 0), gap - 1) == ()
    assert barred_by([post], [beam, cap], (0, 0, 1), 1) == ("cap",), "what it touches bars it at once"
    assert barred_by([post], [beam, cap], (0, -1, 0), 1e4) == ()
    assert barred_by([post], [beam, cap], (0, 0, 0), 1e4) == ()


def test_what_slides_past_face_to_face_is_free() -> None:
    bodies = _bodies(
        design(part("one", "A", box(0, 50, 0, 50, 0, 200)), part("two", "B", box(50, 100, 0, 50, 0, 200)))
    )
    assert barred_by([bodies["one"]], [bodies["two"]], (0, 0, 1), 1e4) == ()
    assert barred_by([bodies["one"]], [bodies["two"]], (0, 1, 0), 1e4) == ()
    assert barred_by([bodies["one"]], [bodies["two"]], (1, 0, 0), 1e4) == ("two",)


def _bringing(whole: Design, name: str, side: Side) -> Step:
    step = next(step for step in sample_order().steps if step.title == "Lay in the back")
    around = tuple(copy for copy in whole.copies if copy != name)
    picture = StepPicture("assembly", new=(name,), context=around, offsets=((name, side),))
    return replace(step, picture=picture)


def test_a_side_that_the_solids_bar_gives_way_to_an_open_one() -> None:
    whole = sample_design()
    solids = build_solids(whole)
    right = _bringing(whole, "back", Side.BACK)
    assert with_ways_in(whole, solids, right) is right, "what is open stays"
    mended = with_ways_in(whole, solids, _bringing(whole, "back", Side.FRONT))
    assert dict(mended.picture.offsets) == {"back": Side.BACK}


def test_a_piece_shut_in_on_every_side_keeps_what_the_step_says() -> None:
    shell = [
        part("floor", "A", box(-20, 120, -20, 120, -20, 0)),
        part("lid", "B", box(-20, 120, -20, 120, 100, 120)),
        part("left", "C", box(-20, 0, -20, 120, 0, 100)), part("right", "D", box(100, 120, -20, 120, 0, 100)),
        part("front", "E", box(0, 100, -20, 0, 0, 100)), part("back", "F", box(0, 100, 100, 120, 0, 100)),
    ]  # fmt: skip
    whole = design(*shell, part("core", "G", box(10, 90, 10, 90, 10, 90)))
    step = _bringing(whole, "core", Side.TOP)
    assert with_ways_in(whole, build_solids(whole), step) is step

"""Every piece that is new in a step is seen: from the booklet's side, or another, or in two panels."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from plangen.design.model import Design
from plangen.drawing.angles import LEAST_SEEN, Angle, angles, unseen
from plangen.drawing.hidden_lines import pictorial
from plangen.drawing.sheet.model import Drawing, Link, Text
from plangen.drawing.stage import stage
from plangen.drawing.step_pictures import runs, step_picture
from plangen.findings import Findings
from plangen.joinery.space import Box
from plangen.sequence import order_of_work
from plangen.sequence.model import Step, StepPicture
from plangen.solids import build_solids
from plangen.takeoff import take_off
from tests.nested_design import nested_design
from tests.sequence.designs import box, design, joint, order, part

VIEW = pictorial(32.0, 20.0)


def chest(*hidden: tuple[str, Box], lid: bool = False) -> Design:
    """An open box of 400 by 300 by 200, boards of 20, and what is put into or behind it."""
    walls = [
        part("front", "A", box(0, 400, 0, 20, 0, 200)),
        part("back", "B", box(0, 400, 280, 300, 0, 200)),
        part("end", "C", box(0, 20, 20, 280, 0, 200), box(380, 400, 20, 280, 0, 200)),
        part("floor", "D", box(20, 380, 20, 280, 0, 20)),
    ]
    if lid:
        walls.append(part("lid", "L", box(0, 400, 0, 300, 200, 220)))
    more = [part(name, chr(ord("M") + number), at) for number, (name, at) in enumerate(hidden)]
    return design(
        *walls, *more, joints=(joint("ends", "butt", ("end 1", "front", "back"), ("end 2", "front", "back")),)
    )


def board_with_rail() -> Design:
    """A board on edge and a rail behind it."""
    board = part("board", "A", box(0, 400, 0, 20, 0, 200))
    return design(board, part("rail", "B", box(50, 350, 20, 40, 20, 60)))


def trying(whole: Design) -> Step:
    """A step that shows the whole put together."""
    steps, _ = order(whole)
    picture = StepPicture("assembly", new=tuple(whole.copies))
    return replace(steps.steps[0], picture=picture, joints=())


def panels(whole: Design) -> tuple[Angle, ...]:
    return angles(whole, build_solids(whole), trying(whole), VIEW)


def test_what_the_booklets_view_shows_stays_in_it() -> None:
    open_case = design(
        part("side", "A", box(0, 20, 0, 300, 0, 300)), part("shelf", "B", box(20, 400, 0, 300, 0, 20))
    )
    assert panels(open_case) == (Angle(VIEW),)


def test_what_stands_behind_is_shown_from_behind() -> None:
    whole = board_with_rail()
    (found,) = panels(whole)
    assert found.view != VIEW
    assert "back" in found.words
    assert not unseen(whole, trying(whole), stage(whole, build_solids(whole), trying(whole), found.view))


def test_what_lies_in_an_open_box_is_shown_from_above() -> None:
    deep = chest(("tray", box(160, 240, 110, 190, 20, 40)))
    step = trying(deep)
    around = tuple(name for name in deep.copies if name != "tray")
    step = replace(step, picture=StepPicture("assembly", new=("tray",), context=around))
    (found,) = angles(deep, build_solids(deep), step, VIEW)
    assert found.words.endswith("from above")
    assert found.view.toward[2] > VIEW.toward[2]


def test_what_is_shut_in_is_shown_drawn_apart_in_a_second_panel() -> None:
    whole = chest(("tray", box(160, 240, 110, 190, 20, 40)), lid=True)
    whole = replace(
        whole,
        joints=(
            *whole.joints,
            joint("lid glue", "butt", ("end 1", "lid", "bottom"), ("end 2", "lid", "bottom")),
            joint("tray glue", "butt", ("floor", "tray", "bottom")),
            joint("floor glue", "butt", ("end 1", "floor", "left"), ("end 2", "floor", "right")),
        ),
    )
    first, second = panels(whole)
    assert first == Angle(VIEW)
    assert second.apart


def test_views_are_rotations_and_look_where_they_say() -> None:
    whole = board_with_rail()
    for found in panels(whole):
        axes = np.array([found.view.right, found.view.up, found.view.toward])
        assert axes @ axes.T == pytest.approx(np.eye(3), abs=1e-9)
        assert np.linalg.det(axes) == pytest.approx(1.0)
        assert (found.view.toward[1] > 0) is ("back" in found.words)


def _texts(drawing: Drawing) -> list[str]:
    return [mark.text for mark in drawing.marks if isinstance(mark, Text)]


def test_two_panels_fill_the_width_and_label_every_new_piece() -> None:
    whole = chest(
        ("rail", box(20, 380, 300, 320, 60, 100)), ("cleat", box(20, 380, -20, 0, 0, 10)),
        ("runner", box(60, 340, 40, 60, -10, 0)),
    )  # fmt: skip
    solids = build_solids(whole)
    step = trying(whole)
    findings = Findings()
    lists = take_off(
        whole,
        order_of_work(whole, ("draft",), findings),
        findings,
        {k: v.volume for k, v in solids.parts.items()},
    )
    found = angles(whole, solids, step, VIEW)
    drawing = step_picture(whole, solids, step, lists, VIEW, None, 178, 100)
    targets = {mark.target for mark in drawing.marks if isinstance(mark, Link)}
    seen: set[str] = set()
    for angle in found:
        shown = stage(whole, solids, step, angle.view, apart=float(angle.apart))
        seen |= {name for name in whole.copies if shown.sight.share_seen(name) >= LEAST_SEEN}
    assert {f"part:{whole.part_of[name].key}" for name in seen} <= targets
    for angle in found:
        assert not angle.words or angle.words in _texts(drawing)
    assert (drawing.width, drawing.height) == (178, 100)


def test_an_assembly_that_comes_in_counts_as_one_piece() -> None:
    nested = nested_design()
    steps = order_of_work(nested, ("draft",), Findings())
    step = next(step for step in steps.steps if "slides" in step.joints)
    shown = stage(nested, build_solids(nested), step, VIEW)
    assert shown.sight.share_seen("top drawer.bottom") < LEAST_SEEN
    assert unseen(nested, step, shown) == frozenset()


def test_the_pictures_of_an_assembly_have_a_scale_of_their_own() -> None:
    nested = nested_design()
    steps = order_of_work(nested, ("draft",), Findings()).steps
    for run in runs(steps):
        assert len({step.assembly for step in run}) == 1

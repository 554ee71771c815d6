"""Hardware where it works: knuckles on pins, members of slides; the position on the cover."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import numpy as np
import pytest

from plangen.design.model import Design, Hardware, HardwareUse, Motion
from plangen.drawing.camera import camera
from plangen.drawing.fittings import in_place
from plangen.drawing.hero import cover_position, hero
from plangen.drawing.scene import corners
from plangen.drawing.whole import WholePiece
from plangen.findings import Place
from plangen.joinery.hardware.ware import Block, Form, Turned, Ware
from plangen.joinery.space import Side, Stance
from plangen.solids import build_solids
from plangen.units import Phrase
from tests.nested_design import nested_design

UPRIGHT = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
AT = (-3.0, -2.0, 340.0)  # where it sits, mm


@pytest.fixture(scope="module")
def nested() -> Design:
    return nested_design()


def _with(nested: Design, motion: Motion, forms: tuple[Form, ...], side: Side) -> Design:
    """Give the design with one more piece of hardware, on the first contact of its first joint."""
    place = Place("sample.yaml", 1, 1, 1)
    item = Hardware("mover", "mover", "Mover", Phrase(), None, None, "", None, None, None, place,
                    ware=Ware("mover", {}, shape=forms))  # fmt: skip
    first = nested.joints[0]
    use = HardwareUse(item.name, 1, first.name, ((first.contacts[0].fixed, AT, side),))
    return replace(
        nested,
        hardware={**nested.hardware, item.name: item},
        joints=(replace(first, contacts=first.contacts[:1], hardware=(use,)), *nested.joints[1:]),
        motions=(replace(motion, joint=first.name),),
    )


def _ends(design: Design, moved: dict[str, Stance] | None = None) -> list[tuple[list[float], list[float]]]:
    actors = [actor for actor in in_place(design, moved or {}) if "/mover/" in actor.tag]
    points = [corners(actor.body) for actor in actors]
    return [(some.min(axis=0).tolist(), some.max(axis=0).tolist()) for some in points]


def test_the_knuckle_of_a_hinge_lies_on_the_line_that_it_turns_about(nested: Design) -> None:
    way = (0.0, 0.0, 1.0)
    motion = Motion("", "turns", (), (AT[0], AT[1], 0.0), way, Fraction(90))
    forms = (
        Block((-20.0, -15.0, -2.0), (20.0, -2.0, 0.0)),
        Turned(((-20.0, 3.0), (20.0, 3.0)), 0, (0, 0, 1.0)),
    )
    ((low, high),) = _ends(_with(nested, motion, forms, Side.FRONT))
    assert low == pytest.approx([AT[0] - 3, AT[1] - 3, AT[2] - 20], abs=0.1), "the leaves are not drawn"
    assert high == pytest.approx([AT[0] + 3, AT[1] + 3, AT[2] + 20], abs=0.1)


def test_each_member_of_a_slide_stays_with_its_piece(nested: Design) -> None:
    motion = Motion("", "slides", (), AT, (0.0, -1.0, 0.0), Fraction(300))
    forms = (Block((-100.0, -10.0, 0.0), (100.0, 10.0, 5.0)), Block((-100.0, -7.0, 5.0), (100.0, 7.0, 12.0)))
    design = _with(nested, motion, forms, Side.RIGHT)
    mover = design.joints[0].contacts[0].moving
    shut = _ends(design)
    drawn = _ends(design, {mover: Stance(UPRIGHT, (0.0, -250.0, 0.0))})
    assert np.array(shut[0]) == pytest.approx(np.array([[AT[0], -102, 330], [AT[0] + 5, 98, 350]]))
    assert np.array(shut[1]) == pytest.approx(np.array([[AT[0] + 5, -102, 333], [AT[0] + 12, 98, 347]]))
    assert drawn[0] == shut[0]
    assert np.subtract(drawn[1], shut[1]) == pytest.approx(np.array([[0, -250, 0]] * 2))


def test_the_cover_shows_the_position_that_the_project_names(nested: Design) -> None:
    solids = build_solids(nested)
    view = camera(nested)

    def drawn(cover: str) -> object:
        named = replace(nested, project=replace(nested.project, cover=cover))
        return hero(WholePiece(named, solids, cover_position(named)), view, 150, 120).marks

    described, other = nested.positions[0].name, nested.positions[1].name
    assert drawn("") == drawn(described)
    assert drawn("") != drawn(other)

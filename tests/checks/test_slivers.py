"""Skins too thin to exist, pieces that their joints eat up, pieces that fall apart; and any cut at all."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plangen.checks.slivers import joints_leave_a_section, skins_can_exist
from plangen.design.model import Design
from plangen.findings import Finding, Findings
from plangen.joinery.cuts import Arc, Cut, Line, Loop, PlaneCut
from plangen.joinery.space import Axis, Side
from plangen.solids import build_solids, check_solids
from tests.sample_design import sample_design
from tests.solids.making import (
    Number,
    box_cut,
    design,
    hole,
    mm,
    operation,
    pair,
    part,
    point,
    polygon,
    prism,
)

SIZE = (600, 200, 19)


def found(made: Design) -> list[Finding]:
    findings = Findings()
    solids = build_solids(made)
    for check in (check_solids, skins_can_exist, joints_leave_a_section):
        check(made, solids, findings)
    return list(findings)


def kinds(made: Design) -> list[str]:
    return [finding.kind for finding in found(made)]


def test_the_sample_design_is_sound() -> None:
    assert found(sample_design()) == []


@pytest.mark.parametrize(("left", "said"), [("0.5", []), ("0.49", ["thin-skin"]), ("0.05", ["thin-skin"])])
def test_half_a_millimetre_under_a_pocket_is_the_least(left: str, said: list[str]) -> None:
    floor = Fraction(left)
    made = part(SIZE, operation(box_cut((100, 50, floor), (300, 150, 19)), title="Pocket", line=9))
    warned = [one for one in found(design(made)) if one.kind == "thin-skin"]
    assert [one.kind for one in warned] == said
    for one in warned:
        assert one.place is not None
        assert one.place.line == 9
        assert "pocket" in one.message
        assert one.severity.value == "warning"


def test_a_skin_between_two_cuts_is_laid_to_the_later() -> None:
    made = part(
        SIZE,
        operation(box_cut((100, 50, 10), (300, 150, 19)), title="Slot", line=4),
        operation(box_cut((200, 0, 0), (250, 200, Fraction("9.7"))), title="Dado", line=8),
    )
    (one,) = found(design(made))
    assert (one.kind, one.place.line if one.place else 0) == ("thin-skin", 8)


def test_two_faces_near_each_other_with_wood_behind_are_no_skin() -> None:
    """Two floors a hair apart side by side: a step, not a skin."""
    made = part(
        SIZE,
        operation(box_cut((100, 50, 10), (200, 150, 19)), line=4),
        operation(box_cut((200, 50, Fraction("10.3")), (300, 150, 19)), line=8),
    )
    assert found(design(made)) == []


def test_a_hole_that_nearly_breaks_out_leaves_a_skin() -> None:
    bored = hole((300, Fraction("4.2"), 19), Side.TOP, 8, 19)
    assert kinds(design(part(SIZE, operation(bored, title="Hole")))) == ["thin-skin"]
    clear = hole((300, Fraction("4.6"), 19), Side.TOP, 8, 19)
    assert kinds(design(part(SIZE, operation(clear, title="Hole")))) == []


def test_a_board_thinner_than_any_board() -> None:
    (one,) = found(design(part((600, 200, Fraction("0.3")))))
    assert (one.kind, one.place.line if one.place else 0) == ("thin-skin", 1)
    assert "only" in one.message


def _mortised(deep: Number) -> Design:
    cut = replace(operation(box_cut((290, 0, 0), (310, deep, 19)), title="Mortise", line=6), joint="frame")
    return design(part((600, 40, 19), cut))


@pytest.mark.parametrize(("deep", "said"), [(35, []), (36, ["joints-leave-sliver"])])
def test_joints_leave_an_eighth_of_the_section(deep: int, said: list[str]) -> None:
    """Of 40 mm: 5 mm is an eighth, 4 mm is less."""
    assert kinds(_mortised(deep)) == said


def test_the_share_that_is_left_is_said_with_its_place() -> None:
    (one,) = found(_mortised(36))
    assert "only 10% of the section of `board`" in one.message
    assert "11 13/16 in from its left end" in one.message.replace("\u00a0", " ")  # 300 mm
    assert "mortise of `frame`" in one.message


def test_a_part_that_its_maker_shaped_thin_is_his_own_affair() -> None:
    thin = design(part((600, 40, 19), operation(box_cut((290, 0, 0), (310, 36, 19)), title="Notch")))
    assert kinds(thin) == []


def test_pieces_are_named_with_their_sizes_and_the_joint_that_parts_them() -> None:
    sawn = replace(operation(box_cut((200, 0, 0), (210, 200, 19)), title="Dado", line=4), joint="shelves")
    (one,) = [f for f in found(design(part((600, 200, 19), sawn))) if f.kind == "part-in-pieces"]
    assert "the dado of `shelves`" in one.message
    # 390 and 200 mm long, both 200 × 19, in inches to the 32nd, the larger first
    sizes = one.message.replace("\u00a0", " ").partition("pieces: ")[2]
    assert sizes == "15 11/32 × 7 7/8 × 3/4 in and 7 7/8 × 7 7/8 × 3/4 in"


def test_many_pieces_are_counted_and_the_largest_named() -> None:
    cuts = [box_cut((100 * n, 0, 0), (100 * n + 5, 200, 19)) for n in range(1, 6)]
    (one,) = found(design(part((600, 200, 19), operation(*cuts, title="Slots"))))
    assert "6 separate pieces" in one.message
    assert one.message.endswith("and 3 smaller")


def test_a_hole_that_is_sawn_away_later() -> None:
    made = part(
        SIZE,
        operation(hole((50, 50, 19), Side.TOP, 8, 19), title="Hole", line=4),
        operation(box_cut((0, 0, 0), (100, 100, 19)), title="Notch", line=8),
    )
    (one,) = found(design(made))
    assert (one.kind, one.place.line if one.place else 0) == ("cut-in-air", 4)
    assert [place.line for place, _ in one.also] == [8]


def spans(low: int, high: int) -> st.SearchStrategy[tuple[Fraction, Fraction]]:
    ends = st.lists(st.integers(low * 4, high * 4), min_size=2, max_size=2, unique=True)
    return ends.map(lambda two: (Fraction(min(two), 4), Fraction(max(two), 4)))


@st.composite
def cuts(draw: st.DrawFn) -> Cut:
    """Any cut that the records allow, on a part of 100 × 60 × 20 or off it."""
    kind = draw(st.sampled_from(("box", "round", "prism", "arc", "plane")))
    across, deep, up = draw(spans(-10, 110)), draw(spans(-10, 70)), draw(spans(-5, 25))
    if kind == "box":
        return box_cut((across[0], deep[0], up[0]), (across[1], deep[1], up[1]))
    if kind == "round":
        side = draw(st.sampled_from((Side.TOP, Side.FRONT, Side.RIGHT)))
        return hole((across[0], deep[0], up[1]), side, draw(st.integers(1, 60)), draw(st.integers(1, 120)))
    if kind == "prism":
        corners = ((across[0], deep[0]), (across[1], deep[0]), (across[1], deep[1]))
        return prism(Axis.UP, up[0], up[1], polygon(*corners))
    if kind == "arc":
        chord = across[1] - across[0]
        loop = Loop(
            pair(across[0], deep[0]),
            (Arc(pair(across[1], deep[0]), mm(chord), True), Line(pair(across[0], deep[0]))),
        )
        return prism(Axis.UP, up[0], up[1], loop)
    normal = draw(st.sampled_from(((1.0, 0.0, 0.0), (0.6, 0.8, 0.0), (0.6, 0.0, -0.8), (0.48, 0.64, 0.6))))
    return PlaneCut(point(across[0], deep[0], up[0]), normal)


@settings(max_examples=60, deadline=None)
@given(st.lists(st.lists(cuts(), min_size=1, max_size=3), min_size=1, max_size=4))
def test_no_cuts_at_all_break_the_checks(groups: list[list[Cut]]) -> None:
    """Whatever is cut, there is an answer, and where nothing or more than one piece is left it says so."""
    worked = [operation(*group, line=number + 3) for number, group in enumerate(groups)]
    made = design(part((100, 60, 20), *(replace(one, joint="joint") for one in worked)))
    said = kinds(made)
    solid = build_solids(made).parts["board"]
    pieces = [piece for piece in solid.body.decompose() if piece.volume() > 2.0]
    assert ("part-cut-away" in said) == (solid.volume < 1.0) or solid.volume < 2.0
    if len(pieces) > 1:
        assert "part-in-pieces" in said
    assert all(finding.place is not None and finding.message for finding in found(made))

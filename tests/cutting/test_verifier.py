"""The checker itself: each fault that it is there to find, made by hand in a plan that is sound."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from plangen.takeoff.cutting.model import Bound, Cut, Laid, Layout, Margins, Panel, Piece, Plan, Rest, Sawing
from tests.cutting.verifier import check_plan, check_sawn, replay, settings

SHEET = Panel("sheet", 100, 60)
PIECES = [Piece("a", 40, 30, 2), Piece("b", 57, 20)]
KERF = 2

# Ripped at 30, a strip of 30 with two a, and the rest with b.
LAYOUT = Layout(
    SHEET,
    (Laid("a", 0, 0, 40, 30, False), Laid("a", 42, 0, 40, 30, False), Laid("b", 0, 32, 57, 20, False)),
    (
        Cut("x", 30, 0, 100, 30),
        Cut("y", 40, 0, 30, 40),
        Cut("y", 82, 0, 30, 40),
        Cut("x", 52, 0, 100, 20),
        Cut("y", 57, 32, 52, 57),
    ),
    (Rest(84, 0, 16, 30), Rest(59, 32, 41, 20), Rest(0, 54, 100, 6)),
)
PLAN = Plan((LAYOUT,), Bound(1, "area", 1, 1), Fraction(1))


def spoilt(**changes: object) -> Plan:
    return replace(PLAN, layouts=(replace(LAYOUT, **changes),))  # type: ignore[arg-type]


def test_the_sound_plan_is_sound():
    check_sawn(PLAN, PIECES, [SHEET], Sawing(KERF))
    assert len(replay(LAYOUT, KERF)) == 6
    assert settings(PLAN) == 4


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"pieces": LAYOUT.pieces[1:]}, ""),
        ({"pieces": (replace(LAYOUT.pieces[0], turned=True), *LAYOUT.pieces[1:])}, ""),
        ({"pieces": (replace(LAYOUT.pieces[0], length=39), *LAYOUT.pieces[1:])}, "what the saw leaves"),
        ({"rests": LAYOUT.rests[1:]}, "what the saw leaves"),
        ({"cuts": LAYOUT.cuts[:-1]}, "what the saw leaves"),
        ({"cuts": (LAYOUT.cuts[1], LAYOUT.cuts[0], *LAYOUT.cuts[2:])}, "straight through 0"),
        ({"cuts": (replace(LAYOUT.cuts[0], at=31), *LAYOUT.cuts[1:])}, "a reading"),
        ({"panel": replace(SHEET, length=101)}, ""),
    ],
)
def test_a_spoilt_layout_is_found(changes, said):
    with pytest.raises(AssertionError, match=said or None):
        check_sawn(spoilt(**changes), PIECES, [SHEET], Sawing(KERF))


@pytest.mark.parametrize("kerf", [0, 1, 3])
def test_another_kerf_is_found(kerf):
    with pytest.raises(AssertionError):
        check_sawn(PLAN, PIECES, [SHEET], Sawing(kerf))


def test_margins_are_kept():
    with pytest.raises(AssertionError):
        check_sawn(PLAN, PIECES, [SHEET], Sawing(KERF, Margins(high=9)))
    check_sawn(PLAN, PIECES, [SHEET], Sawing(KERF, Margins(high=8)))


def test_a_false_bound_is_found():
    for wrong in (
        replace(PLAN, bound=Bound(2, "area", 1, 1)),
        replace(PLAN, least_cost=Fraction(3, 2)),
    ):
        with pytest.raises(AssertionError):
            check_plan(wrong, PIECES, [SHEET], KERF)


def test_more_panels_than_there_are():
    one = replace(SHEET, available=1)
    two = Plan((replace(LAYOUT, panel=one),) * 2, PLAN.bound, Fraction(1))
    twice = [replace(piece, number=piece.number * 2) for piece in PIECES]
    with pytest.raises(AssertionError, match="there are not 2"):
        check_plan(two, twice, [one], KERF)
    check_plan(replace(PLAN, layouts=(LAYOUT,) * 2), twice, [SHEET], KERF)


def test_pieces_that_belong_together_on_two_panels():
    twice = [replace(piece, number=piece.number * 2, together="fronts") for piece in PIECES]
    with pytest.raises(AssertionError, match="fronts come out of 2 panels"):
        check_plan(replace(PLAN, layouts=(LAYOUT,) * 2), twice, [SHEET], KERF)


def test_who_makes_a_cut():
    """The whole sheet is larger than the bench, its strips are not."""
    sawing = Sawing(KERF, bench=(100, 30))
    with pytest.raises(AssertionError, match="divides 100 by 60"):
        check_sawn(PLAN, PIECES, [SHEET], sawing)
    by_hand = tuple(replace(cut, by="hand") if cut.high - cut.low == 100 else cut for cut in LAYOUT.cuts)
    # The rest above the first rip is 28 wide: it goes over the bench.
    with pytest.raises(AssertionError, match="divides 100 by 28"):
        check_sawn(spoilt(cuts=by_hand), PIECES, [SHEET], sawing)
    first = (by_hand[0], *LAYOUT.cuts[1:])
    check_sawn(spoilt(cuts=first), PIECES, [SHEET], sawing)
    check_sawn(spoilt(cuts=first), PIECES, [SHEET], replace(sawing, guide=100))
    with pytest.raises(AssertionError, match="longer than the rail"):
        check_sawn(spoilt(cuts=first), PIECES, [SHEET], replace(sawing, guide=99))


def spiral(depth: int) -> tuple[Layout, list[Piece]]:
    """A panel from which pieces are cut by turns this way and that, one stage more for each."""
    x = y = 0
    length, width = 60, 60
    panel = Panel("square", length, width)
    laid, cuts, pieces = [], [], []
    for index in range(depth):
        name = f"p{index}"
        if index % 2 == 0:
            cuts.append(Cut("y", x + 5, y, y + width, 5))
            laid.append(Laid(name, x, y, 5, width, False))
            pieces.append(Piece(name, 5, width))
            x, length = x + 5, length - 5
        else:
            cuts.append(Cut("x", y + 5, x, x + length, 5))
            laid.append(Laid(name, x, y, length, 5, False))
            pieces.append(Piece(name, length, 5))
            y, width = y + 5, width - 5
    laid.append(Laid("last", x, y, length, width, False))
    pieces.append(Piece("last", length, width))
    return Layout(panel, tuple(laid), tuple(cuts), ()), pieces


def test_a_fourth_stage_is_found():
    for depth in range(1, 6):
        layout, pieces = spiral(depth)
        plan = Plan((layout,), Bound(1, "area", 1, 1), Fraction(1))
        check_plan(plan, pieces, [layout.panel], 0)
        if depth <= 3:
            check_sawn(plan, pieces, [layout.panel], Sawing(0))
        else:
            with pytest.raises(AssertionError, match="fourth stage"):
                check_sawn(plan, pieces, [layout.panel], Sawing(0))


def test_a_fourth_run_that_only_trims_is_no_stage():
    layout, pieces = spiral(4)
    last_but_one = layout.pieces[3]
    trimmed = replace(
        layout,
        pieces=layout.pieces[:3] + layout.pieces[4:],
        rests=(Rest(last_but_one.x, last_but_one.y, last_but_one.length, last_but_one.width),),
    )
    plan = Plan((trimmed,), Bound(1, "area", 1, 1), Fraction(1))
    check_sawn(plan, pieces[:3] + pieces[4:], [layout.panel], Sawing(0))


def test_the_first_way_is_kept():
    layout, pieces = spiral(3)
    plan = Plan((layout,), Bound(1, "area", 1, 1), Fraction(1))
    check_sawn(plan, pieces, [layout.panel], Sawing(0, first="y"))
    with pytest.raises(AssertionError, match="fourth stage"):
        check_sawn(plan, pieces, [layout.panel], Sawing(0, first="x"))
    # Two stages: one strip over the whole panel comes first.
    layout, pieces = spiral(2)
    plan = Plan((layout,), Bound(1, "area", 1, 1), Fraction(1))
    check_sawn(plan, pieces, [layout.panel], Sawing(0, first="x"))

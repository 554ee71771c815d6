"""The bookcase's lists, worked out by hand from its description: what is bought, who cuts, what it costs."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction

import pytest

from plangen.pipeline import Checked, check
from tests.whole.making import source

INCH = Fraction(254, 10)
PLY, BACK, OAK = Fraction(709, 1000), Fraction(203, 1000), Fraction(3, 4)
INSIDE = 36 - 2 * PLY

# Mark: number, width, length in inches as finished. Sides stand under a top of 3/4 in; shelves enter them by
# 1/4 in at both ends, the back laps 3/8 in over both rabbets; a loose shelf has 1/16 in at each end, and
# behind it.
SIZES = {
    "A-L": (1, Fraction(43, 4), Fraction(173, 4)),
    "A-R": (1, Fraction(43, 4), Fraction(173, 4)),
    "B": (2, Fraction(43, 4) - BACK, INSIDE + Fraction(1, 2)),
    "C": (1, Fraction(43, 4) - BACK, INSIDE + Fraction(1, 2)),
    "D": (1, INSIDE + Fraction(3, 4), Fraction(173, 4) - 3),
    "E": (2, Fraction(7, 4), Fraction(173, 4)),
    "F": (3, Fraction(2), Fraction(65, 2)),
    "G": (1, Fraction(3), INSIDE),
    "H": (1, Fraction(25, 2), Fraction(38)),
    "J": (2, Fraction(43, 4) - BACK - Fraction(3, 16), INSIDE - Fraction(1, 8)),
}


@pytest.fixture(scope="module")
def made() -> Checked:
    result = check(source("reading-bookcase"))
    assert result.checked is not None
    assert not list(result.findings)
    return result.checked


def test_every_row_of_the_cut_list(made: Checked) -> None:
    assert {
        line.mark: (line.number, line.width.mm / INCH, line.length.mm / INCH)
        for line in made.take_off.cut_list
    } == SIZES


def test_an_off_cut_from_the_rack_comes_before_a_second_sheet(made: Checked) -> None:
    ply = next(plan for plan in made.take_off.plans if plan.stock == "ply")
    sizes = sorted((one.length.mm / INCH, one.width.mm / INCH) for one in ply.diagrams)
    assert sizes == [(40, 14), (96, 48)]
    assert ply.cost is not None
    assert ply.cost.amount == 96


def test_large_sheets_are_broken_down_along_the_rail(made: Checked) -> None:
    """A sheet is larger than the bench of 30 by 60 in, and no cut by hand may pass the 55 in of rail."""
    for plan in made.take_off.plans:
        for diagram in plan.diagrams:
            by_hand = [cut for cut in diagram.cuts if cut.by == "hand"]
            assert all((cut.high.mm - cut.low.mm) / INCH <= 55 for cut in by_hand)
            assert bool(by_hand) == (diagram.width.mm / INCH > 30)


def test_the_face_frame_comes_out_of_one_board(made: Checked) -> None:
    """Its two stiles, and the blank that its three rails are ripped from."""
    homes = [
        Counter(piece.mark for piece in diagram.pieces if not piece.spare)
        for plan in made.take_off.plans
        if plan.stock == "oak"
        for diagram in plan.diagrams
    ]
    assert [marks for marks in homes if marks["E"] or marks["F"]] == [Counter({"E": 2, "F": 1})]
    assert sum(sum(marks.values()) for marks in homes) == 2 + 1 + 1 + 2, "the top is glued up from two"


def test_one_spare_of_the_longest_oak(made: Checked) -> None:
    spares = [
        piece.mark
        for plan in made.take_off.plans
        for diagram in plan.diagrams
        for piece in diagram.pieces
        if piece.spare
    ]
    assert spares == ["E spare"]


def test_what_it_costs(made: Checked) -> None:
    oak = next(plan for plan in made.take_off.plans if plan.stock == "oak")
    feet = sum(one.length.mm * one.width.mm for one in oak.diagrams) / INCH**2 / 144
    coats = 3 * made.take_off.finish_area / INCH**2 / 144
    cans = -(-coats * 4 // 400)  # quarts, at 400 square feet the gallon
    wood = 96 + 31 + Fraction(round(feet * 780), 100)
    packs = Fraction("3.60") + Fraction("4.20") + Fraction("2.40")
    rest = 2 * Fraction("0.40") + Fraction("12.50") + Fraction("8.50")
    assert made.take_off.total_cost is not None
    assert made.take_off.total_cost.amount == wood + packs + rest + 32 * cans
    assert not made.take_off.unpriced

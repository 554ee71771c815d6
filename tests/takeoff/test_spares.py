"""Spare blanks by hand: which they are, that they are drawn and bought, and that nothing else counts them."""

from __future__ import annotations

from dataclasses import replace

import pytest

from plangen.design.model import Design
from plangen.takeoff.model import TakeOff
from plangen.units import LengthStyle, inches
from tests.design.small import line_at, project, the_fault
from tests.sample_design import sample_design
from tests.takeoff.cases import kinds, pine, plain_design, plain_part, plywood, taken

INCH = LengthStyle("inch")
ROWS = [(2, inches(3), inches(20)), (1, inches(5), inches(30)), (4, inches(4), inches(30))]


def spared(design: Design, number: int) -> TakeOff:
    lists, findings = taken(replace(design, shop=replace(design.shop, spare=number)))
    assert not findings.has_errors
    return lists


def placed(lists: TakeOff) -> list[tuple[str, bool]]:
    return [(one.mark, one.spare) for plan in lists.plans for board in plan.diagrams for one in board.pieces]


@pytest.mark.parametrize("number", [0, 1, 3])
def test_spares_are_more_of_the_longest_and_of_those_the_widest(number: int) -> None:
    """Of 20 × 3, 30 × 5 and 30 × 4 in it is the 30 × 5, part B."""
    design = plain_design(pine(), ROWS)
    lists = spared(design, number)
    assert [mark for mark, spare in placed(lists) if spare] == ["B spare"] * number
    assert len([mark for mark, spare in placed(lists) if not spare]) == 7
    assert all(piece.part == "piece 1" for piece in spare_pieces(lists))


def spare_pieces(lists: TakeOff):
    return [one for plan in lists.plans for board in plan.diagrams for one in board.pieces if one.spare]


def test_a_spare_is_as_large_as_what_it_stands_in_for() -> None:
    lists = spared(plain_design(pine(), ROWS), 1)
    pieces = [one for board in lists.plans[0].diagrams for one in board.pieces if one.part == "piece 1"]
    assert len({(one.length, one.width) for one in pieces}) == 1


def test_there_is_one_for_each_thickness() -> None:
    goods = pine(lengths=(inches(96),))
    design = plain_design(goods, ROWS)
    thin = plain_part(3, 2, inches(3), inches(24), goods, inches("1/2"))
    lists = spared(replace(design, parts=(*design.parts, thin)), 1)
    assert sorted(mark for mark, spare in placed(lists) if spare) == ["B spare", "D spare"]
    words = lists.plans[0].bound_words.text(INCH)
    assert words.endswith(" Among the pieces are spare blanks: 1 of B and 1 of D.")


def test_the_plan_says_so_and_the_other_lists_do_not_count_it() -> None:
    design = plain_design(pine(), ROWS)
    plain, more = spared(design, 0), spared(design, 2)
    assert more.plans[0].bound_words.text(INCH).endswith(" Among the pieces are two spare blanks of B.")
    assert "spare" not in plain.plans[0].bound_words.text(INCH)
    one = spared(design, 1).plans[0].bound_words.text(INCH)
    assert one.endswith(" Among the pieces is one spare blank of B.")
    assert more.cut_list == plain.cut_list
    assert more.plans[0].net_board_feet == plain.plans[0].net_board_feet
    assert more.plans[0].net_volume == plain.plans[0].net_volume
    assert more.mass == plain.mass
    assert (more.glue_area, more.finish_area) == (plain.glue_area, plain.finish_area)
    assert sum(board.used * board.length.mm * board.width.mm for board in more.plans[0].diagrams) == sum(
        board.used * board.length.mm * board.width.mm for board in plain.plans[0].diagrams
    ) + 2 * (inches(5).mm * inches(30).mm)


def test_sheets_have_no_spares() -> None:
    lists = spared(plain_design(plywood(), ROWS), 1)
    assert not any(spare for _, spare in placed(lists))


def test_the_sample_buys_what_its_spare_takes() -> None:
    design = sample_design()
    plain, more = spared(design, 0), spared(design, 6)
    assert [mark for mark, spare in placed(more) if spare] == ["B spare"] * 6
    assert more.plans[0].board_feet is not None
    assert plain.plans[0].board_feet is not None
    assert more.plans[0].board_feet > plain.plans[0].board_feet


def test_a_part_that_fits_no_board_has_no_spare_either() -> None:
    design = plain_design(pine(), [*ROWS, (1, inches(5), inches(400))])
    lists, findings = taken(replace(design, shop=replace(design.shop, spare=1)))
    assert kinds(findings) == ["part-exceeds-stock"]
    assert [mark for mark, spare in placed(lists) if spare] == ["B spare"]


def test_spares_are_counted_whole() -> None:
    board = "board: {stock: pine, runs: across, thick: up, PLACE}"
    board = board.replace("PLACE", "place: {left: 0, right: 9in, front: 0, back: 3in, bottom: 0}")
    text = project(board).replace("shop: {", "shop: {spare: one, ")
    assert line_at(text, the_fault(text, "bad-value")).startswith("one")

"""Pieces that come out of one board, so that their grain matches."""

from __future__ import annotations

from dataclasses import replace

import pytest

from plangen.checks.matched import matched_parts_share_a_board
from plangen.design.model import Design
from plangen.findings import Findings
from plangen.takeoff.notes import matched_notes
from plangen.units import LengthStyle, inches
from tests.takeoff.cases import kinds, pine, plain_design, plywood, taken

INCH = LengthStyle("inch")


def matched(design: Design, *numbers: int) -> Design:
    parts = [
        replace(part, one_board="fronts") if index in numbers else part
        for index, part in enumerate(design.parts)
    ]
    return replace(design, parts=tuple(parts))


def boards_of(design: Design, key: str) -> set[int]:
    (plan,) = taken(design)[0].plans
    return {diagram.number for diagram in plan.diagrams for piece in diagram.pieces if piece.part == key}


@pytest.fixture
def drawers() -> Design:
    """By itself every board of 96 in takes one front of 50 in and one of 40 in beside it."""
    stock = pine(widths=(inches("21/4"),), lengths=(inches(96),))
    return plain_design(stock, [(2, inches(5), inches(50)), (2, inches(5), inches(40))])


def test_fronts_that_match_lie_on_one_board(drawers: Design) -> None:
    assert len(boards_of(drawers, "piece 1")) == 2, "each beside a long one: two boards do"
    together = matched(drawers, 1)
    assert len(boards_of(together, "piece 1")) == 1
    (plan,) = taken(together)[0].plans
    assert len(plan.diagrams) == 3, "which costs a board: two of 50 in never come out of 96 in"


def test_what_no_board_holds_together_is_an_error(drawers: Design) -> None:
    assert "not-one-board" in kinds(taken(matched(drawers, 0))[1])


def test_the_cut_list_says_so(drawers: Design) -> None:
    design = matched(drawers, 0, 1)
    assert [note.text(INCH) for note in matched_notes(design, design.parts[0])] == ["out of one board with B"]
    alone = matched(drawers, 1)
    assert [note.text(INCH) for note in matched_notes(alone, alone.parts[1])] == ["out of one board"]


def test_parts_of_different_stock_cannot_match(drawers: Design) -> None:
    sheet = plywood(name="ply")
    mixed = matched(drawers, 0, 1)
    second = replace(mixed.parts[1], stock="ply")
    mixed = replace(mixed, parts=(mixed.parts[0], second), stock={**mixed.stock, "ply": sheet})
    findings = Findings()
    matched_parts_share_a_board(mixed, None, findings)  # type: ignore[arg-type]
    assert kinds(findings) == ["one-board"]


def test_a_single_piece_matches_nothing() -> None:
    stock = pine(widths=(inches("21/4"),), lengths=(inches(96),))
    findings = Findings()
    design = matched(plain_design(stock, [(1, inches(5), inches(50)), (2, inches(5), inches(40))]), 0)
    matched_parts_share_a_board(design, None, findings)  # type: ignore[arg-type]
    assert kinds(findings) == ["matched-alone"]

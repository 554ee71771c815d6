"""Glued-up pieces in the take-off, by hand: the wood of their boards, their seams, what the lists say."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from fractions import Fraction

from plangen.design.model import Design, GlueUp, Section
from plangen.joinery.space import Axis
from plangen.takeoff import file_tables
from plangen.takeoff.model import TakeOff
from plangen.units import Length, LengthStyle, inches
from tests.takeoff.cases import kinds, pine, plain_design, taken

INCH = LengthStyle()
SQUARE_INCH = Fraction("645.16")


def glued(made: GlueUp, width: Length, length: Length, thickness: Length, number: int = 1) -> Design:
    design = plain_design(pine(widths=(inches("29/4"),)), [(number, width, length)])
    (part,) = design.parts
    blank = replace(part.blank, high=part.blank.high.with_(Axis.UP, thickness))
    return replace(design, parts=(replace(part, blank=blank, glue_up=made),))


def pieces(lists: TakeOff) -> Counter[tuple[Length, Length]]:
    return Counter(
        (piece.length, piece.width) for plan in lists.plans for one in plan.diagrams for piece in one.pieces
    )


def sections(*boards: int, each: str, rough: str) -> tuple[Section, ...]:
    return tuple(
        Section(index, count, inches(each) * count, inches(each), inches(rough))
        for index, count in enumerate(boards, start=1)
    )


TOP = GlueUp(
    "boards", 4, inches(6), inches("3/4"), sections(2, 2, each="97/16", rough="99/16"),
    inches(1), inches("1/4"), rough_length=inches(49), rough_width=inches("99/16"),
)  # fmt: skip
BENCH = GlueUp(
    "strips", 14, inches("3/4"), inches("7/4"), sections(7, 7, each="3/4", rough="15/8"),
    rough_width=inches("15/8"),
)  # fmt: skip


def test_a_top_in_sections_is_cut_from_its_boards() -> None:
    """24 by 48: four boards of 6-3/16 by 49; three seams of 48 by 3/4."""
    lists, findings = taken(glued(TOP, inches(24), inches(48), inches("3/4")))
    assert not list(findings)
    assert pieces(lists) == Counter({(inches(49), inches("99/16")): 4})
    assert lists.glue_area == 3 * 48 * Fraction(3, 4) * SQUARE_INCH
    assert lists.plans[0].net_volume == inches(24).mm * inches(48).mm * inches("3/4").mm
    assert "glue up from 4 boards, each ripped 6 3/16 and jointed 6 1/16 wide, in 2 sections" in [
        note.text(INCH, unit=False).replace("\u00a0", " ") for note in lists.cut_list[0].notes
    ]


def test_strips_turn_the_wood_on_edge() -> None:
    """Two tops of 60 by 10-1/2 by 1-3/4: 28 strips 1-7/8 wide, 1/2 over long, out of wood 3/4 thick."""
    lists, findings = taken(glued(BENCH, inches("21/2"), inches(60), inches("7/4"), number=2))
    assert not list(findings)
    assert pieces(lists) == Counter({(inches("121/2"), inches("15/8")): 28})
    assert lists.glue_area == 2 * 13 * 60 * Fraction(7, 4) * SQUARE_INCH
    assert lists.plans[0].net_volume == 2 * inches("21/2").mm * inches(60).mm * inches("7/4").mm
    note = lists.cut_list[0].notes[0].text(INCH, unit=False).replace("\u00a0", " ")
    assert note == "glue up from 14 strips on edge, each 3/4 × 1 3/4, in 2 sections"


def test_strips_thicker_than_the_stock_are_refused() -> None:
    thick = replace(BENCH, number=7, width=inches("3/2"))
    _, findings = taken(glued(thick, inches("21/2"), inches(60), inches("7/4")))
    assert kinds(findings) == ["part-exceeds-stock"]


def test_what_is_left_over_long_counts_as_it_is_typed() -> None:
    """An allowance of nothing is nothing: the usual 1/2 in is not added to it."""
    exact = replace(TOP, rough_length=inches(48))
    lists, _ = taken(glued(exact, inches(24), inches(48), inches("3/4")))
    assert set(pieces(lists)) == {(inches(48), inches("99/16"))}


def test_the_list_prints_the_finished_size_of_what_is_glued_up() -> None:
    design = glued(TOP, inches(24), inches(48), inches("3/4"))
    lists, _ = taken(design)
    (row,) = next(table for table in file_tables(design, lists, INCH) if table.name == "cut-list").rows
    assert row[4:7] == ("3/4 in", "24 in", "48 in")


def test_what_is_drawn_over_is_said_of_each_glue_up() -> None:
    """49 for 48, and 6-3/16 for 6-1/16 jointed; in place of the usual figures."""
    (plan,) = taken(glued(TOP, inches(24), inches(48), inches("3/4")))[0].plans
    words = plan.bound_words.text(INCH).replace("\u00a0", " ")
    assert (
        "The boards of A are drawn 1 in too long and 1/8 in too wide before their edges are jointed."
    ) in words
    assert "All other pieces" not in words
    assert not plan.allowance_length
    assert not plan.allowance_width


def test_all_others_are_drawn_over_as_usual() -> None:
    design = glued(TOP, inches(24), inches(48), inches("3/4"))
    rail = replace(
        plain_design(pine(widths=(inches("29/4"),)), [(1, inches(3), inches(30))] * 2).parts[1], mark="B"
    )
    (plan,) = taken(replace(design, parts=(*design.parts, rail)))[0].plans
    words = plan.bound_words.text(INCH).replace("\u00a0", " ")
    assert "All other pieces are drawn 1/2 in too long and 1/8 in too wide." in words


def test_strips_keep_the_usual_words() -> None:
    (plan,) = taken(glued(BENCH, inches("21/2"), inches(60), inches("7/4")))[0].plans
    assert (plan.allowance_length, plan.allowance_width) == (inches("1/2"), inches("1/8"))
    assert "are drawn" not in plan.bound_words.text(INCH)

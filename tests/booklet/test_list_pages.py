"""What the pages of the take-off say, read back from the PDF and held against the records."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pypdfium2
import pytest

from plangen.booklet import Booklet, set_booklet
from plangen.booklet.model import Book
from plangen.takeoff.model import TakeOff
from plangen.units import LengthStyle, print_length, print_reading
from tests.booklet.sample_book import book
from tests.takeoff.cases import taken

INCH = LengthStyle("inch")
EDITIONS = ["publish", "binder"]


@cache
def made(edition: str, by_hand: bool = False) -> tuple[Booklet, TakeOff]:
    """The sample with lists that were really taken off; its first cuts made by hand where asked."""
    plain: Book = book(edition=edition, paper="letter", style=INCH)  # type: ignore[arg-type]
    lists, _ = taken(plain.design)
    if by_hand:
        plan = lists.plans[0]
        first = plan.diagrams[0]
        cuts = tuple(replace(cut, by="hand") if cut.number <= 2 else cut for cut in first.cuts)
        plan = replace(plan, diagrams=(replace(first, cuts=cuts), *plan.diagrams[1:]))
        lists = replace(lists, plans=(plan, *lists.plans[1:]))
    return set_booklet(replace(plain, take_off=lists)), lists


def chapter(booklet: Booklet, title: str) -> str:
    pages = pypdfium2.PdfDocument(booklet.pdf)
    words = [
        pages[page.number - 1].get_textpage().get_text_range()
        for page in booklet.pages
        if page.chapter == title
    ]
    return " ".join(" ".join(words).replace("\u00a0", " ").split())


@pytest.mark.parametrize("edition", EDITIONS)
def test_every_cut_stands_in_the_list_with_its_setting(edition: str) -> None:
    """The numbers of each run of equal cuts, rip or crosscut, and its setting stand in one row."""
    booklet, lists = made(edition)
    said = chapter(booklet, "Cutting diagrams")
    for plan in lists.plans:
        for diagram in plan.diagrams:
            runs: list[list[int]] = []
            cuts = {cut.number: cut for cut in diagram.cuts}
            for number, cut in cuts.items():
                before = cuts.get(number - 1)
                if before and (before.along, before.at) == (cut.along, cut.at):
                    runs[-1].append(number)
                else:
                    runs.append([number])
            for run in runs:
                cut = cuts[run[0]]
                numbers = str(run[0]) if len(run) == 1 else f"{run[0]} to {run[-1]}"
                way = {"x": "rip", "y": "crosscut"}[cut.along]
                size = print_length(cut.at, INCH).replace("\u00a0", " ")
                assert f"{numbers} {way} {size}" in said


def test_cuts_by_hand_stand_before_those_at_the_saw() -> None:
    booklet, lists = made("publish", by_hand=True)
    said = chapter(booklet, "Cutting diagrams")
    assert said.count("by hand, along a rail") == said.count("At the saw") == 1
    assert "At the saw" not in chapter(made("publish")[0], "Cutting diagrams")
    cuts = lists.plans[0].diagrams[0].cuts
    assert [cut.by for cut in cuts[:3]] == ["hand", "hand", "bench"]
    after = said[said.index("Gives") :]  # the list of the first board: its cuts by hand, then the others
    assert after.index("1 crosscut") < after.index("3 crosscut")


@pytest.mark.parametrize("edition", EDITIONS)
def test_a_stock_says_whether_fewer_would_do(edition: str) -> None:
    booklet, lists = made(edition)
    said = chapter(booklet, "Cutting diagrams")
    for plan in lists.plans:
        reason = plan.bound_words.text(INCH).replace("\u00a0", " ")
        assert " ".join(reason.split()) in said
        assert f"takes {print_length(plan.kerf, INCH)}".replace("\u00a0", " ") in said
        if len(plan.diagrams) == plan.bound > 1:
            assert "boards, and no fewer" in said


@pytest.mark.parametrize("edition", EDITIONS)
def test_boards_are_bought_by_size_and_count(edition: str) -> None:
    booklet, lists = made(edition)
    said = chapter(booklet, "Materials and shopping list")
    for plan in lists.plans:
        sizes = {(diagram.width, diagram.length) for diagram in plan.diagrams}
        for width, length in sizes:
            number = sum((one.width, one.length) == (width, length) for one in plan.diagrams)
            thick = print_reading(plan.diagrams[0].thickness, INCH)
            row = f"{thick} {print_length(width, INCH)} {print_length(length, INCH)}".replace("\u00a0", " ")
            start = said.index(row)
            assert f" {number} " in said[max(0, start - 60) : start]


def test_what_is_milled_and_cut_later_stands_beside_the_cut_list() -> None:
    booklet, lists = made("publish")
    said = chapter(booklet, "Cut list")
    stages = {stage.name: stage for stage in lists.stages}
    assert {"mill", "later"} <= set(stages)
    assert stages["mill"].title in said
    assert stages["later"].title in said
    for line in (*stages["mill"].lines, *stages["later"].lines):
        sizes = f"{print_length(line.width, INCH)} {print_length(line.length, INCH)}".replace("\u00a0", " ")
        assert sizes in said
        assert line.title in said


@pytest.mark.parametrize("edition", EDITIONS)
def test_hardware_is_bought_in_packs(edition: str) -> None:
    booklet, lists = made(edition)
    said = chapter(booklet, "Materials and shopping list")
    for line in lists.hardware:
        packs = [(pack, number) for pack, number in line.bought if pack > 1]
        for pack, number in packs:
            assert f"{line.count} {number} × box of {pack}" in said
        if not packs and not line.included:
            assert f"{line.count} {line.count}" in said

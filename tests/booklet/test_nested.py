"""Assemblies and positions in the booklet: heads of steps, their own pages, sizes of each position."""

from __future__ import annotations

import io
from dataclasses import replace

import pypdfium2
import pytest

from plangen.booklet import Book, set_booklet
from plangen.booklet.model import Booklet
from plangen.findings import Findings, ProjectError
from plangen.sequence import order_of_work
from plangen.sequence.tokens import resolve_tokens
from plangen.solids import build_solids
from plangen.takeoff import take_off
from plangen.units import LengthStyle, print_length
from tests.booklet.sample_book import SimplePictures, templates
from tests.nested_design import nested_design

MM = LengthStyle("mm")


def made() -> Book:
    design = nested_design()
    findings = Findings()
    order = order_of_work(design, ("draft",), findings)
    solids = build_solids(design)
    lists = take_off(design, order, findings, {key: one.volume for key, one in solids.parts.items()})

    def resolve(text: str) -> str:
        return resolve_tokens(
            text,
            lambda length: print_length(length, MM, unit=True),
            lambda reference: reference,
            lambda key: design.part(key).title,
            lambda item: design.hardware[item].title,
        )

    return Book(design, solids, lists, order, MM, SimplePictures(design), resolve, templates(), paper="a4")


@pytest.fixture(scope="module")
def booklet() -> Booklet:
    return set_booklet(made())


@pytest.fixture(scope="module")
def pages(booklet: Booklet) -> list[str]:
    document = pypdfium2.PdfDocument(io.BytesIO(booklet.pdf))
    return [page.get_textpage().get_text_range().replace("\r\n", "\n") for page in document]


def page_with(pages: list[str], words: str) -> str:
    found = [page for page in pages if words in page]
    assert found, words
    return found[0]


def test_nothing_is_amiss_with_the_layout(booklet: Booklet) -> None:
    assert booklet.defects == ()


def test_steps_of_an_assembly_say_what_is_built_and_how_often(pages: list[str]) -> None:
    step = page_with(pages, "Drawer: make 2")
    assert "Screw the face to the sides" in step
    assert "Build both drawers alike" in step
    case = [page for page in pages if "For this step" in page and "Drawer: make" not in page]
    assert any("lue" in page for page in case), "the case is glued"
    assert all("make 2" not in page for page in case), "the case is built once"


def test_what_is_brought_as_one_thing_is_listed_with_its_number(pages: list[str]) -> None:
    step = next(page for page in pages if "Mount the drawers" in page and "For this step" in page)
    assert "Drawer\n2" in step or "Drawer 2" in step
    assert "Drawer face" not in step.split("For this step")[1]


def test_an_assembly_has_a_page_that_counts_one_copy(pages: list[str]) -> None:
    page = next(page for page in pages if "Drawer, make 2" in page)
    assert "assembly drawer" in page, "the picture"
    assert "The numbers in the key are for one drawer." in page
    key = page.split("Drawer, make 2")[1]
    assert "Drawer side" in key
    assert "Shelf" not in key


def test_the_sizes_of_every_position_are_printed(pages: list[str]) -> None:
    whole = page_with(pages, "See what you will build").replace("\u00a0", " ")
    for sizes in ("500 × 446 × 423 mm", "520 × 446 × 903 mm", "500 × 446 × 603 mm"):
        assert sizes in whole
    moved = page_with(pages, "See how it moves").replace("\u00a0", " ")
    assert "position door open" in moved
    assert "position top drawer out" in moved
    assert "position closed" not in moved, "that is the piece as it is drawn everywhere"


def test_many_positions_go_into_a_table() -> None:
    book = made()
    closed, opened, *_ = book.design.positions
    many = tuple(replace(opened, name=f"open {n}", title=f"Open {n}") for n in range(1, 6))
    booklet = set_booklet(replace(book, design=replace(book.design, positions=(closed, *many))))
    document = pypdfium2.PdfDocument(io.BytesIO(booklet.pdf))
    pages = [page.get_textpage().get_text_range() for page in document]
    assert "Overall width" in page_with(pages, "See how it moves")
    assert "Open 5" not in page_with(pages, "See what you will build")


def test_a_template_that_asks_for_what_is_not_there_is_a_finding() -> None:
    book = made()
    faulty = {**book.templates, "exploded.md": "# Apart\n\n```picture assembly chest\n```\n"}
    with pytest.raises(ProjectError) as caught:
        set_booklet(replace(book, templates=faulty))
    assert "picture assembly chest" in caught.value.findings[0].message
    assert "drawer" in (caught.value.findings[0].remedy or "")


def test_a_project_without_either_has_no_such_pages() -> None:
    book = made()
    plain = replace(book.design, assemblies=(), positions=(), motions=())
    order = order_of_work(plain, ("draft",), Findings())
    booklet = set_booklet(replace(book, design=plain, order=order))
    assert {page.chapter for page in booklet.pages}.isdisjoint({"Positions"})

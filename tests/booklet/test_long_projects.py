"""Projects that are far longer than a page: nothing is lost, split or left alone."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import Any

import pypdfium2
import pytest

from plangen.booklet import Booklet, set_booklet
from plangen.booklet.numbers import Numbers
from plangen.sequence.model import OrderOfWork
from plangen.takeoff.model import HardwareLine
from plangen.units import phrase
from tests.booklet.sample_book import book


def texts(booklet: Booklet) -> list[str]:
    return [page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(booklet.pdf)]


def with_step(number: int, **changes: Any) -> Booklet:
    plain = book()
    steps = tuple(replace(step, **changes) if step.number == number else step for step in plain.order.steps)
    return set_booklet(replace(plain, order=OrderOfWork(steps)))


def test_a_long_table_repeats_its_heads_and_splits_no_row() -> None:
    plain = book()
    first = plain.take_off.hardware[0]
    many = tuple(
        HardwareLine(n, "screw", f"Screw of row {n}", phrase("No. ", str(n)), n, None, (), None, None)
        for n in range(1, 71)
    )
    booklet = set_booklet(replace(plain, take_off=replace(plain.take_off, hardware=(first, *many))))
    start = booklet.places["chapter:hardware"]
    pages = [text for text in texts(booklet)[start - 1 :] if "Screw of row" in text and "Used in" in text]
    assert len(pages) >= 3
    for text in pages:
        assert text.count("Used in") == 1
    for n in range(1, 71):
        holding = [
            text
            for text in pages
            if f"Screw of row {n} " in text.replace("\r\n", " ").replace("\n", " ") + " "
        ]
        assert len(holding) == 1, n
    assert min(text.count("Screw of row") for text in pages) >= 2
    assert [defect for defect in booklet.defects if defect.kind != "near-empty"] == []


@pytest.mark.parametrize("number", [4, 8])
def test_a_step_of_many_sentences_loses_none(number: int) -> None:
    booklet = with_step(
        number, say=" ".join(f"Do thing {n} with great care and a steady hand." for n in range(1, 61))
    )
    everything = " ".join(texts(booklet)).replace("\r\n", " ")
    for n in range(1, 61):
        assert everything.count(f"Do thing {n} with") == 1
    assert [page for page in booklet.pages if number in page.steps]
    assert booklet.defects == ()


def test_a_step_with_many_tools_and_checks_keeps_them_all() -> None:
    booklet = with_step(
        2,
        tools=tuple(f"Tool number {n}" for n in range(1, 41)),
        checks=tuple(f"Check number {n} holds." for n in range(1, 13)),
    )
    everything = " ".join(texts(booklet)).replace("\r\n", " ")
    assert all(f"Tool number {n} " in everything + " " for n in range(1, 41))
    assert all(f"Check number {n} holds." in everything for n in range(1, 13))
    assert [defect.kind for defect in booklet.defects] in ([], ["near-empty"])


def test_a_step_with_every_caution_puts_them_first() -> None:
    from plangen.handbook.safety import CAUTIONS

    booklet = with_step(4, cautions=tuple(CAUTIONS))
    begins = booklet.places["step:4"]
    pages = texts(booklet)
    assert pages[begins - 1].index("DANGER") < pages[begins - 1].index("WARNING")
    assert any("Brush glue into the dadoes." in text for text in pages[begins - 1 :])


def test_a_heavy_step_says_what_is_lifted_and_how_much_it_weighs() -> None:
    """All pieces of the sample, by the weights of its parts."""
    plain = book()
    booklet = with_step(4, cautions=("lifting",), lifts=tuple(plain.design.copies))
    masses = plain.take_off.part_mass
    total = sum(
        (masses.get(part.key, Fraction(0)) * len(part.copies) for part in plain.design.parts), Fraction(0)
    )
    number, unit = Numbers(plain.style).mass(total)
    page = texts(booklet)[booklet.places["step:4"] - 1].replace("\r\n", " ")
    assert f"What you lift here weighs about {number} {unit}." in page
    assert "Lift it with a helper" in page
    light = with_step(4, cautions=("lifting",))
    assert "heavy or awkward" in texts(light)[light.places["step:4"] - 1].replace("\r\n", " ")


def test_a_part_with_many_operations_takes_a_second_page() -> None:
    plain = book()
    rail = plain.design.part("rail")
    model = plain.design.part("side left").operations[0]
    many = tuple(
        replace(model, say=phrase(f"Cut the groove number {n}, slowly and with a fence."))
        for n in range(1, 31)
    )
    parts = tuple(
        replace(part, operations=many) if part.key == "rail" else part for part in plain.design.parts
    )
    assert rail in plain.design.parts
    booklet = set_booklet(replace(plain, design=replace(plain.design, parts=parts)))
    everything = " ".join(texts(booklet)).replace("\r\n", " ")
    assert all(f"groove number {n}," in everything for n in range(1, 31))
    assert booklet.defects == ()


def test_long_titles_wrap_and_stay_inside() -> None:
    plain = book()
    title = "Extraordinarily long case with two shelves, a rail, a back and far too many words in its title"
    project = replace(
        plain.design.project,
        title=title,
        code="OC-1",
        hours=(("A phase with quite a long name of its own", Fraction(3)),),
    )
    steps = tuple(
        replace(step, title=f"{step.title} and then do a number of other things that need a long heading")
        for step in plain.order.steps
    )
    booklet = set_booklet(
        replace(plain, design=replace(plain.design, project=project), order=OrderOfWork(steps))
    )
    for page in pypdfium2.PdfDocument(booklet.pdf):
        text = page.get_textpage()
        wide, _ = page.get_size()
        for index in range(text.count_chars()):
            if text.get_text_range(index, 1).strip():
                assert text.get_charbox(index)[2] <= wide - 18 * 72 / 25.4


@pytest.mark.parametrize("number", range(9, 24))
def test_the_checks_of_a_step_never_stand_on_a_page_alone(number: int) -> None:
    say = " ".join(
        f"Do thing {n} with great care and then look at it from all sides, twice." for n in range(number)
    )
    booklet = with_step(4, say=say, checks=("All holds fast.",))
    page = next(text for text in texts(booklet) if "All holds fast." in text)
    assert f"Do thing {number - 1} with" in page
    assert f"Do thing {number - 2} with" in page

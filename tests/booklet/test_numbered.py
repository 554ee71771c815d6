"""What is done to a part runs over pages, each sentence once and under its own number."""

from __future__ import annotations

import re
from io import BytesIO

import pytest
from pypdfium2 import PdfDocument
from reportlab.pdfgen.canvas import Canvas

from plangen.booklet.sentences import Numbered
from plangen.booklet.setting import Setting
from tests.booklet.test_keeping import setting  # noqa: F401  a fixture

WIDTH = 480.0


def _pages(block: Numbered, height: float) -> list[Numbered]:
    pages = [block]
    while pages[-1].wrap(WIDTH, height)[1] > height:
        pages[-1:] = pages[-1].split(WIDTH, height)
    return pages


@pytest.mark.parametrize("columns", [1, 2])
@pytest.mark.parametrize("number", [2, 31, 90])
def test_each_sentence_stands_once_under_its_number(setting: Setting, columns: int, number: int) -> None:  # noqa: F811
    texts = [f"Cut a dado 20 mm wide and 7 mm deep, {60 * n} mm from the bottom end." for n in range(number)]
    pages = _pages(Numbered(setting, "Work on this part", texts, columns), 300.0)
    assert (len(pages) > 1) == (number > 2)
    file = BytesIO()
    canvas = Canvas(file)
    for page in pages:
        assert page.wrap(WIDTH, 300.0)[1] <= 300.0
        page.drawOn(canvas, 50.0, 50.0)
        canvas.showPage()
    canvas.save()
    read = "\n".join(page.get_textpage().get_text_range() for page in PdfDocument(file.getvalue()))
    numbers = [int(found) for found in re.findall(r"(\d+)\s+Cut a dado", read)]
    assert numbers == list(range(1, number + 1))
    assert read.count("Cut a dado") == number


def test_a_page_without_room_for_one_sentence_gets_none(setting: Setting) -> None:  # noqa: F811
    block = Numbered(setting, "Work on this part", ["Plane the face.", "Drill a hole."])
    assert block.split(WIDTH, 10.0) == []

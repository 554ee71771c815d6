"""Patterns of whole descriptions: which parts get one, a maker who asks or refuses, pages without flaw."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from plangen.design.model import Design
from plangen.drawing.part_sheets import pattern_pages
from plangen.drawing.part_sheets.pattern_proof import CARD_RADIUS, proof_page
from plangen.drawing.sheet.measure import bounds, overlaps
from plangen.drawing.sheet.model import Drawing, Text
from plangen.pipeline import Source, check
from plangen.units import LengthStyle
from tests.docs.examples import load

LETTER, A4 = (199.9, 251.4), (194.0, 269.0)  # mm that may be used
CLOSE = 1e-6


@cache
def design(name: str, *changes: str) -> Design:
    text = load(name).text
    for old, new in zip(changes[::2], changes[1::2], strict=True):
        assert text.count(old) == 1
        text = text.replace(old, new)
    made = check(Source(name, f"{name}.yaml", text.encode())).design
    assert made is not None
    return made


def asked(made: Design) -> dict[str, bool]:
    return {part.key: part.pattern for part in made.parts}


@pytest.mark.parametrize(
    ("name", "wanted"),
    [
        ("curve", {"board": True}),
        ("taper", {"board": True}),
        ("parts", {"end": True}),  # an outline with a round top
        ("compound-mitre", {"board": True}),
        ("through-dovetails", {"lid": False, "side": True}),  # the pins are scribed from the tails
        ("mitre", {"board": False}),  # a saw's scale gives it
        ("bevel", {"board": False}),
        ("slot", {"board": False}),
        ("pocket", {"board": False}),
        ("chamfer", {"board": False}),
        ("notch", {"board": False}),
        ("finger", {"lid": False, "side": False}),
    ],
)
def test_the_shape_decides(name: str, wanted: dict[str, bool]) -> None:
    assert asked(design(name)) == wanted


def test_a_notch_with_a_round_corner_gets_one() -> None:
    made = design("notch", "across: 3in, deep: 2in}", "across: 3in, deep: 2in, radius: 1in}")
    assert asked(made) == {"board": True}


def test_a_maker_refuses_or_asks() -> None:
    refused = design("curve", "    runs: across\n", "    runs: across\n    pattern: no\n")
    assert asked(refused) == {"board": False}
    assert pattern_pages(refused, refused.parts[0], LengthStyle(), LETTER) == ()
    wanted = design("slot", "    runs: across\n", "    runs: across\n    pattern: yes\n")
    assert asked(wanted) == {"board": True}
    pages = pattern_pages(wanted, wanted.parts[0], LengthStyle(), LETTER)
    assert [page.title for page in pages] == ["Full-size pattern of A, top face, sheet 1 of 1"]


def sound(page: Drawing, paper: tuple[float, float]) -> None:
    assert overlaps(page).count == 0, f"{page.title}: {overlaps(page)}"
    low_x, low_y, high_x, high_y = bounds(page.marks)
    assert low_x >= -CLOSE
    assert low_y >= -CLOSE
    assert high_x <= paper[0] + CLOSE
    assert high_y <= paper[1] + CLOSE


@pytest.mark.parametrize("paper", [LETTER, A4], ids=["letter", "a4"])
@pytest.mark.parametrize("system", ["inch", "mm", "both"])
@pytest.mark.parametrize(
    "name", ["curve", "taper", "parts", "compound-mitre", "round-tenon", "through-dovetails"]
)
def test_nothing_overlaps_and_nothing_leaves_the_paper(
    name: str, system: str, paper: tuple[float, float]
) -> None:
    made = design(name)
    for part in made.parts:
        for page in pattern_pages(made, part, LengthStyle(system), paper):  # type: ignore[arg-type]
            sound(page, paper)


@pytest.mark.parametrize("name", ["fit", "holes", "screwed", "pocket-screwed", "finger", "place"])
def test_any_part_at_all_may_be_asked_for(name: str) -> None:
    made = design(name)
    for part in made.parts:
        for page in pattern_pages(made, replace(part, pattern=True), LengthStyle(), LETTER):
            sound(page, LETTER)


def test_every_sheet_of_a_pattern_has_its_number_and_its_place() -> None:
    made = design("curve")
    pages = pattern_pages(made, made.parts[0], LengthStyle(), LETTER)
    key, *sheets = pages
    assert key.title.startswith("Key")
    for number, page in enumerate(sheets, 1):
        words = [mark.text for mark in page.marks if isinstance(mark, Text)]
        assert f"Sheet {number} of {len(sheets)}: row 1, column {number}" in words
    offsets = [mark.text for mark in key.marks if isinstance(mark, Text) and mark.role == "offset"]
    # From 2 in to 14 in, 1-1/4 in deep: r = (12²/4 + (5/4)²) / (2 · 5/4) = 15.025 in; deepest at 8 in.
    assert offsets[offsets.index("8") + 1] == "1\u00a01/4"
    # at 5 in: √(15.025² - 3²) - (15.025 - 1.25) = 0.9475 in, to the 64th 61/64
    assert offsets[offsets.index("5") + 1] == "61/64"


def test_the_test_page_is_sound_and_its_card_has_the_corners_of_the_standard() -> None:
    """ISO/IEC 7810 ID-1: corners of 2.88 to 3.48 mm (from memory)."""
    assert 2.88 <= CARD_RADIUS <= 3.48
    for paper in (LETTER, A4):
        sound(proof_page(paper), paper)

"""A booklet in one unit system never names the other, and a sample gives no part's size away."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest

from tests.whole.conftest import EVERYDAY
from tests.whole.expected import pieces
from tests.whole.making import Made, Variant
from tests.whole.paper import Paper
from tests.whole.sums import Project, inch_text, mm_text

Built = Callable[[Variant], Made]
VARIANTS = [variant for line in EVERYDAY for variant in line]
METRIC = re.compile(r"\d\s*(?:mm|cm|m²|m³|m|kg)\b|[Mm]illimet|\bmetric\b|\bkg\b|\bmm\b")
INCH = re.compile(
    r"\d\s*(?:in|ft|lb)\b(?! the\b| a\b)|\d\s*[″\"′]|\binch|\bboard f|\bsq ft|\blb\b|\d/\d+\b", re.IGNORECASE
)
COUNTS = frozenset(
    str(n) for n in range(60)
)  # a line that is only a small whole number may be a step or a count
RULERS = (
    "both across and down",
    "Full size: a tape must agree with both rulers",
    "a pattern from a wrong print makes a part that fits nowhere",
)


def _pages(paper: Paper) -> list[tuple[int, str]]:
    """All pages but those with rulers, which prove the scale of a print in both systems on purpose."""
    return [(n, text) for n, text in enumerate(paper.texts, 1) if not any(words in text for words in RULERS)]


@pytest.mark.parametrize(
    "variant", [one for one in VARIANTS if one.units == "inch"], ids=lambda one: one.name
)
def test_an_inch_booklet_names_no_millimetre(variant: Variant, built: Built) -> None:
    paper = Paper(built(variant).pdf)
    assert [(n, found[0]) for n, text in _pages(paper) if (found := METRIC.search(text))] == []


@pytest.mark.parametrize("variant", [one for one in VARIANTS if one.units == "mm"], ids=lambda one: one.name)
def test_a_millimetre_booklet_names_no_inch(variant: Variant, built: Built) -> None:
    paper = Paper(built(variant).pdf)
    pages = [(n, _without_rating(text)) for n, text in _pages(paper)]
    found = [
        (n, text[max(0, one.start() - 30) : one.end() + 10])
        for n, text in pages
        for one in INCH.finditer(text)
    ]
    assert found == []


def _without_rating(text: str) -> str:
    """Take out what the trade calls by quarters everywhere: sawn lumber, such as 4/4."""
    return re.sub(r"(?<!\d )\b[4-9]/4\b", "", text)


@pytest.mark.parametrize(
    "variant", [one for one in VARIANTS if one.edition == "sample"], ids=lambda one: one.name
)
def test_a_sample_gives_no_size_of_a_part(variant: Variant, built: Built) -> None:
    """Every printed number is held against the sizes of the parts; the overall size is for everybody."""
    paper = Paper(built(variant).pdf)
    p = Project(variant.project)
    show = inch_text if variant.units == "inch" else mm_text
    whole = {show(p[name]) for name in ("width", "height", "depth")}
    secret = {
        show(size)
        for piece in pieces(variant.project)
        for size in (piece.thickness, piece.width, piece.length, piece.shoulder)
        if size is not None
    } - whole
    assert len(secret) >= 3
    for number, lines in enumerate(paper.lines, 1):
        printed = {line for line in lines if line in secret and line not in COUNTS}
        printed |= {
            size
            for size in secret
            for line in lines
            if re.search(rf"(?<![\d/ ]){re.escape(size)} (?:in|mm)\b", line)
        }
        assert not printed, (number, printed)
        assert "Part sheet" not in lines
        assert "T × W × L" not in " ".join(lines)

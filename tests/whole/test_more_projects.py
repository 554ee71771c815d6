"""Two more examples built once and read back: moving lids and panels, and legs that lean."""

from __future__ import annotations

import re
from collections.abc import Callable
from fractions import Fraction

import pytest

from tests.whole.conftest import MORE
from tests.whole.making import Made, Variant
from tests.whole.paper import Paper, table

SIZES = ("Width", "Length", "Between shoulders")
Built = Callable[[Variant], Made]


@pytest.fixture(scope="module", params=[one for line in MORE for one in line], ids=lambda one: one.name)
def made(request: pytest.FixtureRequest, built: Built) -> Made:
    return built(request.param)


@pytest.fixture(scope="module")
def paper(made: Made) -> Paper:
    return Paper(made.pdf)


def test_nothing_is_to_be_said_about_it(made: Made) -> None:
    assert made.findings == ()
    assert made.files


def _bare(size: str) -> str:
    """A size of a file without its unit, which the booklet says once for all."""
    return size.removesuffix(" in").removesuffix(" mm")


def _thickness(row: dict[str, str]) -> str:
    """The thickness as a caliper gives it: a 64th where it is one, else thousandths."""
    inches = Fraction(row["Thickness exact, mm"]) / Fraction(254, 10)
    return _bare(row["Thickness"]) if 64 % inches.denominator == 0 else f"{float(inches):.3f}".rstrip("0")


def test_every_size_of_the_cut_list_is_printed_after_its_mark_and_title(made: Made, paper: Paper) -> None:
    rows = table(made.files, "cut-list")
    assert len(rows) > 3
    words = " ".join(paper.texts[page] for page in paper.chapter("Cut list"))
    missing = []
    for row in rows:
        sizes = [row["Number"], _thickness(row), *(_bare(row[name]) for name in SIZES if row[name])]
        title = re.escape(row["Part"]).replace(r"\ ", r"\s+")
        line = (
            rf"{re.escape(row['Mark'])}\s+{title}( ★)?\s+" + r"\s+".join(map(re.escape, sizes)) + r"(?![\d/])"
        )
        if not re.search(line, words):
            missing.append((row["Mark"], row["Part"], *sizes))
    assert missing == []


def test_every_mark_has_its_sheet_and_stands_in_the_exploded_view(made: Made, paper: Paper) -> None:
    marks = [row["Mark"] for row in table(made.files, "cut-list")]
    sheets = [line for page in paper.chapter("Parts") for line in paper.lines[page]]
    exploded = [line for page in paper.chapter("Exploded view") for line in paper.lines[page]]
    for mark in marks:
        assert mark in sheets, f"no sheet shows {mark}"
        assert mark in exploded, f"{mark} is not in the exploded view"
        assert f"drawings/part-{mark}.svg" in made.files

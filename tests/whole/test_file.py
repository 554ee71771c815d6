"""The finished file: two readers, bookmarks, links, fonts, metadata, and the revision on every page."""

from __future__ import annotations

import json
import re
import tomllib
import xml.etree.ElementTree as ElementTree
from collections.abc import Callable
from datetime import date

import pypdfium2
import pytest

from tests.whole.conftest import EVERYDAY
from tests.whole.expected import pieces
from tests.whole.making import ROOT, Made, Variant
from tests.whole.paper import FOOT, Paper
from tests.whole.sums import Project

Built = Callable[[Variant], Made]
VARIANTS = [variant for line in EVERYDAY for variant in line]
# PDF reference (ISO 32000-1), table 30 gives page sizes in 1/72 in. Letter: ASME Y14.1; A4: ISO 216.
SHEETS = {"letter": (8.5 * 72, 11 * 72), "a4": (210 / 25.4 * 72, 297 / 25.4 * 72)}
MONTHS = "January February March April May June July August September October November December"


@pytest.fixture(params=VARIANTS, ids=lambda variant: variant.name)
def variant(request: pytest.FixtureRequest) -> Variant:
    return request.param  # type: ignore[no-any-return]


@pytest.fixture
def made(variant: Variant, built: Built) -> Made:
    return built(variant)


@pytest.fixture
def paper(made: Made) -> Paper:
    return Paper(made.pdf)


def test_nothing_is_wrong_with_it(made: Made) -> None:
    assert [one for one in made.findings if one[0] != "note"] == []


def test_two_readers_agree(variant: Variant, made: Made, paper: Paper) -> None:
    document = pypdfium2.PdfDocument(made.pdf)
    assert len(document) == len(paper.reader.pages) == len(json.loads(made.files["record.json"])["pages"])
    for page in document:
        assert page.get_size() == pytest.approx(SHEETS[variant.paper], abs=0.5)
    document.close()
    for one, two in zip(paper.texts, paper.second_texts, strict=True):
        assert sorted(re.findall(r"[\w/]+", one)) == sorted(re.findall(r"[\w/]+", _unhyphened(two)))


def _unhyphened(text: str) -> str:
    """The second reader marks a hyphen at the end of a line with a sign of its own."""
    return text.replace("\ufffe", "-").replace("\x02", "-")


def test_every_page_says_its_number_and_the_revision(variant: Variant, paper: Paper) -> None:
    project = Project(variant.project).data["project"]
    day = date.fromisoformat(project["revised"])
    month = MONTHS.split()[day.month - 1]
    foot = f"{project['code']}, revision {project['revision']}, {day.day} {month} {day.year}"
    total = len(paper.texts)
    for number, lines in enumerate(paper.lines, 1):
        words = " ".join(lines)
        if number == 1 and variant.edition != "binder":
            assert f"{project['code']}, revision {project['revision']}" in words  # the cover
            continue
        assert foot in words, number
        assert [(int(a), int(b)) for a, b in FOOT.findall(lines[-1])] == [(number, total)]


def test_the_date_is_that_of_the_revision(variant: Variant, paper: Paper) -> None:
    project = Project(variant.project).data["project"]
    stamp = date.fromisoformat(project["revised"]).strftime("D:%Y%m%d000000")
    told = paper.reader.metadata or {}
    assert str(told["/CreationDate"]).startswith(stamp)
    assert str(told["/ModDate"]).startswith(stamp)
    assert told["/Title"] == f"{project['title']}, {project['code']}, revision {project['revision']}"
    assert told["/Author"] == project["maker"]


def test_chapters_parts_and_steps_have_bookmarks_that_lead_there(
    variant: Variant, made: Made, paper: Paper
) -> None:
    order = tomllib.loads((ROOT / "templates" / "chapters.toml").read_text("utf-8"))["chapter"]
    titles = {one["title"] for one in order if variant.edition in one["editions"]}
    found = {title for depth, title, _ in paper.outline if depth == 0}
    assert found <= titles
    # A chapter with nothing to say leaves itself out: no measured sizes, patterns, positions.
    assert titles - found <= {"Measured sizes", "Full-size patterns", "Revisions", "Notes", "Positions"}
    record = json.loads(made.files["record.json"])
    below = [(title, page) for depth, title, page in paper.outline if depth == 1]
    if variant.edition == "sample":
        return
    for part in record["parts"]:
        (page,) = [page for title, page in below if title.split()[0] == part["mark"]]
        assert part["mark"] in paper.lines[page]
    for step in record["steps"]:
        (page,) = [page for title, page in below if title.split()[0] == str(step["number"])]
        assert f"Step {step['number']} of {len(record['steps'])}" in paper.texts[page]


def test_every_link_leads_to_a_page(paper: Paper) -> None:
    count = 0
    for index, page in enumerate(paper.reader.pages):
        width, height = float(page.mediabox.width), float(page.mediabox.height)
        for (left, low, right, high), target in paper.links(index):
            count += 1
            assert target is not None
            assert 0 <= left < right <= width
            assert 0 <= low < high <= height
    assert count > 0 or len(paper.texts) < 10


def test_every_line_of_the_cut_list_leads_to_the_drawing_of_its_part(variant: Variant, paper: Paper) -> None:
    if variant.edition == "sample":
        pytest.skip("a sample has no cut list")
    pages = {target for index in paper.chapter("Cut list") for _, target in paper.links(index)}
    drawn = {page for depth, _, page in paper.outline if depth == 1 and page in paper.chapter("Parts")}
    assert drawn <= pages
    assert len(drawn) == len(pieces(variant.project))


def test_every_font_is_in_the_file(paper: Paper) -> None:
    fonts = paper.fonts()
    assert fonts
    for name, font in fonts.items():
        inner = font["/DescendantFonts"][0].get_object() if "/DescendantFonts" in font else font
        shape = inner["/FontDescriptor"].get_object()
        data = next(
            shape[key].get_object() for key in ("/FontFile2", "/FontFile3", "/FontFile") if key in shape
        )
        assert len(data.get_data()) > 500, name
        assert "/ToUnicode" in font, name


def test_no_page_is_blank(made: Made) -> None:
    document = pypdfium2.PdfDocument(made.pdf)
    for number, page in enumerate(document, 1):
        picture = page.render(scale=0.25, grayscale=True).to_numpy()
        assert (picture < 200).any(), number
    document.close()


def test_the_drawings_are_sound_svg(made: Made) -> None:
    drawings = {name: data for name, data in made.files.items() if name.endswith(".svg")}
    assert drawings
    for name, data in drawings.items():
        root = ElementTree.fromstring(data)
        assert root.tag == "{http://www.w3.org/2000/svg}svg", name
        assert b"NaN" not in data
        assert b"nan" not in re.sub(rb"[a-z]*nan[a-z]+|[a-z]+nan[a-z]*", b"", data)

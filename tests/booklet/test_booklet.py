"""The booklet as a file: what it says, where it leads, how it is made."""

from __future__ import annotations

import hashlib
import os
import subprocess
import sys
from dataclasses import replace
from functools import cache
from io import BytesIO
from typing import Any

import pypdf
import pypdfium2
import pytest
from pypdf.generic import ContentStream

from plangen.booklet import Booklet, layout_defects, set_booklet
from plangen.booklet.context import sample_step, without_sizes
from plangen.drawing.sheet.model import Drawing, Text
from plangen.findings import ProjectError
from plangen.units import LengthStyle, print_length, print_reading
from tests.booklet.sample_book import book, templates

EDITIONS = [
    ("publish", "letter", "inch"),
    ("publish", "a4", "mm"),
    ("publish", "a4", "both"),
    ("binder", "letter", "inch"),
    ("binder", "a4", "both"),
    ("sample", "letter", "inch"),
]


@cache
def made(edition: str = "publish", paper: str = "letter", system: str = "inch") -> Booklet:
    return set_booklet(book(edition=edition, paper=paper, style=LengthStyle(system)))  # type: ignore[arg-type]


def reader(booklet: Booklet) -> pypdf.PdfReader:
    return pypdf.PdfReader(BytesIO(booklet.pdf))


def page_text(booklet: Booklet, number: int) -> str:
    page = pypdfium2.PdfDocument(booklet.pdf)[number - 1]
    return page.get_textpage().get_text_range().replace("\r\n", "\n")


def all_text(booklet: Booklet) -> str:
    return "\n".join(page_text(booklet, page.number) for page in booklet.pages)


@pytest.mark.parametrize(("edition", "paper", "system"), EDITIONS)
def test_no_page_has_a_defect(edition: str, paper: str, system: str) -> None:
    assert made(edition, paper, system).defects == ()


@pytest.mark.parametrize(("edition", "paper", "system"), EDITIONS)
def test_every_font_is_embedded_and_a_subset(edition: str, paper: str, system: str) -> None:
    names = set()
    for page in reader(made(edition, paper, system)).pages:
        for font in page["/Resources"].get("/Font", {}).values():  # type: ignore[union-attr]
            font = font.get_object()
            names.add(str(font["/BaseFont"]))
            assert "/FontFile2" in font["/FontDescriptor"], font["/BaseFont"]
            assert "+" in font["/BaseFont"]
    assert names


def page_number(page: Any) -> int:
    return int(page.indirect_reference.idnum)


def targets_of(page: Any) -> list[int]:
    """Object numbers of the pages that the links of a page lead to."""
    found = []
    for annotation in page.get("/Annots", []):
        link = annotation.get_object()
        target = link.get("/Dest") or link["/A"]["/D"]
        found.append(int(target[0].idnum))
    return found


@pytest.mark.parametrize(("edition", "paper", "system"), EDITIONS)
def test_every_link_and_bookmark_leads_to_a_page(edition: str, paper: str, system: str) -> None:
    pdf = reader(made(edition, paper, system))
    links = [target for page in pdf.pages for target in targets_of(page)]
    assert bool(links) is (edition != "sample")
    known = {page_number(page) for page in pdf.pages}
    assert set(links) <= known

    def walk(items: list[Any]) -> int:
        return sum(walk(item) if isinstance(item, list) else int(is_page(item)) for item in items)

    def is_page(item: Any) -> bool:
        return pdf.get_destination_page_number(item) is not None

    assert walk(pdf.outline) >= len({page.chapter for page in made(edition, paper, system).pages})


def test_a_mark_in_the_cut_list_leads_to_the_sheet_of_its_part() -> None:
    booklet = made()
    pdf = reader(booklet)
    sheet = booklet.places["part:shelf"]
    assert page_number(pdf.pages[sheet - 1]) in targets_of(pdf.pages[booklet.places["chapter:cut-list"] - 1])
    assert "Make the shelf" in page_text(booklet, booklet.places["part:shelf"])


def test_two_processes_give_the_same_bytes() -> None:
    code = (
        "import hashlib; from plangen.booklet import build_booklet as made;"
        "from tests.booklet.sample_book import book;"
        "print(hashlib.sha256(made(book())).hexdigest())"
    )
    sums = [
        subprocess.run(
            [sys.executable, "-c", code],
            env={**os.environ, "PYTHONHASHSEED": seed},
            capture_output=True,
            text=True,
            check=True,
        ).stdout.strip()
        for seed in ("1", "77")
    ]
    assert sums == [hashlib.sha256(made().pdf).hexdigest()] * 2


def test_metadata_comes_from_the_project_and_never_from_the_clock() -> None:
    information = reader(made()).metadata
    assert information is not None
    assert information.title == "Open Case, OC-1, revision B"
    assert information.author == "Sample Workshop"
    assert information.creation_date is not None
    assert information.creation_date.date().isoformat() == "2026-03-14"


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_the_rulers_are_exactly_to_size(paper: str) -> None:
    booklet = made("publish", paper, "inch" if paper == "letter" else "mm")
    pdf = reader(booklet)
    page = pdf.pages[booklet.places["chapter:licence"] - 1]
    sizes = {round(float(page.mediabox.width), 2), round(float(page.mediabox.height), 2)}
    assert sizes == ({612.0, 792.0} if paper == "letter" else {595.28, 841.89})
    level, upright, start = set(), set(), (0.0, 0.0)
    for operands, operator in ContentStream(page.get_contents(), pdf).operations:
        assert operator != b"cm" or [float(x) for x in operands][:4] == [
            1,
            0,
            0,
            1,
        ]  # nothing scales this page
        if operator == b"m":
            start = (float(operands[0]), float(operands[1]))
        elif operator == b"l":
            end = (float(operands[0]), float(operands[1]))
            if abs(end[1] - start[1]) < 1e-6:
                level.add(round(abs(end[0] - start[0]), 2))
            if abs(end[0] - start[0]) < 1e-6:
                upright.add(round(abs(end[1] - start[1]), 2))
    for long in (283.46, 288.0):  # 100 mm and 4 in, in points of 1/72 in
        assert long in level
        assert long in upright


def test_the_first_pages_hold_what_a_buyer_must_read() -> None:
    booklet = made()
    assert max(booklet.places[f"chapter:{name}"] for name in ("licence", "reading")) <= 3


def test_the_cut_list_prints_every_line_as_the_take_off_has_it() -> None:
    text = page_text(made(), made().places["chapter:cut-list"])
    rows = [row.split() for row in text.splitlines()]
    style = LengthStyle()
    for line in book().take_off.cut_list:
        sizes = [print_reading(line.thickness, style), print_length(line.width, style)]
        sizes += [print_length(line.length, style)]
        sizes += [print_length(line.shoulder_length, style)] if line.shoulder_length else []
        star = ["★"] if line.from_work else []
        words = [line.mark, *line.title.split(), *star, str(line.number), *" ".join(sizes).split()]
        assert any(row[: len(words)] == words for row in rows), f"{words} not in {text}"
    assert ["B", "Shelf", "2", "3/4", "8", "25/32", "23", "22", "1/2"] in [row[:9] for row in rows]


def test_a_late_cut_has_room_to_write_what_was_measured() -> None:
    booklet = made()
    for name in ("cut-list", "measured"):
        assert "____" in page_text(booklet, booklet.places[f"chapter:{name}"])
    assert "opening between the rabbets, less 1/16 in" in page_text(
        booklet, booklet.places["chapter:measured"]
    )


def test_every_page_names_title_revision_units_and_its_number() -> None:
    booklet = made()
    for page in booklet.pages[1:]:
        text = page_text(booklet, page.number)
        assert "OC-1, revision B, 14 March 2026" in text
        assert "All sizes in inches" in text
        assert f"{page.number} of {len(booklet.pages)}" in text


def test_every_step_stands_once_with_its_checks_and_hardware() -> None:
    booklet = made()
    assert [number for page in booklet.pages for number in page.steps] == list(range(1, 9))
    text = page_text(booklet, booklet.places["step:6"])
    for words in (
        "Step 6 of 8",
        "Screw the rail in place",
        "Wood screw, flat head, No. 8 × 1 1/2 in",
        "Drive the screws.",
        "Before you go on",
        "The rail is flush with the rabbet.",
        "CAUTION",
    ):
        assert words in text.replace("\u00a0", " ")
    page = next(page for page in booklet.pages if 6 in page.steps)
    assert "C" in page.marks


def test_cautions_stand_above_the_action() -> None:
    booklet = made()
    page = pypdfium2.PdfDocument(booklet.pdf)[booklet.places["step:4"] - 1].get_textpage()
    height = {}
    for words in ("CAUTION", "Brush glue into"):
        found = page.search(words).get_next()
        assert found is not None
        height[words] = page.get_charbox(found[0])[1]
    assert height["CAUTION"] > height["Brush glue into"]


def test_the_preview_holds_no_size_of_a_part() -> None:
    text = all_text(made("sample")).replace("\u00a0", " ")
    for size in ("23 in", "8 3/4", "22 1/2", "23 1/4", "0.22", "3/4", "1/4", "1/16"):
        assert size not in text
    assert "24 × 18 × 9 in" in text
    assert "Cut list" in text  # named among what the full booklet holds
    assert made("sample").pages[0].chapter == "Cover"


def test_sizes_are_taken_out_of_words() -> None:
    text = "Cut it 23\u00a0in long, 8\u00a03/4\u00a0in wide and 19.5\u00a0mm thick; drive 4 screws, step 7."
    assert without_sizes(text, "…") == "Cut it … long, … wide and … thick; drive 4 screws, step 7."
    shown = sample_step(book())
    assert shown is not None
    assert shown.number == 4


def test_the_binder_prints_large_figures_beside_a_punch_margin() -> None:
    booklet = made("binder")
    page = pypdfium2.PdfDocument(booklet.pdf)[booklet.places["chapter:cut-list"] - 1]
    text = page.get_textpage()
    found = text.search("23").get_next()
    assert found is not None
    low, high = text.get_charbox(found[0])[1], text.get_charbox(found[0])[3]
    assert (high - low) * 25.4 / 72 >= 4.9  # mm; charbox of a figure
    lefts = [
        text.get_charbox(index)[0]
        for index in range(text.count_chars())
        if text.get_text_range(index, 1).strip()
    ]
    assert min(lefts) * 25.4 / 72 >= 24.0


def test_a_missing_sign_stops_the_booklet() -> None:
    plain = book()
    odd = replace(
        plain, design=replace(plain.design, project=replace(plain.design.project, line="A 漢 shelf"))
    )
    with pytest.raises(ProjectError) as caught:
        set_booklet(odd)
    assert [finding.kind for finding in caught.value.findings] == ["missing-sign"]


def test_a_reference_that_nobody_resolved_stops_the_booklet() -> None:
    with pytest.raises(ProjectError) as caught:
        set_booklet(book(resolve=lambda text: text))
    assert {finding.kind for finding in caught.value.findings} == {"unresolved-reference"}
    assert any("`<shelf.length>`" in finding.message for finding in caught.value.findings)


def test_a_missing_sign_on_a_drawing_stops_it_too() -> None:
    plain = book()

    class Odd(type(plain.pictures)):  # type: ignore[misc]
        def views(self, width: float, height: float) -> Drawing:
            return Drawing(width, height, (Text((5, 5), "⟁", 4),))

    with pytest.raises(ProjectError, match="U\\+27C1"):
        set_booklet(replace(plain, pictures=Odd(plain.design)))


@pytest.mark.parametrize(
    ("name", "text", "kind"),
    [
        ("build.md", "```picture selfie\n```", "unknown-directive"),
        ("build.md", "```dance\n```", "unknown-directive"),
        ("build.md", "```table nothing\n```", "unknown-list"),
        ("build.md", "{{ nothing }}", "template-fault"),
        ("words.toml", "a = 'b'", "missing-words"),
        ("chapters.toml", "[[chapter]]\nname = 'x'\ntitle = 'X'\neditions = ['publish']", "template-fault"),
        ("chapters.toml", "[[chapter]]\nname = 'build'\ntitle = 'X'\neditions = ['binder']", "empty-booklet"),
    ],
)
def test_a_fault_in_a_template_is_a_finding(name: str, text: str, kind: str) -> None:
    with pytest.raises(ProjectError) as caught:
        set_booklet(book(templates={**templates(), name: text}))
    assert caught.value.findings[0].kind == kind


def test_a_chapter_taken_out_takes_its_links_with_it() -> None:
    supplied = templates()
    kept = [
        chapter
        for chapter in supplied["chapters.toml"].split("[[chapter]]")
        if 'name = "parts"' not in chapter
    ]
    booklet = set_booklet(book(templates={**supplied, "chapters.toml": "[[chapter]]".join(kept)}))
    assert not [place for place in booklet.places if place.startswith("part:")]
    assert booklet.defects == ()


def test_words_half_as_long_again_still_fit() -> None:
    """A translation grows by up to 35 percent (common practice, no source); here every word grows by 40."""
    supplied = templates()
    grown = []
    for line in supplied["words.toml"].splitlines():
        name, _, value = line.partition(" = ")
        if (
            value.startswith('"')
            and not name.startswith('"page of"')
            and name not in ("thickness", "width", "length")
        ):
            text = value.strip('"')
            filler = ("ein" * 40)[: max(1, len(text) * 2 // 5)]
            line = f'{name} = "{text}{filler}"'
        grown.append(line)
    defects = layout_defects(book(templates={**supplied, "words.toml": "\n".join(grown)}))
    assert [defect for defect in defects if defect.kind in ("overfull", "outside")] == []

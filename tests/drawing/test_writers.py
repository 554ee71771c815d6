"""One drawing, three writers: the same lines, live text, the same bytes each time."""

from __future__ import annotations

import re
from io import BytesIO
from xml.etree import ElementTree

import pypdf
import pypdfium2
from reportlab.pdfgen.canvas import Canvas

from plangen.drawing.dimension_lines import linear
from plangen.drawing.sheet.look import LINES, TONES, line_look
from plangen.drawing.sheet.model import Drawing, Fill, Link, Meaning, Stroke, Text, Tone, Weight
from plangen.drawing.writers.pdf import POINTS_PER_MM, paint
from plangen.drawing.writers.pdf_fonts import font_name, register_fonts
from plangen.drawing.writers.svg import svg_bytes
from plangen.drawing.writers.text import dump

SVG = "{http://www.w3.org/2000/svg}"


def _drawing() -> Drawing:
    square = ((20.0, 20.0), (60.0, 20.0), (60.0, 50.0), (20.0, 50.0))
    hole = ((30.0, 30.0), (40.0, 30.0), (40.0, 40.0), (30.0, 40.0))
    return Drawing(
        100,
        80,
        (
            Fill((square, hole), Tone.NEW_FRONT),
            Stroke(square, Meaning.VISIBLE, closed=True),
            Stroke(((20.0, 35.0), (60.0, 35.0)), Meaning.HIDDEN),
            *linear((20, 20), (60, 20), -8, "24\u00a013/16", direction="across"),
            Text((80, 70), "Shelf", 4, "middle", Weight.SEMIBOLD, angle=30),
            Link((18, 18), (62, 52), "part:shelf"),
        ),
        "A square",
        "A square with a hole.",
    )


def _pdf(drawing: Drawing) -> bytes:
    register_fonts()
    data = BytesIO()
    size = (drawing.width * POINTS_PER_MM, drawing.height * POINTS_PER_MM)
    canvas = Canvas(data, pagesize=size, invariant=1, initialFontName=font_name(Weight.REGULAR))
    canvas.bookmarkPage("part:shelf")
    paint(drawing, canvas, 0, 0)
    canvas.showPage()
    canvas.save()
    return data.getvalue()


def test_wide_is_twice_thin() -> None:
    # ISO 128-2:2020, clause on line widths (from memory): wide to narrow 2:1.
    assert line_look(Meaning.VISIBLE).width == 2 * line_look(Meaning.CONTEXT).width == 0.5


def test_every_meaning_and_tone_has_a_look() -> None:
    assert set(LINES) == set(Meaning)
    assert set(TONES) == set(Tone)
    assert all(re.fullmatch("#[0-9A-F]{6}", colour) for colour in TONES.values())


def test_the_flow_dash_is_used_for_nothing_else() -> None:
    assert [meaning for meaning, look in LINES.items() if look.dash == (2.0, 1.0)] == [Meaning.FLOW]


def test_pdf_text_reads_back_and_links_lead_somewhere() -> None:
    page = pypdf.PdfReader(BytesIO(_pdf(_drawing()))).pages[0]
    assert "24 13/16" in page.extract_text().replace("\u00a0", " ")
    (note,) = page["/Annots"]
    box = [float(value) / POINTS_PER_MM for value in note.get_object()["/Rect"]]
    assert [round(value, 1) for value in box] == [18, 18, 62, 52]


def test_pdf_ink_is_where_the_drawing_says() -> None:
    image = (
        pypdfium2.PdfDocument(_pdf(_drawing()))[0].render(scale=10 / POINTS_PER_MM).to_pil().convert("RGB")
    )

    def at(x: float, y: float) -> tuple[int, ...]:
        return image.getpixel((round(x * 10), round((80 - y) * 10)))  # type: ignore[return-value]

    assert at(20, 45) == (0, 0, 0)  # the outline
    assert at(25, 25) == (0xF4, 0xE7, 0xD8)  # the tint
    assert at(33, 33) == (255, 255, 255)  # the hole
    assert at(10, 70) == (255, 255, 255)


def test_the_same_drawing_gives_the_same_bytes() -> None:
    assert _pdf(_drawing()) == _pdf(_drawing())
    assert svg_bytes(_drawing()) == svg_bytes(_drawing())


def test_svg_has_size_title_groups_and_real_text() -> None:
    root = ElementTree.fromstring(svg_bytes(_drawing()))
    assert (root.get("width"), root.get("height"), root.get("viewBox")) == ("100mm", "80mm", "0 0 100 80")
    assert root.findtext(f"{SVG}title") == "A square"
    assert root.findtext(f"{SVG}desc") == "A square with a hole."
    names = [group.get("class") for group in root.iter(f"{SVG}g")]
    assert {"visible", "hidden", "dimension", "tone-new-front", "text", "link"} <= set(names)
    ids = [group.get("id") for group in root.iter(f"{SVG}g")]
    assert len(ids) == len(set(ids))
    texts = ["".join(item.itertext()).replace("\u00a0", " ") for item in root.iter(f"{SVG}text")]
    assert texts == ["24 13/16", "Shelf"]


def test_svg_and_pdf_draw_the_same_lines() -> None:
    drawing = _drawing()
    root = ElementTree.fromstring(svg_bytes(drawing))
    paths = [path.get("d", "") for group in root.iter(f"{SVG}g") for path in group.findall(f"{SVG}path")]
    found = []
    for path in paths:
        found += [(float(x), round(80 - float(y), 2)) for x, y in re.findall(r"[ML](\S+) (\S+)", path)]
    expected = []
    for mark in drawing.marks:
        if isinstance(mark, Stroke):
            expected += mark.points
        elif isinstance(mark, Fill):
            expected += [point for loop in mark.loops for point in loop]
    assert found == [(round(x, 2), round(y, 2)) for x, y in expected]
    content = pypdf.PdfReader(BytesIO(_pdf(drawing))).pages[0].get_contents().get_data().decode("latin-1")  # type: ignore[union-attr]
    in_pdf = [(float(x), float(y)) for x, y in re.findall(r"(\S+) (\S+) [ml]\b", content)]
    assert in_pdf == found


def test_dump_is_sorted_and_does_not_depend_on_the_way_a_line_runs() -> None:
    there = Drawing(
        10, 10, (Stroke(((1, 1), (5, 5)), Meaning.VISIBLE), Stroke(((0, 0), (0, 9)), Meaning.CENTRE))
    )
    back = Drawing(
        10, 10, (Stroke(((0, 9), (0, 0)), Meaning.CENTRE), Stroke(((5, 5), (1, 1.02)), Meaning.VISIBLE))
    )
    assert (
        dump(there) == dump(back) == "sheet 10.0 x 10.0\ncentre: 0.0,0.0 0.0,9.0\nvisible: 1.0,1.0 5.0,5.0\n"
    )

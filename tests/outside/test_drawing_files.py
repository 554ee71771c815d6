"""Files of one drawing, each read by a program of its own, agree with each other and with the part.

The measure of two pictures, at 150 dots to the inch: a pixel differs where its grey lies outside what the
other picture has within one pixel, by more than an eighth of the way from black to white. Counted are the
share of inked pixels (darker than paper in either) that differ, and the largest patch of touching ones. Two
programs smooth edges their own way, which leaves specks of under ten pixels; a line moved by half a
millimetre or a mark left out leaves a patch as long as itself.
"""

from __future__ import annotations

from dataclasses import replace
from io import BytesIO
from math import dist
from pathlib import Path

import numpy as np
import pypdfium2
import pytest
import resvg_py
from PIL import Image
from reportlab.pdfgen.canvas import Canvas

from plangen.drawing.sheet.lettering import font_bytes
from plangen.drawing.sheet.model import Drawing, Mark, Meaning, Stroke, Text, Weight, carried
from plangen.drawing.writers.pdf import POINTS_PER_MM, paint
from plangen.drawing.writers.pdf_fonts import font_name, register_fonts
from plangen.drawing.writers.svg import svg_bytes
from plangen.pipeline import Source, check
from plangen.plates import Plates
from plangen.units import LengthStyle

DOTS = 150  # to the inch
SLACK = 32  # of 255 greys
MOST = 0.003  # share of inked pixels that may differ
LARGEST = 12  # pixels in one patch of them: a thin line of under 2 mm
PROJECTS = Path(__file__).resolve().parents[2] / "projects"


def plates_of(name: str) -> Plates:
    folder = PROJECTS / name
    kept = {"marks.json": (folder / "marks.json").read_bytes()}
    checked = check(Source(name, "project.yaml", (folder / "project.yaml").read_bytes(), kept)).checked
    assert checked is not None
    style = LengthStyle(checked.design.project.units)
    return Plates(checked.design, checked.solids, checked.take_off, checked.order, style, "publish", "letter")


@pytest.fixture(scope="module")
def drawings() -> dict[str, Drawing]:
    plates = plates_of("step-stool")
    named = {part.mark: part for part in plates.design.parts}
    plan = plates.take_off.plans[0]
    drawn = {
        "views": plates.views(170.0, 200.0),
        "exploded": plates.exploded(170.0, 200.0),
        "part": plates.part_sheet(named["A-L"], 170.0, 200.0),
        "cutting": plates.cutting(plan.diagrams[:1], 170.0, 100.0),
        "step": plates.step(plates.order.steps[-2], 170.0, 100.0),
    }
    return {name: _on_white(drawing) for name, drawing in drawn.items()}


def _on_white(drawing: Drawing) -> Drawing:
    """Give the drawing 6 mm of paper round it: fractions reach a little past their boxes."""
    width, height = drawing.width + 12, drawing.height + 12
    return replace(drawing, width=width, height=height, marks=drawing.moved(6, 6))


@pytest.fixture(scope="module")
def fonts(tmp_path_factory: pytest.TempPathFactory) -> list[str]:
    folder = tmp_path_factory.mktemp("fonts")
    for weight in Weight:
        (folder / f"{weight.value}.ttf").write_bytes(font_bytes(weight))
    return [str(folder / f"{weight.value}.ttf") for weight in Weight]


def from_svg(drawing: Drawing, fonts: list[str]) -> np.ndarray:
    text = svg_bytes(drawing).decode()
    data = resvg_py.svg_to_bytes(
        svg_string=text, dpi=DOTS, background="white", skip_system_fonts=True, font_files=fonts
    )
    return np.asarray(Image.open(BytesIO(bytes(data))).convert("L")).astype(int)


def from_pdf(drawing: Drawing, shape: tuple[int, ...]) -> np.ndarray:
    register_fonts()
    data = BytesIO()
    # A page of whole pixels, as the other program makes it; the drawing keeps its top.
    high, wide = shape
    size = ((wide - 0.1) * 72 / DOTS, (high - 0.1) * 72 / DOTS)
    canvas = Canvas(data, pagesize=size, invariant=1, initialFontName=font_name())
    paint(drawing, canvas, 0, size[1] - drawing.height * POINTS_PER_MM, targets=())
    canvas.showPage()
    canvas.save()
    page = pypdfium2.PdfDocument(data.getvalue())[0]
    image = page.render(scale=DOTS / 72).to_pil().convert("L")
    assert image.size == (wide, high)
    return np.asarray(image).astype(int)


def _around(grey: np.ndarray) -> np.ndarray:
    """Each pixel's neighbourhood of one pixel, as nine pictures."""
    padded = np.pad(grey, 1, mode="edge")
    high, wide = grey.shape
    return np.stack([padded[y : y + high, x : x + wide] for y in range(3) for x in range(3)])


def difference(one: np.ndarray, two: np.ndarray) -> tuple[float, int]:
    """Give the share of inked pixels that differ, and how many touch in the largest patch of them."""
    wrong = np.zeros(one.shape, dtype=bool)
    for mine, other in ((one, two), (two, one)):
        near = _around(other)
        wrong |= (mine < near.min(axis=0) - SLACK) | (mine > near.max(axis=0) + SLACK)
    inked = (one < 240) | (two < 240)
    return float((wrong & inked).sum() / inked.sum()), _largest_patch(wrong)


def _largest_patch(wrong: np.ndarray) -> int:
    left = {(int(y), int(x)) for y, x in np.argwhere(wrong)}
    largest = 0
    while left:
        edge, size = [left.pop()], 0
        while edge:
            y, x = edge.pop()
            size += 1
            beside = {(y + dy, x + dx) for dy in (-1, 0, 1) for dx in (-1, 0, 1)} & left
            left -= beside
            edge += sorted(beside)
        largest = max(largest, size)
    return largest


def alike(drawing: Drawing, other: Drawing, fonts: list[str]) -> bool:
    """Tell whether the SVG of one drawing and the PDF of another look the same."""
    svg = from_svg(drawing, fonts)
    share, patch = difference(svg, from_pdf(other, svg.shape))
    return share < MOST and patch <= LARGEST


NAMES = ("views", "exploded", "part", "cutting", "step")


@pytest.mark.parametrize("name", NAMES)
def test_the_svg_and_the_pdf_of_a_drawing_look_the_same(
    name: str, drawings: dict[str, Drawing], fonts: list[str]
) -> None:
    assert alike(drawings[name], drawings[name], fonts)


def _with(drawing: Drawing, old: Mark, *new: Mark) -> Drawing:
    marks = [one for mark in drawing.marks for one in (new if mark is old else (mark,))]
    return replace(drawing, marks=tuple(marks))


def _moved(stroke: Stroke, by: float) -> Mark:
    (ax, ay), (bx, by_) = stroke.points[0], stroke.points[-1]
    far = dist((ax, ay), (bx, by_)) or 1.0
    across = (by * (ay - by_) / far, by * (bx - ax) / far) if far > 1e-6 else (by, 0.0)
    return carried(stroke, lambda p: (p[0] + across[0], p[1] + across[1]))


KINDS = (Meaning.VISIBLE, Meaning.HIDDEN, Meaning.DIMENSION, Meaning.EXTENSION, Meaning.LEADER)


@pytest.mark.parametrize("kind", KINDS)
def test_one_line_moved_by_half_a_millimetre_is_seen(
    kind: Meaning, drawings: dict[str, Drawing], fonts: list[str]
) -> None:
    found = [
        (drawing, mark)
        for drawing in drawings.values()
        for mark in drawing.marks
        if isinstance(mark, Stroke)
        and mark.meaning is kind
        and len(mark.points) == 2
        and dist(*mark.points) > 4
    ]
    drawing, stroke = found[len(found) // 2]
    assert not alike(drawing, _with(drawing, stroke, _moved(stroke, 0.5)), fonts)


def test_a_line_or_a_text_left_out_is_seen(drawings: dict[str, Drawing], fonts: list[str]) -> None:
    drawing = drawings["part"]
    for kind in (Stroke, Text):
        mark = next(mark for mark in reversed(drawing.marks) if isinstance(mark, kind))
        assert not alike(drawing, _with(drawing, mark), fonts)


def test_one_digit_is_seen(drawings: dict[str, Drawing], fonts: list[str]) -> None:
    drawing = drawings["part"]
    figure = next(m for m in drawing.marks if isinstance(m, Text) and m.text.endswith("1/2"))
    assert not alike(drawing, _with(drawing, figure, replace(figure, text=figure.text[:-3] + "1/4")), fonts)

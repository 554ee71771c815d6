"""SVG by name: groups that nest and continue, attributes that hurt no reader, texts that keep their place."""

from __future__ import annotations

from dataclasses import replace
from io import BytesIO
from pathlib import Path
from xml.etree import ElementTree

import numpy as np
import pytest
import reportlab
import resvg_py
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image

from plangen.drawing.sheet.lettering import fraction_shape, text_width
from plangen.drawing.sheet.measure import ink_corners
from plangen.drawing.sheet.model import Drawing, Fill, Group, Link, Meaning, Stroke, Text, Tone, Weight
from plangen.drawing.writers.svg import svg_bytes

SVG = "{http://www.w3.org/2000/svg}"
LINE = Stroke(((10, 10), (60, 10)), Meaning.DIMENSION)


def _root(drawing: Drawing) -> ElementTree.Element:
    return ElementTree.fromstring(svg_bytes(drawing))


def _by_id(root: ElementTree.Element, key: str) -> ElementTree.Element:
    (found,) = [element for element in root.iter() if element.get("id") == key]
    return found


def test_a_group_has_its_kind_its_title_and_its_data() -> None:
    group = Group(
        "dimension 1", "dimension", "overall length", (("axis", "across"), ("From node", 'left <end> & "so"'))
    )
    figure = Text((35, 12), "412", 4, "middle", role="dimension", group="dimension 1")
    root = _root(Drawing(100, 80, (replace(LINE, group="dimension 1"), figure), groups=(group,)))
    element = _by_id(root, "dimension-1")
    assert element.get("class") == "dimension"
    assert element.findtext(f"{SVG}title") == "overall length"
    assert element.get("data-axis") == "across"
    assert element.get("data-from-node") == 'left <end> & "so"'
    assert [one.get("class") for one in element.findall(f"{SVG}g")] == ["dimension", "text"]
    (text,) = element.iter(f"{SVG}text")
    assert ("".join(text.itertext()), text.get("data-role")) == ("412", "dimension")


def test_groups_nest_by_their_keys_and_continue_where_they_are_entered_again() -> None:
    groups = (Group("front", "view", "Front"), Group("front/d1", "dimension"), Group("frontal", "view"))
    marks = tuple(
        replace(LINE, group=key) for key in ("front", "front/d1", "frontal", "front", "front/d1", "")
    )
    root = _root(Drawing(100, 80, marks, groups=groups))
    front = _by_id(root, "front")
    assert [child.get("id") for child in front if child.tag == f"{SVG}g"] == ["dimension-1", "front-d1"]
    again = _by_id(root, "front-2")
    assert again.get("data-continues") == "front"
    assert _by_id(again, "front-d1-2").get("data-continues") == "front-d1"
    assert [child.get("class") for child in root if child.tag == f"{SVG}g"] == [
        "view",
        "view",
        "view",
        "dimension",
    ]


def test_what_a_reader_is_told() -> None:
    drawing = Drawing(100, 80, (LINE,), "Shelf & side", "A board <with> two holes.")
    root = _root(drawing)
    names = (root.get("aria-labelledby") or "").split()
    assert [_by_id(root, name).text for name in names] == ["Shelf & side", "A board <with> two holes."]
    assert root.get("role") == "img"
    assert (
        _root(replace(drawing, marks=(LINE, Link((0, 0), (9, 9), "x")))).get("role")
        == "graphics-document document"
    )
    assert _root(Drawing(100, 80, (LINE,))).get("aria-labelledby") is None


keys = st.text(max_size=12)


@given(st.lists(keys, max_size=5), keys, keys, st.text(max_size=20))
def test_any_names_give_a_sound_file_with_every_id_once(
    names: list[str], kind: str, name: str, words: str
) -> None:
    groups = tuple(Group(key, kind, words, ((name, words),)) for key in dict.fromkeys(names))
    marks = tuple(replace(LINE, group=key) for key in names)
    drawing = Drawing(100, 80, (*marks, Text((9, 9), words, 4)), words, words, groups)
    root = _root(drawing)
    ids = [element.get("id") for element in root.iter() if element.get("id")]
    assert len(ids) == len(set(ids))
    assert len(list(root.iter(f"{SVG}path"))) == len(names)


SAMPLES = (
    "24\u00a013/16",
    "3/4",
    "R 8\u00a01/32",
    "2 × 1/4",
    "11/64 in, through",
    "Sheet 4/4 A/B 1:4",
    "Front edge",
)


@pytest.mark.parametrize("words", SAMPLES)
def test_a_text_reads_as_it_was_typed(words: str) -> None:
    (element,) = _root(Drawing(100, 80, (Text((50, 40), words, 6, "middle"),))).iter(f"{SVG}text")
    assert "".join(element.itertext()).replace("\u00a0", " ") == words.replace("\u00a0", " ")


def _ink(drawing: Drawing, **fonts: object) -> np.ndarray:
    """Where the drawing is dark, at ten dots to the millimetre, its first row at the top."""
    text = svg_bytes(drawing).decode()
    data = resvg_py.svg_to_bytes(
        svg_string=text, dpi=254, background="white", skip_system_fonts=True, **fonts
    )
    return np.asarray(Image.open(BytesIO(bytes(data))).convert("L")) < 128


def _box_of(ink: np.ndarray) -> tuple[float, float, float, float]:
    rows, columns = np.flatnonzero(ink.any(axis=1)), np.flatnonzero(ink.any(axis=0))
    high = ink.shape[0]
    return (columns[0] / 10, (high - rows[-1] - 1) / 10, (columns[-1] + 1) / 10, (high - rows[0]) / 10)


@pytest.fixture(scope="module")
def other_face() -> dict[str, object]:
    """Another typeface than the booklet's, a wider one that comes with the PDF library."""
    path = Path(reportlab.__file__).parent / "fonts" / "Vera.ttf"
    return {"font_files": [str(path)], "sans_serif_family": "Bitstream Vera Sans"}


@pytest.mark.parametrize("words", SAMPLES)
@pytest.mark.parametrize("anchor", ["start", "middle", "end"])
def test_a_text_keeps_its_place_in_another_typeface(
    words: str, anchor: str, other_face: dict[str, object]
) -> None:
    text = Text((50, 20), words, 6, anchor)  # type: ignore[arg-type]
    ink = _ink(Drawing(100, 40, (text,)), **other_face)
    low_x, _, high_x, _ = _box_of(ink)
    length = text_width(words, 6)
    left = {"start": 50.0, "middle": 50 - length / 2, "end": 50 - length}[anchor]
    assert left - 0.6 <= low_x
    assert high_x <= left + length + 0.6
    assert high_x - low_x > 0.7 * length


def test_the_parts_of_a_fraction_stand_as_the_booklets_glyphs_do(other_face: dict[str, object]) -> None:
    """The upper figure from its rise up, the lower one from its drop; figures there are 0.73 em high."""
    shape = fraction_shape(Weight.REGULAR)
    ink = _ink(Drawing(40, 40, (Text((20, 20), "1/8", 20, "middle"),)), **other_face)
    low_x, low_y, high_x, high_y = _box_of(ink)
    assert high_y == pytest.approx(20 + 20 * (shape.rise + 0.73 * shape.figure), abs=0.5)
    assert low_y == pytest.approx(20 + 20 * shape.drop, abs=0.8)
    corners = ink_corners(Text((20, 20), "1/8", 20, "middle"))
    assert low_x > corners[0][0] - 2.0
    assert high_x < corners[1][0] + 2.0


def test_a_fill_with_a_hole_and_a_link_keep_their_places() -> None:
    square = ((20.0, 20.0), (60.0, 20.0), (60.0, 50.0), (20.0, 50.0))
    hole = ((30.0, 30.0), (40.0, 30.0), (40.0, 40.0), (30.0, 40.0))
    ink = _ink(Drawing(100, 80, (Fill((square, hole), Tone.INK), Link((0, 0), (100, 80), "all"))))
    assert ink[800 - 250, 250]
    assert not ink[800 - 350, 350]
    assert ink.mean() == pytest.approx((40 * 30 - 100) / 8000, abs=0.002)

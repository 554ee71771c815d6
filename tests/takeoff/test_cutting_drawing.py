"""The drawn diagrams: nothing written over anything, everything there, everything to scale."""

from __future__ import annotations

from collections import Counter

import pytest

from plangen.drawing.cutting_sheets import cutting_drawing
from plangen.drawing.cutting_text import spread
from plangen.drawing.sheet.measure import bounds, overlaps
from plangen.drawing.sheet.model import Fill, Link, Text, Tone
from plangen.takeoff.saw_settings import alike
from plangen.units import LengthStyle, inches, millimetres
from tests.sample_design import sample_design
from tests.takeoff.cases import metric_plywood, pine, plain_design, taken

WIDTH, HEIGHT = 177.9, 225.0
METRIC_ROWS = [
    (2, 520, 622), (2, 502, 384), (6, 96, 450), (6, 84, 334), (3, 180, 378), (3, 40, 384), (4, 18, 700),
    (2, 300, 900), (2, 60, 60),
]  # fmt: skip
INCH_ROWS = [(4, "9/4", 29), (4, 3, 18), (2, "3/4", 22), (6, "3/2", "21/2"), (2, 9, 36), (8, "3/4", 3)]


def metric_case():
    return plain_design(
        metric_plywood(), [(n, millimetres(w), millimetres(long)) for n, w, long in METRIC_ROWS], "mm"
    )


def inch_case():
    goods = pine(widths=tuple(inches(w) for w in ("11/2", "29/4", "37/4")))
    return plain_design(goods, [(n, inches(w), inches(long)) for n, w, long in INCH_ROWS])


CASES = {"sample": sample_design, "metric": metric_case, "inch": inch_case}


@pytest.mark.parametrize("system", ["inch", "mm", "both"])
@pytest.mark.parametrize("case", CASES)
def test_nothing_is_written_over_anything(case, system):
    design, style = CASES[case](), LengthStyle(system)
    lists, _ = taken(design)
    for plan in lists.plans:
        for group in alike(plan.diagrams):
            drawing = cutting_drawing(plan, group, style, WIDTH, HEIGHT)
            assert drawing.height <= HEIGHT
            assert overlaps(drawing).count == 0, str(overlaps(drawing))
            low_x, low_y, high_x, high_y = bounds(drawing.marks)
            assert low_x >= -0.1
            assert low_y >= -0.1
            assert high_x <= WIDTH + 0.1
            assert high_y <= drawing.height + 0.1


@pytest.mark.parametrize("case", CASES)
def test_every_piece_is_drawn_to_scale_and_named(case):
    design, style = CASES[case](), LengthStyle(CASES[case]().project.units)
    lists, _ = taken(design)
    for plan in lists.plans:
        for diagram in plan.diagrams:
            drawing = cutting_drawing(plan, (diagram,), style, WIDTH, HEIGHT)
            tinted = [
                bounds([mark]) for mark in drawing.marks if isinstance(mark, Fill) and mark.tone is Tone.STOCK
            ]
            assert len(tinted) == len(diagram.pieces)
            [scale] = {
                round((box[2] - box[0]) / float(piece.length), 9)
                for box, piece in zip(tinted, diagram.pieces, strict=True)
            }
            for box, piece in zip(tinted, diagram.pieces, strict=True):
                assert box[0] == pytest.approx(float(piece.x) * scale)
                assert box[3] - box[1] == pytest.approx(float(piece.width) * scale)
            marks = {mark.text for mark in drawing.marks if isinstance(mark, Text) and mark.role == "balloon"}
            assert marks == {piece.mark for piece in diagram.pieces}
            targets = {mark.target for mark in drawing.marks if isinstance(mark, Link)}
            assert targets == {f"part:{piece.part}" for piece in diagram.pieces}


def test_cut_numbers_and_tape_readings_of_the_sample():
    design, style = sample_design(), LengthStyle()
    plan = taken(design)[0].plans[0]
    drawing = cutting_drawing(plan, plan.diagrams[:1], style, WIDTH, HEIGHT)
    texts = [mark for mark in drawing.marks if isinstance(mark, Text)]
    numbers = Counter(text.text for text in texts if text.role == "cut")
    assert numbers == Counter(str(cut.number) for cut in plan.diagrams[0].cuts)
    readings = [text.text.replace("\u00a0", " ") for text in texts if text.role == "dimension"]
    assert readings[:3] == ["1", "24 5/8", "48 1/4"], "along the board"
    assert readings[3:] == ["8 15/16"], "and where it is ripped"


def test_all_diagrams_of_a_plan_share_a_scale():
    design, style = inch_case(), LengthStyle()
    plan = taken(design)[0].plans[0]
    scales = set()
    for diagram in plan.diagrams:
        drawing = cutting_drawing(plan, (diagram,), style, WIDTH, HEIGHT)
        paper = next(mark for mark in drawing.marks if isinstance(mark, Fill) and mark.tone is Tone.PAPER)
        low_x, _, high_x, _ = bounds([paper])
        scales.add(round((high_x - low_x) / float(diagram.length), 9))
    assert len(scales) == 1


def test_spread_moves_no_more_than_it_must():
    assert spread([10.0, 30.0], [2.0, 2.0], 1.0, 0.0, 50.0) == [10.0, 30.0]
    first, second = spread([10.0, 11.0], [2.0, 2.0], 1.0, 0.0, 50.0)
    assert second - first == pytest.approx(5.0)
    assert (first + second) / 2 == pytest.approx(10.5)
    assert spread([0.0], [2.0], 1.0, 0.0, 50.0) == [2.0]
    assert spread([50.0], [2.0], 1.0, 0.0, 50.0) == [48.0]

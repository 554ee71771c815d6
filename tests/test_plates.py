"""Pictures of pieces show the work done so far: a builder must not see a notch before it is sawn."""

from __future__ import annotations

from pathlib import Path

import pytest

from plangen.pipeline import Checked, Source, check
from plangen.plates import Plates, fitted
from plangen.units import LengthStyle

STOOL = Path(__file__).resolve().parent.parent / "projects" / "step-stool" / "project.yaml"
INCH3 = 25.4**3


@pytest.fixture(scope="module")
def checked() -> Checked:
    result = check(Source("step-stool", "project.yaml", STOOL.read_bytes())).checked
    assert result is not None
    return result


@pytest.fixture(scope="module")
def plates(checked: Checked) -> Plates:
    style = LengthStyle("inch")
    return Plates(checked.design, checked.solids, checked.take_off, checked.order, style, "publish", "letter")


def test_a_piece_loses_wood_step_by_step(checked: Checked, plates: Plates) -> None:
    steps = {step.title: step for step in checked.order.steps}
    volume = {
        title: plates.solids_after(steps[title]).parts["side left"].volume / INCH3
        for title in (
            "Cut the parts to size",
            "Cut the dadoes and the rabbets",
            "Saw the steps and the arches",
        )
    }
    blank = 0.75 * 15.5 * 16
    housings = 0.25 * 0.75 * 8.25 + 0.25 * 0.75 * 8
    assert volume["Cut the parts to size"] == pytest.approx(blank)
    assert volume["Cut the dadoes and the rabbets"] == pytest.approx(blank - housings)
    assert volume["Saw the steps and the arches"] < blank - housings - 7.4 * 8 * 0.75


def test_a_drawing_that_is_too_large_is_shrunk_whole(plates: Plates) -> None:
    drawing = plates.views(170.0, 120.0)
    small = fitted(drawing, 85.0, 120.0)
    assert small.width == pytest.approx(85.0)
    assert small.height == pytest.approx(drawing.height * 85.0 / drawing.width)
    assert len(small.marks) == len(drawing.marks)
    assert fitted(drawing, 500.0, 500.0) is drawing

"""Pictures of pieces show the work done so far: a builder must not see a notch before it is sawn."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path
from xml.etree import ElementTree

import pytest

from plangen.pipeline import Checked, Source, check
from plangen.plates import Plates
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


def test_part_sheets_stay_in_their_room_however_small(plates: Plates) -> None:
    binder = replace(plates, edition="binder")
    for one, (width, height) in ((plates, (170.0, 190.0)), (binder, (170.0, 190.0)), (binder, (90.0, 70.0))):
        for part in one.design.parts:
            drawing = one.part_sheet(part, width, height)
            assert drawing.width <= width + 0.1
            assert drawing.height <= height + 0.1


def test_every_file_has_one_title_block_and_white_paper_round_it(plates: Plates) -> None:
    files = replace(plates).svg_files()
    assert {"views.svg", "exploded.svg", "part-A-L.svg"} <= set(files)
    for name, data in files.items():
        root = ElementTree.fromstring(data)
        svg = "{http://www.w3.org/2000/svg}"
        texts = ["".join(text.itertext()) for text in root.iter(f"{svg}text")]
        assert texts.count("Legal owner") == 1, name
        kind = name.split("-")[0].removesuffix(".svg")
        said = texts[texts.index("Scale") + 1]
        assert re.fullmatch({"cutting": "bar", "exploded": "none"}.get(kind, r"\d+:\d+"), said), name
        width, height = (float(root.get(side, "").removesuffix("mm")) for side in ("width", "height"))
        for path in root.iter(f"{svg}path"):
            ways = re.sub(r"A\S+ \S+ \S+ \S+ \S+ ", "", path.get("d", ""))  # of an arc only where it ends
            ends = re.findall(r"[ML]?(-?[\d.]+) (-?[\d.]+)(?= |$)", ways)
            assert all(4.0 <= float(x) <= width - 4.0 for x, _ in ends), name
            assert all(4.0 <= float(y) <= height - 4.0 for _, y in ends), name


def test_files_for_machines_are_of_parts_and_patterns_and_not_in_the_sample(plates: Plates) -> None:
    files = plates.dxf_files()
    parts = {f"part-{part.mark}.dxf" for part in plates.design.parts}
    assert parts <= set(files)
    shaped = {f"pattern-{part.mark}.dxf" for part in plates.design.parts if part.pattern}
    assert shaped
    assert set(files) == parts | shaped
    assert replace(plates, edition="sample").dxf_files() == {}
    assert plates.dxf_files() == files

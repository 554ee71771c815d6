"""What a written sheet says to programs holds no length: those are printed, and are read from the print."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest

from plangen.drawing.part_sheets.sheet import part_sheet
from plangen.drawing.sheet.model import Group
from plangen.pipeline import Source, check
from plangen.units import LengthStyle
from tests.rebuild.cases import ROOT, Case, cases, checked, written
from tests.rebuild.written import read_sheet

CASES = tuple(case for case in (*cases("projects"), *cases("docs/examples")) if "sewing" not in case.file)
COUNTED = re.compile(r"(?:(?<=[a-z] )|(?<=[a-z]-))\d+(?=$|[ ;|/])")  # "corner 2 of dado 3", "note-4"
COUNTS = ("steps", "work")


def _groups(case: Case) -> tuple[Group, ...]:
    made = checked(case.file)
    part = made.design.part(case.part)
    return part_sheet(made.design, made.solids, part, LengthStyle("mm"), width=178, height=200).drawing.groups


def _numbers(groups: tuple[Group, ...]) -> Iterator[tuple[str, str, str]]:
    """Give every number that is no ordinal and no count, with where it stands."""
    for group in groups:
        for name, value in group.data:
            rest = value if name not in COUNTS else re.sub(r"^\d{1,2}$", "", value)
            rest = COUNTED.sub("", rest)
            if re.search(r"\d", rest):
                yield group.key, name, value


@pytest.mark.parametrize("case", CASES[::3], ids=str)
def test_no_group_holds_a_length(case: Case) -> None:
    groups = _groups(case)
    assert not list(_numbers(groups))
    ordinals = [int(found) for group in groups for _, value in group.data for found in COUNTED.findall(value)]
    shapes = sum(group.kind == "feature" for group in groups)
    corners = [value.count(" to ") for group in groups for name, value in group.data if name == "path"]
    assert max(ordinals, default=0) <= max([shapes + len(groups), *corners])


@pytest.mark.parametrize("value", ["12.7", "1/2", "front side 12", "at 3.5 mm", "8"])
def test_a_length_would_be_found(value: str) -> None:
    group = Group("feature-1", "feature", "", (("left", value), ("right", "right side")))
    told = [found for *_, found in _numbers((group,))]
    assert told == [value] or value == "front side 12"


def test_other_lengths_say_the_same_words() -> None:
    """The words of a part do not change with its sizes."""
    text = (ROOT / "docs/examples/slot.yaml").read_text(encoding="utf-8")
    other = text.replace("16in", "15-3/4in").replace("6in", "5-7/8in").replace("3in", "2-15/16in")
    assert other != text
    said = []
    for words in (text, other):
        made = check(Source("slot", "slot.yaml", words.encode())).checked
        assert made is not None
        part = made.design.parts[0]
        sheet = part_sheet(made.design, made.solids, part, LengthStyle("inch"), width=178, height=200)
        said.append(sheet.drawing.groups)
    assert said[0] == said[1]


def test_a_written_sheet_keeps_every_group() -> None:
    case = Case("projects/step-stool/project.yaml", "side left")
    made = checked(case.file)
    part = made.design.part(case.part)
    sheet = part_sheet(made.design, made.solids, part, LengthStyle("inch"), width=178, height=200)
    wanted = {
        group.key for group in sheet.drawing.groups if group.kind in ("part", "feature", "dimension", "note")
    }
    found = read_sheet(written(case, "inch"))
    assert {group.key for group in found.groups} == wanted
    assert len(found.of("dimension")) == len(sheet.plan.dimensions)
    assert len(found.of("note")) == len(sheet.plan.notes)
    assert len(found.of("feature")) == len(sheet.plan.shapes)
    assert all(group.texts for group in (*found.of("dimension"), *found.of("note")))


def test_views_and_the_part_have_names_to_be_read_aloud() -> None:
    groups = _groups(Case("projects/step-stool/project.yaml", "side left"))
    titles = {group.kind: group.title for group in groups}
    assert titles["part"] == "Side, left"
    assert [group.title for group in groups if group.kind == "view"] == ["Inside face", "Front edge"]
    assert all(group.title for group in groups)

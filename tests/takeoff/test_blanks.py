"""Blanks: parts milled as one piece and sawn apart later, worked by hand from the file."""

from __future__ import annotations

import re
from fractions import Fraction
from pathlib import Path

import pytest

from plangen import pipeline
from plangen.findings import Findings
from plangen.takeoff.model import TakeOff
from plangen.takeoff.part_labels import part_labels
from plangen.units import LengthStyle, inches

TEXT = (Path(__file__).resolve().parents[2] / "docs" / "examples" / "blanks.yaml").read_text("utf-8")
INCH = LengthStyle("inch")


def checked(text: str) -> pipeline.CheckResult:
    return pipeline.check(pipeline.Source("frame", "project.yaml", text.encode()))


def lists(text: str) -> TakeOff:
    result = checked(text)
    assert result.checked is not None, [one.message for one in result.findings]
    return result.checked.take_off


def kinds(findings: Findings) -> set[str]:
    return {finding.kind for finding in findings}


def laid(how: str, number: int, edit: tuple[str, str] = ("", "")) -> str:
    text = TEXT.replace("how: end to end, number: 2", f"how: {how}, number: {number}")
    return text.replace(*edit) if edit[0] else text


def test_a_stile_and_a_rail_end_to_end():
    """18 in, 10-1/2 and twice 3/4 in of tenon, a kerf of 1/8, and 1/2 in over are 30-5/8."""
    take_off = lists(TEXT)
    mill = next(stage for stage in take_off.stages if stage.name == "mill")
    (line,) = mill.lines
    assert (line.mark, line.number, line.title) == ("A+B", 2, "Frame stock")
    assert (line.width, line.length) == (inches("15/8"), inches("245/8"))
    cut = next(stage for stage in take_off.stages if stage.name == "cut")
    assert {(one.mark, one.number, one.length) for one in cut.lines} == {
        ("A", 2, inches(18)),
        ("B", 2, inches(12)),
    }


def test_the_diagram_shows_the_blank_and_says_what_it_becomes():
    (plan,) = lists(TEXT).plans
    marks = [piece.mark for diagram in plan.diagrams for piece in diagram.pieces]
    assert marks == ["A+B", "A+B"]
    words = plan.bound_words.text(INCH)
    assert "A+B is a blank for 1 of A and 1 of B, end to end: mill it whole." in words


def test_only_the_parts_count_as_finished_wood():
    """By hand: 2 × (18 + 12) × 1-3/4 square inches of 4/4 are 105/144 board feet, kerfs left out."""
    (plan,) = lists(TEXT).plans
    assert plan.net_board_feet == Fraction(105, 144)


def test_the_cut_list_says_where_the_parts_come_from():
    notes = [note.text(INCH) for line in lists(TEXT).cut_list for note in line.notes]
    assert notes.count("sawn out of the blank frame stock, end to end") == 2


def test_labels_of_all_parts_name_the_board():
    result = checked(TEXT)
    assert result.checked is not None
    labels = part_labels(result.checked.design, result.checked.take_off)
    assert len(labels) == 4
    assert all(label.panels for label in labels)


def test_side_by_side_and_stacked():
    """Equal stiles: two of 1-3/4 in with a kerf are 3-5/8 wide; two of 3/4 in are 1-5/8 thick."""
    alone = ("parts: [stile, rail]", "parts: [stile]")
    (line, _) = _milled(laid("side by side", 1, alone))
    assert (line.mark, line.number, line.width) == ("A", 1, inches("15/4"))
    thin = laid("stacked", 1, alone).replace(
        "    thick: deep\n", "    thick: deep\n    thickness: 1/4in\n", 1
    )
    thin = re.sub(
        r"mortise and tenon: .*", "butt: {between: [stile, rail], contacts: 4, glue: wood glue}", thin
    )
    (_, stacked) = _milled(thin)  # the rail is thicker
    assert stacked.thickness == inches("5/8")


def _milled(text: str):
    return next(stage for stage in lists(text).stages if stage.name == "mill").lines


@pytest.mark.parametrize(
    ("old", "new", "kind", "words"),
    [
        ("parts: [stile, rail]", "parts: [stile, rial]", "undefined-name", "did you mean `rail`"),
        ("how: end to end", "how: side by side", "blank", "give them one length"),
        ("parts: [stile, rail]", "parts: [stile, rail, stile]", "twice", "name it once"),
        ("parts: [stile, rail]", "parts: []", "missing-value", "at least one name"),
        ("number: 2", "number: 3", "blank", "do not share out"),
        ("number: 2", "number: 0", "blank", "do not share out"),
        ("how: end to end, number: 2", "how: stacked", "blank", "give them one length"),
        (
            "  frame stock:",
            "  other: {parts: [rail], how: end to end}\n  frame stock:",
            "blank",
            "into one blank",
        ),
    ],
)
def test_what_makes_no_blank(old, new, kind, words):
    result = checked(TEXT.replace(old, new))
    assert kind in kinds(result.findings)
    said = [f"{one.message} {one.remedy}" for one in result.findings if one.kind == kind]
    assert any(words in text for text in said), said
    lines = [one.place.line for one in result.findings if one.place is not None]
    assert lines == [TEXT.replace(old, new)[: TEXT.replace(old, new).index("  frame stock")].count("\n") + 1]


def test_stacked_thicker_than_the_stock():
    alone = TEXT.replace("parts: [stile, rail], how: end to end, number: 2", "parts: [stile], how: stacked")
    result = checked(alone)
    (finding,) = [one for one in result.findings if one.kind == "blank"]
    assert re.search(r"come to 1-5/8 ?in", finding.message.replace("\u00a0", " "))

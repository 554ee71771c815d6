"""What the reader makes of a sound file, and of several faults at once."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plangen.description import read_description
from plangen.description.model import FromWorkEntry
from plangen.expressions import Text
from plangen.findings import Findings, Place
from tests.bad.cases import BASE

ROOT = Path(__file__).resolve().parents[2]
STARTER = ROOT / "templates" / "starter" / "project.yaml"


def read(text: str | bytes):
    findings = Findings()
    data = text.encode() if isinstance(text, str) else text
    return read_description(data, "project.yaml", findings), findings


def sound(text: str):
    description, findings = read(text)
    assert [item.message for item in findings] == []
    assert description is not None
    return description


def test_every_value_keeps_its_place_and_its_text():
    description = sound(BASE)
    assert description.project.title == "Wall Shelf"
    assert description.project.title.place == Place("project.yaml", 2, 18, 10)
    assert description.sizes["depth"].place == Place("project.yaml", 9, 10, 3)
    assert description.stock["pine"].place == Place("project.yaml", 12, 9, 1)
    assert description.stock["pine"].place_of("thickness").column == 56
    assert description.parts["side"].place == Place("project.yaml", 17, 5, 1)
    names = list(description.parts)
    assert all(isinstance(name, Text) for name in names)
    assert [name.place.line for name in names] == [16, 23, 30]


def test_one_copy_is_named_as_its_part():
    description = sound(BASE)
    assert list(description.parts["rail"].place_) == ["rail"]
    assert list(description.parts["side"].place_) == ["left side", "right side"]


@pytest.mark.parametrize(
    "place",
    [
        "{left: 0, spread: {number: 3, going: across}}",
        "{spread: {number: 3, going: across}}",
        "{across: centred on width, front: 0}",
    ],
)
def test_pins_are_told_from_copies_by_their_shape(place):
    text = BASE.replace(
        "place: {left: left side.right, right: right side.left, back: depth, bottom: upper shelf.top}",
        f"place: {place}",
    )
    assert list(sound(text).parts["rail"].place_) == ["rail"]


def test_a_copy_may_be_called_as_a_side():
    text = BASE.replace("lower shelf:", "top:").replace("same as: lower shelf", "same as: top")
    text = text.replace("lower shelf.top", "top.top")
    assert list(sound(text).parts["shelf"].place_) == ["top", "upper shelf"]


def test_a_size_may_come_from_the_work():
    part = sound(BASE.replace("width: 2-1/2in", "width: {from work: 2-1/2in, leave: 1/2in}")).parts["rail"]
    assert isinstance(part.width, FromWorkEntry)
    assert part.width.from_work.text == "2-1/2in"


def test_scalars_are_never_changed_silently():
    """YAML 1.1 reads these as a boolean, an octal number and a number of base sixty (YAML 1.1, types)."""
    for typed in ("no", "012", "22:30", "1e3", "~", "null", "0x1F", "1_000"):
        description = sound(BASE.replace("title: Wall Shelf", f"title: {typed}"))
        assert description.project.title == typed


def test_text_may_be_quoted_or_in_a_block():
    description = sound(
        BASE.replace("title: Wall Shelf", "title: 'Wall: \"Shelf\", it''s'").replace(
            "  - draft\n",
            "  - draft\n  - after: housings\n    say: |\n      First line.\n      Second line.\n",
        )
    )
    assert description.project.title == 'Wall: "Shelf", it\'s'
    assert description.steps[1].say == "First line.\nSecond line."
    assert description.steps[1].say.place.line == 45


def test_windows_line_ends_and_a_byte_order_mark_change_nothing():
    plain = sound(BASE)
    other, findings = read(b"\xef\xbb\xbf" + BASE.replace("\n", "\r\n").encode())
    assert list(findings) == []
    assert other == plain
    assert other.sizes["clear"].place == plain.sizes["clear"].place


def test_all_faults_are_told_in_one_run_in_the_order_of_the_file():
    text = (
        BASE.replace("units: inch", "units: inches")
        .replace("depth: 6in", "depth: 3/0in")
        .replace("    runs: up\n", "    rums: up\n    runs: up\n    runs: up\n")
        .replace("- dado:", "- daddo:")
        .replace("- clear =", "- clear ==")
    )
    description, findings = read(text)
    assert description is None
    assert [item.kind for item in findings.sorted()] == [
        "unknown-word", "bad-fraction", "unknown-key", "duplicate-key", "unknown-joint", "bad-fact"
    ]  # fmt: skip


def test_a_duplicate_shows_both_lines():
    _, findings = read(BASE.replace("  depth: 6in\n", "  depth: 6in\n  depth: 7in\n"))
    (found,) = findings
    assert found.place.line == 10
    assert found.also[0][0] == Place("project.yaml", 9, 3, 5)


def test_a_clash_shows_both_lines():
    _, findings = read(BASE.replace("  depth: 6in\n", "  depth: 6in\n  side: 7in\n"))
    (found,) = findings
    assert (found.kind, found.place.line, found.also[0][0].line) == ("name-clash", 17, 10)
    assert found.message == "`side` is the name of a size and of a part"


@pytest.mark.parametrize(
    ("one", "two"), [("leg", "legs"), ("Leg", "leg"), ("shelf b", "shelves b"), ("batten", "battens")]
)
def test_names_easily_confused_are_warned_of(one, two):
    description, findings = read(
        BASE.replace("  depth: 6in\n", f"  depth: 6in\n  {one}: 1in\n  {two}: 2in\n")
    )
    twins = [item for item in findings if item.kind == "name-twins"]
    if one.endswith("b"):
        assert not twins  # only the last word of a name has its plural compared
    else:
        assert description is not None
        assert len(twins) == 1


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("  rums: up", "`runs`"),
        ("  runs: up\n    tick: across", "`thick`"),
        ("  runs: up\n    stok: pine", "`stock`"),
    ],
)
def test_the_nearest_key_is_offered(typed, meant):
    _, findings = read(BASE.replace("  runs: up", typed, 1))
    unknown = [item for item in findings if item.kind == "unknown-key"]
    assert [item.remedy for item in unknown] == [f"did you mean {meant}?"]


def test_a_key_whose_words_hold_what_was_written_is_offered():
    _, findings = read(BASE.replace("per joint: 2}", "per joint: 2, ends: 1in}"))
    (found,) = findings
    assert (found.kind, found.remedy) == ("unknown-key", "did you mean `from ends`?")


def test_a_list_inside_the_names_is_told_what_stands_there():
    _, findings = read(BASE.replace("between: [rail, upper shelf]", "between: [[rail, shelf], upper shelf]"))
    (found,) = findings
    assert (found.kind, found.place.line, found.place.column) == ("bad-value", 39, 22)
    assert "`between` takes two of them" in found.remedy


def test_the_starter_is_sound():
    description = sound(STARTER.read_text())
    assert description.project.title


@settings(max_examples=60, deadline=None)
@given(st.binary(max_size=300) | st.text(max_size=300).map(str.encode))
def test_any_bytes_lead_to_findings_or_a_description(data):
    description, findings = read(data)
    assert description is not None or findings.has_errors
    for item in findings:
        assert item.message
        assert item.place is None or (item.place.line >= 1 and item.place.column >= 1)


LINES = BASE.splitlines(keepends=True)
SCRAPS = [
    ": ",
    "{",
    "}",
    "[",
    "]",
    "- ",
    "'",
    '"',
    "&a ",
    "*a",
    "!x ",
    "\t",
    "<<: ",
    "#",
    "1/0in",
    "own.",
    "in",
    "",
]


@settings(max_examples=80, deadline=None)
@given(st.integers(0, len(LINES) - 1), st.integers(0, 90), st.integers(0, 6), st.sampled_from(SCRAPS))
def test_any_slip_in_a_sound_file_is_answered(line, column, cut, scrap):
    row = LINES[line]
    at = min(column, len(row) - 1)
    text = "".join([*LINES[:line], row[:at] + scrap + row[min(at + cut, len(row) - 1) :], *LINES[line + 1 :]])
    description, findings = read(text)
    assert description is not None or findings.has_errors
    rows = text.count("\n") + 1
    assert all(item.place is None or item.place.line <= rows for item in findings)

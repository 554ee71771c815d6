"""Slips of every sort in two whole projects lead to findings and never to an exception."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plangen.findings import Severity
from plangen.solids import build_solids
from tests.design.small import attempt
from tests.design.test_hall_shelf import TEXT as HALL_SHELF

PROJECTS = Path(__file__).parents[2] / "projects"
NAMES = ("step-stool", "wall-cabinet", "hall shelf")
_SCALAR = re.compile(r"(?<=[:,\[\-] )[^\s\[\]{},:#|\"](?:[^\[\]{},:#\n\"]*[^\s\[\]{},:#\"])?")
_KEY = re.compile(r"[A-Za-z][A-Za-z ]*(?=:)")

WORDS = (
    """
0 | 1 | 2 | -1 | 8 | 99 | 1000000 | 1e9 | 0in | 1in | -3in | 1/64in | 3/4in | 40ft | 0mm | 45deg | 4/4 | 0/4
90deg about across | -90deg about up | yes | no | none | up | deep | across | left | right | front | back
top | bottom | inside | outside | all | long | side | shelf | left side | right side | own.width | own.length
left side.right | right side.left | width | width / 0 | height - height | sqrt(0 - 2) | screw | plug | poplar
ply | centred on side | centred between side and rail | centred at 3in | across at width / 2 | nonsense | gap
flush | half gap | 48in x 96in | 0 x 0 | solid | plywood
""".replace("\n", " | ")
    .strip(" |")
    .split(" | ")
)


@cache
def text_of(name: str) -> str:
    if name == "hall shelf":
        return HALL_SHELF
    text = (PROJECTS / name / "project.yaml").read_text(encoding="utf-8")
    return text[: text.index("\nsteps:")] + "\n"  # the words of the steps are another room's


def check(text: str) -> None:
    """Only findings may come of it; what is said to be sound must also be solid."""
    solved, findings = attempt(text)
    wrong = [item for item in findings if item.severity is Severity.ERROR]
    assert (solved is None) == bool(wrong), wrong
    assert all(item.message and re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", item.kind) for item in findings)
    if solved is not None:
        build_solids(solved.design)


@pytest.mark.parametrize("name", NAMES)
def test_the_text_itself_is_sound(name: str) -> None:
    solved, findings = attempt(text_of(name))
    assert solved is not None, [item.message for item in findings]


@pytest.mark.parametrize("name", NAMES)
@given(data=st.data())
@settings(max_examples=25, deadline=None, derandomize=True)
def test_other_values(name: str, data: st.DataObject) -> None:
    text = text_of(name)
    spots = [match for match in _SCALAR.finditer(text) if match.start() > text.index("\nsizes:")]
    others = st.one_of(st.sampled_from(WORDS), st.sampled_from([match.group() for match in spots]))
    chosen = st.lists(st.sampled_from(range(len(spots))), min_size=1, max_size=3, unique=True)
    for index in sorted(data.draw(chosen, label="where"), reverse=True):
        spot = spots[index]
        text = text[: spot.start()] + data.draw(others, label="what") + text[spot.end() :]
    check(text)


_NUMBER = re.compile(r"[0-9][0-9/.-]*(in)?")


@pytest.mark.parametrize("name", NAMES)
@given(data=st.data())
@settings(max_examples=25, deadline=None, derandomize=True)
def test_other_numbers(name: str, data: st.DataObject) -> None:
    """Many of these are sound projects, whose solids must be cut without complaint."""
    text = re.sub(r"\nexpect:(\n  .*)*", "", text_of(name))
    numbers = [
        match
        for match in _SCALAR.finditer(text)
        if match.start() > text.index("\nsizes:") and _NUMBER.fullmatch(match.group())
    ]
    spot = data.draw(st.sampled_from(numbers), label="where")
    most = 20 if spot.group().endswith("in") else 8
    value = str(data.draw(st.integers(0, most), label="what"))
    if spot.group().endswith("in"):
        value += data.draw(st.sampled_from(["in", "-1/2in", "/16in"]), label="part")
    check(text[: spot.start()] + value + text[spot.end() :])


@pytest.mark.parametrize("name", NAMES)
@given(data=st.data())
@settings(max_examples=15, deadline=None, derandomize=True)
def test_keys_left_out_and_changed(name: str, data: st.DataObject) -> None:
    text = text_of(name)
    keys = [match for match in _KEY.finditer(text) if match.start() > text.index("\nsizes:")]
    spot = data.draw(st.sampled_from(keys), label="where")
    other = data.draw(st.sampled_from([match.group() for match in keys]), label="what")
    check(text[: spot.start()] + other + text[spot.end() :])


@pytest.mark.parametrize("name", NAMES)
@given(data=st.data())
@settings(max_examples=15, deadline=None, derandomize=True)
def test_lines_left_out_and_said_twice(name: str, data: st.DataObject) -> None:
    lines = text_of(name).splitlines(keepends=True)
    at = data.draw(st.integers(lines.index("sizes:\n"), len(lines) - 1), label="line")
    kept = [lines[at]] * data.draw(st.sampled_from([0, 2]), label="times")
    check("".join([*lines[:at], *kept, *lines[at + 1 :]]))

"""Texts of any writing: composed where they can be, and told at the character that cannot be printed."""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from plangen.description.tree import read_tree
from plangen.drawing.sheet.lettering import missing_glyphs
from plangen.findings import Findings


def _title(text: str) -> tuple[str | None, Findings]:
    findings = Findings()
    tree = read_tree(f"title: '{text}'\n".encode(), "project.yaml", findings)
    return (None if tree is None else tree["title"]), findings


@pytest.mark.parametrize(
    "typed", ["cafe\u0301", "A\u030angstro\u0308m", "Qua\u0306\u0301ng", "Ελληνικα\u0301", "и\u0306"]
)
def test_a_letter_and_its_accent_typed_apart_are_one(typed: str) -> None:
    title, findings = _title(typed)
    assert not len(findings)
    assert title == unicodedata.normalize("NFC", typed)
    assert title is not None
    assert not any(unicodedata.combining(one) for one in title)


def test_comments_may_hold_anything() -> None:
    findings = Findings()
    assert read_tree("title: Shelf  # שולחן 木 🪑\n".encode(), "project.yaml", findings) is not None
    assert not len(findings)


def test_every_text_is_told_once_at_its_first_odd_character() -> None:
    findings = Findings()
    read_tree('a: 木 and 横\nb: fine\nc: "x 🪑"\n'.encode(), "project.yaml", findings)
    assert [(one.kind, one.place.line, one.place.column) for one in findings if one.place] == [
        ("unprintable", 1, 4),
        ("unprintable", 3, 7),
    ]


@given(
    st.text(st.characters(exclude_characters="'\r\n\t", exclude_categories=["Cs"]), min_size=1, max_size=8)
)
def test_what_is_let_in_can_be_printed(text: str) -> None:
    title, findings = _title(text)
    if title is not None and not len(findings):
        assert missing_glyphs(title) == ""

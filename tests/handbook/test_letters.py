"""The table of characters that can be printed is what the typeface draws, no more and no less."""

from __future__ import annotations

import sys
import unicodedata

import pytest

from plangen.drawing.sheet.lettering import missing_glyphs
from plangen.handbook.letters import can_be_printed, why_not


def test_the_table_is_that_of_the_typeface() -> None:
    """Every character of Unicode: in the table exactly when all weights have it and it stands by itself."""
    alone = [
        chr(point)
        for point in range(32, sys.maxunicode + 1)
        if unicodedata.category(chr(point))[0] not in "MC"
    ]
    missing = set(missing_glyphs("".join(alone)))
    wrong = [f"U+{ord(one):04X}" for one in alone if can_be_printed(one) == (one in missing)]
    assert wrong == []


@pytest.mark.parametrize(
    "odd", ["\u0301", "\u200b", "\u202e", "\u00ad", "\ue121", "\x07", "\ufe0f", "\ud800"]
)
def test_what_does_not_stand_by_itself_is_never_printed(odd: str) -> None:
    assert not can_be_printed(odd)


@pytest.mark.parametrize(
    ("odd", "said", "remedy"),
    [
        ("ש", "the typeface has no `ש` (U+05E9, hebrew letter shin)", "Latin, Greek or Cyrillic"),
        ("س", "arabic letter seen", "Latin, Greek or Cyrillic"),
        ("木", "U+6728", "Latin, Greek or Cyrillic"),
        ("🪑", "U+1FA91", "in words"),
        ("\u202e", "turns the order of letters", "take it out"),
        ("\u200b", "is not seen", "take it out"),
        ("\ufe0f", "is not seen", "take it out"),
        ("\u0301", "combining acute accent", "a letter that has its accent"),
        ("\ue121", "private use", "take it out"),
    ],
)
def test_a_maker_is_told_why_and_what_to_do(odd: str, said: str, remedy: str) -> None:
    message, do = why_not(odd)
    assert said in message
    assert remedy in do

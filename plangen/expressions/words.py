"""What may be a name."""

from __future__ import annotations

import re

from plangen.expressions.syntax import FUNCTIONS
from plangen.expressions.text import ExpressionError, Text
from plangen.findings import Finding

LONGEST_NAME = 60
RESERVED = {
    **dict.fromkeys(("in", "ft", "mm", "cm", "m", "deg"), "a unit"),
    **dict.fromkeys(FUNCTIONS, "a function"),
    "own": "the word for this part's own sizes",
    "none": "the word for nothing",
    "draft": "the word for the drafted steps",
    "to": "a word of `round(x, to 1/16in)`",
    "within": "a word of facts",
}

_NAME = re.compile(r"[^\W\d_]\w*(?: \w+)*")
_HYPHENS = "-\u2010\u2011\u2012\u2013\u2212"


def check_path(text: Text) -> Text:
    """Give the text back when it is a name, or names joined by dots: the way to a piece in an assembly.

    Raises ExpressionError that says what is wrong, at the name that is at fault.
    """
    start = 0
    for name in text.split("."):
        check_name(Text(name, text.at(start, len(name))))
        start += len(name) + 1
    return text


def check_name(text: Text) -> Text:
    """Give the text back when it is a name; raises ExpressionError that says why it is not.

    A name is words of letters, digits and ``_`` joined by single spaces, and starts with a letter.
    """
    if len(text) <= LONGEST_NAME and _NAME.fullmatch(text) and text not in RESERVED:
        if " within " in f" {text} ":
            raise _error(text, 0, "`within` has a meaning in facts", "take the word out of the name")
        return text
    if not text.strip():
        raise _error(text, 0, "a name is missing", "give one")
    if text in RESERVED:
        raise _error(text, 0, f"`{text}` is {RESERVED[text]} and cannot be a name", "choose another name")
    if len(text) > LONGEST_NAME:
        raise _error(
            text, 0, f"a name of {len(text)} letters is too long", f"the limit is {LONGEST_NAME} letters"
        )
    for index, character in enumerate(text):
        if character in _HYPHENS:
            raise _error(text, index, f"`{text}` has a hyphen, which means minus", f"write `{_spaced(text)}`")
        if character == ".":
            raise _error(
                text,
                index,
                f"`{text}` has a dot, which joins a name to its property",
                f"write `{' '.join(text.replace('.', ' ').split())}`",
            )
        if character != " " and not (character.isalnum() or character == "_"):
            shown = character if character.isprintable() else f"U+{ord(character):04X}"
            raise _error(
                text,
                index,
                f"`{shown}` cannot stand in a name",
                "names are words of letters, digits and _, joined by single spaces",
            )
    if "  " in text or text != text.strip():
        raise _error(
            text,
            max(0, text.find("  ")),
            "the words of a name are joined by single spaces",
            f"write `{' '.join(text.split())}`",
        )
    raise _error(text, 0, f"`{text}` does not start with a letter", "start a name with a letter")


def _spaced(text: str) -> str:
    for hyphen in _HYPHENS:
        text = text.replace(hyphen, " ")
    return " ".join(text.split())


def _error(text: Text, index: int, message: str, remedy: str) -> ExpressionError:
    place = text.at(index, len(text) if not index else 1)
    return ExpressionError(Finding("bad-name", message, place if place.line else None, remedy))

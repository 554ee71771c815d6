"""The field types of the models: what a text of the maker's file may be, and how it is read.

Each is the static type of the value with the validator and the JSON Schema hung on it.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date
from typing import Annotated, Any, TypeVar

from pydantic import PlainValidator, WithJsonSchema

from plangen.expressions.entry import place_of_value, trouble, troubles
from plangen.expressions.expression import Expression, parse_expression
from plangen.expressions.fact import FactExpression, parse_fact
from plangen.expressions.text import ExpressionError, Text
from plangen.expressions.words import check_name, check_path
from plangen.findings import Finding, ProjectError

MOST_LETTERS = 20_000
SIDES = ("left", "right", "front", "back", "bottom", "top", "inside", "outside")
NAME_PATTERN = r"^[^\W\d_]\w*( \w+)*$"

_Value = TypeVar("_Value")


def as_text(value: Any, wanted: str = "one value") -> Text:
    """Take a scalar of the file; a map or a list is refused with what is wanted."""
    if isinstance(value, Text):
        return value
    if isinstance(value, str):
        return Text(value)
    shape = "a list" if isinstance(value, list | tuple) else "a map"
    raise trouble(
        "bad-value",
        f"{wanted} is wanted here, and this is {shape}",
        place_of_value(value),
        "put the value itself after the colon",
    )


def reader(read: Callable[[Text], _Value], kind: type[_Value], wanted: str) -> PlainValidator:
    """Make the validator of a field from the function that reads its text and raises ProjectError."""

    def validate(value: Any) -> _Value:
        if isinstance(value, kind) and not isinstance(value, str):
            return value
        try:
            return read(as_text(value, wanted))
        except ProjectError as error:
            raise troubles(error.findings) from None

    return PlainValidator(validate)


def refused(text: Text, message: str, remedy: str, kind: str = "bad-value") -> ExpressionError:
    """Make the error of a text that a field cannot take."""
    return ExpressionError(Finding(kind, message, text.place if text.place.line else None, remedy))


def _scalar(title: str, example: str) -> WithJsonSchema:
    # Editors read 15 as a number where plangen reads the text 15: both are right.
    return WithJsonSchema({"type": ["string", "number"], "description": f"{title}, for example {example}"})


def _read_words(text: Text) -> Text:
    if len(text) > MOST_LETTERS:
        raise refused(text, f"the text has {len(text)} letters", f"the limit is {MOST_LETTERS}", "too-long")
    if not text.strip():
        raise refused(text, "there are no words here", "write some, or take the key out", "missing-value")
    for index, character in enumerate(text):
        if not character.isprintable() and character not in "\n\u00a0\u202f\u2009\u00ad":
            place = text.at(index)
            raise ExpressionError(
                Finding(
                    "bad-character",
                    f"U+{ord(character):04X} cannot be printed",
                    place if place.line else None,
                    "take it out",
                )
            )
    return text


def _read_whole(text: Text) -> int:
    if re.fullmatch(r"[0-9]{7,}", text.strip()):
        raise refused(text, f"`{text}` is more than is counted here", "write a count such as `4`")
    if not re.fullmatch(r"[0-9]{1,6}", text.strip()):
        raise refused(text, f"`{text}` is not a whole number", "write a count such as `4`")
    return int(text)


def _read_yes_no(text: Text) -> bool:
    if text not in ("yes", "no"):
        raise refused(text, f"`{text}` is neither yes nor no", "write `yes` or `no`")
    return text == "yes"


def _read_day(text: Text) -> date:
    if not re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", text.strip()):
        raise refused(text, f"`{text}` is not a date", "write year-month-day: `2026-03-14`")
    try:
        return date.fromisoformat(text.strip())
    except ValueError:
        raise refused(text, f"there is no day `{text}`", "check month and day") from None


def _read_side(text: Text) -> Text:
    if text not in SIDES:
        raise refused(text, f"`{text}` is not a side", f"write one of {', '.join(SIDES)}", "unknown-word")
    return text


def _read_names(value: Any) -> tuple[Text, ...]:
    items = value if isinstance(value, list | tuple) else [value]
    if not items:
        raise trouble("missing-value", "the list is empty", place_of_value(value), "give at least one name")
    found: list[Text] = []
    wrong: list[Finding] = []
    for item in items:
        if isinstance(item, list | tuple):
            wrong.append(_nested(item))
            continue
        try:
            found.append(check_path(as_text(item, "a name")))
        except ProjectError as error:
            wrong.extend(error.findings)
    if wrong:
        raise troubles(tuple(wrong))
    return tuple(found)


def _read_names_or_none(value: Any) -> tuple[Text, ...]:
    return () if isinstance(value, str) and value.strip() == "none" else _read_names(value)


def _nested(value: Any) -> Finding:
    place = place_of_value(value)
    return Finding(
        "bad-value",
        "a list stands inside the list, where one name is wanted",
        place if place.line else None,
        "each name is a part, for all its copies, or one copy; `between` takes two of them: `[one, two]`",
    )


_LENGTH = _scalar("a length", "3/4in, 1-1/2in, 19mm, height - 3in")

Expr = Annotated[
    Expression,
    reader(parse_expression, Expression, "a value"),
    _scalar("a length, number or angle", "30in, rows * 4, (height - 3in) / 2"),
]
LengthExpr = Annotated[Expression, reader(parse_expression, Expression, "a length"), _LENGTH]
NumberExpr = Annotated[
    Expression,
    reader(parse_expression, Expression, "a number"),
    _scalar("a plain number", "4, 1.5, rows + 1"),
]
AngleExpr = Annotated[
    Expression, reader(parse_expression, Expression, "an angle"), _scalar("an angle in degrees", "45deg")
]
FactExpr = Annotated[
    FactExpression,
    reader(parse_fact, FactExpression, "a fact"),
    WithJsonSchema({"type": "string", "description": "a fact, for example clear = 8-1/8in within 1/32in"}),
]
Name = Annotated[
    Text,
    reader(check_name, Text, "a name"),
    WithJsonSchema({"type": "string", "description": "a name: words joined by single spaces"}),
]
# As a key of a map: to type checkers a plain string, so that maps may be asked with one.
NameKey = Annotated[
    str,
    reader(check_name, Text, "a name"),
    WithJsonSchema({"type": "string", "description": "a name: words joined by single spaces"}),
]
# The name of a piece, which may lie in an assembly: ``top drawer.face``.
PathName = Annotated[
    Text,
    reader(check_path, Text, "a name"),
    WithJsonSchema({"type": "string", "description": "a name, or names joined by dots: top drawer.face"}),
]
PathKey = Annotated[
    str,
    reader(check_path, Text, "a name"),
    WithJsonSchema({"type": "string", "description": "a name, or names joined by dots: top drawer.runners"}),
]
Names = Annotated[
    tuple[Text, ...],
    PlainValidator(_read_names),
    WithJsonSchema(
        {
            "description": "a name, or a list of names",
            "anyOf": [{"type": "string"}, {"type": "array", "items": {"type": "string"}, "minItems": 1}],
        }
    ),
]
NamesOrNone = Annotated[
    tuple[Text, ...],
    PlainValidator(_read_names_or_none),
    WithJsonSchema(
        {
            "description": "a name, or a list of names",
            "anyOf": [{"type": "string"}, {"type": "array", "items": {"type": "string"}, "minItems": 1}],
        }
    ),
]
Words = Annotated[Text, reader(_read_words, Text, "text"), _scalar("text", "hang it level")]
WordsKey = Annotated[str, reader(_read_words, Text, "text"), WithJsonSchema({"type": "string"})]
Whole = Annotated[
    int,
    reader(_read_whole, int, "a whole number"),
    WithJsonSchema({"type": ["integer", "string"], "description": "a whole number, for example 4"}),
]
# As a key of a map: how many are in a pack.
CountKey = Annotated[
    int, reader(_read_whole, int, "a count"), WithJsonSchema({"type": "string", "pattern": "^[0-9]{1,6}$"})
]
YesNo = Annotated[bool, reader(_read_yes_no, bool, "yes or no"), WithJsonSchema({"enum": ["yes", "no"]})]
Day = Annotated[
    date,
    reader(_read_day, date, "a date"),
    WithJsonSchema({"type": "string", "format": "date", "description": "a date: 2026-03-14"}),
]
SideWord = Annotated[Text, reader(_read_side, Text, "a side"), WithJsonSchema({"enum": list(SIDES)})]

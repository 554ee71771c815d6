"""One stock in the place of another: in every part, in every value and in every word that names it."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import fields, is_dataclass, replace
from typing import Any, Final

from plangen.description.model import Description
from plangen.expressions import (
    Entry,
    Expression,
    FactExpression,
    KindEntry,
    Text,
    parse_expression,
    parse_fact,
)

_NAMES_STOCK: Final = ("stock", "with_")  # fields that name a row under `stock`

Change = Callable[[str, Any], Any]


def substituted(description: Description, old: str, new: str) -> Description:
    """Give the description with the stock ``new`` wherever ``old`` was, and without ``old``.

    Both are rows of ``description.stock``.
    """
    asked = re.compile(rf"(?<![\w.])(?<!\w ){re.escape(old)}(?=\.)")

    def change(key: str, value: Any) -> Any:
        if isinstance(value, Expression):
            if not any(reference.names[0] == old for reference in value.references()):
                return value
            return parse_expression(Text(asked.sub(new, value.text), value.text.place))
        if isinstance(value, FactExpression):
            if not any(reference.names[0] == old for reference in value.references()):
                return value
            return parse_fact(Text(asked.sub(new, value.text), value.text.place))
        if key in _NAMES_STOCK and value == old:
            return Text(new, value.place)
        return Text(in_words, value.place) if (in_words := _in_words(value, old, new)) != value else value

    rest = {name: entry for name, entry in description.stock.items() if name != old}
    left: Description = changed(description.model_copy(update={"stock": rest}), change)
    return left


def _in_words(text: str, old: str, new: str) -> str:
    """Change the references that stand in a text: ``<ply.thickness>``."""
    return text.replace(f"<{old}.", f"<{new}.")


def changed(value: Any, change: Change, key: str = "") -> Any:
    """Give a value of the description with ``change`` made to every text and expression in it.

    ``change`` gets the name of the field that a value stands under. What does not change is given as it is.
    """
    if isinstance(value, Expression | FactExpression | Text):
        return change(key, value)
    if isinstance(value, Entry):
        found = {name: getattr(value, name) for name in type(value).model_fields}
        new = {name: changed(one, change, name) for name, one in found.items()}
        update = {name: one for name, one in new.items() if one is not found[name]}
        return value.model_copy(update=update) if update else value
    if isinstance(value, KindEntry):
        body = changed(value.body, change, key)
        return value if body is value.body else replace(value, body=body)
    if isinstance(value, Mapping):
        row = {name: changed(one, change, key) for name, one in value.items()}
        return value if all(row[name] is one for name, one in value.items()) else row
    if isinstance(value, list | tuple):
        items = [changed(one, change, key) for one in value]
        if all(one is other for one, other in zip(items, value, strict=True)):
            return value
        return items if isinstance(value, list) else tuple(items)
    if is_dataclass(value) and not isinstance(value, type):
        held = {one.name: getattr(value, one.name) for one in fields(value) if one.init}
        made = {name: changed(one, change, name) for name, one in held.items()}
        update = {name: one for name, one in made.items() if one is not held[name]}
        return replace(value, **update) if update else value
    return value


def texts(value: Any, key: str = "") -> Iterator[tuple[str, Text]]:
    """Give every text of the description and the field it stands under; keys of maps are under ``""``."""
    if isinstance(value, Text):
        yield key, value
    elif isinstance(value, Entry):
        for name in type(value).model_fields:
            yield from texts(getattr(value, name), name)
    elif isinstance(value, KindEntry):
        yield from texts(value.body, key)
    elif isinstance(value, Mapping):
        for name, one in value.items():
            if isinstance(name, Text):
                yield "", name
            yield from texts(one, key)
    elif isinstance(value, list | tuple):
        for one in value:
            yield from texts(one, key)

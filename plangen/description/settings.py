"""Settings from the command line: another value for a size, or for a field of a stock or hardware."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from pydantic import TypeAdapter, ValidationError

from plangen.description.model import Description
from plangen.expressions import (
    Entry,
    Expression,
    PlacedMap,
    Text,
    findings_of,
    key_of,
    keys_of,
    nearest,
    parse_expression,
)
from plangen.expressions import piece as piece_of
from plangen.findings import Finding, Place, ProjectError

SETTINGS_FILE = "--set"  # findings about the third setting point at line 3 of this


def apply_settings(description: Description, settings: Sequence[str]) -> Description:
    """Give the description with each ``NAME=VALUE`` put in.

    A name is a size (``width``), or a stock or hardware and its field (``ply.thickness``). Raises
    ProjectError with all that is wrong.
    """
    wrong: list[Finding] = []
    for line, setting in enumerate(settings, 1):
        text = Text(setting, Place(SETTINGS_FILE, line, 1, max(1, len(setting))))
        try:
            description = _applied(description, text)
        except ProjectError as error:
            wrong.extend(error.findings)
    if wrong:
        raise ProjectError(wrong)
    return description


def _applied(description: Description, setting: Text) -> Description:
    cut = setting.find("=")
    if cut <= 0:
        raise _error("bad-setting", f"`{setting}` is not a setting", setting.place, "write NAME=VALUE")
    name, value = piece_of(setting, 0, cut), piece_of(setting, cut + 1, len(setting))
    if "." not in name:
        return _with_size(description, name, value)
    dot = name.index(".")
    owner, key = piece_of(name, 0, dot), piece_of(name, dot + 1, len(name))
    for table_name in ("stock", "hardware"):
        table: Mapping[str, Entry] = getattr(description, table_name)
        if owner in table:
            entry = _with_field(table[owner], key, value)
            return description.model_copy(update={table_name: _replaced(table, owner, entry)})
    known = [*description.stock, *description.hardware]
    raise _error(
        "unknown-name",
        f"there is no stock or hardware `{owner}`",
        owner.place,
        nearest(owner, known, "there are"),
    )


def _with_size(description: Description, name: Text, value: Text) -> Description:
    if name not in description.sizes:
        raise _error(
            "unknown-name",
            f"there is no size `{name}`",
            name.place,
            nearest(name, description.sizes, "the sizes are"),
        )
    expression: Expression = parse_expression(value)
    return description.model_copy(update={"sizes": _replaced(description.sizes, name, expression)})


def _with_field(entry: Entry, key: Text, value: Text) -> Entry:
    names = {field.alias or key_of(name): name for name, field in type(entry).model_fields.items()}
    if key not in names:
        raise _error(
            "unknown-key",
            f"`{key}` is not a key there",
            key.place,
            nearest(key, keys_of(type(entry)), "the keys are"),
        )
    field = type(entry).model_fields[names[key]]
    try:
        checked: Any = TypeAdapter(field.rebuild_annotation()).validate_python(value)
    except ValidationError as error:
        given = PlacedMap({key: value}, key.place)
        raise ProjectError(findings_of(error, given, value.place, type(entry), (key,))) from None
    return entry.model_copy(update={names[key]: checked})


def _replaced(table: Mapping[str, Any], name: str, value: Any) -> dict[str, Any]:
    # Keys keep their places: the new value goes under the old key.
    return {key: value if key == name else old for key, old in table.items()}


def _error(kind: str, message: str, place: Place, remedy: str) -> ProjectError:
    return ProjectError((Finding(kind, message, place, remedy),))

"""The JSON Schema of the maker's file, for editors that complete and check while typing."""

from __future__ import annotations

from typing import Any

from plangen.description.model import Description


def json_schema() -> dict[str, Any]:
    """Give the schema (JSON Schema, draft 2020-12). Names, sums and counts are checked by plangen alone."""
    schema = Description.model_json_schema(by_alias=True)
    for placed, pinned in (("PartEntry", "PinsEntry"), ("AssemblyEntry", "AssemblyPinsEntry")):
        pins = {"$ref": f"#/$defs/{pinned}"}
        schema["$defs"][placed]["properties"]["place"] = {
            "description": "pins of the one copy, or a map of copies, each with its pins",
            "anyOf": [pins, {"type": "object", "additionalProperties": pins, "minProperties": 1}],
        }
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "A plangen project",
        **{key: _said_plainly(value) for key, value in schema.items() if key != "title"},
    }


def _said_plainly(value: Any) -> Any:
    """Take the marks of a docstring out of the descriptions that an editor shows."""
    if isinstance(value, dict):
        return {key: _said_plainly(inner) for key, inner in value.items()}
    if isinstance(value, list):
        return [_said_plainly(inner) for inner in value]
    return value.replace("``", "`") if isinstance(value, str) else value

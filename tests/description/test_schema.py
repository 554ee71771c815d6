"""The schema for editors agrees with the reader on sound files and on plain slips."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from ruamel.yaml import YAML

from plangen.description import json_schema
from plangen.joinery.joints import JOINTS
from plangen.joinery.operations import OPERATIONS
from tests.bad.cases import BASE

ROOT = Path(__file__).resolve().parents[2]
SCHEMA = json_schema()
KNOWN = {
    *("$schema", "$defs", "$ref", "title", "description", "default", "type", "enum", "const", "format"),
    *("properties", "required", "propertyNames", "additionalProperties", "items", "anyOf", "oneOf"),
    *("minItems", "minProperties", "patternProperties"),
}
TYPES = {
    "string": str,
    "integer": int,
    "number": (int, float),
    "object": dict,
    "array": list,
    "null": type(None),
}


def fits(value, schema) -> bool:
    """Check a value by the keywords of JSON Schema 2020-12 that our schema uses."""
    assert set(schema) <= KNOWN, set(schema) - KNOWN
    if "$ref" in schema:
        return fits(value, SCHEMA["$defs"][re.fullmatch(r"#/\$defs/(\w+)", schema["$ref"]).group(1)])
    if "type" in schema:
        kinds = schema["type"] if isinstance(schema["type"], list) else [schema["type"]]
        if isinstance(value, bool) or not any(isinstance(value, TYPES[kind]) for kind in kinds):
            return False
    if "enum" in schema and value not in schema["enum"]:
        return False
    if "const" in schema and value != schema["const"]:
        return False
    if "anyOf" in schema and not any(fits(value, choice) for choice in schema["anyOf"]):
        return False
    if "oneOf" in schema and sum(fits(value, choice) for choice in schema["oneOf"]) != 1:
        return False
    if isinstance(value, dict):
        if any(key not in value for key in schema.get("required", ())):
            return False
        if len(value) < schema.get("minProperties", 0):
            return False
        other = schema.get("additionalProperties", True)
        for key, inner in value.items():
            if not fits(key, schema.get("propertyNames", {})):
                return False
            patterns = schema.get("patternProperties", {}).items()
            matching = [inner_schema for pattern, inner_schema in patterns if re.search(pattern, key)]
            if not all(fits(inner, one) for one in matching):
                return False
            known = schema.get("properties", {}).get(key, {} if matching else other)
            if known is False or (known is not True and not fits(inner, known)):
                return False
    if isinstance(value, list) and "items" in schema:
        return len(value) >= schema.get("minItems", 0) and all(fits(item, schema["items"]) for item in value)
    return True


def load(text: str):
    """Read as an editor does: YAML 1.2, its core types."""
    return json.loads(json.dumps(YAML(typ="safe", pure=True).load(text), default=str))


@pytest.mark.parametrize(
    "path", sorted([*ROOT.glob("projects/*/project.yaml"), *ROOT.glob("templates/starter/*.yaml")])
)
def test_sound_projects_fit(path):
    assert fits(load(path.read_text()), SCHEMA)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("units: inch", "units: inches"),
        ("    runs: up\n", "    rums: up\n"),
        ("- dado:", "- daddo:"),
        ("thickness: 3/4in, ", ""),
        ("plangen: 1", "plangen: 2"),
        ("depth: 6in", "depth: [6in]"),
        ("expect:\n  - clear", "expect:\n    clear"),
        ("left side: {left: 0,", "left side: {lefft: 0,"),
    ],
)
def test_slips_do_not_fit(old, new):
    assert fits(load(BASE), SCHEMA)
    assert BASE.count(old) == 1
    assert not fits(load(BASE.replace(old, new)), SCHEMA)


def test_every_kind_of_joint_and_operation_is_offered():
    joints = SCHEMA["properties"]["joints"]["items"]["oneOf"]
    assert [next(iter(choice["properties"])) for choice in joints] == list(JOINTS)
    cuts = SCHEMA["$defs"]["PartEntry"]["properties"]["cut"]["items"]["oneOf"]
    assert [next(iter(choice["properties"])) for choice in cuts] == list(OPERATIONS)


def test_it_is_the_same_each_time():
    assert json.dumps(json_schema()) == json.dumps(SCHEMA)

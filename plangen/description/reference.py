"""The keys of every map of the maker's file, read off the models that read the file.

What a key means is told once: in a table of words, by the heading of its map, or in a comment beside its
field. A key that nobody tells is silent, and a test says so: no meaning is guessed from prose. Whoever
prints a reference from this cannot print a key that is not read.
"""

from __future__ import annotations

import inspect
import re
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Any, get_args, get_origin

from plangen.description.model import Description
from plangen.expressions import Entry, SideWord, Text, key_of
from plangen.joinery.hardware import HARDWARE_KINDS
from plangen.joinery.hardware.ware import HardwareEntry
from plangen.joinery.joints import JOINTS
from plangen.joinery.operations import OPERATIONS
from plangen.joinery.outline import segment_kinds

Words = Mapping[str, Mapping[str, str]]  # heading of a map, or "every …": key: meaning
SHARED = "every map"  # the heading whose words hold wherever a map has no words of its own

_COMMENT = re.compile(r"^ {4}(\w+): [^#]*#\s*(.+)$")


@dataclass(frozen=True, slots=True)
class Row:
    """One key, or several that read alike: what is typed, and what it means (empty: nothing says it)."""

    keys: tuple[str, ...]
    type: str
    needed: bool
    usual: str  # what holds where the key is left out, where the model says so
    meaning: str


@dataclass(frozen=True, slots=True)
class MapOfKeys:
    """One map of the file: its heading, what its model says of it, and its keys in order."""

    heading: str
    model: type[Entry]
    said: str
    rows: tuple[Row, ...]

    @property
    def silent(self) -> tuple[str, ...]:
        """Keys that nothing tells the meaning of."""
        return tuple(key for row in self.rows if not row.meaning for key in row.keys)


def map_of_keys(
    heading: str,
    model: type[Entry],
    words: Words,
    without: frozenset[str] = frozenset(),
    *,
    needs: Collection[str] = (),
    usual: Mapping[str, str] = MappingProxyType({}),
) -> MapOfKeys:
    """Read the keys of a model; ``without`` leaves out keys that are told elsewhere.

    ``needs`` and ``usual`` are the keys that must be typed, and what others are worth, where it is not the
    model but the kind that says so.
    """
    schema = model.model_json_schema(by_alias=True)
    if "$ref" in schema:  # a map that may hold maps of its own sort
        schema = schema["$defs"][schema["$ref"].rsplit("/", 1)[-1]]
    needed = {*schema.get("required", ()), *needs}
    tables = (words.get(heading, {}), dict(_comments(model)), words.get(SHARED, {}))
    sided = {key_of(name) for name, field in model.model_fields.items() if _by_side(field.annotation)}
    rows: list[Row] = []
    for key, value in schema["properties"].items():
        if key in without:
            continue
        meaning = next((table[key] for table in tables if key in table), "")
        typed = type_words(value, schema)
        if key in sided:
            typed = typed.replace("map of names", "map of sides", 1)
        row = Row((key,), typed, key in needed, usual.get(key) or _usual(value), meaning)
        last = rows[-1] if rows else None
        if meaning and last is not None and replace(last, keys=row.keys) == row:
            rows[-1] = replace(row, keys=(*last.keys, key))
        else:
            rows.append(row)
    return MapOfKeys(heading, model, plain_words(model.__doc__ or ""), tuple(rows))


def plain_words(docstring: str) -> str:
    """Give a docstring as prose: its paragraphs on lines of their own, and no marks of code but one tick."""
    text = inspect.cleandoc(docstring).replace("``", "`")
    return "\n\n".join(" ".join(paragraph.split()) for paragraph in text.split("\n\n"))


def _comments(model: type[Entry]) -> Iterator[tuple[str, str]]:
    """The comment beside each field, nearest class last, so that it counts."""
    for owner in reversed(model.__mro__):
        if not (isinstance(owner, type) and issubclass(owner, Entry) and owner is not Entry):
            continue
        for line in inspect.getsource(owner).splitlines():
            if found := _COMMENT.match(line):
                yield key_of(found[1]), found[2]


def _by_side(annotation: Any) -> bool:
    """Whether an annotation is, or may be, a map whose keys are sides: words, and no names of the maker's."""
    if get_origin(annotation) is dict:
        return get_args(annotation)[0] in (SideWord, Text)
    return any(_by_side(arm) for arm in get_args(annotation))


def _usual(value: Mapping[str, Any]) -> str:
    default = value.get("default")
    return str(default) if isinstance(default, str | int | float) and default != "" else ""


def type_words(value: Mapping[str, Any], schema: Mapping[str, Any]) -> str:
    """Say in the trade's words what a JSON Schema takes: ``length``, ``list of names``, ``one of …``."""
    if "$ref" in value:
        name = value["$ref"].rsplit("/", 1)[-1]
        return f"map: {heading_of_model(name)}"
    if "const" in value:
        return f"`{value['const']}`"
    if "enum" in value:
        return _choice([str(word) for word in dict.fromkeys(map(str, value["enum"]))])
    if "description" in value:
        words = re.split(r", for example|: ", str(value["description"]))[0]
        return re.sub(r"^an? ", "", words).replace("name, or a list of names", "name or list of names")
    for arms in ("anyOf", "oneOf"):
        if arms in value:
            return _either([arm for arm in value[arms] if arm.get("type") != "null"], value, schema)
    if value.get("type") == "array":
        return f"list of {_plural(type_words(value.get('items', {}), schema))}"
    if value.get("type") == "object":
        inner = value.get("additionalProperties")
        if not isinstance(inner, dict):
            return "map"
        each = type_words(inner, schema)
        return f"map of names, each {_with_article(each)}"
    plain = value.get("type", "value")
    if isinstance(plain, list) or plain == "string":
        return "text"
    return "whole number" if plain == "integer" else str(plain)


def _either(arms: list[dict[str, Any]], value: Mapping[str, Any], schema: Mapping[str, Any]) -> str:
    if value.get("title") in ("joint", "operation", "piece of an outline"):
        return str(value["title"])
    typed = dict.fromkeys(type_words(arm, schema) for arm in arms)
    if "map: hardware" in typed:  # one arm for each kind, and the plain row
        return "map: hardware"
    if "whole number" in typed:  # a number may be written as text, and is one all the same
        typed.pop("text", None)
    return " or ".join(sorted(typed, key=lambda words: words.startswith(("map", "list"))))


def _choice(words: list[str]) -> str:
    if words == ["yes", "no"]:
        return "yes or no"
    if {"left", "right", "front", "back", "bottom", "top"} <= set(words):
        return "side"
    return " or ".join(f"`{word}`" for word in words)


def _plural(words: str) -> str:
    if words.startswith("map"):
        return f"maps{words[3:]}"
    return (
        words
        if "`" in words or " or " in words
        else {"piece of an outline": "pieces"}.get(words, f"{words}s")
    )


def _with_article(words: str) -> str:
    if words == "text" or words.startswith("`"):
        return words
    return ("an " if words[:1] in "aeiou" else "a ") + words


HEADINGS = {
    "ProjectEntry": "project",
    "RevisionEntry": "revision",
    "ShopEntry": "shop",
    "RoughEntry": "rough sizes",
    "GlueEntry": "glue",
    "StockEntry": "stock",
    "HardwareEntry": "hardware",
    "ScrewsEntry": "screws",
    "PartEntry": "part",
    "FromWorkEntry": "size from the work",
    "GlueUpEntry": "glue up",
    "OverSizeEntry": "allowance of a glue up",
    "BlankEntry": "blank",
    "PinsEntry": "place",
    "SpreadEntry": "spread",
    "LeanEntry": "lean",
    "StretchEntry": "stretcher",
    "FitEntry": "fit",
    "RowEntry": "row of a fit",
    "StepEntry": "step",
    "AssemblyEntry": "assembly",
    "AssemblyPinsEntry": "place of an assembly",
    "Counterbore": "counterbore",
    "RowOf": "row of holes",
    "CurvePoint": "point of a curve",
    "OutlinePoint": "point of an outline",
    "OutlineArc": "arc of an outline",
    "OutlineCurve": "curve of an outline",
    "OutlineCircle": "circle of an outline",
}
"""What the reference calls each map, by its model; kinds of joint and operation have their own names."""


def heading_of_model(name: str) -> str:
    """Give the heading of a model by its class name; a class that is not listed is read as words."""
    return HEADINGS.get(name) or re.sub(r"(?<!^)(?=[A-Z])", " ", name.removesuffix("Entry")).lower()


def all_models() -> dict[str, type[Entry]]:
    """Give every model that the file may hold, but those of kinds, by its heading and in reading order."""
    kinds: set[type[Entry]] = {kind.entry for table in (JOINTS, OPERATIONS) for kind in table.values()}
    kinds |= {kind.entry for kind in HARDWARE_KINDS.values()} - {HardwareEntry}
    found: dict[str, type[Entry]] = {}

    def walk(model: type[Entry]) -> None:
        for name in model.model_fields:
            for inner in _models_in(model.model_fields[name].annotation):
                heading = heading_of_model(inner.__name__)
                if inner not in kinds and heading not in found:
                    found[heading] = inner
                    walk(inner)

    walk(Description)
    for kind in (*segment_kinds().values(), *sorted(kinds, key=lambda one: one.__name__)):
        if kind not in kinds:
            found.setdefault(heading_of_model(kind.__name__), kind)
        walk(kind)
    return found


def _models_in(annotation: Any) -> Iterator[type[Entry]]:
    if isinstance(annotation, type) and issubclass(annotation, Entry):
        yield annotation
    for inner in getattr(annotation, "__args__", ()):
        yield from _models_in(inner)
    if hasattr(annotation, "__origin__") and not isinstance(annotation.__origin__, type):
        yield from _models_in(annotation.__origin__)

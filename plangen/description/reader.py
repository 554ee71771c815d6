"""Read the maker's file into a checked ``Description``, telling everything that is wrong in one run."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from pydantic import ValidationError

from plangen.description.model import Description
from plangen.description.names import check_names
from plangen.description.tree import read_tree
from plangen.expressions import PlacedMap, Text, findings_of, place_of
from plangen.findings import Findings, Place, Severity


def read_description(text: bytes, file: str, findings: Findings) -> Description | None:
    """Read a project file.

    ``file`` is the name to print. Every fault goes to ``findings`` with its place; None is given
    when there is any error.
    """
    before = len(findings)
    tree = read_tree(text, file, findings)
    if tree is None:
        return None
    _settle_places(tree, findings)
    check_names(tree, findings)
    description: Description | None = None
    try:
        description = Description.model_validate(tree)
    except ValidationError as error:
        told = {(item.place.line, item.place.column) for item in findings if item.place}
        for finding in findings_of(error, tree, Place(file, 1, 1), Description):
            # What was already told of a value is not told again in other words.
            if not (finding.place and (finding.place.line, finding.place.column) in told):
                findings.add(finding)
    if description is not None:
        _one_hardware_for_each_fit(description, findings)
    failed = any(item.severity is Severity.ERROR for item in findings.items[before:])
    return None if failed else description


def _settle_places(tree: PlacedMap, findings: Findings) -> None:
    """Give every ``place`` as a map of copies: a map of pins is the one copy named as what is placed."""
    for section in ("parts", "assemblies"):
        items = tree.get(section)
        for name, item in list(items.items()) if isinstance(items, PlacedMap) else ():
            if not isinstance(item, PlacedMap):
                continue
            place = item.get("place")
            if isinstance(place, PlacedMap) and place:
                item["place"] = _settled(name, place, findings)  # the key that is there keeps its place
            if section == "assemblies":
                _settle_places(item, findings)


def _settled(name: str, place: PlacedMap, findings: Findings) -> PlacedMap:
    pins = [key for key, value in place.items() if not isinstance(value, Mapping) or _is_pin(key, value)]
    copies = [key for key in place if key not in pins]
    if not pins:
        return place
    if not copies:
        return PlacedMap({name: place}, place.place)
    odd = copies[0] if len(pins) >= len(copies) else pins[0]
    findings.error(
        "mixed-place",
        f"`place` of `{name}` has both pins and copies",
        place_of(odd),
        "give pins alone for one copy, or a map of pins for each copy",
    )
    return PlacedMap({copy: place[copy] for copy in copies}, place.place)


# Pins whose value is a map, and keys that tell such a map from the pins of a copy with that name.
_PINS_WITH_KEYS = {
    "spread": {"going", "number"},
    "stretch": {"from", "to"},
    "lean": {"ends"},
    "given": set[str](),
}


def _is_pin(key: str, value: Mapping[str, Any]) -> bool:
    if key not in _PINS_WITH_KEYS:
        return False
    of_maps = all(isinstance(inner, Mapping) for inner in value.values())
    return key == "given" or bool(_PINS_WITH_KEYS[key] & set(value)) or (key == "lean" and of_maps)


def _one_hardware_for_each_fit(description: Description, findings: Findings) -> None:
    for item in description.fit:
        names = list(item)
        if len(names) != 1:
            place = (
                names[1].place
                if len(names) > 1 and isinstance(names[1], Text)
                else description.place_of("fit")
            )
            findings.error(
                "bad-fit",
                f"one item under fit has one hardware, and here are {len(names)}",
                place,
                "begin each with `- `",
            )

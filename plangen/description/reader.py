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
    """Give every part's ``place`` as a map of copies: a map of pins is the one copy named as the part."""
    parts = tree.get("parts")
    for name, part in list(parts.items()) if isinstance(parts, PlacedMap) else ():
        place = part.get("place") if isinstance(part, PlacedMap) else None
        if not isinstance(place, PlacedMap) or not place:
            continue
        pins = [
            key for key, value in place.items() if not isinstance(value, Mapping) or _is_spread(key, value)
        ]
        copies = [key for key in place if key not in pins]
        if not pins:
            continue
        if copies:
            odd = copies[0] if len(pins) >= len(copies) else pins[0]
            findings.error(
                "mixed-place",
                f"`place` of `{name}` has both pins and copies",
                place_of(odd),
                "give pins alone for one copy, or a map of pins for each copy",
            )
            settled = PlacedMap({copy: place[copy] for copy in copies}, place.place)
        else:
            settled = PlacedMap({name: place}, place.place)
        part["place"] = settled  # under the key that is there, which keeps its place


def _is_spread(key: str, value: Mapping[str, Any]) -> bool:
    return key == "spread" and ("going" in value or "number" in value)


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

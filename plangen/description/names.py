"""The one namespace of a project: every name once, and no two that are easily confused."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from plangen.expressions import PlacedMap, Text, place_of
from plangen.findings import Findings

Owner = tuple[str, Text]  # what has the name: a size, a stock, …


def check_names(tree: PlacedMap, findings: Findings) -> None:
    """Tell names that clash, and warn of those that differ only in case or plural."""
    first: dict[str, Owner] = {}
    twins: dict[str, Owner] = {}
    for what, name in _names(tree):
        if name in first:
            other, place = first[name][0], place_of(first[name][1])
            findings.error(
                "name-clash",
                f"`{name}` is the name of {other} and of {what}",
                place_of(name),
                "give one of them another name",
                ((place, f"{other} here"),),
            )
            continue
        first[name] = (what, name)
        # Joints are never asked for in an expression, so no slip of theirs goes unseen.
        if what == "a joint":
            continue
        likeness = _likeness(name)
        if likeness in twins and twins[likeness][1] != name:
            other, twin = twins[likeness]
            findings.warning(
                "name-twins",
                f"`{name}`, {what}, and `{twin}`, {other}, are easily confused",
                place_of(name),
                "rename one of them",
                ((place_of(twin), f"`{twin}` here"),),
            )
        twins.setdefault(likeness, (what, name))


def _names(tree: PlacedMap) -> Iterator[Owner]:
    for key, what in (
        ("sizes", "a size"),
        ("stock", "a stock"),
        ("hardware", "a hardware"),
        ("parts", "a part"),
    ):
        for name in _map(tree.get(key)):
            yield what, name
    for part, body in _map(tree.get("parts")).items():
        copies = _map(_map(body).get("place"))
        for copy in copies:
            if copy != part or len(copies) > 1:
                yield "a copy", copy
    joints = tree.get("joints")
    for item in joints if isinstance(joints, list) else ():
        for body in _map(item).values():
            name = _map(body).get("name")
            if isinstance(name, Text):
                yield "a joint", name


def _map(value: Any) -> Mapping[Any, Any]:
    return value if isinstance(value, Mapping) else {}


def _likeness(name: str) -> str:
    lowered = name.lower()
    for plural, single in (("ves", "f"), ("ies", "y"), ("sses", "ss"), ("s", "")):
        if lowered.endswith(plural) and not lowered.endswith("ss"):
            return lowered.removesuffix(plural) + single
    return lowered

"""The one namespace of a project: every name once, and no two that are easily confused."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from plangen.expressions import PlacedMap, Text, place_of
from plangen.findings import Findings

Owner = tuple[str, Text]  # what has the name: a size, a stock, …


def check_names(tree: PlacedMap, findings: Findings) -> None:
    """Tell names that clash, and warn of those that differ only in case or plural.

    An assembly has a namespace of its own, in which the project's sizes, stock and hardware stand too.
    """
    shared = [owner for key, what in _SHARED for owner in _owners(tree, key, what)]
    _check_frame([*shared, *_of_frame(tree)], 0, findings)
    for assembly in _assemblies(tree):
        own = [*_owners(assembly, "given", "a given size"), *_owners(assembly, "sizes", "a size")]
        _check_frame([*shared, *own, *_of_frame(assembly)], len(shared), findings)


_SHARED = (("sizes", "a size"), ("stock", "a stock"), ("hardware", "a hardware"))


def _check_frame(owners: list[Owner], known: int, findings: Findings) -> None:
    """Check the names of one frame; the first ``known`` were checked with another."""
    first: dict[str, Owner] = {}
    twins: dict[str, Owner] = {}
    for index, (what, name) in enumerate(owners):
        if index < known:
            first.setdefault(name, (what, name))
            twins.setdefault(_likeness(name), (what, name))
            continue
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


def _assemblies(tree: Mapping[Any, Any]) -> Iterator[Mapping[Any, Any]]:
    for assembly in _map(tree.get("assemblies")).values():
        yield _map(assembly)
        yield from _assemblies(_map(assembly))


def _owners(tree: Mapping[Any, Any], key: str, what: str) -> Iterator[Owner]:
    for name in _map(tree.get(key)):
        yield what, name


def _of_frame(tree: Mapping[Any, Any]) -> Iterator[Owner]:
    """What has a name in one frame, besides what the whole project shares."""
    yield from _owners(tree, "parts", "a part")
    yield from _owners(tree, "assemblies", "an assembly")
    yield from _owners(tree, "groups", "a group")
    for section, what in (("parts", "a copy"), ("assemblies", "a copy")):
        for placed, body in _map(tree.get(section)).items():
            copies = _map(_map(body).get("place"))
            for copy in copies:
                if copy != placed or len(copies) > 1:
                    yield what, copy
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

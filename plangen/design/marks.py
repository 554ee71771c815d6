"""Marks of parts: letters without I and O, stable from build to build; a retired mark is never given again."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from itertools import count, product

from plangen.design.model import Design

# I and O read as 1 and 0.
LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"
FILE_NAME = "marks.json"


@dataclass(frozen=True)
class KeptMarks:
    """Marks by the names of parts: those in use, and those of parts that are gone."""

    used: Mapping[str, str] = field(default_factory=dict)
    retired: Mapping[str, str] = field(default_factory=dict)


def read_marks(data: bytes | None) -> KeptMarks:
    """Read the small file beside the project; a damaged one counts as none."""
    if not data:
        return KeptMarks()
    try:
        found = json.loads(data)
        used, retired = found["used"], found["retired"]
    except (ValueError, KeyError, TypeError):
        return KeptMarks()
    if not all(isinstance(table, dict) for table in (used, retired)):
        return KeptMarks()
    return KeptMarks(
        {str(name): str(mark) for name, mark in used.items()},
        {str(name): str(mark) for name, mark in retired.items()},
    )


def write_marks(marks: KeptMarks) -> bytes:
    """Give the file's bytes."""
    table = {"used": dict(marks.used), "retired": dict(marks.retired)}
    return (json.dumps(table, indent=1, ensure_ascii=False) + "\n").encode()


def assign_marks(names: Iterable[str], typed: Mapping[str, str], kept: KeptMarks) -> KeptMarks:
    """Give each part name its mark: the maker's own, else the one it had, else the next free letter.

    ``names`` come in build order.
    """
    wanted = list(dict.fromkeys(names))
    used = {name: typed[name] for name in wanted if name in typed}
    taken = set(used.values()) | set(kept.retired.values())
    for name in wanted:
        had = kept.used.get(name) or kept.retired.get(name)
        if name not in used and had and had not in used.values():
            used[name] = had
    taken |= set(used.values()) | set(kept.used.values())
    free = (mark for mark in _letters() if mark not in taken)
    for name in wanted:
        if name not in used:
            used[name] = next(free)
    everything = {**kept.retired, **kept.used}
    retired = {
        name: mark
        for name, mark in everything.items()
        if used.get(name) != mark and mark not in used.values()
    }
    return KeptMarks({name: used[name] for name in wanted}, dict(sorted(retired.items())))


def _letters() -> Iterable[str]:
    for length in count(1):
        for letters in product(LETTERS, repeat=length):
            yield "".join(letters)


def with_marks(design: Design, marks: KeptMarks) -> Design:
    """Give the design with its parts marked; a pair shares a letter, ``A-L`` and ``A-R``."""
    suffix = {None: "", "left": "-L", "right": "-R"}
    parts = tuple(replace(part, mark=marks.used[part.name] + suffix[part.hand]) for part in design.parts)
    return replace(design, parts=parts)


def mark_names(design: Design) -> tuple[str, ...]:
    """The names that need a mark, in the design's order."""
    return tuple(dict.fromkeys(part.name for part in design.parts))

"""Marks of parts: letters without I and O, the same from build to build; a retired one is never reused."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from itertools import count, product

from plangen.description.model import PartEntry
from plangen.design.model import Design, Part
from plangen.findings import Findings

# I and O read as 1 and 0.
LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"
FILE_NAME = "marks.json"


@dataclass(frozen=True)
class KeptMarks:
    """Marks by the names of parts: those in use, and those of parts that are gone."""

    used: Mapping[str, str] = field(default_factory=dict)
    retired: Mapping[str, tuple[str, ...]] = field(default_factory=dict)  # a part may have had several


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
        {
            str(name): tuple(str(mark) for mark in (marks if isinstance(marks, list) else [marks]))
            for name, marks in retired.items()
        },
    )


def write_marks(marks: KeptMarks) -> bytes:
    """Give the file's bytes."""
    table = {
        "used": dict(marks.used),
        "retired": {name: list(gone) for name, gone in marks.retired.items()},
    }
    return (json.dumps(table, indent=1, ensure_ascii=False) + "\n").encode()


def assign_marks(names: Iterable[str], typed: Mapping[str, str], kept: KeptMarks) -> KeptMarks:
    """Give each part name its mark: the maker's own, else the one it had, else the next free letter.

    ``names`` come in build order.
    """
    wanted = list(dict.fromkeys(names))
    used = {name: typed[name] for name in wanted if name in typed}
    taken = set(used.values()) | {mark for marks in kept.retired.values() for mark in marks}
    for name in wanted:
        had = (*([kept.used[name]] if name in kept.used else []), *reversed(kept.retired.get(name, ())))
        free_again = [mark for mark in had if mark not in used.values()]
        if name not in used and free_again:
            used[name] = free_again[0]
    taken |= set(used.values()) | set(kept.used.values())
    free = (mark for mark in _letters() if mark not in taken)
    for name in wanted:
        if name not in used:
            used[name] = next(free)
    retired = {
        name: tuple(
            mark
            for mark in dict.fromkeys(
                (*kept.retired.get(name, ()), *([kept.used[name]] if name in kept.used else []))
            )
            if mark not in used.values()
        )
        for name in sorted({*kept.retired, *kept.used})
    }
    return KeptMarks(
        {name: used[name] for name in wanted}, {name: marks for name, marks in retired.items() if marks}
    )


def _letters() -> Iterable[str]:
    for length in count(1):
        for letters in product(LETTERS, repeat=length):
            yield "".join(letters)


def with_marks(design: Design, marks: KeptMarks) -> Design:
    """Give the design with its parts marked; a pair shares a letter, ``A-L`` and ``A-R``."""
    suffix = {None: "", "left": "-L", "right": "-R"}
    parts = []
    for part in design.parts:
        number = part.key.removeprefix(part.name).strip() if part.hand is None else ""
        own = marks.used.get(mark_name(part))
        mark = own if own is not None else marks.used[part.name] + number
        parts.append(replace(part, mark=mark + suffix[part.hand]))
    return replace(design, parts=tuple(parts))


def mark_name(part: Part) -> str:
    """The name under which a part's mark is kept: a pair has one, copies that are not alike one each."""
    return part.name if part.hand is not None else part.key


def mark_names(design: Design) -> tuple[str, ...]:
    """The names that need a mark, in the design's order."""
    return tuple(dict.fromkeys(mark_name(part) for part in design.parts))


def check_typed_marks(parts: Mapping[str, PartEntry], findings: Findings) -> dict[str, str]:
    """Give the marks that the maker typed, by part; report those that are no mark, or another part's."""
    typed: dict[str, str] = {}
    for name, entry in parts.items():
        if entry.mark is None:
            continue
        mark = str(entry.mark)
        if not re.fullmatch(r"[A-Za-z0-9]{1,4}", mark):
            findings.error(
                "bad-mark",
                f"`{mark}` is no mark",
                entry.mark.place,
                "write one to four letters or figures, such as `A`",
                part=name,
            )
        elif mark in typed.values():
            other = next(other for other, taken in typed.items() if taken == mark)
            findings.error(
                "mark-taken",
                f"`{name}` and `{other}` have the same mark",
                entry.mark.place,
                "give each part a mark of its own",
                part=name,
            )
        else:
            typed[name] = mark
    return typed

"""The booklet's fixed words: labels, heads and signs' names, from ``words.toml`` of the templates."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from plangen.findings import Finding, ProjectError

_HOLE = re.compile(r"\{([a-z_]+)\}")


@dataclass(frozen=True)
class Words:
    """Words by their name; ``words("step of", n=7, total=24)`` fills the holes ``{n}`` and ``{total}``."""

    table: Mapping[str, Any]

    def __call__(self, name: str, /, **values: object) -> str:
        """Give the words of a name with its holes filled; a missing name or hole is a finding."""
        text = self.table.get(name)
        if not isinstance(text, str):
            raise _trouble(
                "missing-words",
                f"words.toml has no text named '{name}'",
                "add it, with the sentence to print",
            )

        def fill(hole: re.Match[str]) -> str:
            if hole[1] not in values:
                raise _trouble(
                    "unknown-hole",
                    f"'{name}' in words.toml asks for {{{hole[1]}}}",
                    f"it can ask for {', '.join('{' + key + '}' for key in values) or 'nothing'}",
                )
            return str(values[hole[1]])

        return _HOLE.sub(fill, text)

    def spelled(self, number: int) -> str:
        """Give a small number in words, a large one in figures."""
        names = self.table.get("numbers", [])
        return str(names[number]) if 0 <= number < len(names) else str(number)

    def day(self, day: date | None) -> str:
        """Give a date in words; empty without one."""
        if day is None:
            return ""
        months = self.table.get("months")
        if not isinstance(months, list) or len(months) != 12:
            raise _trouble(
                "missing-words", "words.toml has no list of twelve 'months'", "add their names in order"
            )
        return self("date", day=day.day, month=months[day.month - 1], year=day.year)

    def steps(self, numbers: tuple[int, ...]) -> str:
        """Give step numbers as a list: ``Step 3``, ``Steps 3, 4 and 7``, or a dash."""
        if not numbers:
            return "–"
        return self(
            "one step" if len(numbers) == 1 else "many steps", numbers=self.listed([str(n) for n in numbers])
        )

    def listed(self, items: list[str]) -> str:
        """Join items as a sentence does."""
        if len(items) < 2:
            return "".join(items)
        return f"{', '.join(items[:-1])} {self('and')} {items[-1]}"


def read_words(text: str) -> Words:
    """Read ``words.toml``; a fault in it is a finding."""
    try:
        return Words(tomllib.loads(text))
    except tomllib.TOMLDecodeError as fault:
        raise _trouble(
            "template-fault", f"words.toml cannot be read: {fault}", "see the line it names"
        ) from fault


def _trouble(kind: str, message: str, remedy: str) -> ProjectError:
    return ProjectError([Finding(kind, message, None, remedy)])

"""Names, numbers and texts that an SVG file may hold."""

from __future__ import annotations

import re
from collections.abc import Iterable

# XML 1.0 (fifth edition), production 2: the characters a document may hold.
_NOT_XML = re.compile("[^\t\n\r -\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def number(value: float) -> str:
    """Give a coordinate to 0.01 mm, without zeros that say nothing."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def safe(text: str) -> str:
    """Give a text with every character that no XML file may hold replaced by U+FFFD."""
    return _NOT_XML.sub("\ufffd", text)


def slug(name: str) -> str:
    """Give a name as small letters, digits and hyphens that begins with a letter."""
    plain = re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-")
    return plain if plain[:1].isalpha() else f"x-{plain}".rstrip("-")


class Ids:
    """Gives every element of a file an id that no other has."""

    def __init__(self, taken: Iterable[str] = ()) -> None:
        self._taken = set(taken)

    def give(self, wanted: str) -> str:
        """Give the wanted id, or it with the first number that makes it new."""
        name, count = wanted, 1
        while name in self._taken:
            count += 1
            name = f"{wanted}-{count}"
        self._taken.add(name)
        return name

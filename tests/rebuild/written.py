"""Read a written sheet: the groups of its SVG file with what they say and the texts printed inside.

Nothing here, nor in the modules that rebuild a part, knows the program that drew the sheet.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from xml.etree import ElementTree

SVG = "{http://www.w3.org/2000/svg}"
KINDS = ("part", "feature", "dimension", "note")


@dataclass(frozen=True, slots=True)
class Said:
    """A group of the file: its kind, its name, its words for programs, and the texts printed in it."""

    kind: str
    key: str
    data: dict[str, str]
    texts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Sheet:
    """What a file says, in the file's order."""

    groups: tuple[Said, ...]

    def of(self, kind: str) -> tuple[Said, ...]:
        """Give the groups of a kind."""
        return tuple(group for group in self.groups if group.kind == kind)

    def called(self, key: str) -> Said:
        """Give the group of a name; one that says nothing where the file has none."""
        return next((group for group in self.groups if group.key == key), Said("", key, {}, ()))


def read_sheet(svg: bytes) -> Sheet:
    """Read an SVG file."""
    root = ElementTree.fromstring(svg)
    found: dict[str, Said] = {}
    for one in _said(root):
        before = found.get(one.key)
        found[one.key] = one if before is None else replace(before, texts=before.texts + one.texts)
    return Sheet(tuple(found.values()))


def _said(root: ElementTree.Element) -> Iterator[Said]:
    for element in root.iter(f"{SVG}g"):
        kind = element.get("class", "")
        if kind in KINDS and element.get("role") == "graphics-object":
            data = {
                name.removeprefix("data-"): value
                for name, value in element.attrib.items()
                if name.startswith("data-")
            }
            texts = tuple("".join(text.itertext()) for text in element.iter(f"{SVG}text"))
            yield Said(kind, data.pop("continues", element.get("id", "")), data, texts)

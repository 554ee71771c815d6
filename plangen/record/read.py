"""A record read back, every value checked: what comes from a file may be anything."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, TypeVar

from plangen.record.make import FORMAT
from plangen.record.model import Reading

T = TypeVar("T")
LONGEST_NUMBER = 200  # digits of an exact value; more is no length


class UnreadableRecordError(ValueError):
    """A record that is damaged or of another format; the message says which."""


@dataclass(frozen=True, slots=True)
class SeenWork:
    """An operation: what identifies it, and its named lengths."""

    kind: str
    title: str
    joint: str
    sentence: str
    shape: str
    features: tuple[tuple[tuple[str, Reading], ...], ...]


@dataclass(frozen=True, slots=True)
class SeenPart:
    """A part of an earlier build."""

    key: str
    mark: str
    name: str
    title: str
    count: int
    stock: str
    measures: tuple[tuple[str, Reading], ...]
    work: tuple[SeenWork, ...]


@dataclass(frozen=True, slots=True)
class SeenAssembly:
    """An assembly: how often it is built, and how many of each part go into one."""

    key: str
    title: str
    count: int
    pieces: tuple[tuple[str, int], ...]


@dataclass(frozen=True, slots=True)
class SeenHardware:
    """A line of the hardware bill."""

    item: str
    title: str
    size: str
    count: int


@dataclass(frozen=True, slots=True)
class SeenStep:
    """A step: ``parts``, ``hardware``, ``cautions`` and ``text`` only tell equal from different."""

    number: int
    title: str
    kind: str
    parts: tuple[tuple[str, int], ...]
    hardware: tuple[tuple[str, int], ...]
    cautions: tuple[str, ...]
    text: str


@dataclass(frozen=True, slots=True)
class SeenPage:
    """A page."""

    label: str
    chapter: str
    digest: str


@dataclass(frozen=True, slots=True)
class Seen:
    """What a comparison looks at."""

    title: str
    code: str
    revision: str
    setting: tuple[str, ...]  # edition, paper, units: pages compare only where these are alike
    units: str
    sizes: tuple[tuple[str, Reading], ...]
    overall: tuple[tuple[str, Reading], ...]
    parts: tuple[SeenPart, ...]
    hardware: tuple[SeenHardware, ...]
    joints: tuple[tuple[str, str], ...]  # name, kind
    totals: tuple[tuple[str, Reading], ...]
    assemblies: tuple[SeenAssembly, ...]
    moving: tuple[tuple[str, Reading], ...]  # ends of motions, and the sizes of positions
    steps: tuple[SeenStep, ...]
    pages: tuple[SeenPage, ...]


def read_record(data: bytes | None) -> dict[str, Any] | None:
    """Read the file of an earlier build; None without one, an empty record for a damaged one."""
    if data is None:
        return None
    try:
        record = json.loads(data)
    except (ValueError, RecursionError):
        return {}
    return record if isinstance(record, dict) else {}


def seen(record: object) -> Seen:
    """Check a record and give what is compared; raises UnreadableRecordError."""
    top = _Entry(record, "the record")
    found = top.get("format")
    if isinstance(found, bool) or not isinstance(found, int):
        raise UnreadableRecordError("it does not say its format")
    if found != FORMAT:
        raise UnreadableRecordError(f"it is of format {str(found)[:20]}, and this program compares {FORMAT}")
    project, edition = top.entry("project"), top.entry("edition")
    units = edition.text("units")
    return Seen(
        title=project.text("title"),
        code=project.text("code"),
        revision=project.text("revision"),
        setting=(edition.text("edition"), edition.text("paper"), units),
        units=units,
        sizes=tuple((name, _reading(entry)) for name, entry in top.entry("sizes").members()),
        overall=top.each("overall", _measure),
        parts=top.each("parts", _part),
        hardware=top.each("hardware", _hardware),
        joints=top.each("joints", lambda entry: (entry.text("name"), entry.text("title"))),
        totals=top.each("totals", _measure),
        assemblies=top.each("assemblies", _assembly, optional=True),
        moving=(*_moving(top, "motions", "joint"), *_moving(top, "positions", "title")),
        steps=top.each("steps", _step),
        pages=top.each("pages", _page),
    )


@dataclass(frozen=True, slots=True)
class _Entry:
    """A part of the record that should be a table, with the words for where it stands."""

    value: object
    where: str

    def get(self, name: str) -> object:
        if not isinstance(self.value, dict):
            raise UnreadableRecordError(f"{self.where} is not a table")
        return self.value.get(name)

    def entry(self, name: str) -> _Entry:
        found = self.get(name)
        if not isinstance(found, dict):
            raise UnreadableRecordError(f"{self.where} has no table '{name}'")
        return _Entry(found, f"'{name}'")

    def members(self) -> tuple[tuple[str, _Entry], ...]:
        if not isinstance(self.value, dict):
            raise UnreadableRecordError(f"{self.where} is not a table")
        return tuple((str(name), _Entry(value, f"'{name}'")) for name, value in self.value.items())

    def each(self, name: str, read: Callable[[_Entry], T], *, optional: bool = False) -> tuple[T, ...]:
        found = self.get(name)
        if found is None and optional:
            return ()
        if not isinstance(found, list):
            raise UnreadableRecordError(f"{self.where} has no list '{name}'")
        return tuple(read(_Entry(value, f"an entry of '{name}'")) for value in found)

    def text(self, name: str) -> str:
        found = self.get(name)
        if not isinstance(found, str):
            raise UnreadableRecordError(f"{self.where} has no words for '{name}'")
        return found

    def count(self, name: str) -> int:
        found = self.get(name)
        if isinstance(found, bool) or not isinstance(found, int):
            raise UnreadableRecordError(f"{self.where} has no number for '{name}'")
        return found

    def words(self, name: str) -> tuple[str, ...]:
        found = self.get(name)
        if not isinstance(found, list) or not all(isinstance(word, str) for word in found):
            raise UnreadableRecordError(f"{self.where} has no list of words for '{name}'")
        return tuple(found)

    def fraction(self, name: str) -> Fraction:
        text = self.text(name)
        try:
            if len(text) > LONGEST_NUMBER or "e" in text.lower():
                raise ValueError(text)
            return Fraction(text)
        except (ValueError, ZeroDivisionError):
            raise UnreadableRecordError(f"{self.where} has no exact number for '{name}'") from None


def _reading(entry: _Entry) -> Reading:
    return Reading(entry.text("printed"), entry.fraction("exact"), entry.get("mm") is not None)


def _measure(entry: _Entry) -> tuple[str, Reading]:
    return entry.text("name"), _reading(entry)


def _moving(top: _Entry, name: str, title: str) -> tuple[tuple[str, Reading], ...]:
    """Read the measures of motions or positions, each under what it belongs to; older records have none."""
    found = top.each(
        name,
        lambda entry: tuple(
            (f"{entry.text(title)}, {measure}", reading)
            for measure, reading in entry.each("measures", _measure)
        ),
        optional=True,
    )
    return tuple(measure for some in found for measure in some)


def _assembly(entry: _Entry) -> SeenAssembly:
    pieces = entry.each("pieces", lambda use: (use.text("part"), use.count("count")))
    return SeenAssembly(entry.text("key"), entry.text("title"), entry.count("count"), pieces)


def _part(entry: _Entry) -> SeenPart:
    return SeenPart(
        key=entry.text("key"),
        mark=entry.text("mark"),
        name=entry.text("name"),
        title=entry.text("title"),
        count=entry.count("count"),
        stock=entry.text("stock"),
        measures=entry.each("measures", _measure),
        work=entry.each("operations", _work),
    )


def _work(entry: _Entry) -> SeenWork:
    joint = entry.get("joint")
    return SeenWork(
        kind=entry.text("kind"),
        title=entry.text("title"),
        joint=joint if isinstance(joint, str) else "",
        sentence=entry.text("sentence"),
        shape=entry.text("shape"),
        features=entry.each("features", lambda feature: feature.each("measures", _measure)),
    )


def _hardware(entry: _Entry) -> SeenHardware:
    return SeenHardware(entry.text("item"), entry.text("title"), entry.text("size"), entry.count("count"))


def _step(entry: _Entry) -> SeenStep:
    return SeenStep(
        number=entry.count("number"),
        title=entry.text("title"),
        kind=entry.text("kind"),
        parts=entry.each("parts", lambda use: (use.text("part"), use.count("count"))),
        hardware=entry.each("hardware", lambda use: (use.text("item"), use.count("count"))),
        cautions=entry.words("cautions"),
        text=entry.text("digest"),
    )


def _page(entry: _Entry) -> SeenPage:
    return SeenPage(entry.text("label"), entry.text("chapter"), entry.text("digest"))

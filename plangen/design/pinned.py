"""Copies as they are typed: their pins, merged along ``same as``; their rows; how they lie."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from plangen.description.model import (
    AssemblyEntry,
    AssemblyPinsEntry,
    LeanEntry,
    PartEntry,
    PinsEntry,
    SpreadEntry,
)
from plangen.design.placing import Copied, InRow, Mirrored, mirrored_lean, quarter_turn
from plangen.design.values import meant
from plangen.expressions import Centring, Expression, Text
from plangen.findings import Findings, Place
from plangen.joinery.space import AXIS_WORDS, IDENTITY_TURN, Axis, Side
from plangen.joinery.transform import Turn, after, mirroring

MOST_COPIES = 200  # of one row
_Merged = tuple[dict[Side, Expression], dict[Axis, Centring], Mirrored | None, dict[str, Place]]


_BLANK = PartEntry(place_={})  # what an assembly has instead of a part's own values


class Pinned:
    """The copies as typed, by the name that has the pins; rows by the names of their single copies too."""

    def __init__(
        self, parts: Mapping[str, PartEntry], assemblies: Mapping[str, AssemblyEntry], findings: Findings
    ) -> None:
        self.parts = parts
        self.assemblies = assemblies
        self.findings = findings
        self.raw: dict[str, tuple[str, PinsEntry]] = {}
        for placed in (parts, assemblies):
            for kind, entry in placed.items():
                for name, pins in entry.place_.items():
                    self.raw[name] = (kind, pins)
        self.spreads = {
            name: spread for name in self.raw if (spread := self._spread(name, (name,))) is not None
        }
        self.rows: dict[str, list[str]] = {
            name: _row_names(name, spread, findings) for name, spread in self.spreads.items()
        }
        self.row_of = {single: name for name, singles in self.rows.items() for single in singles}

    def copies(self, name: str) -> list[Copied]:
        """The copy of a name, or the copies of its row; none when something is wrong with it."""
        part, pins = self.raw[name]
        nested = self.assemblies.get(part)
        entry = self.parts[part] if nested is None else _BLANK
        lies = _lies(part, entry, self.findings) if nested is None else (Axis.ACROSS, Axis.DEEP, Axis.UP)
        merged = self._merge(name, (name,)) if lies is not None else None
        if lies is None or merged is None:
            return []
        sides, centred, mirrored, places = merged
        way = self._way(name, (name,))
        runs, wide, thick = (_carried(way, axis) for axis in lies)
        copied = Copied(
            name, part, entry, sides, centred, mirrored, None, runs, wide, thick, way, pins.place, places
        )
        copied = replace(
            copied,
            lean=self._lean(name),
            stretch=pins.stretch,
            nested=nested,
            given=self._given(name) if nested is not None else {},
        )
        spread = self.spreads.get(name)
        if spread is None:
            return [copied]
        singles = self.rows[name]
        return [
            replace(copied, name=single, row=InRow(spread, index, len(singles)))
            for index, single in enumerate(singles)
        ]

    def _spread(self, name: str, seen: tuple[str, ...]) -> SpreadEntry | None:
        """The row that a name stands for: its own, or one like that of the row it is the same as."""
        pins = self.raw[name][1]
        other = str(pins.same_as)
        if pins.spread is not None or pins.same_as is None or other in seen or other not in self.raw:
            return pins.spread
        found = self._spread(other, (*seen, name))
        # A row of its own: its copies are named after it, whatever those of the other are called.
        return found.model_copy(update={"names": None}) if found is not None else None

    def _merge(self, name: str, seen: tuple[str, ...]) -> _Merged | None:
        """The pins of a copy over those of the copy it is the same as."""
        pins = self.raw[name][1]
        sides = {side: getattr(pins, side.word) for side in Side if getattr(pins, side.word) is not None}
        centred = {axis: getattr(pins, axis.word) for axis in Axis if getattr(pins, axis.word) is not None}
        places = {key: pins.place_of(key) for key in (*(s.word for s in sides), *(a.word for a in centred))}
        mirrored = None
        if pins.mirror_of is not None:
            other = self._known(pins.mirror_of)
            if other is None:
                return None
            plane = pins.plane
            axis = AXIS_WORDS[str(plane.axis)] if plane is not None else Axis.ACROSS
            mirrored = Mirrored(
                other, axis, plane.at if plane is not None else None, pins.place_of("mirror_of")
            )
        elif pins.plane is not None:
            self.findings.error(
                "missing-key",
                f"`{name}` has a plane and is no mirror image",
                pins.place_of("plane"),
                "add `mirror of:` and the copy to mirror, or take `plane` out",
            )
        if pins.same_as is None:
            return sides, centred, mirrored, places
        other = self._known(pins.same_as, row=name in self.rows)
        if other is None:
            return None
        if other in seen:
            self.findings.error(
                "cycle",
                "these are the same as each other in a ring: " + " → ".join((*seen, other)),
                pins.same_as.place,
                "give one of them pins of its own",
            )
            return None
        base = self._merge(self.row_of.get(other, other), (*seen, other))
        if base is None:
            return None
        said = {side.axis for side in sides} | set(centred)
        for side, expression in base[0].items():
            if side.axis not in said:
                sides[side] = expression
                places[side.word] = base[3][side.word]
        for axis, centring in base[1].items():
            if axis not in said:
                centred[axis] = centring
                places[axis.word] = base[3][axis.word]
        return sides, centred, mirrored or base[2], places

    def _follows(self, name: str) -> str | None:
        """The copy that one is the same as or mirrors, by the name that has the pins."""
        pins = self.raw[name][1]
        followed = pins.mirror_of if pins.mirror_of is not None else pins.same_as
        known = self.row_of.get(str(followed), str(followed))
        return known if followed is not None and known in self.raw else None

    def _lean(self, name: str, seen: tuple[str, ...] = ()) -> LeanEntry | None:
        """How a copy leans: its own way, or that of the one it follows, seen in the same mirror."""
        pins = self.raw[name][1]
        found = pins.lean
        followed = self._follows(name)
        if found is not None or followed is None or followed in seen:
            return found
        found = self._lean(followed, (*seen, name))
        if found is None or pins.mirror_of is None:
            return found
        axis = AXIS_WORDS[str(pins.plane.axis)] if pins.plane is not None else Axis.ACROSS
        return mirrored_lean(found, axis)

    def _given(self, name: str, seen: tuple[str, ...] = ()) -> dict[str, Expression]:
        """What a copy of an assembly is given: its own values, those of the copy it follows, the usual."""
        kind, pins = self.raw[name]
        assert isinstance(pins, AssemblyPinsEntry)
        followed = self._follows(name)
        base = dict(self.assemblies[kind].given)
        if followed is not None and followed not in seen and self.raw[followed][0] == kind:
            base = self._given(followed, (*seen, name))
        for key in pins.given:
            if key not in base:
                self.findings.error(
                    "undefined-name",
                    f"`{kind}` is given no `{key}`",
                    key.place if isinstance(key, Text) else pins.place_of("given"),
                    meant(key, base, f"list it under `given` of `{kind}`, with a usual value"),
                )
        return {key: pins.given.get(key, value) for key, value in base.items()}

    def _way(self, name: str, seen: tuple[str, ...]) -> Turn:
        """How the part is turned and mirrored to stand as this copy: the copy it follows, then its own words.

        ``turned`` takes the place of the turn that is followed; a mirror image is one of how the other
        copy stands.
        """
        name = self.row_of.get(name, name)
        pins = self.raw[name][1]
        followed = pins.mirror_of if pins.mirror_of is not None else pins.same_as
        way = IDENTITY_TURN
        if pins.turned is not None:
            way = quarter_turn(pins.turned)
        elif followed is not None and str(followed) not in seen:
            known = self.row_of.get(str(followed), str(followed))
            way = self._way(known, (*seen, str(followed))) if known in self.raw else way
        if pins.mirror_of is not None:
            axis = AXIS_WORDS[str(pins.plane.axis)] if pins.plane is not None else Axis.ACROSS
            way = after(mirroring(axis), way)
        return way

    def _known(self, name: Text, *, row: bool = False) -> str | None:
        """A copy by its name, or with ``row`` a whole row; None, with a finding, for another name."""
        if str(name) in self.row_of or (str(name) in self.raw and (row or str(name) not in self.rows)):
            return str(name)
        singles = self.rows.get(str(name))
        if singles:
            self.findings.error(
                "undefined-name",
                f"`{name}` is a row of {len(singles)} copies",
                name.place,
                "say which: " + ", ".join(f"`{single}`" for single in singles[:8]),
            )
            return None
        known = [*(raw for raw in self.raw if raw not in self.rows), *self.row_of]
        self.findings.error(
            "undefined-name",
            f"there is no copy called `{name}`",
            name.place,
            meant(str(name), known, "name a copy that is placed"),
        )
        return None


def _carried(way: Turn, axis: Axis) -> Axis:
    return next(Axis(row) for row in range(3) if way[row][axis.value])


def _lies(part: str, entry: PartEntry, findings: Findings) -> tuple[Axis, Axis, Axis] | None:
    """The directions of length, width and thickness, as the part is described."""
    missing = [key for key in ("stock", "runs", "thick") if getattr(entry, key) is None]
    for key in missing if entry.like is None else ():  # what it is like says it, or is reported itself
        remedy = {
            "stock": "name a stock",
            "runs": "say which way the grain runs: across, deep or up",
            "thick": "say which way the thickness lies: across, deep or up",
        }[key]
        findings.error(
            "missing-key",
            f"`{part}` does not say its `{key}`",
            entry.place,
            f"add `{key}:` — {remedy}",
            part=part,
        )
    if entry.runs is None or entry.thick is None or missing:
        return None
    runs, thick = AXIS_WORDS[entry.runs], AXIS_WORDS[entry.thick]
    if runs is thick:
        findings.error(
            "runs-and-thick",
            f"`{part}` runs and is thick in the same direction",
            entry.place_of("thick"),
            "name two different directions",
            part=part,
        )
        return None
    return runs, next(axis for axis in Axis if axis not in (runs, thick)), thick


def _row_names(name: str, spread: SpreadEntry, findings: Findings) -> list[str]:
    number = spread.number
    if number is None:
        findings.error(
            "missing-key", "a spread needs the number of its copies", spread.place, "add `number: 5`"
        )
        return []
    if not 1 <= number <= MOST_COPIES:
        findings.error(
            "spread",
            f"a spread has between 1 and {MOST_COPIES} copies",
            spread.place_of("number"),
            "check the number",
        )
        return []
    names = [str(text) for text in spread.names or ()] or [f"{name} {i + 1}" for i in range(number)]
    if len(names) != number or len(set(names)) != number:
        findings.error(
            "spread",
            f"{len(set(names))} names for {number} copies",
            spread.place_of("names"),
            "give each copy one name of its own",
        )
        return []
    return names

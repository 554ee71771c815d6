"""What a copy is before anything is solved; parts that are like others."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TypeVar

from plangen.description.model import (
    AssemblyEntry,
    LeanEntry,
    PartEntry,
    SpreadEntry,
    StretchEntry,
)
from plangen.design.values import meant
from plangen.expressions import Centring, Expression, QuarterTurn, Text
from plangen.findings import Findings, Place
from plangen.joinery.space import AXIS_WORDS, IDENTITY_TURN, SIDE_WORDS, Axis, Side
from plangen.joinery.transform import Turn


@dataclass(frozen=True)
class Mirrored:
    """Placed as the mirror image of another copy."""

    of: str
    axis: Axis
    at: Expression | None  # None: not said
    place: Place


@dataclass(frozen=True)
class InRow:
    """One of several at equal gaps; ``index`` counts from 0."""

    spread: SpreadEntry
    index: int
    number: int

    @property
    def axis(self) -> Axis:
        """The direction the row goes."""
        return AXIS_WORDS[self.spread.going]


@dataclass(frozen=True)
class Copied:
    """One copy before anything is solved: its pins by side and axis.

    ``runs``, ``wide`` and ``thick`` are the directions of the frame in which this copy lies; ``way``
    is how the maker turned or mirrored the part to place it, before it is moved. A copy of an
    assembly is ``nested``; ``part`` is the assembly's name and ``entry`` says nothing.
    """

    name: str
    part: str
    entry: PartEntry
    pins: Mapping[Side, Expression]
    centred: Mapping[Axis, Centring]
    mirrored: Mirrored | None
    row: InRow | None
    runs: Axis
    wide: Axis
    thick: Axis
    way: Turn
    place: Place
    place_of: Mapping[str, Place]
    lean: LeanEntry | None = None
    stretch: StretchEntry | None = None
    nested: AssemblyEntry | None = None
    given: Mapping[str, Expression] = field(default_factory=dict)

    def pinned(self, axis: Axis) -> bool:
        """Whether anything is said of an axis."""
        in_row = self.row is not None and self.row.axis is axis
        sides = (Side.of(axis, False), Side.of(axis, True))
        return in_row or axis in self.centred or any(side in self.pins for side in sides)

    def measure(self, axis: Axis) -> str:
        """The key of the size along an axis: length, width or thickness."""
        if self.nested is not None:
            return "size"
        return {self.runs: "length", self.wide: "width", self.thick: "thickness"}[axis]


def quarter_turn(turned: QuarterTurn) -> Turn:
    """Give the turn: positive is anticlockwise seen from the right, the front or above."""
    # The axis that turns onto the other for a quarter turn: right to back, right to top, back to top.
    from_axis, to_axis = {
        Axis.UP: (Axis.ACROSS, Axis.DEEP),
        Axis.DEEP: (Axis.ACROSS, Axis.UP),
        Axis.ACROSS: (Axis.DEEP, Axis.UP),
    }[AXIS_WORDS[turned.axis]]
    rows = [list(row) for row in IDENTITY_TURN]
    for _ in range(turned.degrees // 90 % 4):
        rows[from_axis.value], rows[to_axis.value] = (
            [-value for value in rows[to_axis.value]],
            rows[from_axis.value],
        )
    first, second, third = rows
    return (first[0], first[1], first[2]), (second[0], second[1], second[2]), (third[0], third[1], third[2])


Alike = TypeVar("Alike", PartEntry, AssemblyEntry)


def resolve_like(
    parts: Mapping[str, Alike], findings: Findings, what: str = "part", holding: tuple[str, ...] = ()
) -> dict[str, Alike]:
    """Fill parts, or assemblies, that are ``like`` another with that one's values.

    ``holding`` names the assemblies that these stand in; none of those may stand in itself.
    """
    done: dict[str, Alike] = {}

    def resolve(name: str, seen: tuple[str, ...]) -> Alike:
        entry = parts[name]
        if entry.like is None or name in done:
            return done.get(name, entry)
        base_name = str(entry.like)
        if base_name in holding:
            findings.error(
                "assembly-in-itself",
                f"`{name}` stands in `{base_name}` and is like it, so it would hold itself without end",
                entry.like.place,
                "let it be like an assembly outside this one",
            )
            return entry
        if base_name in seen or base_name not in parts:
            ring = base_name in seen
            findings.error(
                "undefined-name",
                f"`{name}` is like `{base_name}`, which is " + ("like it in turn" if ring else f"no {what}"),
                entry.like.place,
                f"name another {what}" if ring else meant(base_name, parts, f"name another {what}"),
            )
            return entry
        base = resolve(base_name, (*seen, name))
        own = entry.model_fields_set | {"mark", "place_", "like"}
        filled = {key: getattr(base, key) for key in base.model_fields_set if key not in own}
        done[name] = entry.model_copy(update=filled)
        return done[name]

    for name in parts:
        done[name] = resolve(name, (name,))
    return done


def mirrored_lean(lean: LeanEntry, axis: Axis) -> LeanEntry:
    """Give the lean of the mirror image."""

    def swapped(word: str) -> str:
        side = SIDE_WORDS[word]
        return (side.opposite if side.axis is axis else side).word

    moved = {
        swapped(side.word): {Text(swapped(str(way))): angle for way, angle in ways.items()}
        for side in Side
        if (ways := getattr(lean, side.word)) is not None
    }
    return lean.model_copy(update={side.word: moved.get(side.word) for side in Side})

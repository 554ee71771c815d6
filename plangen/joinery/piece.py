"""A piece as it stands in the frame while operations and joints are worked out on it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from typing import Final, Literal

from plangen.expressions import Scope
from plangen.findings import Findings, Place
from plangen.joinery.hardware.ware import Ware
from plangen.joinery.space import SIDE_WORDS, Axis, Box, Side
from plangen.units import Length, inches, millimetres

# Percent of moisture content between seasons, unless the shop says: common practice, no source.
USUAL_CHANGE: Final = Fraction(4)


@dataclass(frozen=True, slots=True)
class Piece:
    """One copy: its finished box, its shoulders, and how it lies."""

    copy: str
    part: str
    finished: Box
    shoulders: Box
    runs: Axis
    wide: Axis
    thick: Axis
    solid: bool  # solid wood, as against a sheet
    hard: bool  # hardwood
    inside: Side | None
    place: Place
    species: str = ""  # of solid wood, as the maker named it

    def face(self, word: str) -> Side | None:
        """The side that a word means here; None for ``inside`` on a piece that has none."""
        if word == "inside":
            return self.inside
        if word == "outside":
            return self.inside.opposite if self.inside else None
        return SIDE_WORDS[word]

    def call(self, side: Side) -> str:
        """What a woodworker calls a side: ``inside face``, ``back edge``, ``top end``."""
        if side.axis is self.thick:
            # Left and right stand on edge, and their faces look in and out; other faces have plain names.
            if self.inside is not None and self.thick is Axis.ACROSS:
                return "inside face" if side is self.inside else "outside face"
            return f"{side.word} face"
        return f"{side.word} end" if side.axis is self.runs else f"{side.word} edge"


@dataclass(frozen=True, slots=True)
class Fastener:
    """What a joint has to know of a piece of hardware."""

    name: str
    kind: str
    title: str
    gauge: int | None
    diameter: Length | None
    length: Length | None
    head: str
    bore: Length | None
    depth: Length | None
    ware: Ware | None = None  # where its kind has sizes, cuts and a shape of its own
    width: Length | None = None  # of what is not round
    thickness: Length | None = None

    @property
    def countersinks(self) -> bool:
        """Whether its head is let in flush: a screw with a flat or oval head, or none named."""
        return "screw" in self.kind and self.head in ("", "flat", "oval")


@dataclass(frozen=True, slots=True)
class Bench:
    """What operations and joints work with: values, hardware, and where findings go.

    ``stocked`` are the names under ``stock``; ``moisture_change`` is by how many percent the moisture
    of wood changes between seasons.
    """

    scope: Scope
    findings: Findings
    fastener: Callable[[str], Fastener | None]
    units: Literal["inch", "mm"]
    stocked: tuple[str, ...] = ()
    moisture_change: Fraction = USUAL_CHANGE

    def round_up(self, length: Length) -> Length:
        """Round up to what a tape shows: 1/16 in or 1 mm."""
        step = self.step
        return step * -(-length.mm // step.mm)

    def nearest(self, length: Length) -> Length:
        """Round to what a tape shows: 1/16 in or 1 mm."""
        step = self.step
        return step * int(length.mm / step.mm + (1 if length.mm >= 0 else -1) * Fraction(1, 2))

    @property
    def step(self) -> Length:
        """The finest mark of a shop tape in the project's units."""
        return inches("1/16") if self.units == "inch" else millimetres(1)

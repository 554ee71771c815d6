"""Words with lengths in them, kept apart from any unit system until an edition prints them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeAlias

from plangen.units.length import Length
from plangen.units.printing import LengthStyle, print_length, print_reading


@dataclass(frozen=True, slots=True)
class TradeSize:
    """A size that has a name of its own where inches are used: a screw's No. 8, a board's 4/4."""

    name: str
    length: Length

    def text(self, style: LengthStyle, *, unit: bool = True) -> str:
        """Print the name, or in millimetres what it measures."""
        return print_reading(self.length, style, unit=unit) if style.system == "mm" else self.name


@dataclass(frozen=True, slots=True)
class Reading:
    """A length that a caliper reads, such as the thickness of a sheet: 0.236 in, not the nearest fraction."""

    length: Length

    def text(self, style: LengthStyle, *, unit: bool = True) -> str:
        """Print it by ``print_reading``."""
        return print_reading(self.length, style, unit=unit)


@dataclass(frozen=True, slots=True)
class EachWay:
    """Words that differ between inch and metric editions, such as an area with its unit.

    An edition in both systems has the inch words first and the metric ones in parentheses after them.
    """

    inch: str
    metric: str

    def text(self, style: LengthStyle, *, unit: bool = True) -> str:
        """Give the words of the style; their units are part of them."""
        if style.system == "both":
            return f"{self.inch} ({self.metric})" if self.inch and self.metric else self.inch or self.metric
        return self.metric if style.system == "mm" else self.inch


Piece: TypeAlias = str | Length | TradeSize | Reading | EachWay


@dataclass(frozen=True, slots=True)
class Phrase:
    """A sentence or note whose lengths are still exact."""

    pieces: tuple[Piece, ...] = ()

    def text(self, style: LengthStyle, *, unit: bool = True) -> str:
        """Print the phrase; ``unit`` says whether each length names its unit (prose does)."""
        return "".join(_printed(piece, style, unit) for piece in self.pieces)

    def read(self) -> Phrase:
        """Give it with every length printed as a caliper reads it: sizes of what is bought, not cut."""
        return Phrase(tuple(Reading(one) if isinstance(one, Length) else one for one in self.pieces))

    def __add__(self, other: Phrase) -> Phrase:
        return Phrase(self.pieces + other.pieces)

    def __bool__(self) -> bool:
        return bool(self.pieces)


def _printed(piece: Piece, style: LengthStyle, unit: bool) -> str:
    if isinstance(piece, str):
        return piece
    return (
        print_length(piece, style, unit=unit) if isinstance(piece, Length) else piece.text(style, unit=unit)
    )


def phrase(*pieces: Piece | Phrase) -> Phrase:
    """Join words, lengths and phrases into one phrase."""
    flat: list[Piece] = []
    for piece in pieces:
        if isinstance(piece, Phrase):
            flat.extend(piece.pieces)
        else:
            flat.append(piece)
    return Phrase(tuple(flat))


def listed(words: Sequence[str]) -> str:
    """Join words as a sentence does: ``a, b and c``."""
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}" if words else ""

"""Words with lengths in them, kept apart from any unit system until an edition prints them."""

from __future__ import annotations

from dataclasses import dataclass

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
class Phrase:
    """A sentence or note whose lengths are still exact."""

    pieces: tuple[str | Length | TradeSize, ...] = ()

    def text(self, style: LengthStyle, *, unit: bool = True) -> str:
        """Print the phrase; ``unit`` says whether each length names its unit (prose does)."""
        return "".join(_printed(piece, style, unit) for piece in self.pieces)

    def __add__(self, other: Phrase) -> Phrase:
        return Phrase(self.pieces + other.pieces)

    def __bool__(self) -> bool:
        return bool(self.pieces)


def _printed(piece: str | Length | TradeSize, style: LengthStyle, unit: bool) -> str:
    if isinstance(piece, str):
        return piece
    return (
        print_length(piece, style, unit=unit) if isinstance(piece, Length) else piece.text(style, unit=unit)
    )


def phrase(*pieces: str | Length | TradeSize | Phrase) -> Phrase:
    """Join words, lengths and phrases into one phrase."""
    flat: list[str | Length | TradeSize] = []
    for piece in pieces:
        if isinstance(piece, Phrase):
            flat.extend(piece.pieces)
        else:
            flat.append(piece)
    return Phrase(tuple(flat))

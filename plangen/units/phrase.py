"""Words with lengths in them, kept apart from any unit system until an edition prints them."""

from __future__ import annotations

from dataclasses import dataclass

from plangen.units.length import Length
from plangen.units.printing import LengthStyle, print_length


@dataclass(frozen=True, slots=True)
class Phrase:
    """A sentence or note whose lengths are still exact."""

    pieces: tuple[str | Length, ...] = ()

    def text(self, style: LengthStyle, *, unit: bool = True) -> str:
        """Print the phrase; ``unit`` says whether each length names its unit (prose does)."""
        return "".join(
            print_length(piece, style, unit=unit) if isinstance(piece, Length) else piece
            for piece in self.pieces
        )

    def __add__(self, other: Phrase) -> Phrase:
        return Phrase(self.pieces + other.pieces)

    def __bool__(self) -> bool:
        return bool(self.pieces)


def phrase(*pieces: str | Length | Phrase) -> Phrase:
    """Join words, lengths and phrases into one phrase."""
    flat: list[str | Length] = []
    for piece in pieces:
        if isinstance(piece, Phrase):
            flat.extend(piece.pieces)
        else:
            flat.append(piece)
    return Phrase(tuple(flat))

"""Spare blanks: one more of the longest of each thickness, to set machines by or to cut again."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from plangen.takeoff.wanted import Wanted
from plangen.units import Length, Phrase, phrase


def with_spares(pieces: Sequence[Wanted], number: int) -> tuple[Wanted, ...]:
    """Give the pieces of one stock, and ``number`` spare blanks of each thickness after them.

    The spare is one more of the longest blank of its thickness, the widest among equally long ones, the
    first of the file among equal ones: any shorter and narrower piece can be cut from it.
    """
    if not number:
        return tuple(pieces)
    longest: dict[Length, Wanted] = {}
    for piece in pieces:
        best = longest.get(piece.net_thickness)
        if best is None or (piece.length, piece.width) > (best.length, best.width):
            longest[piece.net_thickness] = piece
    return (*pieces, *(replace(one, number=number, spare=True, together="") for one in longest.values()))


def spare_words(pieces: Sequence[Wanted]) -> Phrase:
    """Say which spare blanks are among the pieces; nothing where there are none."""
    spares = [piece for piece in pieces if piece.spare]
    if not spares:
        return Phrase()
    each = [f"{one.number} of {one.part.mark}" for one in spares]
    named = each[0] if len(each) == 1 else f"{', '.join(each[:-1])} and {each[-1]}"
    return phrase(f" Spare blanks are among the pieces: {named}.")

"""Spare blanks: one more of the longest of each thickness, to set machines by or to cut again."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from plangen.takeoff.plan_words import counted
from plangen.takeoff.wanted import Wanted
from plangen.units import Length, Phrase, listed, phrase


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
    if len(spares) == 1:
        (one,) = spares
        return phrase(f" Among the pieces {'is' if one.number == 1 else 'are'} "
                      f"{counted(one.number, 'spare blank')} of {one.part.mark}.")  # fmt: skip
    each = [f"{one.number} of {one.part.mark}" for one in spares]
    return phrase(f" Among the pieces are spare blanks: {listed(each)}.")

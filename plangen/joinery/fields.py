"""Keys that several kinds of operation share: distances inward from the part's own sides."""

from __future__ import annotations

from plangen.expressions import Entry, LengthExpr, SideWord, Whole
from plangen.findings import Place
from plangen.joinery.piece import Bench, Piece
from plangen.joinery.space import Axis, Side
from plangen.units import ZERO, Length


class FromSides(Entry):
    """``from SIDE: length``: a place measured inward from a side of the part."""

    from_left: LengthExpr | None = None
    from_right: LengthExpr | None = None
    from_front: LengthExpr | None = None
    from_back: LengthExpr | None = None
    from_bottom: LengthExpr | None = None
    from_top: LengthExpr | None = None

    def located(self, axis: Axis, piece: Piece, bench: Bench) -> tuple[Length, Side] | None:
        """The coordinate that was typed for an axis, and the side it is measured from."""
        for side in (Side.of(axis, False), Side.of(axis, True)):
            expression = getattr(self, f"from_{side.word}")
            if expression is not None:
                return piece.shoulders.side(side) - expression.length(bench.scope) * side.sign, side
        return None

    def both(self, axis: Axis, piece: Piece, bench: Bench) -> tuple[Length, Length]:
        """From one side to the other: what is typed for each end, else the end itself."""
        ends = []
        for side in (Side.of(axis, False), Side.of(axis, True)):
            expression = getattr(self, f"from_{side.word}")
            inward = expression.length(bench.scope) if expression is not None else ZERO
            ends.append(piece.shoulders.side(side) - inward * side.sign)
        return ends[0], ends[1]

    def require(self, axis: Axis, piece: Piece, bench: Bench, what: str) -> tuple[Length, Side] | None:
        """Like ``located``, with an error when nothing was typed for the axis."""
        found = self.located(axis, piece, bench)
        if found is None:
            low, high = Side.of(axis, False).word, Side.of(axis, True).word
            bench.findings.error(
                "missing-key",
                f"{what}: nothing says where it is between {low} and {high}",
                self.place,
                f"add `from {low}: …` or `from {high}: …`",
                part=piece.part,
            )
        return found


class RowOf(Entry):
    """A row of the same: how many, and how far apart."""

    number: Whole
    pitch: LengthExpr | None = None


def resolve_face(word: SideWord, piece: Piece, bench: Bench, place: Place) -> Side | None:
    """Give the side a word means; an error when the piece has no inside."""
    side = piece.face(str(word))
    if side is None:
        bench.findings.error(
            "no-inside",
            f"`{word}` says nothing here: no face of {piece.part} looks to the middle of the piece",
            place,
            "name the side: left, right, front, back, bottom or top",
            part=piece.part,
        )
    return side

"""Keys that several kinds of operation share: distances inward from the part's own sides."""

from __future__ import annotations

from plangen.expressions import Entry, Expression, LengthExpr, SideWord, Whole
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

    def both(self, axis: Axis, piece: Piece, bench: Bench) -> tuple[Length, Length]:
        """From one side to the other: what is typed for each end, else the end itself."""
        ends = []
        for side in (Side.of(axis, False), Side.of(axis, True)):
            expression = getattr(self, f"from_{side.word}")
            inward = expression.length(bench.scope) if expression is not None else ZERO
            ends.append(piece.shoulders.side(side) - inward * side.sign)
        return ends[0], ends[1]

    def open_at(self, side: Side) -> bool:
        """Whether no distance is typed for a side."""
        return getattr(self, f"from_{side.word}") is None

    def require(self, axis: Axis, piece: Piece, bench: Bench, what: str) -> tuple[Length, Side] | None:
        """The coordinate typed for an axis and the side it is measured from; an error when there is none."""
        return located(self, axis, piece, bench, what)

    def only(self, axes: tuple[Axis, ...], piece: Piece, bench: Bench, what: str) -> bool:
        """Report a distance along an axis in which it settles nothing."""
        return nothing_idle(self, axes, piece, bench, what)


def located(entry: Entry, axis: Axis, piece: Piece, bench: Bench, what: str) -> tuple[Length, Side] | None:
    """Give the coordinate typed for an axis and the side of the shoulders it is measured from.

    ``entry`` has keys ``from SIDE``. It is an error when none of the two sides is given, or both are.
    """
    sides = (Side.of(axis, False), Side.of(axis, True))
    typed = [side for side in sides if getattr(entry, f"from_{side.word}") is not None]
    if len(typed) == 1:
        expression: Expression = getattr(entry, f"from_{typed[0].word}")
        return piece.shoulders.side(typed[0]) - expression.length(bench.scope) * typed[0].sign, typed[0]
    low, high = sides[0].word, sides[1].word
    if typed:
        bench.findings.error(
            "over-located",
            f"{what}: `from {low}` and `from {high}` both say where it is",
            entry.place_of(f"from_{high}"),
            "take one of them out",
            part=piece.part,
        )
        return None
    bench.findings.error(
        "missing-key",
        f"{what}: nothing says where it is between {low} and {high}",
        entry.place,
        f"add `from {low}: …` or `from {high}: …`",
        part=piece.part,
    )
    return None


def nothing_idle(entry: Entry, axes: tuple[Axis, ...], piece: Piece, bench: Bench, what: str) -> bool:
    """Report a ``from SIDE`` along an axis other than these; give whether there is none."""
    for side in Side:
        if side.axis not in axes and getattr(entry, f"from_{side.word}") is not None:
            bench.findings.error(
                "idle-key",
                f"{what}: `from {side.word}` settles nothing here",
                entry.place_of(f"from_{side.word}"),
                "take it out, or check which face or edge is meant",
                part=piece.part,
            )
            return False
    return True


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

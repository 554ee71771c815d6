"""What a buyer looks for at the yard where other boards are offered than those of the cutting plan."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from plangen.takeoff.model import CuttingDiagram, Placed, StockPlan
from plangen.takeoff.plan_words import counted, figures
from plangen.units import ZERO, EachWay, Phrase, phrase


def yard_words(plan: StockPlan) -> Phrase:
    """Say how much board a plan takes end to end, and what its longest and widest pieces ask of the boards.

    Sizes are those that the pieces are cut to. Nothing for sheets, which come in one size.
    """
    boards = [diagram for diagram in plan.diagrams if diagram.kind == "board" and diagram.pieces]
    if not boards:
        return Phrase()
    running = sum((board.length for board in boards), ZERO)
    pieces = [piece for board in boards for piece in board.pieces]
    longest, widest = max(one.length for one in pieces), max(one.width for one in pieces)
    giving = [board for board in boards if any(one.length == longest for one in board.pieces)]
    long_marks = _marks(one for one in pieces if one.length == longest)
    wide_marks = _marks(one for one in pieces if one.width == widest)
    feet, metres = figures(running.inches / 12, 1), figures(running.mm / 1000, 2)
    return phrase(
        EachWay(f"{feet}\u00a0feet", f"{metres}\u00a0m"),
        " of board in all. ",
        _must(len(giving), boards),
        " give a clear length of ",
        longest,
        f" ({long_marks}); the widest piece is cut ",
        widest,
        f" wide ({wide_marks}).",
    )


def _must(giving: int, boards: Sequence[CuttingDiagram]) -> str:
    if len(boards) == 1:
        return "It must"
    if giving == len(boards):
        return f"All {counted(giving, 'board')} must" if giving > 2 else "Both boards must"
    return f"At least {counted(giving, 'board')} must"


def _marks(pieces: Iterable[Placed]) -> str:
    return ", ".join(dict.fromkeys(piece.mark for piece in pieces))

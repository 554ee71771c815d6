"""Plan the cutting of solid boards."""

from __future__ import annotations

from collections.abc import Sequence

from plangen.takeoff.cutting.model import Margins, Panel, Piece, Plan
from plangen.takeoff.cutting.search import search


def plan_boards(
    pieces: Sequence[Piece],
    boards: Sequence[Panel],
    kerf: int,
    ends: tuple[int, int] = (0, 0),
    rounds: int = 60,
) -> Plan:
    """Cut pieces from boards whose widths and lengths may be mixed.

    A board is crosscut to lengths that are then ripped, or, where that is cheaper, ripped first so that
    narrow pieces lie side by side. The grain runs along x; no piece turns. ``ends`` is what stays
    unused at the left and the right end. All lengths in one small unit. Raises TooLargeError.
    """
    margins = Margins(left=ends[0], right=ends[1])
    return search(pieces, boards, kerf, margins, ("x", "y"), rounds)

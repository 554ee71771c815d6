"""Plan the cutting of sheets."""

from __future__ import annotations

from collections.abc import Sequence

from plangen.takeoff.cutting.model import Margins, Panel, Piece, Plan
from plangen.takeoff.cutting.search import search


def plan_sheets(pieces: Sequence[Piece], sheet: Panel, kerf: int, trim: int = 0, rounds: int = 60) -> Plan:
    """Cut pieces from sheets of one size, at most three stages after the edges are trimmed.

    ``trim`` is taken off all four edges and holds the kerf of that cut. A piece turns only where it
    says so. All lengths in one small unit. Raises TooLargeError.
    """
    margins = Margins(trim, trim, trim, trim)
    return search(pieces, (sheet,), kerf, margins, ("y", "x"), rounds)

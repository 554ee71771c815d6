"""Pieces that are to come out of one board: of one stock, and more than one."""

from __future__ import annotations

from plangen.design.model import Design, Part
from plangen.findings import Findings
from plangen.solids import Solids


def matched_parts_share_a_board(design: Design, solids: Solids, findings: Findings) -> None:
    """Add the error ``one-board`` for other stock, the warning ``matched-alone`` for a single piece."""
    groups: dict[str, list[Part]] = {}
    for part in design.parts:
        if part.one_board:
            groups.setdefault(part.one_board, []).append(part)
    for words, parts in groups.items():
        first = parts[0]
        other = next((part for part in parts if part.stock != first.stock), None)
        if other is not None:
            findings.error(
                "one-board",
                f"{first.name} and {other.name} are to come out of one board (`{words}`), and one is of "
                f"{first.stock}, the other of {other.stock}",
                other.place,
                "give them the same stock, or other words",
                ((first.place, "the first of them"),),
                other.key,
            )
        elif sum(len(part.copies) * (part.glue_up.number if part.glue_up else 1) for part in parts) == 1:
            findings.warning(
                "matched-alone",
                f"{first.name} is the only piece of `{words}`",
                first.place,
                "give the pieces that it matches the same words after `one board`, or take the line out",
                part=first.key,
            )

"""What a saw is set to for the cuts of one board or sheet, and which boards are cut like each other."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import groupby
from typing import Literal, TypeAlias

from plangen.takeoff.model import CuttingDiagram, OffCut, Placed, SawCut
from plangen.units import Length

_Span: TypeAlias = tuple[Length, Length, Length, Length]  # low x, low y, high x, high y


@dataclass(frozen=True, slots=True)
class SawSetting:
    """Cuts that follow each other with one setting of fence, stop or rail.

    ``at`` is the distance from the fence or stop, or from the edge that was cut last. ``gives`` are the
    parts whose pieces come off, each with its mark and how many; they may need further cuts. ``kept`` are
    off-cuts that are done with it. ``trims`` says that all it takes off is an end or edge of the panel.
    """

    numbers: tuple[int, ...]  # of its cuts
    by: Literal["bench", "hand"]
    along: Literal["x", "y"]
    at: Length
    gives: tuple[tuple[str, str, int], ...]  # part key, mark, number of pieces
    kept: int
    trims: bool


def saw_settings(diagram: CuttingDiagram) -> tuple[SawSetting, ...]:
    """Give the settings of a board or sheet in the order of its cuts."""
    groups = [tuple(group) for _, group in groupby(diagram.cuts, key=lambda cut: (cut.by, cut.along, cut.at))]
    parted = [[span for cut in cuts for span in _given(diagram, cut)] for cuts in groups]
    # Whatever a cut parts off lies within what earlier ones did: the last that has an off-cut frees it.
    freed = Counter(
        max((number for number, spans in enumerate(parted) if _inside(rest, spans)), default=-1)
        for rest in diagram.off_cuts
    )
    settings = []
    for number, (cuts, spans) in enumerate(zip(groups, parted, strict=True)):
        pieces = Counter((one.part, one.mark) for one in diagram.pieces if _inside(one, spans))
        first = cuts[0]
        settings.append(
            SawSetting(
                tuple(cut.number for cut in cuts),
                first.by,
                first.along,
                first.at,
                tuple((part, mark, count) for (part, mark), count in pieces.items()),
                freed[number],
                not pieces and all(cut.position == cut.at for cut in cuts),
            )
        )
    return tuple(settings)


def _given(diagram: CuttingDiagram, cut: SawCut) -> list[_Span]:
    """Give what a cut parts off: its low side, and its high side too where no later cut goes through that."""
    end = diagram.length if cut.along == "y" else diagram.width
    walls = [
        other.position
        for other in diagram.cuts
        if other.along == cut.along
        and other.number < cut.number
        and other.position > cut.position
        and other.low <= cut.low
        and other.high >= cut.high
    ]
    high = _span(cut, cut.position, min(walls, default=end))
    found = [_span(cut, cut.position - cut.at, cut.position)]
    if not any(other.number > cut.number and _cuts(other, high) for other in diagram.cuts):
        found.append(high)
    return found


def _cuts(cut: SawCut, span: _Span) -> bool:
    """Say whether a cut goes through what lies within a span."""
    low_x, low_y, high_x, high_y = span
    if cut.along == "y":
        return low_x < cut.position < high_x and low_y <= cut.low and cut.high <= high_y
    return low_y < cut.position < high_y and low_x <= cut.low and cut.high <= high_x


def _span(cut: SawCut, start: Length, end: Length) -> _Span:
    if cut.along == "y":
        return start, cut.low, end, cut.high
    return cut.low, start, cut.high, end


def _inside(item: Placed | OffCut, spans: Sequence[_Span]) -> bool:
    """Say whether a piece or an off-cut lies in one of some spans."""
    return any(
        low_x <= item.x
        and low_y <= item.y
        and item.x + item.length <= high_x
        and item.y + item.width <= high_y
        for low_x, low_y, high_x, high_y in spans
    )


def alike(diagrams: Sequence[CuttingDiagram]) -> tuple[tuple[CuttingDiagram, ...], ...]:
    """Gather the boards or sheets that are cut in the same way, in the order in which each way comes up."""
    ways: dict[CuttingDiagram, list[CuttingDiagram]] = {}
    for diagram in diagrams:
        ways.setdefault(replace(diagram, number=0), []).append(diagram)
    return tuple(tuple(group) for group in ways.values())

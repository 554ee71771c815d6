"""Offsets of large curves: for whoever draws them on the board from figures, or proves a print by them."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from math import ceil, sqrt

from plangen.design.model import Part
from plangen.drawing.part_sheets.pattern_edges import Edge
from plangen.drawing.part_sheets.pattern_outline import FullSize
from plangen.drawing.part_sheets.pattern_words import side_name
from plangen.drawing.part_sheets.sights import Sight
from plangen.joinery.space import to_nanometre
from plangen.units import LengthStyle, print_length

LARGE = 100.0  # mm from end to end; a smaller curve needs no figures
COMPASS = 150.0  # mm; compasses draw an arc of a smaller radius; common practice, no source
NEAR = 1.0  # mm; a station nearer to an end of the curve than this says nothing new


@dataclass(frozen=True, slots=True)
class OffsetTable:
    """A curve by figures: at each distance ``along`` the board from one side, how far it is from another.

    ``rows`` hold the two as printed. ``along`` and ``over`` name the sides that they are measured from.
    """

    along: str
    over: str
    rows: tuple[tuple[str, str], ...]


def offset_tables(part: Part, sight: Sight, shape: FullSize, style: LengthStyle) -> tuple[OffsetTable, ...]:
    """Give a table for each large curve, every 25 mm or 1 in; one for curves that read the same."""
    step = 25.0 if style.system == "mm" else 25.4
    found: dict[tuple[str, tuple[tuple[str, str], ...]], list[str]] = {}
    for edge in shape.edges:
        if _is_large(edge):
            table = _table(part, sight, shape, edge, step, style)
            if table is not None:
                found.setdefault((table.along, table.rows), []).append(table.over)
    return tuple(
        OffsetTable(along, " and ".join(dict.fromkeys(over)), rows) for (along, rows), over in found.items()
    )


def _is_large(edge: Edge) -> bool:
    if edge.arc is not None and abs(edge.arc.major[0] - edge.arc.centre[0]) <= COMPASS:
        return False
    return edge.curved and edge.chord >= LARGE


def _table(
    part: Part, sight: Sight, shape: FullSize, edge: Edge, step: float, style: LengthStyle
) -> OffsetTable | None:
    low_x, low_y, high_x, high_y = edge.box
    way = 0 if high_x - low_x >= high_y - low_y else 1
    size = (shape.width, shape.height)[1 - way]
    high = (edge.box[1 - way] + edge.box[3 - way]) / 2 > size / 2
    rows = []
    for station in stations(edge.box[way], edge.box[way + 2], step):
        over = offset_at(edge, way, station)
        if over is None:
            return None
        rows.append((_said(station, style), _said(size - over if high else over, style)))
    return OffsetTable(side_name(part, sight, way, False), side_name(part, sight, 1 - way, high), tuple(rows))


def stations(low: float, high: float, step: float) -> tuple[float, ...]:
    """Give both ends of a curve and every whole step of the board between them, mm."""
    first = ceil((low + NEAR) / step)
    between = []
    while first * step < high - NEAR:
        between.append(first * step)
        first += 1
    return (low, *between, high)


def offset_at(edge: Edge, way: int, station: float) -> float | None:
    """Give the other coordinate of a curve at a station; None where it passes there twice or never.

    On an arc exactly, by Pythagoras about its centre; on a smooth line between its fine points.
    """
    found = []
    for one, two in pairwise(edge.points):
        low, high = sorted((one[way], two[way]))
        if not low - 1e-9 <= station <= high + 1e-9 or high - low < 1e-12:
            continue
        share = (station - one[way]) / (two[way] - one[way])
        found.append(one[1 - way] + (two[1 - way] - one[1 - way]) * min(1.0, max(0.0, share)))
    if not found or max(found) - min(found) > 0.1:
        return None
    chord = found[0]
    if edge.arc is None:
        return chord
    centre, radius = edge.arc.centre, abs(edge.arc.major[0] - edge.arc.centre[0])
    rise = sqrt(max(0.0, radius**2 - (station - centre[way]) ** 2))
    return min((centre[1 - way] + rise, centre[1 - way] - rise), key=lambda value: abs(value - chord))


def _said(value: float, style: LengthStyle) -> str:
    return print_length(to_nanometre(value), style.only("mm" if style.system == "mm" else "inch"))

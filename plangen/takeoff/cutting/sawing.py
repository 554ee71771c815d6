"""From a filled panel to places, cuts in order, and what is left over."""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass, replace
from typing import Literal, TypeAlias

from plangen.takeoff.cutting.model import Cut, Direction, Laid, Layout, Piece, Rest
from plangen.takeoff.cutting.packing import Band, Cell, Filled, Pose, Saw

_Place: TypeAlias = tuple[int, int, int, int]  # x, y, length, width


@dataclass(frozen=True, slots=True)
class _Region:
    """A rectangle that is a piece, is left over, or is cut into others."""

    x: int
    y: int
    length: int
    width: int
    cut: Direction | None = None  # the way the saw travels
    parts: tuple[_Region, ...] = ()
    piece: tuple[Piece, bool] | None = None


def saw_up(filled: Filled, saw: Saw, fixed: bool = False) -> Layout:
    """Work out how to saw a filled panel: stage by stage, and in each stage equal settings together.

    Widest bands come first, and in a band the longest cells, which leaves what is over in one place. Where a
    panel has one band only, it is not freed from the rest unless that saves cuts or settings, or the way of
    the first stage is ``fixed``.
    """
    layout = _sawn(filled, saw)
    if fixed or len(filled.bands) != 1:
        return layout
    room, _ = saw.room(filled.panel)
    whole = _sawn(replace(filled, bands=[replace(filled.bands[0], first=room)]), saw)
    return whole if _less_work(whole, layout) else layout


def _less_work(one: Layout, other: Layout) -> bool:
    """Say whether a layout takes fewer cuts or settings than another, and no more of either."""
    works = [(len(layout.cuts), len({(cut.along, cut.at) for cut in layout.cuts})) for layout in (one, other)]
    return works[0] != works[1] and all(mine <= its for mine, its in zip(*works, strict=True))


def _sawn(filled: Filled, saw: Saw) -> Layout:
    stage = [_trimmed(filled, saw)]
    cuts: list[Cut] = []
    pieces: list[Laid] = []
    rests: list[Rest] = []
    while stage:
        cuts.extend(_together([_cuts(region, saw) for region in stage if region.parts]))
        for region in stage:
            if region.piece:
                piece, turned = region.piece
                pieces.append(Laid(piece.name, region.x, region.y, region.length, region.width, turned))
            elif not region.parts:
                rests.append(Rest(region.x, region.y, region.length, region.width))
        stage = [part for region in stage for part in region.parts]
    pieces.sort(key=lambda piece: (piece.x, piece.y))
    return Layout(filled.panel, tuple(pieces), tuple(cuts), tuple(rests))


def _together(rows: list[list[Cut]]) -> list[Cut]:
    """Join the cuts of a stage so that equal settings follow one another: trims, then the widest first.

    Each row is what one piece is divided by, in the only order that it can be sawn in. Its sizes fall
    but for a trim at its begin, so that taking the largest next brings all equal ones together.
    """
    ordered: list[Cut] = []
    trims = [row[0] for row in rows if len(row) > 1 and row[0].at < row[1].at]
    for cut in trims:
        ordered.append(cut)
    waiting = [deque(row[1:] if len(row) > 1 and row[0].at < row[1].at else row) for row in rows]
    while any(waiting):
        heads = [row[0] for row in waiting if row]
        setting = max((cut.at, cut.along) for cut in heads)
        for row in waiting:
            while row and (row[0].at, row[0].along) == setting:
                ordered.append(row.popleft())
    return ordered


def _cuts(region: _Region, saw: Saw) -> list[Cut]:
    """Give the cuts between the parts of a region, and the one after the last where it is short."""
    cuts = []
    along = region.cut
    assert along is not None
    x, y = region.x, region.y
    end_x, end_y = x + region.length, y + region.width
    for part in region.parts:
        hand: Literal["bench", "hand"] = (
            "hand" if saw.by_hand(end_x - part.x, end_y - part.y) else "bench"
        )  # what is left of the region is what the cut divides
        if along == "y":
            if part.x + part.length == end_x:
                break
            cuts.append(Cut("y", part.x + part.length, y, end_y, part.length, hand))
        else:
            if part.y + part.width == end_y:
                break
            cuts.append(Cut("x", part.y + part.width, x, end_x, part.width, hand))
    return cuts


def _row(region: _Place, along: Direction, sizes: list[int], kerf: int) -> list[_Place]:
    """Divide a rectangle (x, y, length, width) into sizes with a kerf after each, then what is left."""
    x, y, length, width = region
    at, end = (x, x + length) if along == "y" else (y, y + width)
    places = []
    for size in [*sizes, end]:
        size = min(size, end - at)
        if size > 0:
            places.append((at, y, size, width) if along == "y" else (x, at, length, size))
        at += size + kerf
    return places


def _trimmed(filled: Filled, saw: Saw) -> _Region:
    """Give the whole panel, trimmed at its low edges where there are margins, then cut into bands.

    Where the edge along the bands' own direction is longer than the rail, each band is trimmed for itself.
    """
    panel, kerf = filled.panel, saw.kerf
    margins = saw.margins
    # The bands' own direction comes last, so that its trim is one more cut of the same row.
    outer_way: Direction = saw.first
    outer, inner, edge = margins.low, margins.left, panel.length
    if saw.first == "y":
        outer, inner, edge = margins.left, margins.low, panel.width
    whole = (0, 0, panel.length, panel.width)
    if not outer:
        return _banded(whole, filled, saw, inner, 0)
    if saw.guide is not None and edge > saw.guide and saw.by_hand(panel.length, panel.width):
        return _banded(whole, filled, saw, inner, outer)
    waste, rest = _row(whole, outer_way, [outer - kerf], kerf)
    return _Region(*whole, outer_way, (_Region(*waste), _banded(rest, filled, saw, inner, 0)))


def _banded(place: _Place, filled: Filled, saw: Saw, margin: int, edge: int) -> _Region:
    """Divide into bands; ``margin`` comes off before the first, ``edge`` off the low end of each."""
    along: Direction = "y" if saw.first == "x" else "x"
    bands = sorted(filled.bands, key=lambda band: (-band.first, -band.used))
    trims = [margin - saw.kerf] if margin else []
    sizes = trims + [band.first - saw.kerf for band in bands]
    places = _row(place, along, sizes, saw.kerf)
    parts = [_Region(*places.pop(0)) for _ in trims]
    parts.extend(_cells(at, band, saw, edge) for at, band in zip(places, bands, strict=False))
    parts.extend(_Region(*at) for at in places[len(bands) :])
    return _divided(place, along, parts)


def _divided(place: _Place, along: Direction, parts: list[_Region]) -> _Region:
    """Give a region of parts, or the part itself where there is only one and nothing to cut."""
    only = parts[0]
    if len(parts) == 1 and (only.x, only.y, only.length, only.width) == place:
        return only
    return _Region(*place, along, tuple(parts))


def _cells(place: _Place, band: Band, saw: Saw, edge: int) -> _Region:
    along = saw.first
    cells = sorted(band.cells, key=lambda cell: (-cell.other, -cell.used))
    trims = [edge - saw.kerf] if edge else []
    places = _row(place, along, trims + [cell.other - saw.kerf for cell in cells], saw.kerf)
    parts = [_Region(*places.pop(0)) for _ in trims]
    parts.extend(_stack(at, cell, saw) for at, cell in zip(places, cells, strict=False))
    parts.extend(_Region(*at) for at in places[len(cells) :])
    return _divided(place, along, parts)


def _stack(place: _Place, cell: Cell, saw: Saw) -> _Region:
    along: Direction = "y" if saw.first == "x" else "x"
    order = sorted(cell.pieces, key=lambda entry: (-entry[1].first, entry[0].name))
    places = _row(place, along, [pose.first - saw.kerf for _, pose in order], saw.kerf)
    parts = [_free(at, piece, pose, saw) for at, (piece, pose) in zip(places, order, strict=False)]
    parts.extend(_Region(*at) for at in places[len(order) :])
    return _divided(place, along, parts)


def _free(place: _Place, piece: Piece, pose: Pose, saw: Saw) -> _Region:
    """Give a piece, trimmed where it is smaller across than its cell."""
    at, *waste = _row(place, saw.first, [pose.other - saw.kerf], saw.kerf)
    return _divided(
        place, saw.first, [_Region(*at, piece=(piece, pose.turned)), *(_Region(*rest) for rest in waste)]
    )

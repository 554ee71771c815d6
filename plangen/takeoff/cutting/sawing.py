"""From a filled panel to places, cuts in order, and what is left over."""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass

from plangen.takeoff.cutting.model import Cut, Direction, Laid, Layout, Piece, Rest
from plangen.takeoff.cutting.packing import Band, Cell, Filled, Saw


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


def saw_up(filled: Filled, saw: Saw) -> Layout:
    """Work out how to saw a filled panel: level by level, so that equal settings come together.

    Widest bands come first, and in a band the longest cells, which leaves what is over in one place.
    """
    root = _trimmed(filled, saw)
    cuts: list[Cut] = []
    pieces: list[Laid] = []
    rests: list[Rest] = []
    queue = deque([root])
    while queue:
        region = queue.popleft()
        if region.parts:
            cuts.extend(_cuts(region))
            queue.extend(region.parts)
        elif region.piece:
            piece, turned = region.piece
            pieces.append(Laid(piece.name, region.x, region.y, region.length, region.width, turned))
        else:
            rests.append(Rest(region.x, region.y, region.length, region.width))
    pieces.sort(key=lambda piece: (piece.x, piece.y))
    return Layout(filled.panel, tuple(pieces), tuple(cuts), tuple(rests))


def _cuts(region: _Region) -> list[Cut]:
    """Give the cuts between the parts of a region, and the one after the last where it is short."""
    cuts = []
    along = region.cut
    assert along is not None
    end = region.x + region.length if along == "y" else region.y + region.width
    for part in region.parts:
        low, size = (part.x, part.length) if along == "y" else (part.y, part.width)
        if low + size == end:
            break
        if along == "y":
            cuts.append(Cut("y", low + size, region.y, region.y + region.width, size))
        else:
            cuts.append(Cut("x", low + size, region.x, region.x + region.length, size))
    return cuts


def _row(
    region: tuple[int, int, int, int], along: Direction, sizes: list[int], kerf: int
) -> list[tuple[int, int, int, int]]:
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
    """Give the whole panel, trimmed at its low edges where there are margins, then cut into bands."""
    panel, kerf = filled.panel, saw.kerf
    margins = saw.margins
    # The bands' own direction comes last, so that its trim is one more cut of the same row.
    across_first: tuple[tuple[Direction, int], ...] = (("x", margins.low), ("y", margins.left))
    if saw.first == "y":
        across_first = (("y", margins.left), ("x", margins.low))
    (outer_way, outer_margin), (_, inner_margin) = across_first
    whole = (0, 0, panel.length, panel.width)
    if outer_margin:
        waste, rest = _row(whole, outer_way, [outer_margin - kerf], kerf)
        return _Region(*whole, outer_way, (_Region(*waste), _banded(rest, filled, saw, inner_margin)))
    return _banded(whole, filled, saw, inner_margin)


def _banded(place: tuple[int, int, int, int], filled: Filled, saw: Saw, margin: int) -> _Region:
    along: Direction = "y" if saw.first == "x" else "x"
    bands = sorted(filled.bands, key=lambda band: (-band.first, -band.used))
    trims = [margin - saw.kerf] if margin else []
    sizes = trims + [band.first - saw.kerf for band in bands]
    places = _row(place, along, sizes, saw.kerf)
    parts = [_Region(*places.pop(0)) for _ in trims]
    parts.extend(_cells(at, band, saw) for at, band in zip(places, bands, strict=False))
    parts.extend(_Region(*at) for at in places[len(bands) :])
    return _divided(place, along, parts)


def _divided(place: tuple[int, int, int, int], along: Direction, parts: list[_Region]) -> _Region:
    """Give a region of parts, or the part itself where there is only one and nothing to cut."""
    only = parts[0]
    if len(parts) == 1 and (only.x, only.y, only.length, only.width) == place:
        return only
    return _Region(*place, along, tuple(parts))


def _cells(place: tuple[int, int, int, int], band: Band, saw: Saw) -> _Region:
    along = saw.first
    cells = sorted(band.cells, key=lambda cell: (-cell.other, -cell.used))
    places = _row(place, along, [cell.other - saw.kerf for cell in cells], saw.kerf)
    parts = [_stack(at, cell, saw) for at, cell in zip(places, cells, strict=False)]
    parts.extend(_Region(*at) for at in places[len(cells) :])
    return _divided(place, along, parts)


def _stack(place: tuple[int, int, int, int], cell: Cell, saw: Saw) -> _Region:
    along: Direction = "y" if saw.first == "x" else "x"
    order = sorted(cell.pieces, key=lambda entry: (-entry[1].first, entry[0].name))
    places = _row(place, along, [pose.first - saw.kerf for _, pose in order], saw.kerf)
    parts = [
        _Region(*at, piece=(piece, pose.turned)) for at, (piece, pose) in zip(places, order, strict=False)
    ]
    parts.extend(_Region(*at) for at in places[len(order) :])
    return _divided(place, along, parts)

"""Where the views of the whole piece, the pictorial and the scale lie, as large as the room lets them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from plangen.drawing.scales import Scale, fine_scales
from plangen.drawing.scene import fitted
from plangen.drawing.sheet.measure import Bounds
from plangen.units.printing import System

_FIRST_ROW, _TWO_LINES = 8.7, 1.6  # mm from an outline to its dimension line, and more for two figures
CAPTION_DROP = 8.0  # mm from a dimension line to the caption under it
FOOT = 8.0  # mm for the scale and the symbol where they stand under everything
_OVER = 5.8  # mm over the highest view: its caption, or the ends of cutting planes
_ACROSS, _UP = 15.0, 8.0  # mm between views
_RIGHT = 3.0
_LEAST_LEFT = 16.0  # mm left of the front view
_ARROWS = 8.0  # mm that an arrow, its tail and the air beside a figure take
_LEAST_PICTORIAL = 34.0  # mm, the shorter side of its room
_FOOT_COLUMN = 58.0  # mm of width that the scale and the symbol need beside the views
_ONLY_WITHOUT = 0.6  # the worth of views without the one from above, of views without a pictorial 0.5
_LARGEST = Scale(1, 1)


@dataclass(frozen=True, slots=True)
class Spread:
    """A layout: the low left corners of the views (mm on the paper); None for what is left out.

    ``foot`` is the low left corner and the width of the strip for the scale, the bar and the symbol.
    """

    scale: Scale
    front: tuple[float, float]
    side: tuple[float, float]
    top: tuple[float, float] | None
    pictorial: Bounds | None
    foot: tuple[float, float, float]


def spread_views(
    size: tuple[float, float, float], figures: tuple[float, float, float], pictorial: Bounds,
    width: float, height: float, system: System,
) -> Spread:  # fmt: skip
    """Choose the best layout for a piece of ``size`` (across, deep, up, mm) in a room (mm).

    ``figures`` are the widths of the three sizes as printed (mm on the paper), ``pictorial`` is the box of
    the piece in the booklet's view at full size. Large views count most; then the view from above, which is
    left out only where that lets the others grow far, and the pictorial. Where not even the smallest scale
    fits, it is taken.
    """
    scales = [scale for scale in fine_scales(system) if scale.factor <= _LARGEST.factor]
    found = [
        (_worth(item, pictorial), -number, item)
        for scale in scales
        for number, item in enumerate(_at(size, figures, pictorial, width, height, scale, system))
    ]
    if found:
        return max(found, key=lambda entry: entry[:2])[2]
    across = size[0] * scales[-1].factor
    left, low = _left(figures), _under(system) + FOOT
    beside = left + across + _past(across, figures[0], _ACROSS)
    return Spread(scales[-1], (left, low), (beside, low), None, None, (0.0, 0.0, max(width, 60.0)))


def first_row(system: System) -> float:
    """Give how far under a view its size stands, clear of the ends of cutting planes (mm)."""
    return _FIRST_ROW + (_TWO_LINES if system == "both" else 0.0)


def upright_row(figure: float) -> float:
    """Give how far from the front view the upright size stands, whose figure is so wide (mm)."""
    return max(_FIRST_ROW, figure / 2 + 2.0)


def _under(system: System) -> float:
    """Give the room under the views for sizes and captions."""
    return first_row(system) + CAPTION_DROP + 1.0


def _left(figures: tuple[float, float, float]) -> float:
    return max(_LEAST_LEFT, upright_row(figures[2]) + figures[2] / 2 + 1.5)


def _past(view: float, figure: float, least: float) -> float:
    """Give the room to the right of a view: a size that is wider than the view stands past its end."""
    return least if figure + _ARROWS <= view else max(least, figure + 2 * _ARROWS)


def _at(
    size: tuple[float, float, float], figures: tuple[float, float, float], pictorial: Bounds,
    width: float, height: float, scale: Scale, system: System,
) -> Iterator[Spread]:  # fmt: skip
    across, deep, up = (length * scale.factor for length in size)
    left = _left(figures)
    beside_front = left + across + _past(across, figures[0], _ACROSS)
    end = beside_front + deep + _past(deep, figures[1], _RIGHT)
    column = max(beside_front + deep + _ACROSS, end)
    for with_top in (True, False):
        high = up + (deep + _UP if with_top else 0.0) + _OVER
        if end > width:
            continue
        for beside in (True, False):
            low = _under(system) + (0.0 if beside else FOOT)
            if low + high > height or (beside and width - column < _FOOT_COLUMN):
                continue
            top = low + high - _OVER if with_top else low + up
            rooms: list[Bounds] = [
                (column, max(low - first_row(system), FOOT + 2.0), width - 2.0, max(top, height - 2.0))
            ]
            if with_top:
                rooms.append((beside_front, low + up + _UP, width - 2.0, height - 2.0))
            best = max(rooms, key=lambda room: fitted(pictorial, room).factor if _open(room) else 0.0)
            shown = best if min(best[2] - best[0], best[3] - best[1]) >= _LEAST_PICTORIAL else None
            spare = 0.0 if shown or beside else (width - end) / 2
            yield Spread(
                scale,
                (left + spare, low),
                (beside_front + spare, low),
                (left + spare, low + up + _UP) if with_top else None,
                shown,
                (column, 0.0, width - column) if beside else (0.0, 0.0, width),
            )


def _open(room: Bounds) -> bool:
    return room[2] - room[0] > 1.0 and room[3] - room[1] > 1.0


def _worth(spread: Spread, pictorial: Bounds) -> float:
    factor = spread.scale.factor
    worth = factor * (1.0 if spread.top is not None else _ONLY_WITHOUT)
    if spread.pictorial is None:
        return worth * 0.5
    shown = fitted(pictorial, spread.pictorial).factor
    return float(worth * min(1.0, shown / (0.9 * factor)) ** 0.5)

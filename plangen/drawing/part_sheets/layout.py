"""Put the views of a part on the sheet in third angle, with captions, the small picture and the scale."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations, product

import numpy as np

from plangen.drawing.part_sheets.pictorial import Pictorial, drawn, says_face, shifted
from plangen.drawing.part_sheets.placing import View
from plangen.drawing.scales import Scale
from plangen.drawing.sheet.lettering import LEAST_SIZE
from plangen.drawing.sheet.measure import Bounds, bounds, text_length
from plangen.drawing.sheet.model import Mark, Text, Tone, Weight, Xy
from plangen.drawing.title_block import projection_symbol, scale_bar
from plangen.units.printing import System

CAPTION = LEAST_SIZE
CAPTION_DROP = 6.5
BETWEEN = 7.0  # mm between what belongs to two views
SMALLEST, LARGEST = 20.0, 52.0  # mm, the longer side of the small picture
NEAR = 8.0  # mm from the views to the small picture, where there is room
SYMBOL = 5.0  # mm, height of the projection symbol
BAR = 34.0  # mm, the longest scale bar


@dataclass(frozen=True, slots=True)
class Block:
    """A view with its caption: marks, the move that brings them to their place, and their box there."""

    marks: tuple[Mark, ...]
    move: Xy
    box: Bounds

    def moved(self, move: Xy) -> Block:
        """Give the block moved on."""
        return Block(self.marks, (self.move[0] + move[0], self.move[1] + move[1]), _moved(self.box, move))


@dataclass(frozen=True, slots=True)
class Layout:
    """Where everything lies on the sheet, whose size is in mm, and whether all of it ``fits``.

    ``least`` is the height in mm of the views alone, ``zoom`` that of the small picture.
    """

    fits: bool
    width: float
    height: float
    least: float
    zoom: float
    blocks: tuple[Block, ...]
    rest: Callable[[], Iterable[Mark]]  # the small picture, the projection symbol and the scale

    @property
    def marks(self) -> tuple[Mark, ...]:
        """All that is drawn, centred on the sheet as one."""
        marks = [mark for block in self.blocks for mark in shifted(block.marks, *block.move)]
        marks += self.rest()
        return _centred(tuple(marks), self.width, self.height) if self.fits else tuple(marks)


def composed(views: Sequence[tuple[View, str]], *, stacked: bool = False) -> tuple[Block, ...]:
    """Put views with their captions (the principal view first) where they belong to each other.

    ``stacked`` puts the views beside the principal one under it.
    """
    return tuple(_stacked_blocks(views) if stacked else _blocks(views))


def lay_out(
    blocks: Sequence[Block],
    small: Pictorial,
    footers: Sequence[str],
    scale: Scale,
    system: System,
    width: float,
    height: float,
) -> Layout:
    """Lay out the composed views, the small picture, symbol, scale and scale bar."""
    tried = (_lay_out(blocks, small, footers, scale, one, width, height) for one in _corners(scale, system))
    first = next(tried)
    return first if first.fits else next(tried)


def _lay_out(
    blocks: Sequence[Block],
    small: Pictorial,
    footers: Sequence[str],
    scale: Scale,
    corner: tuple[Mark, ...],
    width: float,
    height: float,
) -> Layout:
    boxes = [block.box for block in blocks]
    whole = _union(boxes)
    room = (width - (whole[2] - whole[0]), height - (whole[3] - whole[1]))
    least = whole[3] - whole[1]
    longest = max(SMALLEST, min(LARGEST, max(small.width, small.height) * scale.factor * 0.8))
    corner_box = bounds(corner)
    corner_size = (corner_box[2] - corner_box[0], corner_box[3] - corner_box[1])
    best: tuple[float, float, Xy, Xy, Xy] | None = None
    for share_x, share_y in product((0.0, 0.5, 1.0), (1.0, 0.5, 0.0)) if min(room) >= 0.0 else ():
        move = (-whole[0] + room[0] * share_x, -whole[1] + room[1] * share_y)
        laid = [_moved(box, move) for box in boxes]
        spot = _symbol_spot(laid, corner_size, width)
        if spot is None:
            continue
        taken = [
            *laid,
            (spot[0] - 3, spot[1] - 3, spot[0] + corner_size[0], spot[1] + corner_size[1] + 3),
        ]
        free = _free(taken, small, longest, footers, width, height)
        if free is None:
            continue
        zoom, at = free
        score = zoom * max(small.width, small.height) - (0.0 if share_x == 0.0 else 0.5)
        if best is None or score > best[0]:
            best = (score, zoom, move, spot, at)
    if best is None:
        away = (-whole[0], -whole[1])
        return Layout(False, width, height, least, 0.0, tuple(block.moved(away) for block in blocks), tuple)
    _, zoom, move, spot, at = best

    def rest() -> Iterable[Mark]:
        yield from _small_picture(small, footers, zoom, at)
        yield from shifted(corner, spot[0] - corner_box[0], spot[1] - corner_box[1])

    return Layout(True, width, height, least, zoom, tuple(block.moved(move) for block in blocks), rest)


def _block(marks: Sequence[Mark], box: Bounds, *words: Text) -> Block:
    return Block((*marks, *words), (0.0, 0.0), _union([box, bounds(words)]))


def _blocks(views: Sequence[tuple[View, str]]) -> list[Block]:
    """Place the views round the principal one, whose blank has its low left corner at the origin."""
    by_station = {view.picture.sight.station: (view, name) for view, name in views}
    middle, middle_name = by_station["middle"]
    level = [view for view, _ in views if view.picture.sight.station in ("middle", "left", "right")]
    caption_y = min(view.box[1] for view in level) - CAPTION_DROP
    words = _caption(middle_name, (middle.picture.width / 2, caption_y))
    blocks = [_block(middle.marks, middle.box, words)]
    box = blocks[0].box
    around = [box]
    for station in ("above", "below"):
        if station not in by_station:
            continue
        view, name = by_station[station]
        own = view.box
        if station == "above":
            move = (0.0, box[3] + BETWEEN - own[1])
            if own[0] - 3.0 - text_length(name, CAPTION, Weight.SEMIBOLD) >= box[0] - 12.0:
                words = _caption(name, (own[0] - 3.0, view.picture.height / 2 - CAPTION * 0.3), "end")
            else:
                words = _caption(name, (view.picture.width / 2, own[3] + 4.0))
        else:
            move = (0.0, box[1] - BETWEEN - own[3])
            words = _caption(name, (view.picture.width / 2, own[1] - CAPTION_DROP))
        blocks.append(_block(view.marks, own, words).moved(move))
        around.append(blocks[-1].box)
    for station in ("right", "left"):
        if station not in by_station:
            continue
        view, name = by_station[station]
        block = _block(view.marks, view.box, _caption(name, (view.picture.width / 2, caption_y)))
        own = block.box
        near = [other for other in around if other[1] < own[3] + 3 and own[1] < other[3] + 3]
        if station == "right":
            move = (max(other[2] for other in near) + BETWEEN - own[0], 0.0)
        else:
            move = (min(other[0] for other in near) - BETWEEN - own[2], 0.0)
        blocks.append(block.moved(move))
    return blocks


def _stacked_blocks(views: Sequence[tuple[View, str]]) -> list[Block]:
    """Place the views beside the principal one under it, in the middle, the others where they belong."""
    over = [item for item in views if item[0].picture.sight.station in ("middle", "above", "below")]
    blocks = _blocks(over)
    for view, name in views:
        if view.picture.sight.station not in ("left", "right"):
            continue
        words = _caption(name, (view.picture.width / 2, view.box[1] - CAPTION_DROP))
        block = _block(view.marks, view.box, words)
        box, whole = block.box, _union([other.box for other in blocks])
        blocks.append(block.moved(((whole[0] + whole[2] - box[0] - box[2]) / 2, whole[1] - BETWEEN - box[3])))
    return blocks


def _caption(words: str, at: Xy, anchor: str = "middle") -> Text:
    return Text(at, words, CAPTION, anchor, Weight.SEMIBOLD, Tone.SECONDARY, role="caption")  # type: ignore[arg-type]


def _corners(scale: Scale, system: System) -> Iterator[tuple[Mark, ...]]:
    """Draw scale bar, projection symbol and scale: beside each other, then the bar under the others."""
    bar = scale_bar((0.0, 0.0), scale, system, longest=BAR)
    symbol = (
        *projection_symbol((0.0, 0.0), height=SYMBOL),
        Text(
            (SYMBOL * 2.2 + 2.5, -CAPTION * 0.32),
            scale.text,
            CAPTION,
            weight=Weight.SEMIBOLD,
            tone=Tone.SECONDARY,
            role="scale",
        ),
    )
    end = bounds(bar)[2]
    yield (*bar, *shifted(symbol, end + 5.0, SYMBOL / 2))
    yield (*bar, *shifted(symbol, 0.0, bounds(bar)[3] + 2.0 + SYMBOL / 2))


def _symbol_spot(boxes: Sequence[Bounds], size: Xy, width: float) -> Xy | None:
    """Find room for the symbol along the foot of the sheet, from the right."""
    x = width - size[0]
    while x >= 0:
        own = (x - 3, 0.0, x + size[0] + 3, size[1] + 3)
        if not any(_meet(own, box) for box in boxes):
            return (x, 0.0)
        x -= 4.0
    return None


def _small_size(small: Pictorial, zoom: float, footers: Sequence[str]) -> Xy:
    width, height = _words_size(_words(small, zoom, footers))
    return max(small.width * zoom, width), small.height * zoom + height


def _words_size(words: Sequence[str]) -> Xy:
    return max(text_length(word, CAPTION, Weight.SEMIBOLD) for word in words), 2.0 + 4.3 * len(words)


def _words(small: Pictorial, zoom: float, footers: Sequence[str]) -> tuple[str, ...]:
    return (says_face(small, zoom), *footers)


def _free(
    taken: Sequence[Bounds],
    small: Pictorial,
    longest: float,
    footers: Sequence[str],
    width: float,
    height: float,
) -> tuple[float, Xy] | None:
    """Find the free rectangle that lets the small picture be largest; give its zoom and low left corner."""
    air = 6.0
    grown = [(a - air, b - air, c + air, d + air) for a, b, c, d in taken]
    xs = sorted({0.0, width, *(x for box in grown for x in (box[0], box[2]) if 0 < x < width)})
    ys = sorted({0.0, height, *(y for box in grown for y in (box[1], box[3]) if 0 < y < height)})
    across, up = np.array(list(combinations(xs, 2))), np.array(list(combinations(ys, 2)))
    left, right, low, high = across[:, :1], across[:, 1:], up[:, 0], up[:, 1]
    largest = longest / max(small.width, small.height)
    extra = _words_size(_words(small, largest, footers))
    zooms = np.minimum((right - left) / small.width, (high - low - extra[1]) / small.height)
    zooms = np.minimum(zooms, largest)
    zooms[(right - left < extra[0])[:, 0]] = 0.0
    for box in grown:
        zooms[(left < box[2]) & (box[0] < right) & (low < box[3]) & (box[1] < high)] = 0.0
    column, row = np.unravel_index(np.argmax(np.round(zooms, 9)), zooms.shape)
    zoom = float(zooms[column, row])
    if zoom * max(small.width, small.height) < SMALLEST:
        return None
    free = (float(left[column, 0]), float(low[row]), float(right[column, 0]), float(high[row]))
    return zoom, _drawn_near(taken, free, _small_size(small, zoom, footers))


def _drawn_near(taken: Sequence[Bounds], free: Bounds, size: Xy) -> Xy:
    """Put a block of a size into a free rectangle, near to the views and in line with their middle."""
    views = _union(taken[:-1])
    middle = ((views[0] + views[2]) / 2, (views[1] + views[3]) / 2)

    def along(low: float, high: float, length: float, index: int) -> float:
        wish = middle[index] - length / 2
        if high <= views[index] + 1:  # all of it lies before the views
            wish = high - length - NEAR
        elif low >= views[index + 2] - 1:
            wish = low + NEAR
        return min(max(wish, low), high - length)

    return along(free[0], free[2], size[0], 0), along(free[1], free[3], size[1], 1)


def _small_picture(small: Pictorial, footers: Sequence[str], zoom: float, at: Xy) -> Iterable[Mark]:
    size = _small_size(small, zoom, footers)
    words = _words(small, zoom, footers)
    foot = at[1] + 4.3 * len(words) + 2.0
    yield from drawn(small, zoom, (at[0] + (size[0] - small.width * zoom) / 2, foot))
    for number, word in enumerate(words):
        yield _caption(word, (at[0] + size[0] / 2, foot - 2.0 - 4.3 * number - CAPTION * 0.65))


def _centred(marks: tuple[Mark, ...], width: float, height: float) -> tuple[Mark, ...]:
    """Centre what is there across the sheet, as one."""
    box = bounds(marks)
    dx = (width - box[2] - box[0]) / 2
    dy = (height - box[3] - box[1]) / 2
    return shifted(marks, dx, dy)


def _union(boxes: Iterable[Bounds]) -> Bounds:
    all_boxes = list(boxes)
    return (
        min(box[0] for box in all_boxes), min(box[1] for box in all_boxes),
        max(box[2] for box in all_boxes), max(box[3] for box in all_boxes),
    )  # fmt: skip


def _moved(box: Bounds, move: Xy) -> Bounds:
    return (box[0] + move[0], box[1] + move[1], box[2] + move[0], box[3] + move[1])


def _meet(one: Bounds, two: Bounds) -> bool:
    return one[0] < two[2] and two[0] < one[2] and one[1] < two[3] and two[1] < one[3]

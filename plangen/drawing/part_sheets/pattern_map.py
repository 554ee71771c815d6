"""A small picture of a whole shape with the sheets of its pattern laid over it, each with its number."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from shapely.geometry import Point
from shapely.geometry import box as rectangle

from plangen.drawing.part_sheets.pattern_checks import Diagonal
from plangen.drawing.part_sheets.pattern_grid import Cutting
from plangen.drawing.part_sheets.pattern_marks import rectangle_points
from plangen.drawing.part_sheets.pattern_outline import FullSize
from plangen.drawing.part_sheets.pattern_room import Room
from plangen.drawing.sheet.measure import DESCENT_SHARE, FIGURE_SHARE, text_length
from plangen.drawing.sheet.model import Fill, Mark, Meaning, Stroke, Text, Tone, Xy

FIGURE = 4.0  # mm of type size, where a tile has room for its number


def map_scale(shape: FullSize, cutting: Cutting, room: Xy) -> tuple[float, Xy, Xy]:
    """Give the scale of a map, its low corner on the part in mm, and its size on the paper."""
    wholes = [(0.0, 0.0, shape.width, shape.height), *(grid.whole for grid in cutting.grids)]
    low = (min(w[0] for w in wholes), min(w[1] for w in wholes))
    size = (max(w[2] for w in wholes) - low[0], max(w[3] for w in wholes) - low[1])
    scale = min(room[0] / size[0], room[1] / size[1])
    return scale, low, (size[0] * scale, size[1] * scale)


def little_map(
    shape: FullSize, cutting: Cutting, corner: Xy, size: Xy, *, here: int = 0, figure: float = FIGURE,
    diagonals: Iterable[Diagonal | None] = (),
) -> Iterator[Mark]:  # fmt: skip
    """Draw the map with its low right corner at ``corner``, no larger than ``size``; ``here`` is tinted.

    The long checks are drawn where they are given, their ends lettered.
    """
    scale, low, (broad, tall) = map_scale(shape, cutting, size)
    left, foot = corner[0] - broad, corner[1]

    def put(point: Xy) -> Xy:
        return ((point[0] - low[0]) * scale + left, (point[1] - low[1]) * scale + foot)

    room, border = Room(figure / 8), rectangle(left, foot, left + broad, foot + tall)
    lines = [
        Stroke(tuple(put(point) for point in loop.simplify(0.2 / scale).coords), Meaning.CONTEXT)
        for loop in (shape.shape.exterior, *shape.shape.interiors)
    ]
    checks = [Stroke((put(one.start), put(one.end)), Meaning.FLOW) for one in diagonals if one is not None]
    windows = [
        grid.window(column, row)
        for grid in cutting.grids
        for row in range(grid.rows)
        for column in range(grid.columns)
    ]
    tiles: list[Stroke] = []
    for number, window in enumerate(windows, 1):
        (ax, ay), (bx, by) = put(window[:2]), put(window[2:])
        corners = rectangle_points(ax, ay, bx - ax, by - ay)
        if number == here:
            yield Fill((corners,), Tone.NEW_SIDE)
        tiles.append(Stroke(corners, Meaning.RULE if number == here else Meaning.HAIR, closed=True))
    room.take((*lines, *checks, *tiles))
    texts: list[Text] = []
    for number, tile in enumerate(tiles, 1):
        (ax, ay), (bx, by) = tile.points[0], tile.points[2]
        wide = text_length(str(number), figure)
        middle = ((ax + bx) / 2, (ay + by) / 2)
        spot = room.spot(rectangle(ax, ay, bx, by), wide, figure * FIGURE_SHARE, middle)
        if spot is not None:
            at = (spot[0], spot[1] - figure * FIGURE_SHARE / 2)
            texts.append(Text(at, str(number), figure, "middle", role="map"))
    yield from tiles
    yield from (*lines, *checks)
    room.take(texts)
    for check in checks:
        for letter, at in zip("PQ", check.points, strict=True):
            around = Point(at).buffer(figure * 1.6).intersection(border)
            tall_letter = (FIGURE_SHARE + DESCENT_SHARE) * figure
            spot = room.spot(around, text_length(letter, figure), tall_letter, at)
            if spot is not None:
                where = (spot[0], spot[1] - tall_letter / 2 + DESCENT_SHARE * figure)
                texts.append(Text(where, letter, figure, "middle", role="map"))
                room.take(texts[-1:])
    yield from texts

"""Full-size patterns: the outline of a part over as many sheets as it takes, with proof of the scale."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from shapely.affinity import scale
from shapely.geometry import LineString
from shapely.geometry import box as rectangle
from shapely.ops import unary_union

from plangen.design.model import Design, Part
from plangen.drawing.part_sheets.captions import caption
from plangen.drawing.part_sheets.pattern_grid import OVERLAP, Grid, grid_of
from plangen.drawing.part_sheets.pattern_marks import box_of, line_of, pieces, plus, rectangle_points
from plangen.drawing.part_sheets.pattern_outline import FullSize, bore_loop, full_size
from plangen.drawing.part_sheets.pattern_words import SMALL_LABEL, begins, head, hole_words, labels
from plangen.drawing.part_sheets.plan import part_dimensions
from plangen.drawing.part_sheets.rulers import RULER_ROOM, rulers_along
from plangen.drawing.part_sheets.sights import Sight, arrangements
from plangen.drawing.sheet.model import Drawing, Fill, Mark, Meaning, Stroke, Text, Tone, Xy
from plangen.units import LengthStyle

ALIKE = 1e-4  # share of the area that two halves may differ by and still be drawn with a centre line
HEAD = 24.0  # mm at the top for the name, the tile's place and the map
DIAMOND = 3.0  # mm, half the width of a registration mark


def pattern_pages(
    design: Design, part: Part, style: LengthStyle, paper: tuple[float, float]
) -> tuple[Drawing, ...]:
    """Draw the full-size pattern of a part on sheets of ``paper`` (width and height in mm that may be used).

    The lowest row of tiles comes first, each from left to right. No sheets for a part without a pattern.
    Raises ValueError when the paper is too small to hold a 4 in ruler.
    """
    if not part.pattern:
        return ()
    frame = (paper[0] - RULER_ROOM, paper[1] - RULER_ROOM - HEAD)
    if min(frame) < 110:
        raise ValueError(
            f"a pattern needs sheets of at least {110 + RULER_ROOM + HEAD:g} mm, not {min(paper):g}"
        )
    plan = part_dimensions(part, style)
    tried = []
    for order, arrangement in enumerate(arrangements(plan)):
        sight = _flat(part, arrangement.sights[0])
        shape = full_size(part, sight)
        grid = grid_of(shape, frame)
        tried.append((grid.columns * grid.rows, order, sight, shape, grid))
    _, _, sight, shape, grid = min(tried, key=lambda item: item[:2])
    return tuple(
        _page(design, part, sight, shape, grid, column, row, paper, style)
        for row in range(grid.rows)
        for column in range(grid.columns)
    )


def _flat(part: Part, sight: Sight) -> Sight:
    """Give the view that outlines are cut through: the face's own, whatever the part sheet looks at."""
    if sight.side.axis is part.thick or part.runs is sight.side.axis:
        return sight
    return Sight(sight.right if sight.right.axis is part.thick else sight.up, *_others(part, sight), "middle")


def _others(part: Part, sight: Sight) -> tuple[Any, Any]:
    sides = {sight.side.axis: sight.side, sight.right.axis: sight.right, sight.up.axis: sight.up}
    if sight.up.axis is part.thick:
        return sight.right, sides[sight.side.axis].opposite
    return sides[sight.side.axis].opposite, sight.up


def _page(
    design: Design, part: Part, sight: Sight, shape: FullSize, grid: Grid, column: int, row: int,
    paper: tuple[float, float], style: LengthStyle,
) -> Drawing:  # fmt: skip
    corner = grid.corner(column, row)
    frame = grid.frame
    move = (RULER_ROOM - corner[0], RULER_ROOM - corner[1])
    window = rectangle(corner[0], corner[1], corner[0] + frame[0], corner[1] + frame[1])
    marks: list[Mark] = [*_tinted(shape, window, move)]
    marks += [Stroke(line, Meaning.CONTEXT) for line in _clipped_lines(shape, window, move)]
    marks += _edges(shape, window, move)
    marks += _centre_line(shape, window, move)
    marks.append(Stroke(rectangle_points(RULER_ROOM, RULER_ROOM, *frame), Meaning.HAIR, closed=True))
    lines = unary_union([line_of(mark) for mark in marks if isinstance(mark, Stroke)])
    joins = tuple(_joins(grid, column, row, move, lines))
    marks += joins
    centre = tuple(_centre_line(shape, window, move))
    kept = unary_union([box_of(mark) for mark in (*joins, *centre) if isinstance(mark, Stroke | Text)])
    marks += labels(design, part, sight, shape, window, move, kept, hole_words(part, sight, style))
    marks += rulers_along((RULER_ROOM, RULER_ROOM))
    top = RULER_ROOM + frame[1]
    start = begins(part, sight, style)
    marks += head(
        part, grid, column, row, shape, (RULER_ROOM, top + 5.0), paper[0], start, caption(part, sight.side)
    )
    place = f"row {row + 1} of {grid.rows}, column {column + 1} of {grid.columns}"
    return Drawing(
        paper[0], max(top + HEAD, RULER_ROOM + 112.0), tuple(marks),
        f"Full-size pattern of {part.mark}, {place}",
        f"The outline of {part.title} at full size, {place}. Check both rulers with a tape before cutting.",
    )  # fmt: skip


def _tinted(shape: FullSize, window: Any, move: Xy) -> Iterator[Mark]:
    for piece in pieces(shape.shape.intersection(window), "Polygon"):
        loops = [piece.exterior, *piece.interiors]
        yield Fill(tuple(tuple(plus(p, move) for p in loop.coords[:-1]) for loop in loops), Tone.NEW_TOP)
    for bore in shape.bores:
        if bore.through and window.contains(LineString([bore.at, (bore.at[0] + 0.01, bore.at[1])])):
            yield Fill((tuple(plus(p, move) for p in bore_loop(bore)),), Tone.PAPER)


def _clipped_lines(shape: FullSize, window: Any, move: Xy) -> Iterator[tuple[Xy, ...]]:
    """Give the edges of cuts that do not go through, and of blind holes, thin."""
    loops = [*shape.marked, *(bore_loop(bore) for bore in shape.bores)]
    for loop in loops:
        line = LineString([*loop, loop[0]]).intersection(shape.shape.buffer(0.01)).intersection(window)
        for piece in pieces(line, "LineString"):
            yield tuple(plus(point, move) for point in piece.coords)
    for bore in shape.bores:
        arm = bore.radius + 2.0
        (x, y) = bore.at
        for line in (LineString([(x - arm, y), (x + arm, y)]), LineString([(x, y - arm), (x, y + arm)])):
            for piece in pieces(line.intersection(window), "LineString"):
                yield tuple(plus(point, move) for point in piece.coords)


def _edges(shape: FullSize, window: Any, move: Xy) -> Iterator[Mark]:
    """Draw the outline, and dashed the edges of the blank that are sawn away: the pattern is laid by them."""
    blank = rectangle(0, 0, shape.width, shape.height).exterior
    sawn = blank.difference(shape.shape.boundary.buffer(0.05)).intersection(window)
    for piece in pieces(sawn, "LineString"):
        yield Stroke(tuple(plus(point, move) for point in piece.coords), Meaning.HIDDEN)
    for loop in (shape.shape.exterior, *shape.shape.interiors):
        for piece in pieces(LineString(loop.coords).intersection(window), "LineString"):
            yield Stroke(tuple(plus(point, move) for point in piece.coords), Meaning.VISIBLE)


def _joins(grid: Grid, column: int, row: int, move: Xy, lines: Any) -> Iterator[Mark]:
    """Draw the join lines in the middle of the overlaps, diamonds on them, and what lies beyond.

    Diamonds, which nobody takes for a hole, stand at fixed places of the part: those of two tiles cover
    each other.
    """
    low = grid.corner(column, row)
    for way, number, count in ((0, column, grid.columns), (1, row, grid.rows)):
        for step, there in ((-1, number > 0), (1, number < count - 1)):
            if not there:
                continue
            line = low[way] + (OVERLAP / 2 if step < 0 else grid.frame[way] - OVERLAP / 2)
            start, end = low[1 - way], low[1 - way] + grid.frame[1 - way]
            yield Stroke((_at(way, line, start, move), _at(way, line, end, move)), Meaning.CENTRE)
            neighbour = number + step + 1
            words = f"{'column' if way == 0 else 'row'} {neighbour} joins here"
            for share in (0.2, 0.8):
                spot = start + (end - start) * share
                middle = _at(way, line, spot, move)
                yield Stroke(_diamond(middle), Meaning.CONTEXT, closed=True)
            said = []
            for share in (0.5, 0.35, 0.65, 0.25, 0.75, 0.42, 0.58):
                x, y = _at(way, line - step * (OVERLAP / 2 + 3.5), start + (end - start) * share, move)
                height = SMALL_LABEL * 0.65
                if way == 0:
                    at, angle = (x + (height if step < 0 else 0.0), y), 90.0
                else:
                    at, angle = (x, y - (height if step > 0 else 0.0)), 0.0
                text = Text(
                    at, words, SMALL_LABEL, "middle", tone=Tone.SECONDARY, angle=angle, role="pattern"
                )
                said.append((float(box_of(text).intersection(lines).length), text))
            yield min(said, key=lambda item: item[0])[1]


def _diamond(at: Xy) -> tuple[Xy, ...]:
    return tuple(
        plus(at, step) for step in ((DIAMOND, 0.0), (0.0, DIAMOND), (-DIAMOND, 0.0), (0.0, -DIAMOND))
    )


def _centre_line(shape: FullSize, window: Any, move: Xy) -> Iterator[Mark]:
    """Draw the part's centre line across its width, where what is sawn is alike on both sides of it."""
    middle = shape.width / 2
    turned = scale(shape.shape, xfact=-1.0, yfact=1.0, origin=(middle, 0.0))
    if shape.shape.symmetric_difference(turned).area > ALIKE * shape.shape.area:
        return
    line = LineString([(middle, -3.0), (middle, shape.height + 3.0)]).intersection(window)
    for piece in pieces(line, "LineString"):
        yield Stroke(tuple(plus(point, move) for point in piece.coords), Meaning.CENTRE)


def _at(way: int, along: float, across: float, move: Xy) -> Xy:
    return plus((along, across) if way == 0 else (across, along), move)

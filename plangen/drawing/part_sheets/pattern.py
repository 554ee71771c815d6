"""Full-size patterns: the outline of a part over as many sheets as it takes, with proof of the scale."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil
from typing import Any

from shapely.affinity import scale, translate
from shapely.geometry import LineString, Polygon
from shapely.geometry import box as rectangle
from shapely.ops import polylabel, unary_union

from plangen.design.model import Design, Part
from plangen.drawing.dimension_lines import arrowhead
from plangen.drawing.part_sheets.captions import caption
from plangen.drawing.part_sheets.pattern_outline import FullSize, bore_loop, full_size
from plangen.drawing.part_sheets.plan import part_dimensions
from plangen.drawing.part_sheets.rulers import RULER_ROOM, rulers_along
from plangen.drawing.part_sheets.sights import Sight, arrangements
from plangen.drawing.sheet.measure import text_corners, text_length
from plangen.drawing.sheet.model import Drawing, Fill, Mark, Meaning, Stroke, Text, Tone, Weight, Xy
from plangen.joinery.operation import Form
from plangen.units import LengthStyle, print_length

ALIKE = 1e-4  # share of the area that two halves may differ by and still be drawn with a centre line
OVERLAP = 10.0  # mm that two tiles have in common
HEAD = 24.0  # mm at the top for the name, the tile's place and the map
LABEL = 7.06  # mm of type size, 20 pt: figures 4.6 mm high
SMALL_LABEL = 5.3  # 15 pt
DIAMOND = 3.0  # mm, half the width of a registration mark


@dataclass(frozen=True, slots=True)
class _Grid:
    """How the region is cut into tiles: ``low`` is the region's corner, ``frame`` a tile's size in mm."""

    low: Xy
    frame: Xy
    columns: int
    rows: int

    def corner(self, column: int, row: int) -> Xy:
        """Give the low left corner of a tile on the part; row 0 is the lowest."""
        return (
            self.low[0] + column * (self.frame[0] - OVERLAP),
            self.low[1] + row * (self.frame[1] - OVERLAP),
        )


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
        grid = _grid(shape, frame)
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


def _grid(shape: FullSize, frame: Xy) -> _Grid:
    low_x, low_y, high_x, high_y = shape.region
    numbers, starts, sizes = [], [], []
    for low, high, room in ((low_x, high_x, frame[0]), (low_y, high_y, frame[1])):
        air = 4.0  # so that an edge of the part never lies on the frame
        reach = high - low + 2 * air
        number = 1 if reach <= room else ceil((reach - OVERLAP) / (room - OVERLAP))
        size = min(room, (reach + (number - 1) * OVERLAP) / number) if number > 1 else room
        covered = number * size - (number - 1) * OVERLAP
        numbers.append(number)
        sizes.append(size)
        starts.append((low + high) / 2 - covered / 2)
    return _Grid((starts[0], starts[1]), (sizes[0], sizes[1]), numbers[0], numbers[1])


def _page(
    design: Design, part: Part, sight: Sight, shape: FullSize, grid: _Grid, column: int, row: int,
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
    marks.append(Stroke(_rectangle(RULER_ROOM, RULER_ROOM, *frame), Meaning.HAIR, closed=True))
    lines = unary_union([line_of(mark) for mark in marks if isinstance(mark, Stroke)])
    joins = tuple(_joins(grid, column, row, move, lines))
    marks += joins
    centre = tuple(_centre_line(shape, window, move))
    kept = unary_union([box_of(mark) for mark in (*joins, *centre) if isinstance(mark, Stroke | Text)])
    marks += _labels(design, part, sight, shape, window, move, kept, _hole_words(part, sight, style))
    marks += rulers_along((RULER_ROOM, RULER_ROOM))
    top = RULER_ROOM + frame[1]
    begins = _begins(part, sight, style)
    marks += _head(
        part, grid, column, row, shape, (RULER_ROOM, top + 5.0), paper[0], begins, caption(part, sight.side)
    )
    place = f"row {row + 1} of {grid.rows}, column {column + 1} of {grid.columns}"
    return Drawing(
        paper[0], max(top + HEAD, RULER_ROOM + 112.0), tuple(marks),
        f"Full-size pattern of {part.mark}, {place}",
        f"The outline of {part.title} at full size, {place}. Check both rulers with a tape before cutting.",
    )  # fmt: skip


def _tinted(shape: FullSize, window: Any, move: Xy) -> Iterator[Mark]:
    for piece in _pieces(shape.shape.intersection(window), "Polygon"):
        loops = [piece.exterior, *piece.interiors]
        yield Fill(tuple(tuple(_plus(p, move) for p in loop.coords[:-1]) for loop in loops), Tone.NEW_TOP)
    for bore in shape.bores:
        if bore.through and window.contains(LineString([bore.at, (bore.at[0] + 0.01, bore.at[1])])):
            yield Fill((tuple(_plus(p, move) for p in bore_loop(bore)),), Tone.PAPER)


def _clipped_lines(shape: FullSize, window: Any, move: Xy) -> Iterator[tuple[Xy, ...]]:
    """Give the edges of cuts that do not go through, and of blind holes, thin."""
    loops = [*shape.marked, *(bore_loop(bore) for bore in shape.bores)]
    for loop in loops:
        line = LineString([*loop, loop[0]]).intersection(shape.shape.buffer(0.01)).intersection(window)
        for piece in _pieces(line, "LineString"):
            yield tuple(_plus(point, move) for point in piece.coords)
    for bore in shape.bores:
        arm = bore.radius + 2.0
        (x, y) = bore.at
        for line in (LineString([(x - arm, y), (x + arm, y)]), LineString([(x, y - arm), (x, y + arm)])):
            for piece in _pieces(line.intersection(window), "LineString"):
                yield tuple(_plus(point, move) for point in piece.coords)


def _edges(shape: FullSize, window: Any, move: Xy) -> Iterator[Mark]:
    """Draw the outline, and dashed the edges of the blank that are sawn away: the pattern is laid by them."""
    blank = rectangle(0, 0, shape.width, shape.height).exterior
    sawn = blank.difference(shape.shape.boundary.buffer(0.05)).intersection(window)
    for piece in _pieces(sawn, "LineString"):
        yield Stroke(tuple(_plus(point, move) for point in piece.coords), Meaning.HIDDEN)
    for loop in (shape.shape.exterior, *shape.shape.interiors):
        for piece in _pieces(LineString(loop.coords).intersection(window), "LineString"):
            yield Stroke(tuple(_plus(point, move) for point in piece.coords), Meaning.VISIBLE)


def _joins(grid: _Grid, column: int, row: int, move: Xy, lines: Any) -> Iterator[Mark]:
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
        _plus(at, step) for step in ((DIAMOND, 0.0), (0.0, DIAMOND), (-DIAMOND, 0.0), (0.0, -DIAMOND))
    )


def _centre_line(shape: FullSize, window: Any, move: Xy) -> Iterator[Mark]:
    """Draw the part's centre line across its width, where what is sawn is alike on both sides of it."""
    middle = shape.width / 2
    turned = scale(shape.shape, xfact=-1.0, yfact=1.0, origin=(middle, 0.0))
    if shape.shape.symmetric_difference(turned).area > ALIKE * shape.shape.area:
        return
    line = LineString([(middle, -3.0), (middle, shape.height + 3.0)]).intersection(window)
    for piece in _pieces(line, "LineString"):
        yield Stroke(tuple(_plus(point, move) for point in piece.coords), Meaning.CENTRE)


def line_of(stroke: Stroke) -> Any:
    """Give a stroke as a line."""
    return LineString((*stroke.points, stroke.points[0]) if stroke.closed else stroke.points)


def box_of(mark: Stroke | Text) -> Any:
    """Give the room a mark takes, with 1.5 mm of air."""
    shape = Polygon(text_corners(mark)) if isinstance(mark, Text) else line_of(mark)
    return shape.buffer(1.5)


def _labels(
    design: Design, part: Part, sight: Sight, shape: FullSize, window: Any, move: Xy, kept: Any,
    holes: tuple[str, ...],
) -> Iterator[Mark]:  # fmt: skip
    """Say what the part is, its holes, which way the grain runs and what is waste, where there is room."""
    air = 8.0
    clear_of = translate(kept, -move[0], -move[1])
    inside = shape.shape.intersection(window).difference(clear_of).buffer(-air)
    for line in shape.marked:
        inside = inside.difference(LineString([*line, line[0]]).buffer(5.0))
    for bore in shape.bores:
        inside = inside.difference(
            LineString([bore.at, (bore.at[0] + 0.01, bore.at[1])]).buffer(bore.radius + 5)
        )
    spot = _roomiest(inside)
    words = [f"{part.mark}  {part.title}"]
    if len(part.copies) > 1:
        words.append(f"make {len(part.copies)}")
    if part.mirror:
        words.append(f"turn over for {design.part(part.mirror).mark}")
    if spot is not None:
        at, clear = spot
        if _label_size([*words, *holes], clear) >= 4.0:
            words += holes
        size = _label_size(words, clear)
        if size >= 4.0:
            x, y = _plus(at, move)
            y += (len(words) - 1) * size * 0.65
            for number, word in enumerate(words):
                weight = Weight.SEMIBOLD if number == 0 else Weight.REGULAR
                yield Text((x, y - number * size * 1.3), word, size, "middle", weight, role="pattern")
            below = (x, y - len(words) * size * 1.3 - 1.0)
            arrows = [tuple(_grain(part, sight, below, half)) for half in (min(clear, 25.0), 8.0, 5.0)]
            yield from next((one for one in arrows if not _over(one, kept)), arrows[-1])
    gone = (
        rectangle(0, 0, shape.width, shape.height)
        .difference(shape.shape)
        .intersection(window)
        .difference(clear_of)
        .buffer(-4.0)
    )
    spare = _roomiest(gone)
    if spare is not None and spare[1] > 7.0:
        x, y = _plus(spare[0], move)
        yield Text((x, y - 2.0), "waste", SMALL_LABEL, "middle", tone=Tone.SECONDARY, role="pattern")


def _label_size(words: list[str], clear: float) -> float:
    """Give the type size in mm at which the words go into a circle of radius ``clear``."""
    wide = 2 * clear / max(text_length(word, 1.0) for word in words) * 0.9
    return min(LABEL, wide, 2 * clear / (1.3 * (len(words) + 1)) if len(words) > 2 else LABEL)


def _hole_words(part: Part, sight: Sight, style: LengthStyle) -> tuple[str, ...]:
    """Say how wide and how deep the holes are that the pattern shows, as the part sheet does."""
    notes = part_dimensions(part, style).notes
    return tuple(note.text for note in notes if note.kind == "hole" and sight.is_along(note.side.axis))


def _over(marks: tuple[Mark, ...], kept: Any) -> bool:
    return any(box_of(mark).intersects(kept) for mark in marks if isinstance(mark, Stroke | Text))


def _grain(part: Part, sight: Sight, at: Xy, half: float) -> Iterator[Mark]:
    """Draw the grain's arrow, two-headed, with its word: below the label, or beside when it runs upward."""
    x, y = at
    if sight.right.axis is part.runs:
        y -= 2.0
        ends = ((x - half, y), (x + half, y))
        yield Text((x, y - 5.5), "grain", SMALL_LABEL, "middle", role="pattern")
        ways = ((-1.0, 0.0), (1.0, 0.0))
    else:
        half = min(half, 12.0)
        ends = ((x, y - 2 * half), (x, y))
        yield Text((x + 2.5, y - half - 1.7), "grain", SMALL_LABEL, role="pattern")
        ways = ((0.0, -1.0), (0.0, 1.0))
    yield Stroke(ends, Meaning.DIMENSION)
    for end, way in zip(ends, ways, strict=True):
        yield arrowhead(end, way)


def _begins(part: Part, sight: Sight, style: LengthStyle) -> str:
    """Say how far from the part's left-hand end in this view what is sawn to the line begins."""
    axis = sight.right.axis
    size = part.blank.size(axis)
    spans = [
        feature.span(axis)
        for operation in part.operations
        if operation.kind in ("curve", "outline")
        for feature in operation.features
        if feature.form is Form.OUTLINE
    ]
    if not spans:
        return ""
    low, high = min(span.low for span in spans), max(span.high for span in spans)
    far = low if sight.right.high else size - high
    if not far.mm:
        return ""
    kind = "end" if axis is part.runs else "edge"
    return (
        f"The curve begins {print_length(far, style, unit=True)} from the {sight.right.opposite.word} {kind}"
    )


def _head(
    part: Part, grid: _Grid, column: int, row: int, shape: FullSize, at: Xy, right: float, begins: str,
    face: str,
) -> Iterator[Mark]:  # fmt: skip
    """Name the face and the tile, say where the shape begins, and show the tile's place on a small map."""
    x, y = at
    many = grid.columns * grid.rows > 1
    place = f"Row {row + 1}, column {column + 1}" if many else "One sheet"
    yield Text(
        (x, y + 11.0),
        f"{part.mark}  {face}, {place[0].lower()}{place[1:]}",
        LABEL,
        weight=Weight.SEMIBOLD,
        role="pattern",
    )
    yield Text((x, y + 4.6), "Full size: a tape must agree with both rulers", SMALL_LABEL, role="pattern")
    if begins:
        yield Text((x, y - 1.6), begins, SMALL_LABEL, role="pattern")
    if not many:
        return
    extent = (
        grid.columns * (grid.frame[0] - OVERLAP) + OVERLAP, grid.rows * (grid.frame[1] - OVERLAP) + OVERLAP,
    )  # fmt: skip
    scale = min(15.0 / extent[1], 36.0 / extent[0])
    left, low = right - extent[0] * scale - 0.5, y - 1.0
    outline = [((px - grid.low[0]) * scale + left, (py - grid.low[1]) * scale + low)
               for px, py in shape.shape.exterior.simplify(1.0).coords]  # fmt: skip
    frame = rectangle(left, low, left + extent[0] * scale, low + extent[1] * scale)
    for c in range(grid.columns):
        for r in range(grid.rows):
            corner = grid.corner(c, r)
            tile = _rectangle(
                (corner[0] - grid.low[0]) * scale + left, (corner[1] - grid.low[1]) * scale + low,
                grid.frame[0] * scale, grid.frame[1] * scale,
            )  # fmt: skip
            here = (c, r) == (column, row)
            if here:
                yield Fill((tile,), Tone.NEW_SIDE)
            yield Stroke(tile, Meaning.RULE if here else Meaning.HAIR, closed=True)
    for piece in _pieces(LineString(outline).intersection(frame), "LineString"):
        yield Stroke(tuple(piece.coords), Meaning.CONTEXT)


def _roomiest(area: Any) -> tuple[Xy, float] | None:
    pieces = [piece for piece in _pieces(area, "Polygon") if piece.area > 30.0]
    if not pieces:
        return None
    best = max(pieces, key=lambda piece: piece.area)
    spot = polylabel(best, tolerance=1.0)
    return (float(spot.x), float(spot.y)), float(best.boundary.distance(spot))


def _pieces(shape: Any, kind: str) -> list[Any]:
    if shape.is_empty:
        return []
    if shape.geom_type == kind:
        return [shape]
    return [piece for part in getattr(shape, "geoms", ()) for piece in _pieces(part, kind)]


def _rectangle(x: float, y: float, width: float, height: float) -> tuple[Xy, ...]:
    return ((x, y), (x + width, y), (x + width, y + height), (x, y + height))


def _at(way: int, along: float, across: float, move: Xy) -> Xy:
    return _plus((along, across) if way == 0 else (across, along), move)


def _plus(one: Xy, two: Xy) -> Xy:
    return (one[0] + two[0], one[1] + two[1])

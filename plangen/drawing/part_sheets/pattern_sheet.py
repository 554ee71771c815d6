"""One sheet of a full-size pattern: a tile of the shape, how it joins the next, rulers, and its head."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from shapely.geometry import LineString, Point, Polygon
from shapely.geometry import box as rectangle
from shapely.ops import unary_union

from plangen.design.model import Design, Part
from plangen.drawing.dimension_lines import arrowhead
from plangen.drawing.part_sheets.captions import caption
from plangen.drawing.part_sheets.pattern_checks import ARM, Diagonal, LayLine
from plangen.drawing.part_sheets.pattern_edges import Window, arc_stroke, clipped, strokes
from plangen.drawing.part_sheets.pattern_grid import HALVES, OVERLAP, Cutting, Grid, is_alike
from plangen.drawing.part_sheets.pattern_map import little_map
from plangen.drawing.part_sheets.pattern_marks import pieces, plus, rectangle_points
from plangen.drawing.part_sheets.pattern_outline import Bore, FullSize
from plangen.drawing.part_sheets.pattern_room import LABEL, SMALL_LABEL, Room, block, block_size, inked
from plangen.drawing.part_sheets.pattern_words import Ground, letters, side_name
from plangen.drawing.part_sheets.rulers import RULER_ROOM, rulers_along
from plangen.drawing.part_sheets.sights import Sight
from plangen.drawing.sheet.model import Drawing, Fill, Mark, Meaning, Stroke, Text, Tone, Weight, Xy, carried
from plangen.units import LengthStyle, print_length

HEAD = 24.0  # mm at the top for the name, the tile's place and the map
DIAMOND = 3.0  # mm, half the width of a registration mark
SIGHT = 14.0  # mm of the sight line of a hole that leans, beyond its rim
SHARES = (0.2, 0.8)  # where along a join the registration marks stand


@dataclass(frozen=True, slots=True)
class Sheet:
    """One tile of one grid; ``number`` counts all sheets of the view, ``place`` says which it is."""

    design: Design
    part: Part
    sight: Sight
    shape: FullSize
    cutting: Cutting
    grid: Grid
    column: int
    row: int
    number: int
    place: str
    check: Diagonal | None  # the long check over the tiles of this grid
    lay_lines: tuple[LayLine, ...]

    @property
    def window(self) -> Window:
        """The stretch of the part that it shows."""
        return self.grid.window(self.column, self.row)


def sheet_drawing(sheet: Sheet, paper: tuple[float, float], style: LengthStyle) -> Drawing:
    """Draw the sheet; nothing scales it after this."""
    low_x, low_y, _, _ = sheet.window
    frame = sheet.grid.frame
    move = (RULER_ROOM - low_x, RULER_ROOM - low_y)
    room = Room()
    ground = Ground(sheet.design, sheet.part, sheet.sight, sheet.shape, sheet.window, move, style, room)
    marks: list[Mark] = [_moved(mark, move) for mark in (*_tinted(sheet), *_lines(sheet))]
    joins = tuple(_moved(mark, move) for mark in _joins(sheet))
    border = Stroke(rectangle_points(RULER_ROOM, RULER_ROOM, *frame), Meaning.HAIR, closed=True)
    marks += [border, *joins, *(_moved(mark, move) for mark in (*_lay_lines(sheet), *_crosses(sheet)))]
    room.take(inked(marks))
    for words in (
        _join_words(sheet, ground), _cross_words(sheet, ground, style), _lay_words(sheet, ground, style),
        _centre_words(sheet, ground), letters(ground),
    ):  # fmt: skip
        for mark in words:
            marks.append(mark)
            room.take([mark])
    marks += rulers_along((RULER_ROOM, RULER_ROOM))
    top = RULER_ROOM + frame[1]
    height = max(top + HEAD, RULER_ROOM + 112.0)
    marks += _head(sheet, top, paper[0])
    view = caption(sheet.part, sheet.sight.side)
    place = f"sheet {sheet.number} of {sheet.cutting.sheets}" + (f", {sheet.place}" if sheet.place else "")
    return Drawing(
        paper[0], height, tuple(marks),
        f"Full-size pattern of {sheet.part.mark}, {view.lower()}, {place}",
        f"The outline of {sheet.part.title} at full size, {view.lower()}, {place}. "
        "Check both rulers with a tape before cutting.",
    )  # fmt: skip


def _moved(mark: Mark, move: Xy) -> Mark:
    return carried(mark, lambda point: plus(point, move))


def _tinted(sheet: Sheet) -> Iterator[Mark]:
    window = rectangle(*sheet.window)
    for piece in pieces(sheet.shape.shape.intersection(window), "Polygon"):
        loops = [piece.exterior, *piece.interiors]
        yield Fill(tuple(tuple(loop.coords[:-1]) for loop in loops), Tone.NEW_TOP)
    for bore in sheet.shape.bores:
        if bore.through:
            area = Polygon(arc_stroke(bore.rim, Meaning.RIM).points).intersection(window)
            for piece in pieces(area, "Polygon"):
                yield Fill((tuple(piece.exterior.coords[:-1]),), Tone.PAPER)


def _lines(sheet: Sheet) -> Iterator[Mark]:
    """Draw the cuts that are marked, the holes, the blank's edges that are sawn away, and the outline."""
    shape, window = sheet.shape, sheet.window
    area = rectangle(*window)
    for one in shape.marked:
        line = LineString([*one.loop, one.loop[0]]).intersection(shape.shape.buffer(0.01)).intersection(area)
        for piece in pieces(line, "LineString"):
            yield Stroke(tuple(piece.coords), Meaning.CONTEXT if one.near else Meaning.HIDDEN)
    for bore in shape.bores:
        seen = bore.near or bore.through
        for arc in clipped(bore.rim, window):
            yield arc_stroke(arc, Meaning.CONTEXT if seen else Meaning.HIDDEN)
        for line in _cross_lines(bore.at, bore.reach + 2.0, bore.way if bore.lean else (1.0, 0.0)):
            for piece in pieces(LineString(line).intersection(area), "LineString"):
                yield Stroke(tuple(piece.coords), Meaning.CONTEXT)
        if bore.lean:
            yield from _sight_line(bore, window)
    blank = rectangle(0, 0, shape.width, shape.height).exterior
    sawn = blank.difference(shape.shape.boundary.buffer(0.05)).intersection(area)
    for piece in pieces(sawn, "LineString"):
        for chord in pairwise(piece.coords):
            yield Stroke(chord, Meaning.PHANTOM)
    for edge in shape.edges:
        yield from strokes(edge, window, Meaning.VISIBLE)
    middle = {"left": ((shape.width / 2, -3.0), (shape.width / 2, shape.height + 3.0)),
              "low": ((-3.0, shape.height / 2), (shape.width + 3.0, shape.height / 2))}  # fmt: skip
    for half in HALVES:
        if half == sheet.cutting.half or (half == "left" and is_alike(shape, half)):
            for piece in pieces(LineString(middle[half]).intersection(area), "LineString"):
                yield Stroke(tuple(piece.coords), Meaning.CENTRE)


def _sight_line(bore: Bore, window: Window) -> Iterator[Mark]:
    """Draw the line that the bevel gauge stands on, with an arrow to where the hole goes deeper."""
    (x, y), (a, b) = bore.at, bore.way
    start, end = bore.reach + 2.0, bore.reach + 2.0 + SIGHT
    tip = (x + a * end, y + b * end)
    if rectangle(*window).contains(LineString([bore.at, tip])):
        yield Stroke(((x + a * start, y + b * start), tip), Meaning.DIMENSION)
        yield arrowhead(tip, bore.way)


def _cross_lines(at: Xy, arm: float, way: Xy) -> tuple[tuple[Xy, Xy], ...]:
    """Give the two lines of a cross, the first along ``way``: a hole that leans has its sight line there."""
    (x, y), (a, b) = at, way
    return (
        ((x - a * arm, y - b * arm), (x + a * arm, y + b * arm)),
        ((x + b * arm, y - a * arm), (x - b * arm, y + a * arm)),
    )


def _joins(sheet: Sheet) -> Iterator[Stroke]:
    """Draw the join lines in the middle of the overlaps, and diamonds on them.

    Diamonds, which nobody takes for a hole, stand at fixed places of the part: those of two tiles cover
    each other, and half of one meets half of the other where a sheet is cut along the line.
    """
    for way, step in _neighbours(sheet):
        line, start, end = _join_line(sheet, way, step)
        yield Stroke((_at(way, line, start), _at(way, line, end)), Meaning.CENTRE)
        for share in SHARES:
            x, y = _at(way, line, start + (end - start) * share)
            corners = ((DIAMOND, 0.0), (0.0, DIAMOND), (-DIAMOND, 0.0), (0.0, -DIAMOND))
            yield Stroke(tuple((x + dx, y + dy) for dx, dy in corners), Meaning.CONTEXT, closed=True)


def _neighbours(sheet: Sheet) -> Iterator[tuple[int, int]]:
    """Give the sides on which another tile joins: the direction (0 across, 1 upward) and the step."""
    for way, number, count in ((0, sheet.column, sheet.grid.columns), (1, sheet.row, sheet.grid.rows)):
        if number > 0:
            yield way, -1
        if number < count - 1:
            yield way, 1


def _join_line(sheet: Sheet, way: int, step: int) -> tuple[float, float, float]:
    """Where a join line lies, and from where to where it runs."""
    window = sheet.window
    line = window[way] + OVERLAP / 2 if step < 0 else window[way + 2] - OVERLAP / 2
    return line, window[1 - way], window[3 - way]


def _at(way: int, along: float, across: float) -> Xy:
    return (along, across) if way == 0 else (across, along)


def _join_words(sheet: Sheet, ground: Ground) -> Iterator[Mark]:
    """Say at each join what to do: this sheet is cut there, or the next is laid up to the line."""
    for way, step in _neighbours(sheet):
        line, start, end = _join_line(sheet, way, step)
        other = (sheet.column, sheet.row)[way] + step + 1
        name = f"{'column' if way == 0 else 'row'} {other}"
        words = (f"cut here, lay on {name}" if step < 0 else f"{name} comes up to here",)
        near = _at(way, line - step * (OVERLAP / 2 + 5.0), (start + end) / 2)
        yield from _beside(words, ground, near, 24.0, upright=way == 0, tone=Tone.SECONDARY)


def _beside(
    words: tuple[str, ...], ground: Ground, near: Xy, reach: float, *, upright: bool = False,
    tone: Tone = Tone.INK,
) -> Iterator[Mark]:  # fmt: skip
    """Set words as near to a point of the part as there is room, along a line that may be upright."""
    wide, high = block_size(words, LABEL)
    size = (high, wide) if upright else (wide, high)
    at = plus(near, ground.move)
    strip = Point(at).buffer(reach).envelope
    if upright:
        strip = unary_union([strip, rectangle(at[0] - reach / 2, 0, at[0] + reach / 2, 2000.0)])
    else:
        strip = unary_union([strip, rectangle(0, at[1] - reach / 2, 2000.0, at[1] + reach / 2)])
    spot = ground.room.spot(strip.intersection(ground.sheet), *size, at)
    if spot is not None:
        yield from block(words, spot, LABEL, tone=tone, upright=upright)


def _crosses(sheet: Sheet) -> Iterator[Stroke]:
    """Draw the ends of the long check that lie on this sheet."""
    check = sheet.check
    for at in () if check is None else (check.start, check.end):
        if rectangle(*sheet.window).contains(Point(at)):
            for line in _cross_lines(at, ARM, (1.0, 0.0)):
                yield Stroke(line, Meaning.DIMENSION)
            ring = tuple(
                (at[0] + dx * ARM / 2, at[1] + dy * ARM / 2)
                for dx, dy in ((1, 1), (-1, 1), (-1, -1), (1, -1))
            )
            yield Stroke(ring, Meaning.DIMENSION, closed=True)


def _cross_words(sheet: Sheet, ground: Ground, style: LengthStyle) -> Iterator[Mark]:
    check = sheet.check
    if check is None:
        return
    length = print_length(check.length, style, unit=True)
    for at, words in ((check.start, f"P to Q {length}"), (check.end, f"Q to P {length}")):
        if rectangle(*sheet.window).contains(Point(at)):
            yield from _beside((words,), ground, (at[0], at[1] + ARM + 6.0), 30.0)


def _lay_lines(sheet: Sheet) -> Iterator[Stroke]:
    for line in sheet.lay_lines:
        window = sheet.window
        if window[line.way] < line.at < window[line.way + 2]:
            ends = (
                _at(line.way, line.at, window[1 - line.way]),
                _at(line.way, line.at, window[3 - line.way]),
            )
            seen = LineString(ends).intersection(sheet.shape.shape.buffer(3.0))
            for piece in pieces(seen, "LineString"):
                yield Stroke(tuple(piece.coords), Meaning.EXTENSION)


def _lay_words(sheet: Sheet, ground: Ground, style: LengthStyle) -> Iterator[Mark]:
    """Say how far a lay line is from the board's end or edge."""
    for line in sheet.lay_lines:
        window = sheet.window
        if window[line.way] < line.at < window[line.way + 2]:
            name = side_name(sheet.part, sheet.sight, line.way, False)
            length = print_length(line.length, style, unit=True)
            across = (window[1 - line.way] + window[3 - line.way]) / 2
            near = _at(line.way, line.at + 6.0, across)
            for words in ((f"{length} from {name}",), (length, f"from {name}")):
                said = tuple(_beside(words, ground, near, 24.0, upright=line.way == 0))
                yield from said
                if said:
                    break


def _centre_words(sheet: Sheet, ground: Ground) -> Iterator[Mark]:
    half = sheet.cutting.half
    middle = {"left": sheet.shape.width / 2, "low": sheet.shape.height / 2}.get(half)
    way = 0 if half == "left" else 1
    window = sheet.window
    if middle is not None and window[way] < middle < window[way + 2]:
        near = _at(way, middle - 6.0, (window[1 - way] + window[3 - way]) / 2)
        yield from _beside(
            ("centre line: turn over here",), ground, near, 24.0, upright=way == 0, tone=Tone.SECONDARY
        )


def _head(sheet: Sheet, top: float, right: float) -> Iterator[Mark]:
    """Name the part, its face and the sheet, and show the sheet's place on a small map."""
    face = caption(sheet.part, sheet.sight.side)
    many = sheet.cutting.sheets
    place = f"Sheet {sheet.number} of {many}" if many > 1 else "One sheet"
    said = f"{place}: {sheet.place}" if sheet.place else place
    yield Text(
        (RULER_ROOM, top + 17.0), f"{sheet.part.mark}  {face}", LABEL, weight=Weight.SEMIBOLD, role="pattern"
    )
    yield Text((RULER_ROOM, top + 8.6), said, LABEL, role="pattern")
    check = "Full size: a tape must agree with both rulers"
    low_x, low_y, high_x, high_y = sheet.window
    if any(
        not (bore.near or bore.through) and low_x < bore.at[0] < high_x and low_y < bore.at[1] < high_y
        for bore in sheet.shape.bores
    ):
        check = "Full size: check both rulers. Dashed holes: from behind"
    yield Text((RULER_ROOM, top + 2.4), check, SMALL_LABEL, role="note")
    if many > 1:
        yield from little_map(
            sheet.shape, sheet.cutting, (right - 0.5, top + 2.0), (36.0, 20.0), here=sheet.number
        )

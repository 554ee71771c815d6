"""What a pattern sheet says: the part, its holes and grain, where it begins, which tile it is."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from shapely.affinity import translate
from shapely.geometry import LineString
from shapely.geometry import box as rectangle
from shapely.ops import polylabel

from plangen.design.model import Design, Part
from plangen.drawing.dimension_lines import arrowhead
from plangen.drawing.part_sheets.pattern_grid import OVERLAP, Grid
from plangen.drawing.part_sheets.pattern_marks import box_of, pieces, plus, rectangle_points
from plangen.drawing.part_sheets.pattern_outline import FullSize
from plangen.drawing.part_sheets.plan import part_dimensions
from plangen.drawing.part_sheets.sights import Sight
from plangen.drawing.sheet.measure import text_length
from plangen.drawing.sheet.model import Fill, Mark, Meaning, Stroke, Text, Tone, Weight, Xy
from plangen.joinery.operation import Form
from plangen.units import LengthStyle, print_length

LABEL = 7.06  # mm of type size, 20 pt: figures 4.6 mm high
SMALL_LABEL = 5.3  # 15 pt


def labels(
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
            x, y = plus(at, move)
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
        x, y = plus(spare[0], move)
        yield Text((x, y - 2.0), "waste", SMALL_LABEL, "middle", tone=Tone.SECONDARY, role="pattern")


def _label_size(words: list[str], clear: float) -> float:
    """Give the type size in mm at which the words go into a circle of radius ``clear``."""
    wide = 2 * clear / max(text_length(word, 1.0) for word in words) * 0.9
    return min(LABEL, wide, 2 * clear / (1.3 * (len(words) + 1)) if len(words) > 2 else LABEL)


def hole_words(part: Part, sight: Sight, style: LengthStyle) -> tuple[str, ...]:
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


def begins(part: Part, sight: Sight, style: LengthStyle) -> str:
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


def head(
    part: Part, grid: Grid, column: int, row: int, shape: FullSize, at: Xy, right: float, start: str,
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
    if start:
        yield Text((x, y - 1.6), start, SMALL_LABEL, role="pattern")
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
            tile = rectangle_points(
                (corner[0] - grid.low[0]) * scale + left, (corner[1] - grid.low[1]) * scale + low,
                grid.frame[0] * scale, grid.frame[1] * scale,
            )  # fmt: skip
            here = (c, r) == (column, row)
            if here:
                yield Fill((tile,), Tone.NEW_SIDE)
            yield Stroke(tile, Meaning.RULE if here else Meaning.HAIR, closed=True)
    for piece in pieces(LineString(outline).intersection(frame), "LineString"):
        yield Stroke(tuple(piece.coords), Meaning.CONTEXT)


def _roomiest(area: Any) -> tuple[Xy, float] | None:
    found = [piece for piece in pieces(area, "Polygon") if piece.area > 30.0]
    if not found:
        return None
    best = max(found, key=lambda piece: piece.area)
    spot = polylabel(best, tolerance=1.0)
    return (float(spot.x), float(spot.y)), float(best.boundary.distance(spot))

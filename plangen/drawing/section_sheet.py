"""The sheet of one section: the cut piece to scale, marks and sizes, enlarged details, the scale bar."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from math import cos, hypot, pi, sin
from typing import Any

import numpy as np
import shapely

from plangen.design.model import Design
from plangen.drawing.dimension_lines import PUBLISH, circle
from plangen.drawing.labels import Label, label_marks, place_labels
from plangen.drawing.part_sheets.dual import linear_marks
from plangen.drawing.part_sheets.figures import figure
from plangen.drawing.scales import Scale, fine_scales
from plangen.drawing.scene import GRID, Placing, anchors
from plangen.drawing.section_details import CELL, Enlarged, detail_marks, joints_cut, wanted_details
from plangen.drawing.section_sizes import Size, clear_room, section_axes, section_gaps, section_sizes
from plangen.drawing.sections import Section, section_marks
from plangen.drawing.sheet.fit import held
from plangen.drawing.sheet.lettering import LEAST_SIZE
from plangen.drawing.sheet.measure import (
    FIGURE_SHARE,
    Bounds,
    Boxes,
    bounds,
    mark_points,
    overlaps,
    text_area,
    text_length,
    texts_over_strokes,
    texts_over_texts,
)
from plangen.drawing.sheet.model import Drawing, Fill, Mark, Meaning, Stroke, Text, Tone, Weight, Xy
from plangen.drawing.title_block import scale_bar
from plangen.joinery.space import Side
from plangen.units import LengthStyle

LOOKING = {Side.RIGHT: "looking left", Side.FRONT: "looking to the back", Side.TOP: "looking down"}
MOST_DETAILS = 3
_CAPTION = LEAST_SIZE
_LETTER = 5.0 / FIGURE_SHARE * 0.75  # type size of a detail's letter: larger than figures, as ISO 128 asks
_MARGINS = (15.0, 11.0, 15.0, 10.0)  # mm left, under, right and over a section: balloons and outer sizes
_UNDER = 13.0  # mm under those: the caption and the scale bar
_LARGEST = Scale(1, 1)
_NEEDED, _SPARE = 0.15, 0.05  # what a detail is worth, as a share of the scale
_BETWEEN = 1.0  # mm between a figure and any other text; fractions reach past their line
_TRIED = 4  # layouts
_ON_BORDER = 0.15  # mm that a line of a size may reach into what is cut
_MOST_SIZES = 12
_TIGHT = 13.0  # mm: a clear size that prints shorter has no room for its figure between its arrows


@dataclass(frozen=True, slots=True)
class Spread:
    """Where a section and its details lie: its low left corner, the middles of the details, the height."""

    scale: Scale
    corner: Xy
    details: tuple[Enlarged, ...]
    middles: tuple[Xy, ...]
    height: float
    room: Bounds


def section_sheet(
    design: Design, section: Section, style: LengthStyle, width: float, height: float, lettered: int = 0
) -> Drawing:
    """Draw a section as large as its room lets it be, no higher than it needs (all mm on the paper).

    What is cut is hatched by material and marked; the sizes are those that no other view shows, each from
    the design. Joints that print too small stand enlarged beside it, with their own sizes. Where marks would
    lie over each other, the next best of a few layouts is tried. ``lettered`` is how many details the
    sections before it have (``details_on``), so that no letter says two things.
    """
    best: tuple[int, Drawing] | None = None
    room = clear_room(design, section)
    for spread in _spreads(design, section, room, style, width, height, lettered)[:_TRIED]:
        drawing = _drawn(design, section, spread, room, style, width, height)
        count = overlaps(drawing).count
        if best is None or count < best[0]:
            best = (count, drawing)
        if not count:
            break
    assert best is not None, "there is always a layout"
    return best[1]


def details_on(drawing: Drawing) -> int:
    """Give how many enlarged details a section's sheet shows."""
    return sum(isinstance(mark, Text) and mark.role == "detail" for mark in drawing.marks)


def _drawn(
    design: Design,
    section: Section,
    spread: Spread,
    clear: Sequence[Size],
    style: LengthStyle,
    width: float,
    height: float,
) -> Drawing:
    factor = spread.scale.factor
    low_x, low_y, high_x, _ = section.bounds
    placing = Placing(factor, spread.corner[0] - low_x * factor, spread.corner[1] - low_y * factor)
    marks: list[Mark] = section_marks(section, placing)
    solid = placing.shape(section.material)
    inner = solid.buffer(-_ON_BORDER)
    title = f"Section {section.plane.name}"
    words = f"{title}, {LOOKING[section.plane.side]}"
    foot = [*_caption(words, spread, (high_x - low_x) * factor), *_foot(spread, style, width)]
    marks += foot
    rings, lettered = _rings(spread, placing, marks)
    marks += rings
    details = [
        mark
        for detail, middle in zip(spread.details, spread.middles, strict=True)
        for mark in detail_marks(section, detail, style, middle)
    ]
    sizes = section_sizes(design, section, factor, clear)[:_MOST_SIZES]
    outer: list[Mark] = []
    for size in (size for size in sizes if size.kind == "overhang"):
        outer += _placed(size, section, placing, style, _Paper((*marks, *outer), solid, inner), spread.room)
    labels = _labels(design, section, placing)
    if labels:
        taken = [text_area(mark) for mark in _texts([*lettered, *foot])]
        taken += [shapely.box(*bounds([mark])).buffer(0.8) for mark in outer]
        ink = shapely.union_all([solid, *taken], grid_size=GRID)
        behind = [shapely.LineString(m.points) for m in marks if isinstance(m, Stroke) and len(m.points) > 1]
        placed = place_labels(labels, ink, spread.room, lines=shapely.MultiLineString(behind))
        marks += label_marks(placed)
    marks += outer
    for size in (size for size in sizes if size.kind == "clear"):
        marks += _placed(size, section, placing, style, _Paper(tuple(marks), solid, inner), spread.room)
    marks += details
    drawing = Drawing(
        width,
        min(height, max(spread.height, bounds(marks)[3] + 1.0)),
        tuple(marks),
        f"{design.project.title}: {title}",
        _description(design, section, spread),
    )
    return held(drawing, width, height)


def _spreads(
    design: Design,
    section: Section,
    clear: Sequence[Size],
    style: LengthStyle,
    width: float,
    height: float,
    lettered: int,
) -> tuple[Spread, ...]:
    """Give scales with details beside the section, or under it, the best first; the smallest if none fits."""
    low_x, low_y, high_x, high_y = section.bounds
    found: list[tuple[tuple[float, float, float], Spread]] = []
    places, gaps = joints_cut(design, section), section_gaps(design, clear)
    scales = [scale for scale in fine_scales(style.system) if scale.factor <= _LARGEST.factor]
    for scale in scales:
        wide, high = (high_x - low_x) * scale.factor, (high_y - low_y) * scale.factor
        wanted = wanted_details(design, section, places, gaps, scale.factor, MOST_DETAILS, lettered)
        for number in range(len(wanted), -1, -1):
            for spread in _layouts(wanted[:number], scale, wide, high, width, height):
                needed = sum(detail.needed for detail in wanted[:number])
                worth = scale.factor * (1.0 + _NEEDED * needed + _SPARE * (number - needed))
                found.append(((round(worth, 6), float(number), -spread.height), spread))
    if found:
        return tuple(spread for _, spread in sorted(found, key=lambda item: item[0], reverse=True))
    scale = scales[-1]
    wide, high = (high_x - low_x) * scale.factor, (high_y - low_y) * scale.factor
    return (_layout((), scale, (wide, high), (wide + 30.0, high + 40.0), beside=False),)


def _layouts(
    details: tuple[Enlarged, ...], scale: Scale, wide: float, high: float, width: float, height: float
) -> Iterator[Spread]:
    """Give the layouts that fit: details in a column at the right, or in a row under the section."""
    left, under, right, over = _MARGINS
    own_wide, own_high = wide + left + right, high + under + over + _UNDER
    number = len(details)
    columns = (number and CELL[0], max(own_high, number * CELL[1]))
    if own_wide + columns[0] <= width and columns[1] <= height:
        yield _layout(details, scale, (wide, high), (width, columns[1]), beside=True)
    rows = (max(own_wide, number * CELL[0]), own_high + CELL[1])
    if number and rows[0] <= width and rows[1] <= height:
        yield _layout(details, scale, (wide, high), (width, rows[1]), beside=False)


def _layout(details: tuple[Enlarged, ...], scale: Scale, size: Xy, room: Xy, *, beside: bool) -> Spread:
    left, under, right, _ = _MARGINS
    number = len(details)
    column = CELL[0] if beside and number else 0.0
    lift = CELL[1] if number and not beside else 0.0
    spare = room[0] - column - size[0] - left - right
    x = left + max(0.0, spare / 2)
    y = lift + under + _UNDER
    if beside and number:
        y = max(y, (room[1] + under + _UNDER - _MARGINS[3] - size[1]) / 2)
        pitch = room[1] / number
        middles = tuple((room[0] - CELL[0] / 2, room[1] - pitch * (i + 0.5) + 4.0) for i in range(number))
    else:
        pitch = room[0] / max(number, 1)
        middles = tuple((pitch * (i + 0.5), lift - CELL[1] / 2 + 5.0) for i in range(number))
    open_room = (0.0, lift + _UNDER - 4.0, room[0] - column, room[1])
    return Spread(scale, (x, y), details, middles, room[1], open_room)


def _caption(words: str, spread: Spread, wide: float) -> list[Mark]:
    x = spread.corner[0] + wide / 2
    y = spread.corner[1] - _MARGINS[1] - 2.6
    half = text_length(words, _CAPTION, Weight.SEMIBOLD) / 2
    x = max(x, half + 1.0)
    return [Text((x, y), words, _CAPTION, "middle", Weight.SEMIBOLD, Tone.SECONDARY, role="caption")]


def _foot(spread: Spread, style: LengthStyle, width: float) -> list[Mark]:
    """Draw the bar and the scale under the section, or under its caption where it is narrow."""
    y = spread.corner[1] - _MARGINS[1] - _UNDER + 2.0
    bar = scale_bar((2.0, y), spread.scale, style.system, longest=38.0)
    end = max(point[0] for mark in bar for point in mark_points(mark))
    text = Text(
        (end + 6.0, y), spread.scale.text, _CAPTION, "start", Weight.SEMIBOLD, Tone.SECONDARY, role="scale"
    )
    return [*bar, text]


def _rings(spread: Spread, placing: Placing, before: Sequence[Mark]) -> tuple[list[Mark], list[Text]]:
    """Ring every place that stands enlarged, its letter where nothing else is."""
    marks: list[Mark] = []
    letters: list[Text] = []
    for detail in spread.details:
        centre = placing.point(detail.centre)
        radius = max(2.0, detail.reach * placing.factor)
        marks.append(Stroke(circle(centre, radius, 64), Meaning.BALLOON, closed=True))
        options = [
            Text(
                (centre[0] + cos(angle) * far, centre[1] + sin(angle) * far - _LETTER * FIGURE_SHARE / 2),
                detail.letter, _LETTER, "middle", Weight.SEMIBOLD, role="detail",
            )
            for far in (radius + 3.0, radius + 5.0, radius + 8.0)
            for angle in (pi / 4 + k * pi / 4 for k in range(8))
        ]  # fmt: skip
        strokes = [mark for mark in (*before, *marks) if isinstance(mark, Stroke)]
        reached = Boxes([stroke.points for stroke in strokes])
        strokes = [strokes[i] for i in reached.meeting([text_area(text).buffer(0.5) for text in options])]
        free = [text for text in options if not texts_over_strokes([*strokes, text], tolerance=-0.4)]
        free = [text for text in free if not texts_over_texts([*letters, *_texts(before), text])]
        chosen = (free or options)[0]
        letters.append(chosen)
        marks.append(chosen)
        end = (chosen.at[0], chosen.at[1] + _LETTER * FIGURE_SHARE / 2)
        far = hypot(end[0] - centre[0], end[1] - centre[1])
        if far > radius + 4.0:
            share, stop = radius / far, (far - 2.6) / far
            line = tuple(
                (centre[0] + (end[0] - centre[0]) * s, centre[1] + (end[1] - centre[1]) * s)
                for s in (share, stop)
            )
            marks.append(Stroke(line, Meaning.LEADER))
    return marks, letters


def _texts(marks: Sequence[Mark]) -> list[Text]:
    return [mark for mark in marks if isinstance(mark, Text)]


def _labels(design: Design, section: Section, placing: Placing) -> list[Label]:
    """Give one balloon for each part that is cut, at its largest cut face."""
    best: dict[str, Any] = {}
    for piece in section.pieces:
        if piece.copy in design.copies:
            mark = design.part_of[piece.copy].mark
            if mark not in best or piece.region.area > best[mark][0].area + 1e-6:
                best[mark] = (piece.region, design.part_of[piece.copy].key)
    labels = []
    for mark, (region, key) in best.items():
        spots = anchors(placing.shape(region))
        if spots:
            labels.append(Label(mark, spots, placing.shape(region), target=f"part:{key}"))
    return labels


def _placed(
    size: Size, section: Section, placing: Placing, style: LengthStyle, paper: _Paper, room: Bounds
) -> list[Mark]:
    """Draw a size at the first of its places where it lies over nothing; nothing where there is none."""
    across = size.axis is section_axes(section)[0]
    text = figure(size.value, style)
    for begin, stop in size.places:
        start, end = placing.point(begin), placing.point(stop)
        long = abs(end[0] - start[0]) + abs(end[1] - start[1])
        if size.kind == "clear" and long < _TIGHT:
            return []
        offset = 0.0
        if size.corner is not None:
            corner = placing.point(size.corner)
            offset = start[1] - corner[1] if across else start[0] - corner[0]
            start = corner
        past: tuple[Any, ...] = ("end", "start")
        for side in past:
            marks = linear_marks(start, end, offset, text, "across" if across else "up", PUBLISH, side)
            if _free(marks, paper, room):
                return list(marks)
    return []


@dataclass(frozen=True)
class _Paper:
    """What is drawn before a size is, made ready for trying many places: ``solid`` is what is cut.

    ``inner`` is the same without its border.
    """

    marks: tuple[Mark, ...]
    solid: Any
    inner: Any

    @cached_property
    def words(self) -> Any:
        """Where no other text may stand, as an area."""
        return shapely.union_all([text_area(text).buffer(_BETWEEN) for text in _texts(self.marks)])

    @cached_property
    def kept_clear(self) -> Any:
        """Texts and arrowheads, which no line may touch, as areas."""
        areas = [text_area(text).buffer(0.3) for text in _texts(self.marks)]
        areas += [shapely.Polygon(mark.loops[0]) for mark in self.marks if isinstance(mark, Fill)]
        return np.array(areas, dtype=object)

    @cached_property
    def _strokes(self) -> tuple[list[Stroke], Boxes]:
        strokes = [mark for mark in self.marks if isinstance(mark, Stroke)]
        return strokes, Boxes([stroke.points for stroke in strokes])

    def strokes_at(self, area: Any) -> list[Stroke]:
        """Give the strokes that may touch an area."""
        strokes, boxes = self._strokes
        return [strokes[i] for i in boxes.meeting([area])]


def _free(marks: Sequence[Mark], paper: _Paper, room: Bounds) -> bool:
    """Tell whether a dimension lies over no material, no text and no line that would make it unreadable."""
    low_x, low_y, high_x, high_y = bounds(marks)
    if low_x < room[0] or low_y < room[1] or high_x > room[2] or high_y > room[3]:
        return False
    texts = _texts(marks)
    areas = shapely.union_all([text_area(text).buffer(0.5) for text in texts])
    if areas.intersects(paper.solid) or areas.intersects(paper.words):
        return False
    if texts_over_strokes([*paper.strokes_at(areas), *texts], tolerance=-0.3):
        return False
    own = [
        shapely.LineString(m.points)
        for m in marks
        if isinstance(m, Stroke) and m.meaning is Meaning.DIMENSION
    ]
    arrows = [shapely.Polygon(mark.loops[0]) for mark in marks if isinstance(mark, Fill)]
    lines = shapely.union_all([*own, *arrows])
    if lines.intersection(paper.inner).length > 0.01:
        return False
    drawn = shapely.union_all(
        [lines, *(shapely.LineString(m.points) for m in marks if isinstance(m, Stroke))]
    )
    return not shapely.intersects(drawn, paper.kept_clear).any()


def _description(design: Design, section: Section, spread: Spread) -> str:
    names = dict.fromkeys(
        f"{design.part_of[p.copy].mark} {design.part_of[p.copy].title.lower()}"
        for p in section.pieces
        if p.copy in design.copies
    )
    details = "".join(f" Detail {one.letter} at {one.scale.text}: {one.words}." for one in spread.details)
    return f"Section {section.plane.name} at {spread.scale.text}; cut are {', '.join(names)}.{details}"

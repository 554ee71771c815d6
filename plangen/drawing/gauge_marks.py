"""The rules for balloons, leaders, flow lines and captions, measured on the marks of the drawing alone."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Any

import shapely

from plangen.drawing.gauge_model import Gauge, at_most
from plangen.drawing.sheet.measure import mark_points, text_corners, texts_over_strokes, texts_over_texts
from plangen.drawing.sheet.model import Drawing, Link, Meaning, Stroke, Text, Xy
from plangen.drawing.shots import Shot

NEARER = 0.5  # rule 21: a caption is at least twice as near to its own picture as to another
_MEETS = 0.15  # mm from a ring at which a line starts on it
_INSIDE = 0.05  # mm by which a leader may end outside its part, of rounding
_BROKEN = 1  # bend that a way in may have


@dataclass(frozen=True)
class Ring:
    """A balloon as it is drawn: its letters, its ring (a shapely area) and where its link leads."""

    text: str
    area: Any
    target: str


def balloons_of(drawing: Drawing) -> tuple[Ring, ...]:
    """Find the balloons of a drawing: letters, the smallest ring round them, and the link over both."""
    rings = [
        shapely.Polygon(mark.points)
        for mark in drawing.marks
        if isinstance(mark, Stroke) and mark.meaning in (Meaning.BALLOON, Meaning.BALLOON_NEW) and mark.closed
    ]
    links = [mark for mark in drawing.marks if isinstance(mark, Link)]
    found = []
    for mark in drawing.marks:
        if not isinstance(mark, Text) or mark.role != "balloon":
            continue
        middle = shapely.Polygon(text_corners(mark)).centroid
        around = [ring for ring in rings if ring.contains(middle)]
        if around:
            target = next(
                (
                    link.target
                    for link in links
                    if link.low[0] <= middle.x <= link.high[0] and link.low[1] <= middle.y <= link.high[1]
                ),
                "",
            )
            found.append(Ring(mark.text, min(around, key=lambda ring: ring.area), target))
    return tuple(found)


def leader_gauges(
    drawing: Drawing, rings: Sequence[Ring], regions: Mapping[str, Sequence[Any]] | None, ink: Sequence[Any]
) -> Iterator[Gauge]:
    """Rule 20: leaders cross nothing, end in what they name, and balloons stand outside the picture.

    ``regions`` are the seen areas on the paper of what each target names; ``ink`` all that is seen.
    """
    leaders = [mark for mark in drawing.marks if isinstance(mark, Stroke) and mark.meaning is Meaning.LEADER]
    lines = [shapely.LineString(mark.points) for mark in leaders]
    crossing = [index for index, (one, two) in enumerate(combinations(lines, 2)) if one.crosses(two)]
    over = [
        ring.text
        for ring in rings
        for line, leader in zip(lines, leaders, strict=True)
        if line.intersects(ring.area) and not _starts_on(leader, ring)
    ]
    touching = [
        f"{one.text} and {two.text}" for one, two in combinations(rings, 2) if one.area.intersects(two.area)
    ]
    texts = [*texts_over_strokes(drawing.marks), *texts_over_texts(drawing.marks)]
    yield at_most(20, "leaders that cross", len(crossing), 0)
    yield at_most(20, "leaders over a balloon", len(over), 0, ", ".join(over))
    yield at_most(20, "balloons that touch", len(touching), 0, "; ".join(touching))
    yield at_most(20, "letters over lines or letters", len(texts), 0)
    if regions is None:
        return
    astray = [
        ring.text
        for ring in rings
        for leader in leaders
        if _starts_on(leader, ring) and not _within(leader.points[-1], regions.get(ring.target, ()))
    ]
    whole = shapely.union_all(list(ink), grid_size=1e-3) if ink else shapely.Polygon()
    inside = [ring.text for ring in rings if ring.area.intersection(whole).area > 0.05 * ring.area.area]
    yield at_most(20, "leaders that end outside what they name", len(astray), 0, ", ".join(astray))
    yield at_most(20, "balloons on the picture", len(inside), 0, ", ".join(inside))


def _starts_on(leader: Stroke, ring: Ring) -> bool:
    return bool(ring.area.exterior.distance(shapely.Point(leader.points[0])) < _MEETS)


def _within(point: Xy, regions: Sequence[Any]) -> bool:
    at = shapely.Point(point)
    return any(region.distance(at) < _INSIDE for region in regions)


def flow_gauges(drawing: Drawing) -> Iterator[Gauge]:
    """Rule 16: the ways in do not cross, and bend once at the most."""
    flows = [mark for mark in drawing.marks if isinstance(mark, Stroke) and mark.meaning is Meaning.FLOW]
    if flows:
        lines = [shapely.LineString(mark.points) for mark in flows]
        crossing = sum(bool(one.crosses(two)) for one, two in combinations(lines, 2))
        yield at_most(16, "ways in that cross", crossing, 0)
        yield at_most(16, "bends of a way in", max(len(mark.points) for mark in flows) - 2, _BROKEN)


def caption_gauges(shot: Shot) -> Iterator[Gauge]:
    """Rule 21: each caption is at least twice as near to its own panel as to the other."""
    if len(shot.panels) < 2:
        return
    worst = 0.0
    at = ""
    boxes = [_ink_box(shot.drawing, room) for _, _, room in shot.panels]
    for mark in shot.drawing.marks:
        if not isinstance(mark, Text) or mark.role != "caption":
            continue
        words = shapely.Polygon(text_corners(mark))
        own = min(
            range(len(boxes)),
            key=lambda i: abs(mark.at[0] - (shot.panels[i][2][0] + shot.panels[i][2][2]) / 2),
        )
        others = [words.distance(box) for i, box in enumerate(boxes) if i != own]
        ratio = words.distance(boxes[own]) / max(min(others), 1e-6)
        if ratio > worst:
            worst, at = ratio, mark.text
    yield at_most(21, "caption nearer to its own picture, ratio", worst, NEARER, at)


def _ink_box(drawing: Drawing, room: tuple[float, float, float, float]) -> Any:
    """Give the box round the marks whose middle lies in a rectangle of the sheet, captions left out."""
    points = [
        point
        for mark in drawing.marks
        if not isinstance(mark, Text)
        for point in mark_points(mark)
        if room[0] - 0.1 <= point[0] <= room[2] + 0.1
    ]
    if not points:
        return shapely.box(*room)
    return shapely.box(
        min(x for x, _ in points),
        min(y for _, y in points),
        max(x for x, _ in points),
        max(y for _, y in points),
    )

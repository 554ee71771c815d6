"""What a pattern sheet says: the part, its edges and holes, which way the grain runs, what is waste."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from shapely.affinity import translate
from shapely.geometry import LineString, Point
from shapely.geometry import box as rectangle
from shapely.ops import nearest_points, polylabel

from plangen.design.model import Design, Part
from plangen.drawing.dimension_lines import arrowhead
from plangen.drawing.part_sheets.captions import caption
from plangen.drawing.part_sheets.pattern_edges import Window
from plangen.drawing.part_sheets.pattern_marks import pieces, plus
from plangen.drawing.part_sheets.pattern_outline import Bore, FullSize
from plangen.drawing.part_sheets.pattern_room import LABEL, Room, block, block_size
from plangen.drawing.part_sheets.sights import Sight
from plangen.drawing.sheet.model import Mark, Meaning, Stroke, Tone, Weight, Xy
from plangen.joinery.angles import degrees_text
from plangen.units import LengthStyle, print_length

APART = 12.0  # mm more room round the name than it takes
ARROW = 18.0  # mm, half the grain's arrow
EDGE_LEAST = 45.0  # mm of an edge that is worth its name
NEAR, FAR = 20.0, 45.0  # mm round a hole in which its words may stand, and where a leader has to help


@dataclass(frozen=True, slots=True)
class Ground:
    """One sheet while it is lettered: what it shows of which part, and how that is moved onto the paper."""

    design: Design
    part: Part
    sight: Sight
    shape: FullSize
    window: Window
    move: Xy
    style: LengthStyle
    room: Room

    @property
    def sheet(self) -> Any:
        """The sheet's window on the paper."""
        low_x, low_y, high_x, high_y = self.window
        return rectangle(*plus((low_x, low_y), self.move), *plus((high_x, high_y), self.move))

    def on_paper(self, shape: Any) -> Any:
        """Give what a sheet shows of a shape of the part, on the paper."""
        return translate(shape.intersection(rectangle(*self.window)), *self.move)


def letters(ground: Ground) -> Iterator[Mark]:
    """Say the holes, then the part, its grain, its edges and what is waste, each where there is room."""
    wood = ground.on_paper(ground.shape.shape)
    for bore in ground.shape.bores:
        yield from _kept(ground, _hole(ground, bore, wood))
    yield from _kept(ground, _name(ground, wood))
    yield from _kept(ground, _grain(ground, wood))
    yield from _kept(ground, _edges(ground, wood))
    yield from _kept(ground, _waste(ground))


def _kept(ground: Ground, marks: Iterator[Mark]) -> Iterator[Mark]:
    for mark in marks:
        yield mark
        ground.room.take([mark])


def _hole(ground: Ground, bore: Bore, wood: Any) -> Iterator[Mark]:
    """Name a hole's diameter beside it, and how far it leans along its sight line."""
    x, y = plus(bore.at, ground.move)
    if not wood.contains(rectangle(x - 0.1, y - 0.1, x + 0.1, y + 0.1)):
        return
    words = [f"⌀\u00a0{print_length(bore.diameter, ground.style, unit=True)}"]
    if bore.lean:
        words.append(f"{degrees_text(round(bore.lean, 1))} along arrow")
    right, above = x + bore.reach + 8.0, y + bore.reach + 4.0
    for reach, said in ((NEAR, words), (NEAR, words[:1]), (FAR, words[:1])):
        around = rectangle(
            x - bore.reach - reach, y - bore.reach - reach, x + bore.reach + reach, y + bore.reach + reach
        ).intersection(ground.sheet)  # fmt: skip
        wide, high = block_size(tuple(said), LABEL)
        spot = ground.room.spot(around, wide, high, (right, above))
        if spot is None:
            continue
        if reach == FAR:
            box = rectangle(spot[0] - wide / 2, spot[1] - high / 2, spot[0] + wide / 2, spot[1] + high / 2)
            start = nearest_points(box.buffer(0.6), Point(x, y))[0]
            end = nearest_points(Point(x, y).buffer(bore.reach), start)[0]
            leader = ((start.x, start.y), (end.x, end.y))
            if ground.room.crosses_words(*leader):
                return
            yield Stroke(leader, Meaning.LEADER)
        yield from block(tuple(said), spot, LABEL)
        return


def _name(ground: Ground, wood: Any) -> Iterator[Mark]:
    part = ground.part
    words = [f"{part.mark}  {part.title}"]
    if len(part.copies) > 1:
        words.append(f"make {len(part.copies)}")
    if part.mirror:
        words.append(f"turn over for {ground.design.part(part.mirror).mark}")
    near = _middle(wood)
    for said in (tuple(words), (part.mark, *words[1:]), (part.mark,)):
        wide, high = block_size(said, LABEL)
        for air in (APART, 0.0):  # well away from the words of a hole, where there is room for that
            spot = near and ground.room.spot(wood, wide + air, high + air, near)
            if spot:
                yield from block(said, spot, LABEL, first=Weight.SEMIBOLD)
                return


def _grain(ground: Ground, wood: Any) -> Iterator[Mark]:
    """Draw the grain's arrow, two-headed, with its word beside it."""
    near = _middle(wood)
    if near is None or ground.part.runs is ground.sight.side.axis:
        return
    level = ground.sight.right.axis is ground.part.runs
    wide, high = block_size(("grain",), LABEL)
    for half in (ARROW, ARROW / 2):
        size = (max(2 * half, wide), high + 5.0) if level else (high + 5.0, max(2 * half, wide))
        spot = ground.room.spot(wood, *size, near)
        if spot is None:
            continue
        x, y = spot
        if level:
            ends, ways = ((x - half, y - high / 2), (x + half, y - high / 2)), ((-1.0, 0.0), (1.0, 0.0))
            words = block(("grain",), (x, y + 3.0), LABEL)
        else:
            ends, ways = ((x + high / 2, y - half), (x + high / 2, y + half)), ((0.0, -1.0), (0.0, 1.0))
            words = block(("grain",), (x - 3.0, y), LABEL, upright=True)
        yield Stroke(ends, Meaning.DIMENSION)
        for end, way in zip(ends, ways, strict=True):
            yield arrowhead(end, way)
        yield from words
        return


def _edges(ground: Ground, wood: Any) -> Iterator[Mark]:
    """Name the board's own ends and edges, inside of them: the pattern is laid by these."""
    width, height, sight = ground.shape.width, ground.shape.height, ground.sight
    sides = (
        (sight.right.opposite, ((0.0, 0.0), (0.0, height)), True),
        (sight.up.opposite, ((0.0, 0.0), (width, 0.0)), False),
        (sight.right, ((width, 0.0), (width, height)), True),
        (sight.up, ((0.0, height), (width, height)), False),
    )
    for side, ends, upright in sides:
        kept = LineString(ends).intersection(ground.shape.shape.boundary.buffer(0.02))
        runs = sorted(pieces(ground.on_paper(kept), "LineString"), key=lambda run: -float(run.length))
        if not runs or runs[0].length < EDGE_LEAST:
            continue
        words = (caption(ground.part, side).lower(),)
        wide, high = block_size(words, LABEL)
        beside = runs[0].buffer(high + 4.0, cap_style="flat").intersection(wood)
        middle = runs[0].interpolate(0.5, normalized=True)
        size = (high, wide) if upright else (wide, high)
        spot = ground.room.spot(beside, *size, (float(middle.x), float(middle.y)))
        if spot is not None:
            yield from block(words, spot, LABEL, tone=Tone.SECONDARY, upright=upright)


def _waste(ground: Ground) -> Iterator[Mark]:
    blank = rectangle(0, 0, ground.shape.width, ground.shape.height)
    gone = ground.on_paper(blank.difference(ground.shape.shape))
    near = _middle(gone)
    spot = near and ground.room.spot(gone, *block_size(("waste",), LABEL), near)
    if spot:
        yield from block(("waste",), spot, LABEL, tone=Tone.SECONDARY)


def side_name(part: Part, sight: Sight, way: int, high: bool) -> str:
    """Say what the board's side at the left or right (way 0), or the foot or top, of a view is called."""
    side = (sight.right, sight.up)[way]
    return caption(part, side if high else side.opposite).lower()


def _middle(area: Any) -> Xy | None:
    found = [piece for piece in pieces(area, "Polygon") if piece.area > 30.0]
    if not found:
        return None
    spot = polylabel(max(found, key=lambda piece: float(piece.area)), tolerance=1.0)
    return (float(spot.x), float(spot.y))

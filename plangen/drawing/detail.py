"""The ringed detail of a joint that prints too small to read, or that is hidden in the booklet's view."""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import product
from math import hypot
from typing import Any

import numpy as np
import shapely

from plangen.design.model import Contact, Design, Joint
from plangen.drawing.angles import other_sides, said_of
from plangen.drawing.dimension_lines import circle
from plangen.drawing.exploded import flow_lines, ink_of
from plangen.drawing.explosion import Offset, closing_side, entered, way_of
from plangen.drawing.hidden_lines import View
from plangen.drawing.opened import on_paper
from plangen.drawing.scene import Placing, Sight, flat, loops_of, painted
from plangen.drawing.sheet.lettering import LEAST_SIZE
from plangen.drawing.sheet.measure import text_length
from plangen.drawing.sheet.model import Fill, Mark, Meaning, Stroke, Text, Weight, Xy
from plangen.drawing.stage import Stage
from plangen.joinery.space import Axis
from plangen.sequence.model import Step
from plangen.solids.model import Floats

SMALLEST = 3.0  # mm on paper: a joint that prints smaller wants a detail
_SEEN = 0.3  # share of the place of the joint that has to be seen
_WANTED = 7.0  # mm on paper that the joint should have in the detail
_LARGEST, _LEAST = 28.0, 16.0  # mm, radius of the ring
_GAP = 4.0  # mm on paper of the picture between the entering piece and its place
_FILLED = 1.5  # radii of the ring that the way in may take at the most
_LEAST_GROWN = 1.3  # times the size in the picture: less is no detail
_ENTERING = 0.08  # share of the ring that has to show the entering piece
_AIR = 2.5  # mm round the ring
ROOM_FOR_DETAIL = 46.0  # mm of width that a ring needs beside the picture
_CAPTION = LEAST_SIZE
MOST_DETAILS = 2  # in one picture


@dataclass(frozen=True)
class Detail:
    """A detail ready to be painted: its marks, the area it takes, and the line to it."""

    marks: tuple[Mark, ...]
    taken: Any
    joint: str


@dataclass(frozen=True)
class Choice:
    """A contact that wants a detail: how small it prints (mm), and whether its place is hidden."""

    joint: Joint
    contact: Contact
    size: float  # mm on paper
    hidden: bool


@dataclass(frozen=True)
class _Pair:
    """The two pieces of a joint, a little way apart: ``reach`` mm along ``axis``, as the vector ``out``."""

    sight: Sight
    offsets: dict[str, Offset]
    axis: Axis
    reach: float
    out: Floats


def details_of(
    design: Design,
    step: Step,
    stage: Stage,
    placing: Placing,
    flows: list[Stroke],
    width: float,
    height: float,
    already: frozenset[str] = frozenset(),
    most: int = MOST_DETAILS,
) -> tuple[Detail, ...]:
    """Draw the ringed details that a step needs, as far as there is room for them.

    Joints named in ``already`` have been shown. A joint needs one when it is let into a piece and prints
    under 3 mm, or when less than a third of its place is seen; then it is seen from the other side.
    """
    found: list[Detail] = []
    tried = set(already)
    while len(found) < most:
        choice = choose(design, step, stage, placing, frozenset(tried))
        if choice is None:
            break
        tried |= _with_same_pieces(design, choice.joint)
        taken = shapely.union_all([detail.taken for detail in found])
        detail = _detail(design, choice, stage, placing, flows, width, height, taken)
        if detail is not None:
            found.append(detail)
    return tuple(found)


def _with_same_pieces(design: Design, shown: Joint) -> set[str]:
    """Name the joints on the same faces, such as the screws through a dado: one detail shows both."""
    pairs = {frozenset((contact.moving, contact.fixed)) for contact in shown.contacts}
    return {
        joint.name
        for joint in design.joints
        if {frozenset((contact.moving, contact.fixed)) for contact in joint.contacts} & pairs
    }


def _detail(
    design: Design,
    choice: Choice,
    stage: Stage,
    placing: Placing,
    flows: list[Stroke],
    width: float,
    height: float,
    taken_before: Any,
) -> Detail | None:
    pair = _seen_pair(design, choice, stage, placing)
    if pair is None:
        return None
    sight = pair.sight
    own_side = sight.view == stage.sight.view
    ink = shapely.union_all(
        [
            ink_of(stage.sight, placing),
            taken_before,
            *(shapely.LineString(stroke.points).buffer(0.5) for stroke in flows),
        ]
    )
    mouth = _end(choice.contact, stage, stage.sight.view)
    source = placing.point((float(mouth[0]), float(mouth[1])))
    words = _caption(design, choice, sight, own_side)
    found = _room(ink, width, height, source, text_length(words, _CAPTION, Weight.SEMIBOLD) / 2)
    if found is None:
        return None
    centre, radius = found
    reach = pair.reach * on_paper(pair.axis, sight.view) * placing.factor
    grown = min(max(_WANTED / choice.size, 2.0), 5.0, _FILLED * radius / reach if reach else 5.0)
    if grown < _LEAST_GROWN:
        return None
    factor = placing.factor * grown
    looked_at = _end(choice.contact, stage, sight.view, pair.out / 2)
    large = Placing(
        factor, centre[0] - factor * float(looked_at[0]), centre[1] - factor * float(looked_at[1])
    )
    ring = circle(centre, radius, 96)
    inside = shapely.Polygon(ring)
    entering = large.shape(sight.regions[choice.contact.moving]).intersection(inside)
    if entering.area < _ENTERING * inside.area:
        return None
    marks: list[Mark] = [
        piece
        for mark in [*painted(sight, large), *flow_lines(design, pair.offsets, (), sight, large)]
        for piece in _clipped(mark, inside)
    ]
    marks.append(Stroke(ring, Meaning.BALLOON, closed=True))
    if own_side:
        marks += _pointer(source, radius / grown, centre, radius)
    marks.append(
        Text(
            (centre[0], centre[1] - radius - 5.0), words, _CAPTION, "middle", Weight.SEMIBOLD, role="caption"
        )
    )
    wide = max(radius, text_length(words, _CAPTION, Weight.SEMIBOLD) / 2 + 1.0)
    taken = inside.buffer(_AIR / 2).union(
        shapely.box(centre[0] - wide, centre[1] - radius - 6.5, centre[0] + wide, centre[1] - radius)
    )
    if own_side:
        taken = taken.union(shapely.Point(source).buffer(radius / grown))
        taken = taken.union(shapely.LineString([source, centre]).buffer(0.6))
    return Detail(tuple(marks), taken, choice.joint.name)


def choose(
    design: Design, step: Step, stage: Stage, placing: Placing, already: frozenset[str] = frozenset()
) -> Choice | None:
    """Choose the contact of a step that wants a detail most: the one whose place is seen best."""
    new = set(step.picture.new)
    best: tuple[tuple[float, ...], Choice] | None = None
    for joint in design.joints:
        if joint.name in already:
            continue
        for number, contact in enumerate(joint.contacts):
            one, two = stage.offsets.get(contact.moving), stage.offsets.get(contact.fixed)
            if one is None or two is None or one == two or not {contact.moving, contact.fixed} & new:
                continue
            axis = closing_side(contact, design).axis
            if not _let_in(contact, design):
                continue
            extents = [
                float(contact.face.size(other)) * on_paper(other, stage.sight.view) * placing.factor
                for other in Axis
                if other is not axis
            ]
            size = max(min(extents), 0.3)
            share = _share(design, contact, stage, stage.sight)
            if size >= SMALLEST and share >= _SEEN:
                continue
            score = (-round(share, 2), float(number))
            if best is None or score < best[0]:
                best = (score, Choice(joint, contact, size, share < _SEEN))
    return best[1] if best else None


def _let_in(contact: Contact, design: Design) -> bool:
    """Tell whether one piece goes into the other; those with hardware between them only face each other."""
    one, two = design.copies[contact.moving], design.copies[contact.fixed]
    if entered(contact, design) <= 0.1:
        return False
    return one.stance is not None or two.stance is not None or not one.box.overlap(two.box).empty


def _site(contact: Contact, stage: Stage) -> Floats:
    low, high = contact.face.low.floats(), contact.face.high.floats()
    corner = np.array(list(product(*zip(low, high, strict=True))))
    return np.asarray(corner + np.asarray(stage.offsets[contact.fixed]), dtype=np.float64)


def _share(design: Design, contact: Contact, stage: Stage, sight: Sight) -> float:
    """Give the share of the joint's place on the fixed piece that is seen."""
    closes = closing_side(contact, design)
    if -closes.sign * float(sight.view.toward[closes.axis.value]) < 0.05:
        return 0.0
    area = shapely.convex_hull(shapely.multipoints(flat(_site(contact, stage), sight.view)))
    if area.area < 1e-6:
        return 0.0
    return float(area.intersection(sight.regions[contact.fixed]).area / area.area)


def _end(contact: Contact, stage: Stage, view: View, lean: Floats | None = None) -> Floats:
    """Give the point to look at, in the plane of the view: the near end of the place, plus ``lean``."""
    site = _site(contact, stage)
    nearest = site[np.argsort(-(site @ np.asarray(view.toward)), kind="stable")[:2]].mean(axis=0)
    way = nearest - site.mean(axis=0)
    length = float(np.linalg.norm(way))
    inset = min(0.35 * length, 40.0) / length if length > 1e-6 else 0.0
    at = nearest - way * inset + (lean if lean is not None else 0.0)
    return np.asarray(flat(at[None], view)[0], dtype=np.float64)


def _seen_pair(design: Design, choice: Choice, stage: Stage, placing: Placing) -> _Pair | None:
    """Set up the two pieces so that the place is seen: from the picture's side if it can be, else another."""
    views = [stage.sight.view, *other_sides(stage.sight.view)]
    for view in views[1:] if choice.hidden else views:
        for gaps in (1.0, 2.5):
            pair = _pair(design, choice.contact, stage, placing, view, gaps)
            if _share(design, choice.contact, stage, pair.sight) >= _SEEN:
                return pair
    return None


def _pair(design: Design, contact: Contact, stage: Stage, placing: Placing, view: View, gaps: float) -> _Pair:
    """Set up the two pieces alone, the entering one drawn out just before its place, by so many gaps."""
    side = closing_side(contact, design)
    deep = entered(contact, design)
    reach = deep + gaps * min(0.5 * deep, _GAP / placing.factor)
    out = -reach * np.asarray(way_of(contact, design), dtype=np.float64)
    x, y, z = (np.asarray(stage.offsets[contact.fixed], dtype=np.float64) + out).tolist()
    offsets: dict[str, Offset] = {contact.fixed: stage.offsets[contact.fixed], contact.moving: (x, y, z)}
    actors = tuple(
        replace(actor, body=replace(actor.body, move=np.asarray(actor.body.move) + shift))
        for actor in stage.sight.actors
        if actor.tag in offsets
        for shift in [np.asarray(offsets[actor.tag]) - np.asarray(stage.offsets[actor.tag])]
    )
    return _Pair(Sight(actors, view), offsets, side.axis, reach, out)


def _room(ink: Any, width: float, height: float, source: Xy, half_caption: float) -> tuple[Xy, float] | None:
    """Find the nearest place for a ring as large as may be, caption under it."""
    xs, ys = np.arange(2.0, width, 3.0), np.arange(2.0, height, 3.0)
    at = np.array([(x, y) for x in xs for y in ys])
    clear = shapely.distance(shapely.points(at), ink) - _AIR
    edge = np.minimum.reduce([at[:, 0] - 1, width - 1 - at[:, 0], height - 1 - at[:, 1], at[:, 1] - 8.0])
    caption = np.minimum(at[:, 0], width - at[:, 0]) - 1 >= half_caption
    radius = np.where(caption, np.minimum(clear, edge), 0.0)
    far = np.hypot(at[:, 0] - source[0], at[:, 1] - source[1])
    for wanted in np.arange(_LARGEST, _LEAST - 0.5, -2.0).tolist():
        fitting = np.nonzero(radius >= wanted)[0]
        below = at[fitting, 1] - wanted  # the caption hangs under the ring: its box has to be clear as well
        boxes = shapely.box(at[fitting, 0] - half_caption, below - 6.5, at[fitting, 0] + half_caption, below)
        fitting = fitting[shapely.distance(boxes, ink) > 1.5]
        if len(fitting):
            best = int(fitting[np.argmin(np.round(far[fitting], 3))])
            return (float(at[best, 0]), float(at[best, 1])), float(wanted)
    return None


def _caption(design: Design, choice: Choice, sight: Sight, own_side: bool) -> str:
    words = f"{choice.joint.title} in {design.part_of[choice.contact.fixed].mark}"
    said = said_of(sight.view)
    return words if own_side else f"{words}, {said[:1].lower()}{said[1:]}"


def _pointer(source: Xy, small: float, centre: Xy, radius: float) -> list[Mark]:
    far = hypot(centre[0] - source[0], centre[1] - source[1])
    marks: list[Mark] = [Stroke(circle(source, small, 64), Meaning.BALLOON, closed=True)]
    if far > small + radius:
        ux, uy = (centre[0] - source[0]) / far, (centre[1] - source[1]) / far
        start = (source[0] + ux * small, source[1] + uy * small)
        marks.append(Stroke((start, (centre[0] - ux * radius, centre[1] - uy * radius)), Meaning.LEADER))
    return marks


def _clipped(mark: Mark, inside: Any) -> list[Mark]:
    if isinstance(mark, Fill):
        area = shapely.make_valid(shapely.Polygon(mark.loops[0], mark.loops[1:])).intersection(inside)
        return [Fill(loops, mark.tone) for loops in loops_of(area)]
    if isinstance(mark, Stroke):
        points = mark.points + mark.points[:1] if mark.closed else mark.points
        line = shapely.LineString(points)
        if inside.contains(line):
            return [mark]
        parts = shapely.get_parts(shapely.line_merge(line.intersection(inside))).tolist()
        return [
            Stroke(tuple((float(x), float(y)) for x, y in part.coords), mark.meaning)
            for part in parts
            if part.geom_type == "LineString" and part.length > 0.05
        ]
    return [mark]

"""Enlarged details of a section: joints that would print too small to be read, with their own sizes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import hypot
from typing import Literal

import shapely

from plangen.design.model import Design
from plangen.drawing.cutting_plane import Site, joint_sites, site_is_across
from plangen.drawing.dimension_lines import PUBLISH, circle
from plangen.drawing.edges import part_of_edge
from plangen.drawing.hidden_lines import Edge
from plangen.drawing.part_sheets.dual import linear_marks, parts, small
from plangen.drawing.part_sheets.figures import NO_BREAK_SPACE, bit, figure
from plangen.drawing.scales import Scale
from plangen.drawing.scene import Placing
from plangen.drawing.section_sizes import Size, section_axes
from plangen.drawing.sections import Section, section_marks
from plangen.drawing.sheet.lettering import LEAST_SIZE
from plangen.drawing.sheet.measure import FIGURE_SHARE, text_corners, text_length
from plangen.drawing.sheet.model import Fill, Mark, Meaning, Stroke, Text, Tone, Weight, Xy
from plangen.joinery.operation import Form
from plangen.joinery.space import ORIGIN, Axis, Box, Point, to_nanometre
from plangen.units import ZERO, Length, LengthStyle

SMALLEST = 3.0  # mm on the paper: a joint that prints smaller wants a detail
_SMALL = 8.0  # mm on the paper: one that prints smaller gets a detail where there is room
RADIUS = 16.0  # mm on the paper, of the ring round an enlarged view
CELL = (59.0, 66.0)  # mm of width and height that a detail takes, its sizes and caption with it
# One run over all sections, from the far end: planes and parts take theirs from A on. No I, O and Q, which
# ISO 128 leaves out because they are read as figures (from memory).
LETTERS = "ZYXWVUTSRPNMLKJHGFE"
_SCALES = (Scale(2, 1), Scale(1, 1), Scale(1, 2), Scale(1, 4))
_READABLE = 5.0  # mm on the paper that the least size of a joint should have in its detail
_GAP = 0.45  # mm on the paper: a clearance that prints smaller is not dimensioned
_ROW = 5.5  # mm from the ring to a dimension line
_OUT = (0.0, 3.0)  # mm that a row goes farther out where a figure is in the way
_PAST: tuple[Literal["end", "start"], ...] = ("end", "start")  # where a figure goes that has no room
_BETWEEN = 0.8  # mm between a figure and what is not its own
_CAPTION = LEAST_SIZE


@dataclass(frozen=True, slots=True)
class JointPlace:
    """Where a section lays a joint open: what is cut into a piece, and the copy that goes in.

    For a dowel ``mate`` is its hole in the other piece, which is then the copy.
    """

    site: Site
    entering: str
    mate: Site | None = None

    @property
    def box(self) -> Box:
        """What is taken out of both pieces, in the frame."""
        if self.mate is None:
            return self.site.box
        one, two = self.site.box, self.mate.box
        return Box(
            Point(*(min(one.low.at(axis), two.low.at(axis)) for axis in Axis)),
            Point(*(max(one.high.at(axis), two.high.at(axis)) for axis in Axis)),
        )


@dataclass(frozen=True, slots=True)
class Gauge:
    """A size of a joint: from ``low`` to ``high`` along ``axis``, exact, in the frame."""

    kind: Literal["depth", "width", "diameter", "clearance"]
    axis: Axis
    low: Length
    high: Length


@dataclass(frozen=True, slots=True)
class Enlarged:
    """A detail that is wanted: what it shows, where in the frame, its scale and the sizes it prints."""

    letter: str
    words: str
    box: Box
    centre: Xy  # in the plane of the view, full size
    scale: Scale
    gauges: tuple[Gauge, ...]
    least: float  # mm on the paper, what the smallest of it prints as in the section

    @property
    def needed(self) -> bool:
        """Whether it is a joint that prints too small in the section to be seen."""
        return self.least < SMALLEST and self.gauges[0].kind != "clearance"

    @property
    def reach(self) -> float:
        """The radius of what is shown, mm at full size."""
        return RADIUS / self.scale.factor


def joints_cut(design: Design, section: Section) -> tuple[JointPlace, ...]:
    """Give the places in a section where one piece goes into another, or a dowel into both."""
    normal = section.plane.side.axis
    cut = {piece.copy for piece in section.pieces}
    sites = [
        site
        for site in joint_sites(design)
        if site.copy in cut
        and design.copies[site.copy].stance is None
        and site_is_across(site, normal, section.plane.at)
    ]
    holes: dict[str, list[Site]] = {}
    for site in sites:
        if site.feature.form is Form.HOLE:
            holes.setdefault(site.joint, []).append(site)
    found: list[JointPlace] = []
    for site in sites:
        if site.feature.form is Form.SLOT:
            entering = _enters(design, site, cut)
            if entering:
                found.append(JointPlace(site, entering))
        elif site.feature.form is Form.HOLE:
            mate = next((other for other in holes[site.joint] if _meet(site, other)), None)
            if mate is not None:
                found.append(JointPlace(site, mate.copy, mate))
    return tuple(found)


def wanted_details(
    design: Design,
    section: Section,
    places: Sequence[JointPlace],
    gaps: Sequence[Size],
    factor: float,
    most: int,
    lettered: int = 0,
) -> tuple[Enlarged, ...]:
    """Choose what of a section drawn at ``factor`` prints too small; one place of each joint.

    ``places`` are those of ``joints_cut``, ``gaps`` those of ``section_gaps``. What is too small to be seen
    comes first, then what no section before shows, then the smallest; gaps follow the joints. What is seen
    but small is never drawn larger than it is. ``lettered`` is how many details the sections before have.
    """
    axes = section_axes(section)
    best: dict[str, tuple[float, JointPlace]] = {}
    for place in places:
        joint = place.site.joint
        least = round(min(float(place.site.box.size(axis)) for axis in axes) * factor, 6)
        if 0.0 < least < _SMALL and (joint not in best or least < best[joint][0]):
            best[joint] = (least, place)
    order = sorted(
        best.items(),
        key=lambda item: (item[1][0] >= SMALLEST, item[0] not in section.plane.shows, item[1][0], item[0]),
    )
    titles = {joint.name: joint.title for joint in design.joints}
    joints = [
        (least, place.box, _words(design, titles[name], place), tuple(_gauges(place, design, axes)))
        for name, (least, place) in order
    ]
    between = [
        (float(gap.value) * factor, _gap_box(gap, axes), _gap_words(design, gap), _gap_gauges(gap))
        for gap in gaps
        if float(gap.value) * factor < SMALLEST
    ]
    wanted = (
        [one for one in joints if one[0] < SMALLEST] + between + [one for one in joints if one[0] >= SMALLEST]
    )
    found: list[Enlarged] = []
    for least, box, words, gauges in wanted:
        chosen = _scale(box, axes, factor, 2.0 if least < SMALLEST else 1.0)
        number = lettered + len(found)
        if chosen is not None and len(found) < most and number < len(LETTERS):
            x, y = (float(box.middle(axis)) for axis in axes)
            found.append(Enlarged(LETTERS[number], words, box, (x, y), chosen, gauges, least))
    return tuple(found)


def detail_marks(section: Section, detail: Enlarged, style: LengthStyle, centre: Xy) -> list[Mark]:
    """Draw a detail about a point of the paper: the ring, what is in it, sizes round it, a caption."""
    factor = detail.scale.factor
    placing = Placing(factor, centre[0] - detail.centre[0] * factor, centre[1] - detail.centre[1] * factor)
    inner = clipped(section, detail.centre, detail.reach)
    marks = section_marks(inner, placing)
    marks.append(Stroke(circle(centre, RADIUS), Meaning.BALLOON, closed=True))
    marks += _dimensions(section, detail, style, placing, centre)
    low = centre[1] - RADIUS - _ROW - 9.0
    marks.append(
        Text((centre[0], low), f"Detail {detail.letter}, {detail.scale.text}", _CAPTION, "middle",
             Weight.SEMIBOLD, Tone.SECONDARY, role="caption")
    )  # fmt: skip
    marks.append(
        Text((centre[0], low - 4.4), detail.words, _CAPTION, "middle", tone=Tone.SECONDARY,
             role="caption")
    )  # fmt: skip
    return marks


def clipped(section: Section, centre: Xy, radius: float) -> Section:
    """Give what of a section lies in a circle (full size)."""
    disc = shapely.Point(centre).buffer(radius, quad_segs=32)
    return replace(
        section,
        pieces=tuple(
            replace(piece, region=region)
            for piece in section.pieces
            for region in (piece.region.intersection(disc),)
            if region.area > 1e-6
        ),
        wholes=tuple(
            replace(whole, outline=whole.outline.intersection(disc), edges=tuple(_inside(whole.edges, disc)))
            for whole in section.wholes
            if whole.outline.intersects(disc)
        ),
        outlines=tuple(_inside(section.outlines, disc)),
        behind=tuple(_inside(section.behind, disc)),
        silhouette=section.silhouette.intersection(disc),
    )


def _inside(edges: tuple[Edge, ...], disc: shapely.Polygon) -> Iterator[Edge]:
    for edge in edges:
        line = shapely.LineString(edge.points)
        if disc.contains(line):
            yield edge
            continue
        cut = line.intersection(disc)
        merged = shapely.line_merge(cut) if cut.geom_type == "MultiLineString" else cut
        for part in sorted(shapely.get_parts(merged).tolist(), key=lambda item: item.bounds):
            if part.geom_type == "LineString" and part.length > 0.05:
                yield part_of_edge(edge, part.coords)


def _scale(box: Box, axes: tuple[Axis, Axis], factor: float, largest: float) -> Scale | None:
    """Choose the smallest scale at which the joint reads well and yet goes into the ring."""
    sizes = [float(box.size(axis)) for axis in axes]
    fitting = [
        scale
        for scale in reversed(_SCALES)
        if 1.6 * factor < scale.factor <= largest and hypot(*sizes) * scale.factor < 1.9 * RADIUS
    ]
    if not fitting:
        return None
    return next((scale for scale in fitting if min(sizes) * scale.factor >= _READABLE), fitting[-1])


def _meet(one: Site, two: Site) -> bool:
    """Tell whether two holes of one diameter run on in one line from piece to piece, as for a dowel."""
    axis = one.way.axis
    lateral = [other for other in Axis if other is not axis]
    return (
        one.copy != two.copy
        and two.way.axis is axis
        and one.feature.diameter == two.feature.diameter
        and all(one.box.middle(other) == two.box.middle(other) for other in lateral)
        and (one.box.high.at(axis) == two.box.low.at(axis) or one.box.low.at(axis) == two.box.high.at(axis))
    )


def _enters(design: Design, site: Site, cut: set[str]) -> str:
    """Name the copy that goes into a site and is cut too; empty where there is none."""
    for joint in design.joints:
        if joint.name != site.joint:
            continue
        for contact in joint.contacts:
            other = {contact.fixed: contact.moving, contact.moving: contact.fixed}.get(site.copy)
            if other in cut and not design.copies[other].box.overlap(site.box).empty:
                return other
    return ""


def _gauges(place: JointPlace, design: Design, axes: tuple[Axis, Axis]) -> Iterator[Gauge]:
    """Give the depth and the width of a joint, and what the piece in it leaves free."""
    site, other = place.site, design.copies[place.entering]
    for axis in axes:
        low, high = site.box.low.at(axis), site.box.high.at(axis)
        if axis is site.way.axis:
            yield Gauge("depth", axis, low, high)
        else:
            yield Gauge("width" if place.mate is None else "diameter", axis, low, high)
        if place.mate is not None:
            if axis is site.way.axis:
                yield Gauge("depth", axis, place.mate.box.low.at(axis), place.mate.box.high.at(axis))
            continue
        if other.stance is not None:
            continue
        inner = other.box.overlap(site.box)
        for start, end in ((low, inner.low.at(axis)), (inner.high.at(axis), high)):
            mouth = site.way.axis is axis and (start == low) is not site.way.high
            if end - start > ZERO and not mouth:
                yield Gauge("clearance", axis, start, end)


def _dimensions(
    section: Section, detail: Enlarged, style: LengthStyle, placing: Placing, centre: Xy
) -> list[Mark]:
    """Set the sizes in rows round the ring: those across under and over it, those upward right and left.

    Where a figure would stand in the way of another it goes to the other end of its line, or farther out.
    """
    axes = section_axes(section)
    marks: list[Mark] = []
    taken: dict[Axis, int] = dict.fromkeys(axes, 0)
    for gauge in sorted(detail.gauges, key=lambda one: (one.kind == "clearance", one.axis.value)):
        row = taken[gauge.axis]
        if row > 1 or float(gauge.high - gauge.low) * detail.scale.factor < _GAP:
            continue
        taken[gauge.axis] += 1
        tries = [
            _gauge_marks(gauge, detail, axes, row, style, placing, centre, out, past)
            for out in _OUT
            for past in _PAST
        ]
        marks += next((drawn for drawn in tries if apart(drawn, marks)), tries[0])
    return marks


def _gauge_marks(
    gauge: Gauge, detail: Enlarged, axes: tuple[Axis, Axis], row: int, style: LengthStyle, placing: Placing,
    centre: Xy, out: float, past: Literal["start", "end"],
) -> tuple[Mark, ...]:  # fmt: skip
    """Draw one size in its row, ``out`` mm farther from the ring than usual."""
    across = gauge.axis is axes[0]
    other = axes[1] if across else axes[0]
    near = float((detail.box.low if (row == 0) is across else detail.box.high).at(other))
    ends = (float(gauge.low), float(gauge.high))
    value = gauge.high - gauge.low
    text = f"⌀{NO_BREAK_SPACE}{bit(value, style)}" if gauge.kind == "diameter" else figure(value, style)
    if across:
        start, end = (placing.point((at, near)) for at in ends)
        far = RADIUS + _ROW - 1.0 + out
        line = centre[1] - far if row == 0 else centre[1] + far
        return linear_marks(start, end, line - start[1], text, "across", PUBLISH, past)
    start, end = (placing.point((near, at)) for at in ends)
    far = RADIUS + max(_ROW, _wide(text) / 2 + 2.0) + out
    line = centre[0] + far if row == 0 else centre[0] - far
    return linear_marks(start, end, line - start[0], text, "up", PUBLISH, past)


def apart(marks: Sequence[Mark], before: Sequence[Mark]) -> bool:
    """Tell whether no text of either lies over a text, a line or an arrowhead of the other."""
    return _keeps_off(marks, before) and _keeps_off(before, marks)


def _keeps_off(marks: Sequence[Mark], others: Sequence[Mark]) -> bool:
    texts = [shapely.Polygon(text_corners(mark)).buffer(_BETWEEN) for mark in marks if isinstance(mark, Text)]
    ink = [shapely.LineString(mark.points) for mark in others if isinstance(mark, Stroke)]
    ink += [shapely.Polygon(mark.loops[0]) for mark in others if isinstance(mark, Fill)]
    ink += [shapely.Polygon(text_corners(mark)) for mark in others if isinstance(mark, Text)]
    return not any(text.intersects(mark) for text in texts for mark in ink)


def _wide(text: str) -> float:
    inch, metric = parts(text)
    return max(text_length(inch, PUBLISH.size), text_length(metric, small(PUBLISH) / FIGURE_SHARE))


def _words(design: Design, title: str, place: JointPlace) -> str:
    marks = [design.part_of[name].mark for name in (place.entering, place.site.copy)]
    return f"{title}, {(' in ' if place.mate is None else ' and ').join(marks)}"


def _gap_words(design: Design, gap: Size) -> str:
    one, two = (design.part_of[name].mark for name in (gap.one, gap.two))
    return f"Gap between {one} and {two}"


def _gap_gauges(gap: Size) -> tuple[Gauge, ...]:
    return (Gauge("clearance", gap.axis, gap.low, gap.high),)


def _gap_box(gap: Size, axes: tuple[Axis, Axis]) -> Box:
    """Give a box that spans a gap, as high as it is wide, about the best place to print it."""
    other = axes[1] if gap.axis is axes[0] else axes[0]
    middle = to_nanometre(gap.places[0][0][axes.index(other)])
    low = ORIGIN.with_(gap.axis, gap.low).with_(other, middle - gap.value / 2)
    return Box(low, low.with_(gap.axis, gap.high).with_(other, middle + gap.value / 2))

"""Enlarged details of a section: joints that would print too small to be read, with their own sizes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import shapely

from plangen.design.model import Copy, Design, Joint
from plangen.drawing.cutting_plane import Site, joint_sites, site_is_across
from plangen.drawing.dimension_lines import PUBLISH, circle
from plangen.drawing.hidden_lines import Edge
from plangen.drawing.part_sheets.dual import linear_marks, parts, small
from plangen.drawing.part_sheets.figures import figure
from plangen.drawing.scales import Scale
from plangen.drawing.scene import Placing
from plangen.drawing.section_sizes import section_axes
from plangen.drawing.sections import Section, section_marks
from plangen.drawing.sheet.lettering import LEAST_SIZE
from plangen.drawing.sheet.measure import FIGURE_SHARE, text_length
from plangen.drawing.sheet.model import Mark, Meaning, Stroke, Text, Tone, Weight, Xy
from plangen.joinery.operation import Form
from plangen.joinery.space import Axis
from plangen.units import ZERO, Length, LengthStyle

SMALLEST = 3.0  # mm on the paper: a joint that prints smaller wants a detail
RADIUS = 16.0  # mm on the paper, of the ring round an enlarged view
CELL = (59.0, 66.0)  # mm of width and height that a detail takes, its sizes and caption with it
LETTERS = "ZYXWVU"
_SCALES = (Scale(2, 1), Scale(1, 1), Scale(1, 2), Scale(1, 4))
_READABLE = 5.0  # mm on the paper that the least size of a joint should have in its detail
_GAP = 0.45  # mm on the paper: a clearance that prints smaller is not dimensioned
_ROW = 5.5  # mm from the ring to a dimension line
_CAPTION = LEAST_SIZE


@dataclass(frozen=True, slots=True)
class Gauge:
    """A size of a joint: from ``low`` to ``high`` along ``axis``, exact, in the frame."""

    kind: str  # "depth", "width", "clearance"
    axis: Axis
    low: Length
    high: Length


@dataclass(frozen=True, slots=True)
class Enlarged:
    """A detail that is wanted: the joint, where it is in the section (full size), its scale and sizes."""

    letter: str
    joint: Joint
    site: Site
    entering: str  # the copy that goes in
    centre: Xy
    scale: Scale
    gauges: tuple[Gauge, ...]

    @property
    def reach(self) -> float:
        """The radius of what is shown, mm at full size."""
        return RADIUS / self.scale.factor


def joints_cut(design: Design, section: Section) -> tuple[tuple[Site, str], ...]:
    """Give the places in a section where one piece goes into another, each with the copy that goes in."""
    normal = section.plane.side.axis
    cut = {piece.copy for piece in section.pieces}
    found = []
    for site in joint_sites(design):
        square = site.copy in cut and design.copies[site.copy].stance is None
        if square and site.feature.form is Form.SLOT and site_is_across(site, normal, section.plane.at):
            entering = _enters(design, site, cut)
            if entering:
                found.append((site, entering))
    return tuple(found)


def wanted_details(
    design: Design, section: Section, places: Sequence[tuple[Site, str]], factor: float, most: int
) -> tuple[Enlarged, ...]:
    """Choose the joints of a section drawn at ``factor`` that print too small; one place of each.

    ``places`` are those of ``joints_cut``. Joints that no section before shows come first, then the smallest.
    """
    axes = section_axes(section)
    best: dict[str, tuple[float, Site, str]] = {}
    for site, entering in places:
        least = round(min(float(site.box.size(axis)) for axis in axes) * factor, 6)
        if 0.0 < least < SMALLEST and (site.joint not in best or least < best[site.joint][0]):
            best[site.joint] = (least, site, entering)
    joints = {joint.name: joint for joint in design.joints}
    order = sorted(best.items(), key=lambda item: (item[0] not in section.plane.shows, item[1][0], item[0]))
    found: list[Enlarged] = []
    for name, (_, site, entering) in order:
        chosen = _scale(site, axes, factor)
        if chosen is None or len(found) == most:
            continue
        x, y = (float(site.box.middle(axis)) for axis in axes)
        gauges = tuple(_gauges(site, design.copies[entering], axes))
        found.append(Enlarged(LETTERS[len(found)], joints[name], site, entering, (x, y), chosen, gauges))
    return tuple(found)


def detail_marks(
    design: Design, section: Section, detail: Enlarged, style: LengthStyle, centre: Xy
) -> list[Mark]:
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
        Text((centre[0], low - 4.4), _words(design, detail), _CAPTION, "middle", tone=Tone.SECONDARY,
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
                yield replace(edge, points=tuple((float(x), float(y)) for x, y in part.coords), arc=None)


def _scale(site: Site, axes: tuple[Axis, Axis], factor: float) -> Scale | None:
    """Choose the smallest scale at which the joint reads well and yet goes into the ring."""
    sizes = [float(site.box.size(axis)) for axis in axes]
    fitting = [
        scale
        for scale in reversed(_SCALES)
        if scale.factor > 1.6 * factor and max(sizes) * scale.factor < 1.5 * RADIUS
    ]
    if not fitting:
        return None
    return next((scale for scale in fitting if min(sizes) * scale.factor >= _READABLE), fitting[-1])


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


def _gauges(site: Site, other: Copy, axes: tuple[Axis, Axis]) -> Iterator[Gauge]:
    """Give the depth and the width of a joint, and what the piece in it leaves free."""
    for axis in axes:
        kind = "depth" if axis is site.way.axis else "width"
        low, high = site.box.low.at(axis), site.box.high.at(axis)
        yield Gauge(kind, axis, low, high)
        if other.stance is not None:
            continue
        inner = other.box.overlap(site.box)
        for start, end in ((low, inner.low.at(axis)), (inner.high.at(axis), high)):
            mouth = site.way.axis is axis and (start == low) is not site.way.high
            if end - start > ZERO and not mouth:
                yield Gauge("clearance", axis, start, end)


def _dimensions(
    section: Section, detail: Enlarged, style: LengthStyle, placing: Placing, centre: Xy
) -> Iterator[Mark]:
    """Set the sizes in rows round the ring: those across under and over it, those upward right and left."""
    axes = section_axes(section)
    box = detail.site.box
    taken: dict[Axis, int] = dict.fromkeys(axes, 0)
    for gauge in sorted(detail.gauges, key=lambda one: (one.kind == "clearance", one.axis.value)):
        across = gauge.axis is axes[0]
        row = taken[gauge.axis]
        if row > 1 or float(gauge.high - gauge.low) * detail.scale.factor < _GAP:
            continue
        taken[gauge.axis] += 1
        other = axes[1] if across else axes[0]
        near = float((box.low if (row == 0) is across else box.high).at(other))
        ends = (float(gauge.low), float(gauge.high))
        text = figure(gauge.high - gauge.low, style)
        if across:
            start, end = (placing.point((at, near)) for at in ends)
            line = centre[1] - RADIUS - _ROW + 1.0 if row == 0 else centre[1] + RADIUS + _ROW - 1.0
            yield from linear_marks(start, end, line - start[1], text, "across", PUBLISH, "end")
        else:
            start, end = (placing.point((near, at)) for at in ends)
            far = RADIUS + max(_ROW, _wide(text) / 2 + 2.0)
            line = centre[0] + far if row == 0 else centre[0] - far
            yield from linear_marks(start, end, line - start[0], text, "up", PUBLISH, "end")


def _wide(text: str) -> float:
    inch, metric = parts(text)
    return max(text_length(inch, PUBLISH.size), text_length(metric, small(PUBLISH) / FIGURE_SHARE))


def _words(design: Design, detail: Enlarged) -> str:
    marks = [design.part_of[name].mark for name in (detail.entering, detail.site.copy)]
    return f"{detail.joint.title}, {' in '.join(marks)}"

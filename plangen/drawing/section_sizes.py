"""The sizes that only a section shows: clear room between pieces, and how far one stands out past another.

Every value is a difference of two sides of the design; the picture only says where there is room to print
it, and that nothing lies between.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Any, Literal

import shapely

from plangen.design.model import Copy, Design
from plangen.drawing.sections import Section
from plangen.drawing.sheet.model import Xy
from plangen.joinery.space import Axis
from plangen.units import Length

_TOUCH = 0.05  # mm at full size: what is nearer touches
_BESIDE = 3.0  # mm at full size between pieces of which one stands out past the other: a lid has play
_ROUNDED = 8.0  # mm that an edge may be rounded or bevelled: its corner is where its sides would meet
_LEAST_CLEAR = 14.0  # mm: less is a gap, no room
_LEAST_GAP = 0.3  # mm: less is the play of a joint
_LEAST_BESIDE = 12.0  # mm for which two pieces run beside each other, for a gap to count
_OVERHANGS = (1.0, 150.0)  # mm: the least and the most that one piece stands out past the next
_SHARES = (0.5, 0.38, 0.62, 0.26, 0.74, 0.14, 0.86, 0.06, 0.94)
_OFF = (7.0, 10.0, 14.0, 5.5)  # mm on the paper from the piece that stands out to the dimension line


@dataclass(frozen=True, slots=True)
class Size:
    """A size to print: from ``low`` to ``high`` along ``axis``, exact, in the frame.

    ``places`` are pairs of points at full size in the plane of the view, best first: nothing lies between
    them. The dimension line runs through the first; where ``corner`` is given, the extension line to it
    begins there, and the second point is where the other one begins. ``one`` and ``two`` name the copies.
    """

    kind: Literal["clear", "overhang", "gap"]
    axis: Axis
    low: Length
    high: Length
    one: str
    two: str
    places: tuple[tuple[Xy, Xy], ...]
    corner: Xy | None = None

    @property
    def value(self) -> Length:
        """What is printed."""
        return self.high - self.low


def clear_room(design: Design, section: Section) -> tuple[Size, ...]:
    """Give the clear room and the gaps between pieces that face each other; they hold at every scale."""
    faces, axes = _faces(design, section), section_axes(section)
    return tuple(size for pair in (axes, axes[::-1]) for size in _clear(faces, section, *pair))


def section_sizes(
    design: Design, section: Section, factor: float, clear: Sequence[Size] | None = None
) -> tuple[Size, ...]:
    """Give the sizes of a section that is drawn at ``factor``, the most telling first; none twice.

    Pieces that lean have no sides to measure from and are left out. ``clear`` is the section's
    ``clear_room``, where it is known.
    """
    faces, axes = _faces(design, section), section_axes(section)
    room = clear_room(design, section) if clear is None else clear
    found = [size for size in room if size.kind == "clear"]
    for along, other in (axes, axes[::-1]):
        found += _overhangs(faces, section, along, other, factor)
    found.sort(
        key=lambda size: (size.kind, len(size.places), -float(size.value), size.axis.value, float(size.low))
    )
    kept: dict[tuple[str, Axis, Length], Size] = {}
    for size in found:
        kept.setdefault((size.kind, size.axis, size.value), size)
    return tuple(kept.values())


def section_gaps(design: Design, clear: Sequence[Size]) -> tuple[Size, ...]:
    """Give the narrow gaps between pieces that no joint holds together, such as the play of a drawer.

    One of each between two parts, the narrowest first, of the ``clear_room`` of a section.
    """
    held = {
        frozenset((contact.fixed, contact.moving)) for joint in design.joints for contact in joint.contacts
    }
    part_of = design.part_of
    kept: dict[tuple[frozenset[str], Axis], Size] = {}
    found = [size for size in clear if size.kind == "gap"]
    for size in sorted(found, key=lambda one: (float(one.value), float(one.low), one.one, one.two)):
        if frozenset((size.one, size.two)) not in held:
            parts = frozenset(part_of[name].mark.partition("-")[0] for name in (size.one, size.two))
            kept.setdefault((parts, size.axis), size)
    return tuple(
        sorted(kept.values(), key=lambda size: (float(size.value), size.axis.value, float(size.low)))
    )


def _faces(design: Design, section: Section) -> list[tuple[Copy, Any]]:
    """Give the pieces that are cut and stand square, each with its cut face."""
    regions: dict[str, list[Any]] = {}
    for piece in section.pieces:
        if piece.copy in design.copies and design.copies[piece.copy].stance is None:
            regions.setdefault(piece.copy, []).append(piece.region)
    return [(design.copies[name], shapely.union_all(found)) for name, found in regions.items()]


def section_axes(section: Section) -> tuple[Axis, Axis]:
    """Give the axes of the frame that run to the right and upward in a section; both grow that way."""
    first, second = (axis for axis in Axis if axis is not section.plane.side.axis)
    return first, second


def _clear(faces: Sequence[tuple[Copy, Any]], section: Section, along: Axis, other: Axis) -> Iterator[Size]:
    """Give the clear room, or the gap, between pieces that face each other with nothing between."""
    for (one, first), (two, second) in _ordered(faces, along):
        low, high = one.box.high.at(along), two.box.low.at(along)
        narrow = float(high - low) < _LEAST_CLEAR
        if float(high - low) < _LEAST_GAP:
            continue
        start = max(float(one.box.low.at(other)), float(two.box.low.at(other)))
        end = min(float(one.box.high.at(other)), float(two.box.high.at(other)))
        places = []
        for share in _SHARES if end - start > (_LEAST_BESIDE if narrow else 1.0) else ():
            at = start + (end - start) * share
            begin, stop = _points(along, (float(low), float(high)), at, section)
            if _on(first, begin) and _on(second, stop) and _open(section.material, begin, stop):
                places.append((begin, stop))
        if places:
            yield Size("gap" if narrow else "clear", along, low, high, one.name, two.name, tuple(places))


def _overhangs(
    faces: Sequence[tuple[Copy, Any]], section: Section, along: Axis, other: Axis, factor: float
) -> Iterator[Size]:
    """Give how far a piece stands out past one that it touches, at either end."""
    for (one, first), (two, second) in combinations(faces, 2):
        stacked = min(one.box.high.at(other), two.box.high.at(other)) - max(
            one.box.low.at(other), two.box.low.at(other)
        )
        if float(stacked) > _TOUCH or not first.dwithin(second, _BESIDE):
            continue
        for high in (False, True):
            ends = [(copy.box.high if high else copy.box.low).at(along) for copy in (one, two)]
            if not _OVERHANGS[0] <= abs(float(ends[0] - ends[1])) <= _OVERHANGS[1]:
                continue
            out, back = (0, 1) if (ends[0] > ends[1]) is high else (1, 0)
            proud, inner = (one, two)[out], (one, two)[back]
            below = inner.box.middle(other) < proud.box.middle(other)
            edge = float((proud.box.low if below else proud.box.high).at(other))
            corner = _points(along, (float(ends[out]), float(ends[out])), edge, section)[0]
            floor, roof = float(inner.box.low.at(other)), float(inner.box.high.at(other))
            places = []
            for off in _OFF:
                at = edge - off / factor if below else edge + off / factor
                begin, level = _points(along, (float(ends[out]), float(ends[back])), at, section)
                _, stop = _points(along, (0.0, float(ends[back])), min(max(at, floor), roof), section)
                if (
                    _open(section.material, begin, level)
                    and _open(section.material.buffer(-_TOUCH), level, stop)
                    and _on((first, second)[back], stop)
                ):
                    places.append((begin, stop))
            near = bool((first, second)[out].dwithin(shapely.Point(corner), _ROUNDED))
            if places and near and _bare(section.material, corner):
                low, top = sorted(ends)
                yield Size("overhang", along, low, top, proud.name, inner.name, tuple(places), corner)


def _ordered(
    faces: Sequence[tuple[Copy, Any]], along: Axis
) -> Iterator[tuple[tuple[Copy, Any], tuple[Copy, Any]]]:
    for one, two in combinations(faces, 2):
        yield (one, two) if one[0].box.low.at(along) <= two[0].box.low.at(along) else (two, one)


def _points(along: Axis, ends: tuple[float, float], at: float, section: Section) -> tuple[Xy, Xy]:
    """Give two points of the view from where they lie along an axis and along the other one."""
    if along is section_axes(section)[0]:
        return (ends[0], at), (ends[1], at)
    return (at, ends[0]), (at, ends[1])


def _open(material: Any, begin: Xy, stop: Xy) -> bool:
    """Tell whether nothing that is cut lies between two points."""
    return bool(shapely.LineString([begin, stop]).intersection(material).length < _TOUCH)


def _bare(material: Any, corner: Xy) -> bool:
    """Tell whether a corner stands free: more than half of what lies round it is air."""
    around = shapely.Point(corner).buffer(1.0)
    return bool(around.difference(material).area > 0.5 * around.area)


def _on(region: Any, point: Xy) -> bool:
    return bool(region.dwithin(shapely.Point(point), _TOUCH))

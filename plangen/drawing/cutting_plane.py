"""Where a piece is cut through to show what the views cannot: chosen by what each plane would show.

A plane is square to one direction of the frame. It never lies in a face, and it is worth what it shows:
joints that no plane before it shows, across their length rather than along it, as many different parts as
may be; it loses by running along inside a board, which shows nothing but its grain.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from plangen.design.model import Copy, Design, Part
from plangen.drawing.hidden_lines import View, orthographic
from plangen.joinery.operation import Feature, Form
from plangen.joinery.space import ORIGIN, Axis, Box, Point, Side, to_nanometre
from plangen.solids import Solids, transform
from plangen.solids.model import Floats
from plangen.units import ZERO, Length

FROM_FACE = 0.5  # mm that a plane keeps from every face that is parallel to it
LOOKS = {Axis.ACROSS: Side.RIGHT, Axis.DEEP: Side.FRONT, Axis.UP: Side.TOP}  # from where one looks
_LETTERS = "ABCDEFGH"
_MOST = 4  # planes
_ALONG = 0.3  # the worth of a joint cut along its length, over one cut across
_PIECE = 0.25  # the worth of a part that is cut, over a joint that is shown
_HOLE = 0.5  # the worth of a hole, over a joint that is cut to fit
_FASTENER = 0.5  # the worth of a screw or dowel laid open along its length
_ASSEMBLY = 2.0  # the worth of an assembly, such as a drawer, that is laid open
_OPEN = 3  # pieces of it that have to be cut for that
_FLAT = 6.0  # what it costs to cut along inside boards as large as the whole piece
_FLAT_PIECE = 0.6  # and for every such board, however small
_MIDDLE = 0.2  # the worth of lying in the middle
_APART = 0.15  # of the largest size: parallel planes are no nearer to each other
_ENOUGH = 2.0  # joints that a plane after the second has to show first


@dataclass(frozen=True, slots=True)
class CuttingPlane:
    """A plane square to the axis of ``side``, at a coordinate; what lies toward ``side`` is taken away.

    ``shows`` names the joints that it cuts and no plane before it does.
    """

    letter: str
    side: Side
    at: Length
    shows: tuple[str, ...] = ()

    @property
    def view(self) -> View:
        """The view of what is left, looked at squarely."""
        return orthographic(self.side)

    @property
    def name(self) -> str:
        """What stands under the section and beside the ends of the plane: ``A–A``."""
        return f"{self.letter}–{self.letter}"


@dataclass(frozen=True, slots=True)
class Site:
    """A feature that a joint asks for, where it stands in the frame; ``way`` is the axis of its tool."""

    joint: str
    part: str
    copy: str
    feature: Feature
    box: Box
    way: Side

    @property
    def key(self) -> tuple[str, str, str]:
        """The same for all features that look the same: one of them is enough."""
        return (self.joint, self.part, self.feature.form.value)


def choose_planes(design: Design, solids: Solids) -> tuple[CuttingPlane, ...]:
    """Choose the planes of a whole piece: A–A from front to back, B–B level or across, then what is missing.

    None where nothing is joined.
    """
    sites = joint_sites(design)
    if not sites:
        return ()
    tried = [
        _Tried(design, sites, axis, at) for axis in Axis for at in candidates(design, solids, sites, axis)
    ]
    chosen: list[CuttingPlane] = []
    shown: set[tuple[str, str, str]] = set()
    for wanted in ((Axis.ACROSS,), (Axis.UP, Axis.DEEP), *[tuple(Axis)] * (_MOST - 2)):
        open_planes = [one for one in tried if one.axis in wanted and not one.crowded(design, chosen)]
        if not open_planes:
            continue
        best = max(open_planes, key=lambda one: (one.worth(shown), -one.off, -float(one.at)))
        new = sorted(key for key in best.seen if key not in shown)
        if len(chosen) >= 2 and (best.gain(shown) < _ENOUGH or best.fitted(shown) < 1):
            break
        letter = _LETTERS[len(chosen)]
        joints = tuple(dict.fromkeys(joint for joint, _, _ in new if joint))
        chosen.append(CuttingPlane(letter, LOOKS[best.axis], best.at, joints))
        shown |= {key for key, weight in best.seen.items() if weight >= _HOLE}
    return tuple(chosen)


def joint_sites(design: Design) -> tuple[Site, ...]:
    """Give every feature that a joint works on a piece, where it stands in the frame."""
    joints = frozenset(joint.name for joint in design.joints)
    return tuple(
        Site(name, part.key, copy.name, feature, _standing(box, copy), copy.pose.side(feature.side))
        for part in design.parts
        for operation in part.operations
        for name in (operation.joint or "",)
        if name in joints
        for feature in operation.features
        if feature.form is not Form.MARK
        for box in feature_boxes(part, feature)
        for copy in part.copies
    )


def feature_boxes(part: Part, feature: Feature) -> tuple[Box, ...]:
    """Give the boxes of a feature and its repeats in the part's own frame, no larger than the blank."""
    spans = dict(feature.spans)
    low, high = part.blank.low, part.blank.high
    for axis in Axis:
        if axis not in spans:
            continue
        span = spans[axis]
        half = ZERO
        if feature.form is Form.HOLE and span.low == span.high and feature.diameter is not None:
            half = feature.diameter / 2
        low = low.with_(axis, max(low.at(axis), span.low - half))
        high = high.with_(axis, min(high.at(axis), span.high + half))
    boxes = [Box(low, high)]
    for row in feature.repeat:
        boxes = [
            box.shifted(ORIGIN.moved(row.axis, row.pitch * number))
            for box in boxes
            for number in range(row.number)
        ]
    return tuple(boxes)


def candidates(design: Design, solids: Solids, sites: Iterable[Site], axis: Axis) -> tuple[Length, ...]:
    """Give the coordinates worth trying: midway between faces, and through the middles of holes.

    None is nearer than ``FROM_FACE`` to a face that is parallel to the plane.
    """
    faces = face_coordinates(design, solids, axis)
    if len(faces) < 2:
        return ()
    middles = (faces[1:] + faces[:-1]) / 2
    holes = [
        float(site.box.middle(axis))
        for site in sites
        if site.feature.form is Form.HOLE and site.way.axis is not axis
    ]
    found = {to_nanometre(float(at)) for at in (*middles.tolist(), *holes)}
    return tuple(at for at in sorted(found) if float(np.abs(faces - float(at)).min()) >= FROM_FACE)


def face_coordinates(design: Design, solids: Solids, axis: Axis) -> Floats:
    """Give, in order, where along an axis faces lie that are square to it, mm."""
    found: list[float] = []
    for copy in design.copies.values():
        mesh = solids.parts[design.part_of[copy.name].key].mesh
        if not len(mesh.triangles):
            continue
        turn, move = transform(copy)
        along = mesh.vertices @ turn[axis.value] + move[axis.value]
        corner = along[mesh.triangles]
        flat = np.ptp(corner, axis=1) < 1e-6
        found += np.round(corner[flat, 0], 6).tolist()
    return np.unique(np.array(found, dtype=np.float64))


class _Tried:
    """One plane and what it shows."""

    def __init__(self, design: Design, sites: Sequence[Site], axis: Axis, at: Length) -> None:
        self.axis, self.at = axis, at
        self.seen: dict[tuple[str, str, str], float] = {}
        for site in sites:
            if _within(site.box, axis, at):
                hole, across = site.feature.form is Form.HOLE, site_is_across(site, axis, at)
                if hole and not across:
                    continue  # a ring among others shows nothing
                weight = _HOLE if hole else 1.0 if across else _ALONG
                self.seen[site.key] = max(self.seen.get(site.key, 0.0), weight)
        self.seen |= {(use, "", "hardware"): _FASTENER for use in _fasteners(design, axis, at)}
        cut = [copy for copy in design.copies.values() if _within(copy.box, axis, at)]
        parts = {copy.part for copy in cut}
        whole = [design.overall.size(other) for other in Axis if other is not axis]
        names = {copy.name for copy in cut}
        for one in design.assemblies:
            if any(len(names.intersection(copy.members)) >= _OPEN for copy in one.copies):
                self.seen["", one.key, "assembly"] = _ASSEMBLY
        flat = sum(
            _FLAT_PIECE + _FLAT * _share(copy.box, axis, whole)
            for copy in cut
            if copy.stance is None and _thickness(design, copy) is axis
        )
        half = float(design.overall.size(axis)) / 2
        self.off = abs(float(at) - float(design.overall.middle(axis)))
        self._plain = _PIECE * len(parts) - flat + _MIDDLE * (1.0 - self.off / max(half, 1e-6))

    def crowded(self, design: Design, chosen: Sequence[CuttingPlane]) -> bool:
        """Whether it lies so near to a parallel plane that their marks would run into each other."""
        least = _APART * max(float(design.overall.size(axis)) for axis in Axis)
        near = (plane for plane in chosen if plane.side.axis is self.axis)
        return any(abs(float(plane.at - self.at)) < least for plane in near)

    def gain(self, shown: set[tuple[str, str, str]]) -> float:
        """How many joints it shows that are not shown yet."""
        return sum(weight for key, weight in self.seen.items() if key not in shown)

    def fitted(self, shown: set[tuple[str, str, str]]) -> int:
        """How many joints that are cut to fit it is the first to show across."""
        return sum(weight >= 1.0 for key, weight in self.seen.items() if key[0] and key not in shown)

    def worth(self, shown: set[tuple[str, str, str]]) -> float:
        """What it is worth after others."""
        return round(self.gain(shown) + self._plain, 6)


def site_is_across(site: Site, axis: Axis, at: Length) -> bool:
    """Tell whether a plane cuts a joint across its length, or a hole along its own: that shows its shape."""
    if not _within(site.box, axis, at):
        return False
    if site.feature.form is Form.HOLE:
        return site.way.axis is not axis
    return _runs(site) is axis


def _standing(box: Box, copy: Copy) -> Box:
    upright = copy.pose.box(box)
    return upright if copy.stance is None else copy.stance.bounds(upright)


def _within(box: Box, axis: Axis, at: Length) -> bool:
    return float(box.low.at(axis)) + FROM_FACE <= float(at) <= float(box.high.at(axis)) - FROM_FACE


def _runs(site: Site) -> Axis:
    """The way that a joint runs: the longest of its box but the way of its tool."""
    return max(
        (axis for axis in Axis if axis is not site.way.axis),
        key=lambda axis: (site.box.size(axis), -axis.value),
    )


def _fasteners(design: Design, axis: Axis, at: Length) -> Iterator[str]:
    """Name the joints of which the plane lays a fastener open along its length."""
    for use in (use for joint in design.joints for use in joint.hardware):
        item = design.hardware.get(use.item)
        if item is None or item.diameter is None:
            continue
        reach = float(item.diameter) / 4
        if any(
            side.axis is not axis and abs(head[axis.value] - float(at)) <= reach
            for _, head, side in use.spots
        ):
            yield use.by


def _thickness(design: Design, copy: Copy) -> Axis:
    return copy.pose.side(Side.of(design.part_of[copy.name].thick, True)).axis


def _share(box: Box, axis: Axis, whole: Sequence[Length]) -> float:
    """The area in which a box is cut, over that of the whole piece."""
    first, second = (float(box.size(other)) for other in Axis if other is not axis)
    return first * second / max(float(whole[0]) * float(whole[1]), 1e-6)


def point_on(plane: CuttingPlane) -> Point:
    """Give the point of a plane that is nearest to the origin of the frame."""
    return ORIGIN.with_(plane.side.axis, plane.at)

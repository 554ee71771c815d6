"""Wood too thin to exist: skins that a cut leaves before a face, and pieces that their joints eat up."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

import manifold3d
import numpy as np

from plangen.checks.frame import called, printed
from plangen.design.model import Design, Part
from plangen.findings import Findings
from plangen.joinery.cuts import Arc, BoxCut, Cut, Line, PrismCut, RoundCut, plane_axes
from plangen.joinery.operation import Operation
from plangen.joinery.space import Axis
from plangen.solids import Solids, part_solid
from plangen.units import ZERO, Length, millimetres

THINNEST = Length(millimetres(1).mm / 2)  # a thinner skin breaks under the hand; common practice, no source
BESIDE = 0.05  # mm from a skin to where one looks for more wood
LEAST_SKIN = 4.0  # mm2; a smaller skin is a rag that sanding takes
LEAST_SHARE = 1 / 8  # of a section that joints have to leave; common practice, no source


def skins_can_exist(design: Design, solids: Solids, findings: Findings) -> None:
    """Add the warning ``thin-skin`` where less than half a millimetre of wood is left between two faces.

    Faces square to the part are tried, where two of them lie that near to each other: of the wood between
    them, what has none on either side is skin.
    """
    for part in design.parts:
        told: set[tuple[object, ...]] = set()
        for axis in Axis:
            body = None
            for low, high in _near_pairs(_levels(part, axis)):
                gap = high.at - low.at
                cause = _cause(low, high)
                key = (gap, cause.place if cause is not None else None)
                if key in told:
                    continue
                if body is None:
                    body = _upright(solids.parts[part.key].body, axis)
                if _skin_area(body, float(low.at), float(high.at)) > LEAST_SKIN:
                    told.add(key)
                    _say_skin(design, part, axis, gap, cause, findings)


def _say_skin(
    design: Design, part: Part, axis: Axis, gap: Length, cause: Operation | None, findings: Findings
) -> None:
    size = printed(gap, design)
    if cause is None:
        findings.warning(
            "thin-skin",
            f"`{part.name}` is only {size} thick {axis.word}: no board can be worked as thin as that",
            part.place,
            f"make it at least {printed(THINNEST, design)}, or leave it out",
            part=part.key,
        )
        return
    findings.warning(
        "thin-skin",
        f"the {called(cause)} on `{part.name}` leaves a skin of only {size} {axis.word}, which breaks out",
        cause.place or part.place,
        f"leave at least {printed(THINNEST, design)}, better 3 mm or 1/8 in, or cut right through",
        part=part.key,
    )


@dataclass(frozen=True, slots=True)
class _Level:
    """A place along an axis where faces lie, and what made them, last first; none: the blank."""

    at: Length
    by: tuple[int, ...]
    operations: tuple[Operation, ...]


def _levels(part: Part, axis: Axis) -> tuple[_Level, ...]:
    """Give every place inside the blank where faces square to an axis lie, in order."""
    found: dict[Length, set[int]] = {part.blank.low.at(axis): set(), part.blank.high.at(axis): set()}
    for index, operation in enumerate(part.operations):
        for cut in operation.cuts:
            for at in _faces(cut, axis):
                if part.blank.low.at(axis) <= at <= part.blank.high.at(axis):
                    found.setdefault(at, set()).add(index)
    return tuple(
        _Level(at, tuple(sorted(found[at], reverse=True)), part.operations)
        for at in sorted(found, key=lambda one: one.mm)
    )


def _faces(cut: Cut, axis: Axis) -> Iterator[Length]:
    if isinstance(cut, BoxCut):
        yield from (cut.box.low.at(axis), cut.box.high.at(axis))
    elif isinstance(cut, RoundCut):
        mouth = cut.mouth.at(axis)
        if cut.side.axis is axis:
            yield from (mouth, mouth - cut.depth * cut.side.sign)
        else:
            yield from (mouth - cut.diameter / 2, mouth + cut.diameter / 2)
    elif isinstance(cut, PrismCut):
        if cut.axis is axis:
            yield from (cut.low, cut.high)
            return
        index = plane_axes(cut.axis).index(axis)
        for loop in cut.loops:
            here = loop.start
            for segment in loop.segments:
                if not isinstance(segment, Line):
                    here = segment.to if isinstance(segment, Arc) else segment.through[-1]
                    continue
                if segment.to[index] == here[index]:
                    yield here[index]
                here = segment.to


def _near_pairs(levels: tuple[_Level, ...]) -> Iterator[tuple[_Level, _Level]]:
    for number, low in enumerate(levels):
        for high in levels[number + 1 :]:
            if high.at - low.at >= THINNEST:
                break
            yield low, high


def _cause(low: _Level, high: _Level) -> Operation | None:
    """The operation that is worked last of those that make the two faces."""
    made = [*low.by, *high.by]
    return low.operations[max(made)] if made else None


def _upright(body: manifold3d.Manifold, axis: Axis) -> manifold3d.Manifold:
    """Turn a body so that an axis points up; the three keep their turning sense."""
    rows = np.zeros((3, 4))
    for row in range(3):
        rows[row, (axis.value + 1 + row) % 3] = 1.0
    return body.transform(rows)


def _skin_area(body: manifold3d.Manifold, low: float, high: float) -> float:
    """How much of the wood halfway between two levels has none just below nor just above them, mm2."""
    middle = body.slice((low + high) / 2)
    if middle.area() <= LEAST_SKIN:
        return 0.0
    return float((middle - body.slice(low - BESIDE) - body.slice(high + BESIDE)).area())


def joints_leave_a_section(design: Design, solids: Solids, findings: Findings) -> None:
    """Add the warning ``joints-leave-sliver`` where joints take more than 7/8 of a part's section.

    Sections are taken square to the run between the shoulders, halfway between the places where cuts of
    joints begin and end; what the maker's own shaping leaves there counts as the whole.
    """
    for part in design.parts:
        worked = [operation for operation in part.operations if operation.joint is not None]
        if not worked:
            continue
        body = _upright(solids.parts[part.key].body, part.runs)
        own = tuple(operation for operation in part.operations if operation.joint is None)
        whole = _upright(part_solid(replace(part, operations=own)).body, part.runs)
        shares = []
        for place in _between_cuts(part, worked):
            before = whole.slice(float(place)).area()
            if before > LEAST_SKIN:
                shares.append((float(body.slice(float(place)).area()) / before, place.mm, place))
        share, _, place = min(shares, default=(1.0, ZERO.mm, ZERO))
        if share >= LEAST_SHARE:
            continue
        worst = min(worked, key=lambda one: _left(part, own, one, place))
        others = [one for one in dict.fromkeys(o.joint for o in worked) if one != worst.joint]
        beside = f" (with {', '.join(f'`{name}`' for name in others)})" if others else ""
        findings.warning(
            "joints-leave-sliver",
            f"the {called(worst)}{beside} leaves only {share:.0%} of the section of `{part.name}` standing, "
            f"{printed(place, design)} from its {_low_end(part)} end",
            worst.place or part.place,
            "make the joint smaller, move one of them along, or make the part larger",
            part=part.key,
        )


def _between_cuts(part: Part, worked: list[Operation]) -> Iterator[Length]:
    copy = part.copies[0]
    low = copy.shoulders.low.at(part.runs) - copy.box.low.at(part.runs)
    high = low + copy.shoulders.size(part.runs)
    if copy.stance is not None:
        low, high = part.blank.low.at(part.runs), part.blank.high.at(part.runs)
    stops = {
        at
        for operation in worked
        for cut in operation.cuts
        for at in _faces(cut, part.runs)
        if low < at < high
    }
    for one, two in pairwise(sorted((low, *stops, high), key=lambda at: at.mm)):
        yield (one + two) / 2


def _left(part: Part, own: tuple[Operation, ...], operation: Operation, place: Length) -> float:
    body = part_solid(replace(part, operations=(*own, operation))).body
    return float(_upright(body, part.runs).slice(float(place)).area())


def _low_end(part: Part) -> str:
    return {Axis.ACROSS: "left", Axis.DEEP: "front", Axis.UP: "bottom"}[part.runs]

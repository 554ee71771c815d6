"""A curve sawn into an edge: an arc, an arch with rounded corners, or a smooth line through points."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from plangen.expressions import Entry, LengthExpr, SideWord
from plangen.joinery.cuts import Arc, Curve, Line, Loop, PrismCut, Segment, plane_axes
from plangen.joinery.fields import FromSides, resolve_face
from plangen.joinery.kinds import OperationKind
from plangen.joinery.operation import Corner, Feature, Form, Group, Operation, Span
from plangen.joinery.piece import Bench, Piece
from plangen.joinery.shapes import fault_of
from plangen.joinery.space import Axis, Side
from plangen.units import ZERO, EachWay, Length, Phrase, phrase

_FREE_TOOLS = (phrase("Jigsaw or bandsaw"), phrase("Spokeshave or sanding drum"))
_PATTERN_TOOLS = (
    phrase("Jigsaw or bandsaw"),
    phrase("Router with a flush-trim bit, and a pattern of thin plywood"),
)


class CurvePoint(Entry):
    """A point of a smooth curve: ``at`` from the low end of the edge, ``rise`` in from the edge."""

    at: LengthExpr
    rise: LengthExpr


class CurveWork(FromSides):
    """``curve: {edge: bottom, from front: 2in, from back: 2in, rise: 1-1/2in}``.

    An arc of that rise; with ``radius`` an arch with straight sides whose inner corners have that
    radius; with ``through`` a smooth line through the points. ``by: pattern`` routs it to a pattern
    once the rest of the part is worked.
    """

    edge: SideWord
    rise: LengthExpr | None = None
    radius: LengthExpr | None = None
    through: list[CurvePoint] | None = None
    by: Literal["pattern"] | None = None


def work(entry: CurveWork, piece: Piece, bench: Bench) -> tuple[Operation, ...]:
    """Saw the curve."""
    edge = resolve_face(entry.edge, piece, bench, entry.place_of("edge"))
    if edge is None:
        return ()
    if edge.axis is piece.thick:
        bench.findings.error(
            "curve",
            f"a curve is sawn into an edge or an end, not into the {piece.call(edge)}",
            entry.place_of("edge"),
            "name an edge of the part",
            part=piece.part,
        )
        return ()
    along = next(axis for axis in Axis if axis not in (edge.axis, piece.thick))
    if not entry.only((along,), piece, bench, "curve"):
        return ()
    low, high = entry.both(along, piece, bench)
    if not piece.finished.low.at(along) <= low < high <= piece.finished.high.at(along):
        bench.findings.error(
            "curve",
            "the curve has no length, or runs off the end",
            entry.place,
            "count both distances inward from the ends, and make them smaller",
            part=piece.part,
        )
        return ()
    base = piece.finished.side(edge)
    depth = piece.finished.size(edge.axis)

    def at(lengthwise: Length, rise: Length) -> tuple[Length, Length]:
        values = {along: lengthwise, edge.axis: base - rise * edge.sign}
        first, second = plane_axes(piece.thick)
        return values[first], values[second]

    # Drawn with `along` to the right and `rise` upward every arc of the path turns clockwise; the
    # plane of the outline keeps that sense when `along` comes first and the edge faces low.
    keeps_sense = (plane_axes(piece.thick)[0] is along) == (edge.sign < 0)
    shape = _shape(entry, edge, (low, high), depth, piece, bench)
    if shape is None:
        return ()
    path, radii, deepest = shape
    segments: list[Segment] = []
    corners = [Corner(at(low, ZERO))]
    for step in path:
        if isinstance(step, tuple):
            segments.append(Line(at(*step)))
            corners.append(Corner(at(*step)))
        elif isinstance(step, _Bend):
            segments.append(Arc(at(*step.to), step.radius, not keeps_sense))
            corners.append(Corner(at(*step.to), step.radius))
        else:
            segments.append(Curve(tuple(at(*point) for point in step)))
            corners.extend(Corner(at(*point)) for point in step)
    segments.append(Line(at(low, ZERO)))
    loop = Loop(at(low, ZERO), tuple(segments))
    wrong = fault_of(loop)
    if wrong is not None:
        bench.findings.error(
            "curve",
            f"the curve {wrong}",
            entry.place,
            "move its points apart, or in from the edge",
            part=piece.part,
        )
        return ()
    thin_low, thin_high = piece.finished.low.at(piece.thick), piece.finished.high.at(piece.thick)
    inner = base - deepest * edge.sign
    spans = {
        piece.thick: Span(thin_low, thin_high),
        along: Span(low, high),
        edge.axis: Span(min(base, inner), max(base, inner)),
    }
    side = piece.inside.opposite if piece.inside else Side.of(piece.thick, False)
    return (
        Operation(
            kind="curve",
            title="Curve",
            side=side,
            cuts=(PrismCut(piece.thick, thin_low, thin_high, (loop,)),),
            features=(
                Feature(
                    Form.OUTLINE,
                    side,
                    tuple((axis, spans[axis]) for axis in Axis),
                    (edge,),
                    corners=tuple(dict.fromkeys(corners)),
                    radii=radii,
                ),
            ),
            say=Phrase(),
            tools=_PATTERN_TOOLS if entry.by else _FREE_TOOLS,
            cautions=("jigsaw", "router") if entry.by else ("jigsaw",),
            place=entry.place,
            group=Group.PATTERN if entry.by else None,
        ),
    )


@dataclass(frozen=True, slots=True)
class _Bend:
    to: tuple[Length, Length]
    radius: Length


_Path = list["tuple[Length, Length] | _Bend | list[tuple[Length, Length]]"]


def _shape(
    entry: CurveWork, edge: Side, ends: tuple[Length, Length], depth: Length, piece: Piece, bench: Bench
) -> tuple[_Path, tuple[Length, ...], Length] | None:
    """The way from the low end of the cut-out to its high end, its radii and how deep it goes."""
    low, high = ends
    if entry.through is not None:
        return _smooth(entry, entry.through, edge, ends, depth, piece, bench)
    if entry.rise is None:
        bench.findings.error(
            "missing-key",
            "a curve needs `rise`, or points to go `through`",
            entry.place,
            "add `rise: 1in` for an arc one inch deep",
            part=piece.part,
        )
        return None
    rise = entry.rise.length(bench.scope)
    chord = high - low
    if not 0 < rise.mm < depth.mm:
        bench.findings.error(
            "curve",
            f"the curve cuts {piece.part} in two, or not at all",
            entry.place_of("rise"),
            "the rise lies between zero and the width of the part",
            part=piece.part,
        )
        return None
    if entry.radius is not None:
        radius = entry.radius.length(bench.scope)
        if radius > rise or radius * 2 > chord or radius.mm <= 0:
            bench.findings.error(
                "curve",
                "the corner radius is larger than the rise or half the length of the arch",
                entry.place_of("radius"),
                "make the radius smaller",
                part=piece.part,
            )
            return None
        path: _Path = [
            (low, rise - radius),
            _Bend((low + radius, rise), radius),
            *([] if radius * 2 == chord else [(high - radius, rise)]),
            _Bend((high, rise - radius), radius),
            (high, ZERO),
        ]
        if radius == rise:
            path = [_Bend((low + radius, rise), radius), *path[2:-2], _Bend((high, ZERO), radius)]
        return path, (radius,), rise
    if rise * 2 > chord:
        bench.findings.error(
            "curve",
            "an arc that rises more than half its length is more than half a circle",
            entry.place_of("rise"),
            "lower the rise, or add `radius` for a straight-sided arch",
            part=piece.part,
        )
        return None
    # Circle through the two ends and the top of the arc: r = (c²/4 + h²) / 2h, Euclid III.35.
    radius = Length((chord.mm * chord.mm / 4 + rise.mm * rise.mm) / (2 * rise.mm))
    return [_Bend((high, ZERO), radius)], (radius,), rise


def _smooth(
    entry: CurveWork,
    through: list[CurvePoint],
    edge: Side,
    ends: tuple[Length, Length],
    depth: Length,
    piece: Piece,
    bench: Bench,
) -> tuple[_Path, tuple[Length, ...], Length] | None:
    """A smooth line from the one end through the points to the other."""
    start = piece.shoulders.low.at(next(a for a in Axis if a not in (piece.thick, edge.axis)))
    points = [(start + p.at.length(bench.scope), p.rise.length(bench.scope)) for p in through]
    along = [ends[0], *(at for at, _ in points), ends[1]]
    onward = all(one < two for one, two in pairwise(along))
    if not points or not onward or not all(ZERO < rise < depth for _, rise in points):
        bench.findings.error(
            "curve",
            "the points of a curve go from its low end to its high end, each between the edge and the other",
            entry.place_of("through"),
            "give each point a larger `at` than the one before, and a `rise` above zero",
            part=piece.part,
        )
        return None
    if entry.rise is not None or entry.radius is not None:
        bench.findings.error(
            "curve",
            "`through` settles the whole curve",
            entry.place_of("rise" if entry.rise is not None else "radius"),
            "take out `rise` and `radius`, or `through`",
            part=piece.part,
        )
        return None
    return [[*points, (ends[1], ZERO)]], (), max(rise for _, rise in points)


def say(operation: Operation, piece: Piece) -> Phrase:
    """Say how the curve is brought to its line."""
    if operation.group is not Group.PATTERN:
        return phrase("Saw the curve on the line and smooth it.")
    return phrase(
        "Saw the curve ", EachWay("1/16 in", "2 mm"), " outside its line, then rout it flush to a pattern. "
        "Rout from the wide part of the curve to the narrow, with the grain.",
    )  # fmt: skip


KIND = OperationKind("curve", CurveWork, work, Group.SHAPES, say, heading="Saw the {work} of the {pieces}")

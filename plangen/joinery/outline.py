"""A whole outline drawn by the maker: lines, arcs, smooth curves and round openings."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from typing import Annotated, Literal

from plangen.expressions import Entry, KindEntry, LengthExpr, one_of_kinds
from plangen.findings import Place
from plangen.joinery.cuts import Arc, Curve, Line, Loop, PrismCut, RoundCut, Segment, plane_axes
from plangen.joinery.operation import Corner, Feature, Form, Operation, Span
from plangen.joinery.piece import Bench, Piece
from plangen.joinery.shapes import around, fault_of, leaves
from plangen.joinery.space import Axis, Side
from plangen.units import Length, Phrase, phrase

Plane = tuple[Length, Length]


class OutlinePoint(Entry):
    """A point: ``along`` from the low end of the part's run, ``over`` from the low side of its width."""

    along: LengthExpr
    over: LengthExpr


class OutlineArc(OutlinePoint):
    """A circular edge to a point."""

    radius: LengthExpr
    bulge: Literal["in", "out"]


class OutlineCurve(Entry):
    """A smooth edge through points."""

    through: list[OutlinePoint]


class OutlineCircle(OutlinePoint):
    """A round opening about a point."""

    diameter: LengthExpr


def segment_kinds() -> Mapping[str, type[Entry]]:
    """What an outline may be made of."""
    return {
        "start": OutlinePoint,
        "line": OutlinePoint,
        "arc": OutlineArc,
        "curve": OutlineCurve,
        "circle": OutlineCircle,
    }


OutlineItem = Annotated[KindEntry, one_of_kinds(segment_kinds, "piece of an outline")]
OutlineEntry = list[OutlineItem]


def outline_operation(
    items: list[KindEntry], piece: Piece, bench: Bench, place: Place
) -> tuple[Operation, ...]:
    """Saw the outline: everything of the blank outside it goes, and the round openings."""
    runs_first = plane_axes(piece.thick)[0] is piece.runs
    low = piece.shoulders.low

    def local(point: OutlinePoint) -> Plane:
        along = low.at(piece.runs) + point.along.length(bench.scope)
        over = low.at(piece.wide) + point.over.length(bench.scope)
        return along, over

    path = [item for item in items if str(item.kind) != "circle"]
    if not path or str(path[0].kind) != "start" or any(str(item.kind) == "start" for item in path[1:]):
        bench.findings.error(
            "outline",
            "an outline begins with one `start`",
            place,
            "write `- start: {along: 0, over: 0}` first",
            part=piece.part,
        )
        return ()
    if len(path) < 3:
        bench.findings.error(
            "outline",
            "an outline needs at least two edges after its start",
            place,
            "add a `line`, an `arc` or a `curve`",
            part=piece.part,
        )
        return ()
    if any(not _points(item, local) for item in path):
        bench.findings.error(
            "outline",
            "a curve goes through at least one point",
            place,
            "write for example `- curve: {through: [{along: 2in, over: 1in}]}`",
            part=piece.part,
        )
        return ()
    lines = [(item, _points(item, local)) for item in path]
    for (_, before), (item, points) in pairwise(lines):
        if isinstance(item.body, OutlineCurve) and any(
            one == two for one, two in pairwise([before[-1], *points])
        ):
            bench.findings.error(
                "outline",
                "a curve goes through the same point twice in a row",
                item.place,
                "take one of the two out",
                part=piece.part,
            )
            return ()
    area = _signed_area([point for _, points in lines for point in points])
    drawn = None
    # A straight line and one bend enclose no area between their ends: then the side that lies on the
    # blank is meant.
    for anticlockwise in [area > 0] if area else [True, False]:
        drawn = _draw(lines, anticlockwise, runs_first, piece, bench)
        if drawn is None:
            return ()
        if not leaves(drawn.loop, piece.finished, plane_axes(piece.thick)):
            break
    assert drawn is not None
    wrong = fault_of(drawn.loop)
    if wrong is None and leaves(drawn.loop, piece.finished, plane_axes(piece.thick)):
        wrong = f"leaves the blank of {piece.part}"
    if wrong is not None:
        bench.findings.error(
            "outline",
            f"the outline {wrong}",
            place,
            "keep every point and bend between the ends and the edges of the part, and the edges apart",
            part=piece.part,
        )
        return ()
    thin_low, thin_high = piece.finished.low.at(piece.thick), piece.finished.high.at(piece.thick)
    side = piece.inside.opposite if piece.inside else Side.of(piece.thick, True)
    spans = tuple((axis, Span(piece.finished.low.at(axis), piece.finished.high.at(axis))) for axis in Axis)
    operations = [
        Operation(
            kind="outline",
            title="Outline",
            side=side,
            cuts=(
                PrismCut(piece.thick, thin_low, thin_high, (around(piece.finished, piece.thick), drawn.loop)),
            ),
            features=(
                Feature(
                    Form.OUTLINE,
                    side,
                    spans,
                    corners=tuple(dict.fromkeys(drawn.corners)),
                    radii=tuple(dict.fromkeys(drawn.radii)),
                ),
            ),
            say=Phrase(),
            tools=(phrase("Jigsaw or bandsaw"), phrase("Spokeshave or sanding drum")),
            cautions=("jigsaw",),
            place=place,
        )
    ]
    for item in items:
        if isinstance(item.body, OutlineCircle):
            opening = _opening(item.body, local(item.body), piece, bench, side)
            if opening is None:
                return ()
            operations.append(opening)
    return tuple(operations)


@dataclass(frozen=True, slots=True)
class _Drawn:
    loop: Loop
    corners: tuple[Corner, ...]
    radii: tuple[Length, ...]


def _draw(
    lines: list[tuple[KindEntry, list[Plane]]],
    anticlockwise: bool,
    runs_first: bool,
    piece: Piece,
    bench: Bench,
) -> _Drawn | None:
    """The outline from its start round to it; None, with a finding, when an arc cannot reach its end."""

    def plane(point: Plane) -> Plane:
        return point if runs_first else (point[1], point[0])

    start = here = lines[0][1][-1]
    segments: list[Segment] = []
    corners = [Corner(plane(start))]
    radii: list[Length] = []
    for item, points in lines[1:]:
        body, end = item.body, points[-1]
        if isinstance(body, OutlineArc):
            radius = body.radius.length(bench.scope)
            if not _reaches(radius, here, end, body, piece, bench):
                return None
            left = (body.bulge == "out") == anticlockwise
            segments.append(Arc(plane(end), radius, left == runs_first))
            corners.append(Corner(plane(end), radius))
            radii.append(radius)
        elif isinstance(body, OutlineCurve):
            segments.append(Curve(tuple(plane(point) for point in points)))
            corners.extend(Corner(plane(point)) for point in points)
        else:
            segments.append(Line(plane(end)))
            corners.append(Corner(plane(end)))
        here = end
    if here != start:
        segments.append(Line(plane(start)))
    return _Drawn(Loop(plane(start), tuple(segments)), tuple(corners), tuple(radii))


def _reaches(radius: Length, here: Plane, end: Plane, body: OutlineArc, piece: Piece, bench: Bench) -> bool:
    chord_squared = (end[0] - here[0]).mm ** 2 + (end[1] - here[1]).mm ** 2
    if radius.mm > 0 and chord_squared and 4 * radius.mm**2 >= chord_squared:
        return True
    bench.findings.error(
        "outline",
        "the radius is too small for the arc to reach its end"
        if chord_squared
        else "the arc ends where it begins",
        body.place_of("radius"),
        "make the radius at least half the distance between the two points",
        part=piece.part,
    )
    return False


def _opening(
    circle: OutlineCircle, centre: Plane, piece: Piece, bench: Bench, side: Side
) -> Operation | None:
    mouth = piece.finished.low.with_(piece.runs, centre[0]).with_(piece.wide, centre[1])
    mouth = mouth.with_(piece.thick, piece.finished.side(side))
    diameter = circle.diameter.length(bench.scope)
    inside = all(
        piece.finished.low.at(axis) <= mouth.at(axis) - diameter / 2
        and mouth.at(axis) + diameter / 2 <= piece.finished.high.at(axis)
        for axis in (piece.runs, piece.wide)
    )
    if diameter.mm <= 0 or not inside:
        bench.findings.error(
            "outline",
            "the round opening has no width"
            if diameter.mm <= 0
            else f"the round opening leaves the blank of {piece.part}",
            circle.place_of("diameter"),
            "make it smaller, or move its middle",
            part=piece.part,
        )
        return None
    spans = {axis: Span(mouth.at(axis), mouth.at(axis)) for axis in (piece.runs, piece.wide)}
    spans[piece.thick] = Span(piece.finished.low.at(piece.thick), piece.finished.high.at(piece.thick))
    return Operation(
        kind="hole",
        title="Round opening",
        side=side,
        cuts=(RoundCut(mouth, side, diameter, piece.finished.size(piece.thick)),),
        features=(Feature(Form.HOLE, side, tuple((axis, spans[axis]) for axis in Axis), diameter=diameter),),
        say=Phrase(),
        tools=(phrase("Hole saw or jigsaw, ", diameter),),
        cautions=("drill",),
        place=circle.place,
    )


def _points(item: KindEntry, give: Callable[[OutlinePoint], Plane]) -> list[Plane]:
    body = item.body
    if isinstance(body, OutlineCurve):
        return [give(point) for point in body.through]
    assert isinstance(body, OutlinePoint)
    return [give(body)]


def _signed_area(points: list[Plane]) -> Fraction:
    """Twice the area between points in mm2, positive when they go anticlockwise."""
    return sum(
        (
            one[0].mm * two[1].mm - two[0].mm * one[1].mm
            for one, two in zip(points, points[1:] + points[:1], strict=True)
        ),
        Fraction(0),
    )

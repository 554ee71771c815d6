"""Holes: through or blind, counterbored, one, a row or a grid."""

from __future__ import annotations

from plangen.expressions import Entry, LengthExpr, SideWord
from plangen.joinery.cuts import RoundCut
from plangen.joinery.fields import FromSides, RowOf, resolve_face
from plangen.joinery.kinds import OperationKind
from plangen.joinery.operation import Feature, Form, Operation, Repeat, Span
from plangen.joinery.piece import Bench, Piece
from plangen.joinery.space import Axis, Point, Side
from plangen.units import ZERO, Length, Phrase, phrase

MOST = 500  # holes of one item


class Counterbore(Entry):
    """The wider mouth of a hole."""

    diameter: LengthExpr
    depth: LengthExpr


class Hole(FromSides):
    """``hole: {face: inside, from front: 2in, from bottom: 4in, diameter: 1/4in, depth: 3/8in}``.

    ``along`` (the way the part runs) and ``over`` (square to it) make a row or a grid, which grows
    away from the sides that the first hole is measured from. Without ``depth`` it goes through.
    """

    face: SideWord
    diameter: LengthExpr
    depth: LengthExpr | None = None
    counterbore: Counterbore | None = None
    along: RowOf | None = None
    over: RowOf | None = None


def work(entry: Hole, piece: Piece, bench: Bench) -> tuple[Operation, ...]:
    """Bore the holes."""
    face = resolve_face(entry.face, piece, bench, entry.place_of("face"))
    if face is None:
        return ()
    lateral = [axis for axis in Axis if axis is not face.axis]
    if not entry.only(tuple(lateral), piece, bench, "hole"):
        return ()
    found = {axis: entry.require(axis, piece, bench, "hole") for axis in lateral}
    if any(place is None for place in found.values()):
        return ()
    first = {axis: place for axis, place in found.items() if place is not None}
    diameter = entry.diameter.length(bench.scope)
    thickness = piece.finished.size(face.axis)
    depth = entry.depth.length(bench.scope) if entry.depth is not None else thickness
    if diameter.mm <= 0 or depth.mm <= 0:
        bench.findings.error(
            "zero-size",
            "a hole needs a diameter and a depth above zero",
            entry.place,
            "give both as lengths, or leave `depth` out to go through",
            part=piece.part,
        )
        return ()
    if depth > thickness:
        bench.findings.error(
            "hole-too-deep",
            f"the hole is deeper than {piece.part} is thick there",
            entry.place_of("depth"),
            "leave `depth` out for a through hole, or make it less than the thickness",
            part=piece.part,
        )
        return ()
    rows = _rows(entry, piece, lateral, first, bench)
    if rows is None:
        return ()
    mouths = _mouths(face, piece, first, rows)
    for mouth in mouths:
        for axis in lateral:
            if not piece.finished.low.at(axis) < mouth.at(axis) < piece.finished.high.at(axis):
                bench.findings.error(
                    "hole-off-part",
                    f"a hole lies beside {piece.part}: {axis.word} it is off the {piece.call(face)}",
                    entry.place,
                    "count its place inward from the side named, and check the number and the pitch",
                    part=piece.part,
                )
                return ()
    cuts = [RoundCut(mouth, face, diameter, depth) for mouth in mouths]
    counterbore = None
    if entry.counterbore is not None:
        counterbore = _counterbore(entry.counterbore, diameter, depth, piece, bench)
        if counterbore is None:
            return ()
        cuts += [RoundCut(mouth, face, *counterbore) for mouth in mouths]
    at_face = piece.finished.side(face)
    floor = at_face - depth * face.sign
    spans = [(face.axis, Span(min(at_face, floor), max(at_face, floor)))]
    repeats = []
    for axis in lateral:
        low = min(mouth.at(axis) for mouth in mouths)
        spans.append((axis, Span(low, low)))
        if axis in rows:
            repeats.append(Repeat(axis, rows[axis][0], abs(rows[axis][1])))
    through = depth == thickness
    feature = Feature(
        Form.HOLE,
        face,
        tuple(sorted(spans, key=lambda item: item[0].value)),
        tuple(side for _, side in first.values()),
        diameter=diameter,
        depth=None if through else depth,
        counterbore=counterbore,
        repeat=tuple(repeats),
    )
    return (
        Operation(
            kind="hole",
            title="Holes" if len(mouths) > 1 else "Hole",
            side=face,
            cuts=tuple(cuts),
            features=(feature,),
            say=Phrase(),
            tools=(phrase("Drill, ", diameter, " bit"),),
            cautions=("drill",),
            place=entry.place,
        ),
    )


def _counterbore(
    entry: Counterbore, diameter: Length, depth: Length, piece: Piece, bench: Bench
) -> tuple[Length, Length] | None:
    """The wider mouth's diameter and depth; None, with a finding, when it is not wider or too deep."""
    wide, deep = entry.diameter.length(bench.scope), entry.depth.length(bench.scope)
    if wide > diameter and ZERO < deep < depth:
        return wide, deep
    bench.findings.error(
        "counterbore",
        "a counterbore is wider than its hole, and less deep",
        entry.place_of("diameter" if wide <= diameter else "depth"),
        "for example `counterbore: {diameter: 3/8in, depth: 1/4in}` over a 1/8in hole",
        part=piece.part,
    )
    return None


def _rows(
    entry: Hole, piece: Piece, lateral: list[Axis], first: dict[Axis, tuple[Length, Side]], bench: Bench
) -> dict[Axis, tuple[int, Length]] | None:
    """For each axis with a row: how many, and the step, away from the side measured from."""
    along = piece.runs if piece.runs in lateral else lateral[0]
    over = next(axis for axis in lateral if axis is not along)
    rows: dict[Axis, tuple[int, Length]] = {}
    for row, axis in ((entry.along, along), (entry.over, over)):
        if row is None or row.number == 1:
            continue
        if row.number < 1 or row.pitch is None:
            bench.findings.error(
                "row",
                "a row needs a number of at least 1 and a pitch",
                row.place,
                "for five holes 32 mm apart: `{number: 5, pitch: 32mm}`",
                part=piece.part,
            )
            return None
        pitch = row.pitch.length(bench.scope)
        if pitch.mm <= 0:
            bench.findings.error(
                "row",
                "a row has a pitch above zero",
                row.place_of("pitch"),
                "give the distance from one hole to the next",
                part=piece.part,
            )
            return None
        rows[axis] = (row.number, pitch * -first[axis][1].sign)
    number = 1
    for count, _ in rows.values():
        number *= count
    if number > MOST:
        bench.findings.error(
            "row",
            f"{number} holes are more than {MOST}",
            entry.place,
            "check the numbers of the rows",
            part=piece.part,
        )
        return None
    return rows


def _mouths(
    face: Side, piece: Piece, first: dict[Axis, tuple[Length, Side]], rows: dict[Axis, tuple[int, Length]]
) -> list[Point]:
    mouths = [piece.finished.low.with_(face.axis, piece.finished.side(face))]
    for axis, (at, _side) in first.items():
        number, step = rows.get(axis, (1, at))
        mouths = [mouth.with_(axis, at + step * index) for mouth in mouths for index in range(number)]
    return mouths


KIND = OperationKind("hole", Hole, work)
PLURAL = OperationKind("holes", Hole, work)

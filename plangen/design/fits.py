"""Hardware on one part: rows of pegs and pins, screws into a wall, or so many pieces with no hole of their own."""

from __future__ import annotations

from fractions import Fraction

from plangen.description.model import FitEntry, RowEntry
from plangen.expressions import parse_expression
from plangen.handbook import screws
from plangen.joinery.cuts import RoundCut
from plangen.joinery.fields import resolve_face
from plangen.joinery.operation import Feature, Form, Operation, Repeat, Span
from plangen.joinery.piece import Bench, Fastener, Piece
from plangen.joinery.space import Axis, Point, Side
from plangen.units import ZERO, Length, Phrase, phrase


def fit_holes(
    name: str, entry: FitEntry, fastener: Fastener, piece: Piece, bench: Bench
) -> tuple[Operation, ...]:
    """Give the holes that a fitting needs on the part as its first copy stands; none without a face."""
    if entry.face is None:
        return ()
    face = resolve_face(entry.face, piece, bench, entry.place_of("face"))
    if face is None:
        return ()
    diameter = _bore(entry, fastener, bench)
    if diameter is None:
        bench.findings.error(
            "fitting-size",
            f"how wide a hole `{fastener.name}` needs is not said",
            entry.place,
            "add `bore: …`",
            part=piece.part,
        )
        return ()
    thickness = piece.finished.size(face.axis)
    depth = entry.depth.length(bench.scope) if entry.depth is not None else fastener.depth or thickness
    if not 0 < depth.mm <= thickness.mm:
        bench.findings.error(
            "hole-too-deep",
            f"the hole for `{fastener.name}` is deeper than {piece.part} is thick",
            entry.place_of("depth"),
            "make it less than the thickness, or leave it out to go through",
            part=piece.part,
        )
        return ()
    mouth = piece.finished.low.with_(face.axis, piece.finished.side(face))
    datum: list[Side] = []
    rows: dict[Axis, tuple[int, Length]] = {}
    for axis in (axis for axis in Axis if axis is not face.axis):
        if entry.row is not None and axis is (
            piece.runs if entry.row.going == "along" else _over(piece, face)
        ):
            row = _row(entry.row, axis, piece, bench)
            if row is None:
                return ()
            start, pitch = row
            mouth = mouth.with_(axis, start)
            datum.append(Side.of(axis, False))
            if entry.row.number > 1:
                rows[axis] = (entry.row.number, pitch)
            continue
        found = _located(entry, axis, piece, bench)
        if found is None:
            return ()
        mouth = mouth.with_(axis, found[0])
        datum.append(found[1])
    mouths = [mouth]
    for axis, (number, pitch) in rows.items():
        mouths = [point.moved(axis, pitch * index) for point in mouths for index in range(number)]
    if not _on_part(mouths, face, piece, entry, fastener, bench):
        return ()
    floor = piece.finished.side(face) - depth * face.sign
    spans = {axis: Span(mouth.at(axis), mouth.at(axis)) for axis in Axis}
    spans[face.axis] = Span(min(mouth.at(face.axis), floor), max(mouth.at(face.axis), floor))
    feature = Feature(
        Form.HOLE,
        face,
        tuple(spans.items()),
        tuple(datum),
        diameter=diameter,
        depth=None if depth == thickness else depth,
        countersink="screw" in fastener.kind and fastener.head == "flat",
        repeat=tuple(Repeat(axis, number, pitch) for axis, (number, pitch) in rows.items()),
    )
    return (
        Operation(
            kind="hole",
            title="Holes" if len(mouths) > 1 else "Hole",
            side=face,
            cuts=tuple(RoundCut(point, face, diameter, depth) for point in mouths),
            features=(feature,),
            say=Phrase(),
            tools=(phrase("Drill, ", diameter, " bit"),),
            cautions=("drill",),
            joint=name,
            place=entry.place,
        ),
    )


def _bore(entry: FitEntry, fastener: Fastener, bench: Bench) -> Length | None:
    if entry.bore is not None:
        return entry.bore.length(bench.scope)
    if fastener.bore is not None:
        return fastener.bore
    if "screw" in fastener.kind and (fastener.gauge is not None or fastener.diameter is not None):
        gauge = fastener.gauge if fastener.gauge is not None else fastener.diameter
        assert gauge is not None
        return screws.clearance_hole(gauge)
    return fastener.diameter


def _over(piece: Piece, face: Side) -> Axis:
    return next(axis for axis in Axis if axis not in (piece.runs, face.axis))


def _row(row: RowEntry, axis: Axis, piece: Piece, bench: Bench) -> tuple[Length, Length] | None:
    """The first place and the pitch."""
    low, length = piece.shoulders.low.at(axis), piece.shoulders.size(axis)
    if not 1 <= row.number <= 200:
        bench.findings.error(
            "row", "a row has between 1 and 200 places", row.place_of("number"), part=piece.part
        )
        return None
    if row.pitch is not None:
        pitch = row.pitch.length(bench.scope)
        spare = (length - pitch * (row.number - 1)) / 2
        return low + (row.first.length(bench.scope) if row.first is not None else spare), pitch
    ends = str(row.ends or "half gap")
    if ends == "gap":
        pitch = length / (row.number + 1)
        return low + pitch, pitch
    if ends == "half gap" or row.number == 1:
        pitch = length / row.number
        return low + pitch * Fraction(1, 2), pitch
    inset = ZERO if ends == "flush" or row.ends is None else parse_expression(row.ends).length(bench.scope)
    return low + inset, (length - inset * 2) / (row.number - 1)


def _located(entry: FitEntry, axis: Axis, piece: Piece, bench: Bench) -> tuple[Length, Side] | None:
    for side in (Side.of(axis, False), Side.of(axis, True)):
        expression = getattr(entry, f"from_{side.word}")
        if expression is not None:
            return piece.shoulders.side(side) - expression.length(bench.scope) * side.sign, side
    low, high = Side.of(axis, False).word, Side.of(axis, True).word
    bench.findings.error(
        "missing-key",
        f"nothing says where it goes between {low} and {high}",
        entry.place,
        f"add `from {low}: …` or `from {high}: …`, or a `row`",
        part=piece.part,
    )
    return None


def _on_part(
    mouths: list[Point], face: Side, piece: Piece, entry: FitEntry, fastener: Fastener, bench: Bench
) -> bool:
    for mouth in mouths:
        for axis in Axis:
            if axis is not face.axis and not piece.finished.low.at(axis) < mouth.at(
                axis
            ) < piece.finished.high.at(axis):
                bench.findings.error(
                    "hole-off-part",
                    f"the hole for `{fastener.name}` lies beside {piece.part}",
                    entry.place,
                    "count its place inward from the side named",
                    part=piece.part,
                )
                return False
    return True

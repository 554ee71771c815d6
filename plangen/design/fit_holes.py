"""The holes that hardware on one part needs: pegs, pins, knobs, screws into a wall; single or in a row."""

from __future__ import annotations

from plangen.description.model import FitEntry, RowEntry
from plangen.expressions import parse_expression
from plangen.handbook import screws
from plangen.joinery.cuts import RoundCut
from plangen.joinery.fields import located, nothing_idle, resolve_face
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
    try:
        diameter = _bore(entry, fastener, bench)
    except ValueError:  # the screw is of no size that is made
        diameter = None
    if diameter is None:
        bench.findings.error(
            "fitting-size",
            f"how wide a hole `{fastener.name}` needs is not said",
            entry.place,
            "add `bore: …`",
            part=piece.part,
        )
        return ()
    lateral = tuple(axis for axis in Axis if axis is not face.axis)
    row_axis = None
    if entry.row is not None:
        row_axis = piece.runs if entry.row.going == "along" else _over(piece, face)
    if row_axis is face.axis:
        bench.findings.error(
            "row",
            f"a row along {piece.part} does not lie on its {piece.call(face)}",
            entry.row.place if entry.row is not None else entry.place,
            "write `going: over`, or name another face",
            part=piece.part,
        )
        return ()
    if not nothing_idle(
        entry, tuple(axis for axis in lateral if axis is not row_axis), piece, bench, fastener.name
    ):
        return ()
    thickness = piece.finished.size(face.axis)
    depth = entry.depth.length(bench.scope) if entry.depth is not None else fastener.depth or thickness
    if diameter.mm <= 0:
        bench.findings.error(
            "zero-size",
            f"the hole for `{fastener.name}` has no width",
            entry.place_of("bore"),
            "give a bore above zero",
            part=piece.part,
        )
        return ()
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
    for axis in lateral:
        if entry.row is not None and axis is row_axis:
            row = _row(entry.row, axis, piece, bench)
            if row is None:
                return ()
            start, pitch = row
            mouth = mouth.with_(axis, start)
            datum.append(Side.of(axis, False))
            if entry.row.number > 1:
                rows[axis] = (entry.row.number, pitch)
            continue
        found = located(entry, axis, piece, bench, fastener.name)
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
        countersink=fastener.countersinks,
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
            "row",
            "a row has between 1 and 200 places",
            row.place_of("number"),
            "check the number",
            part=piece.part,
        )
        return None
    if row.pitch is not None:
        pitch = row.pitch.length(bench.scope)
        if pitch.mm <= 0 or row.ends is not None:
            bench.findings.error(
                "row",
                "a row with a pitch needs it above zero, and takes no `ends`",
                row.place_of("pitch"),
                "for five places 32 mm apart: `{number: 5, going: along, pitch: 32mm}`",
                part=piece.part,
            )
            return None
        spare = (length - pitch * (row.number - 1)) / 2
        return low + (row.first.length(bench.scope) if row.first is not None else spare), pitch
    if row.first is not None:
        bench.findings.error(
            "row",
            "`first` goes with a `pitch`",
            row.place_of("first"),
            "add `pitch: …`, or say how the `ends` are kept",
            part=piece.part,
        )
        return None
    ends = str(row.ends or "half gap")
    if ends == "gap":
        pitch = length / (row.number + 1)
        return low + pitch, pitch
    if ends == "half gap":
        pitch = length / row.number
        return low + pitch / 2, pitch
    if row.number == 1:
        bench.findings.error(
            "row",
            "one place has no neighbour to keep away from",
            row.place_of("ends"),
            "leave `ends` out to put it in the middle",
            part=piece.part,
        )
        return None
    inset = ZERO if row.ends is None or ends == "flush" else parse_expression(row.ends).length(bench.scope)
    if inset * 2 >= length:
        bench.findings.error(
            "row",
            "the two ends take all of the row",
            row.place_of("ends"),
            "keep the ends smaller than half of the part",
            part=piece.part,
        )
        return None
    return low + inset, (length - inset * 2) / (row.number - 1)


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

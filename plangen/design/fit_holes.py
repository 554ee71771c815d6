"""The holes that hardware on one part needs: pegs, pins, knobs, screws into a wall; single or in a row."""

from __future__ import annotations

from collections.abc import Sequence

from plangen.description.model import FitEntry
from plangen.design.fit_places import seats_of
from plangen.handbook import screws
from plangen.joinery.cuts import RoundCut
from plangen.joinery.fields import resolve_face
from plangen.joinery.hardware.fitting import fitted
from plangen.joinery.operation import Feature, Form, Operation, Span
from plangen.joinery.piece import Bench, Fastener, Piece
from plangen.joinery.space import Axis, Point, Side
from plangen.units import Length, Phrase, phrase


def fit_holes(
    name: str, entry: FitEntry, fastener: Fastener, piece: Piece, bench: Bench
) -> tuple[Operation, ...]:
    """Give what a fitting cuts on the part as its first copy stands; nothing without a face."""
    if entry.face is None:
        return ()
    face = resolve_face(entry.face, piece, bench, entry.place_of("face"))
    if face is None:
        return ()
    if fastener.ware is not None and entry.bore is None:
        seats = seats_of(entry, fastener, face, piece, bench)
        if seats is None:
            return ()
        return fitted(fastener, fastener.ware, seats, piece, name, entry.place, bench)
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
    seats = seats_of(entry, fastener, face, piece, bench)
    if seats is None or not _on_part(seats.mouths, face, piece, entry, fastener, bench):
        return ()
    floor = piece.finished.side(face) - depth * face.sign
    low = seats.low
    spans = {axis: Span(low.at(axis), low.at(axis)) for axis in Axis}
    spans[face.axis] = Span(min(low.at(face.axis), floor), max(low.at(face.axis), floor))
    feature = Feature(
        Form.HOLE,
        face,
        tuple(spans.items()),
        seats.datum,
        diameter=diameter,
        depth=None if depth == thickness else depth,
        countersink=fastener.countersinks,
        repeat=seats.repeat,
    )
    return (
        Operation(
            kind="hole",
            title="Holes" if len(seats.mouths) > 1 else "Hole",
            side=face,
            cuts=tuple(RoundCut(point, face, diameter, depth) for point in seats.mouths),
            features=(feature,),
            say=Phrase(),
            tools=(phrase("Drill, ", diameter, " bit"),),
            cautions=("drill",),
            joint=name,
            place=entry.place,
            seats=seats.mouths,
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
    return None if "knob" in fastener.kind else fastener.diameter  # a knob's is its own width


def _on_part(
    mouths: Sequence[Point], face: Side, piece: Piece, entry: FitEntry, fastener: Fastener, bench: Bench
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

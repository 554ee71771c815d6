"""Holes: through or blind, square or at an angle, counterbored; one, a row, a grid or a mirrored pair."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from plangen.expressions import AngleExpr, Entry, LengthExpr, SideWord, Text
from plangen.joinery.angles import lean_of, leaning
from plangen.joinery.cuts import BoreCut, Cut, RoundCut
from plangen.joinery.fields import FromSides, resolve_face
from plangen.joinery.kinds import OperationKind
from plangen.joinery.operation import Feature, Form, Group, Operation, Span
from plangen.joinery.piece import Bench, Piece
from plangen.joinery.rows import InRows, mirrored, rows_of
from plangen.joinery.sentences import located_hole
from plangen.joinery.space import SIDE_WORDS, Axis, Box, Direction, Point, Side, to_nanometre
from plangen.units import ZERO, Length, Phrase, millimetres, phrase

STEEPEST = 60  # degrees from square that a bit can still be started at


class Counterbore(Entry):
    """The wider mouth of a hole."""

    diameter: LengthExpr
    depth: LengthExpr


class Hole(FromSides, InRows):
    """``hole: {face: inside, from front: 2in, from bottom: 4in, diameter: 1/4in, depth: 3/8in}``.

    Without ``depth`` it goes through. ``tilt: {left: 8deg, front: 8deg}`` says to which sides the
    hole's inner end leans from square, as seen from the other one; its depth is then measured along
    it.
    """

    face: SideWord
    diameter: LengthExpr
    depth: LengthExpr | None = None
    counterbore: Counterbore | None = None
    tilt: dict[Text, AngleExpr] | None = None


@dataclass(frozen=True, slots=True)
class _Bore:
    """How each hole goes in: square to its face, or along ``way``."""

    face: Side
    diameter: Length
    depth: Length | None  # None: through
    counterbore: tuple[Length, Length] | None
    way: Direction | None

    def cuts(self, mouth: Point, thickness: Length) -> list[Cut]:
        """The cuts of one hole."""
        if self.way is None:
            found: list[Cut] = [RoundCut(mouth, self.face, self.diameter, self.depth or thickness)]
            return [*found, RoundCut(mouth, self.face, *self.counterbore)] if self.counterbore else found
        depth = self.depth or _right_through(self.way, self.face, self.diameter, thickness)
        slanted: list[Cut] = [BoreCut(mouth, self.way, self.diameter, depth)]
        return [*slanted, BoreCut(mouth, self.way, *self.counterbore)] if self.counterbore else slanted


def work(entry: Hole, piece: Piece, bench: Bench) -> tuple[Operation, ...]:
    """Bore the holes."""
    face = resolve_face(entry.face, piece, bench, entry.place_of("face"))
    if face is None:
        return ()
    lateral = [axis for axis in Axis if axis is not face.axis]
    if not entry.only(tuple(lateral), piece, bench, "hole"):
        return ()
    found = {axis: entry.require(axis, piece, bench, "hole") for axis in lateral}
    first = {axis: place for axis, place in found.items() if place is not None}
    bore = _bore(entry, face, piece, bench) if len(first) == len(lateral) else None
    if bore is None:
        return ()
    rows = rows_of(entry, face, {axis: side for axis, (_, side) in first.items()}, piece, bench, "hole")
    if rows is None:
        return ()
    thickness = piece.finished.size(face.axis)
    start = piece.finished.low.with_(face.axis, piece.finished.side(face))
    for axis, (at, _) in first.items():
        start = start.with_(axis, at)
    mouths = [start + shift for shift in rows.shifts]
    widest = max(bore.diameter, bore.counterbore[0]) if bore.counterbore else bore.diameter
    mouth_box = Box(start, start)
    for axis in lateral:
        for side in (Side.of(axis, False), Side.of(axis, True)):
            mouth_box = mouth_box.grown(side, widest / 2)
    if not rows.keep_apart(entry, mouth_box, piece, bench, "hole"):
        return ()
    if not all(_on_part(bore, mouth, entry, piece, bench) for mouth in mouths):
        return ()
    low = start + rows.low
    spans = {axis: Span(low.at(axis), low.at(axis)) for axis in lateral}
    into = (bore.depth or thickness) if bore.way is None else _square_depth(bore, thickness)
    floor = start.at(face.axis) - into * face.sign
    spans[face.axis] = Span(min(start.at(face.axis), floor), max(start.at(face.axis), floor))
    feature = Feature(
        Form.HOLE,
        face,
        tuple((axis, spans[axis]) for axis in Axis),
        tuple(side for _, side in first.values()),
        diameter=bore.diameter,
        depth=bore.depth,
        counterbore=bore.counterbore,
        repeat=rows.repeat,
        angle_degrees=lean_of(bore.way, face)[0].resultant if bore.way is not None else None,
        way=bore.way,
    )
    drill = phrase("Drill, ", bore.diameter, " bit")
    one = Operation(
        kind="hole",
        title="Hole",
        side=face,
        cuts=tuple(cut for mouth in mouths for cut in bore.cuts(mouth, thickness)),
        features=(feature,),
        say=Phrase(),
        tools=(drill,) if bore.way is None else (drill, phrase("Bevel gauge")),
        cautions=("drill",),
        place=entry.place,
    )
    whole = mirrored(entry, one, piece, bench, "hole")
    if whole is None:
        return ()
    return (replace(whole, title="Holes") if len(mouths) * len(whole.features) > 1 else whole,)


def _bore(entry: Hole, face: Side, piece: Piece, bench: Bench) -> _Bore | None:
    """How the hole goes in; None, with a finding, when it cannot."""
    diameter = entry.diameter.length(bench.scope)
    depth = entry.depth.length(bench.scope) if entry.depth is not None else None
    if diameter.mm <= 0 or (depth is not None and depth.mm <= 0):
        bench.findings.error(
            "zero-size",
            "a hole needs a diameter and a depth above zero",
            entry.place,
            "give both as lengths, or leave `depth` out to go through",
            part=piece.part,
        )
        return None
    way = None
    if entry.tilt is not None:
        way = _way(entry, face, piece, bench)
        if way is None:
            return None
    thickness = piece.finished.size(face.axis)
    bore = _Bore(face, diameter, depth, None, way)
    if depth is not None and _square_depth(bore, thickness) > thickness:
        bench.findings.error(
            "hole-too-deep",
            f"the hole is deeper than {piece.part} is thick there",
            entry.place_of("depth"),
            "leave `depth` out for a through hole, or make it less than the thickness",
            part=piece.part,
        )
        return None
    if way is None and depth == thickness:
        bore = _Bore(face, diameter, None, None, None)
    if entry.counterbore is None:
        return bore
    counterbore = _counterbore(entry.counterbore, diameter, depth or thickness, piece, bench)
    return None if counterbore is None else _Bore(face, diameter, bore.depth, counterbore, way)


def _way(entry: Hole, face: Side, piece: Piece, bench: Bench) -> Direction | None:
    """The direction of a tilted hole, into the wood; None, with a finding, when there is none."""
    leans: dict[Side, float] = {}
    for word, expression in (entry.tilt or {}).items():
        side = piece.face(str(word)) if str(word) in (*SIDE_WORDS, "inside", "outside") else None
        if side is None or side.axis in (face.axis, *(one.axis for one in leans)):
            bench.findings.error(
                "wrong-side",
                f"`tilt` cannot name `{word}` here",
                word.place,
                f"name a side next to the {piece.call(face)} that the hole's inner end leans to, "
                "at most one in each direction",
                part=piece.part,
            )
            return None
        angle = expression.angle(bench.scope)
        if not 0 < angle <= STEEPEST:
            bench.findings.error(
                "tilt",
                f"a hole can lean up to {STEEPEST} degrees from square",
                expression.place,
                "count the angle from square to the face, as `8deg`; name the other side to lean that way",
                part=piece.part,
            )
            return None
        leans[side] = float(angle)
    if not leans:
        bench.findings.error(
            "missing-key",
            "`tilt` names no side that the hole leans to",
            entry.place_of("tilt"),
            "write for example `tilt: {left: 8deg}`, or take it out",
            part=piece.part,
        )
        return None
    return leaning(face.opposite, leans)


def _square_depth(bore: _Bore, thickness: Length) -> Length:
    """How far a hole reaches square to its face."""
    if bore.depth is None:
        return thickness
    if bore.way is None:
        return bore.depth
    return to_nanometre(float(bore.depth) * abs(bore.way[bore.face.axis.value]))


def _right_through(way: Direction, face: Side, diameter: Length, thickness: Length) -> Length:
    """How far along a slanted hole its whole rim is through the far face, and a millimetre more."""
    square = abs(way[face.axis.value])
    behind = float(diameter) / 2 * math.sqrt(max(0.0, 1.0 - square * square))
    return to_nanometre((float(thickness) + behind) / square) + millimetres(1)


def _on_part(bore: _Bore, mouth: Point, entry: Hole, piece: Piece, bench: Bench) -> bool:
    """Report a hole whose mouth, or whose inner end, lies beside the part."""
    blank, end = piece.finished, mouth
    if bore.way is not None:
        into = _square_depth(bore, blank.size(bore.face.axis))
        steps = float(into) / abs(bore.way[bore.face.axis.value])
        end = Point(*(mouth.at(axis) + to_nanometre(steps * bore.way[axis.value]) for axis in Axis))
    for axis in Axis:
        if axis is bore.face.axis:
            continue
        for point, what in ((mouth, "a hole lies beside"), (end, "the inner end of a hole comes out beside")):
            if not blank.low.at(axis) < point.at(axis) < blank.high.at(axis):
                bench.findings.error(
                    "hole-off-part",
                    f"{what} {piece.part}: {axis.word} it is off the {piece.call(bore.face)}",
                    entry.place,
                    "count its place inward from the side named, and check the number and the pitch"
                    if point is mouth
                    else "make the tilt or the depth smaller, or move the hole",
                    part=piece.part,
                )
                return False
    return True


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


KIND = OperationKind(
    "hole", Hole, work, Group.HOLES, located_hole, heading="Drill the {work} in the {pieces}"
)
PLURAL = OperationKind(
    "holes", Hole, work, Group.HOLES, located_hole, heading="Drill the {work} in the {pieces}"
)

"""A slot: a long hole or a long recess in a face, along the grain or over it."""

from __future__ import annotations

from dataclasses import replace
from typing import Literal

from plangen.expressions import LengthExpr, SideWord
from plangen.joinery.body import spans_of
from plangen.joinery.fields import FromSides, resolve_face
from plangen.joinery.kinds import OperationKind
from plangen.joinery.operation import Feature, Form, Group, Operation
from plangen.joinery.piece import Bench, Piece
from plangen.joinery.recess import depth_of, placed_box
from plangen.joinery.rows import InRows, mirrored, rows_of
from plangen.joinery.sentences import counted, slot
from plangen.joinery.shapes import channel
from plangen.joinery.space import Axis
from plangen.units import Phrase, phrase


class Slot(FromSides, InRows):
    """``slot: {face: front, from left: 3in, from top: 1in, length: 4in, width: 3/8in, depth: 1/4in}``.

    Without ``depth`` it goes through. It goes ``along`` the part's run unless it says ``going:
    over``; its place is that of its nearer end and edge. A router leaves its ends round.
    """

    face: SideWord
    length: LengthExpr
    width: LengthExpr
    depth: LengthExpr | None = None
    going: Literal["along", "over"] = "along"
    ends: Literal["round", "square"] = "round"


def work(entry: Slot, piece: Piece, bench: Bench) -> tuple[Operation, ...]:
    """Rout the slots."""
    face = resolve_face(entry.face, piece, bench, entry.place_of("face"))
    if face is None:
        return ()
    lateral = [axis for axis in Axis if axis is not face.axis]
    runs = piece.runs if piece.runs in lateral else lateral[0]
    over = next(axis for axis in lateral if axis is not runs)
    along, across = (runs, over) if entry.going == "along" else (over, runs)
    length, width = entry.length.length(bench.scope), entry.width.length(bench.scope)
    if width.mm <= 0 or length < width:
        bench.findings.error(
            "slot-size",
            "a slot is longer than it is wide, and has a width",
            entry.place_of("length" if width.mm > 0 else "width"),
            "give the whole length, round ends and all; for a round hole write `hole`",
            part=piece.part,
        )
        return ()
    sides = placed_box(entry, {along: length, across: width}, face, piece, bench, "slot")
    depth = depth_of(entry.depth, face, entry, piece, bench, "slot")
    if sides is None or depth is None:
        return ()
    box, datum = sides
    box = box.with_side(face.opposite, piece.finished.side(face) - depth * face.sign)
    rows = rows_of(entry, face, datum, piece, bench, "slot")
    if rows is None or not rows.keep_apart(entry, box, piece, bench, "slot"):
        return ()
    if not rows.on_part(entry, box, face, piece, bench, "slot"):
        return ()
    cuts = tuple(channel(box.shifted(shift), along, entry.ends, face) for shift in rows.shifts)
    through = depth == piece.finished.size(face.axis)
    feature = Feature(
        Form.SLOT,
        face,
        spans_of(box.shifted(rows.low)),
        tuple(datum.values()),
        depth=None if through else depth,
        repeat=rows.repeat,
        radii=(width / 2,) if entry.ends == "round" else (),
    )
    bit = phrase("Router with a straight bit, at most ", width, ", and a fence")
    one = Operation(
        kind="slot",
        title="Slot",
        side=face,
        cuts=cuts,
        features=(feature,),
        say=Phrase(),
        tools=(bit,) if entry.ends == "round" else (bit, phrase("Chisel")),
        cautions=("router",) if entry.ends == "round" else ("router", "chisel"),
        place=entry.place,
    )
    whole = mirrored(entry, one, piece, bench, "slot")
    if whole is None:
        return ()
    return (replace(whole, title="Slots") if len(whole.cuts) > 1 else whole,)


def say(operation: Operation, piece: Piece) -> Phrase:
    """Say the slots, and the ends that the cutter leaves."""
    words = slot(f"Rout {counted(operation, 'slot')}", operation.features[0], piece)
    if operation.features[0].radii:
        return words + phrase(" Leave the ends round.")
    return words + phrase(" Square the ends with a chisel.")


KIND = OperationKind("slot", Slot, work, Group.JOINTS, say, heading="Rout the {work} in the {pieces}")

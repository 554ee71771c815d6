"""A leaf recess: a shallow bed for a hinge leaf, open to one edge of the face it is let into."""

from __future__ import annotations

from plangen.expressions import LengthExpr, SideWord
from plangen.joinery.body import spans_of
from plangen.joinery.fields import FromSides, resolve_face
from plangen.joinery.kinds import OperationKind
from plangen.joinery.operation import Feature, Form, Group, Operation
from plangen.joinery.piece import Bench, Piece
from plangen.joinery.recess import depth_of, fits, radius_fits
from plangen.joinery.sentences import location
from plangen.joinery.shapes import rounded_prism
from plangen.joinery.space import Axis
from plangen.units import ZERO, Phrase, phrase


class LeafRecess(FromSides):
    """``leaf recess: {face: right, open: front, from top: 3in, length: 2in, width: 3/4in, depth: 5/64in}``.

    Let into ``face``, and ``open`` to the side where the hinge's knuckle is; ``length`` goes along
    that side, ``width`` in from it. ``radius`` is that of the two corners inside.
    """

    face: SideWord
    open: SideWord
    length: LengthExpr
    width: LengthExpr
    depth: LengthExpr
    radius: LengthExpr | None = None


def work(entry: LeafRecess, piece: Piece, bench: Bench) -> tuple[Operation, ...]:
    """Let the leaf in."""
    face = resolve_face(entry.face, piece, bench, entry.place_of("face"))
    open_to = resolve_face(entry.open, piece, bench, entry.place_of("open"))
    if face is None or open_to is None:
        return ()
    if open_to.axis is face.axis:
        bench.findings.error(
            "leaf-recess",
            f"a recess in the {piece.call(face)} cannot be open to the {piece.call(open_to)}",
            entry.place_of("open"),
            "name a side that meets the face, the one where the hinge's knuckle is",
            part=piece.part,
        )
        return ()
    along = next(axis for axis in Axis if axis not in (face.axis, open_to.axis))
    length, width = entry.length.length(bench.scope), entry.width.length(bench.scope)
    radius = entry.radius.length(bench.scope) if entry.radius is not None else ZERO
    for key, size in (("length", length), ("width", width)):
        if size <= ZERO:
            bench.findings.error(
                "zero-size",
                f"the {key} of the recess is not above zero",
                entry.place_of(key),
                f"give the {key} of the hinge's leaf",
                part=piece.part,
            )
            return ()
    depth = depth_of(entry.depth, face, entry, piece, bench, "leaf recess")
    if depth is None or not entry.only((along,), piece, bench, "leaf recess"):
        return ()
    place = entry.require(along, piece, bench, "leaf recess")
    most = min(length / 2, width)
    if place is None or not radius_fits(radius, most, entry, piece, bench, "leaf recess"):
        return ()
    at, side = place
    box = piece.finished.with_side(side, at).with_side(side.opposite, at - length * side.sign)
    box = box.with_side(open_to.opposite, piece.finished.side(open_to) - width * open_to.sign)
    box = box.with_side(face.opposite, piece.finished.side(face) - depth * face.sign)
    if not fits(entry, box, face, piece, bench, "leaf recess"):
        return ()
    inner = {(along, end, open_to.axis, not open_to.high): radius for end in (False, True)}
    feature = Feature(
        Form.SLOT,
        face,
        spans_of(box),
        (side, open_to),
        depth=depth,
        radii=(radius,) if radius > ZERO else (),
    )
    square = radius == ZERO
    return (
        Operation(
            kind="leaf recess",
            title="Leaf recess",
            side=face,
            cuts=(rounded_prism(box, face.axis, inner),),
            features=(feature,),
            say=Phrase(),
            tools=(phrase("Knife and chisel"), phrase("Router with a straight bit"))
            if square
            else (phrase("Router with a straight bit and a template"),),
            cautions=("chisel", "router") if square else ("router",),
            place=entry.place,
        ),
    )


def say(operation: Operation, piece: Piece) -> Phrase:
    """Say where the leaf is let in, and how deep."""
    (feature,) = operation.features
    side, open_to = feature.datum
    sizes = [feature.span(one.axis).high - feature.span(one.axis).low for one in (side, open_to)]
    words = phrase("Let in a hinge leaf ", sizes[0], " long, ", sizes[1], " wide and ", feature.depth or ZERO)
    words += phrase(f" deep in the {piece.call(feature.side)}, open to the {piece.call(open_to)}")
    return words + location(feature, side.axis, piece) + phrase(".")


KIND = OperationKind(
    "leaf recess", LeafRecess, work, Group.JOINTS, say, heading="Let the hinge leaves into the {pieces}"
)

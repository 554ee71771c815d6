"""Shaping that takes away the face a joint needs."""

from __future__ import annotations

from dataclasses import dataclass, replace

import manifold3d

from plangen.checks.frame import called, in_own_frame, own_operations
from plangen.design.model import Contact, Copy, Design, Joint, Part
from plangen.findings import Findings, Severity
from plangen.findings.model import Finding
from plangen.joinery.operation import Form, Operation
from plangen.joinery.space import Axis, Box, Side
from plangen.solids import Solids, part_solid
from plangen.units import Length, millimetres

BEHIND = Length(millimetres(1).mm / 2)  # how far behind a face its wood is looked for
MUCH = 0.10  # share of a contact without wood behind it that is an error
SOME = 0.015  # and a warning
# What edges, holes and rounds may take: a handle rounded all over keeps its dowels, and a rod its tenon.
SLIGHT = 0.25


def joints_keep_their_wood(design: Design, solids: Solids, findings: Findings) -> None:
    """Add ``joint-cut-away`` where the maker's own shaping removes the face that a joint needs.

    The part with nothing but its own shaping is compared with its blank in a layer half a millimetre
    thick behind the touching face, on both sides; where two pieces run through each other, in all the
    room that they share. An error above a tenth of the contact, a warning above 1.5 %; chamfers,
    round-overs, rounds and holes may lie there, and get a warning where they take more than a quarter.
    """
    shapes: dict[str, _Shape] = {}
    copies, part_of = design.copies, design.part_of
    told: set[tuple[str, str]] = set()
    for joint in design.joints:
        if joint.kind == "rests":
            continue
        for contact in joint.contacts:
            for name in (contact.fixed, contact.moving):
                part = part_of[name]
                if not own_operations(part) or (joint.name, part.name) in told:
                    continue
                layer = in_own_frame(copies[name], _layer(copies[name], contact)).overlap(part.blank)
                if layer.empty:
                    continue
                if part.key not in shapes:
                    shapes[part.key] = _shape(part)
                finding = _look(part, shapes[part.key], joint, name, contact, layer)
                if finding is not None:
                    told.add((joint.name, part.name))
                    findings.add(finding)


@dataclass(frozen=True)
class _Shape:
    """A part's own shaping, and the solids that it leaves: of all of it, and without edges and holes."""

    operations: tuple[Operation, ...]
    outlined: manifold3d.Manifold
    whole: manifold3d.Manifold


def _shape(part: Part) -> _Shape:
    own = own_operations(part)
    outlines = tuple(operation for operation in own if not _is_slight(operation))
    bodies = [part_solid(replace(part, operations=chosen)).body for chosen in (outlines, own)]
    return _Shape(own, *bodies)


def _is_slight(operation: Operation) -> bool:
    return any(feature.form in (Form.EDGE, Form.HOLE, Form.ROUND) for feature in operation.features)


def _is_round(operation: Operation) -> bool:
    return all(feature.form is Form.ROUND for feature in operation.features)


def _look(part: Part, shape: _Shape, joint: Joint, name: str, contact: Contact, layer: Box) -> Finding | None:
    """Say what is wrong with one side of one contact, if anything is."""
    gone = _share_gone(shape.outlined, layer)
    severity = Severity.ERROR if gone > MUCH else Severity.WARNING
    slight = gone <= SOME
    if slight:
        gone, severity = _share_gone(shape.whole, layer), Severity.WARNING
        # A panel may be raised, by a chamfer, to enter its groove.
        if gone <= SLIGHT or (joint.kind == "groove" and name == contact.moving):
            return None
    among = [operation for operation in shape.operations if _is_slight(operation) == slight]
    worst = max(among, key=lambda one: _share_gone(part_solid(replace(part, operations=(one,))).body, layer))
    if joint.kind == "round tenon" and name == contact.moving and _is_round(worst):
        return None  # the tenon is as round as the piece, and its corners are wanted nowhere
    other = contact.moving if name == contact.fixed else contact.fixed
    return Finding(
        "joint-cut-away",
        f"the {called(worst)} on `{part.name}` takes away wood that the joint `{joint.name}` needs: "
        f"{_percent(gone)} of the face where {name} meets {other} has none behind it",
        worst.place,
        "let the shape begin beyond the joint, or move the joint to where there is wood",
        severity,
        ((joint.place, "the joint is here"),),
        part.key,
    )


def _percent(share: float) -> str:
    return f"{share:.0%}" if share >= MUCH else f"{share:.1%}"


def _layer(copy: Copy, contact: Contact) -> Box:
    """The room behind the face, in the frame, that has to be wood of this copy."""
    flat = [axis for axis in Axis if not contact.face.size(axis)]
    if not flat:
        return contact.face
    axis = flat[0]
    behind = copy.shoulders.middle(axis) >= contact.face.low.at(axis)
    return contact.face.grown(Side.of(axis, behind), BEHIND)


def _share_gone(body: manifold3d.Manifold, layer: Box) -> float:
    """The share of a layer, in the part's own frame, in which a solid has no wood."""
    low, size = layer.low.floats(), tuple(float(layer.size(axis)) for axis in Axis)
    tool = manifold3d.Manifold.cube(size).translate(low)
    return 1.0 - float((body ^ tool).volume()) / (size[0] * size[1] * size[2])

"""A profile routed along edges: cove, round-over or ogee."""

from __future__ import annotations

from typing import Literal

from plangen.expressions import LengthExpr
from plangen.joinery.cuts import Arc, Line, Loop
from plangen.joinery.edges import OnEdges, Profile, work_edges
from plangen.joinery.kinds import OperationKind
from plangen.joinery.operation import Group, Operation
from plangen.joinery.operations.round_over import quarter_round
from plangen.joinery.piece import Bench, Piece
from plangen.joinery.sentences import edge_sides, edge_stops, edges_named
from plangen.units import Length, Phrase, phrase


class ProfileWork(OnEdges):
    """``profile: {shape: cove, radius: 3/8in, edges: around top, stopped: {left: 2in}}``.

    The radius is that of the bit. A cove and a round-over take it off along each face, an ogee, with
    its hollow above its round, twice as much.
    """

    shape: Literal["cove", "round over", "ogee"]
    radius: LengthExpr


def work(entry: ProfileWork, piece: Piece, bench: Bench) -> tuple[Operation, ...]:
    """Rout the profile."""
    radius = entry.radius.length(bench.scope)
    shape = str(entry.shape)
    draw, times = _SHAPES[shape]
    note = phrase(f"{shape} R ", radius)
    tool = phrase("Router, ", radius, f" {shape.replace(' ', '-')} bit")
    return work_edges(entry, piece, bench, radius * times, "profile", "Profile", note, tool, draw)


def cove(corner: tuple[Length, Length], inward: tuple[int, int], size: Length) -> Loop:
    """Draw what a cove takes off a corner: inside the quarter circle about it."""
    x, y = corner
    one, two = (x + size * inward[0], y), (x, y + size * inward[1])
    return Loop(corner, (Line(one), Arc(two, size, inward[0] * inward[1] > 0), Line(corner)))


def ogee(corner: tuple[Length, Length], inward: tuple[int, int], size: Length) -> Loop:
    """Draw what an ogee takes off: a round that goes over into a hollow halfway; ``size`` is both radii."""
    x, y = corner
    radius = size / 2
    one, two = (x + size * inward[0], y), (x, y + size * inward[1])
    middle = (x + radius * inward[0], y + radius * inward[1])
    turns = inward[0] * inward[1] > 0
    return Loop(corner, (Line(one), Arc(middle, radius, not turns), Arc(two, radius, turns), Line(corner)))


_SHAPES: dict[str, tuple[Profile, int]] = {
    "cove": (cove, 1),
    "round over": (quarter_round, 1),
    "ogee": (ogee, 2),
}


def say(operation: Operation, piece: Piece) -> Phrase:
    """Say which edges get which profile, and where it stops."""
    where = edges_named(edge_sides(operation), piece)
    words = phrase("Rout a profile, ") + operation.features[0].note + phrase(f", along {where}")
    return words + edge_stops(operation, piece) + phrase(".")


KIND = OperationKind(
    "profile", ProfileWork, work, Group.EDGES, say, heading="Rout the {work} on the {pieces}"
)

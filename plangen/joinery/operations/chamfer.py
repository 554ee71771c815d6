"""A chamfer: an edge planed off at 45 degrees."""

from __future__ import annotations

from plangen.expressions import LengthExpr
from plangen.joinery.cuts import Line, Loop
from plangen.joinery.edges import OnEdges, work_edges
from plangen.joinery.kinds import OperationKind
from plangen.joinery.operation import Group, Operation
from plangen.joinery.piece import Bench, Piece
from plangen.joinery.sentences import edge_sides, edge_size, edge_stops, edges_named
from plangen.units import Length, Phrase, phrase


class Chamfer(OnEdges):
    """``chamfer: {edges: around top, size: 1/8in, stopped: {left: 1in}}``: the size along each face."""

    size: LengthExpr


def work(entry: Chamfer, piece: Piece, bench: Bench) -> tuple[Operation, ...]:
    """Chamfer the edges."""
    size = entry.size.length(bench.scope)
    note = phrase("chamfer ", size)
    return work_edges(
        entry,
        piece,
        bench,
        size,
        "chamfer",
        "Chamfer",
        note,
        phrase("Block plane, or router with a chamfer bit"),
        _profile,
    )


def _profile(corner: tuple[Length, Length], inward: tuple[int, int], size: Length) -> Loop:
    x, y = corner
    return Loop(corner, (Line((x + size * inward[0], y)), Line((x, y + size * inward[1])), Line(corner)))


def say(operation: Operation, piece: Piece) -> Phrase:
    """Say which edges are chamfered, by how much, and where it stops."""
    size = edge_size(operation)
    where = edges_named(edge_sides(operation), piece)
    return phrase(f"Chamfer {where} by ", size) + edge_stops(operation, piece) + phrase(".")


KIND = OperationKind("chamfer", Chamfer, work, Group.EDGES, say, heading="Plane the {work} on the {pieces}")

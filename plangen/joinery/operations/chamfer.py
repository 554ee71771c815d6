"""A chamfer: an edge planed off at 45 degrees."""

from __future__ import annotations

from plangen.expressions import LengthExpr
from plangen.joinery.cuts import Line, Loop
from plangen.joinery.edges import OnEdges, work_edges
from plangen.joinery.kinds import OperationKind
from plangen.joinery.operation import Operation
from plangen.joinery.piece import Bench, Piece
from plangen.units import Length, phrase


class Chamfer(OnEdges):
    """``chamfer: {edges: around top, size: 1/8in}``; the size is measured along each face."""

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


KIND = OperationKind("chamfer", Chamfer, work)

"""A round-over: an edge routed to a quarter circle."""

from __future__ import annotations

from plangen.expressions import LengthExpr
from plangen.joinery.cuts import Arc, Line, Loop
from plangen.joinery.edges import OnEdges, work_edges
from plangen.joinery.kinds import OperationKind
from plangen.joinery.operation import Group, Operation
from plangen.joinery.piece import Bench, Piece
from plangen.joinery.sentences import edge_sides, edge_size, edge_stops, edges_named
from plangen.units import Length, Phrase, phrase


class RoundOver(OnEdges):
    """``round over: {edges: around top, radius: 1/8in, stopped: {left: 1in}}``."""

    radius: LengthExpr


def work(entry: RoundOver, piece: Piece, bench: Bench) -> tuple[Operation, ...]:
    """Round the edges over."""
    radius = entry.radius.length(bench.scope)
    note = phrase("round over R ", radius)
    tool = phrase("Router, ", radius, " round-over bit")
    return work_edges(entry, piece, bench, radius, "round over", "Round-over", note, tool, quarter_round)


def quarter_round(corner: tuple[Length, Length], inward: tuple[int, int], radius: Length) -> Loop:
    """Draw what a round-over takes off a corner: outside the quarter circle."""
    x, y = corner
    one, two = (x + radius * inward[0], y), (x, y + radius * inward[1])
    # Seen from the corner of the blank the arc bulges outward, towards the corner: it turns about
    # the middle of the quarter circle, which lies one radius inward both ways.
    anticlockwise = inward[0] * inward[1] < 0
    return Loop(corner, (Line(one), Arc(two, radius, anticlockwise), Line(corner)))


def say(operation: Operation, piece: Piece) -> Phrase:
    """Say which edges are rounded over, to what radius, and where it stops."""
    where = edges_named(edge_sides(operation), piece)
    words = phrase(f"Round {where} over to a radius of ", edge_size(operation))
    return words + edge_stops(operation, piece) + phrase(".")


KIND = OperationKind(
    "round over", RoundOver, work, Group.EDGES, say, heading="Rout the {work} on the {pieces}"
)

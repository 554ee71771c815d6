"""Words for work along edges: equal chamfers and round-overs of a part are one instruction."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations
from typing import Final, TypeAlias

from plangen.design.model import Part
from plangen.joinery.operation import Feature, Form, Operation
from plangen.joinery.piece import Piece
from plangen.joinery.space import Axis, Side
from plangen.sequence.tokens import length_token, phrase_text
from plangen.sequence.trade import plain_kind
from plangen.units import Length, listed

Edge: TypeAlias = frozenset[Side]

# What the instruction starts with, and what comes between the edges and the size.
_SAY: Final = {"chamfer": ("Chamfer", "by"), "round over": ("Round", "over to a radius of")}


def side_name(part: Part, side: Side) -> str:
    """Give what a woodworker calls a side of a part, in the part's own frame: ``inside face``."""
    box = part.blank
    piece = Piece(
        part.key, part.name, box, box, part.runs, part.wide, part.thick, True, False, part.inside, part.place
    )
    return piece.call(side)


def edges_said(part: Part, operations: Sequence[Operation]) -> dict[int, str | None]:
    """Say the edges that operations of one part work, those of equal size together.

    Gives for the index of each operation on edges its instruction, and None where an earlier one says it
    too. Left out are operations that have no equal, that the maker says, or that are not on edges.
    """
    gathered: dict[tuple[str, Length], list[int]] = {}
    edges: dict[int, list[Edge]] = {}
    for index, operation in enumerate(operations):
        kind = plain_kind(operation.kind)
        found = [_edge(part, feature) for feature in operation.features if feature.form is Form.EDGE]
        known = [one for one in found if one is not None]
        said = phrase_text(operation.say).strip()
        drafted = kind in _SAY and (not said or said.startswith(f"{_SAY[kind][0]} "))
        if not drafted or not known or len(known) < len(operation.features):
            continue
        sizes = {size for _, size in known}
        if len(sizes) == 1:
            gathered.setdefault((kind, known[0][1]), []).append(index)
            edges[index] = [edge for edge, _ in known]
    sayings: dict[int, str | None] = {}
    for (kind, size), indices in gathered.items():
        if len(indices) == 1 and phrase_text(operations[indices[0]].say).strip():
            continue
        start, way = _SAY[kind]
        worked = list(dict.fromkeys(edge for index in indices for edge in edges[index]))
        sayings[indices[0]] = f"{start} {edges_named(part, worked)} {way} {length_token(size)}."
        sayings.update(dict.fromkeys(indices[1:]))
    return sayings


def edges_named(part: Part, edges: Sequence[Edge]) -> str:
    """Name some of a part's edges: ``the four long edges``, ``the edges around the top face``, or each."""
    wanted = set(edges)
    every = [frozenset(pair) for pair in combinations(Side, 2) if pair[0].axis is not pair[1].axis]
    long = {edge for edge in every if part.runs not in {side.axis for side in edge}}
    if wanted == set(every):
        return "all edges"
    if wanted == long:
        return "the four long edges"
    for axis in (part.thick, part.runs, part.wide):
        low, high = Side.of(axis, False), Side.of(axis, True)
        round_low, round_high = ({edge for edge in every if side in edge} for side in (low, high))
        if wanted == round_low | round_high:
            ends = (
                "both ends"
                if axis is part.runs
                else f"the {side_name(part, low)} and {side_name(part, high)}"
            )
            return f"the edges around {ends}"
        for side, around in ((low, round_low), (high, round_high)):
            if wanted == around:
                return f"the edges around the {side_name(part, side)}"
            if axis is not part.runs and wanted == around & long:
                return f"the two long edges of the {side_name(part, side)}"
    names = [_edge_name(edge) for edge in edges]
    return f"the {listed(names)} edge{'s' if len(names) > 1 else ''}"


def _edge_name(edge: Edge) -> str:
    order = (Axis.UP, Axis.DEEP, Axis.ACROSS)
    return " ".join(side.word for side in sorted(edge, key=lambda side: order.index(side.axis)))


def _edge(part: Part, feature: Feature) -> tuple[Edge, Length] | None:
    """Give the two sides that meet at a feature's edge, and how far in it goes."""
    sides, size = [], None
    for axis, span in feature.spans:
        low, high = part.blank.low.at(axis), part.blank.high.at(axis)
        if span.low <= low and span.high >= high:
            continue
        if span.low > low and span.high < high:
            return None
        sides.append(Side.of(axis, span.high >= high))
        size = span.high - span.low
    return (frozenset(sides), size) if len(sides) == 2 and size is not None else None

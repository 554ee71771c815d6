"""Edges of a blank, and the profiles that chamfers, round-overs and moulding bits take off them."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeAlias

from plangen.expressions import Entry, LengthExpr, Text
from plangen.joinery.cuts import Loop, PrismCut, plane_axes
from plangen.joinery.operation import Feature, Form, Operation, Span
from plangen.joinery.piece import Bench, Piece
from plangen.joinery.space import SIDE_WORDS, Axis, Side
from plangen.units import ZERO, Length, Phrase

Edge: TypeAlias = tuple[Side, Side]
Profile: TypeAlias = Callable[[tuple[Length, Length], tuple[int, int], Length], Loop]


class OnEdges(Entry):
    """Which edges: ``all``, ``long``, ``ends``, ``around top``, or pairs such as ``front top``.

    ``stopped`` says how far short of a side the work on the edges that run to it ends.
    """

    edges: list[Text] | Text
    stopped: dict[Text, LengthExpr] | None = None


def edges_of(entry: OnEdges, piece: Piece, bench: Bench) -> tuple[Edge, ...]:
    """Give the edges that an entry names, each once, in a fixed order."""
    words = [entry.edges] if isinstance(entry.edges, Text) else entry.edges
    chosen: list[Edge] = []
    for word in words:
        found = _edges(str(word), piece)
        if not found:
            bench.findings.error(
                "unknown-edge",
                f"`{word}` names no edge",
                word.place,
                "write `all`, `long`, `ends`, `around top`, or two sides that meet such as `front top`",
                part=piece.part,
            )
        chosen.extend(edge for edge in found if edge not in chosen)
    return tuple(chosen)


def _edges(word: str, piece: Piece) -> list[Edge]:
    every = [(one, two) for one in Side for two in Side if one.axis.value < two.axis.value]
    if word == "all":
        return every
    if word == "long":
        return [edge for edge in every if piece.runs not in (edge[0].axis, edge[1].axis)]
    if word == "ends":
        return [edge for edge in every if piece.runs in (edge[0].axis, edge[1].axis)]
    names = word.split()
    if len(names) == 2 and names[0] == "around":
        side = piece.face(names[1]) if names[1] in (*SIDE_WORDS, "inside", "outside") else None
        return [edge for edge in every if side in edge] if side else []
    sides = [piece.face(name) for name in names if name in (*SIDE_WORDS, "inside", "outside")]
    if len(sides) != 2 or None in sides:
        return []
    return [edge for edge in every if set(edge) == set(sides)]


def _leaves_wood(edges: tuple[Edge, ...], piece: Piece, size: Length) -> bool:
    """Whether the profiles leave some of the piece between them."""
    if size.mm <= 0:
        return False
    for one, two in edges:
        for side, other in ((one, two), (two, one)):
            opposite = {side.opposite, other}
            times = 2 if any(set(edge) == opposite for edge in edges) else 1
            if size * times >= piece.finished.size(side.axis):
                return False
    return True


def _along(edge: Edge) -> Axis:
    return next(axis for axis in Axis if axis not in (edge[0].axis, edge[1].axis))


def _stops(entry: OnEdges, edges: tuple[Edge, ...], piece: Piece, bench: Bench) -> dict[Side, Length] | None:
    """How far short of each side the work stops; None, with a finding, when that cannot be."""
    axes = {_along(edge) for edge in edges}
    found: dict[Side, Length] = {}
    for word, expression in (entry.stopped or {}).items():
        side = piece.face(str(word)) if str(word) in (*SIDE_WORDS, "inside", "outside") else None
        if side is None or side.axis not in axes or side in found:
            allowed = " and ".join(one.word for one in Side if one.axis in axes)
            bench.findings.error(
                "wrong-side",
                f"`stopped` cannot name `{word}` here: no edge that is worked ends there",
                word.place,
                f"the sides are {allowed}, each once",
                part=piece.part,
            )
            return None
        found[side] = expression.length(bench.scope)
        if found[side] < ZERO:
            bench.findings.error(
                "bad-value",
                f"`stopped` at the {side.word} is below zero",
                expression.place,
                "give a length of zero or more",
                part=piece.part,
            )
            return None
    for axis in sorted(axes, key=lambda axis: axis.value):
        short = sum((length for side, length in found.items() if side.axis is axis), ZERO)
        if short >= piece.finished.size(axis):
            bench.findings.error(
                "stopped-away",
                "stopped so far nothing is left of the worked edge",
                entry.place_of("stopped"),
                "stop it less far from the ends",
                part=piece.part,
            )
            return None
    return found


def work_edges(
    entry: OnEdges,
    piece: Piece,
    bench: Bench,
    size: Length,
    kind: str,
    title: str,
    note: Phrase,
    tool: Phrase,
    profile: Profile,
) -> tuple[Operation, ...]:
    """Take a profile off every edge in one operation, for it is one set-up.

    ``size`` is what the profile takes off along each face; ``profile`` draws it from the corner, the
    ways inward and the size.
    """
    edges = edges_of(entry, piece, bench)
    if not _leaves_wood(edges, piece, size):
        bench.findings.error(
            "edge-too-big",
            f"the {title.lower()} takes off more than {piece.part} has",
            entry.place,
            "make it smaller than the thickness, and than half of it where two edges of a face have it",
            part=piece.part,
        )
        return ()
    stops = _stops(entry, edges, piece, bench) if edges else None
    if not edges or stops is None:
        return ()
    cuts, features = [], []
    for one, two in edges:
        axis = _along((one, two))
        by_axis = {one.axis: one, two.axis: two}
        first, second = (by_axis[a] for a in plane_axes(axis))
        corner = (piece.finished.side(first), piece.finished.side(second))
        loop = profile(corner, (-first.sign, -second.sign), size)
        low = piece.finished.low.at(axis) + stops.get(Side.of(axis, False), ZERO)
        high = piece.finished.high.at(axis) - stops.get(Side.of(axis, True), ZERO)
        spans = {axis: Span(low, high)}
        for side in (one, two):
            at, inward = piece.finished.side(side), piece.finished.side(side) - size * side.sign
            spans[side.axis] = Span(min(at, inward), max(at, inward))
        face = one if one.axis is piece.thick else two
        cuts.append(PrismCut(axis, low, high, (loop,)))
        datum = tuple(side for side in stops if side.axis is axis)
        features.append(Feature(Form.EDGE, face, tuple((a, spans[a]) for a in Axis), datum, note=note))
    return (
        Operation(
            kind=kind,
            title=title,
            side=features[0].side,
            cuts=tuple(cuts),
            features=tuple(features),
            say=Phrase(),
            tools=(tool,),
            cautions=("router",),
            place=entry.place,
        ),
    )

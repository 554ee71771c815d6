"""Edge banding: thin stuff glued on edges, which the finished size counts."""

from __future__ import annotations

from plangen.expressions import Entry, LengthExpr, SideWord, Text
from plangen.joinery.fields import resolve_face
from plangen.joinery.kinds import OperationKind
from plangen.joinery.operation import Added, Feature, Form, Group, Operation, Span
from plangen.joinery.piece import Bench, Piece
from plangen.joinery.space import Axis, Side
from plangen.units import ZERO, Length, Phrase, phrase


class EdgeBanding(Entry):
    """``edge banding: {edges: [front], with: birch tape, thickness: 1/32in}``.

    ``with`` names a row under ``stock`` or ``hardware``; where that row says its thickness, it need
    not be said again. The part's finished size counts the banding: its core is that much smaller.
    """

    edges: list[SideWord]
    with_: Text
    thickness: LengthExpr | None = None


def work(entry: EdgeBanding, piece: Piece, bench: Bench) -> tuple[Operation, ...]:
    """Band the edges."""
    sides = _sides(entry, piece, bench)
    item = str(entry.with_)
    hardware = bench.fastener(item)
    known = hardware is not None or item in bench.stocked
    if not known:
        bench.findings.error(
            "unknown-name",
            f"there is no stock or hardware `{item}`",
            entry.with_.place,
            f"add a row `{item}` under `stock` or `hardware`, or check the name",
            part=piece.part,
        )
    if not sides or not known:
        return ()
    own = hardware.ware.sizes if hardware is not None and hardware.ware is not None else {}
    thickness = _thickness(entry, own.get("thickness"), piece, bench)
    if thickness is None or not _fits(sides, thickness, entry, piece, bench):
        return ()
    if not _covers(own.get("width"), entry, piece, bench):
        return ()
    features = []
    for side in sides:
        spans = {axis: Span(piece.finished.low.at(axis), piece.finished.high.at(axis)) for axis in Axis}
        outer, inner = piece.finished.side(side), piece.finished.side(side) - thickness * side.sign
        spans[side.axis] = Span(min(outer, inner), max(outer, inner))
        note = phrase(f"{item}, ", thickness, " thick, counted in the size")
        features.append(Feature(Form.EDGE, side, tuple((axis, spans[axis]) for axis in Axis), note=note))
    return (
        Operation(
            kind="edge banding",
            title="Edge banding",
            side=sides[0],
            cuts=(),
            features=tuple(features),
            say=Phrase(),
            tools=(phrase("Household iron or contact roller"), phrase("Block plane or trimmer")),
            place=entry.place,
            adds=tuple(Added(side, thickness, item) for side in sides),
        ),
    )


def _sides(entry: EdgeBanding, piece: Piece, bench: Bench) -> tuple[Side, ...]:
    """The edges and ends named, each once; none, with a finding, where a word names no edge."""
    found: list[Side] = []
    for word in entry.edges:
        side = resolve_face(word, piece, bench, word.place)
        if side is None:
            return ()
        if side.axis is piece.thick or side in found:
            bench.findings.error(
                "wrong-side",
                f"`{word}` is a face of {piece.part}; banding goes on its edges and ends"
                if side.axis is piece.thick
                else f"`{word}` is named twice",
                word.place,
                "name edges and ends, each once",
                part=piece.part,
            )
            return ()
        found.append(side)
    if not found:
        bench.findings.error(
            "unknown-edge",
            "no edge is named",
            entry.place_of("edges"),
            "write for example `edges: [front]`",
            part=piece.part,
        )
    return tuple(found)


def _thickness(entry: EdgeBanding, own: Length | None, piece: Piece, bench: Bench) -> Length | None:
    """The thickness typed here or of the row; None, with a finding, when there is none or they differ."""
    typed = entry.thickness.length(bench.scope) if entry.thickness is not None else None
    if typed is None and own is None:
        bench.findings.error(
            "missing-key",
            f"nothing says how thick `{entry.with_}` is",
            entry.place,
            "add `thickness: 1/32in`",
            part=piece.part,
        )
        return None
    if typed is not None and own is not None and typed != own:
        bench.findings.error(
            "banding-thickness",
            f"`{entry.with_}` has another thickness in its own row",
            entry.place_of("thickness"),
            "take `thickness` out here, or give both alike",
            part=piece.part,
        )
        return None
    return typed if typed is not None else own


def _covers(width: Length | None, entry: EdgeBanding, piece: Piece, bench: Bench) -> bool:
    """Report banding that is narrower than the edges it should cover."""
    if width is None or width >= piece.finished.size(piece.thick):
        return True
    bench.findings.error(
        "banding-width",
        f"`{entry.with_}` is narrower than {piece.part} is thick",
        entry.place_of("with_"),
        "take a banding that is wider than the edge, and trim it flush",
        part=piece.part,
    )
    return False


def _fits(sides: tuple[Side, ...], thickness: Length, entry: EdgeBanding, piece: Piece, bench: Bench) -> bool:
    """Report banding without thickness, or thicker than the part has room for."""
    for axis in Axis:
        layers = sum(1 for side in sides if side.axis is axis)
        if layers and not ZERO < thickness * layers < piece.finished.size(axis):
            bench.findings.error(
                "banding-thickness",
                f"the banding leaves nothing of {piece.part}"
                if thickness > ZERO
                else "the banding has no thickness",
                entry.place_of("thickness"),
                "give what one layer measures, as `1/32in`",
                part=piece.part,
            )
            return False
    return True


def say(operation: Operation, piece: Piece) -> Phrase:
    """Say which edges are banded, with what, and that the size counts it."""
    names = [piece.call(added.side) for added in operation.adds]
    where = names[0] if len(names) == 1 else f"{', the '.join(names[:-1])} and the {names[-1]}"
    first = operation.adds[0]
    words = phrase(f"Glue {first.item}, ", first.thickness, f" thick, to the {where} and trim it flush")
    return words + phrase("; the finished size counts it.")


KIND = OperationKind(
    "edge banding", EdgeBanding, work, Group.EDGES, say, heading="Glue the edge banding to the {pieces}"
)

"""Where on a face hardware is fitted: one place, a row, a grid, its middle, its corners or its ends."""

from __future__ import annotations

from plangen.description.model import FitEntry, RowEntry
from plangen.expressions import parse_expression
from plangen.joinery.fields import located, nothing_idle
from plangen.joinery.hardware.fitting import Seats
from plangen.joinery.operation import Repeat
from plangen.joinery.piece import Bench, Fastener, Piece
from plangen.joinery.space import Axis, Side
from plangen.units import ZERO, Length

# From one place to the next along an axis: the first place, how many, how far apart, measured from.
Along = tuple[Length, int, Length, Side | None]


def seats_of(entry: FitEntry, fastener: Fastener, face: Side, piece: Piece, bench: Bench) -> Seats | None:
    """Give the places of a fit on a face of the part; None, with a finding, when they cannot be."""
    lateral = tuple(axis for axis in Axis if axis is not face.axis)
    long = (
        piece.runs if piece.runs in lateral else max(lateral, key=lambda axis: piece.finished.size(axis).mm)
    )
    wide = next(axis for axis in lateral if axis is not long)
    if not _one_way(entry, fastener, piece, bench):
        return None
    found: dict[Axis, Along] = {}
    if entry.at is not None:
        placed = _at(entry, long, wide, face, piece, bench)
        if placed is None:
            return None
        found |= placed
    if entry.row is not None or entry.grid is not None:
        rows = _rows(entry, long, wide, face, piece, bench)
        if rows is None:
            return None
        found |= rows
    for word, axis in (("along", long), ("over", wide)):
        if getattr(entry, word) is not None and axis not in found:
            found[axis] = (piece.finished.middle(axis), 1, ZERO, None)
    open_ways = tuple(axis for axis in lateral if axis not in found)
    if not nothing_idle(entry, open_ways, piece, bench, fastener.name):
        return None
    for axis in open_ways:
        there = located(entry, axis, piece, bench, fastener.name)
        if there is None:
            return None
        found[axis] = (there[0], 1, ZERO, there[1])
    low = piece.finished.low.with_(face.axis, piece.finished.side(face))
    repeat: list[Repeat] = []
    datum: list[Side] = []
    for axis in lateral:
        first, number, pitch, side = found[axis]
        low = low.with_(axis, first)
        if number > 1:
            repeat.append(Repeat(axis, number, pitch))
        if side is not None:
            datum.append(side)
    mouths = [low]
    for one in repeat:
        mouths = [point.moved(one.axis, one.pitch * index) for point in mouths for index in range(one.number)]
    along, over = (wide, long) if entry.turned else (long, wide)
    return Seats(
        face,
        Side.of(along, True),
        Side.of(over, True),
        tuple(mouths),
        low,
        tuple(repeat),
        tuple(datum),
    )


def _one_way(entry: FitEntry, fastener: Fastener, piece: Piece, bench: Bench) -> bool:
    """Report a fit that says twice where it goes, or gives a distance that nothing is measured by."""
    ways = [key for key in ("at", "row", "grid") if getattr(entry, key) is not None]
    if len(ways) > 1:
        bench.findings.error(
            "over-located",
            f"{fastener.name}: `{ways[0]}` and `{ways[1]}` both say where it goes",
            entry.place_of(ways[1]),
            "keep one of them",
            part=piece.part,
        )
        return False
    inset = entry.at in ("corners", "ends")
    for key in ("from_edges", "from_ends"):
        if getattr(entry, key) is not None and not inset:
            bench.findings.error(
                "idle-key",
                f"{fastener.name}: `{key.replace('_', ' ')}` settles nothing here",
                entry.place_of(key),
                "it goes with `at: corners` or `at: ends`",
                part=piece.part,
            )
            return False
    return True


def _at(
    entry: FitEntry, long: Axis, wide: Axis, face: Side, piece: Piece, bench: Bench
) -> dict[Axis, Along] | None:
    box = piece.finished
    centre = {axis: (box.middle(axis), 1, ZERO, None) for axis in (long, wide)}
    if entry.at == "middle":
        return dict(centre)
    edges = entry.from_edges.length(bench.scope) if entry.from_edges is not None else None
    ends = entry.from_ends.length(bench.scope) if entry.from_ends is not None else edges
    if ends is None or (edges is None and entry.at == "corners"):
        bench.findings.error(
            "missing-key",
            f"`at: {entry.at}` does not say how far in",
            entry.place_of("at"),
            "add `from edges: …`" + (", or `from ends: …`" if entry.at == "ends" else ""),
            part=piece.part,
        )
        return None
    found: dict[Axis, Along] = dict(centre)
    for axis, inset, key in ((long, ends, "from_ends"), (wide, edges, "from_edges")):
        if axis is wide and entry.at == "ends":
            continue
        assert inset is not None
        if inset.mm < 0 or inset * 2 >= box.size(axis):
            bench.findings.error(
                "row",
                f"two places so far in do not lie on the {piece.call(face)} of {piece.part}",
                entry.place_of(key if getattr(entry, key) is not None else "from_edges"),
                "keep the distance below half of the part",
                part=piece.part,
            )
            return None
        low = Side.of(axis, False)
        found[axis] = (box.low.at(axis) + inset, 2, box.size(axis) - inset * 2, low)
    return found


def _rows(
    entry: FitEntry, long: Axis, wide: Axis, face: Side, piece: Piece, bench: Bench
) -> dict[Axis, Along] | None:
    rows: list[tuple[Axis, RowEntry]] = []
    if entry.row is not None:
        if entry.row.going == "along" and piece.runs is face.axis:
            bench.findings.error(
                "row",
                f"a row along {piece.part} does not lie on its {piece.call(face)}",
                entry.row.place,
                "write `going: over`, or name another face",
                part=piece.part,
            )
            return None
        rows.append((long if entry.row.going == "along" else wide, entry.row))
        if piece.runs is face.axis and entry.row.going == "over":
            rows = [(_over(piece, face), entry.row)]
    elif entry.grid is not None:
        grid = entry.grid
        for axis, number in ((long, grid.along), (wide, grid.over)):
            row = RowEntry.model_construct(
                number=number, going="along", ends=grid.ends, pitch=None, first=None
            )
            row._place, row._places = grid.place, {"number": grid.place, "ends": grid.place_of("ends")}
            rows.append((axis, row))
    found: dict[Axis, Along] = {}
    for axis, row in rows:
        made = _row(row, axis, piece, bench)
        if made is None:
            return None
        found[axis] = (made[0], row.number, made[1], Side.of(axis, False))
    return found


def _over(piece: Piece, face: Side) -> Axis:
    return next(axis for axis in Axis if axis not in (piece.runs, face.axis))


def _row(row: RowEntry, axis: Axis, piece: Piece, bench: Bench) -> tuple[Length, Length] | None:
    """The first place and the pitch."""
    low, length = piece.shoulders.low.at(axis), piece.shoulders.size(axis)
    if not 1 <= row.number <= 200:
        bench.findings.error(
            "row",
            "a row has between 1 and 200 places",
            row.place_of("number"),
            "check the number",
            part=piece.part,
        )
        return None
    if row.pitch is not None:
        pitch = row.pitch.length(bench.scope)
        if pitch.mm <= 0 or row.ends is not None:
            bench.findings.error(
                "row",
                "a row with a pitch needs it above zero, and takes no `ends`",
                row.place_of("pitch"),
                "for five places 32 mm apart: `{number: 5, going: along, pitch: 32mm}`",
                part=piece.part,
            )
            return None
        spare = (length - pitch * (row.number - 1)) / 2
        return low + (row.first.length(bench.scope) if row.first is not None else spare), pitch
    if row.first is not None:
        bench.findings.error(
            "row",
            "`first` goes with a `pitch`",
            row.place_of("first"),
            "add `pitch: …`, or say how the `ends` are kept",
            part=piece.part,
        )
        return None
    ends = str(row.ends or "half gap")
    if ends == "gap":
        pitch = length / (row.number + 1)
        return low + pitch, pitch
    if ends == "half gap":
        pitch = length / row.number
        return low + pitch / 2, pitch
    if row.number == 1:
        bench.findings.error(
            "row",
            "one place has no neighbour to keep away from",
            row.place_of("ends"),
            "leave `ends` out to put it in the middle",
            part=piece.part,
        )
        return None
    inset = ZERO if row.ends is None or ends == "flush" else parse_expression(row.ends).length(bench.scope)
    if inset * 2 >= length:
        bench.findings.error(
            "row",
            "the two ends take all of the row",
            row.place_of("ends"),
            "keep the ends smaller than half of the part",
            part=piece.part,
        )
        return None
    return low + inset, (length - inset * 2) / (row.number - 1)

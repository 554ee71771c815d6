"""A pocket: a recess for a flange or a plate, round or with rounded corners, open below where wanted."""

from __future__ import annotations

from dataclasses import dataclass, replace

from plangen.expressions import Entry, LengthExpr, SideWord
from plangen.joinery.body import spans_of
from plangen.joinery.cuts import Cut, RoundCut
from plangen.joinery.fields import FromSides, resolve_face
from plangen.joinery.kinds import OperationKind
from plangen.joinery.operation import Feature, Form, Group, Operation, Span
from plangen.joinery.piece import Bench, Piece
from plangen.joinery.recess import depth_of, fits, placed_box, radius_fits
from plangen.joinery.rows import InRows, Rows, mirrored, rows_of
from plangen.joinery.sentences import counted, location
from plangen.joinery.shapes import rounded_prism
from plangen.joinery.space import Axis, Box, Side
from plangen.units import ZERO, Length, Phrase, phrase


class Opening(Entry):
    """A hole: ``diameter`` of a round one, ``length`` and ``width`` of a square one."""

    length: LengthExpr | None = None
    width: LengthExpr | None = None
    diameter: LengthExpr | None = None
    radius: LengthExpr | None = None


class Pocket(FromSides, InRows, Opening):
    """``pocket: {face: top, from left: 3in, from front: 2in, length: 4in, width: 2in, depth: 1/8in, …}``.

    ``length`` goes along the part's run. ``radius`` is that of the router bit, left in the corners.
    A round pocket has a ``diameter``, and its middle is what is placed. ``opening: {length: 3in,
    width: 1-1/2in, radius: 1/4in}`` goes on through, in the middle of it.
    """

    face: SideWord
    depth: LengthExpr
    opening: Opening | None = None


def work(entry: Pocket, piece: Piece, bench: Bench) -> tuple[Operation, ...]:
    """Rout the pocket, and saw its opening."""
    face = resolve_face(entry.face, piece, bench, entry.place_of("face"))
    size = _size(entry, face, piece, bench, "pocket") if face is not None else None
    if face is None or size is None:
        return ()
    placed = _placed(entry, size, face, piece, bench)
    depth = depth_of(entry.depth, face, entry, piece, bench, "pocket")
    if placed is None or depth is None:
        return ()
    if depth == piece.finished.size(face.axis):
        bench.findings.error(
            "recess-too-deep",
            f"a pocket this deep goes right through {piece.part}",
            entry.place_of("depth"),
            "make it less deep, or write a `slot` or a `hole` without `depth`",
            part=piece.part,
        )
        return ()
    box, datum = placed
    floor = piece.finished.side(face) - depth * face.sign
    recess = box.with_side(face.opposite, floor)
    rows = rows_of(entry, face, datum, piece, bench, "pocket")
    if rows is None or not rows.keep_apart(entry, recess, piece, bench, "pocket"):
        return ()
    if not rows.on_part(entry, recess, face, piece, bench, "pocket"):
        return ()
    features = [_feature(size, recess, face, datum, rows, depth)]
    cuts = [_cut(size, recess.shifted(shift), face) for shift in rows.shifts]
    if entry.opening is not None:
        opened = _size(entry.opening, face, piece, bench, "opening")
        if opened is None or not _smaller(opened, size, entry.opening, piece, bench):
            return ()
        hole = _inside(recess, opened.extent, piece.finished, face)
        cuts += [_cut(opened, hole.shifted(shift), face) for shift in rows.shifts]
        if size.diameter is not None and opened.diameter is not None:
            features = [
                replace(features[0], diameter=opened.diameter, depth=None, counterbore=(size.diameter, depth))
            ]
        else:
            features.append(_feature(opened, hole, face, datum, rows, None))
    router = phrase("Router with a straight bit and a template")
    one = Operation(
        kind="pocket",
        title="Pocket",
        side=face,
        cuts=tuple(cuts),
        features=tuple(features),
        say=Phrase(),
        tools=(router, phrase("Jigsaw")) if entry.opening is not None else (router,),
        cautions=("router", "jigsaw") if entry.opening is not None else ("router",),
        place=entry.place,
    )
    whole = mirrored(entry, one, piece, bench, "pocket")
    if whole is None:
        return ()
    many = len(whole.cuts) > (2 if entry.opening is not None else 1)
    return (replace(whole, title="Pockets") if many else whole,)


@dataclass(frozen=True, slots=True)
class _Size:
    """The extent of a recess along each axis of its face, and its corners; ``diameter`` if it is round."""

    extent: dict[Axis, Length]
    radius: Length
    diameter: Length | None


def _size(entry: Opening, face: Side, piece: Piece, bench: Bench, noun: str) -> _Size | None:
    lateral = [axis for axis in Axis if axis is not face.axis]
    runs = piece.runs if piece.runs in lateral else lateral[0]
    over = next(axis for axis in lateral if axis is not runs)
    typed = {key: getattr(entry, key) for key in ("length", "width", "diameter", "radius")}
    sizes = {key: value.length(bench.scope) for key, value in typed.items() if value is not None}
    if set(sizes) - {"radius"} not in ({"length", "width"}, {"diameter"}) or set(sizes) > {"diameter"}:
        bench.findings.error(
            "pocket-size",
            f"the size of the {noun} is a `length` and a `width`, or for a round one a `diameter`",
            entry.place,
            "for example `length: 4in, width: 2in, radius: 1/4in`, or `diameter: 2in`",
            part=piece.part,
        )
        return None
    for key, value in sizes.items():
        if key != "radius" and value <= ZERO:
            bench.findings.error(
                "zero-size",
                f"the {key} of the {noun} is not above zero",
                entry.place_of(key),
                "give a length above zero",
                part=piece.part,
            )
            return None
    if "diameter" in sizes:
        across = sizes["diameter"]
        return _Size(dict.fromkeys(lateral, across), across / 2, across)
    radius = sizes.get("radius", ZERO)
    if not radius_fits(radius, min(sizes["length"], sizes["width"]) / 2, entry, piece, bench, noun):
        return None
    return _Size({runs: sizes["length"], over: sizes["width"]}, radius, None)


def _placed(
    entry: Pocket, size: _Size, face: Side, piece: Piece, bench: Bench
) -> tuple[Box, dict[Axis, Side]] | None:
    """The room of the pocket, right through: placed by its nearer sides, a round one by its middle."""
    if size.diameter is None:
        return placed_box(entry, size.extent, face, piece, bench, "pocket")
    if not entry.only(tuple(size.extent), piece, bench, "pocket"):
        return None
    found = {axis: entry.require(axis, piece, bench, "pocket") for axis in size.extent}
    box, datum = piece.finished, {}
    for axis, place in sorted(found.items(), key=lambda item: item[0].value):
        if place is None:
            return None
        at, side = place
        box = box.with_side(side, at + size.radius * side.sign)
        box = box.with_side(side.opposite, at - size.radius * side.sign)
        datum[axis] = side
    return (box, datum) if fits(entry, box, face, piece, bench, "pocket") else None


def _smaller(opened: _Size, size: _Size, entry: Opening, piece: Piece, bench: Bench) -> bool:
    """Report an opening that leaves no ledge all round."""
    within = all(opened.extent[axis] < size.extent[axis] for axis in size.extent)
    if size.diameter is not None and opened.diameter is None:
        one, two = opened.extent.values()
        within = one.mm**2 + two.mm**2 < size.diameter.mm**2  # its corners stay inside the circle
    if within:
        return True
    bench.findings.error(
        "opening-too-large",
        "the opening is as large as the pocket, so that no ledge is left",
        entry.place,
        "make the opening smaller than the pocket in both directions",
        part=piece.part,
    )
    return False


def _inside(recess: Box, extent: dict[Axis, Length], whole: Box, face: Side) -> Box:
    """The opening's room, in the middle of the recess, right through."""
    box = whole
    for axis, length in extent.items():
        middle = recess.middle(axis)
        box = box.with_side(Side.of(axis, False), middle - length / 2)
        box = box.with_side(Side.of(axis, True), middle + length / 2)
    return box


def _cut(size: _Size, box: Box, face: Side) -> Cut:
    if size.diameter is not None:
        mouth = box.low.with_(face.axis, box.side(face))
        for axis in size.extent:
            mouth = mouth.with_(axis, box.middle(axis))
        return RoundCut(mouth, face, size.diameter, box.size(face.axis))
    one, two = size.extent
    corners = {(one, a, two, b): size.radius for a in (False, True) for b in (False, True)}
    return rounded_prism(box, face.axis, corners)


def _feature(
    size: _Size, box: Box, face: Side, datum: dict[Axis, Side], rows: Rows, depth: Length | None
) -> Feature:
    low = box.shifted(rows.low)
    if size.diameter is None:
        radii = (size.radius,) if size.radius > ZERO else ()
        return Feature(
            Form.SLOT, face, spans_of(low), tuple(datum.values()),
            depth=depth, repeat=rows.repeat, radii=radii,
        )  # fmt: skip
    spans = dict(spans_of(low))
    spans.update({axis: Span(low.middle(axis), low.middle(axis)) for axis in size.extent})
    return Feature(
        Form.HOLE, face, tuple((axis, spans[axis]) for axis in Axis), tuple(datum.values()),
        diameter=size.diameter, depth=depth, repeat=rows.repeat,
    )  # fmt: skip


def say(operation: Operation, piece: Piece) -> Phrase:
    """Say the pocket, then its opening."""
    recess, *others = operation.features
    number = len({feature.datum for feature in operation.features})
    what = counted(replace(operation, features=_first_of_each(operation, number)), "pocket")
    where = piece.call(recess.side)
    if recess.form is Form.HOLE:
        wide, deep = recess.counterbore or (recess.diameter or ZERO, recess.depth or ZERO)
        words = phrase(f"Rout {what} ", wide, " across and ", deep, f" deep in the {where}")
        if recess.counterbore and recess.diameter:
            return words + phrase(", and cut an opening ", recess.diameter, " across through its middle.")
        return words + _opening(others, number, piece) + phrase(".")
    lateral = sorted(
        (axis for axis in Axis if axis is not recess.side.axis), key=lambda axis: axis is not piece.runs
    )
    along, over = (recess.span(axis).high - recess.span(axis).low for axis in lateral)
    words = phrase(f"Rout {what} ", along, " by ", over)
    words += phrase(" and ", recess.depth or ZERO, f" deep in the {where}")
    for axis in lateral:
        words += location(recess, axis, piece)
    return words + _opening(others, number, piece) + phrase(".")


def _first_of_each(operation: Operation, number: int) -> tuple[Feature, ...]:
    """The recesses alone: each comes first of the features with its datum."""
    return tuple({feature.datum: feature for feature in reversed(operation.features)}.values())[:number]


def _opening(others: list[Feature], number: int, piece: Piece) -> Phrase:
    through = next((feature for feature in others if feature.depth is None), None)
    if through is None:
        return Phrase()
    if through.form is Form.HOLE:
        return phrase("; cut an opening ", through.diameter or ZERO, " across through its middle")
    one, two = sorted(
        (axis for axis in Axis if axis is not through.side.axis), key=lambda axis: axis is not piece.runs
    )
    sizes = [through.span(axis).high - through.span(axis).low for axis in (one, two)]
    return phrase("; saw an opening ", sizes[0], " by ", sizes[1], " through its middle")


KIND = OperationKind("pocket", Pocket, work, Group.JOINTS, say, heading="Rout the {work} in the {pieces}")

"""A loose tenon: mortises in both pieces, and a tenon made of its own between them."""

from __future__ import annotations

from plangen.expressions import LengthExpr, Name, Names
from plangen.handbook import joinery_rules
from plangen.joinery.body import Expansion, JointKind, Meeting, Spot, between, gap_fits, metric
from plangen.joinery.corner import long_places, slot_work
from plangen.joinery.fastening import Fastening
from plangen.joinery.operation import Operation
from plangen.joinery.piece import Bench
from plangen.joinery.shapes import Ends, channel
from plangen.joinery.space import Axis, Box, Point, Side
from plangen.units import ZERO, Length, phrase


class LooseTenon(Fastening):
    """``loose tenon: {between: [rail, leg], with: tenon, width: 1-1/2in, length: 2in, ends: round}``.

    ``length`` is the whole tenon's, half of it in each piece. It, ``width`` and ``thickness`` are those
    of its row of hardware unless said; a thickness said nowhere is a third of the thinner piece.
    ``gap`` is how much deeper each mortise is.
    """

    between: Names
    with_: Name
    width: LengthExpr | None = None  # of the tenon, along the joint: its hardware's unless said
    length: LengthExpr | None = None  # of the whole tenon, half in each piece: its hardware's unless said
    thickness: LengthExpr | None = None  # its hardware's, else a third of the thinner piece, unless said
    gap: LengthExpr | None = None  # how much deeper each mortise is: 1/16 in or 2 mm unless said
    ends: Ends | None = None  # of the mortises: `round` unless said, or `square`


def expand(entry: LooseTenon, meeting: Meeting, bench: Bench) -> Expansion:
    """Cut both mortises for each tenon; one at each joint unless said."""
    if entry.per_joint is None and entry.every is None:
        entry = entry.model_copy(update={"per_joint": 1})
    tenon = bench.fastener(str(entry.with_))
    if tenon is None:
        return Expansion()
    length = entry.length.length(bench.scope) if entry.length is not None else tenon.length
    width = entry.width.length(bench.scope) if entry.width is not None else tenon.width
    if length is None or width is None:
        key, how = ("length", "long") if length is None else ("width", "wide")
        bench.findings.error(
            "missing-key",
            f"nothing says how {how} the tenon `{tenon.name}` is",
            entry.place,
            f"give `{key}` here or at its row under `hardware`",
        )
        return Expansion()
    along, over = meeting.lateral
    thickness = (
        entry.thickness.length(bench.scope)
        if entry.thickness is not None
        else tenon.thickness or joinery_rules.tenon_thickness(meeting.rect.size(over), metric=metric(bench))
    )
    gap = (
        entry.gap.length(bench.scope)
        if entry.gap is not None
        else joinery_rules.mortise_extra(metric=metric(bench))
    )
    depth = length / 2 + gap
    if gap < ZERO or not _fits(entry, meeting, length, depth, width, thickness, bench):
        if gap < ZERO:
            gap_fits(gap, length, entry, bench)
        return Expansion()
    on_one, on_two, spots = [], [], []
    side, size = meeting.side, ((along, width), (over, thickness))
    for place in long_places(entry, meeting, width, thickness, bench):
        at_one = place.with_(side.axis, meeting.one.finished.side(side))
        at_two = place.with_(side.axis, meeting.two.finished.side(side.opposite))
        on_one.append(_mortise(at_one, side, *size, depth, entry))
        on_two.append(_mortise(at_two, side.opposite, *size, depth, entry))
        spots.append(Spot(meeting.one.copy, at_one.floats(), side))
    area = meeting.area + len(spots) * 2 * length.mm * (width.mm + thickness.mm)
    hardware = ((tenon.name, tuple(spots)),) if spots else ()
    return Expansion(tuple(on_one), tuple(on_two), meeting.side.opposite, hardware, area)


def _fits(
    entry: LooseTenon,
    meeting: Meeting,
    length: Length,
    depth: Length,
    width: Length,
    thickness: Length,
    bench: Bench,
) -> bool:
    one, two = meeting.one, meeting.two
    for piece in (one, two):
        if length.mm <= 0 or depth >= piece.finished.size(meeting.side.axis):
            bench.findings.error(
                "tenon-too-long",
                f"the mortise would come out of {piece.copy}" if length.mm > 0 else "a tenon has a length",
                entry.place_of("length" if entry.length is not None else "with_"),
                "take a shorter tenon: half of it goes into each piece",
                part=piece.part,
            )
            return False
    if not (0 < thickness.mm < meeting.rect.size(meeting.lateral[1]).mm and thickness <= width):
        bench.findings.error(
            "tenon-too-wide",
            f"the tenon leaves no cheeks where {one.copy} and {two.copy} meet, or is thicker than it is wide",
            entry.place_of(
                next((key for key in ("thickness", "width") if getattr(entry, key) is not None), "with_")
            ),
            "leave `thickness` out for a third",
            part=two.part,
        )
        return False
    if width >= meeting.rect.size(meeting.lateral[0]):
        bench.findings.error(
            "tenon-too-wide",
            f"the tenon is as wide as {one.copy} and {two.copy} meet",
            entry.place_of("width" if entry.width is not None else "with_"),
            "leave wood at both ends of the mortise",
            part=two.part,
        )
        return False
    return True


def _mortise(
    mouth: Point,
    side: Side,
    long: tuple[Axis, Length],
    across: tuple[Axis, Length],
    depth: Length,
    entry: LooseTenon,
) -> Operation:
    box = Box(mouth, mouth).with_side(side.opposite, mouth.at(side.axis) - depth * side.sign)
    for axis, size in (long, across):
        box = box.with_side(Side.of(axis, False), mouth.at(axis) - size / 2)
        box = box.with_side(Side.of(axis, True), mouth.at(axis) + size / 2)
    return slot_work(
        "mortise",
        "Mortise",
        side,
        [box],
        entry.place,
        depth=depth,
        tools=(phrase("Router with a straight bit and a fence, or mortise chisel, ", across[1]),),
        cautions=("router",),
        cuts=(channel(box, long[0], entry.ends or "round", side),),
    )


KIND = JointKind(
    "loose tenon",
    "Loose tenon",
    LooseTenon,
    lambda entry: between(entry, 0),
    lambda entry: between(entry, 1),
    expand,
    phrase("Glue the loose tenons into one piece, brush glue into the other mortises, and close the joint."),
    symmetric=True,
    fastens=True,
    cautions=("glue",),
    spreads=True,
)

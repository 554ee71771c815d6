"""Pegs through the cheeks of a tenon, and wedges in its end."""

from __future__ import annotations

from dataclasses import dataclass

from plangen.expressions import Entry, LengthExpr, Name, Whole
from plangen.findings import Place
from plangen.joinery.body import Meeting, Spot, hole_spans
from plangen.joinery.corner import known_hardware, slot_work
from plangen.joinery.cuts import RoundCut
from plangen.joinery.operation import Feature, Form, Group, Operation
from plangen.joinery.piece import Bench
from plangen.joinery.space import Box, Point, Side
from plangen.joinery.tenon import Tenons
from plangen.joinery.wedges import kerf_wedge, report_no_size, say_kerf_wedge
from plangen.units import ZERO, Length, Phrase, inches, millimetres, phrase

MOST = 6  # pegs or wedges in one tenon


class Pegged(Entry):
    """``pegged: {with: peg, number: 2, from shoulder: 3/8in, drawbore: 1/32in}``.

    ``number`` pegs through each tenon, one unless said; half of its length from the shoulder unless
    said. ``drawbore`` is how much nearer the shoulder the hole in the tenon is.
    """

    with_: Name
    number: Whole | None = None  # in each tenon: one unless said
    from_shoulder: LengthExpr | None = None  # to their middle: half of the tenon unless said
    drawbore: LengthExpr | None = None  # how much nearer the shoulder the tenon is bored: none unless said


class Wedged(Entry):
    """``wedged: {with: wedge, number: 2}``: wedges driven into saw kerfs of each through tenon.

    ``kerf`` is how wide they are sawn, 1/16 in or 1.5 mm unless said; they go two thirds of the length down.
    """

    with_: Name
    number: Whole | None = None  # in each tenon: two unless said
    kerf: LengthExpr | None = None  # how wide they are sawn: 1/16 in or 1.5 mm unless said


@dataclass(frozen=True, slots=True)
class Fastened:
    """What pegs or wedges add to a joint."""

    on_one: tuple[Operation, ...] = ()
    on_two: tuple[Operation, ...] = ()
    hardware: tuple[tuple[str, tuple[Spot, ...]], ...] = ()
    then: tuple[Phrase, ...] = ()
    first: tuple[Phrase, ...] = ()


FASTENED = Fastened()


def pegged(entry: Pegged, meeting: Meeting, tenons: Tenons, place: Place, bench: Bench) -> Fastened | None:
    """Bore for pegs from outside, through the whole of the mortised piece and through the tenon.

    None, with a finding, for pegs that do not fit.
    """
    one, two, end = meeting.one, meeting.two, tenons.end
    peg = known_hardware(entry.with_, bench)
    number = entry.number if entry.number is not None else 1
    if peg is None or not _counted(number, entry, "pegs", bench):
        return None
    if peg.diameter is None:
        bench.findings.error(
            "peg-size",
            f"`{peg.name}` needs a diameter",
            entry.place_of("with_"),
            "for example `peg: {kind: peg, diameter: 3/8in}`",
        )
        return None
    inside = min(tenons.length, one.finished.size(end.axis))
    out = entry.from_shoulder.length(bench.scope) if entry.from_shoulder is not None else inside / 2
    draw = entry.drawbore.length(bench.scope) if entry.drawbore is not None else ZERO
    radius = peg.diameter / 2
    room = min((box.size(two.wide) for box in tenons.each), key=lambda size: size.mm) / number
    if not ZERO <= draw < radius:
        bench.findings.error(
            "drawbore",
            "a drawbore is offset by less than half of the peg, and not below zero",
            entry.place_of("drawbore"),
            "1/32 in or 1 mm in hardwood, twice that in softwood, is usual",
        )
        return None
    if out - draw <= radius or out + radius >= inside or room <= peg.diameter:
        bench.findings.error(
            "peg-breaks-out",
            f"the hole for `{peg.name}` leaves no wood beside it in the tenon of {two.copy}",
            entry.place_of("from_shoulder" if entry.from_shoulder is not None else "with_"),
            "take a thinner peg or fewer of them, and keep it inside the tenon",
            part=two.part,
        )
        return None
    # From outside, where pegs are seen; mirrored copies are bored alike so.
    face = two.inside.opposite if two.inside is not None else Side.of(two.thick, False)
    shoulder = tenons.whole.side(end.opposite)
    boxes = tenons.each if tenons.row is two.wide else (tenons.whole,)
    on_one, on_two, spots = [], [], []
    for box in boxes:
        for index in range(number):
            at = box.low.at(two.wide) + box.size(two.wide) * (index * 2 + 1) / (number * 2)
            mouth = one.finished.low.with_(two.wide, at).with_(end.axis, shoulder + out * end.sign)
            mouth = mouth.with_(face.axis, one.finished.side(face))
            on_one.append(_peg_hole(mouth, face, peg.diameter, one.finished.size(face.axis), place))
            inner = mouth.with_(end.axis, shoulder + (out - draw) * end.sign)
            inner = inner.with_(face.axis, two.finished.side(face))
            drawn = phrase(draw, " nearer the shoulder than in the mortise") if draw else Phrase()
            on_two.append(_peg_hole(inner, face, peg.diameter, two.finished.size(face.axis), place, drawn))
            spots.append(Spot(one.copy, mouth.floats(), face))
    drive = phrase("Drive the pegs through and trim them flush.")
    return Fastened(tuple(on_one), tuple(on_two), ((peg.name, tuple(spots)),), (drive,))


def _peg_hole(
    mouth: Point, side: Side, diameter: Length, depth: Length, place: Place, note: Phrase | None = None
) -> Operation:
    feature = Feature(
        Form.HOLE, side, hole_spans(mouth, side, depth), diameter=diameter, note=note or Phrase()
    )
    return Operation(
        kind="peg hole",
        title="Peg hole",
        side=side,
        cuts=(RoundCut(mouth, side, diameter, depth),),
        features=(feature,),
        say=Phrase(),
        tools=(phrase("Drill, ", diameter, " brad-point bit"),),
        cautions=("drill",),
        place=place,
        group=Group.HOLES,
    )


def wedged(entry: Wedged, meeting: Meeting, tenons: Tenons, place: Place, bench: Bench) -> Fastened | None:
    """Saw the kerfs for wedges, across the thickness of each tenon; None, with a finding, for no room."""
    two, end = meeting.two, tenons.end
    row = known_hardware(entry.with_, bench)
    number = entry.number if entry.number is not None else 2
    if row is None or not _counted(number, entry, "wedges", bench):
        return None
    usual = inches("1/16") if bench.units == "inch" else millimetres("1.5")
    kerf = entry.kerf.length(bench.scope) if entry.kerf is not None else usual
    width = min((box.size(two.wide) for box in tenons.each), key=lambda size: size.mm)
    if not ZERO < kerf < width / (number * 4):
        bench.findings.error(
            "kerf-too-wide",
            f"{number} kerfs leave too little of the tenon of {two.copy}, or have no width",
            entry.place_of("kerf" if entry.kerf is not None else "number"),
            "take fewer wedges or a thinner saw",
            part=two.part,
        )
        return None
    tip, deep = tenons.whole.side(end), bench.nearest(tenons.length * 2 / 3)
    kerfs: list[Box] = []
    spots: list[Spot] = []
    for box in tenons.each:
        for index in range(number):
            at = box.low.at(two.wide) + box.size(two.wide) * (index * 2 + 1) / (number * 2)
            slit = box.with_side(Side.of(two.wide, False), at - kerf / 2)
            slit = slit.with_side(Side.of(two.wide, True), at + kerf / 2)
            kerfs.append(slit.with_side(end.opposite, tip - deep * end.sign))
            middle = box.low.with_(two.wide, at).with_(two.thick, box.middle(two.thick))
            spots.append(Spot(two.copy, middle.with_(end.axis, tip).floats(), end))
    sawn = slot_work(
        "wedge kerf",
        "Wedge kerf",
        end,
        kerfs,
        place,
        depth=deep,
        tools=(phrase("Tenon saw"),),
        cautions=("chisel",),
    )
    wedge = kerf_wedge(kerf, deep, tenons.each[0].size(two.thick))
    report_no_size(row, wedge.wide, wedge.thickness, wedge.length, entry.place_of("with_"), bench)
    drive = phrase("Drive the wedges with glue, in turns, and trim them flush.")
    return Fastened((), (sawn,), ((row.name, tuple(spots)),), (drive,), (say_kerf_wedge(wedge),))


def _counted(number: int, entry: Pegged | Wedged, what: str, bench: Bench) -> bool:
    if 1 <= number <= MOST:
        return True
    bench.findings.error(
        "bad-value",
        f"a tenon takes between 1 and {MOST} {what}",
        entry.place_of("number"),
        "one or two are usual",
    )
    return False

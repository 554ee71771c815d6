"""A round tenon: the turned or cut end of a leg or rung in a bored hole, square or at a slope."""

from __future__ import annotations

import math
from fractions import Fraction

from plangen.expressions import LengthExpr, Names
from plangen.handbook import joinery_rules
from plangen.joinery.body import Expansion, JointBody, JointKind, Meeting, hole_spans, metric
from plangen.joinery.cuts import BoreCut, PlaneCut, PrismCut, RoundCut, plane_axes
from plangen.joinery.operation import Feature, Form, Group, Operation, Span
from plangen.joinery.piece import Bench, Piece
from plangen.joinery.shapes import around, circle_loop
from plangen.joinery.space import Axis, Direction, Point, unit
from plangen.units import ZERO, Length, Phrase, phrase

Pair = tuple[Length, Length]


class RoundTenon(JointBody):
    """``round tenon: {in: seat, for: leg, diameter: 1in, length: 1-1/2in}``.

    ``length`` is the tenon's, from the shoulder. A blind hole is a little deeper: ``gap``. A tenon
    longer than the other piece is deep goes through, and is sawn flush once it is in.
    """

    in_: Names
    for_: Names
    diameter: LengthExpr
    length: LengthExpr
    gap: LengthExpr | None = None


def reach(entry: RoundTenon, one: Piece, two: Piece, bench: Bench) -> Length:
    """The tenon's length."""
    return entry.length.length(bench.scope)


def expand(entry: RoundTenon, meeting: Meeting, bench: Bench) -> Expansion:
    """Bore the hole and cut the tenon."""
    one, two, end = meeting.one, meeting.two, meeting.end
    diameter, length = entry.diameter.length(bench.scope), entry.length.length(bench.scope)
    if end.axis is not two.runs:
        bench.findings.error(
            "tenon-not-at-end",
            f"{two.copy} meets {one.copy} with an edge or a face; a tenon is cut on an end",
            entry.place,
            "check which way the part runs",
            part=two.part,
        )
        return Expansion()
    sections = {axis: two.shoulders.size(axis) for axis in Axis if axis is not end.axis}
    if not 0 < diameter.mm <= min(size.mm for size in sections.values()):
        bench.findings.error(
            "tenon-too-wide",
            f"a tenon this thick is not left in {two.part}"
            if diameter.mm > 0
            else "a tenon needs a diameter above zero",
            entry.place_of("diameter"),
            "make it thinner than the part",
            part=two.part,
        )
        return Expansion()
    way, mouth = _way_in(meeting)
    along = abs(way[meeting.side.axis.value])
    through = float(one.finished.size(meeting.side.axis)) / along
    stands_off = meeting.slope.stands_off if meeting.slope is not None else ZERO
    entered = length - stands_off
    if entered.mm <= 0:
        bench.findings.error(
            "tenon-too-short",
            f"the shoulder of {two.copy} stands off the sloping face by more than the tenon is long",
            entry.place_of("length"),
            "make the tenon longer",
            part=two.part,
        )
        return Expansion()
    gap = (
        entry.gap.length(bench.scope)
        if entry.gap is not None
        else joinery_rules.mortise_extra(metric=metric(bench))
    )
    # The rim of a sloping hole reaches the far face before or after its middle does.
    rim = float(diameter) / 2 * math.sqrt(max(0.0, 1.0 - along * along)) / along
    goes_through = float(entered) >= through - 1e-6
    if not goes_through and float(entered + gap) + rim >= through:
        bench.findings.error(
            "mortise-breaks-out",
            f"the hole would break out of {one.copy}",
            entry.place_of("length"),
            "shorten the tenon, or let it go through",
            part=one.part,
        )
        return Expansion()
    depth = Length(entered.mm if goes_through else (entered + gap).mm)
    hole = _hole(entry, meeting, mouth, way, diameter, None if goes_through else depth, through, rim)
    tenon = _tenon(entry, meeting, diameter, length, sections)
    flush = _flush(entry, meeting, through, rim, entered) if goes_through else ()
    area = _area(diameter, min(float(entered), through))
    return Expansion((hole,), (*tenon, *flush), meeting.side.opposite, (), area)


def _area(diameter: Length, deep: float) -> Fraction:
    return Fraction(round(math.pi * float(diameter) * deep))


def _way_in(meeting: Meeting) -> tuple[Direction, Point]:
    """The way into ``one``, and where the middle of the tenon enters it."""
    if meeting.slope is not None:
        return meeting.slope.way, meeting.slope.mouth
    mouth = meeting.one.finished.low
    for axis in Axis:
        at = (
            meeting.one.finished.side(meeting.side)
            if axis is meeting.side.axis
            else meeting.two.shoulders.middle(axis)
        )
        mouth = mouth.with_(axis, at)
    return unit(meeting.side.opposite), mouth


def _hole(
    entry: RoundTenon,
    meeting: Meeting,
    mouth: Point,
    way: Direction,
    diameter: Length,
    depth: Length | None,
    through: float,
    rim: float,
) -> Operation:
    side = meeting.side
    square = abs(way[side.axis.value]) > 1 - 1e-12
    whole = meeting.one.finished.size(side.axis)
    if square:
        deep = depth if depth is not None else whole
        cut: RoundCut | BoreCut = RoundCut(mouth, side, diameter, deep)
        feature = Feature(Form.HOLE, side, hole_spans(mouth, side, deep), diameter=diameter, depth=depth)
    else:
        deep = (
            depth if depth is not None else Length(Fraction(through + rim + 1.0).limit_denominator(1_000_000))
        )
        cut = BoreCut(mouth, way, diameter, deep)
        feature = Feature(
            Form.HOLE, side, hole_spans(mouth, side, depth or whole), diameter=diameter, depth=depth, way=way
        )
    return Operation(
        kind="round mortise",
        title="Round mortise",
        side=side,
        cuts=(cut,),
        features=(feature,),
        say=Phrase(),
        tools=(phrase("Drill, ", diameter, " bit"), *(() if square else (phrase("Bevel gauge"),))),
        cautions=("drill",),
        place=entry.place,
        group=Group.HOLES,
    )


def _tenon(
    entry: RoundTenon, meeting: Meeting, diameter: Length, length: Length, sections: dict[Axis, Length]
) -> tuple[Operation, ...]:
    """What goes around the tenon; nothing where a round piece enters with its whole section."""
    if all(size == diameter for size in sections.values()):
        return ()
    two, end = meeting.two, meeting.end
    first, second = plane_axes(end.axis)
    shoulder = two.shoulders.side(end)
    tip = shoulder + length * end.sign
    low, high = min(shoulder, tip), max(shoulder, tip)
    centre = (two.shoulders.middle(first), two.shoulders.middle(second))
    cut = PrismCut(end.axis, low, high, (around(two.finished, end.axis), circle_loop(centre, diameter)))
    spans = {axis: Span(two.shoulders.middle(axis), two.shoulders.middle(axis)) for axis in Axis}
    spans[end.axis] = Span(low, high)
    feature = Feature(Form.ROUND, end, tuple(spans.items()), (end,), diameter=diameter, depth=length)
    return (
        Operation(
            kind="round tenon",
            title="Round tenon",
            side=end,
            cuts=(cut,),
            features=(feature,),
            say=Phrase(),
            tools=(phrase("Tenon cutter or lathe, for ", diameter),),
            cautions=("drill",),
            place=entry.place,
            group=Group.JOINTS,
        ),
    )


def _flush(
    entry: RoundTenon, meeting: Meeting, through: float, rim: float, entered: Length
) -> tuple[Operation, ...]:
    """The end of a tenon that goes through at a slope, sawn so that it lies flush with the far face."""
    if meeting.slope is None:
        return ()
    slope, two = meeting.slope, meeting.two
    tip = slope.tip.floats()
    far = [tip[axis.value] + (through * slope.end.sign if axis is slope.end.axis else 0.0) for axis in Axis]
    point = Point(*(Length(Fraction(value).limit_denominator(1_000_000)) for value in far))
    across, deep, up = (-value + 0.0 for value in slope.face)
    spans = {axis: Span(two.finished.low.at(axis), two.finished.high.at(axis)) for axis in Axis}
    return (
        Operation(
            kind="angled end",
            title="Angled end",
            side=slope.end,
            cuts=(PlaneCut(point, (across, deep, up)),),
            features=(
                Feature(Form.PLANE, slope.end, tuple(spans.items()), (slope.end,), way=(across, deep, up)),
            ),
            say=Phrase(),
            tools=(phrase("Handsaw and bevel gauge"),),
            cautions=("crosscut",),
            place=entry.place,
        ),
    )


KIND = JointKind(
    "round tenon",
    "Round tenon",
    RoundTenon,
    lambda entry: entry.in_,
    lambda entry: entry.for_,
    expand,
    phrase(
        "Brush glue into the holes, drive the tenons home, and check that all stands true before it sets."
    ),
    reach=reach,
    cautions=("glue",),
    slopes=True,
    spreads=True,
    tight=True,
    headings={"round tenon": "Turn the {work} on the {pieces}"},
)

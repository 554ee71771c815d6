"""A sliding dovetail: a tail along the end or edge of one piece in a channel of the same slope."""

from __future__ import annotations

from fractions import Fraction

from plangen.expressions import LengthExpr, Names, SideWord, Words
from plangen.handbook import joinery_rules
from plangen.joinery.body import Expansion, JointBody, JointKind, Meeting, gap_fits, metric, spans_of
from plangen.joinery.corner import Pair, at, outline_feature, outline_work, polygon
from plangen.joinery.cuts import BoxCut, PrismCut
from plangen.joinery.housing import depth_fits, enters_edgewise, housing_box, length_axis, stops_of
from plangen.joinery.operation import Feature, Form, Operation
from plangen.joinery.piece import Bench, Piece
from plangen.joinery.slopes import degrees_of, slope_ratio, slope_words
from plangen.joinery.space import Axis, Box, Side
from plangen.units import ZERO, Length, Phrase, phrase

# Common practice, no source: the usual dovetail bit of a router is ground to 14 degrees; 1:8 by hand.
USUAL = Fraction(1, 8)
# From where it slides in, unless said: from behind, from above or from the right.
_COMES_FROM = {Axis.ACROSS: Side.RIGHT, Axis.DEEP: Side.BACK, Axis.UP: Side.TOP}


class SlidingDovetail(JointBody):
    """``sliding dovetail: {in: side, for: shelf, depth: 3/8in, slope: 14deg, stopped: {front: 1in}}``.

    ``width`` is the tail's at its tip, the entering piece's thickness unless said. It slides in ``slides
    from`` a side, which runs out there; ``stopped`` ends it short of the other. ``gap`` is left at the
    bottom.
    """

    in_: Names
    for_: Names
    depth: LengthExpr | None = None  # of the channel: a third of the board unless said
    slope: Words | None = None  # `1:8` or the bit's angle, such as `14deg`: 1:8 unless said
    width: LengthExpr | None = None  # of the tail at its tip: the piece's thickness unless said
    gap: LengthExpr | None = None  # room left at the bottom: none unless said
    stopped: dict[SideWord, LengthExpr] | None = None  # how far short of a side it ends
    slides_from: SideWord | None = None  # the open end: behind, above or right unless said


def depth_of(entry: SlidingDovetail, one: Piece, bench: Bench) -> Length:
    """The depth typed, or a third of the board, the trade's rule."""
    if entry.depth is not None:
        return entry.depth.length(bench.scope)
    return joinery_rules.housing_depth(one.shoulders.size(one.thick), metric=metric(bench))


def _gap(entry: SlidingDovetail, bench: Bench) -> Length:
    return entry.gap.length(bench.scope) if entry.gap is not None else ZERO


def reach(entry: SlidingDovetail, one: Piece, two: Piece, bench: Bench) -> Length:
    """The depth less the gap."""
    return depth_of(entry, one, bench) - _gap(entry, bench)


def expand(entry: SlidingDovetail, meeting: Meeting, bench: Bench) -> Expansion:
    """Cut the channel and the two slopes of the tail."""
    depth, gap = depth_of(entry, meeting.one, bench), _gap(entry, bench)
    slope = slope_ratio(entry.slope, USUAL, entry.place_of("slope"), bench)
    fits = (
        slope is not None
        and enters_edgewise(meeting, "sliding dovetail", entry, bench)
        and depth_fits(meeting, depth, "sliding dovetail", entry.place_of("depth"), bench)
        and gap_fits(gap, depth, entry, bench)
    )
    stops = stops_of(entry.stopped, meeting, entry, bench) if fits else None
    comes = _comes_from(entry, stops, meeting, bench) if stops is not None else None
    if slope is None or stops is None or comes is None:
        return Expansion()
    widths = _widths(entry, meeting, depth - gap, slope, bench)
    if widths is None or not _on_face(entry, meeting, widths[0] + slope * (depth * 2), bench):
        return Expansion()
    neck, words = widths[0], slope_words(entry.slope, slope)
    one, two, side, long = meeting.one, meeting.two, meeting.side, length_axis(meeting)
    channel = housing_box(meeting, depth).with_side(comes, one.finished.side(comes))
    short = stops.get(comes.opposite, ZERO)
    ends_at = two.finished.side(comes.opposite) + short * comes.sign
    channel = channel.with_side(comes.opposite, ends_at)
    face, middle = one.finished.side(side), two.finished.middle(two.thick)

    def across(deep: Length, half: Length, sign: int) -> Pair:
        return at(long, {side.axis: face - deep * side.sign, two.thick: middle + half * sign})

    wide = neck / 2 + depth * slope
    outline = [across(ZERO, neck / 2, -1), across(ZERO, neck / 2, 1), across(depth, wide, 1)]
    outline.append(across(depth, wide, -1))
    mouth = Side.of(long, comes.high)
    box = channel.with_side(Side.of(two.thick, False), middle - wide)
    box = box.with_side(Side.of(two.thick, True), middle + wide)
    degrees = degrees_of(slope)
    bit = phrase(f"Router with a dovetail bit, slope {words}, set to ", depth, " deep")
    low, high = channel.low.at(long), channel.high.at(long)
    on_one = outline_work(
        "dovetail channel",
        "Dovetail channel",
        side,
        [PrismCut(long, low, high, (polygon(outline),))],
        [
            Feature(Form.SLOT, side, spans_of(box), depth=depth, note=phrase(f"slope {words}")),
            outline_feature(mouth, box, outline, angle_degrees=degrees),
        ],
        entry.place,
        (bit,),
        ("router",),
    )
    on_two = _tail(entry, meeting, neck, depth - gap, slope, ends_at, comes, bit)
    run = channel.size(long).mm
    area = meeting.rect.size(long).mm * meeting.rect.size(two.thick).mm + 2 * depth.mm * run
    return Expansion((on_one,), on_two, comes.opposite, (), area)


def _comes_from(
    entry: SlidingDovetail, stops: dict[Side, Length], meeting: Meeting, bench: Bench
) -> Side | None:
    """The side that the piece slides in from: as said, else across from where the channel is stopped."""
    long = length_axis(meeting)
    stopped = [side for side, length in stops.items() if length > ZERO]
    usual = stopped[0].opposite if stopped else _COMES_FROM[long]
    said = meeting.two.face(str(entry.slides_from)) if entry.slides_from is not None else usual
    if said is None or said.axis is not long:
        bench.findings.error(
            "wrong-side",
            f"{meeting.two.copy} cannot slide in from the {entry.slides_from}",
            entry.place_of("slides_from"),
            f"its channel runs from {Side.of(long, False).word} to {Side.of(long, True).word}",
            part=meeting.two.part,
        )
        return None
    if said in stopped:
        bench.findings.error(
            "cannot-slide-in",
            f"the channel for {meeting.two.copy} is stopped at the {said.word}, from where it slides in",
            entry.place_of("stopped"),
            "stop it at one end only, and let it slide in from the other",
            part=meeting.one.part,
        )
        return None
    return said


def _widths(
    entry: SlidingDovetail, meeting: Meeting, length: Length, slope: Fraction, bench: Bench
) -> tuple[Length, Length] | None:
    """The tail's width at its neck and at its tip."""
    thickness = meeting.two.finished.size(meeting.two.thick)
    tip = entry.width.length(bench.scope) if entry.width is not None else thickness
    neck = tip - length * (slope * 2)
    if neck.mm > 0 and tip <= thickness:
        return neck, tip
    bench.findings.error(
        "tail-too-wide" if tip > thickness else "tail-too-thin",
        f"the tail is wider than {meeting.two.part} is thick"
        if tip > thickness
        else f"nothing is left of the neck of the tail of {meeting.two.copy}",
        entry.place_of("width" if entry.width is not None else "depth"),
        "leave `width` out for the piece's thickness, or make the joint less deep",
        part=meeting.two.part,
    )
    return None


def _on_face(entry: SlidingDovetail, meeting: Meeting, widest: Length, bench: Bench) -> bool:
    """Report a channel whose sides would break out of the face."""
    one, two = meeting.one.finished, meeting.two
    middle = two.finished.middle(two.thick)
    if (
        one.low.at(two.thick) <= middle - widest / 2
        and middle + widest / 2 <= one.high.at(two.thick)
        and one.low.at(two.thick) < two.finished.low.at(two.thick)
        and two.finished.high.at(two.thick) < one.high.at(two.thick)
    ):
        return True
    bench.findings.error(
        "partly-touching",
        f"the channel for {two.copy} has no wood beside it on one side of {meeting.one.copy}",
        entry.place,
        f"move {two.copy} in from the end of {meeting.one.copy}",
        part=two.part,
    )
    return False


def _tail(
    entry: SlidingDovetail,
    meeting: Meeting,
    neck: Length,
    length: Length,
    slope: Fraction,
    ends_at: Length,
    comes: Side,
    bit: Phrase,
) -> tuple[Operation, ...]:
    """The slopes along both faces of the tail, and the notch beyond a stopped channel."""
    two, side, long = meeting.two, meeting.side, length_axis(meeting)
    root = two.shoulders.side(side.opposite)
    middle = two.finished.middle(two.thick)
    cuts, features = [], []
    low, high = two.finished.low.at(long), two.finished.high.at(long)
    mouth = Side.of(long, comes.high)
    for face in (Side.of(two.thick, False), Side.of(two.thick, True)):

        def across(deep: Length, out: Length) -> Pair:
            return at(long, {side.axis: root - deep * side.sign, two.thick: out})

        outside = two.finished.side(face)
        at_root = middle + neck / 2 * face.sign
        at_tip = middle + (neck / 2 + length * slope) * face.sign
        outline = [across(ZERO, at_root), across(ZERO, outside), across(length, outside)]
        if at_tip != outside:
            outline.append(across(length, at_tip))
        cuts.append(PrismCut(long, low, high, (polygon(outline),)))
        strip = _stub(meeting, root).with_side(face.opposite, at_root)
        located = [across(ZERO, at_root), across(length, at_tip)]
        features.append(outline_feature(mouth, strip, located, angle_degrees=degrees_of(slope)))
    tail = outline_work(
        "dovetail tail",
        "Dovetail tail",
        Side.of(two.thick, True),
        cuts,
        features,
        entry.place,
        (bit,),
        ("router",),
    )
    beyond = (two.finished.side(comes.opposite) - ends_at) * comes.opposite.sign
    if beyond <= ZERO:
        return (tail,)
    notch = _stub(meeting, root).with_side(comes, ends_at)
    face = Side.of(two.thick, True)
    return (
        tail,
        Operation(
            kind="notch",
            title="Notch",
            side=face,
            cuts=(BoxCut(notch),),
            features=(Feature(Form.SLOT, face, spans_of(notch)),),
            say=Phrase(),
            tools=(phrase("Handsaw"), phrase("Chisel")),
            cautions=("chisel",),
            place=entry.place,
        ),
    )


def _stub(meeting: Meeting, root: Length) -> Box:
    """What the joint adds to the entering piece."""
    return meeting.two.finished.with_side(meeting.side, root)


def _say_channel(operation: Operation, piece: Piece) -> Phrase:
    feature = operation.features[0]
    return (
        phrase(
            "Rout a dovetail channel ", feature.depth or ZERO, f" deep in the {piece.call(feature.side)}, "
        )
        + feature.note
        + phrase(", with the bit at full depth in one pass.")
    )


def _say_tail(operation: Operation, piece: Piece) -> Phrase:
    first = operation.features[0]
    axis = next(a for a in (piece.runs, piece.wide) if a is not first.side.axis)
    span = first.span(axis)
    end = Side.of(axis, span.high >= piece.finished.high.at(axis))
    return phrase(
        "Rout the two slopes of the tail, ", span.high - span.low, f" long, on the {piece.call(end)}."
    )


KIND = JointKind(
    "sliding dovetail",
    "Sliding dovetail",
    SlidingDovetail,
    lambda entry: entry.in_,
    lambda entry: entry.for_,
    expand,
    phrase("Start the tail in the open end of its channel and drive it home without a stop."),
    reach=reach,
    cautions=("glue",),
    says={"dovetail channel": _say_channel, "dovetail tail": _say_tail},
)

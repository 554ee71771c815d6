"""Through dovetails: tails of one board between pins of the other, seen on both outsides of a corner."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from plangen.expressions import LengthExpr, Names, Whole, Words
from plangen.joinery.body import Expansion, JointBody, JointKind, Meeting
from plangen.joinery.corner import Ends, Pair, at, corner_of, outline_feature, outline_work, polygon
from plangen.joinery.cuts import PrismCut, plane_axes
from plangen.joinery.operation import Feature, Operation, Repeat
from plangen.joinery.piece import Bench, Piece
from plangen.joinery.sentences import number_of
from plangen.joinery.slopes import slope_ratio, slope_words
from plangen.joinery.space import Axis, Box, Side
from plangen.units import ZERO, Length, Phrase, inches, millimetres, phrase

# Common practice, no source: 1:8 in hardwood, 1:6 in softwood.
HARD, SOFT = Fraction(1, 8), Fraction(1, 6)
MOST = 100  # tails at one corner


class ThroughDovetails(JointBody):
    """``through dovetails: {tails: side, pins: front, number: 4, slope: 1:8, pin: 1/4in, half pin: 3/8in}``.

    ``pin`` is how wide each pin is at its narrow end, on the outside of the corner; a quarter of the
    space of a tail unless said. ``half pin`` is that of the pins at the edges, which slope on one
    side only: as wide as the others unless said. The tails are equal.
    """

    tails: Names  # the board with the tails
    pins: Names  # the board with the pins
    number: Whole  # of tails at each corner
    slope: Words | None = None  # `1:8` or degrees: 1:8 in hardwood, 1:6 in softwood, unless said
    pin: LengthExpr | None = None  # at its narrow end: a quarter of the space of a tail unless said
    half_pin: LengthExpr | None = None  # the same of the pins at the edges: as wide as the others unless said


def expand(entry: ThroughDovetails, meeting: Meeting, bench: Bench) -> Expansion:
    """Cut the sockets of the tails' board and of the pins' board; together they fill the corner."""
    ends = corner_of(meeting, "dovetailed corner", entry, bench)
    hard = meeting.one.hard and meeting.two.hard
    slope = slope_ratio(entry.slope, HARD if hard else SOFT, entry.place_of("slope"), bench)
    if ends is None or slope is None:
        return Expansion()
    rect, row = meeting.rect, ends.across
    laid = _layout(entry, rect.size(row), rect.size(ends.two.axis) * slope, meeting, bench)
    if laid is None:
        return Expansion()
    words = slope_words(entry.slope, slope)
    low, high = rect.low.at(ends.one.axis), rect.high.at(ends.one.axis)
    spaces = _Spaces(laid, ends, rect)
    tools = (phrase(f"Dovetail saw and a marking gauge, slope {words}"), phrase("Chisel"))

    def work(kind: str, title: str, piece: Piece, side: Side, shapes: list[list[Pair]]) -> Operation:
        cuts = [PrismCut(ends.one.axis, low, high, (polygon(shape),)) for shape in shapes]
        features = _features(shapes, side, ends, rect, laid.pitch, words)
        return outline_work(kind, title, side, cuts, features, entry.place, tools, ("chisel",))

    face = Side.of(meeting.two.thick, True)
    on_one = work("dovetail pins", "Dovetail pins", meeting.one, ends.one, spaces.tails())
    on_two = work("dovetail tails", "Dovetail tails", meeting.two, face, spaces.pins())
    sloping = 2 * laid.number * rect.size(ends.one.axis).mm * rect.size(ends.two.axis).mm
    shoulders = rect.size(row).mm * (rect.size(ends.one.axis).mm + rect.size(ends.two.axis).mm)
    return Expansion((on_one,), (on_two,), ends.one.opposite, (), sloping + shoulders)


@dataclass(frozen=True, slots=True)
class _Layout:
    """The measures of one corner: everything along the width, counted from its low edge.

    ``run`` is how far a side slopes over the pins' thickness; ``pin``, ``half`` and ``tail`` are widths
    on the outside of the corner.
    """

    number: int
    width: Length
    pin: Length
    half: Length
    run: Length

    @property
    def tail(self) -> Length:
        """How wide each tail is on the outside."""
        return (self.width - self.half * 2 - self.pin * (self.number - 1)) / self.number

    @property
    def pitch(self) -> Length:
        """From one tail to the next."""
        return self.tail + self.pin


def _layout(
    entry: ThroughDovetails, width: Length, run: Length, meeting: Meeting, bench: Bench
) -> _Layout | None:
    number = entry.number
    least = inches("1/8") if bench.units == "inch" else millimetres(3)
    if not 1 <= number <= MOST:
        bench.findings.error(
            "dovetails",
            f"a corner takes between 1 and {MOST} tails",
            entry.place_of("number"),
            "one tail for every 2 in or 50 mm of width is usual",
            part=meeting.two.part,
        )
        return None
    usual = max(least, bench.nearest(width / (number * 4)))
    pin = entry.pin.length(bench.scope) if entry.pin is not None else usual
    half = entry.half_pin.length(bench.scope) if entry.half_pin is not None else pin
    laid = _Layout(number, width, pin, half, run)
    if pin.mm <= 0 or half.mm <= 0:
        key, message = ("pin" if pin.mm <= 0 else "half_pin"), "a pin has a width above zero"
    elif laid.tail <= run * 2:
        key = "half_pin" if entry.half_pin is not None and half > pin else "pin" if entry.pin else "number"
        message = f"no wood is left of the tails of {meeting.two.copy}: they come to nothing at their root"
    else:
        return laid
    bench.findings.error(
        "dovetails",
        message,
        entry.place_of(key),
        "take fewer tails, narrower pins, or a steeper slope such as `1:8`",
        part=meeting.two.part,
    )
    return None


class _Spaces:
    """The outlines of tails and pins in the plane square to the pins' run."""

    def __init__(self, laid: _Layout, ends: Ends, rect: Box) -> None:
        self.laid, self.row, self.axis = laid, ends.across, ends.one.axis
        self.along = ends.two.axis
        self.outer, self.inner = rect.side(ends.two), rect.side(ends.two.opposite)
        self.low, self.high = rect.low.at(self.row), rect.high.at(self.row)

    def _at(self, along: Length, row: Length) -> Pair:
        return at(self.axis, {self.along: along, self.row: row})

    def _ends(self, index: int) -> tuple[Length, Length]:
        """Where a tail begins and ends on the outside."""
        low = self.low + self.laid.half + self.laid.pitch * index
        return low, low + self.laid.tail

    def tails(self) -> list[list[Pair]]:
        """Each tail: wide on the outside, narrow at its root."""
        found = []
        for index in range(self.laid.number):
            low, high = self._ends(index)
            found.append(
                [
                    self._at(self.outer, low),
                    self._at(self.outer, high),
                    self._at(self.inner, high - self.laid.run),
                    self._at(self.inner, low + self.laid.run),
                ]
            )
        return found

    def pins(self) -> list[list[Pair]]:
        """Each pin, the half ones at the edges first and last."""
        starts = [self._ends(index)[0] for index in range(self.laid.number)] + [self.high]
        stops = [self.low] + [self._ends(index)[1] for index in range(self.laid.number)]
        found = []
        for index, (low, high) in enumerate(zip(stops, starts, strict=True)):
            before = self.laid.run if index else ZERO
            behind = self.laid.run if index < self.laid.number else ZERO
            found.append(
                [
                    self._at(self.outer, low),
                    self._at(self.outer, high),
                    self._at(self.inner, high + behind),
                    self._at(self.inner, low - before),
                ]
            )
        return found


def _features(
    shapes: list[list[Pair]], side: Side, ends: Ends, rect: Box, pitch: Length, slope: str
) -> list[Feature]:
    """A feature for each shape on its own and one for each row of equal ones.

    Looked at from ``side``: on the end of the pins' board, and on the face of the tails'.
    """
    row = ends.across
    index = plane_axes(ends.one.axis).index(row)
    outer, edges = rect.side(ends.two), (rect.low.at(row), rect.high.at(row))
    groups: list[list[list[Pair]]] = []
    for shape in shapes:
        moved = [
            tuple(value + pitch if k == index else value for k, value in enumerate(pair))
            for pair in (groups[-1][-1] if groups else [])
        ]
        if groups and moved == [tuple(pair) for pair in shape]:
            groups[-1].append(shape)
        else:
            groups.append([shape])
    found = []
    for group in groups:
        first = group[0]
        rows = [pair[index] for pair in first]
        box = rect.with_side(Side.of(row, False), min(rows, key=lambda v: v.mm))
        box = box.with_side(Side.of(row, True), max(rows, key=lambda v: v.mm))
        repeat = (Repeat(row, len(group), pitch),) if len(group) > 1 else ()
        # Marked by their widths outside and the slope; the base line comes to the board's edges.
        marked = [pair for pair in first if pair[1 - index] == outer or pair[index] in edges]
        found.append(outline_feature(side, box, marked, repeat, note=phrase(f"slope {slope}")))
    return found


def _say_tails(operation: Operation, piece: Piece) -> Phrase:
    """Say the tails by the sockets between them."""
    number = number_of(operation) - 1
    words = phrase(f"Mark {number} tail{'s' if number > 1 else ''} on the {_end(operation, piece)}, ")
    words += operation.features[0].note
    return words + phrase(", saw beside the lines in the waste and chisel to the base line.")


def _say_pins(operation: Operation, piece: Piece) -> Phrase:
    number = number_of(operation)
    return phrase(
        f"Scribe the {number} tail{'s' if number > 1 else ''} onto the {_end(operation, piece)}, "
        "saw beside the lines in the waste and chisel the sockets from both faces."
    )


def _end(operation: Operation, piece: Piece) -> str:
    axis = next(a for a in (piece.runs, piece.wide) if _opened(operation, piece, a))
    span = operation.features[0].span(axis)
    return piece.call(Side.of(axis, span.high >= piece.finished.high.at(axis)))


def _opened(operation: Operation, piece: Piece, axis: Axis) -> bool:
    """Whether all the sockets open one end of the piece along an axis, and do not run through it."""
    low = all(f.span(axis).low <= piece.finished.low.at(axis) for f in operation.features)
    high = all(f.span(axis).high >= piece.finished.high.at(axis) for f in operation.features)
    return low != high


KIND = JointKind(
    "through dovetails",
    "Through dovetails",
    ThroughDovetails,
    lambda entry: entry.pins,
    lambda entry: entry.tails,
    expand,
    phrase("Brush glue on the sides of the pins and tap the tails down onto them until the shoulders meet."),
    overlaps=True,
    cautions=("glue",),
    says={"dovetail tails": _say_tails, "dovetail pins": _say_pins},
    spreads=True,
)

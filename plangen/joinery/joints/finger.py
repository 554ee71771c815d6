"""A finger joint, or box joint: square pins of two boards that alternate over the width of a corner."""

from __future__ import annotations

from plangen.expressions import LengthExpr, Names, PathName
from plangen.joinery.body import Expansion, JointBody, JointKind, Meeting, between
from plangen.joinery.corner import corner_of, slot_work
from plangen.joinery.operation import Operation
from plangen.joinery.piece import Bench, Piece
from plangen.joinery.sentences import number_of
from plangen.joinery.space import Axis, Box, Side
from plangen.units import ZERO, Length, LengthStyle, Phrase, phrase
from plangen.units.printing import rounded

MOST_PINS = 100  # of one corner, both pieces together; common practice, no source


class Finger(JointBody):
    """``finger: {between: [side, front], pin: 1/2in, begins: front, gap: 0.2mm}``.

    The ``pin`` divides the width. The piece that ``begins``, the first named unless said, has its
    first pin at the bottom, the front or the left. Each slot is wider than its pin by ``gap``.
    """

    between: Names
    pin: LengthExpr  # how wide; it divides the width
    begins: PathName | None = None  # has the pin at the low edge: the first named unless said
    gap: LengthExpr | None = None  # how much wider each slot is than its pin: none unless said


def expand(entry: Finger, meeting: Meeting, bench: Bench) -> Expansion:
    """Cut the slots of both."""
    ends = corner_of(meeting, "finger joint", entry, bench)
    pin = entry.pin.length(bench.scope)
    gap = entry.gap.length(bench.scope) if entry.gap is not None else ZERO
    one_begins = _one_begins(entry, bench)
    if ends is None or one_begins is None:
        return Expansion()
    row, rect = ends.across, meeting.rect
    number = _number(entry, pin, rect.size(row), meeting, bench)
    if number is None:
        return Expansion()
    if not ZERO <= gap < pin:
        bench.findings.error(
            "bad-gap",
            "the gap lies between zero and the pin's width",
            entry.place_of("gap"),
            "leave `gap` out for none",
        )
        return Expansion()
    slots: tuple[list[Box], list[Box]] = ([], [])
    for index in range(number):
        loser = slots[index % 2] if not one_begins else slots[(index + 1) % 2]
        loser.append(_slot(rect, row, index, number, pin, gap))
    made = [
        slot_work(
            "finger slots",
            "Finger slots",
            end,
            boxes,
            entry.place,
            depth=rect.size(end.axis),
            tools=(phrase("Table saw with a dado set, or router, and a box-joint jig for pins of ", pin),),
            cautions=("table saw",),
            row=row,
        )
        for end, boxes in ((ends.one, slots[0]), (ends.two, slots[1]))
    ]
    sides = (number - 1) * rect.size(ends.one.axis).mm * rect.size(ends.two.axis).mm
    return Expansion((made[0],), (made[1],), ends.two, (), sides)


def _one_begins(entry: Finger, bench: Bench) -> bool | None:
    """Whether the first named has the first pin."""
    names = [str(name) for name in entry.between]
    if entry.begins is None:
        return True
    if str(entry.begins) in names:
        return names.index(str(entry.begins)) == 0
    bench.findings.error(
        "finger-begins",
        f"`{entry.begins}` is none of the two that this joint is between",
        entry.place_of("begins"),
        f"write `begins: {names[0]}` or `begins: {names[-1]}`",
    )
    return None


def _number(entry: Finger, pin: Length, width: Length, meeting: Meeting, bench: Bench) -> int | None:
    """How many pins the corner has in all; None, with the nearest that divide, when it does not come out."""
    if pin <= ZERO or pin * 2 > width:
        fewest = f"half of the width at most, {_typed(width / 2, bench)}"
        message, remedy = "a finger joint has at least two pins", f"make the pin {fewest}"
    elif pin * MOST_PINS < width:
        message = f"a corner has at most {MOST_PINS} pins"
        remedy = f"make the pin {_typed(width / MOST_PINS, bench)} wide at least"
    else:
        ratio = width / pin
        if ratio.denominator == 1:
            return int(ratio)
        more = int(ratio) + 1
        near = " or ".join(
            f"`pin: {_typed(width, bench)} / {count}` ({_about(width / count, bench)})"
            for count in (more, more - 1)
            if count > 1
        )
        message = f"pins of {_typed(pin, bench)} do not divide the width of {_typed(width, bench)}"
        remedy = f"write {near}"
    bench.findings.error(
        "finger-pins",
        f"{meeting.one.copy} and {meeting.two.copy}: {message}",
        entry.place_of("pin"),
        remedy,
        part=meeting.one.part,
    )
    return None


def _typed(length: Length, bench: Bench) -> str:
    """A length as a maker types it, in the project's units."""
    printed = phrase(length).text(LengthStyle(bench.units)).replace("\u00a0", " ")
    return "-".join(printed.rsplit(" ", 1)[0].split(" ")) + bench.units.replace("inch", "in")


def _about(length: Length, bench: Bench) -> str:
    """A length as it would be printed, and that it is rounded where it is."""
    exact = rounded(length, LengthStyle(bench.units)) == length
    return _typed(length, bench) if exact else f"about {_typed(length, bench)}"


def _slot(rect: Box, row: Axis, index: int, number: int, pin: Length, gap: Length) -> Box:
    # The slots of both pieces share the gap: a quarter from each side of every slot.
    low = rect.low.at(row) + pin * index - (gap / 4 if index else ZERO)
    high = rect.low.at(row) + pin * (index + 1) + (gap / 4 if index < number - 1 else ZERO)
    return rect.with_side(Side.of(row, False), low).with_side(Side.of(row, True), high)


def _say(operation: Operation, piece: Piece) -> Phrase:
    """Say how many slots, how wide and deep, and which edge has one."""
    first = operation.features[0]
    end = operation.side
    row = next(axis for axis in Axis if axis not in (end.axis, piece.thick))
    number = number_of(operation)
    inner = next(
        (f for f in operation.features if piece.finished.low.at(row) < f.span(row).low),
        operation.features[-1],
    )
    size = inner.span(row).high - inner.span(row).low
    words = phrase(f"Cut {number} slots " if number > 1 else "Cut a slot ", size, " wide and ")
    words += phrase(first.depth or ZERO, f" deep in the {piece.call(end)}")
    before = first.span(row).low - piece.finished.low.at(row)
    low = Side.of(row, False)
    if before > ZERO:
        words += phrase(", the first ", before, f" from the {piece.call(low)}")
    else:
        words += phrase(f", the first along the {piece.call(low)}")
    pitches = [repeat.pitch for feature in operation.features for repeat in feature.repeat]
    if pitches:
        words += phrase(", ", pitches[0], " from one to the next")
    return words + phrase(".")


KIND = JointKind(
    "finger",
    "Finger joint",
    Finger,
    lambda entry: between(entry, 0),
    lambda entry: between(entry, 1),
    expand,
    phrase("Brush glue on the sides of the pins, press the corner together and clamp it square."),
    overlaps=True,
    symmetric=True,
    cautions=("glue",),
    says={"finger slots": _say},
    spreads=True,
)

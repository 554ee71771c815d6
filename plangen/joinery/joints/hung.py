"""A shelf that lies loose on pins: holes in both sides, in rows where it can be set at other heights."""

from __future__ import annotations

from fractions import Fraction

from plangen.expressions import LengthExpr, Name, Names, Whole
from plangen.joinery.body import Expansion, JointBody, JointKind, Meeting, Spot, metric
from plangen.joinery.cuts import RoundCut
from plangen.joinery.fastening import never_glued, said, size_of
from plangen.joinery.operation import Feature, Form, Operation, Repeat, Span
from plangen.joinery.piece import Bench
from plangen.joinery.sentences import hole
from plangen.joinery.space import Axis, Point, Side
from plangen.units import ZERO, Length, Phrase, inches, millimetres, phrase

MOST_ROWS = 60


class Hung(JointBody):
    """``hung: {shelf: shelf, in: side, with: pin, gap: 1/16in, rows: 5, pitch: 32mm}``.

    The shelf ends ``gap`` short of each side. At each end lie two pins, ``from edges`` of the shelf.
    With ``rows`` there are so many heights, ``pitch`` apart: ``below`` of them lower than the shelf
    stands, half of the others unless said.
    """

    shelf: Names
    in_: Names
    with_: Name
    gap: LengthExpr | None = None  # 1/16 in or 1.5 mm unless said
    from_edges: LengthExpr | None = None  # 1-1/2 in or 37 mm, at most a quarter of the shelf, unless said
    rows: Whole | None = None
    pitch: LengthExpr | None = None  # 1-1/4 in or 32 mm unless said
    below: Whole | None = None


def clearance(entry: Hung, bench: Bench) -> Length:
    """The room at each end of the shelf; 1/16 in or 1.5 mm unless said: common practice, no source."""
    if entry.gap is not None:
        return entry.gap.length(bench.scope)
    return millimetres("3/2") if metric(bench) else inches("1/16")


def expand(entry: Hung, meeting: Meeting, bench: Bench) -> Expansion:
    """Bore a row of holes in front and one behind, so that the shelf's own height is one of them."""
    pin = bench.fastener(str(entry.with_))
    never_glued(entry, "a shelf on pins", bench)
    if pin is None:
        return Expansion()
    diameter, depth = size_of(pin, "diameter"), size_of(pin, "depth")
    if depth is None and pin.length is not None:
        depth = pin.length / 2
    if diameter is None or depth is None:
        bench.findings.error(
            "pin-size",
            f"`{pin.name}` needs a diameter, and a length or the depth of its hole",
            entry.place_of("with_"),
            "for example `{kind: shelf pin, diameter: 1/4in, length: 3/4in, depth: 3/8in}`",
        )
        return Expansion()
    if not (_lies_level(entry, meeting, bench) and _goes_in(entry, depth, meeting, bench)):
        return Expansion()
    rows = _rows(entry, diameter, meeting, bench)
    edges = _from_edges(entry, diameter, meeting, bench)
    if rows is None or edges is None:
        return Expansion()
    (number, below, pitch), side, shelf = rows, meeting.side, meeting.two.finished
    over = _over(meeting)
    low = meeting.rect.low.with_(side.axis, meeting.one.finished.side(side))
    under = low.with_(Axis.UP, shelf.low.up - diameter / 2)  # the middle of the pin that it lies on
    made, spots = [], []
    for at in (shelf.low.at(over) + edges, shelf.high.at(over) - edges):
        own = under.with_(over, at)
        spots.append(Spot(meeting.one.copy, own.floats(), side))
        made.append(_column(own.moved(Axis.UP, -pitch * below), side, diameter, depth, number, pitch, entry))
    return Expansion(tuple(made), hardware=((pin.name, tuple(spots)),))


def _over(meeting: Meeting) -> Axis:
    """The way from the front to the back of the shelf."""
    return next(axis for axis in Axis if axis not in (meeting.side.axis, Axis.UP))


def _lies_level(entry: Hung, meeting: Meeting, bench: Bench) -> bool:
    if meeting.side.axis is not Axis.UP and meeting.two.thick is Axis.UP:
        return True
    bench.findings.error(
        "not-level",
        f"{meeting.two.copy} does not lie level between sides, so that it can not lie on pins",
        entry.place_of("shelf"),
        "a shelf has `thick: up`, and what holds it stands beside its ends",
        part=meeting.two.part,
    )
    return False


def _goes_in(entry: Hung, depth: Length, meeting: Meeting, bench: Bench) -> bool:
    if ZERO < depth < meeting.one.finished.size(meeting.side.axis):
        return True
    bench.findings.error(
        "hole-too-deep",
        f"the hole of a pin, {said(depth, bench)} deep, would come out of {meeting.one.part}",
        entry.place_of("with_"),
        "give the row of the pin a smaller `depth`",
        part=meeting.one.part,
    )
    return False


def _rows(entry: Hung, diameter: Length, meeting: Meeting, bench: Bench) -> tuple[int, int, Length] | None:
    """How many heights there are, how many of them below the shelf's own, and from one to the next."""
    number = entry.rows if entry.rows is not None else 1
    usual = millimetres(32) if metric(bench) else inches(Fraction(5, 4))
    pitch = entry.pitch.length(bench.scope) if entry.pitch is not None else usual
    below = entry.below if entry.below is not None else (number - 1) // 2
    wrong: tuple[str, str, str] | None = None
    if not 1 <= number <= MOST_ROWS:
        wrong = "rows", f"a shelf has between 1 and {MOST_ROWS} heights", "check `rows`"
    elif number == 1 and (entry.pitch is not None or entry.below is not None):
        key = "pitch" if entry.pitch is not None else "below"
        wrong = key, f"`{key}` goes with `rows`", "say how many heights there are: `rows: 5`"
    elif below >= number:
        wrong = "below", "one of the heights is the shelf's own", f"write {number - 1} at most"
    elif pitch <= diameter * 2:
        wrong = "pitch", "so near to each other the holes weaken the side", "give at least twice the diameter"
    if wrong is None:
        low = meeting.two.finished.low.up - diameter / 2 - pitch * below
        board, reach = meeting.one.finished, diameter / 2
        if low - reach > board.low.up and low + pitch * (number - 1) + reach < board.high.up:
            return number, below, pitch
        many = entry.rows is not None
        wrong = (
            "rows" if many else "shelf",
            f"a hole lies beyond the {'ends' if many else 'end'} of {meeting.one.part}",
            "take fewer rows, a smaller pitch or another `below`" if many else "place the shelf further in",
        )
    key, message, remedy = wrong
    bench.findings.error("row", message, entry.place_of(key), remedy, part=meeting.one.part)
    return None


def _from_edges(entry: Hung, diameter: Length, meeting: Meeting, bench: Bench) -> Length | None:
    """How far the pins lie from the edges of the shelf: 1-1/2 in or 37 mm: common practice, no source."""
    deep = meeting.rect.size(_over(meeting))
    usual = millimetres(37) if metric(bench) else inches(Fraction(3, 2))
    edges = entry.from_edges.length(bench.scope) if entry.from_edges is not None else min(usual, deep / 4)
    shelf, board = meeting.two.finished, meeting.one.finished
    over, reach = _over(meeting), diameter / 2
    within = board.low.at(over) < shelf.low.at(over) + edges - reach and (
        shelf.high.at(over) - edges + reach < board.high.at(over)
    )
    if reach < edges and edges * 2 + diameter * 2 <= shelf.size(over) and within:
        return edges
    bench.findings.error(
        "pins-off-shelf",
        f"{said(edges, bench)} from its edges the pins do not lie under {meeting.two.copy}, which is "
        f"{said(shelf.size(over), bench)} deep, in {meeting.one.part}",
        entry.place_of("from_edges"),
        "give less than half of the shelf's depth, and more than half of the pin's diameter",
        part=meeting.two.part,
    )
    return None


def _column(
    low: Point, side: Side, diameter: Length, depth: Length, number: int, pitch: Length, entry: Hung
) -> Operation:
    """One row of holes, upward from its lowest."""
    floor = low.at(side.axis) - depth * side.sign
    spans = {axis: Span(low.at(axis), low.at(axis)) for axis in Axis}
    spans[side.axis] = Span(*sorted((low.at(side.axis), floor)))
    repeat = (Repeat(Axis.UP, number, pitch),) if number > 1 else ()
    return Operation(
        kind="pin holes",
        title="Pin holes" if number > 1 else "Pin hole",
        side=side,
        cuts=tuple(
            RoundCut(low.moved(Axis.UP, pitch * index), side, diameter, depth) for index in range(number)
        ),
        features=(
            Feature(
                Form.HOLE,
                side,
                tuple(spans.items()),
                (Side.BOTTOM,),
                diameter=diameter,
                depth=depth,
                repeat=repeat,
            ),
        ),
        say=Phrase(),
        tools=(phrase("Drill, ", diameter, " bit with a stop, and a strip with a row of holes as a guide"),),
        cautions=("drill",),
        place=entry.place,
    )


KIND = JointKind(
    "hung",
    "Shelf on pins",
    Hung,
    lambda entry: entry.in_,
    lambda entry: entry.shelf,
    expand,
    phrase("Set the pins in at one height and lay the shelf on them; it stays loose."),
    glued=False,
    clearance=clearance,
    comes_apart=True,
    says={"pin holes": hole},
    heading="Lay the {pieces} on pins",
    lies=True,
    last=True,
    headings={"pin holes": "Drill the {work} in the {pieces}"},
)

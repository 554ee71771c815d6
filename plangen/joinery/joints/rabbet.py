"""A rabbet: a step along an edge, in which another piece lies flush."""

from __future__ import annotations

from plangen.expressions import LengthExpr, Names
from plangen.joinery.body import Expansion, JointBody, JointKind, Meeting
from plangen.joinery.housing import cut_housing, depth_fits, enters_edgewise, housing_box
from plangen.joinery.piece import Bench, Piece
from plangen.joinery.space import Side
from plangen.units import ZERO, Length, phrase


class Rabbet(JointBody):
    """``rabbet: {in: side, for: back, width: 3/8in}``.

    ``width`` is how far the entering piece laps over; ``depth`` is measured in from the edge that the
    rabbet opens, and is that piece's thickness unless said. The piece lies on the rabbet's floor.
    """

    in_: Names
    for_: Names
    width: LengthExpr
    depth: LengthExpr | None = None


def reach(entry: Rabbet, one: Piece, two: Piece, bench: Bench) -> Length:
    """The lap."""
    return entry.width.length(bench.scope)


def expand(entry: Rabbet, meeting: Meeting, bench: Bench) -> Expansion:
    """Cut the rabbet."""
    one, two = meeting.one, meeting.two
    width = entry.width.length(bench.scope)
    if not enters_edgewise(meeting, "rabbet", entry, bench) or not depth_fits(
        meeting, width, "rabbet", entry.place_of("width"), bench
    ):
        return Expansion()
    depth = entry.depth.length(bench.scope) if entry.depth is not None else two.finished.size(two.thick)
    if not ZERO < depth < one.finished.size(two.thick):
        bench.findings.error(
            "rabbet-too-deep",
            f"a rabbet this deep leaves nothing of {one.part}"
            if depth > ZERO
            else "a rabbet needs a depth above zero",
            entry.place_of("depth"),
            "the entering piece's thickness is usual",
            part=one.part,
        )
        return Expansion()
    opening = _opening(depth, meeting)
    if opening is None:
        low, high = Side.of(two.thick, False).word, Side.of(two.thick, True).word
        where = "flush with" if entry.depth is None else "in a rabbet of this depth at"
        bench.findings.error(
            "rabbet-not-at-edge",
            f"{two.copy} is {where} neither the {low} nor the {high} of {one.copy}",
            entry.place_of("depth"),
            "place it so that it lies on the floor of its rabbet, or use a dado or groove",
            part=two.part,
        )
        return Expansion()
    floor = one.finished.side(opening) - depth * opening.sign
    box = housing_box(meeting, width).with_side(opening, one.finished.side(opening))
    box = box.with_side(opening.opposite, floor)
    tool = phrase("Router with a rabbeting bit, or a table saw, for ", width, " wide and ", depth, " deep")
    made = cut_housing("rabbet", "Rabbet", box, [], meeting, width, entry.place, (opening,), tool)
    return Expansion(made.on_one, made.on_two, opening.opposite, (), made.glue_area)


def _opening(depth: Length, meeting: Meeting) -> Side | None:
    """The side that a rabbet of this depth opens: from there the entering piece lies on its floor."""
    one, two = meeting.one.finished, meeting.two.finished
    thick = meeting.two.thick
    found = [
        side
        for side in (Side.of(thick, True), Side.of(thick, False))
        if two.side(side.opposite) == one.side(side) - depth * side.sign
    ]
    return found[0] if found else None


KIND = JointKind(
    "rabbet",
    "Rabbet",
    Rabbet,
    lambda entry: entry.in_,
    lambda entry: entry.for_,
    expand,
    phrase("Lay the piece in its rabbets and press it home."),
    reach=reach,
    glued=False,
)

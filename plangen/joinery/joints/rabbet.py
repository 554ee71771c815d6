"""A rabbet: a step along an edge, in which another piece lies flush."""

from __future__ import annotations

from plangen.expressions import LengthExpr, Names
from plangen.joinery.body import Expansion, JointBody, JointKind, Meeting
from plangen.joinery.housing import cut_housing, depth_fits, housing_box
from plangen.joinery.piece import Bench, Piece
from plangen.joinery.space import Side
from plangen.units import Length, phrase


class Rabbet(JointBody):
    """``rabbet: {in: side, for: back, width: 3/8in}``.

    ``width`` is how far the entering piece laps over; ``depth`` is measured in from the edge that the
    rabbet opens, and is that piece's thickness unless said.
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
    width = entry.width.length(bench.scope)
    if not depth_fits(meeting, width, "rabbet", entry.place_of("width"), bench):
        return Expansion()
    axis = meeting.two.thick
    if axis is meeting.side.axis:
        bench.findings.error(
            "rabbet-face",
            f"{meeting.two.copy} meets {meeting.one.copy} with its face; a rabbet takes an edge or an end",
            entry.place,
            "use a butt joint, or place the piece so that its edge meets",
            part=meeting.two.part,
        )
        return Expansion()
    flush = [
        side
        for side in (Side.of(axis, False), Side.of(axis, True))
        if meeting.two.finished.side(side) == meeting.one.finished.side(side)
    ]
    if not flush:
        low, high = Side.of(axis, False).word, Side.of(axis, True).word
        bench.findings.error(
            "rabbet-not-at-edge",
            f"{meeting.two.copy} is flush with neither the {low} nor the {high} of {meeting.one.copy}",
            entry.place,
            "place it flush with an edge, or use a dado or groove",
            part=meeting.two.part,
        )
        return Expansion()
    opening = flush[-1]
    box = housing_box(meeting, width)
    depth = meeting.two.finished.size(axis)
    if entry.depth is not None:
        depth = entry.depth.length(bench.scope)
        if not 0 < depth.mm < meeting.one.finished.size(axis).mm:
            bench.findings.error(
                "rabbet-too-deep",
                f"a rabbet this deep leaves nothing of {meeting.one.part}",
                entry.place_of("depth"),
                "the entering piece's thickness is usual",
                part=meeting.one.part,
            )
            return Expansion()
    box = box.with_side(opening.opposite, meeting.one.finished.side(opening) - depth * opening.sign)
    tool = phrase("Router with a rabbeting bit, or a table saw, for ", width, " wide and ", depth, " deep")
    made = cut_housing("rabbet", "Rabbet", box, [], meeting, width, entry.place, (opening,), tool)
    return Expansion(made.on_one, made.on_two, opening.opposite, (), made.glue_area)


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

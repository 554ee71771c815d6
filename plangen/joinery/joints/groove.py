"""A groove: a housing with the grain, for the edge of a panel."""

from __future__ import annotations

from plangen.expressions import LengthExpr, Names, YesNo
from plangen.joinery.body import Expansion, JointBody, JointKind, Meeting, sides_said
from plangen.joinery.housing import cut_housing, depth_fits, housing_box, stop
from plangen.joinery.piece import Bench, Piece
from plangen.units import ZERO, Length, phrase


class Groove(JointBody):
    """``groove: {in: [stile, rail], for: panel, depth: 3/8in, gap: 1/16in}``.

    It runs the whole length of its board unless ``stopped`` says how far short of a side of the
    panel it ends (0 ends it with the panel). ``width`` is the panel's thickness unless said.
    A ``floating`` panel gets no glue.
    """

    in_: Names
    for_: Names
    depth: LengthExpr
    width: LengthExpr | None = None
    gap: LengthExpr | None = None
    stopped: dict[str, LengthExpr] | None = None
    floating: YesNo | None = None


def reach(entry: Groove, one: Piece, two: Piece, bench: Bench) -> Length:
    """The depth less the gap."""
    gap = entry.gap.length(bench.scope) if entry.gap is not None else ZERO
    return entry.depth.length(bench.scope) - gap


def expand(entry: Groove, meeting: Meeting, bench: Bench) -> Expansion:
    """Cut the groove."""
    depth = entry.depth.length(bench.scope)
    if not depth_fits(meeting, depth, "groove", entry.place_of("depth"), bench):
        return Expansion()
    box = housing_box(meeting, depth)
    thick = meeting.two.thick
    long = next(axis for axis in meeting.lateral if axis is not thick)
    if entry.width is not None:
        width = entry.width.length(bench.scope)
        if width < box.size(thick):
            bench.findings.error(
                "groove-too-narrow",
                f"{meeting.two.part} is thicker than its groove is wide",
                entry.place_of("width"),
                "make the groove as wide as the panel is thick, or a little wider",
                part=meeting.two.part,
            )
            return Expansion()
        spare = (width - box.size(thick)) / 2
        low, high = box.low.at(thick) - spare, box.high.at(thick) + spare
        box = type(box)(box.low.with_(thick, low), box.high.with_(thick, high))
    stops = sides_said(entry.stopped, bench)
    through = meeting.one.finished
    if not any(side.axis is long and not side.high for side in stops):
        box = type(box)(box.low.with_(long, through.low.at(long)), box.high)
    if not any(side.axis is long and side.high for side in stops):
        box = type(box)(box.low, box.high.with_(long, through.high.at(long)))
    box, notches = stop(box, {side: length for side, length in stops.items() if side.axis is long}, meeting)
    made = cut_housing("groove", "Groove", box, notches, meeting, depth, entry.place)
    return made if not entry.floating else Expansion(made.on_one, made.on_two, made.closes)


KIND = JointKind(
    "groove",
    "Groove",
    Groove,
    lambda entry: entry.in_,
    lambda entry: entry.for_,
    expand,
    phrase("Slide the panel into its grooves."),
    reach=reach,
    glued=False,
)

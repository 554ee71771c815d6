"""A groove: a housing with the grain, for the edge of a panel."""

from __future__ import annotations

from plangen.expressions import LengthExpr, Names, SideWord, YesNo
from plangen.joinery.body import Expansion, JointBody, JointKind, Meeting, gap_fits
from plangen.joinery.housing import (
    cut_housing,
    depth_fits,
    ends_fit,
    enters_edgewise,
    housing_box,
    length_axis,
    stop,
    stops_of,
    wholly_on_face,
)
from plangen.joinery.piece import Bench, Piece
from plangen.joinery.shapes import Ends
from plangen.joinery.space import Box, Side
from plangen.units import ZERO, Length, phrase


class Groove(JointBody):
    """``groove: {in: [stile, rail], for: panel, depth: 3/8in, gap: 1/16in}``.

    It runs the whole length of its board unless ``stopped`` says how far short of a side of the
    panel it ends (0 ends it with the panel). ``width`` is the panel's thickness unless said.
    A ``floating`` panel gets no glue. ``ends: round`` leaves stopped ends as the router does.
    """

    in_: Names
    for_: Names
    depth: LengthExpr
    width: LengthExpr | None = None
    gap: LengthExpr | None = None
    stopped: dict[SideWord, LengthExpr] | None = None
    ends: Ends | None = None  # `round` leaves stopped ends as the router does: `square` unless said
    floating: YesNo | None = None


def _gap(entry: Groove, bench: Bench) -> Length:
    return entry.gap.length(bench.scope) if entry.gap is not None else ZERO


def reach(entry: Groove, one: Piece, two: Piece, bench: Bench) -> Length:
    """The depth less the gap."""
    return entry.depth.length(bench.scope) - _gap(entry, bench)


def expand(entry: Groove, meeting: Meeting, bench: Bench) -> Expansion:
    """Cut the groove."""
    depth = entry.depth.length(bench.scope)
    fits = (
        enters_edgewise(meeting, "groove", entry, bench)
        and depth_fits(meeting, depth, "groove", entry.place_of("depth"), bench)
        and gap_fits(_gap(entry, bench), depth, entry, bench)
        and wholly_on_face(meeting, (meeting.two.thick,), "groove", entry.place, bench)
    )
    stops = stops_of(entry.stopped, meeting, entry, bench) if fits else None
    box = _widened(entry, housing_box(meeting, depth), meeting, bench) if stops is not None else None
    if stops is None or box is None:
        return Expansion()
    long, through = length_axis(meeting), meeting.one.finished
    for side in (Side.of(long, False), Side.of(long, True)):
        if side not in stops:
            box = box.with_side(side, through.side(side))
    ends = entry.ends or "square"
    box, notches = stop(box, stops, meeting, ends)
    if not ends_fit(ends, box, meeting, entry, bench):
        return Expansion()
    made = cut_housing("groove", "Groove", box, notches, meeting, depth, entry.place, ends=ends)
    return made if not entry.floating else Expansion(made.on_one, made.on_two, made.closes)


def _widened(entry: Groove, box: Box, meeting: Meeting, bench: Bench) -> Box | None:
    """The box as wide as is typed, about the middle of the panel; None when that cannot be."""
    if entry.width is None:
        return box
    thick, face = meeting.two.thick, meeting.one.finished
    spare = (entry.width.length(bench.scope) - box.size(thick)) / 2
    if spare < ZERO:
        bench.findings.error(
            "groove-too-narrow",
            f"{meeting.two.part} is thicker than its groove is wide",
            entry.place_of("width"),
            "make the groove as wide as the panel is thick, or a little wider",
            part=meeting.two.part,
        )
        return None
    for side in (Side.of(thick, False), Side.of(thick, True)):
        box = box.grown(side, spare)
    if box.low.at(thick) < face.low.at(thick) or box.high.at(thick) > face.high.at(thick):
        bench.findings.error(
            "groove-too-wide",
            f"so wide a groove breaks out of {meeting.one.copy} {thick.word}",
            entry.place_of("width"),
            "make it narrower, or move the panel in from the edge",
            part=meeting.one.part,
        )
        return None
    return box


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

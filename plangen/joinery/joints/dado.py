"""A dado: a housing across a board for the end of another."""

from __future__ import annotations

from plangen.expressions import LengthExpr, Names, SideWord
from plangen.handbook import joinery_rules
from plangen.joinery.body import Expansion, JointBody, JointKind, Meeting, gap_fits, metric
from plangen.joinery.housing import (
    cut_housing,
    depth_fits,
    ends_fit,
    enters_edgewise,
    housing_box,
    stop,
    stops_of,
    wholly_on_face,
)
from plangen.joinery.piece import Bench, Piece
from plangen.joinery.shapes import Ends
from plangen.units import ZERO, Length, phrase


class Dado(JointBody):
    """``dado: {in: side, for: shelf, depth: 1/4in, stopped: {front: 1/2in}}``.

    ``stopped`` says how far short of a side of the entering piece the dado ends; that piece is
    notched to fit. ``gap`` leaves room at the bottom. ``ends: round`` leaves stopped ends as the router
    does, and the piece keeps clear of them; they are squared with a chisel unless said.
    """

    in_: Names
    for_: Names
    depth: LengthExpr | None = None
    gap: LengthExpr | None = None
    stopped: dict[SideWord, LengthExpr] | None = None
    ends: Ends | None = None  # `round` leaves stopped ends as the router does: `square` unless said


def depth_of(entry: Dado, one: Piece, bench: Bench) -> Length:
    """The depth typed, or a third of the board, the trade's rule."""
    if entry.depth is not None:
        return entry.depth.length(bench.scope)
    return joinery_rules.housing_depth(one.shoulders.size(one.thick), metric=metric(bench))


def _gap(entry: Dado, bench: Bench) -> Length:
    return entry.gap.length(bench.scope) if entry.gap is not None else ZERO


def reach(entry: Dado, one: Piece, two: Piece, bench: Bench) -> Length:
    """The depth less the gap."""
    return depth_of(entry, one, bench) - _gap(entry, bench)


def expand(entry: Dado, meeting: Meeting, bench: Bench) -> Expansion:
    """Cut the dado, and the notch where it is stopped."""
    depth = depth_of(entry, meeting.one, bench)
    fits = (
        enters_edgewise(meeting, "dado", entry, bench)
        and depth_fits(meeting, depth, "dado", entry.place_of("depth"), bench)
        and gap_fits(_gap(entry, bench), depth, entry, bench)
        and wholly_on_face(meeting, meeting.lateral, "dado", entry.place, bench)
    )
    stops = stops_of(entry.stopped, meeting, entry, bench) if fits else None
    if stops is None:
        return Expansion()
    ends = entry.ends or "square"
    box, notches = stop(housing_box(meeting, depth), stops, meeting, ends)
    if not ends_fit(ends, box, meeting, entry, bench):
        return Expansion()
    return cut_housing("dado", "Dado", box, notches, meeting, depth, entry.place, ends=ends)


KIND = JointKind(
    "dado",
    "Dado",
    Dado,
    lambda entry: entry.in_,
    lambda entry: entry.for_,
    expand,
    phrase("Brush glue into the dadoes, slide the ends in and press until the shoulders meet."),
    reach=reach,
    cautions=("glue",),
    spreads=True,
)

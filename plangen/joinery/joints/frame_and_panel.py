"""A frame and panel: a panel that floats in grooves of every member of its frame, never glued."""

from __future__ import annotations

from plangen.expressions import LengthExpr, Names, SideWord, YesNo
from plangen.joinery.body import Expansion, JointBody, JointKind, Meeting, spans_of
from plangen.joinery.cuts import BoxCut
from plangen.joinery.fastening import never_glued, said
from plangen.joinery.housing import (
    cut_housing,
    depth_fits,
    enters_edgewise,
    housing_box,
    length_axis,
    wholly_on_face,
)
from plangen.joinery.operation import Feature, Form, Operation
from plangen.joinery.piece import Bench, Piece
from plangen.joinery.slotted import moves_by
from plangen.joinery.space import Axis, Box, Side
from plangen.units import ZERO, Length, Phrase, inches, millimetres, phrase


class FrameAndPanel(JointBody):
    """``frame and panel: {panel: panel, in: [stile, rail], depth: 3/8in}``.

    Every member of the frame is grooved. The panel enters each groove by its depth less the ``gap``:
    unless it is typed, across the grain of a solid panel half of what the panel can swell, rounded
    up to a mark of the tape; along the grain, and for sheets, 1/32 in (1 mm). A groove ends with
    the panel where its board goes on; ``through: yes`` runs every groove from end to end. A panel
    thicker than its groove gets a ``tongue`` so thick, by a rabbet all round its ``raised`` face.
    """

    panel: Names
    in_: Names
    depth: LengthExpr
    gap: LengthExpr | None = None
    through: YesNo | None = None
    tongue: LengthExpr | None = None
    raised: SideWord | None = None


def small_gap(bench: Bench) -> Length:
    """The gap where nothing moves: room to close the frame. Common practice, no source."""
    return inches("1/32") if bench.units == "inch" else millimetres(1)


def swelling(panel: Piece, depth: Length, bench: Bench) -> Length:
    """How much the panel may swell across the grain, over its width from floor to floor of its grooves."""
    return moves_by(panel, panel.shoulders.size(panel.wide) + depth * 2, bench)


def gap_at(entry: FrameAndPanel, panel: Piece, axis: Axis, bench: Bench) -> Length:
    """The gap left at each end of the panel along an axis, between its edge and the floor of the groove."""
    if entry.gap is not None:
        return entry.gap.length(bench.scope)
    if not panel.solid or axis is not panel.wide:
        return small_gap(bench)
    return bench.round_up(swelling(panel, entry.depth.length(bench.scope), bench) / 2)


def reach(entry: FrameAndPanel, one: Piece, two: Piece, bench: Bench) -> Length:
    """The depth less the gap; a member runs along the edge of the panel that it takes."""
    enters = next((axis for axis in (two.wide, two.runs) if axis is not one.runs), two.wide)
    return entry.depth.length(bench.scope) - gap_at(entry, two, enters, bench)


def expand(entry: FrameAndPanel, meeting: Meeting, bench: Bench) -> Expansion:
    """Groove the member; raise the panel's edge where it is thicker than the groove."""
    depth = entry.depth.length(bench.scope)
    gap = gap_at(entry, meeting.two, meeting.side.axis, bench)
    fits = (
        never_glued(entry, "a panel that has to move in its frame", bench)
        and enters_edgewise(meeting, "groove", entry, bench)
        and _along_member(entry, meeting, bench)
        and depth_fits(meeting, depth, "groove", entry.place_of("depth"), bench)
        and _can_move(entry, meeting, depth, gap, bench)
        and wholly_on_face(meeting, (meeting.two.thick,), "groove", entry.place, bench)
    )
    tongue = _tongue(entry, meeting, bench) if fits else None
    if tongue is None:
        return Expansion()
    thick = meeting.two.thick
    box = housing_box(meeting, depth)
    for side in (Side.of(thick, False), Side.of(thick, True)):
        box = box.with_side(side, tongue.side(side))
    box = _ends(entry, meeting, box, bench)
    made = cut_housing("groove", "Groove", box, [], meeting, depth, entry.place)
    raised = _raise(entry, meeting, tongue, depth)
    return Expansion(made.on_one, raised, made.closes)


def _along_member(entry: FrameAndPanel, meeting: Meeting, bench: Bench) -> bool:
    """Report a panel that meets the end of a board."""
    if meeting.one.runs is not meeting.side.axis:
        return True
    bench.findings.error(
        "groove-in-end",
        f"{meeting.two.copy} meets the end of {meeting.one.copy}; the groove for a panel runs along an edge",
        entry.place_of("in_"),
        "name the stiles and rails around the panel, and check which way each runs",
        part=meeting.one.part,
    )
    return False


def _can_move(entry: FrameAndPanel, meeting: Meeting, depth: Length, gap: Length, bench: Bench) -> bool:
    """Report a panel that bottoms in its grooves, or that shrinks out of them."""
    panel, place = meeting.two, entry.place_of("gap" if entry.gap is not None else "depth")
    if not ZERO <= gap < depth:
        bench.findings.error(
            "bad-gap",
            f"a gap of {said(gap, bench)} leaves {panel.copy} nothing of its groove, "
            f"{said(depth, bench)} deep"
            if gap >= depth
            else "a gap is not below zero",
            place,
            "make the groove deeper than the gap, or the panel of narrower boards that share the movement",
            part=panel.part,
        )
        return False
    if not panel.solid or meeting.side.axis is not panel.wide:
        return True
    half = swelling(panel, depth, bench) / 2
    if depth - gap <= half:
        bench.findings.warning(
            "panel-falls-out",
            f"{panel.copy} may shrink {said(half, bench)} at each side, and enters {meeting.one.copy} "
            f"by only {said(depth - gap, bench)}",
            entry.place_of("depth"),
            "make the grooves deeper, or divide the panel",
            part=panel.part,
        )
    return True


def _tongue(entry: FrameAndPanel, meeting: Meeting, bench: Bench) -> Box | None:
    """What of the panel's thickness enters the groove, as a box; None, with a finding, if that cannot be."""
    panel, thick = meeting.two, meeting.two.thick
    if entry.tongue is None:
        if entry.raised is None:
            return panel.finished
        bench.findings.error(
            "missing-key",
            "`raised` says which face stands proud, and nothing says how thick the tongue is",
            entry.place_of("raised"),
            "add `tongue`, the thickness that enters the groove",
            part=panel.part,
        )
        return None
    tongue, whole = entry.tongue.length(bench.scope), panel.finished.size(thick)
    face = panel.face(str(entry.raised)) if entry.raised is not None else None
    if face is None or face.axis is not thick:
        low, high = Side.of(thick, False).word, Side.of(thick, True).word
        bench.findings.error(
            "wrong-side",
            f"a raised face of {panel.part} is {low} or {high}",
            entry.place_of("raised" if entry.raised is not None else "tongue"),
            f"write `raised: {low}` or `raised: {high}`",
            part=panel.part,
        )
        return None
    if not ZERO < tongue < whole:
        bench.findings.error(
            "bad-tongue",
            f"the tongue of {panel.part} is {said(tongue, bench)} thick, and the panel {said(whole, bench)}",
            entry.place_of("tongue"),
            "make it thinner than the panel, or leave it out for a flat panel",
            part=panel.part,
        )
        return None
    return panel.finished.grown(face, tongue - whole)


def _ends(entry: FrameAndPanel, meeting: Meeting, box: Box, bench: Bench) -> Box:
    """Let the groove end with the panel, and its gap, where the member goes on beyond; else run out."""
    one, panel, long = meeting.one, meeting.two, length_axis(meeting)
    gap = gap_at(entry, panel, long, bench)
    for side in (Side.of(long, False), Side.of(long, True)):
        end = panel.finished.side(side) + gap * side.sign
        beyond = (one.shoulders.side(side) - end).mm * side.sign
        box = box.with_side(side, end if beyond > 0 and not entry.through else one.finished.side(side))
    return box


def _raise(entry: FrameAndPanel, meeting: Meeting, tongue: Box, depth: Length) -> tuple[Operation, ...]:
    """The rabbet that leaves the tongue; as wide as the groove is deep, so that its shoulder stays clear."""
    panel, edge = meeting.two, meeting.end
    if tongue == panel.finished:
        return ()
    face = next(side for side in Side if tongue.side(side) != panel.finished.side(side))
    box = panel.finished.with_side(face.opposite, tongue.side(face))
    box = box.with_side(edge.opposite, panel.finished.side(edge) - depth * edge.sign)
    return (
        Operation(
            kind="rabbet",
            title="Rabbet",
            side=face,
            cuts=(BoxCut(box),),
            features=(Feature(Form.SLOT, face, spans_of(box), (edge,), depth=box.size(panel.thick)),),
            say=Phrase(),
            tools=(phrase("Table saw or router, for a rabbet ", depth, " wide"),),
            cautions=("router",),
            place=entry.place,
        ),
    )


KIND = JointKind(
    "frame and panel",
    "Frame and panel",
    FrameAndPanel,
    lambda entry: entry.in_,
    lambda entry: entry.panel,
    expand,
    phrase("Slide the panel dry into the grooves of its frame; let it move, and keep glue away from it."),
    reach=reach,
    glued=False,
    enters="groove",
)

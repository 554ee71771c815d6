"""An edge-glued joint: boards or panels edge to edge in one plane, with dowels to line them up if wanted."""

from __future__ import annotations

from plangen.expressions import Name, Names
from plangen.joinery.body import Expansion, JointKind, Meeting, between
from plangen.joinery.fastening import Fastening
from plangen.joinery.joints import dowelled
from plangen.joinery.piece import Bench
from plangen.joinery.space import Side
from plangen.units import phrase


class EdgeGlued(Fastening):
    """``edge-glued: {between: [board, board], align: dowel, every: 8in}``.

    ``between`` may name one part twice: its copies are glued to each other. ``align`` is a dowel
    under ``hardware``, bored half into each edge.
    """

    between: Names
    align: Name | None = None


def expand(entry: EdgeGlued, meeting: Meeting, bench: Bench) -> Expansion:
    """Cut nothing but dowel holes; say the area for the glue."""
    if not _edge_to_edge(entry, meeting, bench):
        return Expansion()
    if entry.align is not None:
        return dowelled.bored(entry, "align", str(entry.align), meeting, bench)
    idle = next((key for key in ("per_joint", "every", "from_ends") if getattr(entry, key) is not None), None)
    if idle is not None:
        bench.findings.error(
            "idle-key",
            f"`{idle.replace('_', ' ')}` settles nothing where nothing lines the edges up",
            entry.place_of(idle),
            "add `align: dowel`, or take it out",
        )
    return Expansion(closes=meeting.side.opposite, glue_area=meeting.area)


def _edge_to_edge(entry: EdgeGlued, meeting: Meeting, bench: Bench) -> bool:
    """Report boards that meet otherwise than with an edge, that lie across each other, or are not flush."""
    one, two, axis = meeting.one, meeting.two, meeting.side.axis
    if one.wide is not axis or two.wide is not axis or one.runs is not two.runs:
        bench.findings.error(
            "not-edge-to-edge",
            f"{one.copy} and {two.copy} do not meet edge to edge with their grain side by side",
            entry.place,
            "for a face use `face-glued`, for an end a joint that holds there; end grain takes no glue",
            part=two.part,
        )
        return False
    for side in (Side.of(one.thick, False), Side.of(one.thick, True)):
        if one.finished.side(side) != two.finished.side(side):
            bench.findings.error(
                "not-flush",
                f"{one.copy} and {two.copy} do not lie flush at the {side.word}",
                entry.place,
                "pin their faces to the same place, and make them equally thick",
                part=two.part,
            )
            return False
    return True


KIND = JointKind(
    "edge-glued",
    "Edge-glued joint",
    EdgeGlued,
    lambda entry: between(entry, 0),
    lambda entry: between(entry, 1),
    expand,
    phrase(
        "Spread glue on both edges, clamp lightly, bring the faces flush, then tighten the clamps from the "
        "middle outward."
    ),
    symmetric=True,
    cautions=("glue", "clamps"),
    lies=True,
    spreads=True,
)

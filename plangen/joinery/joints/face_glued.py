"""A face-glued joint: layers of a lamination, face to face, their grain one way."""

from __future__ import annotations

from plangen.expressions import Names
from plangen.joinery.body import Expansion, JointBody, JointKind, Meeting, between
from plangen.joinery.piece import Bench
from plangen.units import phrase


class FaceGlued(JointBody):
    """``face-glued: {between: [layer, layer]}``; a part named twice is glued to its other copies."""

    between: Names


def expand(entry: FaceGlued, meeting: Meeting, bench: Bench) -> Expansion:
    """Cut nothing; say the area for the glue."""
    one, two, axis = meeting.one, meeting.two, meeting.side.axis
    if one.thick is not axis or two.thick is not axis:
        bench.findings.error(
            "not-face-to-face",
            f"{one.copy} and {two.copy} do not meet face to face",
            entry.place,
            "for edges use `edge-glued`, for an edge on a face `butt` or a joint that enters it",
            part=two.part,
        )
        return Expansion()
    if one.solid and two.solid and one.runs is not two.runs:
        bench.findings.error(
            "layers-across",
            f"{one.copy} and {two.copy} are solid and their grain crosses, so one would split the other",
            entry.place,
            "let both run the same way, or glue up layers of sheet goods",
            part=two.part,
        )
        return Expansion()
    return Expansion(closes=meeting.side.opposite, glue_area=meeting.area)


KIND = JointKind(
    "face-glued",
    "Face-glued joint",
    FaceGlued,
    lambda entry: between(entry, 0),
    lambda entry: between(entry, 1),
    expand,
    phrase("Spread glue over the whole of one face, lay the other on it, keep it from sliding, and clamp."),
    symmetric=True,
    cautions=("glue", "clamps"),
    lies=True,
    spreads=True,
)

"""A compound mitre: an end sawn at an angle across the face and through the thickness at once."""

from __future__ import annotations

from plangen.expressions import AngleExpr, Entry, SideWord, Whole
from plangen.joinery.angles import compound_mitre, plane_of
from plangen.joinery.cuts import PlaneCut
from plangen.joinery.fields import resolve_face
from plangen.joinery.kinds import OperationKind
from plangen.joinery.operation import Feature, Form, Group, Operation, Span
from plangen.joinery.piece import Bench, Piece
from plangen.joinery.sentences import slanted_end
from plangen.joinery.space import Axis, Direction, Point, Side, to_nanometre
from plangen.units import Length, Phrase, phrase

MOST = 80  # degrees that a saw can be turned or tilted


class CompoundMitre(Entry):
    """``compound mitre: {end: left, long: back, face: top, mitre: 31.6deg, bevel: 33.9deg}``.

    ``long`` names the edge and ``face`` the face that stay long; they and the end meet in the tip.
    In place of the two settings, ``slope: 60deg, sides: 4`` gives those for a shape of so many equal
    sides, each standing so steep (0 flat, 90 upright).
    """

    end: SideWord
    long: SideWord
    face: SideWord
    mitre: AngleExpr | None = None
    bevel: AngleExpr | None = None
    slope: AngleExpr | None = None
    sides: Whole | None = None


def work(entry: CompoundMitre, piece: Piece, bench: Bench) -> tuple[Operation, ...]:
    """Saw the compound mitre."""
    named = [resolve_face(getattr(entry, key), piece, bench, entry.place_of(key)) for key in _SIDES]
    sides = [side for side in named if side is not None]
    if len(sides) < len(named):
        return ()
    for key, side, axis, what in zip(
        _SIDES, sides, (piece.runs, piece.wide, piece.thick), ("an end", "an edge", "a face"), strict=True
    ):
        if side.axis is not axis:
            bench.findings.error(
                "compound-mitre",
                f"`{key}` of a compound mitre names {what} of {piece.part}",
                entry.place_of(key),
                "`end` is an end, `long` the edge and `face` the face that stay long",
                part=piece.part,
            )
            return ()
    settings = _settings(entry, piece, bench)
    if settings is None:
        return ()
    end, edge, face = sides
    normal = plane_of(end, edge, face, *settings)
    tip = Point(*(piece.finished.side(side) for side in sorted(sides, key=lambda side: side.axis.value)))
    reach = _reach(normal, end, piece)
    if reach >= piece.finished.size(piece.runs):
        bench.findings.error(
            "compound-mitre",
            f"the cut is longer than {piece.part}",
            entry.place,
            "make the angles smaller or the part longer",
            part=piece.part,
        )
        return ()
    spans = {axis: Span(piece.finished.low.at(axis), piece.finished.high.at(axis)) for axis in Axis}
    heel = piece.finished.side(end) - reach * end.sign
    spans[end.axis] = Span(min(heel, tip.at(end.axis)), max(heel, tip.at(end.axis)))
    return (
        Operation(
            kind="compound mitre",
            title="Compound mitre",
            side=end,
            cuts=(PlaneCut(tip, normal),),
            features=(
                Feature(
                    Form.PLANE,
                    end,
                    tuple((axis, spans[axis]) for axis in Axis),
                    (end, edge, face),
                    way=normal,
                ),
            ),
            say=Phrase(),
            tools=(phrase("Compound mitre saw, or table saw with the blade tilted"),),
            cautions=("crosscut",),
            place=entry.place,
        ),
    )


_SIDES = ("end", "long", "face")


def _settings(entry: CompoundMitre, piece: Piece, bench: Bench) -> tuple[float, float] | None:
    """Mitre and tilt in degrees, typed or worked out; None, with a finding, when they cannot be."""
    typed = {key for key in ("mitre", "bevel", "slope", "sides") if getattr(entry, key) is not None}
    if typed not in ({"mitre", "bevel"}, {"slope", "sides"}):
        bench.findings.error(
            "compound-mitre",
            "a compound mitre needs `mitre` and `bevel`, or `slope` and `sides`, and no others",
            entry.place,
            "for a four-sided box whose sides stand at 60 degrees write `slope: 60deg, sides: 4`",
            part=piece.part,
        )
        return None
    if entry.sides is not None and entry.slope is not None:
        slope = entry.slope.angle(bench.scope)
        if entry.sides < 3 or not 0 < slope < 90:
            bench.findings.error(
                "compound-mitre",
                "the sides are at least 3, and their slope lies between 0 and 90 degrees",
                entry.place_of("sides" if entry.sides < 3 else "slope"),
                "for level sides write `mitre`, for upright ones `bevel`",
                part=piece.part,
            )
            return None
        return compound_mitre(float(slope), entry.sides)
    assert entry.mitre is not None
    assert entry.bevel is not None
    mitre, tilt = entry.mitre.angle(bench.scope), entry.bevel.angle(bench.scope)
    for key, angle in (("mitre", mitre), ("bevel", tilt)):
        if not 0 < angle < MOST:
            bench.findings.error(
                "compound-mitre",
                f"the {key} lies between 0 and {MOST} degrees from square",
                entry.place_of(key),
                "for a cut that is square one way write `mitre` or `bevel`",
                part=piece.part,
            )
            return None
    return float(mitre), float(tilt)


def _reach(normal: Direction, end: Side, piece: Piece) -> Length:
    """How far along the piece the cut goes, from its tip to the opposite corner."""
    sideways = sum(
        float(piece.finished.size(axis)) * abs(normal[axis.value]) for axis in Axis if axis is not end.axis
    )
    return to_nanometre(sideways / abs(normal[end.axis.value]))


KIND = OperationKind(
    "compound mitre", CompoundMitre, work, Group.SHAPES, slanted_end, heading="Saw the {work} on the {pieces}"
)

"""A pocket-screwed joint: slanted screws from pockets in the face of one piece into the edge of another."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from plangen.expressions import Name, Names, SideWord
from plangen.handbook import pocket_screws, screws
from plangen.joinery.angles import leaning
from plangen.joinery.body import Expansion, JointKind, Meeting, Spot
from plangen.joinery.cuts import BoreCut
from plangen.joinery.fastening import Fastening, places_along, said
from plangen.joinery.fields import resolve_face
from plangen.joinery.operation import Feature, Form, Group, Operation, Span
from plangen.joinery.piece import Bench, Fastener, Piece
from plangen.joinery.sentences import counted
from plangen.joinery.space import Axis, Direction, Point, Side, to_nanometre
from plangen.units import Length, Phrase, millimetres, phrase

LEAST_BEHIND: Final = millimetres(2)  # wood left behind a pocket: common practice, no source


class PocketScrewed(Fastening):
    """``pocket-screwed: {from: rail, into: stile, with: pocket screw, face: back}``.

    The pockets are bored in ``face`` of the first piece, where they are hidden, at 15 degrees to it.
    The screw leaves that piece in the middle of its thickness, with half its length.
    """

    from_: Names
    into: Names
    with_: Name
    face: SideWord


@dataclass(frozen=True)
class Slant:
    """The middle line of a pocket: lengths along it from its mouth, and where it lies.

    ``back`` is how far the mouth lies from the meeting, along the face; ``pocket`` and ``whole`` are
    the lengths of the wide hole and of the hole right to the meeting, along the slant.
    """

    way: Direction
    back: Length
    pocket: Length
    whole: Length
    bit: Length


def slant(thickness: Length, screw: Length, face: Side, side: Side, *, metric: bool) -> Slant:
    """Lay out a pocket: with angle a, back = t/2 / tan a and whole = t/2 / sin a; half the screw stays in."""
    angle = math.radians(pocket_screws.ANGLE)
    half = float(thickness) / 2
    whole = to_nanometre(half / math.sin(angle))
    way = leaning(face.opposite, {side: 90.0 - pocket_screws.ANGLE})
    bit = pocket_screws.MM_BIT if metric else pocket_screws.INCH_BIT
    return Slant(way, to_nanometre(half / math.tan(angle)), whole - screw / 2, whole, bit)


def expand(entry: PocketScrewed, meeting: Meeting, bench: Bench) -> Expansion:
    """Bore a pocket and its screw hole for each screw."""
    one, side = meeting.one, meeting.side
    screw = bench.fastener(str(entry.with_))
    face = resolve_face(entry.face, one, bench, entry.place_of("face"))
    if screw is None or face is None:
        return Expansion()
    gauge = screw.gauge if screw.gauge is not None else screw.diameter
    if gauge is None or screw.length is None:
        bench.findings.error(
            "screw-size",
            f"`{screw.name}` needs a gauge (or a diameter) and a length",
            entry.place_of("with_"),
            "for example `gauge: 7, length: 1-1/4in`",
        )
        return Expansion()
    try:
        clearance = screws.clearance_hole(gauge)
    except ValueError as error:
        bench.findings.error("screw-size", str(error), entry.place_of("with_"), "take another screw")
        return Expansion()
    thickness = one.finished.size(one.thick)
    if not _face_fits(entry, face, meeting, bench):
        return Expansion()
    line = slant(thickness, screw.length, face, side, metric=bench.units == "mm")
    if not _stays_in(entry, meeting, screw, line, face, bench):
        return Expansion()
    on_one, spots = [], []
    for place in places_along(entry, meeting, line.bit, bench):
        mouth = place.with_(face.axis, one.finished.side(face))
        mouth = mouth.with_(side.axis, one.finished.side(side) - line.back * side.sign)
        end = place.with_(face.axis, one.finished.middle(face.axis))
        end = end.with_(side.axis, one.finished.side(side))
        on_one.append(_pocket(mouth, end, face, line, clearance, entry))
        spots.append(Spot(one.copy, mouth.floats(), face))
    hardware = ((screw.name, tuple(spots)),) if spots else ()
    tools = (phrase("Long driver bit for the pocket screws"), phrase("Clamp to hold the faces flush"))
    return Expansion(tuple(on_one), (), side.opposite, hardware, meeting.area, tools)


def _face_fits(entry: PocketScrewed, face: Side, meeting: Meeting, bench: Bench) -> bool:
    """Report pockets on an edge, or in a piece that meets with its face."""
    one = meeting.one
    if meeting.side.axis is one.thick:
        bench.findings.error(
            "pocket-face",
            f"{one.copy} meets {meeting.two.copy} with its face; a pocket screw leaves an edge or an end",
            entry.place,
            "bore the pockets in the piece whose edge or end meets",
            part=one.part,
        )
        return False
    if face.axis is one.thick:
        return True
    low, high = Side.of(one.thick, False).word, Side.of(one.thick, True).word
    bench.findings.error(
        "wrong-side",
        f"{face.word} is no face of {one.copy}",
        entry.place_of("face"),
        f"pockets are bored in a face: {low} or {high}",
        part=one.part,
    )
    return False


def _stays_in(
    entry: PocketScrewed, meeting: Meeting, screw: Fastener, line: Slant, face: Side, bench: Bench
) -> bool:
    """Report a pocket that leaves its piece, and a screw that comes out of the other."""
    one, two, side = meeting.one, meeting.two, meeting.side
    angle, radius = math.radians(pocket_screws.ANGLE), float(line.bit) / 2
    assert screw.length is not None
    thickness = one.finished.size(one.thick)
    deepest = float(line.pocket) * math.sin(angle) + radius * math.cos(angle)
    nearest = float(screw.length) / 2 * math.cos(angle) - radius * math.sin(angle)
    usual = pocket_screws.screw_length(thickness)
    remedy = (
        f"for stock of {said(thickness, bench)} a screw of {said(usual, bench)} is usual"
        if usual is not None
        else "such thin stock is better dowelled or glued"
    )
    if deepest > float(thickness - LEAST_BEHIND) or float(line.pocket) <= 0 or nearest <= 0:
        bench.findings.error(
            "pocket-breaks-out",
            f"{one.copy} is {said(thickness, bench)} thick, and half of `{screw.name}` leaves "
            "no length for a pocket"
            if float(line.pocket) <= 0
            else f"the pocket for `{screw.name}` breaks through {one.copy}, {said(thickness, bench)} thick",
            entry.place_of("with_"),
            remedy,
            part=one.part,
        )
        return False
    if float(line.back) + radius / math.sin(angle) >= float(one.finished.size(side.axis)):
        bench.findings.error(
            "pocket-off-part",
            f"the pocket is longer than {one.copy} reaches from {two.copy}",
            entry.place,
            "bore the pockets in the other piece, or join these with dowels",
            part=one.part,
        )
        return False
    return _tip_stays_in(entry, meeting, screw.length / 2, face, remedy, bench)


def _tip_stays_in(
    entry: PocketScrewed, meeting: Meeting, bite: Length, face: Side, remedy: str, bench: Bench
) -> bool:
    """Report a screw whose point comes out of the second piece, ahead or at its far face."""
    two, side = meeting.two, meeting.side
    angle = math.radians(pocket_screws.ANGLE)
    ahead, aside = float(bite) * math.cos(angle), float(bite) * math.sin(angle)
    middle = meeting.one.finished.middle(face.axis)
    room = float((middle - two.finished.side(face.opposite)).mm * face.sign)
    if ahead < float(two.finished.size(side.axis)) and aside < room:
        return True
    bench.findings.error(
        "screw-too-long",
        f"`{entry.with_}` would come out of {two.copy}",
        entry.place_of("with_"),
        remedy,
        part=two.part,
    )
    return False


def _pocket(
    mouth: Point, end: Point, face: Side, line: Slant, clearance: Length, entry: PocketScrewed
) -> Operation:
    """The wide hole from the face, and the narrow one that meets its floor, as seen from the ``end``."""
    deep = to_nanometre(float(line.whole) * math.sin(math.radians(pocket_screws.ANGLE)))
    floor = mouth.at(face.axis) - deep * face.sign
    spans = {axis: Span(mouth.at(axis), mouth.at(axis)) for axis in Axis}
    spans[face.axis] = Span(min(mouth.at(face.axis), floor), max(mouth.at(face.axis), floor))
    across, deeper, up = line.way
    return Operation(
        kind="pocket hole",
        title="Pocket hole",
        side=face,
        cuts=(
            BoreCut(mouth, line.way, line.bit, line.pocket),
            BoreCut(end, (-across, -deeper, -up), clearance, line.whole - line.pocket),
        ),
        features=(
            Feature(
                Form.HOLE,
                face,
                tuple(spans.items()),
                diameter=clearance,
                counterbore=(line.bit, line.pocket),
                angle_degrees=90.0 - pocket_screws.ANGLE,
                way=line.way,
            ),
        ),
        say=Phrase(),
        tools=(phrase("Drill with a stepped bit, ", line.bit, ", and a pocket-hole guide"),),
        cautions=("drill",),
        place=entry.place,
        group=Group.HOLES,
    )


def say(operation: Operation, piece: Piece) -> Phrase:
    """Say the pockets: in which face, how wide, how far along the slant."""
    feature = operation.features[0]
    assert feature.counterbore is not None
    wide, deep = feature.counterbore
    return phrase(
        f"Bore {counted(operation, 'pocket hole')} in the {piece.call(feature.side)} at "
        f"{pocket_screws.ANGLE}° to that face, ",
        wide,
        " across and ",
        deep,
        " long along the slant, and on through the edge with the ",
        feature.diameter or deep,
        " step of the bit.",
    )


KIND = JointKind(
    "pocket-screwed",
    "Pocket-screwed joint",
    PocketScrewed,
    lambda entry: entry.from_,
    lambda entry: entry.into,
    expand,
    phrase("Clamp the faces flush and drive the pocket screws until the joint is tight."),
    claims=False,
    fastens=True,
    glued=False,
    cautions=("screws",),
    says={"pocket hole": say},
    verb="Screw",
    lies=True,
    tight=True,
    headings={"pocket hole": "Drill the {work} in the {pieces}"},
)

"""Joints expanded over every pair of copies that meet: operations, contacts, hardware, glue."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction
from functools import reduce

from plangen.design.frame import Frame
from plangen.design.leaning import UPRIGHT
from plangen.design.meeting import may_touch, touching
from plangen.design.model import Contact, HardwareUse, Joint
from plangen.design.values import in_words, meant
from plangen.expressions import KindEntry, Text
from plangen.findings import Findings, Place, ProjectError
from plangen.joinery.body import Expansion, JointBody, JointKind, Meeting, Moves
from plangen.joinery.joints import JOINTS
from plangen.joinery.operation import Operation
from plangen.joinery.space import Axis, Box, Side, nearest_side, unit
from plangen.units import ZERO, Length, Phrase, phrase

_WOOD_GLUE = "wood glue"
HARDWARE_KEYS = ("with_", "plug", "nut", "washer", "align", "wedge")


@dataclass(frozen=True)
class Ledge:
    """A face that a joint has made: the floor of a rabbet, or where two halves of a lap meet.

    Seen from the piece that a fastener goes through first: ``side`` is its side that lies on the
    face, ``lost`` what the joint has already taken off it there.
    """

    side: Side
    rect: Box
    lost: Length = ZERO


@dataclass(frozen=True)
class Moving:
    """One contact at which a joint lets ``two`` move against ``one``; names as in the joint's own frame."""

    joint: str
    one: str
    two: str
    moves: Moves
    place: Place


@dataclass
class Joined:
    """What all joints together make of the copies."""

    operations: dict[str, list[Operation]] = field(default_factory=dict)  # by copy, in the frame
    joints: list[Joint] = field(default_factory=list)
    claimed: dict[tuple[str, str], tuple[str, Place]] = field(default_factory=dict)
    housings: dict[tuple[str, str], Length] = field(default_factory=dict)
    ledges: dict[tuple[str, str], Ledge] = field(default_factory=dict)
    met: set[frozenset[str]] = field(default_factory=set)
    moves: list[Moving] = field(default_factory=list)


def joint_names(entries: list[KindEntry]) -> list[str]:
    """Give each joint its name: the maker's, else its kind, numbered where that is not enough."""
    names: list[str] = []
    counts: dict[str, int] = {}
    for entry in entries:
        assert isinstance(entry.body, JointBody)
        if entry.body.name is not None:
            names.append(str(entry.body.name))
            continue
        kind = str(entry.kind)
        counts[kind] = counts.get(kind, 0) + 1
        names.append(kind if counts[kind] == 1 else f"{kind} {counts[kind]}")
    return names


def join(frame: Frame, findings: Findings) -> Joined:
    """Expand every joint: those that let one piece into another first, then fastenings on top of them."""
    joined = Joined()
    entries = frame.description.joints
    named = list(zip(joint_names(entries), entries, strict=True))
    made: dict[str, Joint] = {}
    for fastenings in (False, True):
        for name, entry in named:
            kind = JOINTS[str(entry.kind)]
            if kind.claims is fastenings or not _names_known(entry, kind, frame, findings):
                continue
            try:
                joint = _expand(name, entry, kind, frame, joined, findings)
            except ProjectError as error:
                findings.extend(error.findings)
                continue
            if joint is not None:
                made[name] = joint
    joined.joints = [made[name] for name, _ in named if name in made]
    return joined


def _names_known(entry: KindEntry, kind: JointKind, frame: Frame, findings: Findings) -> bool:
    known = True
    for name in (*kind.one(entry.body), *kind.two(entry.body)):
        if str(name) not in frame.named and str(name) not in frame.layout.parts:
            findings.error(
                "undefined-name",
                f"there is no part or copy called `{name}`",
                name.place,
                meant(str(name), frame.named, "name a part, or one of its copies"),
            )
            known = False
    between = getattr(entry.body, "between", None)
    if between is not None and len(between) != 2:
        findings.error(
            "bad-joint",
            f"this joins two, and `between` has {len(between)} name{'s' if len(between) > 1 else ''}",
            entry.body.place_of("between"),
            "write `between: [one, other]`, and a joint for each further pair",
        )
        known = False
    fasteners = tuple(getattr(entry.body, key, None) for key in HARDWARE_KEYS)
    for item in fasteners:
        if isinstance(item, Text) and str(item) not in frame.description.hardware:
            findings.error(
                "undefined-name",
                f"there is no hardware called `{item}`",
                item.place,
                meant(str(item), frame.description.hardware, "add it under `hardware`"),
            )
            known = False
    return known


def _expand(
    name: str, entry: KindEntry, kind: JointKind, frame: Frame, joined: Joined, findings: Findings
) -> Joint | None:
    body = entry.body
    assert isinstance(body, JointBody)
    meetings = _meetings(entry, kind, frame, joined)
    if _both_ways(meetings, name, entry, findings):
        return None
    if not meetings:
        if not _any_failed(entry, kind, frame):
            _nothing_meets(name, entry, kind, frame, findings)
        return None
    if body.contacts is not None and body.contacts != len(meetings):
        listed = ", ".join(f"{m.one.copy} and {m.two.copy}" for m in meetings[:8])
        findings.error(
            "contacts",
            f"`{name}` meets at {len(meetings)} places, not {body.contacts}: {listed}",
            body.place_of("contacts"),
            "correct the number, or place the parts so that they touch",
        )
    bench = frame.bench()
    contacts, area = [], Fraction(0)
    tools: list[Phrase] = []
    first: list[Phrase] = []
    then: list[Phrase] = []
    hardware: dict[str, list[tuple[str, tuple[float, float, float], Side]]] = {}
    for meeting in meetings:
        pair = (meeting.one.copy, meeting.two.copy)
        if kind.claims and not _claim(pair, name, entry, joined, findings):
            continue
        expansion: Expansion = kind.expand(body, meeting, bench)
        for copy, operations in ((pair[0], expansion.on_one), (pair[1], expansion.on_two)):
            joined.operations.setdefault(copy, []).extend(
                replace(operation, joint=name) for operation in operations
            )
        if kind.claims:
            _remember(meeting, expansion, kind, joined)
        joined.met.add(frozenset(pair))
        contacts.append(_contact(meeting, expansion.closes, frame))
        if expansion.moves is not None:
            joined.moves.append(Moving(name, *pair, expansion.moves, entry.place))
        area += expansion.glue_area
        tools.extend(expansion.tools)
        first.extend(expansion.first)
        then.extend(expansion.then)
        for item, spots in expansion.hardware:
            hardware.setdefault(item, []).extend((spot.copy, spot.at, spot.side) for spot in spots)
    glue = _glue(entry, kind, frame, findings)
    uses = tuple(HardwareUse(item, len(spots), name, tuple(spots)) for item, spots in hardware.items())
    return Joint(
        name=name,
        kind=kind.name,
        title=kind.title,
        contacts=tuple(contacts),
        glue=glue,
        glue_area=area if glue else Fraction(0),
        apart=bool(body.apart) or kind.comes_apart,
        hardware=uses,
        say=reduce(
            lambda said, more: said + phrase(" ") + more,
            (*dict.fromkeys(first), kind.say, *dict.fromkeys(then)),
        ),
        cautions=kind.cautions,
        place=entry.place,
        tools=tuple(dict.fromkeys(tools)),
    )


def _contact(meeting: Meeting, closes: Side | None, frame: Frame) -> Contact:
    """The contact in its frame; where the pieces lean, the way it closes is no direction of that."""
    one, two = meeting.one.copy, meeting.two.copy
    stance = frame.stance(one)
    if meeting.slope is None and stance == UPRIGHT:
        return Contact(one, two, meeting.rect, closes)
    way = meeting.slope.way if meeting.slope is not None else unit(closes) if closes is not None else None
    turned = stance.direction(way) if way is not None else None
    face = stance.bounds(meeting.rect) if stance != UPRIGHT else meeting.rect
    return Contact(one, two, face, nearest_side(turned) if turned is not None else None, turned)


def _meetings(entry: KindEntry, kind: JointKind, frame: Frame, joined: Joined) -> list[Meeting]:
    """The contacts, with what other joints have already done to them where this one fastens."""
    found = frame.meetings_of(entry, finished=True)
    if kind.claims:
        return found
    for pair in frame.pairs(entry, kind):
        ledge = joined.ledges.get(pair)
        if ledge is not None and ledge.lost:
            one, two = (frame.piece(copy) for copy in pair)
            found.append(Meeting(one, two, ledge.side, ledge.rect, ledge.lost, ledge=True))
    meetings = []
    for meeting in found:
        pair = (meeting.one.copy, meeting.two.copy)
        ledge = joined.ledges.get(pair)
        if meeting.ledge:
            meetings.append(meeting)
        elif ledge is not None:
            meetings.append(replace(meeting, side=ledge.side, rect=ledge.rect, ledge=True))
        else:
            meetings.append(replace(meeting, housing=joined.housings.get(pair, ZERO)))
    return meetings


def _both_ways(meetings: list[Meeting], name: str, entry: KindEntry, findings: Findings) -> bool:
    """Report two pieces of which each should take the cut for the other."""
    pairs = [(meeting.one.copy, meeting.two.copy) for meeting in meetings]
    for one, two in pairs:
        if (two, one) in pairs:
            findings.error(
                "both-roles",
                f"`{name}` has {one} and {two} each take the cut for the other",
                entry.place,
                "name a piece on one side only, or name the single copies",
            )
            return True
    return False


def _claim(pair: tuple[str, str], name: str, entry: KindEntry, joined: Joined, findings: Findings) -> bool:
    for key in (pair, (pair[1], pair[0])):
        if key in joined.claimed:
            other, place = joined.claimed[key]
            findings.error(
                "contact-claimed",
                f"`{name}` and `{other}` both join {pair[0]} and {pair[1]}",
                entry.place,
                "keep one of the two; screws may come on top of it",
                also=((place, f"`{other}` is here"),),
            )
            return False
    joined.claimed[pair] = (name, entry.place)
    return True


def _remember(meeting: Meeting, expansion: Expansion, kind: JointKind, joined: Joined) -> None:
    """Keep what a later fastening has to know: how deep the piece is let in, or the face it lies on."""
    pair = (meeting.one.copy, meeting.two.copy)
    for operation in expansion.on_one:
        feature = operation.features[0]
        if operation.kind == "rabbet":
            opening = feature.datum[0]
            span = feature.span(opening.axis)
            rect = meeting.two.finished.overlap(meeting.one.finished)
            rect = _flat(rect, opening, span.low if opening.high else span.high)
            joined.ledges[(pair[1], pair[0])] = Ledge(opening.opposite, rect)
        if feature.depth is not None and kind.adds:
            joined.housings[pair] = feature.depth
    if expansion.on_one and expansion.on_one[0].kind == "half-lap":
        for order, operation in ((pair, expansion.on_one[0]), (pair[::-1], expansion.on_two[0])):
            feature = operation.features[0]
            assert feature.depth is not None
            span = feature.span(operation.side.axis)
            plane = span.low if operation.side.high else span.high
            one, two = order
            joined.ledges[one, two] = Ledge(
                operation.side, _flat(meeting.rect, operation.side, plane), feature.depth
            )


def _flat(box: Box, side: Side, at: Length) -> Box:
    return box.with_side(side, at).with_side(side.opposite, at)


def _glue(entry: KindEntry, kind: JointKind, frame: Frame, findings: Findings) -> str | None:
    body = entry.body
    assert isinstance(body, JointBody)
    known: Mapping[str, object] = frame.description.shop.glue
    if body.glue is None:
        if not kind.glued or body.apart:
            return None
        return next(iter(known), _WOOD_GLUE)
    if str(body.glue) == "none":
        return None
    if str(body.glue) not in known and str(body.glue) != _WOOD_GLUE:
        findings.error(
            "unknown-glue",
            f"`{body.glue}` is not listed in the shop",
            body.glue.place,
            f"add it under `shop`: `glue: {{{body.glue}: {{open time: 10}}}}`",
        )
    if body.apart:
        findings.error(
            "glued-apart",
            "a joint that comes apart is never glued",
            body.place_of("glue"),
            "write `glue: none`",
        )
        return None
    return str(body.glue)


def _any_failed(entry: KindEntry, kind: JointKind, frame: Frame) -> bool:
    return any(not frame.members((name,)) for name in (*kind.one(entry.body), *kind.two(entry.body)))


def _nothing_meets(name: str, entry: KindEntry, kind: JointKind, frame: Frame, findings: Findings) -> None:
    """Say how near the nearest pair comes."""
    nearest: tuple[Length, str, str, str] | None = None
    for one in frame.members(kind.one(entry.body)):
        for two in frame.members(kind.two(entry.body)):
            if one == two:
                continue
            gap, word = _gap(frame.bounds(one), frame.bounds(two))
            if nearest is None or gap < nearest[0]:
                nearest = (gap, word, one, two)
    if nearest is None:
        message, remedy = "joins a piece with itself", "name two different parts"
    else:
        message, remedy = _how_far(*nearest, entry, kind, frame)
    findings.error("nothing-meets", f"`{name}`: {message}", entry.place, remedy)


def _how_far(
    gap: Length, word: str, one: str, two: str, entry: KindEntry, kind: JointKind, frame: Frame
) -> tuple[str, str]:
    """Say why two pieces do not meet, and what to do."""
    units = frame.description.project.units
    if frame.leans(one) or frame.leans(two):
        if kind.slopes:
            remedy = "let the middle line of the one end on a face of the other"
        else:
            remedy = "a leaning piece is joined by a round tenon, where its middle line ends on a face"
        return f"{one} and {two} lean against each other and do not meet", remedy
    if kind.overlaps:
        remedy = "this joint is cut where two parts take the same place: let each run through the other"
        return "no two of these parts overlap", remedy
    apart = f"the nearest, {one} and {two}, are {in_words(gap, units)} apart {word}"
    if kind.clearance is not None:
        between = in_words(kind.clearance(entry.body, frame.bench()), units)
        remedy = f"place them {between} apart, face to face"
        return f"{apart}; this joint wants {between} between them", remedy
    remedy = "pin the shoulder of one to the side of the other; the joint adds what enters"
    if not gap:
        return f"{one} and {two} do not touch face to face: they overlap, or meet at an edge only", remedy
    return f"none of these parts touch; {apart}", remedy


def _gap(one: Box, two: Box) -> tuple[Length, str]:
    gaps = [
        (max(two.low.at(axis) - one.high.at(axis), one.low.at(axis) - two.high.at(axis)), axis.word)
        for axis in Axis
    ]
    gap, word = max(gaps, key=lambda item: item[0].mm)
    return max(gap, ZERO), word


def warn_of_loose_contacts(frame: Frame, joined: Joined, findings: Findings) -> None:
    """Warn once for each pair of parts that touch with no joint between them."""
    said: set[tuple[str, str]] = set()
    names = [name for name in frame.layout.pieces if not frame.leans(name)]
    boxes = [frame.shoulders(name) for name in names]
    for first, second in may_touch(boxes):
        one, two = names[first], names[second]
        holders = {name.partition(".")[0] for name in (one, two) if "." in name}
        if (
            frozenset((one, two)) in joined.met
            or (len(holders) == 1 and "." in one and "." in two)  # told in its own frame
            or touching(boxes[first], boxes[second]) is None
        ):
            continue
        parts = (frame.copied(one).part, frame.copied(two).part)
        if parts in said:
            continue
        said.add(parts)
        findings.warning(
            "loose-contact",
            f"{one} and {two} touch, and no joint holds them",
            frame.copied(two).place,
            "add a joint, or `rests: {between: […]}` if they only rest on each other",
            part=parts[1],
        )

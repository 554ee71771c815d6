"""Bolts through one piece into another: how far they reach, and what holds them there."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from plangen.expressions import LengthExpr, Name, SideWord
from plangen.handbook import bolts
from plangen.joinery.body import Expansion, Meeting, Spot, metric
from plangen.joinery.bolt_holes import drilled
from plangen.joinery.fastening import Fastening, said, size_of
from plangen.joinery.fields import resolve_face
from plangen.joinery.operation import Operation
from plangen.joinery.piece import Bench, Fastener
from plangen.joinery.slotted import slot_length, slotted_hole, travel
from plangen.joinery.space import Point, Side
from plangen.units import ZERO, Length, millimetres, phrase

# Wood left under a bolt's washer, and room past the tip of a bolt: common practice, no source.
LEAST_UNDER_WASHER: Final = millimetres(6)
PAST_TIP: Final = millimetres(3)
HOLDERS: Final = ("barrel nut", "threaded insert", "t-nut", "nut")


class Bolting(Fastening):
    """Keys of joints that are bolted.

    ``with`` is the bolt, ``nut`` what it is screwed into: a row whose kind is nut, barrel nut,
    threaded insert or T-nut. ``sunk`` counterbores the head so deep. ``face`` is where a barrel nut
    goes into the second piece.
    """

    with_: Name
    nut: Name
    washer: Name | None = None
    sunk: LengthExpr | None = None
    face: SideWord | None = None


@dataclass(frozen=True)
class Stack:
    """What a bolt goes through: ``wood`` under its head, then the ``room`` in the second piece."""

    bolt: Fastener
    row: bolts.Bolt
    nut: Fastener
    holder: str
    length: Length
    hole: Length
    sunk: Length
    washer: Length  # thickness, zero for none
    wood: Length
    room: Length

    @property
    def bite(self) -> Length:
        """How far the bolt reaches into the second piece."""
        return self.length - self.washer - self.wood


def stack_of(entry: Bolting, meeting: Meeting, bench: Bench) -> Stack | None:
    """Read the hardware and what it goes through; None, with a finding, where it does not go together."""
    bolt, nut = bench.fastener(str(entry.with_)), _named(entry.nut, "nut", entry, bench)
    washer = _named(entry.washer, "washer", entry, bench) if entry.washer is not None else None
    if bolt is None or nut is None or (entry.washer is not None and washer is None):
        return None
    row = bolts.find_bolt(bolt.diameter) if bolt.diameter is not None else None
    if row is None or bolt.length is None:
        bench.findings.error(
            "bolt-size",
            f"`{bolt.name}` needs a length and the diameter of a bolt that is made",
            entry.place_of("with_"),
            "for example `diameter: 1/4in, length: 3in`; 1/4, 5/16, 3/8 and 1/2 in and M4 to M12 are known",
        )
        return None
    holder = next((word for word in HOLDERS if nut.kind.lower().endswith(word)), None)
    if holder is None:
        bench.findings.error(
            "no-nut",
            f"`{nut.name}` is of the kind `{nut.kind}`, and no bolt is screwed into that",
            entry.place_of("nut"),
            f"name a {', a '.join(HOLDERS[:-1])} or a nut",
        )
        return None
    one, two, side = meeting.one, meeting.two, meeting.side
    sunk = entry.sunk.length(bench.scope) if entry.sunk is not None else ZERO
    thickness = one.finished.size(side.axis) - meeting.housing
    if sunk < ZERO or (sunk and thickness - sunk < LEAST_UNDER_WASHER):
        bench.findings.error(
            "counterbore-too-deep",
            f"the counterbore leaves {said(thickness - sunk, bench)} of {one.copy} under the bolt's head"
            if sunk > ZERO
            else "a head is not sunk below zero",
            entry.place_of("sunk"),
            f"leave {said(LEAST_UNDER_WASHER, bench)} or more",
            part=one.part,
        )
        return None
    plate = (size_of(washer, "thickness") or row.washer_thickness) if washer is not None else ZERO
    room = (two.finished.side(side) - two.finished.side(side.opposite)) * side.sign
    hole = bolts.drilled_hole(row)
    stack = Stack(bolt, row, nut, holder, bolt.length, hole, sunk, plate, thickness - sunk, room)
    return stack if _reaches(stack, entry, meeting, bench) else None


def _named(name: Name | None, key: str, entry: Bolting, bench: Bench) -> Fastener | None:
    found = bench.fastener(str(name))
    if found is None:
        bench.findings.error(
            "undefined-name",
            f"there is no hardware called `{name}`",
            entry.place_of(key),
            "add it under `hardware`",
        )
    return found


def _reaches(stack: Stack, entry: Bolting, meeting: Meeting, bench: Bench) -> bool:
    """Report a bolt too short for its stack, or so long that it comes out or jams."""
    needs = needed_bite(stack)
    if stack.bite < needs:
        bench.findings.error(
            "bolt-too-short",
            f"`{stack.bolt.name}` is {said(stack.length, bench)} long, and has to reach through "
            f"{said(stack.wood + stack.washer + needs, bench)} to hold in `{stack.nut.name}`",
            entry.place_of("with_"),
            "take a longer bolt, or sink its head deeper",
            part=meeting.one.part,
        )
        return False
    through = stack.holder in ("nut", "t-nut")
    if not through and stack.bite >= stack.room:
        bench.findings.error(
            "bolt-too-long",
            f"`{stack.bolt.name}` would come out of {meeting.two.copy}",
            entry.place_of("with_"),
            "take a shorter bolt",
            part=meeting.two.part,
        )
        return False
    return True


def needed_bite(stack: Stack) -> Length:
    """How far a bolt must reach into the second piece to hold with a length of thread of its diameter.

    A nut stands behind the piece, and its whole height is wanted; a T-nut stands in the far face, an
    insert in the near one, and a barrel nut is filled. Common practice, no source.
    """
    if stack.holder == "nut":
        return stack.room + stack.row.nut
    if stack.holder == "t-nut":
        depth = size_of(stack.nut, "depth") or size_of(stack.nut, "length") or stack.row.diameter
        return stack.room - depth + min(depth, stack.row.diameter)
    if stack.holder == "threaded insert":
        return stack.row.diameter
    return size_of(stack.nut, "diameter") or stack.row.diameter * 2


def bolted_at(
    entry: Bolting,
    stack: Stack,
    places: Sequence[Point],
    meeting: Meeting,
    bench: Bench,
    *,
    slotted: bool = False,
) -> Expansion:
    """Bore both pieces at places in the touching face, for the bolts and for what holds them.

    ``slotted`` makes slots of the holes in the first piece, as long as the second moves there.
    """
    one, side = meeting.one, meeting.side
    held = _holder(entry, stack, meeting, bench)
    if held is None:
        return Expansion()
    on_one, on_two, spots, nuts = [], [], [], []
    for place in places:
        head = place.with_(side.axis, one.finished.side(side.opposite))
        moves = travel(meeting, place, bench) if slotted else ZERO
        on_one.append(
            _slot(head, moves, stack, meeting, entry, bench)
            if moves
            else _clearance(head, stack, meeting, entry, bench)
        )
        for operation, at, enters in held.at(place):
            on_two.append(operation)
            if at is not None:
                nuts.append(Spot(meeting.two.copy, at.floats(), enters))
        spots.append(Spot(one.copy, head.floats(), side.opposite))
    found = [(stack.bolt.name, tuple(spots)), (stack.nut.name, tuple(nuts))]
    if entry.washer is not None:
        found.append((str(entry.washer), tuple(spots)))
    return Expansion(
        tuple(on_one),
        tuple(on_two),
        side.opposite,
        tuple(found) if spots else (),
        meeting.area,
        (phrase("Wrench or hex key for the bolts"),),
    )


def _clearance(head: Point, stack: Stack, meeting: Meeting, entry: Bolting, bench: Bench) -> Operation:
    outer, thickness = meeting.side.opposite, meeting.one.finished.size(meeting.side.axis)
    wide = bolts.counterbore(stack.row, metric=metric(bench)) if stack.sunk else None
    counterbore = (wide, stack.sunk) if wide is not None else None
    return drilled(
        "bolt hole",
        "Bolt hole",
        head,
        outer,
        stack.hole,
        thickness,
        entry,
        through=True,
        counterbore=counterbore,
    )


def _slot(
    head: Point, moves: Length, stack: Stack, meeting: Meeting, entry: Bolting, bench: Bench
) -> Operation:
    return slotted_hole(
        head,
        meeting.side.opposite,
        stack.hole,
        slot_length(stack.hole, moves, bench),
        meeting.two.wide,
        meeting.one.finished.size(meeting.side.axis),
        stack.sunk,
        entry.place,
        bolts.counterbore(stack.row, metric=metric(bench)) if stack.sunk else None,
    )


@dataclass(frozen=True)
class Held:
    """How the second piece is bored: ``drilled`` for the bolt, and for what holds it."""

    entry: Bolting
    stack: Stack
    meeting: Meeting
    face: Side | None = None  # of a barrel nut
    centre: Length = ZERO  # of a barrel nut, from the meeting
    tip: Length = ZERO  # how deep the bolt's own hole is, with a barrel nut
    bore: Length = ZERO
    depth: Length = ZERO

    def at(self, place: Point) -> list[tuple[Operation, Point | None, Side]]:
        """The operations at one place; beside the one that takes the holder, where that goes in."""
        two, side, stack, entry = self.meeting.two, self.meeting.side, self.stack, self.entry
        near = place.with_(side.axis, two.finished.side(side.opposite))
        far = place.with_(side.axis, two.finished.side(side))
        if stack.holder == "threaded insert":
            made = drilled("insert hole", "Insert hole", near, side.opposite, self.bore, self.depth, entry)
            return [(made, near, side.opposite)]
        if stack.holder == "nut":
            made = drilled(
                "bolt hole", "Bolt hole", near, side.opposite, stack.hole, stack.room, entry, through=True
            )
            return [(made, far, side)]
        if stack.holder == "t-nut":
            made = drilled(
                "T-nut hole",
                "T-nut hole",
                far,
                side,
                stack.hole,
                stack.room,
                entry,
                through=True,
                counterbore=(self.bore, self.depth) if self.bore > stack.hole else None,
            )
            return [(made, far, side)]
        assert self.face is not None
        cross = near.moved(side.axis, self.centre * side.sign)
        cross = cross.with_(self.face.axis, two.finished.side(self.face))
        bolt = drilled("bolt hole", "Bolt hole", near, side.opposite, stack.hole, self.tip, entry)
        nut = drilled("barrel nut hole", "Barrel nut hole", cross, self.face, self.bore, self.depth, entry)
        return [(bolt, None, side), (nut, cross, self.face)]


def _holder(entry: Bolting, stack: Stack, meeting: Meeting, bench: Bench) -> Held | None:
    """Work out the holes for what holds the bolt; None, with a finding, where they have no room."""
    nut, two, side = stack.nut, meeting.two, meeting.side
    if stack.holder == "nut":
        return Held(entry, stack, meeting)
    if stack.holder == "barrel nut":
        return _barrel(entry, stack, meeting, bench)
    bore = size_of(nut, "bore")
    depth = size_of(nut, "depth") or size_of(nut, "length")
    if bore is None or depth is None:
        bench.findings.error(
            "nut-size",
            f"`{nut.name}` needs the `bore` and the `depth` of its hole",
            entry.place_of("nut"),
            "take them from its packet; check your insert",
        )
        return None
    if depth >= two.finished.size(side.axis):
        bench.findings.error(
            "insert-too-deep",
            f"the hole for `{nut.name}` is {said(depth, bench)} deep, and {two.copy} only "
            f"{said(two.finished.size(side.axis), bench)}",
            entry.place_of("nut"),
            "take a shorter one, or a thicker piece",
            part=two.part,
        )
        return None
    if stack.holder == "threaded insert" and stack.bite > depth:
        bench.findings.error(
            "bolt-too-long",
            f"`{stack.bolt.name}` reaches {said(stack.bite, bench)} into the hole for `{nut.name}`, which "
            f"is {said(depth, bench)} deep",
            entry.place_of("with_"),
            "take a shorter bolt, or a washer under its head",
            part=two.part,
        )
        return None
    return Held(entry, stack, meeting, bore=bore, depth=depth)


def _barrel(entry: Bolting, stack: Stack, meeting: Meeting, bench: Bench) -> Held | None:
    """A barrel nut lies across the bolt, filled by it: its centre half its diameter short of the tip."""
    nut, two, side = stack.nut, meeting.two, meeting.side
    diameter, length = size_of(nut, "diameter"), size_of(nut, "length")
    if diameter is None or length is None:
        bench.findings.error(
            "nut-size",
            f"`{nut.name}` needs a `diameter` and a `length`",
            entry.place_of("nut"),
            "for example `diameter: 10mm, length: 14mm`",
        )
        return None
    if entry.face is None:
        bench.findings.error(
            "missing-key",
            "nothing says in which face the barrel nuts go",
            entry.place,
            f"add `face: …`, a side of {two.part} where they hide",
            part=two.part,
        )
        return None
    face = resolve_face(entry.face, two, bench, entry.place_of("face"))
    if face is None:
        return None
    if face.axis is side.axis:
        bench.findings.error(
            "wrong-side",
            f"a barrel nut lies across its bolt, and {face.word} lies along it",
            entry.place_of("face"),
            "name a face beside the joint",
            part=two.part,
        )
        return None
    # On a mark of the tape, and never so far in that the bolt would not fill it.
    centre = bench.step * ((stack.bite - diameter / 2).mm // bench.step.mm)
    deep = (two.finished.side(face) - meeting.rect.middle(face.axis)) * face.sign + length / 2
    across = two.finished.size(face.axis)
    if centre + diameter / 2 >= stack.room or centre <= diameter or deep >= across or deep <= length / 2:
        bench.findings.error(
            "barrel-nut-off-part",
            f"the hole for `{nut.name}` lies {said(centre, bench)} from the joint and is {said(deep, bench)} "
            f"deep, where {two.copy} has {said(stack.room, bench)} and {said(across, bench)}",
            entry.place_of("nut"),
            "take a bolt of another length, or a shorter barrel nut",
            part=two.part,
        )
        return None
    tip = bench.round_up(stack.bite + PAST_TIP)
    return Held(entry, stack, meeting, face, centre, tip, size_of(nut, "bore") or diameter, deep)

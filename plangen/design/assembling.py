"""Assemblies unfolded: the parts of all their copies, their joints, and which of them are built alike."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from plangen.design.alike import Worked, group_alike, joined_alike
from plangen.design.bounds import bounding
from plangen.design.fits import Fitted
from plangen.design.frame import Frame
from plangen.design.joining import Joined
from plangen.design.leaning import UPRIGHT
from plangen.design.model import Assembly, AssemblyCopy, Contact, HardwareUse, Joint, Part
from plangen.design.records import Group
from plangen.design.standing import Level, Placement
from plangen.findings import Findings
from plangen.joinery.operation import Operation
from plangen.joinery.space import Box, Direction, Side, nearest_side, unit
from plangen.joinery.transform import Transform, after, transform_operation, turned

OwnWork = Callable[[str, str, Frame], tuple[Operation, ...]]  # part, its first copy, frame


@dataclass(frozen=True)
class Whole:
    """The project unfolded: every placement, and what joints make of each frame."""

    places: tuple[Placement, ...]
    joined: Mapping[Frame, Joined]

    @property
    def frames(self) -> dict[Frame, tuple[Placement, ...]]:
        """Every frame with the places where it stands; the project's own first."""
        found: dict[Frame, tuple[Placement, ...]] = {}
        for place in self.places:
            found[place.frame] = (*found.get(place.frame, ()), place)
        return found

    def label(self, frame: Frame) -> str:
        """What a frame's names begin with: nothing, ``drawer``, or ``top drawer`` where drawers differ."""
        first = self.frames[frame][0]
        others = {place.frame for place in self.places if place.kind == first.kind}
        return ".".join(first.kind) if len(others) == 1 else first.name

    def token(self, frame: Frame, name: str) -> str:
        """What a joint is called in all assemblies of a kind, so that their pieces can be compared."""
        return ".".join((*self.frames[frame][0].kind, name))

    def called(self, frame: Frame, name: str) -> str:
        """What a part, joint or fit of a frame is called in the project."""
        label = self.label(frame)
        return f"{label}.{name}" if label else name


def group_parts(whole: Whole, own_work: OwnWork, findings: Findings) -> list[Group]:
    """For each part the pieces that its copies are, with all that is worked on them. Raises ProjectError."""
    groups: dict[tuple[str, ...], list[Group]] = {}
    for frame, places in whole.frames.items():
        for part in frame.layout.parts:
            copies = [name for name in frame.copies if frame.copies[name].part == part]
            if not copies:
                continue
            name = whole.called(frame, part)
            worked = [_worked(place, copy, name, whole) for place in places for copy in copies]
            home = places[0]
            own = tuple(
                transform_operation(operation, home.by) for operation in own_work(part, copies[0], frame)
            )
            entry = frame.copied(copies[0]).entry
            sames = group_alike(
                name, worked, own, findings, hands=entry.alike is not False, may_differ=len(places) > 1
            )
            variant = home.path[-1] if whole.label(frame) != ".".join(home.kind) else ""
            group = Group(name, part, frame, sames, copies[0], home.by, variant)
            groups.setdefault((*home.kind, part), []).append(group)
    return [group for kind, same in groups.items() for group in _merged(".".join(kind), same)]


def _merged(name: str, groups: list[Group]) -> list[Group]:
    """Take together a part that comes out the same in assemblies that are given different sizes."""
    first, *others = groups
    sames = list(first.sames)
    for other in others:
        if len(other.sames) != len(sames):
            return groups
        for index, same in enumerate(other.sames):
            joined = joined_alike(sames[index], same)
            if joined is None:
                return groups
            sames[index] = joined
    return [replace(first, name=name, sames=tuple(sames), variant="")] if others else groups


def _worked(place: Placement, copy: str, part: str, whole: Whole) -> Worked:
    operations: list[Operation] = []
    for level in place.levels(copy):
        operations += _cut_by_joints(level, whole)
    slant = place.frame.slant(copy)
    if slant is not None:
        operations += [transform_operation(operation, place.by) for operation in slant.cuts]
    way = after(place.by.turn, place.frame.copied(copy).way)
    return Worked(place.piece(copy, part), tuple(operations), way)


def _cut_by_joints(level: Level, whole: Whole) -> list[Operation]:
    found = whole.joined[level.frame].operations.get(level.name, [])
    return [
        replace(
            transform_operation(operation, level.by),
            joint=whole.token(level.frame, operation.joint) if operation.joint is not None else None,
        )
        for operation in found
    ]


def spread_fits(whole: Whole, frame: Frame, fits: Sequence[Fitted]) -> list[Fitted]:
    """Give a frame's fits by the names they have in the project, counted for every copy of the assembly."""
    times = len(whole.frames[frame])
    if not whole.label(frame):
        return list(fits)
    found = []
    for fit in fits:
        on = frame.copied(fit.on).part if fit.on in frame.copies else fit.on
        each = 1 if fit.outside else times
        number = fit.entry.number * each if fit.entry.number is not None else None
        entry = fit.entry.model_copy(update={"number": number})
        found.append(
            replace(fit, name=whole.called(frame, fit.name), on=whole.called(frame, on), entry=entry)
        )
    return found


@dataclass(frozen=True)
class Built:
    """Parts that know their assembly, the assemblies, and all joints by their names in the project."""

    parts: tuple[Part, ...]
    assemblies: tuple[Assembly, ...]
    joints: tuple[Joint, ...]


def build_assemblies(whole: Whole, parts: tuple[Part, ...]) -> Built:
    """Tell placed assemblies of equal pieces together, and give each kind of them its parts and joints."""
    part_of = {copy.name: part for part in parts for copy in part.copies}
    kinds: list[_Kind] = []
    for frame, places in whole.frames.items():
        if not places[0].path:
            continue
        alike: dict[tuple[str, ...], list[Placement]] = {}
        for place in places:
            # A mirror image of the same pieces is the same thing to build, its left piece on the right.
            made_of = sorted(part_of[place.called(piece)].key for piece in frame.layout.pieces)
            alike.setdefault(tuple(made_of), []).append(place)
        for members in alike.values():
            key = whole.label(frame) if len(alike) == 1 else members[0].name
            kinds.append(_Kind(key, frame, tuple(members)))
    key_of = {place.path: kind.key for kind in kinds for place in kind.places}
    assemblies = tuple(_assembly(kind, whole, key_of, part_of) for kind in reversed(kinds))
    joints = [
        joint
        for kind in reversed(kinds)
        for joint in whole.joined[kind.frame].joints
        for joint in (_unfolded(joint, f"{kind.key}.{joint.name}", kind.places, kind.key),)
    ]
    project = whole.places[0]
    joints += [_unfolded(joint, joint.name, (project,), None) for joint in whole.joined[project.frame].joints]
    renamed = _joint_names(whole, key_of)
    return Built(tuple(_of_assembly(part, key_of, renamed) for part in parts), assemblies, tuple(joints))


@dataclass(frozen=True)
class _Kind:
    """Placed assemblies with equal pieces."""

    key: str
    frame: Frame
    places: tuple[Placement, ...]


def _assembly(
    kind: _Kind, whole: Whole, key_of: Mapping[tuple[str, ...], str], part_of: Mapping[str, Part]
) -> Assembly:
    frame, first = kind.frame, kind.places[0]
    name = first.kind[-1]
    around = first.around[0].frame
    entry = around.copied(first.path[-1]).nested
    assert entry is not None
    title = str(entry.title) if entry.title is not None else name[:1].upper() + name[1:]
    order = [part_of[first.called(piece)].key for piece in frame.layout.pieces]
    copies = tuple(
        AssemblyCopy(
            place.name,
            _members(place, order, part_of),
            _bounds([part_of[place.called(piece)] for piece in frame.layout.pieces], place),
            around.copied(place.path[-1]).place,
        )
        for place in kind.places
    )
    direct = dict.fromkeys(part_of[first.called(copy)].key for copy in frame.copies)
    return Assembly(
        key=kind.key,
        name=".".join(first.kind),
        title=title if kind.key == ".".join(first.kind) else f"{title}, {first.path[-1]}",
        copies=copies,
        parts=tuple(direct),
        joints=tuple(f"{kind.key}.{joint.name}" for joint in whole.joined[frame].joints),
        within=key_of.get(first.path[:-1]),
        place=entry.place,
    )


def _members(place: Placement, order: Sequence[str], part_of: Mapping[str, Part]) -> tuple[str, ...]:
    """The pieces of a placed assembly, each where the first copy has one of its part."""
    of_part: dict[str, list[str]] = {}
    for piece in place.frame.layout.pieces:
        of_part.setdefault(part_of[place.called(piece)].key, []).append(place.called(piece))
    return tuple(of_part[key].pop(0) for key in order)


def _bounds(parts: Sequence[Part], place: Placement) -> Box:
    boxes = [copy.box for part in parts for copy in part.copies if copy.path[: len(place.path)] == place.path]
    return bounding(boxes)


def _unfolded(joint: Joint, name: str, places: Sequence[Placement], assembly: str | None) -> Joint:
    """A joint of a frame at every place where the frame stands."""
    contacts = tuple(_contact(contact, place) for place in places for contact in joint.contacts)
    hardware = tuple(
        HardwareUse(
            use.item,
            use.number * len(places),
            name,
            tuple(_spot(spot, place) for place in places for spot in use.spots),
        )
        for use in joint.hardware
    )
    return replace(
        joint,
        name=name,
        contacts=contacts,
        glue_area=joint.glue_area * len(places),
        hardware=hardware,
        assembly=assembly,
    )


def _contact(contact: Contact, place: Placement) -> Contact:
    face = place.by.box(contact.face)
    closes = place.by.side(contact.closes) if contact.closes is not None else None
    way = turned(contact.way, place.by.turn) if contact.way is not None else None
    if place.stance != UPRIGHT:
        face = place.stance.bounds(face)
        straight = way or (unit(closes) if closes is not None else None)
        way = place.stance.direction(straight) if straight is not None else None
        closes = nearest_side(way) if way is not None else None
    return Contact(place.called(contact.fixed), place.called(contact.moving), face, closes, way)


Spot = tuple[str, Direction, Side]


def _spot(spot: Spot, place: Placement) -> Spot:
    copy, at, side = spot
    moved = carried(at, place.by)
    frame = place.frame
    side = place.by.side(side)
    stance = place.leaning(copy) if frame.leans(copy) else place.stance
    if stance != UPRIGHT:
        moved, side = stance.point(moved), nearest_side(stance.direction(unit(side)))
    return place.called(copy), moved, side


def carried(at: Direction, by: Transform) -> Direction:
    """Carry a point given in millimetres."""
    x, y, z = turned(at, by.turn)
    across, deep, up = by.move.floats()
    return x + across, y + deep, z + up


def _joint_names(
    whole: Whole, key_of: Mapping[tuple[str, ...], str]
) -> dict[tuple[str, tuple[str, ...]], str]:
    """The project's name of a joint, by the name it has for all kinds of its assembly and by a placement."""
    return {
        (whole.token(frame, joint.name), place.path): f"{key_of[place.path]}.{joint.name}"
        for frame, places in whole.frames.items()
        for joint in whole.joined[frame].joints
        for place in places
        if place.path
    }


def _of_assembly(
    part: Part, key_of: Mapping[tuple[str, ...], str], renamed: Mapping[tuple[str, tuple[str, ...]], str]
) -> Part:
    path = part.copies[0].path
    around = [path[:length] for length in range(1, len(path) + 1)]

    def joint_of(operation: Operation) -> str | None:
        name = operation.joint
        found = [renamed[name, at] for at in around if name is not None and (name, at) in renamed]
        return found[0] if found else name

    return replace(
        part,
        assembly=key_of.get(path),
        operations=tuple(replace(operation, joint=joint_of(operation)) for operation in part.operations),
    )

"""Parts of a design as a picture needs them: an assembly by itself, pieces upright, another position."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from plangen.design.model import Copy, Design, Fit, HardwareUse, Joint, Part, Position
from plangen.joinery.space import Stance
from plangen.takeoff.naming import bodies_of


def units(design: Design) -> dict[str, str]:
    """Give for each copy what it moves with once all is built: its outermost assembly, or itself."""
    return {name: bodies[0].copy.name if bodies else name for name, bodies in bodies_of(design).items()}


def members(of: Mapping[str, str]) -> dict[str, tuple[str, ...]]:
    """Give the copies of each unit, in order."""
    found: dict[str, list[str]] = {}
    for copy, unit in of.items():
        found.setdefault(unit, []).append(copy)
    return {unit: tuple(copies) for unit, copies in found.items()}


def between_units(joints: Iterable[Joint], of: Mapping[str, str]) -> tuple[Joint, ...]:
    """Give the joints that bring units together; those closed inside one unit are left out."""
    return tuple(
        joint
        for joint in joints
        if any(of[contact.fixed] != of[contact.moving] for contact in joint.contacts)
    )


def inside(design: Design, key: str) -> Design:
    """Give the first copy of an assembly as a design of its own; assemblies in it stay assemblies."""
    assembly = next(one for one in design.assemblies if one.key == key)
    here = frozenset(assembly.copies[0].members)
    inner = tuple(
        replace(
            one,
            copies=tuple(copy for copy in one.copies if here.issuperset(copy.members)),
            within=None if one.within == key else one.within,
        )
        for one in design.assemblies
        if one.key != key and any(here.issuperset(copy.members) for copy in one.copies)
    )
    keys = frozenset(one.key for one in inner)
    return replace(
        design,
        project=replace(design.project, title=assembly.title),
        parts=tuple(part for part in (_of(part, here, keys) for part in design.parts) if part.copies),
        joints=tuple(joint for joint in (_joined(joint, here) for joint in design.joints) if joint.contacts),
        fits=tuple(fit for fit in (_fitted(fit, here) for fit in design.fits) if fit.copies),
        groups={},
        overall=assembly.copies[0].box,
        assemblies=inner,
        motions=(),
        positions=(),
    )


def _of(part: Part, here: frozenset[str], inner: frozenset[str]) -> Part:
    within = part.assembly if part.assembly in inner else None
    return replace(part, assembly=within, copies=tuple(copy for copy in part.copies if copy.name in here))


def _joined(joint: Joint, here: frozenset[str]) -> Joint:
    contacts = tuple(c for c in joint.contacts if c.fixed in here and c.moving in here)
    return replace(joint, contacts=contacts, hardware=tuple(_used(use, here) for use in joint.hardware))


def _fitted(fit: Fit, here: frozenset[str]) -> Fit:
    copies = tuple(copy for copy in fit.copies if copy in here)
    return replace(fit, copies=copies, hardware=_used(fit.hardware, here))


def _used(use: HardwareUse, here: frozenset[str]) -> HardwareUse:
    spots = tuple(spot for spot in use.spots if spot[0] in here)
    return replace(use, spots=spots, number=len(spots))


def upright(design: Design) -> Design:
    """Give the design with every piece as it is worked at the bench: none leans."""
    if all(copy.stance is None for part in design.parts for copy in part.copies):
        return design
    return _stood(design, dict.fromkeys(design.copies))


def standing(design: Design, position: Position) -> Design:
    """Give the design as it stands in a position."""
    stances = {name: copy.stance for name, copy in design.copies.items()} | dict(position.stances)
    return replace(_stood(design, stances), overall=position.overall)


def _stood(design: Design, stances: Mapping[str, Stance | None]) -> Design:
    def stood(part: Part, copy: Copy) -> Copy:
        stance = stances[copy.name]
        if stance == copy.stance:
            return copy
        at = copy.pose.box(part.blank)
        bound = stance.bounds(at) if stance is not None else at
        return replace(copy, stance=stance, box=bound, shoulders=bound)

    parts = (replace(part, copies=tuple(stood(part, copy) for copy in part.copies)) for part in design.parts)
    return replace(design, parts=tuple(parts))


def moved_by(design: Design, position: Position) -> dict[str, Stance]:
    """Give for each copy that a position moves the way from where it is described to where it stands."""
    copies = design.copies
    found: dict[str, Stance] = {}
    for name, stance in position.stances.items():
        described = copies[name].stance
        found[name] = stance.after(described.back()) if described is not None else stance
    return found


def corners_of(design: Design, name: str) -> Sequence[tuple[float, float, float]]:
    """Give the eight corners of a copy's finished blank in the frame, as it stands, in millimetres."""
    copy, part = design.copies[name], design.part_of[name]
    box = copy.pose.box(part.blank)
    corners = [
        (float(x), float(y), float(z))
        for x in (box.low.across, box.high.across)
        for y in (box.low.deep, box.high.deep)
        for z in (box.low.up, box.high.up)
    ]
    return [copy.stance.point(corner) for corner in corners] if copy.stance is not None else corners

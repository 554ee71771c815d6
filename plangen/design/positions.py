"""What moves: motions of hinged, sliding and pivoted pieces, and the positions that they make."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction

from plangen.description.model import Description
from plangen.design.assembling import Whole, carried
from plangen.design.bounds import bounding, bounds
from plangen.design.feet import on_its_feet
from plangen.design.joining import Moving
from plangen.design.leaning import UPRIGHT
from plangen.design.model import Design, Motion, Position
from plangen.design.standing import Placement
from plangen.design.values import fault, meant
from plangen.expressions import Expression, Text
from plangen.findings import Findings, ProjectError
from plangen.joinery.space import Direction, Stance, turn_about, unit
from plangen.joinery.transform import Transform, determinant, transform_operation, turned

QUIET = ("rests",)  # joints that hold nothing
MOST_POSITIONS = 40


def with_positions(design: Design, whole: Whole, description: Description, findings: Findings) -> Design:
    """Give the design with its motions, and the positions that the maker lists."""
    design = replace(design, motions=tuple(_motions(design, whole)))
    positions = []
    if len(description.positions) > MOST_POSITIONS:
        findings.error(
            "too-many-positions",
            f"{len(description.positions)} positions are more than anyone can look at",
            description.place_of("positions"),
            f"list at most {MOST_POSITIONS}",
        )
        return design
    for name, values in description.positions.items():
        try:
            positions.append(_position(name, values, design, whole))
        except ProjectError as error:
            findings.extend(error.findings)
    return replace(design, positions=tuple(positions))


def _motions(design: Design, whole: Whole) -> Iterator[Motion]:
    for place in whole.places:
        by_joint: dict[str, list[Moving]] = {}
        for moving in whole.joined[place.frame].moves:
            by_joint.setdefault(moving.joint, []).append(moving)
        for joint, contacts in by_joint.items():
            movers: dict[str, list[Moving]] = {}
            for moving in contacts:
                movers.setdefault(moving.two.partition(".")[0], []).append(moving)
            groups = _together(movers, design, place)
            for mover, same in groups.items():
                name = place.called(joint if len(groups) == 1 else f"{mover}.{joint}")
                yield _motion(name, joint, same, design, whole, place)


def _together(
    movers: Mapping[str, list[Moving]], design: Design, place: Placement
) -> dict[str, list[Moving]]:
    """Movers of one group move together: two doors are two motions, the two sides of a frame one."""
    done: dict[str, list[Moving]] = {}
    for mover, contacts in movers.items():
        for group, members in design.groups.items():
            if not place.path and contacts[0].two in members and len(movers) > 1:
                done.setdefault(group, []).extend(contacts)
                break
        else:
            done.setdefault(mover, []).extend(contacts)
    return done


def _motion(
    name: str, joint: str, contacts: list[Moving], design: Design, whole: Whole, place: Placement
) -> Motion:
    first = contacts[0]
    moves = first.moves
    way: Direction = turned(unit(moves.side), place.by.turn)
    point = carried(moves.point.floats(), place.by)
    if moves.kind == "turns" and determinant(place.by.turn) < 0:
        way = (-way[0], -way[1], -way[2])  # seen in a mirror it turns the other way
    if place.stance != UPRIGHT:
        way, point = place.stance.direction(way), place.stance.point(point)
    against = place.called(first.one)
    moved = _carried_along(contacts, joint, design, whole, place)
    return Motion(name, moves.kind, moved, point, way, moves.most, against)


def _carried_along(
    contacts: list[Moving], joint: str, design: Design, whole: Whole, place: Placement
) -> tuple[str, ...]:
    """Every piece that goes along: what is fixed to the moving piece and not to the other.

    Where the two are also held together some other way, as by a stay, it is what is fixed to the
    moving piece without any joint that moves; and where even that leads back, its own assembly.
    """
    copies = list(design.copies)
    movers = [place.called(moving.two) for moving in contacts]
    stays = [place.called(moving.one) for moving in contacts]
    moving_joints = {moving.joint for joined in whole.joined.values() for moving in joined.moves}
    here = {
        frozenset((contact.fixed, contact.moving))
        for one in design.joints
        if one.name.rpartition(".")[2] == joint
        for contact in one.contacts
        if contact.moving in movers and contact.fixed in stays
    }
    for left_out in ({*QUIET}, {*QUIET, *moving_joints}):
        found = _fixed_to(movers, design, left_out, here)
        if not found & set(stays):
            return tuple(copy for copy in copies if copy in found)
    own = {
        copy.name
        for copy in design.copies.values()
        for mover in movers
        if copy.name == mover or (copy.path and copy.path == design.copies[mover].path)
    }
    return tuple(copy for copy in copies if copy in own)


def _fixed_to(movers: list[str], design: Design, left_out: set[str], here: set[frozenset[str]]) -> set[str]:
    links: dict[str, list[str]] = {}
    for joint in design.joints:
        if joint.name.rpartition(".")[2] in left_out or joint.kind in left_out:
            continue
        for contact in joint.contacts:
            if frozenset((contact.fixed, contact.moving)) not in here:
                links.setdefault(contact.fixed, []).append(contact.moving)
                links.setdefault(contact.moving, []).append(contact.fixed)
    found, open_ends = set(movers), list(movers)
    while open_ends:
        for other in links.get(open_ends.pop(), ()):
            if other not in found:
                found.add(other)
                open_ends.append(other)
    return found


def _position(name: str, values: Mapping[str, Expression], design: Design, whole: Whole) -> Position:
    """Where everything stands. Raises ProjectError."""
    key = name if isinstance(name, Text) else Text(name)
    scope = whole.places[0].frame.values
    motions = {motion.joint: motion for motion in design.motions}
    said = []
    for joint, expression in values.items():
        if joint not in motions:
            raise fault(
                "undefined-name",
                f"nothing moves by the name of `{joint}`",
                joint.place if isinstance(joint, Text) else key.place,
                meant(joint, motions, "name a joint that hinges, pivots or slides"),
            )
        said.append((str(joint), _amount(motions[joint], expression, scope)))
    moved = moved_by(design, tuple(said))
    boxes = []
    for part in design.parts:
        for piece in part.copies:
            stance = moved.get(piece.name, piece.stance)
            upright = piece.pose.box(part.blank)
            if stance is not None:
                stands = Transform(piece.pose.turn, piece.pose.move)
                cut = tuple(transform_operation(operation, stands) for operation in part.operations)
                upright = bounds(upright, cut, stance)
            boxes.append(upright)
    overall = on_its_feet(bounding(boxes), design)
    return Position(name, name[:1].upper() + name[1:], tuple(said), moved, overall, key.place)


def moved_by(design: Design, values: Sequence[tuple[str, Fraction]], share: float = 1.0) -> dict[str, Stance]:
    """Where the pieces stand that motions move, by that ``share`` of the way; the others are left out.

    Motions are made one after the other; one whose fixed side has moved goes along with it.
    """
    motions = {motion.joint: motion for motion in design.motions}
    copies = design.copies
    carried_by: dict[str, Stance] = {}
    for joint, amount in values:
        motion = motions[joint]
        frame = carried_by.get(motion.against, UPRIGHT)
        point, way = frame.point(motion.point), frame.direction(motion.way)
        if motion.kind == "turns":
            step = turn_about(way, float(amount) * share, point)
        else:
            x, y, z = (part * float(amount) * share for part in way)
            step = Stance(UPRIGHT.rows, (x, y, z))
        for copy in motion.moves:
            carried_by[copy] = step.after(carried_by.get(copy, UPRIGHT))
    return {
        name: carried_by[name].after(copy.stance or UPRIGHT)
        for name, copy in copies.items()
        if name in carried_by
    }


def _amount(motion: Motion, expression: Expression, scope: object) -> Fraction:
    """Degrees or millimetres, checked against how far it goes. Raises ProjectError."""
    if motion.kind == "turns":
        amount = expression.angle(scope)  # type: ignore[arg-type]
        most, words = Fraction(360), "degrees"
    else:
        amount = expression.length(scope).mm  # type: ignore[arg-type]
        most, words = Fraction(10_000), "mm"
    most = motion.most if motion.most is not None else most
    if abs(amount) > most:
        raise fault(
            "moves-too-far",
            f"`{motion.joint}` goes {float(most):g} {words} and no further",
            expression.place,
            "give less, or hardware that goes further",
        )
    return amount

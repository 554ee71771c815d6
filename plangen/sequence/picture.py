"""What each step's picture shows, and from where the new pieces come."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from plangen.design.model import Contact, Copy, Design, Joint
from plangen.joinery.space import Axis, Box, Side
from plangen.sequence.assembly import Assembly
from plangen.sequence.bodies import first_copy, scope_of, shown_of
from plangen.sequence.model import StepPicture
from plangen.sequence.plan import Plan
from plangen.sequence.resting import resting_pieces, speaking
from plangen.sequence.trade import is_resting

_EASY_WAYS = (Side.FRONT, Side.TOP, Side.LEFT, Side.RIGHT, Side.BACK, Side.BOTTOM)


def step_picture(
    design: Design,
    assembly: Assembly,
    plan: Plan,
    new: Sequence[str],
    placed: Sequence[str],
    closed: Sequence[str],
) -> StepPicture:
    """Choose the picture of a step.

    ``new`` are the copies it puts in place; ``placed`` and ``closed`` are the copies in place and the
    joints closed before it.
    """
    within = scope_of(design, assembly, plan)
    shown = first_copy(design, within)
    if plan.joints or plan.placed:
        return _only(_joining(design, assembly, plan, new, placed, closed), shown)
    if plan.brought:
        return _only(_bringing(design, assembly, plan, placed), shown)
    if plan.dry:
        members = _shown(plan, assembly.members(plan.dry))
        around = _around(assembly, members, placed, closed)
        held = StepPicture(
            "assembly", new=members, context=tuple(copy for copy in around if copy not in members)
        )
        return _only(held, shown)
    if plan.fits:
        fitted = tuple(dict.fromkeys(
            copy for fit in design.fits if fit.name in plan.fits for copy in fit.copies
        ))  # fmt: skip
        around = _around(assembly, fitted, placed, closed)
        offsets = _apart(design, assembly, plan, fitted, around, closed)
        return StepPicture(
            "assembly", new=_shown(plan, fitted), context=around, offsets=offsets, hardware=plan.fits
        )
    keys = dict.fromkeys([*plan.made, *plan.panels, *plan.milled, *(key for key, _ in plan.worked)])
    if keys:
        copies = _shown(plan, [design.part(key).copies[0].name for key in keys])
        return StepPicture("pieces", new=copies, sides=_sides(design, plan, copies))
    if plan.finish and placed:
        return StepPicture("assembly", context=tuple(placed))
    if plan.show:
        return StepPicture("pieces", new=plan.show)
    return StepPicture("none")


def _only(picture: StepPicture, shown: frozenset[str] | None) -> StepPicture:
    """Keep a picture to some pieces: those of the first copy of the assembly that is built."""
    return replace(
        picture,
        new=shown_of(picture.new, shown),
        context=shown_of(picture.context, shown),
        offsets=tuple(
            (copy, side) for copy, side in dict(picture.offsets).items() if shown_of((copy,), shown)
        ),
    )


def _bringing(design: Design, assembly: Assembly, plan: Plan, placed: Sequence[str]) -> StepPicture:
    """Show whole assemblies as they are put in place; each comes in from where nothing bars its way."""
    within = scope_of(design, assembly, plan)
    bodies = [copy for one in design.assemblies for copy in one.copies if copy.name in plan.brought]
    holders = [set(copy.members) for one in design.assemblies if one.key == within for copy in one.copies]
    moving = tuple(dict.fromkeys(member for body in bodies for member in body.members))
    still = tuple(copy for copy in placed if copy not in moving)
    copies = design.copies
    offsets = {}
    for body in bodies:
        # What it is put into stands on the bench by itself yet.
        holder = next((some for some in holders if some.issuperset(body.members)), None)
        there = [copies[copy].box for copy in still if holder is None or copy in holder]
        side = _clear_way(body.box, there)
        if side is not None:
            offsets.update(dict.fromkeys(body.members, side))
    return StepPicture("assembly", new=moving, context=still, offsets=tuple(offsets.items()))


def _apart(
    design: Design,
    assembly: Assembly,
    plan: Plan,
    fitted: Sequence[str],
    around: Sequence[str],
    closed: Sequence[str],
) -> tuple[tuple[str, Side], ...]:
    """Draw apart things that get hardware in one step and are not joined yet: a door and its cabinet."""
    if scope_of(design, assembly, plan) is not None:
        return ()  # the copies of one assembly lie beside each other
    group = assembly.groups(closed)
    copies = design.copies
    things: dict[str, list[str]] = {}
    for copy in dict.fromkeys((*around, *fitted)):
        things.setdefault(group[copy], []).append(copy)
    still = max(things.values(), key=len)
    boxes = [copies[copy].box for copy in still]
    offsets: dict[str, Side] = {}
    for thing in things.values():
        if thing is still:
            continue
        for side in _EASY_WAYS:
            if all(_clear(copies[copy].box, side, boxes) for copy in thing):
                offsets.update(dict.fromkeys(thing, side))
                break
    return tuple(offsets.items())


def _shown(plan: Plan, chosen: Sequence[str]) -> tuple[str, ...]:
    return plan.show or tuple(chosen)


def _sides(design: Design, plan: Plan, copies: Sequence[str]) -> tuple[tuple[str, Side], ...]:
    """For each piece the side, in the frame, where the tool of its first operation enters."""
    first: dict[str, Side] = {}
    for key, index in plan.worked:
        first.setdefault(key, design.part(key).operations[index].side)
    part_of, all_copies = design.part_of, design.copies
    return tuple(
        (copy, all_copies[copy].pose.side(first[part_of[copy].key]))
        for copy in copies
        if part_of[copy].key in first
    )


def _joining(
    design: Design,
    assembly: Assembly,
    plan: Plan,
    new: Sequence[str],
    placed: Sequence[str],
    closed: Sequence[str],
) -> StepPicture:
    joints = speaking([joint for joint in design.joints if joint.name in plan.joints])
    contacts = [item for joint in joints for item in joint.contacts]
    members = tuple(dict.fromkeys(copy for item in contacts for copy in (item.fixed, item.moving)))
    context = _around(assembly, members, placed, closed) if contacts else tuple(placed)
    offsets: dict[str, Side] = {}
    resting = bool(joints) and all(is_resting(joint) for joint in joints)
    if resting:
        offsets = _set_down(design, assembly, joints, (*context, *new), closed)
    offsets = offsets or _offsets(design.copies, contacts, new, context, assembly.groups(closed))
    named = tuple(joint.name for joint in design.joints if joint.name in plan.joints and joint.hardware)
    # Where whole assemblies come together no piece is new: the one that moves is what the step is about.
    shown = tuple(offsets) if resting and offsets else tuple(new) or tuple(offsets)
    return StepPicture(
        "assembly",
        new=shown,
        context=tuple(dict.fromkeys(copy for copy in (*context, *new, *plan.show) if copy not in shown)),
        offsets=tuple(offsets.items()),
        hardware=(*named, *plan.fits),
    )


def _set_down(
    design: Design, assembly: Assembly, joints: Sequence[Joint], present: Sequence[str], closed: Sequence[str]
) -> dict[str, Side]:
    """Draw what is only set down out to where nothing bars its way, upward where it can."""
    group = assembly.groups(closed)
    down, _ = resting_pieces(design, assembly, joints)
    things = {group[copy] for copy in down}
    moving = [copy for copy in dict.fromkeys(present) if group[copy] in things]
    boxes = [design.copies[copy].box for copy in present if group[copy] not in things]
    for side in (Side.TOP, *_EASY_WAYS):
        if all(_clear(design.copies[copy].box, side, boxes) for copy in moving):
            return dict.fromkeys(moving, side)
    return {}


def _around(
    assembly: Assembly, copies: Sequence[str], placed: Sequence[str], closed: Sequence[str]
) -> tuple[str, ...]:
    """Give the copies in place that hang together with some copies, those copies among them if placed."""
    group = assembly.groups(closed)
    wanted = {group[copy] for copy in copies}
    return tuple(copy for copy in placed if group[copy] in wanted)


def _offsets(
    copies: Mapping[str, Copy],
    contacts: Sequence[Contact],
    new: Sequence[str],
    context: Sequence[str],
    group: Mapping[str, str],
) -> dict[str, Side]:
    """Give for each copy that moves the side it comes from; what was joined before moves as one.

    Directions add up along the contacts from what stands still: the one assembly that is there already,
    or else what the others close on from most sides. What has no direction left stands still too.
    """
    ways: dict[str, list[tuple[str, Side]]] = {}
    for contact in contacts:
        fixed, moving = group[contact.fixed], group[contact.moving]
        if contact.closes is not None and fixed != moving:
            ways.setdefault(fixed, []).append((moving, contact.closes.opposite))
            ways.setdefault(moving, []).append((fixed, contact.closes))
    if not ways:
        return {}
    there = {group[copy] for copy in context}.intersection(ways)
    size = {one: sum(group[copy] == one for copy in context) for one in ways}
    still = max(
        ways,
        key=lambda one: (len(there) == 1 and one in there, len({way for _, way in ways[one]}), size[one]),
    )
    moved, last = {still: (0, 0, 0)}, {still: Side.FRONT}
    waiting = [still]
    while waiting:
        one = waiting.pop(0)
        for other, way in ways[one]:
            if other not in moved:
                moved[other] = _plus(moved[one], way)
                last[other] = way
                waiting.append(other)
    in_place = [copies[copy].box for copy in context if group[copy] == still]
    offsets: dict[str, Side] = {}
    for copy in (*context, *new):
        side = _side_of(moved[group[copy]], last[group[copy]]) if group[copy] in moved else None
        if side is None:
            continue
        box = copies[copy].shoulders
        offsets[copy] = side if _clear(box, side, in_place) else _clear_way(box, in_place) or side
    return offsets


def _plus(vector: tuple[int, int, int], way: Side) -> tuple[int, int, int]:
    added = list(vector)
    added[way.axis.value] += way.sign
    return added[0], added[1], added[2]


def _side_of(vector: tuple[int, int, int], last: Side) -> Side | None:
    """Give the one side a sum of directions points to: the last one where there are several."""
    axes = [axis for axis in Axis if vector[axis.value]]
    if not axes:
        return None
    axis = last.axis if last.axis in axes else axes[0]
    return Side.of(axis, vector[axis.value] > 0)


def _clear(box: Box, side: Side, others: Sequence[Box]) -> bool:
    """Whether a box drawn straight out toward a side runs into none of the others."""
    reach = box
    for other in others:
        gap = (other.side(side) - reach.side(side)) * side.sign
        if gap.mm > 0:
            reach = reach.grown(side, gap)
    return all(reach.overlap(other).empty for other in others)


def _clear_way(box: Box, others: Sequence[Box]) -> Side | None:
    return next((side for side in _EASY_WAYS if _clear(box, side, others)), None)

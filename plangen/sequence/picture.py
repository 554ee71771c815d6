"""What each step's picture shows, and from where the new pieces come."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from plangen.design.model import Contact, Copy, Design
from plangen.joinery.space import Axis, Box, Side
from plangen.sequence.assembly import Assembly
from plangen.sequence.model import StepPicture
from plangen.sequence.plan import Plan

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
    if plan.joints or plan.placed:
        return _joining(design, assembly, plan, new, placed, closed)
    if plan.dry:
        return StepPicture("assembly", new=_shown(plan, assembly.members(plan.dry)))
    if plan.fits:
        fitted = tuple(dict.fromkeys(
            copy for fit in design.fits if fit.name in plan.fits for copy in fit.copies
        ))  # fmt: skip
        around = _around(assembly, fitted, placed, closed)
        return StepPicture("assembly", new=_shown(plan, fitted), context=around, hardware=plan.fits)
    keys = dict.fromkeys([*plan.made, *plan.panels, *(key for key, _ in plan.worked)])
    if keys:
        copies = _shown(plan, [design.part(key).copies[0].name for key in keys])
        return StepPicture("pieces", new=copies, sides=_sides(design, plan, copies))
    if plan.finish and placed:
        return StepPicture("assembly", context=tuple(placed))
    if plan.show:
        return StepPicture("pieces", new=plan.show)
    return StepPicture("none")


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
    contacts = [item for joint in design.joints if joint.name in plan.joints for item in joint.contacts]
    members = tuple(dict.fromkeys(copy for item in contacts for copy in (item.fixed, item.moving)))
    context = _around(assembly, members, placed, closed)
    offsets = _offsets(design.copies, contacts, new, context)
    named = tuple(joint.name for joint in design.joints if joint.name in plan.joints and joint.hardware)
    return StepPicture(
        "assembly",
        new=tuple(new),
        context=tuple(copy for copy in (*context, *plan.show) if copy not in new),
        offsets=tuple(offsets.items()),
        hardware=(*named, *plan.fits),
    )


def _around(
    assembly: Assembly, copies: Sequence[str], placed: Sequence[str], closed: Sequence[str]
) -> tuple[str, ...]:
    """Give the copies in place that hang together with some copies, those copies among them if placed."""
    group = assembly.groups(closed)
    wanted = {group[copy] for copy in copies}
    return tuple(copy for copy in placed if group[copy] in wanted)


def _offsets(
    copies: Mapping[str, Copy], contacts: Sequence[Contact], new: Sequence[str], context: Sequence[str]
) -> dict[str, Side]:
    """Give for each new copy the side it comes from.

    Directions add up along the contacts from what stands still: what is in place already, or else
    the piece that most others close on from different sides. A piece whose directions cancel stands still.
    """
    ways: dict[str, list[tuple[str, Side]]] = {}
    for contact in contacts:
        closes = contact.closes
        if closes is None:
            continue
        ways.setdefault(contact.fixed, []).append((contact.moving, closes.opposite))
        ways.setdefault(contact.moving, []).append((contact.fixed, closes))
    still = [copy for copy in context if copy in ways]
    if not still and ways:
        still = [max(ways, key=lambda copy: (len({way for _, way in ways[copy]}), copy in new))]
    moved: dict[str, tuple[int, int, int]] = dict.fromkeys(still, (0, 0, 0))
    last: dict[str, Side] = {}
    waiting = list(still)
    while waiting:
        copy = waiting.pop(0)
        for other, way in ways.get(copy, ()):
            if other in moved or other not in new:
                continue
            vector = list(moved[copy])
            vector[way.axis.value] += way.sign
            moved[other] = (vector[0], vector[1], vector[2])
            last[other] = way
            waiting.append(other)
    offsets: dict[str, Side] = {}
    in_place = [copies[copy].box for copy in context]
    for copy in new:
        if copy not in moved or copy in still:
            continue
        if (side := _side_of(moved[copy], last[copy])) is None:
            continue
        blocked = context and not _clear(copies[copy].shoulders, side, in_place)
        offsets[copy] = _clear_way(copies[copy].shoulders, in_place) or side if blocked else side
    return offsets


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

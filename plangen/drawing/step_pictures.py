"""The picture of a step: pieces lying apart, or the work so far with what is new drawn out."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import reduce

import shapely

from plangen.design.model import Design
from plangen.drawing.angles import Angle, angles, new_units, seen_of, wanting
from plangen.drawing.detail import MOST_DETAILS, ROOM_FOR_DETAIL, choose, details_of
from plangen.drawing.exploded import (
    BALLOON_ROOM,
    assembly_labels,
    flow_lines,
    hardware_labels,
    part_labels,
    put,
)
from plangen.drawing.hidden_lines import View
from plangen.drawing.labels import Label, PlacedLabel, label_marks
from plangen.drawing.nested import upright
from plangen.drawing.pieces import pieces_picture
from plangen.drawing.scene import Placing, fitted, painted
from plangen.drawing.sheet.lettering import LEAST_SIZE
from plangen.drawing.sheet.measure import Bounds
from plangen.drawing.sheet.model import Drawing, Mark, Meaning, Stroke, Text, Weight
from plangen.drawing.shots import Shot
from plangen.drawing.stage import Stage
from plangen.drawing.standing import HOLD_IT
from plangen.joinery.space import Side
from plangen.sequence.model import Step
from plangen.solids import Solids
from plangen.takeoff.model import TakeOff

_BETWEEN, _WORDS_ROOM = 4.0, 5.0  # mm between two panels, and for the words under one
_CAPTION = LEAST_SIZE
_AS_LARGE = 0.65  # the share of its size that a picture gives up for one scale with those before it
_WORTH = 0.75  # the share of its size that a picture gives up for a detail at the most


def runs(steps: Sequence[Step]) -> tuple[tuple[Step, ...], ...]:
    """Group assembly steps that follow each other, build the same and show some of the same copies."""
    groups: list[list[Step]] = []
    for step in steps:
        if step.picture.kind != "assembly":
            continue
        shown = {*step.picture.new, *step.picture.context}
        last = groups[-1][-1] if groups else None
        same = last is not None and groups[-1][-1].assembly == step.assembly
        if last is not None and same and shown & {*last.picture.new, *last.picture.context}:
            groups[-1].append(step)
        else:
            groups.append([step])
    return tuple(tuple(group) for group in groups)


def scale_groups(
    steps: Sequence[Step], panels: Mapping[int, tuple[Angle, ...]], width: float, height: float
) -> tuple[tuple[Step, ...], ...]:
    """Split a run of steps into those that follow each other, are seen from one side and print at one scale.

    A dry fit stands alone, for it is taken apart again. A step that could print much larger than the others
    begins a group of its own: what is built there is small as yet.
    """
    groups: list[list[Step]] = []
    boxes: list[Bounds] = []
    for step in steps:
        first = panels[step.number][0]
        box = first.stage.sight.bounds
        room = (0.0, 0.0, width, height)
        joins = False
        if groups and step.kind != "dry fit" and groups[-1][-1].kind != "dry fit":
            around = _around(boxes[-1], box)
            own = [fitted(one, room).factor for one in (boxes[-1], box)]
            same = panels[groups[-1][-1].number][0].view == first.view
            joins = same and fitted(around, room).factor >= _AS_LARGE * max(own)
        if joins:
            groups[-1].append(step)
            boxes[-1] = around
        else:
            groups.append([step])
            boxes.append(box)
    return tuple(tuple(group) for group in groups)


def _around(one: Bounds, two: Bounds) -> Bounds:
    return (min(one[0], two[0]), min(one[1], two[1]), max(one[2], two[2]), max(one[3], two[3]))


def run_scale(
    design: Design,
    solids: Solids,
    steps: Sequence[Step],
    view: View,
    width: float,
    height: float,
    panels: Mapping[int, tuple[Angle, ...]] | None = None,
) -> Placing:
    """Give the one scale and place in which every picture of a run of assembly steps fits.

    In the middle; to the left, a little smaller if need be, where one of the steps wants a detail or a second
    panel beside it. ``panels`` are those of each step by its number, where they are known.
    """
    shown = [
        (step, (panels or {}).get(step.number) or angles(design, solids, step, view))
        for step in steps
        if step.picture.kind == "assembly" and (step.picture.new or step.picture.context)
    ]
    if not shown:
        return Placing(1.0, 0.0, 0.0)
    box = reduce(_around, (some[0].stage.sight.bounds for _, some in shown))
    foot = _WORDS_ROOM if any(panel.words for _, some in shown for panel in some) else 0.0
    room = (BALLOON_ROOM, BALLOON_ROOM + foot, width - BALLOON_ROOM, height - BALLOON_ROOM)
    placing = fitted(box, room)
    if any(len(some) > 1 for _, some in shown):
        beside = fitted(box, (room[0], room[1], _first_room(width) - BALLOON_ROOM, room[3]))
    elif any(choose(design, step, some[0].stage, placing) is not None for step, some in shown):
        beside = fitted(box, (room[0], room[1], width - ROOM_FOR_DETAIL, room[3]))
    else:
        return placing
    return beside if beside.factor >= _WORTH * placing.factor or len(shown) == 1 else placing


def _first_room(width: float) -> float:
    """Give the width of the first of two panels."""
    return (width - _BETWEEN) / 2


def step_picture(
    design: Design,
    solids: Solids,
    step: Step,
    take_off: TakeOff,
    view: View,
    scale_for_run: Placing | None,
    width: float,
    height: float,
    already: frozenset[str] = frozenset(),
) -> Drawing:
    """Draw the picture of a step in ``width`` × ``height`` millimetres; an empty one for kind ``none``.

    ``already`` names the joints of which an earlier step has shown the detail.
    """
    return step_shot(design, solids, step, take_off, view, scale_for_run, width, height, already).drawing


def step_shot(
    design: Design,
    solids: Solids,
    step: Step,
    take_off: TakeOff,
    view: View,
    scale_for_run: Placing | None,
    width: float,
    height: float,
    already: frozenset[str] = frozenset(),
    panels: tuple[Angle, ...] | None = None,
) -> Shot:
    """Draw the picture of a step and give what it was drawn from too; ``panels`` where they are known."""
    title = f"Step {step.number}: {step.title}"
    if step.picture.kind == "pieces":
        return Shot(*pieces_picture(upright(design), solids, step, take_off, view, width, height))
    if step.picture.kind == "none" or not (step.picture.new or step.picture.context):
        return Shot(Drawing(width, height, (), title, ""), ())
    panels = panels or angles(design, solids, step, view)
    placing = scale_for_run or run_scale(design, solids, [step], view, width, height, {step.number: panels})
    first = panels[0]
    foot = _WORDS_ROOM if first.words else 0.0
    if len(panels) > 1 and placing.point((first.stage.sight.bounds[2], 0.0))[0] > _first_room(width) - 1:
        alone = run_scale(design, solids, [step], view, width, height, {step.number: panels})
        placing = alone  # the scale of the run leaves no room for the second panel
    room: Bounds = (0.0, foot, _first_room(width) if len(panels) > 1 else width, height)
    marks, labels, details = _panel(
        design, step, take_off, first, placing, room, list(step.picture.new), already, len(panels) == 1
    )
    shots = [(first, placing, room)]
    if len(panels) > 1:
        told = _told(design, step, first.stage)
        rest = [name for name in step.picture.new if name not in told]
        second, room = panels[1], (width - _first_room(width), _WORDS_ROOM, width, height)
        box = second.stage.sight.bounds
        around = (room[0] + BALLOON_ROOM, room[1] + BALLOON_ROOM, width - BALLOON_ROOM, height - BALLOON_ROOM)
        beside = fitted(box, around)
        more, others, _ = _panel(
            design, step, take_off, second, beside, room, rest, already, False, partners=False
        )
        marks, labels = [*marks, *more], [*labels, *others]
        shots.append((second, beside, room))
    ways = [panel.words.lower() for panel in panels if panel.words]
    words = _words(design, step) + (f" {', '.join(ways).capitalize()}." if ways else "")
    return Shot(
        Drawing(width, height, tuple(marks), title, words.strip()),
        tuple(labels),
        tuple(shots),
        details,
        HOLD_IT in first.words,
    )


def _panel(
    design: Design,
    step: Step,
    take_off: TakeOff,
    panel: Angle,
    placing: Placing,
    room: Bounds,
    new: Sequence[str],
    already: frozenset[str],
    detailed: bool,
    partners: bool = True,
) -> tuple[list[Mark], list[PlacedLabel], tuple[str, ...]]:
    """Draw one view of a step: the scene, the ways in, a detail where there is room, balloons and words."""
    shown = panel.stage
    flows = flow_lines(design, shown.offsets, shown.fittings, shown.sight, placing)
    marks: list[Mark] = [*painted(shown.sight, placing), *flows]
    wanted = _labels(design, step, take_off, shown, placing, new, _partners(design, step) if partners else [])
    for most in range(MOST_DETAILS if detailed else 0, -1, -1):
        details = details_of(design, step, shown, placing, flows, room[2], room[3], already, most)
        taken = shapely.union_all([detail.taken for detail in details]) if details else None
        placed = put(wanted, shown.sight, placing, flows, room, taken)
        added = [mark for detail in details for mark in detail.marks]
        crossing = _crossing(added, placed)
        if not crossing or most <= 1:
            break
    # One ring and one detail belong together without a line, where the line would cross a leader.
    marks += [mark for mark in added if mark not in crossing]
    marks += label_marks(placed)
    if panel.words:
        at = ((room[0] + room[2]) / 2, room[1] - _WORDS_ROOM + 1.2)
        marks.append(Text(at, panel.words, _CAPTION, "middle", Weight.SEMIBOLD, role="caption"))
    return marks, list(placed), tuple(detail.joint for detail in details)


def _crossing(added: Sequence[Mark], placed: Sequence[PlacedLabel]) -> list[Stroke]:
    """Give the lines from a ring to its detail that cross a leader."""
    leaders = [shapely.LineString((item.centre, item.anchor)) for item in placed]
    return [
        mark
        for mark in added
        if isinstance(mark, Stroke)
        and mark.meaning is Meaning.LEADER
        and any(leader.intersects(shapely.LineString(mark.points)) for leader in leaders)
    ]


def _told(design: Design, step: Step, shown: Stage) -> frozenset[str]:
    """Name the copies that a first panel has shown well enough."""
    seen = seen_of(design, step, shown)
    short = wanting(design, seen)
    return frozenset(
        name for unit, names in new_units(design, step).items() if unit not in short for name in names
    )


def _labels(
    design: Design,
    step: Step,
    take_off: TakeOff,
    shown: Stage,
    placing: Placing,
    new: Sequence[str],
    partners: Sequence[str],
) -> list[Label]:
    bodies = [
        copy for one in design.assemblies for copy in one.copies
        if copy.name in step.brought and set(copy.members) & set(new)
    ]  # fmt: skip
    whole = {name for copy in bodies for name in copy.members}
    alone = [name for name in new if name not in whole]
    keys = {f"part:{design.part_of[name].key}" for name in new}
    others = part_labels(design, shown.sight, placing, only=partners, within=step.assembly)
    return [
        *part_labels(design, shown.sight, placing, new=new, only=alone, within=step.assembly),
        *assembly_labels(design, shown.sight, placing, [copy.name for copy in bodies]),
        *(label for label in others if label.target not in keys),
        *hardware_labels(take_off, shown.fittings, shown.sight, placing, new=True),
    ]


def _partners(design: Design, step: Step) -> list[str]:
    new, context = set(step.picture.new), set(step.picture.context)
    found: list[str] = []
    for joint in design.joints:
        for contact in joint.contacts:
            for one, two in ((contact.moving, contact.fixed), (contact.fixed, contact.moving)):
                if one in new and two in context and two not in found:
                    found.append(two)
    for use in step.picture.hardware:
        for fit in design.fits:
            found += [
                copy for copy in fit.copies if fit.name == use and copy in context and copy not in found
            ]
    return found


def _words(design: Design, step: Step) -> str:
    def named(names: Sequence[str]) -> str:
        parts = dict.fromkeys(
            f"{design.part_of[name].mark} {design.part_of[name].title.lower()}" for name in names
        )
        return ", ".join(parts)

    sentences = []
    if step.picture.new:
        sides = dict(step.picture.offsets)
        ways = ", ".join(
            dict.fromkeys(
                f"from {'the ' if side not in (Side.TOP, Side.BOTTOM) else ''}{_FROM[side]}"
                for side in sides.values()
            )
        )
        sentences.append(
            f"New in this step: {named(step.picture.new)}{', brought in ' + ways if ways else ''}."
        )
    if step.picture.context:
        sentences.append(f"Already in place: {named(step.picture.context)}.")
    items = [
        design.hardware[count.item].title.lower() for count in step.hardware if count.item in design.hardware
    ]
    if items and step.picture.hardware:
        sentences.append(f"Going in: {', '.join(dict.fromkeys(items))}.")
    return " ".join(sentences)


_FROM = {
    Side.LEFT: "left",
    Side.RIGHT: "right",
    Side.FRONT: "front",
    Side.BACK: "back",
    Side.TOP: "above",
    Side.BOTTOM: "below",
}

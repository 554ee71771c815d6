"""The exploded view: every piece drawn out along its own way in, marked, with the hardware once a joint."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np
import shapely

from plangen.design.model import Contact, Design
from plangen.drawing.angles import Angle
from plangen.drawing.explosion import closing_side
from plangen.drawing.fittings import Fitting, drawn_out, uses
from plangen.drawing.flow import Occluders, flow_line
from plangen.drawing.hidden_lines import View
from plangen.drawing.labels import Label, PlacedLabel, label_marks, place_labels
from plangen.drawing.nested import between_units, units
from plangen.drawing.opened import diagonal, offsets_for
from plangen.drawing.scene import GRID, Placing, Sight, anchors, copy_actor, fitted, painted
from plangen.drawing.sheet.measure import Bounds
from plangen.drawing.sheet.model import Drawing, Mark, Stroke
from plangen.drawing.shots import Shot
from plangen.drawing.stage import Stage
from plangen.joinery.space import Axis, Side
from plangen.sequence.model import OrderOfWork
from plangen.solids import Solids
from plangen.solids.model import Floats
from plangen.takeoff.model import TakeOff

BALLOON_ROOM = 11.0  # mm round a picture for its balloons
MOST_BALLOONS = 26  # more, and the hardware is left to the key and the pictures of the steps


def shows_hardware(design: Design, take_off: TakeOff) -> bool:
    """Tell whether the exploded view of the whole has room for its hardware, or is crowded without it."""
    built = {part.assembly for part in design.parts if part.assembly is not None}
    alone = sum(part.assembly is None for part in design.parts)
    return alone + len(built) + len(take_off.hardware) <= MOST_BALLOONS


def exploded(
    design: Design,
    solids: Solids,
    order: OrderOfWork,
    take_off: TakeOff,
    view: View,
    width: float,
    height: float,
) -> Drawing:
    """Draw the exploded view in ``width`` × ``height`` millimetres.

    One balloon for each part (on the copy seen best), each assembly that is built first and, where there is
    room, each piece of hardware, leading to ``part:KEY``, ``assembly:KEY`` and ``hardware:NAME``.
    """
    return exploded_shot(design, solids, order, take_off, view, width, height).drawing


def exploded_shot(
    design: Design,
    solids: Solids,
    order: OrderOfWork,
    take_off: TakeOff,
    view: View,
    width: float,
    height: float,
) -> Shot:
    """Draw the exploded view and give what it was drawn from too."""
    offsets = offsets_for(design, solids, view, width, height, _loose(design, order))
    shown = {joint.name for joint in between_units(design.joints, units(design))}
    shown |= {fit.name for fit in design.fits}
    wanted = uses(design) if shows_hardware(design, take_off) else ()
    names = list(dict.fromkeys(use.by for use in wanted if use.by in shown))
    fittings = drawn_out(design, names, offsets, 0.03 * diagonal(design), view, most=3)
    actors = tuple(
        copy_actor(design, solids, copy, "plain", offset=offsets[copy.name])
        for copy in design.copies.values()
    )
    sight = Sight((*actors, *(fitting.actor for fitting in fittings)), view)
    placing = fitted(sight.bounds, (BALLOON_ROOM, BALLOON_ROOM, width - BALLOON_ROOM, height - BALLOON_ROOM))
    marks: list[Mark] = painted(sight, placing)
    flows = flow_lines(design, offsets, fittings, sight, placing)
    loose = [copy for copy, unit in units(design).items() if copy == unit]
    labels = [
        *part_labels(design, sight, placing, only=loose),
        *assembly_labels(design, sight, placing),
        *hardware_labels(take_off, fittings, sight, placing),
    ]
    placed = put(labels, sight, placing, flows, (0.0, 0.0, width, height))
    marks += [*flows, *label_marks(placed)]
    parts = ", ".join(f"{part.mark} {part.title.lower()}" for part in design.parts)
    drawing = Drawing(
        width,
        height,
        tuple(marks),
        f"Exploded view of {design.project.title}",
        f"All pieces drawn apart along the way they go in: {parts}. Dashed lines show the way in.",
    )
    panel = Angle(view, apart=True, shown=Stage(sight, offsets, fittings))
    return Shot(drawing, placed, ((panel, placing, (0.0, 0.0, width, height)),))


def _loose(design: Design, order: OrderOfWork) -> dict[str, Side]:
    """Give the side from which assemblies come in that no joint holds, as the step says that sets them in."""
    of = units(design)
    joined = {
        of[name]
        for joint in between_units(design.joints, of)
        for contact in joint.contacts
        for name in (contact.fixed, contact.moving)
    }
    return {
        name: side
        for step in order.steps
        if step.brought and not step.joints
        for name, side in dict(step.picture.offsets).items()
        if of.get(name) in step.brought and of[name] not in joined
    }


def flow_lines(
    design: Design,
    offsets: Mapping[str, Sequence[float]],
    fittings: Sequence[Fitting],
    sight: Sight,
    placing: Placing,
) -> list[Stroke]:
    """Draw the way in of every piece in ``offsets``, with at most one bend, and of the hardware."""
    occluders = Occluders(sight.actors, sight.view)
    straight: list[tuple[str, list[Floats]]] = []
    parted: dict[tuple[str, Axis], list[Floats]] = {}
    for joint in design.joints:
        for contact in joint.contacts:
            one, two = offsets.get(contact.moving), offsets.get(contact.fixed)
            if one is None or two is None or tuple(one) == tuple(two):
                continue
            tried = [np.stack([at + np.asarray(one), at + np.asarray(two)]) for at in _starts(contact)]
            if _goes_straight(contact, tried[0][0] - tried[0][1]):
                straight.append((contact.moving, tried))
            else:
                parted.setdefault((contact.moving, closing_side(contact, design).axis), []).append(tried[0])
    # A piece whose partners have parted goes in between them: one line shows it, where each would mislead.
    bent: list[tuple[str, list[Floats]]] = []
    for (moving, axis), several in parted.items():
        start, end = np.mean(several, axis=0)
        corner = end.copy()
        corner[axis.value] = start[axis.value]
        if np.abs(corner - start).max() < 1e-6:
            straight.append((moving, [np.stack([start, end])]))
        else:
            bent.append((moving, [np.stack([start, corner, end])]))
    strokes: list[Stroke] = []
    for fitting in fittings:
        line = flow_line(fitting.path, occluders, sight.view, placing)
        if not _crosses(line, strokes):
            strokes += line
    shown: set[str] = set()
    for number, (moving, paths) in enumerate([*straight, *bent]):
        if number >= len(straight) and moving in shown:
            continue
        for path in paths:
            line = flow_line(path.tolist(), occluders, sight.view, placing)
            if line and not _crosses(line, strokes):
                strokes += line
                shown.add(moving)
                break
    return strokes


def _starts(contact: Contact) -> list[Floats]:
    """Give where a way in may begin on the face that two pieces share: the middle, or a third along it."""
    middle = np.array([float(contact.face.middle(axis)) for axis in Axis])
    long = max(Axis, key=lambda axis: (contact.face.size(axis).mm, -axis.value))
    third = np.zeros(3)
    third[long.value] = float(contact.face.size(long)) / 3
    return [middle, middle - third, middle + third]


def _goes_straight(contact: Contact, apart: Floats) -> bool:
    """Tell whether a piece stands off what it enters along one direction: an axis, or its own way."""
    if np.count_nonzero(np.abs(apart) > 1e-6) == 1:
        return True
    return contact.way is not None and bool(np.linalg.norm(np.cross(apart, contact.way)) < 1e-3)


def _crosses(line: Sequence[Stroke], others: Sequence[Stroke]) -> bool:
    if not others:
        return False
    tree = shapely.STRtree([shapely.LineString(stroke.points) for stroke in others])
    return any(len(tree.query(shapely.LineString(stroke.points), predicate="crosses")) for stroke in line)


def part_labels(
    design: Design,
    sight: Sight,
    placing: Placing,
    *,
    new: Sequence[str] | None = None,
    only: Sequence[str] | None = None,
    within: str | None = None,
) -> list[Label]:
    """Give one label for each part, on its copy that is seen best; one for each copy of a left or right.

    Where several pieces have a hand, such as four legs, only a label on each tells which goes where.
    Inside an assembly that is handled as one, one label for each part will do; ``within`` is the key of the
    assembly that is built. ``only`` keeps to those copies; ``new`` names the copies whose ring is wide.
    """
    labels: list[Label] = []
    for part in design.parts:
        copies = [
            copy.name
            for copy in part.copies
            if copy.name in sight.regions and (only is None or copy.name in only)
        ]
        copies.sort(key=lambda name: -round(sight.regions[name].area, 1))
        for name in copies if part.hand is not None and part.assembly in (None, within) else copies[:1]:
            region = placing.shape(sight.regions[name])
            spots = anchors(placing.shape(sight.broadest(name)))
            if spots:
                labels.append(
                    Label(
                        part.mark,
                        spots,
                        region,
                        new=new is not None and name in new,
                        target=f"part:{part.key}",
                    )
                )
    return labels


def assembly_labels(
    design: Design, sight: Sight, placing: Placing, only: Sequence[str] | None = None
) -> list[Label]:
    """Give one label with its title for each assembly that goes in whole, on the copy that is seen best.

    With ``only`` for those copies of assemblies, which are new in the picture.
    """
    wanted = frozenset(only) if only is not None else frozenset(units(design).values())
    labels: list[Label] = []
    for one in design.assemblies:
        copies = [copy for copy in one.copies if copy.name in wanted and {*copy.members} <= {*sight.regions}]
        if not copies:
            continue
        seen = {
            copy.name: shapely.union_all([sight.regions[name] for name in copy.members], grid_size=GRID)
            for copy in copies
        }
        best = max(copies, key=lambda copy: round(seen[copy.name].area, 1))
        widest = max((sight.broadest(name) for name in best.members), key=lambda area: round(area.area, 1))
        spots = anchors(placing.shape(widest))
        if spots:
            region = placing.shape(seen[best.name])
            target = f"assembly:{one.key}"
            labels.append(Label(one.title, spots, region, new=only is not None, target=target))
    return labels


def hardware_labels(
    take_off: TakeOff, fittings: Sequence[Fitting], sight: Sight, placing: Placing, *, new: bool = False
) -> list[Label]:
    """Give one square label for each item of hardware that is shown."""
    numbers = {line.item: line.number_mark for line in take_off.hardware}
    labels: list[Label] = []
    for item in dict.fromkeys(fitting.item for fitting in fittings):
        if item not in numbers:
            continue
        shown = [fitting.actor for fitting in fittings if fitting.item == item]
        best = max(shown, key=lambda actor: (round(sight.regions[actor.tag].area, 1), actor.tag))
        region = placing.shape(sight.regions[best.tag])
        spots = anchors(placing.shape(sight.broadest(best.tag)), 1)
        if spots:
            labels.append(
                Label(str(numbers[item]), spots, region, square=True, new=new, target=f"hardware:{item}")
            )
    return labels


def put(
    labels: Sequence[Label],
    sight: Sight,
    placing: Placing,
    flows: Sequence[Stroke],
    room: Bounds,
    taken: Any = None,
) -> tuple[PlacedLabel, ...]:
    """Place the labels of a picture round its ink, in ``room``, and off what is ``taken``."""
    lines: Any = shapely.MultiLineString([stroke.points for stroke in flows]) if flows else None
    return place_labels(labels, ink_of(sight, placing), room, lines=lines, taken=taken)


def ink_of(sight: Sight, placing: Placing) -> Any:
    """Give the area on the paper that the bodies of a sight cover."""
    return shapely.union_all(
        [placing.shape(sight.regions[actor.tag]) for actor in sight.actors], grid_size=GRID
    )

"""How well the pictures of a booklet keep the rules of drawing, each rule as a number with its bound.

Measured on the finished drawing, its lines and letters, and on the scene that it shows, by reckoning of its
own: what places balloons, opens joints and chooses views takes no part in it. The rules, and where their
bounds come from: a published study of labels on the border of a picture (no crossings, leaders as short as
may be), ISO 6433 (item references) and ISO 128-2 (lines); the shares that must be seen are common practice
in assembly pictures, no source.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise
from typing import Any

import numpy as np
import shapely

from plangen.design.model import Contact, Design
from plangen.drawing.explosion import entered, way_of
from plangen.drawing.gauge_apart import FACES, drawn_out_gauges, opened_contacts, place_of, way_gauges
from plangen.drawing.gauge_marks import balloons_of, caption_gauges, flow_gauges, leader_gauges
from plangen.drawing.gauge_model import Gauge, at_least, at_most
from plangen.drawing.nested import units
from plangen.drawing.scene import GRID, Placing, flat
from plangen.drawing.shots import Shot
from plangen.drawing.stage import Stage
from plangen.drawing.standing import margin_of_standing
from plangen.joinery.space import Axis
from plangen.sequence.model import Step

__all__ = ["Gauge", "gauge_exploded", "gauge_picture", "gauge_runs"]

PART_SEEN, MOST_OF_ONE, OTHERS_SEEN = 0.5, 0.6, 0.25  # rule 10
LEAST_AREA = 12.0  # mm² on paper, rule 10
SITE_SEEN = 0.3  # rule 11
CONTEXT_SEEN = 0.1  # rule 12
REGISTRATION = 0.3  # mm, rule 13
SMALLEST = 3.0  # mm on paper, rule 19


def gauge_picture(design: Design, step: Step, shot: Shot, detailed: Sequence[str] = ()) -> tuple[Gauge, ...]:
    """Measure the picture of a step; ``detailed`` names the joints that have had a detail before it."""
    marks = (*_mark_gauges(design, shot), *caption_gauges(shot))
    if step.picture.kind != "assembly" or not shot.panels:
        return marks
    stages = [(angle.stage, placing) for angle, placing, _ in shot.panels]
    shown = (*detailed, *shot.details)
    return (
        *_new_seen(design, step, stages),
        *_sites(design, step, stages, shown),
        *_context(step, stages[0][0]),
        *drawn_out_gauges(design, stages[0][0]),
        *way_gauges(design, stages[0][0]),
        *_standing(step, stages[0][0], shot),
        *marks,
    )


def gauge_exploded(design: Design, shot: Shot) -> tuple[Gauge, ...]:
    """Measure an exploded view."""
    ((angle, placing, _),) = shot.panels
    shown = angle.stage
    of = units(design)
    seen = _seen([(shown, placing)], _members(of))
    outermost = [copy for one in design.assemblies for copy in one.copies if copy.name in of.values()]
    apart = sum(len({shown.offsets[name] for name in copy.members}) > 1 for copy in outermost)
    return (
        *_alike_seen(design, seen),
        *drawn_out_gauges(design, shown, measured=False),
        *way_gauges(design, shown),
        at_most(17, "assemblies drawn apart inside the whole", apart, 0),
        *_mark_gauges(design, shot),
    )


def gauge_runs(shots: Mapping[int, Shot], runs: Sequence[Sequence[Step]]) -> tuple[tuple[int, Gauge], ...]:
    """Measure, step by step, how far what stands still moves on the sheet from one picture to the next.

    The pictures are laid on each other by their upper left corners. Steps that are seen from another side
    than the one before are left out; that a side had to change is rule 14. So are dry fits, which are taken
    apart again.
    """
    found: list[tuple[int, Gauge]] = []
    for run in runs:
        for before, after in pairwise(run):
            if "dry fit" in (before.kind, after.kind):
                continue
            one, two = shots.get(before.number), shots.get(after.number)
            if one is None or two is None or not one.panels or not two.panels:
                continue
            moved = _moved(one, two)
            if moved:
                name = max(moved, key=lambda item: (moved[item], item))
                gauge = at_most(13, "shift of what stands still, mm", moved[name], REGISTRATION, name)
                found.append((after.number, gauge))
    return tuple(found)


def _moved(one: Shot, two: Shot) -> dict[str, float]:
    (first, first_at, _), (second, second_at, _) = one.panels[0], two.panels[0]
    if first.view != second.view:
        return {}
    found: dict[str, float] = {}
    bodies = [{actor.tag: actor.body for actor in angle.stage.sight.actors} for angle in (first, second)]
    for name in first.stage.offsets.keys() & second.stage.offsets.keys():
        still = [angle.stage.offsets[name] == (0.0, 0.0, 0.0) for angle in (first, second)]
        if not all(still) or not np.allclose(bodies[0][name].turn, bodies[1][name].turn):
            continue
        points = [flat(np.asarray(body[name].move)[None], first.view)[0].tolist() for body in bodies]
        (ax, ay), (bx, by) = first_at.point(tuple(points[0])), second_at.point(tuple(points[1]))
        size = abs(first_at.factor - second_at.factor) * _diameter(bodies[0][name])
        down = (one.drawing.height - ay) - (two.drawing.height - by)
        found[name] = float(np.hypot(ax - bx, down)) + size
    return found


def _diameter(body: Any) -> float:
    points = body.mesh.vertices
    return float(np.linalg.norm(points.max(axis=0) - points.min(axis=0)))


def _members(of: Mapping[str, str]) -> dict[str, tuple[str, ...]]:
    found: dict[str, list[str]] = {}
    for name, unit in of.items():
        found.setdefault(unit, []).append(name)
    return {unit: tuple(names) for unit, names in found.items()}


def _new_seen(design: Design, step: Step, stages: Sequence[tuple[Stage, Placing]]) -> Iterator[Gauge]:
    of = {
        name: copy.name
        for one in design.assemblies
        for copy in one.copies
        if copy.name in step.brought
        for name in copy.members
    }
    new = _members({name: of.get(name, name) for name in step.picture.new})
    yield from _alike_seen(design, _seen(stages, new))
    items: dict[str, float] = {}
    for shown, _ in stages:
        for fitting in shown.fittings:
            share = shown.sight.share_seen(fitting.actor.tag)
            items[fitting.item] = max(items.get(fitting.item, 0.0), share)
    if items:
        name = min(items, key=lambda item: (items[item], item))
        yield at_least(10, "share seen of one piece of each item going in", items[name], OTHERS_SEEN, name)


def _seen(
    stages: Sequence[tuple[Stage, Placing]], things: Mapping[str, Sequence[str]]
) -> dict[str, tuple[float, float]]:
    """Give for each thing the share of its outline that is seen in its best panel, and the area on paper."""
    found: dict[str, tuple[float, float]] = {}
    for shown, placing in stages:
        for thing, names in things.items():
            here = [name for name in names if name in shown.sight.regions]
            if not here:
                continue
            whole = shapely.union_all([shown.sight.outlines[name] for name in here], grid_size=GRID).area
            area = float(sum(shown.sight.regions[name].area for name in here))
            share = min(1.0, area / whole) if whole else 0.0
            found[thing] = max(found.get(thing, (0.0, 0.0)), (share, area * placing.factor**2))
    return found


def _alike_seen(design: Design, seen: Mapping[str, tuple[float, float]]) -> Iterator[Gauge]:
    """Rule 10: half of each; of equal pieces six tenths of one will do, with a quarter of each other one.

    The figure of equal pieces is that of the one seen least, or what the best one shows over a tenth more
    than half where the others can be found.
    """
    bodies = {copy.name: one.key for one in design.assemblies for copy in one.copies}
    alike: dict[str, list[str]] = {}
    for name in seen:
        if name in bodies:
            alike.setdefault(f"assembly {bodies[name]}", []).append(name)
        else:
            part = design.part_of[name]
            alike.setdefault(f"part {part.mark or part.key}", []).append(name)
    if not alike:
        return
    shares, areas = {}, {}
    for thing, names in alike.items():
        each = [seen[name][0] for name in names]
        several = len(each) > 1 and min(each) >= OTHERS_SEEN
        shares[thing] = max(min(each), max(each) - (MOST_OF_ONE - PART_SEEN) if several else 0.0)
        areas[thing] = max(seen[name][1] for name in names)
    worst = min(shares, key=lambda item: (shares[item], item))
    least = min(areas, key=lambda item: (areas[item], item))
    yield at_least(10, "share seen of each piece", shares[worst], PART_SEEN, worst)
    yield at_least(10, "area seen of each piece, mm²", areas[least], LEAST_AREA, least)


def _sites(
    design: Design, step: Step, stages: Sequence[tuple[Stage, Placing]], detailed: Sequence[str]
) -> Iterator[Gauge]:
    """Rules 11 and 19: the place of each joint is seen and prints large enough, or has a detail."""
    shares: dict[str, float] = {}
    sizes: dict[str, float] = {}
    for shown, placing in stages:
        for name, contact in opened_contacts(design, shown, step.joints):
            share = 0.0
            for half in (contact.fixed, contact.moving):
                site = place_of(contact, shown, half)
                toward = np.asarray(way_of(contact, design)) @ np.asarray(shown.sight.view.toward)
                looks = -toward if half == contact.fixed else toward
                if site.area > 1e-6 and looks > FACES:
                    seen = site.intersection(shown.sight.regions[half]).area / site.area
                    share = max(share, float(seen))
            shares[name] = max(shares.get(name, 0.0), share)
            if entered(contact, design) > 0.1:
                view = shown.sight.view
                extents = sorted(
                    float(contact.face.size(axis))
                    * float(np.hypot(view.right[axis.value], view.up[axis.value]))
                    * placing.factor
                    for axis in Axis
                )
                sizes[name] = max(sizes.get(name, 0.0), extents[1])  # the face is flat: its lesser side
    pairs = {
        _pair(contact) for joint in design.joints if joint.name in detailed for contact in joint.contacts
    }
    for (
        joint
    ) in design.joints:  # a detail shows all that lies on the same faces, such as the screws of a dado
        if joint.name in detailed or pairs & {_pair(contact) for contact in joint.contacts}:
            shares.pop(joint.name, None)
            sizes.pop(joint.name, None)
    if shares:
        name = min(shares, key=lambda item: (shares[item], item))
        yield at_least(11, "share seen of each joint's place", shares[name], SITE_SEEN, name)
    if sizes:
        name = min(sizes, key=lambda item: (sizes[item], item))
        yield at_least(19, "least size of a joint let in, mm", sizes[name], SMALLEST, name)


def _pair(contact: Contact) -> frozenset[str]:
    return frozenset((contact.moving, contact.fixed))


def _context(step: Step, shown: Stage) -> Iterator[Gauge]:
    names = [name for name in step.picture.context if name in shown.sight.regions]
    if names:
        whole = shapely.union_all([shown.sight.outlines[name] for name in names], grid_size=GRID).area
        area = sum(shown.sight.regions[name].area for name in names)
        yield at_least(12, "share seen of what stands already", area / whole if whole else 0.0, CONTEXT_SEEN)


def _standing(step: Step, shown: Stage, shot: Shot) -> Iterator[Gauge]:
    """Rule 18: what stands already stands by itself, on its feet, or the picture says that it is held."""
    still = [name for name in step.picture.context if shown.offsets.get(name) == (0.0, 0.0, 0.0)]
    going = {fitting.actor.tag for fitting in shown.fittings}
    if not still or shot.held:
        return
    bodies = [
        actor.body
        for actor in shown.sight.actors
        if actor.tag in still or (actor.tag not in shown.offsets and actor.tag not in going)
    ]
    yield at_least(18, "centre of mass inside the feet, mm", margin_of_standing(bodies), 0.0)


def _mark_gauges(design: Design, shot: Shot) -> Iterator[Gauge]:
    regions: dict[str, list[Any]] = {}
    ink: list[Any] = []
    for angle, placing, _ in shot.panels:
        sight = angle.stage.sight
        ink += [placing.shape(region) for region in sight.regions.values()]
        for name in angle.stage.offsets:
            part = design.part_of[name]
            regions.setdefault(f"part:{part.key}", []).append(placing.shape(sight.regions[name]))
        for one in design.assemblies:
            for copy in one.copies:
                regions.setdefault(f"assembly:{one.key}", []).extend(
                    placing.shape(sight.regions[name]) for name in copy.members if name in sight.regions
                )
        for fitting in angle.stage.fittings:
            region = placing.shape(sight.regions[fitting.actor.tag])
            regions.setdefault(f"hardware:{fitting.item}", []).append(region)
    rings = balloons_of(shot.drawing)
    yield from leader_gauges(shot.drawing, rings, regions if shot.panels else None, ink)
    yield from flow_gauges(shot.drawing)

"""Rule 15 as numbers: pieces leave their places clear on the paper, near them, by ways that are open."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import product
from typing import Any

import numpy as np
import shapely

from plangen.design.model import Contact, Design
from plangen.drawing.explosion import entered, way_of
from plangen.drawing.gauge_model import Gauge, at_most, worst_of
from plangen.drawing.leaving import barred_by
from plangen.drawing.scene import alone, flat
from plangen.drawing.stage import Stage
from plangen.joinery.space import Axis

OWN_SITE_COVERED = 0.03  # a line's width on the edge of a joint
GAP_LEAST, GAP_MOST = 1.0, 3.0  # thicknesses of the piece
FACES = 0.02  # what of a place looks at the viewer, as a cosine: less is edge on


def opened_contacts(
    design: Design, shown: Stage, joints: Sequence[str] | None = None
) -> Iterator[tuple[str, Contact]]:
    """Give the contacts of which the two pieces are drawn apart, each with the name of its joint."""
    for joint in design.joints:
        for contact in joint.contacts:
            one, two = shown.offsets.get(contact.moving), shown.offsets.get(contact.fixed)
            wanted = joints is None or joint.name in joints
            if wanted and one is not None and two is not None and not np.allclose(one, two, atol=1e-6):
                yield joint.name, contact


def _corners(contact: Contact) -> Any:
    low, high = contact.face.low.floats(), contact.face.high.floats()
    return np.array(list(product(*zip(low, high, strict=True))), dtype=np.float64)


def place_of(contact: Contact, shown: Stage, name: str) -> Any:
    """Give the outline, in the plane of the view, of where two pieces meet, on the one of that name."""
    points = _corners(contact) + np.asarray(shown.offsets[name])
    return shapely.convex_hull(shapely.multipoints(flat(points, shown.sight.view)))


@dataclass(frozen=True)
class _Out:
    """A contact that is drawn apart: which of the two pieces is out, which way, and how far (mm)."""

    out: str
    there: str
    contact: Contact
    way: Any  # of the piece that is out, from its place
    far: float
    straight: bool  # along the way that the joint opens


def _outs(design: Design, shown: Stage) -> Iterator[_Out]:
    """Give each opened contact from the side of the piece that is farther from its place."""
    for _, contact in opened_contacts(design, shown):
        one, two = (np.asarray(shown.offsets[name]) for name in (contact.moving, contact.fixed))
        opens = -np.asarray(way_of(contact, design))
        out, there = contact.moving, contact.fixed
        if np.linalg.norm(two) > np.linalg.norm(one) + 1e-6:
            out, there, one, two, opens = there, out, two, one, -opens
        apart = one - two
        along = float(apart @ opens)
        if along >= entered(contact, design) + 0.1:  # the last of the way is along the joint
            yield _Out(out, there, contact, opens, along, straight=True)
        else:
            far = float(np.linalg.norm(apart))
            yield _Out(out, there, contact, apart / far, far, straight=False)


def drawn_out_gauges(design: Design, shown: Stage, measured: bool = True) -> Iterator[Gauge]:
    """Rule 15: what is drawn out leaves its place clear on the paper, and stands no farther off."""
    covered: dict[str, float] = {}
    gaps: dict[str, float] = {}
    needed: set[str] = set()
    bodies = {actor.tag: actor.body for actor in shown.sight.actors}
    view = shown.sight.view
    names, places = tuple(shown.offsets), np.array([*shown.offsets.values()], dtype=np.float64).reshape(-1, 3)
    outlines: dict[tuple[str, ...], Any] = {}
    for item in _outs(design, shown):
        if not item.straight:
            continue
        # What is drawn out the same way stands equally far out.
        equal = np.isclose(places, shown.offsets[item.out], atol=1e-6).all(axis=1)
        along = tuple(names[at] for at in np.flatnonzero(equal))
        thick = max(_thickness(design, name) for name in along)
        gap = (item.far - entered(item.contact, design)) / thick
        if shown.offsets[item.there] == (0.0, 0.0, 0.0):
            gaps[item.out] = min(gaps.get(item.out, np.inf), gap)
        site, outline = place_of(item.contact, shown, item.there), alone(bodies[item.out], view)
        if site.area < 1.0 or float(np.asarray(item.way) @ np.asarray(view.toward)) < FACES:
            continue
        covered[item.out] = max(covered.get(item.out, 0.0), _share(site, outline))
        # Where it would cover its place at three thicknesses it stands farther out for a reason.
        back = flat((-(gap - GAP_MOST) * thick * np.asarray(item.way))[None], view)[0]
        if along not in outlines:
            outlines[along] = shapely.union_all([alone(bodies[name], view) for name in along])
        near = shapely.transform(outlines[along], lambda xy, by=back: xy + by)
        if _share(site, near) > OWN_SITE_COVERED:
            needed.add(item.out)
    most = {name: gap for name, gap in gaps.items() if name not in needed}
    if covered:
        yield worst_of(15, "share of its own place that a piece covers", covered, OWN_SITE_COVERED, most=True)
    if measured and gaps:
        yield worst_of(15, "gap before its place, thicknesses", gaps, GAP_LEAST, most=False)
    if measured and most:
        yield worst_of(15, "gap farther than its place takes, thicknesses", most, GAP_MOST, most=True)


def _thickness(design: Design, name: str) -> float:
    blank = design.part_of[name].blank
    return min(float(blank.size(axis)) for axis in Axis)


def _share(site: Any, outline: Any) -> float:
    return float(site.intersection(outline).area / site.area)


def way_gauges(design: Design, shown: Stage) -> Iterator[Gauge]:
    """Rule 15: no piece runs into the piece that it is joined to on its way in, by the solids."""
    home = {
        actor.tag: replace(
            actor.body, move=np.asarray(actor.body.move) - np.asarray(shown.offsets[actor.tag])
        )
        for actor in shown.sight.actors
        if actor.tag in shown.offsets
    }
    outs = list(_outs(design, shown))
    barred = [
        item.out for item in outs if barred_by([home[item.out]], [home[item.there]], item.way, item.far)
    ]
    if outs:
        names = ", ".join(dict.fromkeys(barred))
        yield at_most(15, "pieces that run into their place on the way in", len(set(barred)), 0, names)

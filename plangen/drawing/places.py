"""Where on the paper the two halves of a joint are, and how much of them stands behind the other piece."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import product
from typing import Any

import numpy as np
import shapely

from plangen.design.model import Contact, Design
from plangen.drawing.explosion import Offset, way_of
from plangen.drawing.hidden_lines import View
from plangen.drawing.scene import Sight, alone, copy_actor, flat
from plangen.solids import Solids

_FACES = 0.02  # what of a place looks at the viewer, as a cosine: less is edge on


def covered(
    design: Design, solids: Solids, offsets: Mapping[str, Offset], view: View
) -> tuple[float, tuple[str, str] | None]:
    """Give the largest share of a joint's two halves that the other piece covers, and the two pieces."""
    outlines: dict[str, Any] = {}

    def outline(name: str) -> Any:
        if name not in outlines:
            actor = copy_actor(design, solids, design.copies[name], "new", offset=offsets[name])
            outlines[name] = alone(actor.body, view)
        return outlines[name]

    worst: tuple[float, tuple[str, str] | None] = (0.0, None)
    for joint in design.joints:
        for contact in joint.contacts:
            for name, other in ((contact.moving, contact.fixed), (contact.fixed, contact.moving)):
                if name not in offsets or other not in offsets or offsets[other] == offsets[name]:
                    continue
                looks = np.asarray(way_of(contact, design)) @ np.asarray(view.toward)
                if (looks if other == contact.moving else -looks) < _FACES:
                    continue  # this half of the joint is turned away, whatever stands before it
                site = site_of(contact, offsets[other], view)
                if site.area > 1.0:
                    share = site.intersection(outline(name)).area / site.area
                    if share > worst[0] + 1e-9:
                        worst = (share, (name, other))
    return worst


def site_of(contact: Contact, offset: Offset, view: View) -> Any:
    """Give the outline in the view of where two pieces touch, on the one that is drawn out by ``offset``."""
    low, high = contact.face.low.floats(), contact.face.high.floats()
    corner = np.array(list(product(*zip(low, high, strict=True))))
    return shapely.convex_hull(shapely.multipoints(flat(corner + np.asarray(offset), view)))


def place_seen(contact: Contact, offsets: Mapping[str, Offset], sight: Sight, design: Design) -> float:
    """Give the share seen of where two pieces meet, on the half that looks at the viewer."""
    toward = float(np.asarray(way_of(contact, design)) @ np.asarray(sight.view.toward))
    half = contact.moving if toward > 0 else contact.fixed
    if abs(toward) < _FACES:
        return 0.0
    site = site_of(contact, offsets[half], sight.view)
    return float(site.intersection(sight.regions[half]).area / site.area) if site.area > 1e-6 else 0.0

"""Whether what is shown standing stands: its centre of mass over the area that its feet span."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely

from plangen.drawing.hidden_lines import Body
from plangen.drawing.scene import corners
from plangen.drawing.stage import Stage
from plangen.sequence.model import Step

_FOOT = 1.0  # mm above the lowest point that still touches the bench


HOLD_IT = "It does not stand by itself: hold it or block it up"


def stands(step: Step, shown: Stage) -> bool:
    """Tell whether what a step finds there already stands by itself, with the hardware that is on it."""
    still = [name for name in step.picture.context if shown.offsets.get(name) == (0.0, 0.0, 0.0)]
    if not still:
        return True
    going_in = {fitting.actor.tag for fitting in shown.fittings}
    left_out = going_in | (shown.offsets.keys() - set(still))
    return margin_of_standing([a.body for a in shown.sight.actors if a.tag not in left_out]) >= 0


def margin_of_standing(bodies: Sequence[Body]) -> float:
    """Give how far inside the area spanned by the feet the centre of mass lies, in mm; negative outside.

    Every body weighs as its volume; they count as one, whose feet are all points within a millimetre of the
    lowest.
    """
    total, moment = 0.0, np.zeros(3)
    points = []
    for body in bodies:
        at = corners(body)
        one, two, three = (at[body.mesh.triangles[:, k]] for k in range(3))
        volumes = np.einsum("ij,ij->i", one, np.cross(two, three)) / 6
        total += float(volumes.sum())
        moment += (volumes[:, None] * (one + two + three) / 4).sum(axis=0)
        points.append(at)
    every = np.concatenate(points)
    feet = every[every[:, 2] <= every[:, 2].min() + _FOOT]
    area = shapely.convex_hull(shapely.multipoints(feet[:, :2]))
    centre = shapely.Point(*(moment / total)[:2].tolist())
    edge = float(shapely.boundary(area).distance(centre)) if area.area > 0 else float(area.distance(centre))
    return edge if area.area > 0 and area.contains(centre) else -edge

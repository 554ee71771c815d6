"""What is about to be seen of some bodies, quickly: for choosing among many views before one is looked at.

Each body counts as the convex outline of its corners, and hides another where it stands before it: as boxes,
two bodies are parted along the axis in which they overlap least, and the one on the viewer's side of that
axis is before. Notches and holes let nothing through, and a piece hides nothing of itself.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np
import shapely

from plangen.drawing.hidden_lines import View
from plangen.drawing.scene import GRID, Actor, corners, flat
from plangen.solids.model import Floats

_JOINED = 0.4  # of its lesser extent along an axis that a piece may enter another and still stand beside it


def rough_shares(
    actors: Sequence[Actor], view: View, things: Mapping[str, Sequence[str]]
) -> dict[str, float]:
    """Give about the share that is seen of each thing, from 0 to 1; a thing is one or more tags of actors."""
    points = [corners(actor.body) for actor in actors]
    hulls = shapely.convex_hull(np.array([shapely.multipoints(flat(some, view)) for some in points]))
    low = np.array([some.min(axis=0) for some in points])
    high = np.array([some.max(axis=0) for some in points])
    toward = np.asarray(view.toward, dtype=np.float64)
    number_of = {actor.tag: number for number, actor in enumerate(actors)}
    tree = shapely.STRtree(hulls)
    found: dict[str, float] = {}
    for thing, tags in things.items():
        own = [number_of[tag] for tag in tags if tag in number_of]
        if not own:
            continue
        left: list[Any] = []
        for number in own:
            near = np.array(
                [other for other in tree.query(hulls[number]) if other not in own], dtype=np.int64
            )
            before = near[_before(low, high, toward, number, near)] if len(near) else near
            hull = hulls[number]
            if len(before):
                hull = shapely.difference(hull, shapely.union_all(shapely.intersection(hulls[before], hull)))
            left.append(hull)
        whole = shapely.union_all(hulls[own], grid_size=GRID).area if len(own) > 1 else hulls[own[0]].area
        seen = shapely.union_all(left).area if len(left) > 1 else left[0].area
        found[thing] = min(1.0, seen / whole) if whole else 0.0
    return found


def _before(low: Floats, high: Floats, toward: Floats, number: int, others: Any) -> Any:
    """Tell which of some boxes stand between a box and the viewer."""
    entered = np.minimum(high[others], high[number]) - np.maximum(low[others], low[number])
    extent = np.maximum(np.minimum(high[others] - low[others], high[number] - low[number]), 1e-6)
    side = np.sign((low[others] + high[others]) - (low[number] + high[number]))
    beside = entered / extent < _JOINED
    ahead = side * np.sign(np.where(np.abs(toward) < 1e-6, 0.0, toward))[None]
    parted = beside.any(axis=1)
    depth = ((low[others] + high[others]) - (low[number] + high[number])) @ toward
    behind = (beside & (ahead < 0)).any(axis=1)
    return np.where(parted, ~behind & (beside & (ahead > 0)).any(axis=1), depth > 0)

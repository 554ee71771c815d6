"""The lines of a view: what is seen of some bodies, and what is hidden."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from plangen.drawing.hidden_lines.aspect import joined
from plangen.drawing.hidden_lines.hide import Stretches, bodies_in_sight, hidden_stretches, split
from plangen.drawing.hidden_lines.merge import lines
from plangen.drawing.hidden_lines.model import Body, Projection
from plangen.drawing.hidden_lines.scene import Scene, scene
from plangen.drawing.hidden_lines.view import View


def project(bodies: Sequence[Body], view: View, *, hidden: bool = False) -> Projection:
    """Give the lines of a view, in mm at full size; the hidden ones too where asked for.

    Bodies may touch but not run into each other: where they do, the line of their meeting is not
    found. Where lines of several bodies coincide there is one line, with the tag of whichever
    comes last in ``bodies``.
    """
    return project_scene(scene(bodies, view), hidden=hidden)


def project_scene(placed: Scene, *, hidden: bool = False) -> Projection:
    """Give the lines of bodies that are already carried into a view."""
    if not placed.bodies:
        return Projection(())
    in_sight = bodies_in_sight(placed)
    edges = placed.edges(lambda one: one.seen, np.flatnonzero(in_sight))
    way = edges.ends[:, 1, :2] - edges.ends[:, 0, :2]
    seen, unseen = split(len(edges), np.hypot(*way.T), hidden_stretches(placed, edges))
    if not hidden:
        return lines(placed, edges, seen, np.ones(len(seen.edge), dtype=bool))
    others = [placed.edges(lambda one: one.never, np.arange(len(placed.bodies)))]
    if not in_sight.all():
        others.append(placed.edges(lambda one: one.seen, np.flatnonzero(~in_sight)))
    whole = np.arange(len(edges), len(edges) + sum(len(other) for other in others))
    return lines(
        placed,
        joined([edges, *others]),
        Stretches(
            np.concatenate([seen.edge, unseen.edge, whole]),
            np.concatenate([seen.begin, unseen.begin, np.zeros(len(whole))]),
            np.concatenate([seen.end, unseen.end, np.ones(len(whole))]),
        ),
        np.arange(len(seen.edge) + len(unseen.edge) + len(whole)) < len(seen.edge),
    )


def projected_box(bodies: Sequence[Body], view: View) -> tuple[float, float, float, float]:
    """Give the box around bodies in a view: least x, least y, greatest x, greatest y, mm at full size.

    Raises ``ValueError`` where there is nothing to bound.
    """
    matrix = view.matrix[:2]
    corners = [matrix @ (body.turn @ body.mesh.vertices.T + body.move[:, None]) for body in bodies]
    points = np.hstack([corner for corner in corners if corner.size] or [np.empty((2, 0))])
    if not points.size:
        raise ValueError("there is nothing to draw a box around")
    (x0, y0), (x1, y1) = points.min(axis=1), points.max(axis=1)
    return float(x0), float(y0), float(x1), float(y1)

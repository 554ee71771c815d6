"""Bodies seen in one view, as flat arrays: x to the right, y up, z toward the viewer, mm."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from plangen.drawing.hidden_lines.aspect import (
    Aspect,
    Edges,
    Facets,
    aspect,
    stacked_edges,
    stacked_facets,
)
from plangen.drawing.hidden_lines.model import Body
from plangen.drawing.hidden_lines.topology import Flags, Topology
from plangen.drawing.hidden_lines.view import View
from plangen.solids.model import Floats, Ints

INSIDE = 0.05  # mm that a body reaches into a pocket from which it counts as standing in it


@dataclass(frozen=True, eq=False)
class Scene:
    """All bodies together; ``moves`` (bodies, 3) carry their aspects to their places."""

    view: View
    bodies: tuple[Body, ...]
    aspects: tuple[Aspect, ...]
    moves: Floats

    @cached_property
    def covers(self) -> Facets:
        """What hides the lines that do not reach into a pocket."""
        return self.facets(lambda one: one.covers)

    @cached_property
    def faces(self) -> Facets:
        """The faces as they are, and those with pockets plugged as well."""
        return self.facets(lambda one: one.faces)

    @cached_property
    def mouths(self) -> Facets:
        """The mouths of convex pockets."""
        return self.facets(lambda one: one.mouths)

    @cached_property
    def circles(self) -> Floats:
        """Centres and half axes of circles and ellipses (c, 9)."""
        moved = np.vstack([np.empty((0, 9)), *(one.circles for one in self.aspects)])
        moved[:, :3] += np.repeat(self.moves, [len(one.circles) for one in self.aspects], axis=0)
        return moved

    @cached_property
    def pegs(self) -> Floats:
        """Round solids: foot, axis to the other end, radius and length (n, 8)."""
        moved = np.vstack([np.empty((0, 8)), *(one.pegs for one in self.aspects)])
        moved[:, :3] += np.repeat(self.moves, [len(one.pegs) for one in self.aspects], axis=0)
        return moved

    @cached_property
    def peg_body(self) -> Ints:
        """The bodies (n,) of the round solids."""
        return np.repeat(np.arange(len(self.bodies)), [len(one.pegs) for one in self.aspects])

    @cached_property
    def low(self) -> Floats:
        """The low corners (bodies, 3) of the boxes round the bodies."""
        return np.array([one.low for one in self.aspects]).reshape(-1, 3) + self.moves

    @cached_property
    def high(self) -> Floats:
        """The high corners (bodies, 3) of the boxes round the bodies."""
        return np.array([one.high for one in self.aspects]).reshape(-1, 3) + self.moves

    @cached_property
    def bulging(self) -> Flags:
        """Tell of each body whether it hides none of its own edges."""
        return np.array([one.topology.bulging for one in self.aspects], dtype=bool)

    @cached_property
    def standing_in(self) -> Flags:
        """Tell of (one, other) whether one reaches into a pocket of the other that is looked into."""
        number = len(self.bodies)
        found = np.zeros((number, number), dtype=bool)
        sizes = [len(one.pocket_low) for one in self.aspects]
        if not sum(sizes):
            return found
        owner = np.repeat(np.arange(number), sizes)
        frame = np.array([np.asarray(body.move, dtype=np.float64) for body in self.bodies])
        low = np.vstack([one.pocket_low for one in self.aspects]) + frame[owner] + INSIDE
        high = np.vstack([one.pocket_high for one in self.aspects]) + frame[owner] - INSIDE
        body_low = np.array([one.frame_low for one in self.aspects]) + frame
        body_high = np.array([one.frame_high for one in self.aspects]) + frame
        meets = np.ones((number, len(owner)), dtype=bool)
        for axis in range(3):
            meets &= body_low[:, axis, None] < high[None, :, axis]
            meets &= body_high[:, axis, None] > low[None, :, axis]
        one, pocket = np.nonzero(meets)
        found[one, owner[pocket]] = True
        found[np.arange(number), np.arange(number)] = False
        return found

    def topology(self, body: int) -> Topology:
        """Give what a body's mesh is apart from any view."""
        return self.aspects[body].topology

    def points(self, body: int) -> Floats:
        """Give the vertices of a body in the view."""
        result: Floats = self.aspects[body].points + self.moves[body]
        return result

    def facets(self, kind: Callable[[Aspect], Facets], bodies: Ints | None = None) -> Facets:
        """Put the facets of one kind together, of some bodies or of all."""
        rows = np.arange(len(self.bodies)) if bodies is None else bodies
        return stacked_facets([kind(self.aspects[row]) for row in rows.tolist()], self.moves[rows], rows)

    def edges(self, kind: Callable[[Aspect], Edges], bodies: Ints) -> Edges:
        """Put the edges of one kind of some bodies together."""
        starts = (
            _starts([len(one.circles) for one in self.aspects])[bodies],
            _starts([one.topology.curves for one in self.aspects])[bodies],
            _starts([len(one.mouths) for one in self.aspects])[bodies],
        )
        return stacked_edges(
            [kind(self.aspects[row]) for row in bodies.tolist()], self.moves[bodies], bodies, starts
        )


def scene(bodies: Sequence[Body], view: View) -> Scene:
    """Carry the bodies into view coordinates."""
    matrix = view.matrix
    aspects = tuple(aspect(body.mesh, np.asarray(body.turn, dtype=np.float64), view) for body in bodies)
    moves = np.array([matrix @ np.asarray(body.move, dtype=np.float64) for body in bodies]).reshape(-1, 3)
    return Scene(view, tuple(bodies), aspects, moves)


def _starts(counts: Sequence[int]) -> Ints:
    return np.concatenate([[0], np.cumsum(counts)]).astype(np.int64)

"""Edges of one circle, or single ones, or boxes, tested together before each of their edges is."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from plangen.drawing.hidden_lines.aspect import Edges
from plangen.drawing.hidden_lines.topology import Flags
from plangen.solids.model import Floats, Ints


@dataclass(frozen=True, eq=False, slots=True)
class Runs:
    """Runs of edges that follow one another."""

    start: Ints  # (r,) the first edge
    count: Ints  # (r,) how many
    low: Floats  # (r, 3) the box round them
    high: Floats  # (r, 3)
    middle: Floats  # (r, 3)
    half: Floats  # (r, 3) from the middle of a single edge to its end, of a box to its high corner
    straight: Flags  # (r,) whether it is a single edge
    depth: Floats  # (r,) mm behind a facet's plane from which it counts as hidden

    def __len__(self) -> int:
        return len(self.start)

    def chosen(self, rows: Ints | Flags) -> Runs:
        """Give some of them."""
        return Runs(*(getattr(self, name)[rows] for name in self.__slots__))

    def edges(self) -> Ints:
        """Give all their edges."""
        return self.spread(np.arange(len(self)), np.arange(len(self)))[0]

    def spread(self, run: Ints, other: Ints) -> tuple[Ints, Ints]:
        """Turn pairs of a run and another thing into pairs of an edge and that thing."""
        count = self.count[run]
        step = np.arange(int(count.sum())) - np.repeat(np.cumsum(count) - count, count)
        return np.repeat(self.start[run], count) + step, np.repeat(other, count)

    def reach(self, run: Ints, normal: Floats) -> Floats:
        """Give how far runs (n,) reach from their middles along normals (n, 3), mm."""
        product = self.half[run] * normal
        result: Floats = np.where(
            self.straight[run], np.abs(product.sum(axis=1)), np.abs(product).sum(axis=1)
        )
        return result

    def across(self, run: Ints, inward: Floats, offset: Floats) -> tuple[Floats, Floats]:
        """Give how far inside the sides (n, sides) of facets runs (n,) lie, mm: at least, and at most."""
        middle, half = self.middle[run], self.half[run]
        x, y = inward[..., 0], inward[..., 1]
        at = x * middle[:, 0, None] + y * middle[:, 1, None] - offset
        along, up = x * half[:, 0, None], y * half[:, 1, None]
        by = np.where(self.straight[run][:, None], np.abs(along + up), np.abs(along) + np.abs(up))
        return at - by, at + by


def runs_of(edges: Edges, depth: Floats) -> Runs:
    """Give the runs of some edges, at least one; ``depth`` is by edge."""
    start = np.flatnonzero(edges.first)
    count = np.diff(start, append=len(edges))
    low = np.minimum.reduceat(edges.ends.min(axis=1), start, axis=0)
    high = np.maximum.reduceat(edges.ends.max(axis=1), start, axis=0)
    straight = count == 1
    half = np.where(straight[:, None], edges.ends[start, 1] - edges.ends[start, 0], high - low) / 2.0
    return Runs(start, count, low, high, (low + high) / 2.0, half, straight, depth[start])


def boxes(low: Floats, high: Floats, depth: float) -> Runs:
    """Give boxes as runs without edges of their own."""
    number = len(low)
    every = np.arange(number)
    flags = np.zeros(number, dtype=bool)
    half = (high - low) / 2.0
    return Runs(every, every * 0 + 1, low, high, low + half, half, flags, np.full(number, depth))

"""Overlapping pieces along one line or circle, made into pieces that do not overlap."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeAlias

import numpy as np

from plangen.solids.model import Floats, Ints

Interval: TypeAlias = tuple[float, float, int]  # from, to, rank


def clusters(values: Floats, gap: float) -> Ints:
    """Number groups of values: sorted, a new group starts where the step to the next exceeds ``gap``."""
    order = np.argsort(values, kind="stable")
    numbers = np.empty(len(values), dtype=np.int64)
    numbers[order] = np.concatenate([[0], np.cumsum(np.diff(values[order]) > gap)]) if len(values) else 0
    return numbers


def clusters_within(groups: Ints, values: Floats, gap: float) -> Ints:
    """Number groups of values inside groups made before; numbers run on over all groups."""
    if not len(groups):
        return groups
    order = np.lexsort((values, groups))
    new = (np.diff(groups[order]) != 0) | (np.diff(values[order]) > gap)
    numbers = np.empty(len(groups), dtype=np.int64)
    numbers[order] = np.concatenate([[0], np.cumsum(new)])
    return numbers


def merged(
    group: Ints, low: Floats, high: Floats, rank: Ints, join: float
) -> tuple[Ints, Floats, Floats, Ints]:
    """Merge the intervals of each group: equal ranks join, and a higher rank covers a lower one.

    ``join`` is the longest gap that is closed, and the longest piece that is left out where a
    higher rank leaves only that. Returns group, low, high and rank of what remains, sorted.
    """
    if not len(group):
        return group, low, high, rank
    number = int(rank.max()) + 1
    key = group * number + rank
    order = np.lexsort((low, key))
    key, low, high = key[order], low[order], high[order]
    # Shift each key past all others so that one running maximum serves them all.
    step = float(high.max() - low.min()) + 2.0 * join + 1.0
    serial = np.concatenate([[0], np.cumsum(np.diff(key) != 0)])
    shift = serial * step
    reach = np.maximum.accumulate(high + shift)
    new = np.concatenate([[True], (low[1:] + shift[1:] > reach[:-1] + join) | (np.diff(key) != 0)])
    first = np.flatnonzero(new)
    last = np.append(first[1:], len(key)) - 1
    group, rank = key[first] // number, key[first] % number
    low, high = low[first], (reach - shift)[last]

    several = np.flatnonzero(np.bincount(group, minlength=int(group.max()) + 1) > 1)
    mixed = np.isin(group, several)
    rows = np.flatnonzero(mixed)
    if not len(rows):
        return group, low, high, rank
    out: list[tuple[int, float, float, int]] = []
    start = 0
    while start < len(rows):  # rows of one group stand together: the key sorts by group first
        stop = start
        while stop < len(rows) and group[rows[stop]] == group[rows[start]]:
            stop += 1
        taken = rows[start:stop]
        pieces = [(float(low[k]), float(high[k]), int(rank[k])) for k in taken]
        out += [(int(group[taken[0]]), *piece) for piece in _layered(pieces, join)]
        start = stop
    single = ~mixed
    group = np.concatenate([group[single], np.array([o[0] for o in out], np.int64)])
    low = np.concatenate([low[single], np.array([o[1] for o in out])])
    high = np.concatenate([high[single], np.array([o[2] for o in out])])
    rank = np.concatenate([rank[single], np.array([o[3] for o in out], np.int64)])
    order = np.lexsort((rank, low, group))
    return group[order], low[order], high[order], rank[order]


def _layered(pieces: Sequence[Interval], join: float) -> list[Interval]:
    """Lay the pieces down from the highest rank, each only where nothing lies yet."""
    laid: list[Interval] = []
    for low, high, rank in sorted(pieces, key=lambda piece: (-piece[2], piece[0])):
        at = low
        free: list[Interval] = []
        for begin, end, _ in laid:
            if begin >= high:
                break
            if begin - at > join:
                free.append((at, begin, rank))
            at = max(at, end)
        if high - at > join or (high > at == low):
            free.append((at, high, rank))
        laid = sorted(laid + free)
    return laid

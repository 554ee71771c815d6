"""Whether pairs of coordinates form a tree: everything joined, nothing twice."""

from __future__ import annotations

from collections.abc import Iterable

from plangen.units import Length


def assert_spans(pairs: Iterable[tuple[Length, Length]], wanted: set[Length]) -> None:
    """Fail unless the pairs join exactly the wanted coordinates, and each of them in one way only."""
    edges = list(pairs)
    neighbours: dict[Length, list[Length]] = {}
    for start, end in edges:
        neighbours.setdefault(start, []).append(end)
        neighbours.setdefault(end, []).append(start)
    assert set(neighbours) == wanted
    reached, waiting = set(), [next(iter(neighbours))]
    while waiting:
        here = waiting.pop()
        if here not in reached:
            reached.add(here)
            waiting += neighbours[here]
    assert reached == wanted, "a coordinate is not joined to the rest"
    assert len(edges) == len(wanted) - 1, "something is given twice"

"""The rows of a project: copies that the maker spread, and the gap between them."""

from __future__ import annotations

from collections.abc import Iterator

from plangen.design.model import Row
from plangen.design.spreading import first_and_gap
from plangen.design.standing import Placement


def rows(places: tuple[Placement, ...]) -> Iterator[Row]:
    """Every row of two copies or more, wherever its assembly stands. Raises ProjectError."""
    for place in places:
        frame = place.frame
        together: dict[int, list[str]] = {}
        placed = {**frame.copies, **frame.nested}
        for name, copied in placed.items():
            if copied.row is not None:
                together.setdefault(id(copied.row.spread), []).append(name)
        for names in together.values():
            first = placed[names[0]]
            if first.row is None or len(names) < 2:
                continue
            axis = first.row.axis
            sizes = [high - low for low, high in (frame.axis(name, axis) for name in names)]
            _, gap = first_and_gap(first, sizes[0], frame.values.owned_by(names[0]))
            pitch = sizes[0] + gap if all(size == sizes[0] for size in sizes) else None
            copies = tuple(place.called(name) for name in names)
            yield Row(copies, place.by.axis(axis), gap, pitch)

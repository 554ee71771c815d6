"""What each facet of a part's mesh belongs to, numbered as the part is built."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TypeAlias

from plangen.solids.model import Surface

Numbers3: TypeAlias = tuple[float, float, float]


@dataclass(slots=True)
class Labels:
    """Hands out facet numbers while a part is built, and remembers the surface of each.

    Facets are numbered one by one because the solid library may merge triangles that share a
    number; surfaces that are the same plane or cylinder share one entry.
    """

    surfaces: list[Surface] = field(default_factory=list)
    facets: list[int] = field(default_factory=list)  # facet number: index into ``surfaces``
    known: dict[tuple[object, ...], int] = field(default_factory=dict)

    def facet(self, surface: Surface, key: tuple[object, ...]) -> int:
        """Give the number of a new facet of a surface."""
        if key not in self.known:
            self.known[key] = len(self.surfaces)
            self.surfaces.append(surface)
        self.facets.append(self.known[key])
        return len(self.facets) - 1

    def plane(self, normal: Numbers3, point: Numbers3) -> int:
        """Give the number of a new facet of a plane, its normal pointing out of the part."""
        normal = clean(normal)
        offset = sum(n * p for n, p in zip(normal, point, strict=True))
        key = ("plane", *(round(n, 9) for n in normal), round(offset, 6))
        return self.facet(Surface("plane", normal=normal, offset=offset), key)


def clean(values: Numbers3) -> Numbers3:
    """Turn the -0.0 that signs leave behind into 0.0."""
    return values[0] + 0.0, values[1] + 0.0, values[2] + 0.0

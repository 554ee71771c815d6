"""How a full-size pattern is cut into tiles."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil

from plangen.drawing.part_sheets.pattern_outline import FullSize
from plangen.drawing.sheet.model import Xy

OVERLAP = 10.0  # mm that two tiles have in common


@dataclass(frozen=True, slots=True)
class Grid:
    """How the region is cut into tiles: ``low`` is the region's corner, ``frame`` a tile's size in mm."""

    low: Xy
    frame: Xy
    columns: int
    rows: int

    def corner(self, column: int, row: int) -> Xy:
        """Give the low left corner of a tile on the part; row 0 is the lowest."""
        return (
            self.low[0] + column * (self.frame[0] - OVERLAP),
            self.low[1] + row * (self.frame[1] - OVERLAP),
        )


def grid_of(shape: FullSize, frame: Xy) -> Grid:
    """Cut the region that needs a pattern into as few tiles of at most ``frame`` as it takes."""
    low_x, low_y, high_x, high_y = shape.region
    numbers, starts, sizes = [], [], []
    for low, high, room in ((low_x, high_x, frame[0]), (low_y, high_y, frame[1])):
        air = 4.0  # so that an edge of the part never lies on the frame
        reach = high - low + 2 * air
        number = 1 if reach <= room else ceil((reach - OVERLAP) / (room - OVERLAP))
        size = min(room, (reach + (number - 1) * OVERLAP) / number) if number > 1 else room
        covered = number * size - (number - 1) * OVERLAP
        numbers.append(number)
        sizes.append(size)
        starts.append((low + high) / 2 - covered / 2)
    return Grid((starts[0], starts[1]), (sizes[0], sizes[1]), numbers[0], numbers[1])

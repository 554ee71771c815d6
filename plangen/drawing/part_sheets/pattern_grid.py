"""How a full-size pattern is cut into sheets: what has to be printed, and the tiles that hold it."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil
from typing import Literal, TypeAlias

from shapely.affinity import scale

from plangen.drawing.part_sheets.pattern_edges import Edge, Window
from plangen.drawing.part_sheets.pattern_outline import FullSize
from plangen.drawing.sheet.model import Xy

Half: TypeAlias = Literal["", "left", "low"]  # the half of a part that is printed
HALVES: tuple[Half, ...] = ("left", "low")

OVERLAP = 10.0  # mm that two tiles have in common
AIR = 4.0  # mm, so that an edge of the part never lies on the frame
PLAIN = 15.0  # mm of plain edge round what is sawn, to lay the pattern by
LONG = 150.0  # mm; a longer straight line is drawn with a straightedge from one printed end to the other
MANY = 4  # sheets; of more, the half of a part that is alike on both sides is enough
BEYOND = 12.0  # mm past the centre line that a half pattern goes on
ALIKE = 1e-4  # share of the area that two halves may differ by and still count as alike


@dataclass(frozen=True, slots=True)
class Grid:
    """How a region is cut into tiles: ``low`` is the region's corner, ``frame`` a tile's size in mm."""

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

    def window(self, column: int, row: int) -> Window:
        """Give the stretch of the part that a tile shows."""
        x, y = self.corner(column, row)
        return (x, y, x + self.frame[0], y + self.frame[1])

    @property
    def sheets(self) -> int:
        """How many tiles there are."""
        return self.columns * self.rows

    @property
    def whole(self) -> Window:
        """The stretch of the part that all tiles show together."""
        high = self.window(self.columns - 1, self.rows - 1)
        return (*self.low, high[2], high[3])


@dataclass(frozen=True, slots=True)
class Cutting:
    """The grids of one pattern, from left to right and upward, and which half of the part they show."""

    grids: tuple[Grid, ...]
    half: Half = ""

    @property
    def sheets(self) -> int:
        """How many tiles there are in all."""
        return sum(grid.sheets for grid in self.grids)

    def shows_middle(self, shape: FullSize) -> bool:
        """Tell whether the centre line that a half pattern is turned over on is on its sheets."""
        way = 0 if self.half == "left" else 1
        middle = (shape.width, shape.height)[way] / 2
        return bool(self.half) and any(grid.whole[way] < middle < grid.whole[way + 2] for grid in self.grids)

    def name(self, grid: Grid) -> str:
        """Say which stretch of the part a grid shows; nothing where there is only one."""
        if len(self.grids) == 1:
            return ""
        number = self.grids.index(grid)
        if len(self.grids) > 2:
            return f"stretch {number + 1}"
        across, up = (self.grids[1].low[way] - self.grids[0].low[way] for way in (0, 1))
        return (("left-hand", "right-hand") if across > up else ("lower", "upper"))[number] + " end"


def cutting_of(shape: FullSize, frame: Xy) -> Cutting:
    """Cut what needs a pattern into as few tiles of at most ``frame`` as it takes.

    One grid covers all that is sawn, unless several, with plain straight stretches between them, take
    fewer sheets.
    """
    return _fewest(_boxes(shape), shape, frame)


def half_of(shape: FullSize, frame: Xy) -> Cutting | None:
    """Cut one half of a part that is alike on both sides of its middle; None for one that is not."""
    found = []
    for half in HALVES:
        cut = [box for box in (_cut_off(box, shape, half) for box in _boxes(shape)) if box is not None]
        if cut and is_alike(shape, half):
            found.append(Cutting(_fewest(cut, shape, frame).grids, half))
    return min(found, key=lambda one: one.sheets, default=None)


def is_alike(shape: FullSize, half: Half) -> bool:
    """Tell whether the part's outline is the same on both sides of its middle."""
    middle = (shape.width / 2, shape.height / 2)
    turned = (
        scale(shape.shape, xfact=-1.0, origin=middle)
        if half == "left"
        else scale(shape.shape, yfact=-1.0, origin=middle)
    )
    return bool(shape.shape.symmetric_difference(turned).area <= ALIKE * shape.shape.area)


def _cut_off(box: Window, shape: FullSize, half: Half) -> Window | None:
    low_x, low_y, high_x, high_y = box
    if half == "left":
        end = shape.width / 2 + BEYOND
        return None if low_x > end else (low_x, low_y, min(high_x, end), high_y)
    end = shape.height / 2 + BEYOND
    return None if low_y > end else (low_x, low_y, high_x, min(high_y, end))


def _boxes(shape: FullSize) -> tuple[Window, ...]:
    """Give the box of each edge that is followed by eye, with plain edge round it; else of all."""
    found = [box for edge in shape.edges if edge.curved or edge.aslant for box in _printed(edge)]
    return tuple(
        (
            max(0.0, low_x - PLAIN), max(0.0, low_y - PLAIN),
            min(shape.width, high_x + PLAIN), min(shape.height, high_y + PLAIN),
        )
        for low_x, low_y, high_x, high_y in found
    ) or ((0.0, 0.0, shape.width, shape.height),)  # fmt: skip


def _printed(edge: Edge) -> tuple[Window, ...]:
    if edge.curved or edge.chord <= LONG:
        return (edge.box,)
    return tuple((x, y, x, y) for x, y in (edge.points[0], edge.points[-1]))


def _fewest(boxes: tuple[Window, ...] | list[Window], shape: FullSize, frame: Xy) -> Cutting:
    tried = [Cutting((grid_of(_round(boxes), frame),))]
    for way in (0, 1):
        groups = _apart(boxes, way, frame)
        if len(groups) > 1:
            tried.append(Cutting(tuple(grid_of(_round(group), frame) for group in groups)))
    return min(tried, key=lambda one: one.sheets)


def _apart(boxes: tuple[Window, ...] | list[Window], way: int, frame: Xy) -> list[list[Window]]:
    """Group boxes along a direction; one goes with those before it where that takes no sheet more."""
    groups: list[list[Window]] = []
    for box in sorted(boxes, key=lambda one: (one[way], one)):
        if groups:
            together = grid_of(_round([*groups[-1], box]), frame).sheets
            overlap = box[way] <= max(one[way + 2] for one in groups[-1])
            if overlap or together < grid_of(_round(groups[-1]), frame).sheets + grid_of(box, frame).sheets:
                groups[-1].append(box)
                continue
        groups.append([box])
    return groups


def _round(boxes: tuple[Window, ...] | list[Window]) -> Window:
    return (
        min(box[0] for box in boxes), min(box[1] for box in boxes),
        max(box[2] for box in boxes), max(box[3] for box in boxes),
    )  # fmt: skip


def grid_of(region: Window, frame: Xy) -> Grid:
    """Cut one region into as few tiles of at most ``frame`` as it takes."""
    low_x, low_y, high_x, high_y = region
    numbers, starts, sizes = [], [], []
    for low, high, room in ((low_x, high_x, frame[0]), (low_y, high_y, frame[1])):
        reach = high - low + 2 * AIR
        number = 1 if reach <= room else ceil((reach - OVERLAP) / (room - OVERLAP))
        size = min(room, (reach + (number - 1) * OVERLAP) / number) if number > 1 else room
        covered = number * size - (number - 1) * OVERLAP
        numbers.append(number)
        sizes.append(size)
        starts.append((low + high) / 2 - covered / 2)
    return Grid((starts[0], starts[1]), (sizes[0], sizes[1]), numbers[0], numbers[1])

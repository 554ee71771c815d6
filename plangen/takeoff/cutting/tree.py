"""Sheets while they are being filled: trees of bands, cells and pieces, quick to change and to copy.

A sheet is divided into bands one after another along its first direction, a band into cells along the
other one, a cell into pieces along the first again: three stages of sawing. A piece smaller across than
its cell is trimmed when it is free. Every size has one kerf added, and so has the room of a sheet: then
sizes simply add up.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeAlias

from plangen.takeoff.cutting import packing
from plangen.takeoff.cutting.model import Direction, Panel, Piece, Sawing

Pose: TypeAlias = tuple[int, int, bool]  # extents along the first and the other direction; turned

_NEVER = 1 << 62
_MASK = (1 << 64) - 1
_SMALL = 1 << 31


class Chance:
    """Numbers that look random and are the same on every machine (a linear congruence modulo 2^64).

    The multiplier is Knuth's for MMIX (The Art of Computer Programming, volume 2, 3rd edition, 3.3.4,
    table 1, line 26).
    """

    __slots__ = ("_state",)

    def __init__(self, seed: int) -> None:
        self._state = seed & _MASK

    def below(self, number: int) -> int:
        """Give a number from 0 up to, not including, ``number`` (at most 2^31)."""
        self._state = (self._state * 6364136223846793005 + 1442695040888963407) & _MASK
        return ((self._state >> 33) * number) >> 31


@dataclass(frozen=True, slots=True)
class Ground:
    """An empty panel with the direction in which its bands follow one another.

    ``first`` and ``other`` are its room; ``most`` is how large a band may be that still has to be cut
    across; ``poses`` gives, for each piece by its number, the ways it can lie.
    """

    panel: Panel
    kind: int
    way: Direction
    first: int
    other: int
    most: int
    poses: tuple[tuple[Pose, ...], ...]


class Cell:
    """A column of pieces in a band; ``laid`` are the numbers of the pieces and how they lie."""

    __slots__ = ("laid", "other", "used")

    def __init__(self, other: int, used: int, laid: list[tuple[int, Pose]]) -> None:
        self.other, self.used, self.laid = other, used, laid

    def copy(self) -> Cell:
        """Give one that can be changed without changing this one."""
        return Cell(self.other, self.used, self.laid[:])


class Band:
    """A band right across a sheet, as large as its longest cell."""

    __slots__ = ("cells", "first", "used")

    def __init__(self, first: int, used: int, cells: list[Cell]) -> None:
        self.first, self.used, self.cells = first, used, cells


class Sheet:
    """A sheet being filled."""

    __slots__ = ("bands", "ground", "used")

    def __init__(self, ground: Ground) -> None:
        self.ground = ground
        self.used = 0
        self.bands: list[Band] = []

    def numbers(self) -> list[int]:
        """Give the numbers of the pieces on it."""
        return [number for band in self.bands for cell in band.cells for number, _ in cell.laid]

    def add(self, cells: list[Cell]) -> None:
        """Take on a band of these cells."""
        first = max(cell.used for cell in cells)
        self.bands.append(Band(first, sum(cell.other for cell in cells), cells))
        self.used += first

    def copy(self) -> Sheet:
        """Give one that can be changed without changing this one."""
        fresh = Sheet(self.ground)
        fresh.used = self.used
        fresh.bands = [
            Band(band.first, band.used, [cell.copy() for cell in band.cells]) for band in self.bands
        ]
        return fresh


@dataclass(frozen=True, slots=True)
class Taste:
    """What a place is chosen by: how much it counts to leave room in a band.

    ``band`` weighs the rest beside the first piece of a fresh band, ``grown`` the rest of a band that
    grows, each against 4 for what is certainly waste. ``loose`` lets a piece into a larger cell, to be
    trimmed afterwards. Of ``skips`` places one is passed over by chance; 0 passes over none.
    """

    band: int
    grown: int
    loose: bool = True
    skips: int = 0


def place(number: int, sheets: Sequence[Sheet], taste: Taste, chance: Chance) -> bool:
    """Put a piece where it spoils least; say whether there was room on one of the sheets.

    The innermost loop of all planning: it avoids calls and records on purpose.
    """
    best = _NEVER
    home: tuple[Sheet, Band | None, Cell | None, Pose] | None = None
    fresh, grown, loose = taste.band, taste.grown, taste.loose
    skipped = _SMALL // taste.skips if taste.skips else 0
    luck = chance.below(_SMALL) if skipped else _SMALL
    for sheet in sheets:
        ground = sheet.ground
        spare = ground.first - sheet.used
        across, most = ground.other, ground.most
        for pose in ground.poses[number]:
            first, other, _ = pose
            for band in sheet.bands:
                size = band.first
                room = size + spare
                if room > most:
                    room = max(most, size)
                if first > room:
                    continue
                if skipped:
                    luck = (luck * 1103515245 + 12345) % _SMALL  # the example of ISO C, 7.22.2.2
                    if luck < skipped:
                        continue
                left = across - band.used - other
                if left >= 0:
                    if first <= size:
                        score = (size - first) * other * 4 + left
                    else:
                        score = (first - size) * (band.used * 4 + grown * left) + left
                    if score < best:
                        best, home = score, (sheet, band, None, pose)
                for cell in band.cells:
                    wider = cell.other - other
                    if wider < 0 or (wider and not loose):
                        continue
                    used = cell.used + first
                    if used > room:
                        continue
                    score = wider * first * 4 - 1
                    if used > size:
                        score += (used - size) * (band.used - other) * 4
                    if score < best:
                        best, home = score, (sheet, band, cell, pose)
            if first <= spare:
                score = first * (across - other) * fresh
                if score < best:
                    best, home = score, (sheet, None, None, pose)
    if home is None:
        return False
    sheet, target, column, pose = home
    first, other, _ = pose
    if target is None:
        sheet.bands.append(Band(first, other, [Cell(other, first, [(number, pose)])]))
        sheet.used += first
        return True
    if column is None:
        column = Cell(other, first, [(number, pose)])
        target.cells.append(column)
        target.used += other
    else:
        column.laid.append((number, pose))
        column.used += first
    if column.used > target.first:
        sheet.used += column.used - target.first
        target.first = column.used
    return True


def grounds(pieces: Sequence[Piece], panels: Sequence[Panel], sawing: Sawing) -> list[list[Ground]]:
    """Give, for each panel, the directions in which it may be divided first, with the poses of all pieces.

    A panel that the wishes of ``sawing`` leave no way of dividing has an empty list.
    """
    return [
        [
            _ground(pieces, panel, kind, sawing, way)
            for way in ("y", "x")
            if sawing.first in (None, _across(way)) and can_start(panel, sawing, way)
        ]
        for kind, panel in enumerate(panels)
    ]


def _across(way: Direction) -> Direction:
    """The way the saw travels between bands that follow one another along ``way``."""
    return "x" if way == "y" else "y"


def on_bench(sides: tuple[int, int], sawing: Sawing) -> bool:
    """Say whether a piece of these sides goes over the saw bench."""
    if sawing.bench is None:
        return True
    return max(sides) <= max(sawing.bench) and min(sides) <= min(sawing.bench)


def can_start(panel: Panel, sawing: Sawing, way: Direction) -> bool:
    """Say whether cuts right across the panel can be made where bands follow one another along ``way``."""
    if sawing.guide is None or on_bench((panel.length, panel.width), sawing):
        return True
    return sawing.guide >= (panel.length if way == "y" else panel.width)


def _most(panel: Panel, sawing: Sawing, way: Direction) -> int:
    """Give how large a band may be so that the cuts across it can be made, without its kerf."""
    along, breadth = (panel.width, panel.length) if way == "y" else (panel.length, panel.width)
    if sawing.guide is None or sawing.bench is None or on_bench((panel.length, panel.width), sawing):
        return along
    low, high = min(sawing.bench), max(sawing.bench)
    bench = high if breadth <= low else low if breadth <= high else 0
    return min(along, max(bench, sawing.guide))


def _ground(pieces: Sequence[Piece], panel: Panel, kind: int, sawing: Sawing, way: Direction) -> Ground:
    kerf, margins = sawing.kerf, sawing.margins
    length = panel.length - margins.left - margins.right + kerf
    width = panel.width - margins.low - margins.high + kerf
    first, other = (width, length) if way == "y" else (length, width)
    whole = panel.length if way == "y" else panel.width
    most = _most(panel, sawing, way) + kerf
    poses: list[tuple[Pose, ...]] = []
    for piece in pieces:
        broad = min(piece.width, width - kerf) if width - kerf >= piece.narrowest else piece.width
        ways = [(piece.length + kerf, broad + kerf, False)]
        if piece.may_turn and piece.length != piece.width:
            ways.append((piece.width + kerf, piece.length + kerf, True))
        turned = [(y, x, turn) if way == "y" else (x, y, turn) for x, y, turn in ways]
        poses.append(
            tuple(
                pose
                for pose in turned
                # A band too large to be cut across is one piece from edge to edge.
                if pose[0] <= first and pose[1] <= other and (pose[0] <= most or pose[1] == whole + kerf)
            )
        )
    return Ground(panel, kind, way, first, other, most, tuple(poses))


def filled(sheet: Sheet, pieces: Sequence[Piece]) -> packing.Filled:
    """Give the sheet as a record that can be sawn up."""
    ground = sheet.ground
    bands = [
        packing.Band(band.first, band.used, [_cell(cell, pieces) for cell in band.cells])
        for band in sheet.bands
    ]
    return packing.Filled(ground.panel, sheet.used, bands)


def _cell(cell: Cell, pieces: Sequence[Piece]) -> packing.Cell:
    laid = [(pieces[number], packing.Pose(*pose)) for number, pose in cell.laid]
    return packing.Cell(cell.other, cell.used, laid)

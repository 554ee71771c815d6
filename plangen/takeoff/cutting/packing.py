"""Fill panels with pieces in bands, so that every cut goes straight through.

A panel is divided into bands one after another along its first direction; a band into cells along the
other; a cell holds pieces one after another along the first direction again, all exactly as large as
the cell across it. Three stages of sawing, the third of which also trims. With the first direction y
the bands are strips ripped from the sheet and then crosscut; with x they are lengths crosscut from a
board and then ripped.

Every size here has one kerf added, and so has the room on the panel: pieces then simply add up.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Literal, TypeAlias

from plangen.takeoff.cutting.model import Direction, Margins, Panel, Piece


@dataclass(frozen=True, slots=True)
class Pose:
    """A piece as it may lie on one kind of panel: extents along the first and the other direction."""

    first: int
    other: int
    turned: bool


@dataclass(slots=True)
class Cell:
    """A column of pieces, as large in the other direction as the largest of them."""

    other: int
    used: int = 0
    pieces: list[tuple[Piece, Pose]] = field(default_factory=list)


@dataclass(slots=True)
class Band:
    """A band right across the panel."""

    first: int
    used: int = 0
    cells: list[Cell] = field(default_factory=list)


@dataclass(slots=True)
class Filled:
    """A panel being filled."""

    panel: Panel
    used: int = 0
    bands: list[Band] = field(default_factory=list)

    def pieces(self) -> list[Piece]:
        """All pieces on it."""
        return [piece for band in self.bands for cell in band.cells for piece, _ in cell.pieces]


Thrift: TypeAlias = Literal["equal", "close", "any"]
Chooser: TypeAlias = Callable[[Piece, Sequence[Panel]], Panel]


@dataclass(frozen=True, slots=True)
class Saw:
    """What all placing has to respect."""

    kerf: int
    margins: Margins
    first: Direction
    bench: tuple[int, int] | None = None
    guide: int | None = None

    def by_hand(self, length: int, width: int) -> bool:
        """Say whether a piece is too large for the saw bench."""
        if self.bench is None:
            return False
        return max(length, width) > max(self.bench) or min(length, width) > min(self.bench)

    def room(self, panel: Panel) -> tuple[int, int]:
        """Give the room on a panel along the first and the other direction, one kerf added to each."""
        along_x = panel.length - self.margins.left - self.margins.right + self.kerf
        along_y = panel.width - self.margins.low - self.margins.high + self.kerf
        return (along_x, along_y) if self.first == "x" else (along_y, along_x)

    def poses(self, piece: Piece, panel: Panel) -> tuple[Pose, ...]:
        """Give the ways a piece can lie on an empty panel; none when it does not fit."""
        usable = panel.width - self.margins.low - self.margins.high
        width = min(piece.width, usable) if usable >= piece.narrowest else piece.width
        ways = [(piece.length, width, False)]
        if piece.may_turn and piece.length != piece.width:
            ways.append((piece.width, piece.length, True))
        room_first, room_other = self.room(panel)
        poses = []
        for along_x, along_y, turned in ways:
            first, other = (along_x, along_y) if self.first == "x" else (along_y, along_x)
            if first + self.kerf <= room_first and other + self.kerf <= room_other:
                poses.append(Pose(first + self.kerf, other + self.kerf, turned))
        return tuple(poses)


# How much of a band's size a piece may leave unused before a band of its own is tried first.
_SLACK: dict[Thrift, tuple[int, int]] = {"equal": (0, 1), "close": (1, 4), "any": (1, 1)}


def pack(
    pieces: Sequence[Piece], panels: Sequence[Panel], saw: Saw, thrift: Thrift, choose: Chooser
) -> list[Filled]:
    """Place single pieces in the order given, each where it leaves least; open a panel when none has room.

    Every piece must fit on the panel that ``choose`` gives for it.
    """
    filled: list[Filled] = []
    for piece in pieces:
        if _place(piece, filled, saw, thrift):
            continue
        panel = choose(piece, panels)
        fresh = Filled(panel)
        filled.append(fresh)
        pose = min(saw.poses(piece, panel), key=lambda pose: (-pose.other, pose.first))
        _open_band(fresh, piece, pose)
    return filled


def pack_one(pieces: Sequence[Piece], panel: Panel, saw: Saw, thrift: Thrift) -> Filled | None:
    """Place all pieces on one panel, or give None."""
    filled = Filled(panel)
    for piece in pieces:
        if not _place(piece, [filled], saw, thrift):
            return None
    return filled


def _place(piece: Piece, filled: Sequence[Filled], saw: Saw, thrift: Thrift) -> bool:
    """Put a piece into the best cell, band or panel with room; say whether there was one."""
    share, of = _SLACK[thrift]
    best: tuple[int, int, int] | None = None
    home: tuple[Cell | Band | Filled, Pose] | None = None
    poses_on: dict[Panel, tuple[Pose, ...]] = {}
    for index, target in enumerate(filled):
        if target.panel not in poses_on:
            poses_on[target.panel] = saw.poses(piece, target.panel)
        room_first, room_other = saw.room(target.panel)
        for pose in poses_on[target.panel]:
            offers: list[tuple[tuple[int, int, int], Cell | Band | Filled]] = []
            for band in target.bands:
                slack = band.first - pose.first
                if slack < 0:
                    continue
                for cell in band.cells:
                    left = band.first - cell.used - pose.first
                    if cell.other == pose.other and left >= 0:
                        offers.append(((0, left, index), cell))
                if band.used + pose.other <= room_other:
                    level = 1 if slack * of <= share * band.first else 3
                    offers.append(((level, slack * pose.other, index), band))
            if target.used + pose.first <= room_first:
                offers.append(((2, pose.first * (room_other - pose.other), index), target))
            for rank, place in offers:
                if best is None or rank < best:
                    best, home = rank, (place, pose)
    if home is None:
        return False
    place, pose = home
    if isinstance(place, Cell):
        _into_cell(place, piece, pose)
    elif isinstance(place, Band):
        _into_band(place, piece, pose)
    else:
        _open_band(place, piece, pose)
    return True


def _into_cell(cell: Cell, piece: Piece, pose: Pose) -> None:
    cell.pieces.append((piece, pose))
    cell.used += pose.first


def _into_band(band: Band, piece: Piece, pose: Pose) -> None:
    cell = Cell(pose.other)
    _into_cell(cell, piece, pose)
    band.cells.append(cell)
    band.used += pose.other


def _open_band(target: Filled, piece: Piece, pose: Pose) -> None:
    band = Band(pose.first)
    _into_band(band, piece, pose)
    target.bands.append(band)
    target.used += pose.first

"""Panels filled with pieces in bands, so that every cut goes straight through.

A panel is divided into bands one after another along its first direction; a band into cells along the
other; a cell holds pieces one after another along the first direction again. Three stages of sawing; a
piece smaller across than its cell is trimmed when it is free. With the first direction y the bands are
strips ripped from the sheet and then crosscut; with x they are lengths crosscut from a board and then
ripped.

Every size here has one kerf added, and so has the room on the panel: pieces then simply add up.
"""

from __future__ import annotations

from dataclasses import dataclass, field

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

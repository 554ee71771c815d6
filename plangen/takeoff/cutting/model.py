"""The records of cutting: what is wanted, what there is, and how to saw one out of the other."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, TypeAlias

Direction: TypeAlias = Literal["x", "y"]
Aim: TypeAlias = Literal["stock", "settings", "off-cut"]


@dataclass(frozen=True, slots=True)
class Piece:
    """A rectangle to be cut, ``number`` times.

    ``may_turn`` lets its length lie along y. ``least_width``, where given, is smaller than ``width``:
    on a panel whose usable width lies between the two the piece takes the whole width and needs no rip.
    All pieces with the same ``together``, where it is not empty, come out of one panel.
    """

    name: str
    length: int
    width: int
    number: int = 1
    may_turn: bool = False
    least_width: int | None = None
    together: str = ""

    @property
    def narrowest(self) -> int:
        """The least width that will do."""
        return self.width if self.least_width is None else self.least_width


@dataclass(frozen=True, slots=True)
class Panel:
    """A board or sheet that can be had; ``cost`` weighs one kind against another.

    ``available`` is how many there are; None where as many can be bought as are wanted.
    """

    name: str
    length: int
    width: int
    cost: Fraction = Fraction(1)
    available: int | None = None


@dataclass(frozen=True, slots=True)
class Margins:
    """How far in from each edge pieces may lie: ends that check, edges that are knocked about.

    The left and low margins are sawn off first and hold that cut's kerf, so each is zero or more than
    one kerf.
    """

    left: int = 0
    right: int = 0
    low: int = 0
    high: int = 0


@dataclass(frozen=True, slots=True)
class Sawing:
    """How the shop saws.

    ``prefer`` says what counts first among plans: the cost of the stock, the number of different
    settings of fence and stop, or the largest single off-cut. ``bench`` is the largest piece (longer
    side, shorter side) that goes over the saw bench; whatever is larger is divided by a hand-held saw
    along a rail of length ``guide`` (None: as long as wanted). ``first`` is the way the saw has to
    travel in the first stage of a sheet; None leaves it open.
    """

    kerf: int
    margins: Margins = Margins()
    prefer: tuple[Aim, ...] = ("stock", "settings", "off-cut")
    bench: tuple[int, int] | None = None
    guide: int | None = None
    first: Direction | None = None


@dataclass(frozen=True, slots=True)
class Laid:
    """A piece where it lies on its panel; ``length`` is along x as it lies."""

    name: str
    x: int
    y: int
    length: int
    width: int
    turned: bool


@dataclass(frozen=True, slots=True)
class Cut:
    """One pass of the saw, straight through the piece it divides.

    ``along`` is the way the saw travels. The cut takes from ``position`` to ``position + kerf``
    (less where the piece ends before that) and runs from ``low`` to ``high``. ``at`` is the size it
    leaves on its low side: what a fence or stop is set to. ``by`` tells whether the piece that it divides
    goes over the saw bench, or is so large that a hand-held saw makes the cut.
    """

    along: Direction
    position: int
    low: int
    high: int
    at: int
    by: Literal["bench", "hand"] = "bench"


@dataclass(frozen=True, slots=True)
class Rest:
    """A rectangle left over when all cuts are made."""

    x: int
    y: int
    length: int
    width: int


@dataclass(frozen=True, slots=True)
class Layout:
    """One panel with its pieces, its cuts in the order of sawing, and what is left over."""

    panel: Panel
    pieces: tuple[Laid, ...]
    cuts: tuple[Cut, ...]
    rests: tuple[Rest, ...]

    @property
    def used(self) -> Fraction:
        """The share of the panel's area that becomes pieces."""
        area = sum(piece.length * piece.width for piece in self.pieces)
        return Fraction(area, self.panel.length * self.panel.width)


@dataclass(frozen=True, slots=True)
class Bound:
    """A number of panels that no plan can do with fewer than, and why.

    ``area``: the pieces with their kerfs need ``need`` of area, the largest panel has ``have``.
    ``lengths`` or ``widths``: ``pieces`` of them can never lie side by side, so that their lengths
    (widths) with kerfs add up to ``need``, and one panel has ``have``. ``pairs``: no two of ``need``
    large pieces come out of one panel. ``mixed``: a weighing of
    sizes that has no shorter words. ``patterns``: every way to fill a panel was weighed (the linear
    relaxation over all patterns, or a complete search).
    """

    number: int
    reason: Literal["area", "lengths", "widths", "pairs", "mixed", "patterns"]
    need: int
    have: int
    pieces: int = 0


@dataclass(frozen=True, slots=True)
class Plan:
    """Layouts that hold every piece, and the bound that says how good they are.

    ``least_cost`` is what no plan can cost less than.
    """

    layouts: tuple[Layout, ...]
    bound: Bound
    least_cost: Fraction

    @property
    def cost(self) -> Fraction:
        """What all panels cost together."""
        return sum((layout.panel.cost for layout in self.layouts), Fraction(0))

    @property
    def proved(self) -> bool:
        """Whether no plan can cost less."""
        return self.cost <= self.least_cost


class TooLargeError(ValueError):
    """A piece fits on none of the panels; carries the piece."""

    def __init__(self, piece: Piece) -> None:
        self.piece = piece
        super().__init__(f"{piece.name}: {piece.length} by {piece.width} fits on no panel")


class TooFewError(ValueError):
    """There are not enough panels; carries a piece that found no place."""

    def __init__(self, piece: Piece) -> None:
        self.piece = piece
        super().__init__(f"{piece.name}: the panels that there are do not hold it as well")


class TogetherError(TooFewError):
    """Pieces that belong together fit on no single panel; carries their common word and one of them."""

    def __init__(self, piece: Piece) -> None:
        super().__init__(piece)
        self.together = piece.together


class GuideTooShortError(ValueError):
    """The rail is shorter than the cuts that free a piece; carries the piece and the rail's length.

    The piece would fit on a panel if the cuts could be made.
    """

    def __init__(self, piece: Piece, guide: int) -> None:
        self.piece = piece
        self.guide = guide
        super().__init__(f"{piece.name}: no panel can be divided by cuts of {guide} so that it comes free")

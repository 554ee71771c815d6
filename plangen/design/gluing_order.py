"""What a glue-up is worked out from: the rules of what is cut over, the size, what is typed, the machine."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Final, Literal

from plangen.description.model import GlueUpEntry
from plangen.design.model import Allowances, Section, Stock
from plangen.design.values import fault, in_words
from plangen.handbook.densities import find_species
from plangen.handbook.lumber import dressed_thickness
from plangen.joinery.operation import Operation
from plangen.joinery.piece import Piece
from plangen.units import ZERO, Length, inches, millimetres

MOST = 100  # boards, layers or strips of one piece


@dataclass(frozen=True, slots=True)
class Rules:
    """What wood is cut over before it is glued, in one system of units. Common practice, no source."""

    length: Length  # of every piece, so that both ends can be squared
    jointing: Length  # of the width of every board that is ripped, so that its edges can be jointed
    section: Length  # of the width of every section, whose edges are jointed again when it is planed
    planing: Length  # of the thickness of the boards of a section, planed off when it is glued
    tape: Length  # rough sizes are rounded up to this
    widest: Length  # the widest board, where the stock lists none: a dressed 1×12 of PS 20, Table 3, dry


# The length is that of I. S. Griffith's bills (1912-1916).
RULES: Final[dict[Literal["inch", "mm"], Rules]] = {
    "inch": Rules(
        inches("1/2"), inches("1/8"), inches("1/8"), inches("1/16"), inches("1/16"), inches("45/4")
    ),
    "mm": Rules(
        millimetres(12), millimetres(3), millimetres(3), millimetres(2), millimetres(1), millimetres(245)
    ),
}


@dataclass(frozen=True, slots=True)
class Size:
    """The finished size of a piece, without what is glued on its edges."""

    length: Length
    width: Length
    thickness: Length

    @classmethod
    def of(cls, piece: Piece, operations: Sequence[Operation]) -> Size:
        """Give the size of a piece as it is cut: its finished blank less what its operations glue on."""
        added = [one for operation in operations for one in operation.adds]
        sizes = [
            piece.finished.size(axis) - sum((one.thickness for one in added if one.side.axis is axis), ZERO)
            for axis in (piece.runs, piece.wide, piece.thick)
        ]
        return cls(*sizes)


@dataclass(frozen=True, slots=True)
class Over:
    """What is typed under ``allowance``."""

    length: Length | None
    width: Length | None
    thickness: Length | None


@dataclass(frozen=True, slots=True)
class GlueOrder:
    """One glue-up to work out: what is typed, for a piece of what size, out of what, by what machine."""

    made: GlueUpEntry
    part: str
    size: Size
    stock: Stock
    planer: Length | None
    over: Over
    units: Literal["inch", "mm"]
    rough: Allowances = field(default_factory=Allowances)

    @property
    def rules(self) -> Rules:
        """The rules of the project's units, the shop's own over them."""
        usual, own = RULES[self.units], self.rough
        return replace(
            usual,
            length=usual.length if own.length is None else own.length,
            jointing=usual.jointing if own.width is None else own.width,
            planing=usual.planing if own.thickness is None else own.thickness,
            tape=own.tape or usual.tape,
        )

    def says(self, length: Length) -> str:
        """Write a length into a message."""
        return in_words(length, self.units)


def rounded_up(length: Length, step: Length) -> Length:
    """Round a length up to a whole number of steps."""
    return step * -(-length.mm // step.mm)


def comes_dressed(stock: Stock) -> bool:
    """Whether boards come planed to their thickness: sold by it, or softwood in a dressed size of PS 20."""
    if stock.label_thickness <= stock.thickness:
        return True
    species = find_species(stock.species)
    soft = species is None or not species.hard
    return soft and dressed_thickness(stock.label_thickness) == stock.thickness


def counted(order: GlueOrder, key: str, number: int, least: int) -> int:
    """Give a typed number of boards, layers, strips or sections. Raises ProjectError ``glue-up``."""
    if not least <= number <= MOST:
        raise fault(
            "glue-up",
            f"{number} {key} are nothing to glue up" if number < least else f"{number} {key} are too many",
            order.made.place_of(key),
            f"give {least} or more" if number < least else f"give {MOST} at most",
            order.part,
        )
    return number


def rough_width(order: GlueOrder, width: Length) -> Length:
    """Give the width to rip: over by what jointing takes, on the tape's next line."""
    return rounded_up(width + order.rules.jointing, order.rules.tape)


def jointed_width(order: GlueOrder, whole: Length, number: int) -> Length:
    """Give the width of each board once it is jointed: a line of the tape, so that they add up as printed.

    What the boards are then together too wide is trimmed off the piece.
    """
    return rounded_up(whole / number, order.rules.tape)


def shared_out(number: int, sections: int, each: Length, rough: Length) -> tuple[Section, ...]:
    """Share the boards out as evenly as they go, the fuller sections first."""
    boards, left = divmod(number, sections)
    counts = [boards + (1 if index < left else 0) for index in range(sections)]
    return tuple(
        Section(index, count, each * count, each, rough) for index, count in enumerate(counts, start=1)
    )

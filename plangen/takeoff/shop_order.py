"""The order in which a shop takes its pieces up: what needs the same stock and fence setting together."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Protocol, TypeVar

from plangen.design.model import Design
from plangen.takeoff.cut_list import mark_order
from plangen.units import Length


class Sized(Protocol):
    """A line of any list of pieces."""

    @property
    def mark(self) -> str:
        """The mark of the part."""

    @property
    def stock(self) -> str:
        """The name of its stock."""

    @property
    def thickness(self) -> Length:
        """As this list has it, like the other sizes."""

    @property
    def width(self) -> Length:
        """Across the grain."""

    @property
    def length(self) -> Length:
        """Along the grain."""


Line = TypeVar("Line", bound=Sized)


def in_shop_order(design: Design, lines: Iterable[Line]) -> tuple[Line, ...]:
    """Sort lines by stock as the file lists it, thick before thin, wide before narrow, long before short.

    Lines of one size stay lines of their own, side by side in the order of marks; those of one mark stay
    in the order in which they came.
    """
    place = {name: index for index, name in enumerate(design.stock)}
    return tuple(
        sorted(
            lines,
            key=lambda line: (
                place[line.stock],
                -line.thickness.mm,
                -line.width.mm,
                -line.length.mm,
                mark_order(line.mark),
            ),
        )
    )

"""Edge banding: the size of a part before it is glued on, and how much of it to buy."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from plangen.design.model import Design, Part
from plangen.joinery.operation import Added
from plangen.joinery.space import Axis
from plangen.takeoff.naming import part_noun
from plangen.takeoff.practice import practice, rounded_up
from plangen.units import ZERO, Length, Phrase, Reading, phrase

WASTE: Final = Fraction(1, 10)  # trimmed off every end and spoiled: common practice, no source


@dataclass(frozen=True, slots=True)
class BandingLine:
    """One line of the banding to buy: as wide as the edges are thick, as long as all of them together."""

    item: str  # a row under ``stock`` or ``hardware``
    title: str
    width: Length  # that of the thickest edge that it goes on
    thickness: Length
    net: Length  # the edges of every piece, end to end
    length: Length  # to buy: with the waste, on the tape's next line
    by: tuple[tuple[str, Length], ...]  # part, length of its edges over all its pieces

    @property
    def words(self) -> Phrase:
        """How wide and how long to buy it, and what the length counts. A caliper reads the width."""
        long = phrase(self.length, " long (", self.net, f" of edges and {float(WASTE * 100):g} % waste)")
        return phrase("at least ", Reading(self.width), " wide, ") + long


def added(part: Part) -> Iterator[Added]:
    """Give all that is glued on the sides of a part."""
    for operation in part.operations:
        yield from operation.adds


def before_banding(part: Part) -> tuple[Length, Length]:
    """Give the length and width to cut a part to, so that with its banding it has its finished size."""
    return part.length - _on(part, part.runs), part.width - _on(part, part.wide)


def banded_length(part: Part, one: Added) -> Length:
    """Give the length of one band: along the grain on an edge, across it on an end, trimmed flush."""
    return part.width if one.side.axis is part.runs else part.length


def banding_length(part: Part) -> Length:
    """Give the length of all the banding of one piece; zero where it has none."""
    return sum((banded_length(part, one) for one in added(part)), ZERO)


def banding_lines(design: Design) -> tuple[BandingLine, ...]:
    """Give a line for every banding used, in the order that the parts use them.

    Bands of one item and another thickness are lines of their own.
    """
    found: dict[tuple[str, Length], dict[str, Length]] = {}
    widths: dict[tuple[str, Length], Length] = {}
    for part in design.parts:
        for one in added(part):
            key = (one.item, one.thickness)
            by, noun = found.setdefault(key, {}), part_noun(part)
            by[noun] = by.get(noun, ZERO) + banded_length(part, one) * len(part.copies)
            widths[key] = max(widths.get(key, ZERO), part.thickness)
    step = practice(design).tape
    lines = []
    for (item, thickness), by in found.items():
        net = sum(by.values(), ZERO)
        lines.append(
            BandingLine(
                item=item,
                title=_title(design, item),
                width=widths[item, thickness],
                thickness=thickness,
                net=net,
                length=rounded_up(net * (1 + WASTE), step),
                by=tuple(by.items()),
            )
        )
    return tuple(lines)


def banded_items(design: Design) -> frozenset[str]:
    """Give the names of all stock and hardware that is used as banding."""
    return frozenset(one.item for part in design.parts for one in added(part))


def _title(design: Design, item: str) -> str:
    if item in design.hardware:
        return design.hardware[item].title
    return design.stock[item].title if item in design.stock else item


def _on(part: Part, axis: Axis) -> Length:
    return sum((one.thickness for one in added(part) if one.side.axis is axis), ZERO)

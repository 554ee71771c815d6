"""What hardware is: what a maker types of it, its sizes, what it lets into the wood, and its shape.

A piece of hardware has axes of its own: ``along`` its length, ``over`` its width and ``out`` of the
face that it is fitted to. Its origin lies in that face, in its middle unless its kind says otherwise.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Annotated, Any, ClassVar, TypeAlias

from pydantic import BeforeValidator, Field

from plangen.expressions import (
    CountKey,
    Entry,
    Expression,
    LengthExpr,
    LengthListText,
    Name,
    NumberExpr,
    Price,
    Text,
    Whole,
    Words,
    YesNo,
)
from plangen.findings import Place
from plangen.units import ZERO, Length, Phrase, phrase

Sizes: TypeAlias = Mapping[str, Length]
Pair: TypeAlias = tuple[Length, Length]


class ScrewsEntry(Entry):
    """``screws: {number: 6, gauge: 6, length: 5/8in}``; ``screws: 6`` takes the usual screw of the kind.

    ``pitch`` is the distance between neighbours in a row, ``inset`` the row's distance from the edge of
    the plate or leaf. Holes are bored only where both are known; else they are marked through the
    hardware itself.
    """

    number: Whole
    gauge: Words | None = None
    length: LengthExpr | None = None
    head: Words | None = None
    pitch: LengthExpr | None = None
    inset: LengthExpr | None = None
    price: Price | None = None
    pack: Whole | None = None
    packs: dict[CountKey, Price] = Field(default_factory=dict)
    included: YesNo | None = None  # they lie in the box with it


def _number_alone(value: Any) -> Any:
    return {"number": value} if isinstance(value, str | int) else value


ScrewsKey = Annotated[
    ScrewsEntry, BeforeValidator(_number_alone, json_schema_input_type=ScrewsEntry | int | str)
]


class HardwareBody(Entry):
    """Keys of everything that is bought by the piece."""

    kind: Words
    title: Words | None = None
    price: Price | None = None
    pack: Whole | None = None
    packs: dict[CountKey, Price] = Field(default_factory=dict)  # pieces in a box: its price
    stock: Name | None = None

    not_lengths: ClassVar[tuple[str, ...]] = ()  # keys with numbers, such as a load

    def lengths(self, scope: Any) -> dict[str, Length]:
        """Give every length that is typed, by its key in the maker's words. Raises ProjectError."""
        found = {}
        for name in type(self).model_fields:
            value = getattr(self, name)
            key = name.replace("_", " ")
            if isinstance(value, Expression) and name not in self.not_lengths:
                found[key] = value.length(scope)
            elif isinstance(value, LengthListText):
                for index, item in enumerate(value.items, 1):
                    found[f"{key} {index}"] = item.length(scope)
        return found


class HardwareEntry(HardwareBody):
    """A thing with no more to it than a size and, where it is fitted, a hole."""

    gauge: Words | None = None  # a screw number, or millimetres
    diameter: LengthExpr | None = None
    length: LengthExpr | None = None
    head: Words | None = None
    bore: LengthExpr | None = None
    depth: LengthExpr | None = None
    width: LengthExpr | None = None
    thickness: LengthExpr | None = None


class BroughtScrew(HardwareEntry):
    """The row of the screws that another row brings; its kind has a usual size for what is not typed."""

    kind: Words = Text("wood screw")
    usual: Words | None = None  # the kind of what brings them


class Screwed(HardwareBody):
    """A thing that is screwed on."""

    screws: ScrewsKey | None = None


class Bearing(HardwareBody):
    """A thing that something stands or runs on."""

    load: NumberExpr | None = None  # kg that one of them carries

    not_lengths: ClassVar[tuple[str, ...]] = ("load",)


@dataclass(frozen=True, slots=True)
class Bored:
    """A hole that it needs: its place from the origin, its diameter and depth (None: right through)."""

    title: str
    along: Length
    over: Length
    diameter: Length
    depth: Length | None
    counterbore: Pair | None = None  # diameter, depth


@dataclass(frozen=True, slots=True)
class LetIn:
    """A recess that it is let into: from low to high each way, its depth, the radius of its corners.

    ``opens``: where the part is no thicker than that, the recess goes right through it.
    """

    title: str
    along: Pair
    over: Pair
    depth: Length
    radius: Length = ZERO
    opens: bool = False


@dataclass(frozen=True, slots=True)
class Block:
    """A box of its shape, mm: (along, over, out) of the low and of the high corner."""

    low: tuple[float, float, float]
    high: tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Turned:
    """A turned piece of its shape, mm: an outline of (distance along its own axis, radius).

    Its axis goes through ``at`` along ``axis``: 0 along, 1 over, 2 out of the face.
    """

    outline: tuple[tuple[float, float], ...]
    axis: int = 2
    at: tuple[float, float, float] = (0.0, 0.0, 0.0)


Form: TypeAlias = Block | Turned


@dataclass(frozen=True, slots=True)
class Screws:
    """The screws that one piece brings: how many, and where they go as far as that is known."""

    name: str  # the row of the screw
    number: int
    places: tuple[Pair, ...] = ()
    more: tuple[Pair, ...] = ()  # on the second of two pieces that it joins
    included: bool = False  # they lie in the box with it, and are not bought


@dataclass(frozen=True, slots=True)
class Ware:
    """Everything about one kind of hardware of a project, worked out.

    ``height`` is how far it holds what stands on it off the floor: from least to most.
    """

    kind: str
    sizes: Sizes
    cuts: tuple[Bored | LetIn, ...] = ()
    screws: Screws | None = None
    shape: tuple[Form, ...] = ()
    height: Pair | None = None
    load: Fraction | None = None  # kg
    cautions: tuple[str, ...] = ()
    say: Phrase = field(default_factory=Phrase)
    place: Place | None = None


@dataclass(frozen=True, slots=True)
class UsualScrew:
    """The screw that a kind takes where the maker says only how many: common practice, no source."""

    gauge_inch: str
    gauge_mm: str
    length_inch: str
    length_mm: str


def no_defaults(_entry: Any, _sizes: Sizes, _metric: bool) -> Mapping[str, str]:
    """Say that nothing of the kind has a usual size."""
    return {}


def no_forms(_entry: Any, _sizes: Sizes) -> tuple[Form, ...]:
    """Say that the kind has no shape to draw."""
    return ()


def no_cuts(_entry: Any, _sizes: Sizes) -> tuple[Bored | LetIn, ...]:
    """Say that the kind is let into nothing."""
    return ()


def no_places(_entry: Any, _sizes: Sizes) -> tuple[Pair, ...]:
    """Say that its screws are marked through it."""
    return ()


@dataclass(frozen=True, slots=True)
class HardwareKind:
    """One kind of hardware.

    ``needs`` are the keys that must be typed, ``defaults`` what the others are worth, in words as a
    maker would type them. ``size`` says its size for lists, ``cuts`` what it is let into, ``places``
    and ``more`` where its screws go, ``height`` how far it lifts what it is under, ``forms`` its
    shape. ``says`` is how it is fitted. ``wrong`` names a key whose size can not be, and why.
    ``tools`` are named in lists as they stand. ``in_pairs``: one works on another, so that the two are
    fitted at one time.
    """

    name: str
    title: str
    entry: type[HardwareBody]
    size: Callable[[Any, Sizes], Phrase]
    needs: tuple[str, ...] = ()
    defaults: Callable[[Any, Sizes, bool], Mapping[str, str]] = no_defaults
    cuts: Callable[[Any, Sizes], tuple[Bored | LetIn, ...]] = no_cuts
    places: Callable[[Any, Sizes], tuple[Pair, ...]] = no_places
    more: Callable[[Any, Sizes], tuple[Pair, ...]] = no_places
    height: Callable[[Any, Sizes], Pair | None] = lambda _entry, _sizes: None
    forms: Callable[[Any, Sizes], tuple[Form, ...]] = no_forms
    wrong: Callable[[Any, Sizes], tuple[str, str, str] | None] = lambda _entry, _sizes: None
    screw: UsualScrew | None = None
    cautions: tuple[str, ...] = ()
    says: str = ""
    also_called: tuple[str, ...] = ()
    in_pairs: bool = False
    tools: tuple[str, ...] = ()  # what putting it on takes, besides its holes and its screws


def by(*sizes: Length | str) -> Phrase:
    """Say sizes with a cross between them; words stand as they are."""
    words = phrase()
    for index, size in enumerate(sizes):
        words += (phrase(" × ") if index and not isinstance(size, str) else phrase()) + phrase(size)
    return words


def grid(length: Length, width: Length, inset: Length) -> tuple[Pair, ...]:
    """Give four places in the corners of a plate, so far from its edges, about its middle."""
    along, over = length / 2 - inset, width / 2 - inset
    return ((-along, -over), (-along, over), (along, -over), (along, over))


def in_row(number: int, pitch: Length, over: Length) -> tuple[Pair, ...]:
    """Give places in a row along it, about its middle."""
    first = pitch * Fraction(1 - number, 2)
    return tuple((first + pitch * index, over) for index in range(number))

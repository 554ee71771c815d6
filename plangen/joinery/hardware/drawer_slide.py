"""A drawer slide that goes on the side of the drawer: two members that run in each other."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, ClassVar

from plangen.expressions import LengthExpr, LengthList
from plangen.joinery.hardware.ware import (
    Bearing,
    Block,
    Form,
    HardwareKind,
    Pair,
    Screwed,
    Sizes,
    UsualScrew,
    by,
)
from plangen.units import ZERO, Phrase, phrase


class DrawerSlide(Screwed, Bearing):
    """``runner: {kind: drawer slide, length: 450mm, thickness: 12.7mm, height: 45mm, travel: 450mm}``.

    ``thickness`` is the room it takes between the drawer and the carcase. ``holes`` are the screw
    holes of the member on the carcase, ``drawer holes`` of that on the drawer, each counted along the
    middle line from the front end of the slide.
    """

    length: LengthExpr | None = None
    thickness: LengthExpr | None = None
    height: LengthExpr | None = None
    travel: LengthExpr | None = None
    holes: LengthList | None = None
    drawer_holes: LengthList | None = None

    not_lengths: ClassVar[tuple[str, ...]] = ("load",)


def _defaults(_entry: Any, _sizes: Sizes, metric: bool) -> Mapping[str, str]:
    """1/2 in of room each side, 45 mm high, out by its own length: common practice, no source."""
    return {"thickness": "12.7mm" if metric else "1/2in", "height": "45mm", "travel": "length"}


def _holes(key: str) -> Callable[[Any, Sizes], tuple[Pair, ...]]:
    """The holes of one member, by their distance from the front end."""

    def places(_entry: Any, sizes: Sizes) -> tuple[Pair, ...]:
        return tuple((value, ZERO) for name, value in sizes.items() if name.rpartition(" ")[0] == key)

    return places


def _wrong(entry: DrawerSlide, sizes: Sizes) -> tuple[str, str, str] | None:
    for key in ("holes", "drawer holes"):
        places = _holes(key)(entry, sizes)
        if any(at >= sizes["length"] for at, _ in places):
            return key, "a hole lies beyond the end of the slide", "count from its front end"
        if places and entry.screws is None:
            return key, "no screws are listed for its holes", "add `screws: …`, for both members together"
        if places and entry.screws is not None and len(places) * 2 != entry.screws.number:
            return (
                "screws",
                f"it has {entry.screws.number} screws for both members, and {len(places)} {key}",
                "give twice as many screws as a member has holes that take one",
            )
    return None


def _forms(_entry: Any, sizes: Sizes) -> tuple[Form, ...]:
    half, up, thick = float(sizes["length"]) / 2, float(sizes["height"]) / 2, float(sizes["thickness"])
    return (
        Block((-half, -up, 0.0), (half, up, thick * 0.45)),
        Block((-half, -up * 0.7, thick * 0.45), (half, up * 0.7, thick)),
    )


def _size(_entry: Any, sizes: Sizes) -> Phrase:
    return by(sizes["length"]) + phrase(" long, ", sizes["thickness"], " thick")


KIND = HardwareKind(
    "drawer slide",
    "Drawer slide",
    DrawerSlide,
    _size,
    needs=("length",),
    defaults=_defaults,
    places=_holes("holes"),
    more=_holes("drawer holes"),
    forms=_forms,
    wrong=_wrong,
    screw=UsualScrew("6", "3.5mm", "1/2in", "12mm"),
    cautions=("pinch",),
    says="Screw one member to the drawer and the other to the carcase, and run the one into the other.",
)

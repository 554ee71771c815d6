"""Hardware on one part in steps: a fit with the screws that it brings, where and when it goes on."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

from plangen.design.model import Copy, Design, Fit
from plangen.joinery.hardware import HARDWARE_KINDS
from plangen.joinery.operation import Feature, Form
from plangen.joinery.space import Axis, Box, Point
from plangen.sequence.assembly import Assembly
from plangen.sequence.tokens import hardware_token, phrase_text
from plangen.sequence.words import copies_counted, plural
from plangen.units import Length, millimetres

_WALL_WORDS: Final = ("wall", "anchor", "anti-tip")


def is_wall_hardware(design: Design, item: str) -> bool:
    """Whether a piece of hardware holds the work to a wall."""
    hardware = design.hardware.get(item)
    words = f"{hardware.kind} {hardware.title} {item}".lower() if hardware else item.lower()
    return any(word in words for word in _WALL_WORDS)


def holds_upright(design: Design, item: str) -> bool:
    """Whether a piece of hardware only keeps the work, which stands by itself, from tipping over."""
    return item in design.hardware and "anti-tip" in design.hardware[item].kind


def brings(fit: Fit, other: Fit) -> bool:
    """Whether another fit is the screws that the hardware of a fit brings."""
    return other.name == f"{fit.name} screws" and other.place == fit.place and other.copies == fit.copies


def families(fits: Sequence[Fit]) -> tuple[tuple[Fit, ...], ...]:
    """Give each fit with the screws that it brings after it."""
    brought = {other.name for fit in fits for other in fits if brings(fit, other)}
    return tuple(
        (fit, *(other for other in fits if brings(fit, other))) for fit in fits if fit.name not in brought
    )


def fits_named(design: Design, names: Iterable[str]) -> tuple[Fit, ...]:
    """Give the fits of some names, in the order of the design."""
    wanted = frozenset(names)
    return tuple(fit for fit in design.fits if fit.name in wanted)


def home_of(assembly: Assembly, fit: Fit) -> str | None:
    """Give the key of the one assembly that all pieces of a fit are directly in; None: the whole."""
    homes = {assembly.home(copy) for copy in fit.copies}
    return homes.pop() if len(homes) == 1 else None


def fits_within(design: Design, assembly: Assembly, key: str | None) -> dict[str, tuple[str, ...]]:
    """Give for each item that is fitted where an assembly, or the whole, is built the names of its fits.

    Screws stand with what brings them; what holds the work to a wall goes on when all is finished. What
    works on its like in another assembly is in none: the two go on in one step.
    """
    found: dict[str, tuple[str, ...]] = {}
    paired = {name for names in mated_fits(design, assembly).values() for name in names}
    for family in families(design.fits):
        first = family[0]
        if first.name in paired or is_wall_hardware(design, first.hardware.item):
            continue
        if home_of(assembly, first) == key:
            item = first.hardware.item
            found[item] = (*found.get(item, ()), *(fit.name for fit in family))
    return found


def mated_fits(design: Design, assembly: Assembly) -> dict[str, tuple[str, ...]]:
    """Give for each item that works on its like, as magnets do, the names of its fits that are apart."""
    found: dict[str, list[Fit]] = {}
    for fit in design.fits:
        row = design.hardware.get(fit.hardware.item)
        kind = HARDWARE_KINDS.get(row.ware.kind) if row is not None and row.ware is not None else None
        if kind is not None and kind.in_pairs:
            found.setdefault(fit.hardware.item, []).append(fit)
    return {
        item: tuple(fit.name for fit in fits)
        for item, fits in found.items()
        if len({home_of(assembly, fit) for fit in fits}) > 1
    }


def closed_in(design: Design, fit: Fit) -> tuple[tuple[str, str], ...]:
    """Give each piece of a fit that is bored right through, with what comes to lie behind the hole.

    Such hardware has to be on before: its screw goes in from behind. What holds the work to a wall goes in
    from the front, through all that lies behind.
    """
    if is_wall_hardware(design, fit.hardware.item):
        return ()
    copies = design.copies
    found: dict[tuple[str, str], None] = {}
    for name in fit.copies:
        copy, part = copies[name], design.part_of[name]
        if copy.stance is not None:
            continue
        for operation in part.operations:
            for feature in operation.features if operation.joint == fit.name else ():
                if feature.form is Form.HOLE and feature.depth is None and feature.way is None:
                    behind = _behind(part.blank, feature, copy)
                    found.update({
                        (name, other): None
                        for other, there in copies.items()
                        if other != name and there.stance is None and not there.box.overlap(behind).empty
                    })  # fmt: skip
    return tuple(found)


def _behind(blank: Box, feature: Feature, copy: Copy) -> Box:
    """Give what is right behind the far end of a hole, in the frame: as wide as it, and 1 mm deep."""
    radius = (feature.diameter or millimetres(2)) / 2
    out, deep = feature.side.opposite, millimetres(1)

    def reach(axis: Axis) -> tuple[Length, Length]:
        if axis is not out.axis:
            middle = feature.span(axis).low
            return middle - radius, middle + radius
        face = blank.side(out)
        return (face, face + deep) if out.sign > 0 else (face - deep, face)

    low, high = zip(*(reach(axis) for axis in Axis), strict=True)
    return copy.pose.box(Box(Point(*low), Point(*high)))


def hung_fits(design: Design) -> tuple[str, ...]:
    """Give the names of the fits that hold the work to a wall, each with its screws."""
    return tuple(
        fit.name
        for family in families(design.fits)
        if is_wall_hardware(design, family[0].hardware.item)
        for fit in family
    )


def fitted_nouns(design: Design, names: Sequence[str]) -> list[str]:
    """Name in a heading what is fitted, each item once; the screws that come with it are not said."""
    counts: dict[str, int] = {}
    for first, *_ in families(fits_named(design, names)):
        counts[first.hardware.item] = counts.get(first.hardware.item, 0) + first.hardware.number
    return [plural(item, number) for item, number in counts.items()]


def fit_sayings(design: Design, names: Sequence[str]) -> list[str]:
    """Say of each item what it goes on, how, and with which screws; fits of one item are said together."""
    alike: dict[tuple[str, str, str], list[tuple[Fit, ...]]] = {}
    for family in families(fits_named(design, names)):
        screws = family[1].hardware.item if len(family) > 1 else ""
        key = (family[0].hardware.item, phrase_text(family[0].say).strip(), screws)
        alike.setdefault(key, []).append(family)
    return [_said(design, item, how, some) for (item, how, _), some in alike.items()]


def _said(design: Design, item: str, how: str, some: Sequence[tuple[Fit, ...]]) -> str:
    number = sum(family[0].hardware.number for family in some)
    screws = [fit.hardware for family in some for fit in family[1:]]
    hardware = design.hardware.get(item)
    own = hardware is not None and hardware.ware is not None and hardware.ware.say == some[0][0].say
    said = [how if own else "".join(map(str, some[0][0].say.pieces)).strip()] if how else []
    if own or not how:  # the maker's own words say where it goes
        on = copies_counted(design, [copy for family in some for copy in family[0].copies])
        said.insert(0, f"Fit {hardware_token(item, number)} to {on}.")
    if screws:
        said.append(
            f"Screw {'it' if number == 1 else 'them'} on with "
            f"{hardware_token(screws[0].item, sum(use.number for use in screws))}."
        )
    return " ".join(said)

"""Glue by the glued area, finish by the surface and its coats, and how many bottles and cans that makes."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Final, Literal

from plangen.design.model import Consumable, Design, Money
from plangen.takeoff.areas import finish_area, glue_areas
from plangen.takeoff.glues import glues_used
from plangen.takeoff.model import ConsumableLine
from plangen.takeoff.plan_words import counted, figures
from plangen.takeoff.practice import SQUARE_FOOT
from plangen.units import EachWay, Phrase, phrase

# A litre or a kilogram of wood glue, brushed or rolled on one of the two faces with what is squeezed out
# and what stays in the bottle, does 5 m2: common practice, no source.
GLUE_COVERS: Final[dict[Literal["volume", "mass"], Fraction]] = {
    "volume": Fraction(5 * 10**6, 10**6),  # mm2 for 1 mm3
    "mass": Fraction(5 * 10**6, 1000),  # mm2 for 1 g
}
ABRASIVES: Final = "Abrasives, brushes, rags and solvents are left to the maker."
_INCH3: Final = Fraction(254, 10) ** 3
_FLUID_OUNCE: Final = Fraction(231, 128) * _INCH3
_OUNCE: Final = Fraction(45359237, 1_600_000)  # g
_UNSAID = "how far it goes is not said"


def consumable_lines(design: Design, currency: str | None) -> tuple[ConsumableLine, ...]:
    """Give a line for every glue that is used, then for every finish that goes on anything.

    A price in another currency than ``currency`` is left out of the line (and reported elsewhere).
    """
    glues = {one.name: one for one in design.glues}
    areas = glue_areas(design)
    lines = []
    for name in dict.fromkeys([*(name for name, _ in glues_used(design)), *areas]):
        area = areas.get(name, Fraction(0))
        lines.append(_line("glue", glues.get(name) or _unlisted(design, name), area, currency))
    for one in design.finishes:
        area = finish_area(design, one.name)
        if area:
            lines.append(_line("finish", one, area, currency))
    return tuple(lines)


def consumable_note(design: Design, lines: tuple[ConsumableLine, ...]) -> Phrase:
    """Say where the figures come from, and what is left to the maker."""
    words = Phrase()
    for note in _notes(design, lines):
        words += phrase(" ", note) if words else note
    return words


def _notes(design: Design, lines: tuple[ConsumableLine, ...]) -> Iterator[Phrase]:
    if any(line.kind == "glue" and line.assumed for line in lines):
        yield phrase(
            "Glue is counted at ",
            EachWay(
                "51 square feet of one face to the quart, or 24 to the pound",
                "5 m² of one face to the litre or the kilogram",
            ),
            ", with what is squeezed out: common practice.",
        )
    if any(line.kind == "finish" for line in lines):
        bare = [part.mark for part in design.parts if part.finish == ()]
        yield phrase(
            "Finish goes on every face of every part that no joint covers"
            + (f", none on {', '.join(dict.fromkeys(bare))}" if bare else "")
            + "; nothing is added for what stays in the brush."
        )
    elif not design.finishes:
        yield phrase("The finish is not described, and is left to the maker.")
    yield phrase(ABRASIVES)


def _unlisted(design: Design, name: str) -> Consumable:
    """Give a glue that a joint names and the shop does not."""
    place = next((joint.place for joint in design.joints if joint.glue == name), design.parts[0].place)
    title = f"{name[:1].upper()}{name[1:]}"
    return Consumable(name, title, "bottle", 1, None, None, "volume", "", "", None, place)


def _line(
    kind: Literal["glue", "finish"], one: Consumable, area: Fraction, currency: str | None
) -> ConsumableLine:
    assumed = one.covers is None and kind == "glue"
    covers = GLUE_COVERS[one.measure] if assumed else one.covers
    amount = area * one.coats / covers if covers is not None else None
    number = left = cost = None
    if amount is not None and one.holds is not None:
        number = max(1, int(-(-amount // one.holds)))  # glue for plugs alone has no area
        left = number * one.holds - amount
        if one.price is not None and one.price.currency == currency:
            cost = Money(one.price.amount * number, one.price.currency)
    return ConsumableLine(
        kind=kind,
        item=one.name,
        title=one.title,
        area=area,
        coats=one.coats,
        amount=amount,
        measure=one.measure,
        number=number,
        left=left,
        cost=cost,
        assumed=assumed,
        words=_words(kind, one, area, amount, number),
    )


def _words(
    kind: Literal["glue", "finish"],
    one: Consumable,
    area: Fraction,
    amount: Fraction | None,
    number: int | None,
) -> Phrase:
    words = phrase(area_words(area), " of joints") if kind == "glue" else phrase(area_words(area))
    if kind == "finish":
        words = phrase(f"{counted(one.coats, 'coat')} of ", words)
    words += phrase(", ", amount_words(amount, one.measure) if amount is not None else _UNSAID)
    if number is not None:
        words += phrase(f": {number} {one.container}{'' if number == 1 else 's'} of {one.holds_words}")
    return words


def area_words(area: Fraction) -> EachWay:
    """Print an area (mm2) in square feet and in square metres, as it is printed everywhere."""
    return EachWay(f"{_short(area / SQUARE_FOOT, 1)} sq ft", f"{_short(area / 10**6, 2)} m²")


def amount_words(amount: Fraction, measure: Literal["volume", "mass"]) -> EachWay:
    """Print an amount (mm3 or g) in either system, never less than it is."""
    if measure == "mass":
        metric = f"{_up(amount, 0)} g" if amount < 1000 else f"{_up(amount / 1000, 2)} kg"
        return EachWay(f"{_up(amount / _OUNCE, 1)} oz", metric)
    litres = amount / 10**6
    metric = f"{_up(litres * 1000, 0)} ml" if litres < 1 else f"{_up(litres, 2)} l"
    ounces = amount / _FLUID_OUNCE
    inch = f"{_up(ounces, 1)} fl oz" if ounces < 32 else f"{_up(ounces / 32, 2)} qt"
    return EachWay(inch, metric)


def _up(value: Fraction, places: int) -> str:
    """Print a number to so many places at most, rounded up, without idle zeros."""
    return _short(Fraction(-(-value * 10**places // 1), 10**places), places)


def _short(value: Fraction, places: int) -> str:
    """Print a number to so many places at most, without idle zeros."""
    return figures(value, places).rstrip("0").rstrip(".") if places else str(int(value))

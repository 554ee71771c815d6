"""What can be bought of one stock, or stands on the rack: sizes, what one costs, how many there are."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, TypeAlias

from plangen.design.model import Stock
from plangen.findings import Findings
from plangen.handbook.densities import find_species
from plangen.handbook.lumber import board_feet, dressed_thickness, dressed_width
from plangen.takeoff.practice import Practice, rounded_up
from plangen.takeoff.wanted import Wanted
from plangen.units import Length, Phrase, inches, phrase

Measure: TypeAlias = Literal["board feet", "length", "number", "money", "area"]
_MOST_SIZES = 12  # kinds of board tried together; more only slow the search


@dataclass(frozen=True, slots=True)
class Goods:
    """One size of board or sheet. ``nominal_width`` is what the yard counts.

    ``cost`` is what one costs in the project's currency, None where nothing says it. ``have`` is how many
    there are: they are not bought; None for what is bought as often as it is wanted.
    """

    length: Length
    width: Length
    nominal_width: Length
    title: Phrase
    cost: Fraction | None = None
    have: int | None = None


def sheet_goods(stock: Stock, currency: str | None) -> list[Goods]:
    """Give every size of sheet that there is; those that are listed one by one, or the one of the stock."""
    found = []
    for offer in stock.offers:
        title = phrase(f"{stock.title} ", stock.label, ", ", offer.width, " × ", offer.length)
        cost = _cost(
            offer.price.amount if offer.price and offer.price.currency == currency else None, offer.have
        )
        found.append(
            Goods(offer.length, offer.width, offer.width, _on_rack(title, offer.have), cost, offer.have)
        )
    if not found and stock.sheet is not None:
        width, length = stock.sheet
        price = stock.price.amount if stock.price and stock.price.currency == currency else None
        title = phrase(f"{stock.title} ", stock.label, ", ", width, " × ", length)
        found.append(Goods(length, width, width, title, price))
    return found


def board_goods(
    stock: Stock, pieces: Sequence[Wanted], rules: Practice, currency: str | None, findings: Findings
) -> list[Goods]:
    """Give every size of board that can be asked for, narrow and short ones first, then those listed singly.

    Of random widths one is sure of the least; wider ones are asked for where a piece wants them. Adds the
    warning ``assumed-board-sizes``.
    """
    goods = []
    if stock.widths or stock.lengths or not stock.offers:
        goods = _by_widths(stock, pieces, rules, currency, findings)
    for offer in stock.offers:
        nominal = nominal_width(stock, offer.width)
        price = offer.price.amount if offer.price and offer.price.currency == currency else None
        title = phrase(
            f"{stock.title} ", _name(stock, offer.width, nominal), ", ", offer.width, " wide, ",
            offer.length, " long",
        )  # fmt: skip
        goods.append(
            Goods(
                offer.length, offer.width, nominal, _on_rack(title, offer.have),
                _cost(price, offer.have), offer.have,
            )
        )  # fmt: skip
    return goods


def _cost(price: Fraction | None, have: int | None) -> Fraction | None:
    return Fraction(0) if price is None and have is not None else price


def _on_rack(title: Phrase, have: int | None) -> Phrase:
    return title if have is None else title + phrase(", from the rack")


def _by_widths(
    stock: Stock, pieces: Sequence[Wanted], rules: Practice, currency: str | None, findings: Findings
) -> list[Goods]:
    if not stock.widths or not stock.lengths:
        missing = " and ".join(
            word for word, given in (("widths", stock.widths), ("lengths", stock.lengths)) if not given
        )
        findings.warning(
            "assumed-board-sizes",
            f"{stock.name} lists no {missing} of its boards; common ones are taken",
            stock.place,
            f"list the {missing} that can be bought",
        )
    widths, random = stock.widths or rules.widths, stock.random_widths and bool(stock.widths)
    if random:
        low, high = min(widths), max(widths)
        step = rules.tape * 4
        asked = {min(rounded_up(piece.width, step), high) for piece in pieces if low < piece.width}
        widths = tuple(sorted({low, *asked}))
    goods = []
    for width in sorted(set(widths)):
        nominal = width if random else nominal_width(stock, width)
        for length in sorted(set(stock.lengths or rules.lengths)):
            least = "at least " if random else ""
            name = _name(stock, width, nominal)
            title = phrase(f"{stock.title} ", name, f", {least}", width, " wide, ", length, " long")
            goods.append(
                Goods(length, width, nominal, title, _priced(stock, nominal, width, length, currency))
            )
    return goods


def _priced(
    stock: Stock, nominal: Length, width: Length, length: Length, currency: str | None
) -> Fraction | None:
    """Give what one board costs by the price of its stock."""
    if stock.price is None or stock.price.currency != currency:
        return None
    amounts: dict[str | None, Fraction] = {
        "piece": Fraction(1),
        "foot": length.inches / 12,
        "metre": length.mm / 1000,
        "cubic metre": length.mm * width.mm * stock.label_thickness.mm / 10**9,
        "board foot": board_feet(stock.label_thickness, nominal, length),
    }
    amount = amounts.get(stock.price_per or "board foot")
    return None if amount is None else amount * stock.price.amount


def _name(stock: Stock, width: Length, nominal: Length) -> Phrase:
    if nominal == width:
        return stock.label
    return phrase(f"{_inches(stock.label_thickness)}×{_inches(nominal)}")


def _inches(length: Length) -> str:
    whole, rest = divmod(length.inches, 1)
    return f"{whole}" if not rest else f"{whole}-{rest}" if whole else f"{rest}"


def nominal_width(stock: Stock, width: Length) -> Length:
    """Give the width that the yard counts: the nominal one for softwood dressed to PS 20, else the width."""
    species = find_species(stock.species)
    if species is None or species.hard or dressed_thickness(stock.label_thickness) != stock.thickness:
        return width
    names = (inches(nominal) for nominal in range(2, 17))
    return next((nominal for nominal in names if dressed_width(nominal) == width), width)


def fewer(goods: Sequence[Goods], pieces: Sequence[Wanted], lost: Sequence[Length]) -> list[Goods]:
    """Keep few enough sizes to search among.

    Those on the rack stay, and of each width the longest and the shortest that holds the longest piece.
    ``lost`` is what ends and defects take of the length of each.
    """
    if len(goods) <= _MOST_SIZES:
        return list(goods)
    need = max(piece.length for piece in pieces)
    kept = {index for index, one in enumerate(goods) if one.have is not None}
    for width in sorted({one.width for one in goods}):
        same = [index for index, one in enumerate(goods) if one.width == width and one.have is None]
        same.sort(key=lambda index: goods[index].length)
        enough = [index for index in same if goods[index].length - lost[index] >= need]
        kept.update(enough[:1] + same[-1:])
    return [goods[index] for index in sorted(kept)]


def weigh(stock: Stock, goods: Sequence[Goods]) -> tuple[Measure, list[Fraction]]:
    """Weigh sizes against each other by what is paid for; boards of the maker's own weigh nothing.

    Sizes with prices of their own are weighed by those where all have one.
    """
    solid = stock.kind == "solid"
    if stock.offers and all(one.cost is not None for one in goods) and any(one.cost for one in goods):
        return "money", [one.cost or Fraction(0) for one in goods]
    if not solid:
        measure: Measure = "area" if stock.offers else "number"
    elif stock.price and stock.price_per == "piece":
        measure = "number"
    else:
        measure = "length" if stock.price and stock.price_per in ("foot", "metre") else "board feet"
    return measure, [Fraction(0) if one.have is not None else _weight(stock, one, measure) for one in goods]


def _weight(stock: Stock, goods: Goods, measure: Measure) -> Fraction:
    if measure == "number":
        return Fraction(1)
    if measure == "length":
        return goods.length.mm
    if measure == "area":
        return goods.length.mm * goods.width.mm
    return board_feet(stock.label_thickness, goods.nominal_width, goods.length)


def sound_length(length: Length, stock: Stock, rules: Practice) -> Length:
    """Give the length of a board that is counted on, defects left out, down to what a tape shows."""
    if not stock.defects:
        return length
    return rules.tape * ((length * (1 - stock.defects)).mm // rules.tape.mm)

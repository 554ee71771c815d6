"""The cost table: what has a price, and by name what has none."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Literal

from plangen.design.model import Design, Money
from plangen.findings import Findings, Place
from plangen.handbook.currencies import payable
from plangen.takeoff.banding import BandingLine, banding_lines
from plangen.takeoff.model import ConsumableLine, CostLine, HardwareLine, StockPlan, WasteRule
from plangen.takeoff.naming import stock_words
from plangen.takeoff.plan_words import counted, taken_words
from plangen.units import LengthStyle, Phrase, phrase

Kind = Literal["wood", "hardware", "banding", "glue", "finish"]

_SHEET_PRICES = ("sheet", "piece")
_BOARD_PRICES = ("board foot", "piece", "foot", "metre", "cubic metre")


def currency_of(design: Design, findings: Findings) -> str | None:
    """Give the project's currency, or that of most prices; error ``mixed-currencies`` for others."""
    priced = list(_prices(design))
    counts = Counter(code for code, _, _ in priced)  # of equals the first counts most
    currency = design.project.currency or (counts.most_common(1)[0][0] if counts else None)
    others = [entry for entry in priced if entry[0] != currency]
    if others:
        seen = ", ".join(dict.fromkeys(code for code, _, _ in others))
        findings.error(
            "mixed-currencies",
            f"prices are in {seen} and in {currency}; they cannot be added",
            others[0][1],
            f"give every price in {currency}",
            tuple((place, f"{name} in {code}") for code, place, name in others[1:]),
        )
    return currency


def _prices(design: Design) -> Iterator[tuple[str, Place, str]]:
    """Give the currency of every price, where its row stands, and the name of the row."""
    for stock in design.stock.values():
        listed = [money.currency for money in (stock.price, *(one.price for one in stock.offers)) if money]
        yield from ((code, stock.place, stock.name) for code in dict.fromkeys(listed))
    for item in design.hardware.values():
        codes = [money.currency for money in (item.price, *(price for _, price in item.packs)) if money]
        yield from ((code, item.place, item.name) for code in dict.fromkeys(codes))
    for one in (*design.glues, *design.finishes):
        if one.price:
            yield one.price.currency, one.place, one.name


def cost_lines(
    design: Design,
    plans: Sequence[StockPlan],
    bill: Sequence[HardwareLine],
    consumables: Sequence[ConsumableLine] = (),
    rules: Sequence[WasteRule] = (),
) -> tuple[tuple[CostLine, ...], tuple[str, ...]]:
    """Give the lines of the cost table, and the names of what has no price.

    A stock counts as its cutting plan has it, or by the waste rule where the maker buys by that. Plugs that
    are cut from a stock of the project, and screws that lie in the box with other hardware, cost nothing
    of their own and have no line.
    """
    governing = {rule.stock: rule for rule in rules if rule.governs}
    lines = [_wood_line(design, plan, governing.get(plan.stock)) for plan in plans]
    called = Counter(line.title for line in bill)
    for line in bill:
        item = design.hardware[line.item]
        cut_from_stock = item.stock is not None and item.price is None and not item.packs
        if cut_from_stock or (line.included and not line.bought):
            continue
        title = line.title if called[line.title] == 1 else f"{line.title} ({line.item})"
        lines.append(_line(design, "hardware", line.item, title, phrase(bought_words(line)), line.cost))
    lines += [_banding_line(design, one) for one in banding_lines(design)]
    lines += [_line(design, one.kind, one.item, one.title, one.words, one.cost) for one in consumables]
    unpriced = tuple(dict.fromkeys(line.title for line in lines if line.cost is None))
    return tuple(lines), unpriced


def _wood_line(design: Design, plan: StockPlan, rule: WasteRule | None) -> CostLine:
    stock = design.stock[plan.stock]
    title = stock_words(design, stock.name)
    if rule is not None:
        return _line(design, "wood", stock.name, title, rule.words, rule.cost)
    return _line(design, "wood", stock.name, title, taken_words(plan), plan.cost)


def bought_words(line: HardwareLine) -> str:
    """Say how many of an item are bought, in which packs: ``30 (1 pack of 25, 1 pack of 10)``."""
    number = str(line.count - line.included)
    if line.packs is None:
        return number
    packs = ", ".join(f"{many} pack{'' if many == 1 else 's'} of {size}" for size, many in line.bought)
    return f"{number} ({packs})"


def _banding_line(design: Design, line: BandingLine) -> CostLine:
    """Give the line of banding: by length where its stock is sold so, by the roll where one is known."""
    stock, roll = design.stock.get(line.item), design.hardware.get(line.item)
    words, cost = line.words, None
    if roll is not None and roll.length:
        rolls = int(-(-line.length.mm // roll.length.mm))
        words += phrase(f"; {counted(rolls, 'roll')} of ", roll.length)
        cost = Money(roll.price.amount * rolls, roll.price.currency) if roll.price else None
    if stock is not None and stock.price is not None and stock.price_per in ("foot", "metre"):
        length = line.length.inches / 12 if stock.price_per == "foot" else line.length.mm / 1000
        cost = Money(length * stock.price.amount, stock.price.currency)
    return _line(design, "banding", line.item, line.title, words, cost)


def _line(
    design: Design, kind: Kind, item: str, title: str | Phrase, words: Phrase, cost: Money | None
) -> CostLine:
    own, named = LengthStyle(design.project.units), phrase(title)
    return CostLine(named.text(own), words.text(own), cost, words, kind, item, named)


def report_price_units(design: Design, findings: Findings) -> None:
    """Add the error ``price-unit`` for sheets priced as boards are, and boards priced by the sheet."""
    for stock in design.stock.values():
        sheet = stock.kind == "plywood"
        allowed = _SHEET_PRICES if sheet else _BOARD_PRICES
        if stock.price is None or stock.price_per is None or stock.price_per in allowed:
            continue
        unit = "sheet" if sheet else "bdft" if design.project.units == "inch" else "m3"
        one = {"sheet": "sheet", "bdft": "board foot", "m3": "cubic metre"}[unit]
        findings.error(
            "price-unit",
            f"`{stock.name}` has a price per {stock.price_per}, and it is sold in "
            f"{'sheets' if sheet else 'boards'}",
            stock.place,
            f"give the price of one {one}, and write `{stock.price.currency}/{unit}` behind it",
        )


def total(lines: Sequence[CostLine]) -> Money | None:
    """Add up what has a price, each line rounded as it is paid and printed; None when nothing has one.

    A yard rounds every line of its bill, so the printed lines add up to the printed total, and the total is
    what is paid.
    """
    costs = [line.cost for line in lines if line.cost]
    if not costs:
        return None
    currency = costs[0].currency
    return Money(sum((payable(cost.amount, currency) for cost in costs), Fraction(0)), currency)


def cost_notes(design: Design, lines: Sequence[CostLine], unpriced: Sequence[str]) -> tuple[Phrase, ...]:
    """Say what the total leaves out and how its lines are rounded, and where the prices have no date."""
    notes = []
    if any(line.cost for line in lines):
        if design.project.priced is None:
            notes.append(phrase("The prices have no date: ask again before you buy."))
        notes.append(phrase("Each line is rounded as it is paid, and the total adds up the rounded lines."))
    if unpriced:
        notes.append(phrase(f"Without a price, and not in the total: {', '.join(unpriced)}."))
    finish = "" if design.finishes else "finish, "
    notes.append(phrase(f"No line counts {finish}abrasives, tools, delivery, or tax not in a price."))
    return tuple(notes)

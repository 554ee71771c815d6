"""The cost table: what has a price, and by name what has none."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from plangen.design.model import Design, Hardware, Money, Stock
from plangen.findings import Findings
from plangen.takeoff.banding import BandingLine, banding_lines
from plangen.takeoff.model import CostLine, HardwareLine, StockPlan
from plangen.takeoff.plan_words import counted, figures
from plangen.takeoff.practice import CUBIC_METRE
from plangen.units import EachWay, LengthStyle, Phrase, phrase

_SHEET_PRICES = ("sheet", "piece")
_BOARD_PRICES = ("board foot", "piece", "foot", "metre", "cubic metre")


def currency_of(design: Design, findings: Findings) -> str | None:
    """Give the project's currency, or that of the first price; error ``mixed-currencies`` for others."""
    listed: list[Stock | Hardware] = [*design.stock.values(), *design.hardware.values()]
    priced = [(item.price.currency, item.place, item.name) for item in listed if item.price]
    currency = design.project.currency or (priced[0][0] if priced else None)
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


def cost_lines(
    design: Design, plans: Sequence[StockPlan], bill: Sequence[HardwareLine]
) -> tuple[tuple[CostLine, ...], tuple[str, ...]]:
    """Give the lines of the cost table, and the names of what has no price.

    Plugs that are cut from a stock of the project cost nothing of their own and have no line.
    """
    lines = []
    titles = [design.stock[plan.stock].title for plan in plans]
    for plan in plans:
        stock = design.stock[plan.stock]
        number = len(plan.diagrams)
        noun = "board" if plan.board_feet is not None else "sheet"
        words = phrase(f"{number} {noun}{'' if number == 1 else 's'}")
        if plan.board_feet is not None:
            feet = f"{figures(plan.board_feet, 1)} board feet"
            metres = f"{figures(plan.volume / CUBIC_METRE, 3)} m³"
            words += phrase(", ", EachWay(feet, metres))
        title = stock.title if titles.count(stock.title) == 1 else f"{stock.title} ({stock.name})"
        lines.append(_line(design, title, words, plan.cost))
    for line in bill:
        item = design.hardware[line.item]
        if item.stock is not None and item.price is None:
            continue
        quantity = str(line.count)
        if line.packs and item.pack:
            packs = "pack" if line.packs == 1 else "packs"
            quantity = f"{line.count} ({line.packs} {packs} of {item.pack})"
        lines.append(_line(design, line.title, phrase(quantity), line.cost))
    lines += [_banding_line(design, one) for one in banding_lines(design)]
    unpriced = tuple(dict.fromkeys(line.title for line in lines if line.cost is None))
    return tuple(lines), unpriced


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
    return _line(design, line.title, words, cost)


def _line(design: Design, title: str, words: Phrase, cost: Money | None) -> CostLine:
    return CostLine(title, words.text(LengthStyle(design.project.units)), cost, words)


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
    """Add up what has a price; None when nothing has."""
    costs = [line.cost for line in lines if line.cost]
    if not costs:
        return None
    return Money(sum((cost.amount for cost in costs), Fraction(0)), costs[0].currency)

"""The waste rule: what to buy where so much of what is bought is lost.

Waste is a share of what is bought, as a yard means it: of 30 % that is lost 70 % is left, so the need over
0.7 is bought, which is 43 % more than the need and not 30 %.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Literal

from plangen.design.model import Design, Money, Stock
from plangen.handbook.lumber import BOARD_FOOT
from plangen.takeoff.model import StockPlan, WasteRule
from plangen.takeoff.plan_words import figures, taken_words
from plangen.takeoff.practice import CUBIC_METRE
from plangen.units import EachWay, Length, Phrase, inches, phrase

Unit = Literal["board foot", "cubic metre", "board", "sheet"]


def waste_rules(design: Design, plans: Sequence[StockPlan], currency: str | None) -> tuple[WasteRule, ...]:
    """Give what the waste rule would buy of every stock whose plan buys any and that says what is wasted."""
    return tuple(
        waste_rule(stock, stock.waste, plan, currency)
        for plan in plans
        for stock in [design.stock[plan.stock]]
        if stock.waste is not None and plan.bought
    )


def waste_rule(stock: Stock, share: Fraction, plan: StockPlan, currency: str | None) -> WasteRule:
    """Give what the waste rule would buy for all that the cutting plan cuts from boards and sheets it buys.

    The need counts finished sizes at the thickness that is bought. It is rounded up to whole sheets; to whole
    boards of the largest size where a board or its length has the price; to whole board feet, or hundredths
    of a cubic metre, where boards are as they come.
    """
    area = sum((one.used * one.length.mm * one.width.mm for one in plan.bought), Fraction(0))
    unit, each, step = _unit(stock, plan)
    need = area / each
    least = need / (1 - share)
    buy = -(-least // step) * step
    each_costs = _each_costs(stock, plan, unit)
    known = each_costs is not None and each_costs.currency == currency
    cost = Money(each_costs.amount * buy, each_costs.currency) if each_costs is not None and known else None
    governs = stock.buy == "by waste rule"
    words = _words(share, (need, least, buy), unit, each, stock, plan)
    return WasteRule(stock.name, share, need, least, buy, unit, cost, governs, words)


def _largest(plan: StockPlan) -> tuple[Length, Length]:
    return max(((one.length, one.width) for one in plan.bought), key=lambda size: size[0].mm * size[1].mm)


def _unit(stock: Stock, plan: StockPlan) -> tuple[Unit, Fraction, Fraction]:
    """Give what is counted, the area in mm2 that one of it has, and the step it is sold in."""
    length, width = _largest(plan)
    if stock.kind == "plywood":
        return "sheet", length.mm * width.mm, Fraction(1)
    if stock.price_per in ("piece", "foot", "metre") or _own_price(stock, plan) is not None:
        return "board", length.mm * width.mm, Fraction(1)
    if stock.price_per == "cubic metre":
        return "cubic metre", CUBIC_METRE / stock.label_thickness.mm, Fraction(1, 100)
    return "board foot", BOARD_FOOT / max(stock.label_thickness, inches(1)).mm, Fraction(1)


def _own_price(stock: Stock, plan: StockPlan) -> Money | None:
    """Give the price of the largest size that is bought where the sizes have prices of their own."""
    length, width = _largest(plan)
    sizes = [one for one in stock.offers if (one.length, one.width) == (length, width) and one.have is None]
    return next((one.price for one in sizes if one.price is not None), None)


def _each_costs(stock: Stock, plan: StockPlan, unit: Unit) -> Money | None:
    """Give what one unit costs; None without a price."""
    if unit in ("sheet", "board") and (own := _own_price(stock, plan)) is not None:
        return own
    if stock.price is None:
        return None
    length, _ = _largest(plan)
    amounts = {"foot": length.inches / 12, "metre": length.mm / 1000}
    return Money(stock.price.amount * amounts.get(stock.price_per or "", Fraction(1)), stock.price.currency)


def _words(
    share: Fraction,
    sizes: tuple[Fraction, Fraction, Fraction],
    unit: Unit,
    each: Fraction,
    stock: Stock,
    plan: StockPlan,
) -> Phrase:
    def said(number: Fraction, whole: bool = False) -> EachWay | str:
        if unit in ("sheet", "board"):
            text = str(int(number)) if whole else figures(number, 1)
            return f"{text} {unit}{'' if text == '1' else 's'}"
        volume = number * each * stock.label_thickness.mm
        feet = volume * max(Fraction(1), inches(1).mm / stock.label_thickness.mm) / BOARD_FOOT
        by_feet = unit == "board foot"
        return EachWay(
            f"{int(feet) if whole and by_feet else figures(feet, 1)} board feet",
            f"{figures(volume / CUBIC_METRE, 3 if by_feet or not whole else 2)} m³",
        )

    need, least, buy = sizes
    return phrase(
        f"Where {float(share * 100):g} % of what is bought is lost, the need of ", said(need),
        f" over {float(1 - share):g} is ", said(least), ": ",
        "buy " if stock.buy == "by waste rule" else "the rule would buy ", said(buy, True),
        ". The cutting plan buys ", taken_words(plan), ".",
    )  # fmt: skip

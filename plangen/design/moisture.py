"""How much the moisture of wood changes between seasons, as the shop says it."""

from __future__ import annotations

from fractions import Fraction

from plangen.description.model import ShopEntry
from plangen.design.values import fault


def moisture_change(shop: ShopEntry) -> Fraction | None:
    """Give the change in percent of moisture content; None where it is not said. Raises ProjectError."""
    if shop.moisture_change is None:
        return None
    text = str(shop.moisture_change).strip().removesuffix("%").strip()
    try:
        change = Fraction(text)
    except (ValueError, ZeroDivisionError):
        change = None
    if change is None or not 0 <= change <= 100 or "e" in text.lower():
        raise fault(
            "bad-value",
            f"`{shop.moisture_change}` is no change of moisture",
            shop.place_of("moisture_change"),
            "write a percentage such as `4%`",
        )
    return change

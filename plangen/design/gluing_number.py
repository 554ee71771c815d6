"""How many boards a wide piece is glued up from: as few as can be, unless more use the stock much better."""

from __future__ import annotations

from fractions import Fraction

from plangen.design.gluing_order import MOST, GlueOrder, jointed_width, rough_width
from plangen.units import Length


def widest(order: GlueOrder) -> Length:
    """Give the widest board that can be had and that the planer takes."""
    most = max(_widths(order))
    return min(most, order.planer) if order.planer is not None else most


def _widths(order: GlueOrder) -> list[Length]:
    """Give the widths of the boards to be had, on the rack too; the usual widest where none is listed."""
    listed = {*order.stock.widths, *(offer.width for offer in order.stock.offers)}
    return sorted(listed) or [order.rules.widest]


def best_number(order: GlueOrder, whole: Length, sections: int) -> int | None:
    """Give the number of boards of equal width that the stock gives, in sections that the planer takes.

    The fewest, for every joint is work; more only where each joint more saves a tenth of the wood (common
    practice, no source), because the fewest would be ripped from much wider boards. None where no number
    does.
    """
    best: int | None = None
    wood = Fraction(0)
    for number in range(max(2, sections), MOST + 1):
        if not _can_be(order, whole, sections, number):
            continue
        used = _wood(order, whole, number)
        if best is None or used <= wood * (1 - Fraction(number - best, 10)):
            best, wood = number, used
    return best


def _can_be(order: GlueOrder, whole: Length, sections: int, number: int) -> bool:
    each = jointed_width(order, whole, number)
    if rough_width(order, each) > widest(order) or (number > 2 and each < order.size.thickness):
        return False
    return sections == 1 or order.planer is None or each * -(-number // sections) <= order.planer


def _wood(order: GlueOrder, whole: Length, number: int) -> Fraction:
    """Give the width of stock in mm that so many boards use up, each ripped from the narrowest that does."""
    rough = rough_width(order, jointed_width(order, whole, number))
    widths = _widths(order)
    if order.stock.random_widths:
        return max(rough, widths[0]).mm * number  # as wide as is asked for
    return min(width.mm for width in widths if width >= rough) * number

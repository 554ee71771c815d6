"""The hardware bill: counted from the joints and fits, never typed."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Final

from plangen.design.model import Design, Hardware, HardwareUse, Money
from plangen.takeoff.model import HardwareLine
from plangen.takeoff.packs import cheapest

SPARE_NOTE: Final = (
    "Counts are exact, with nothing added for pieces that break or get lost: what is over in a full pack is "
    "the spare."
)


def hardware_uses(design: Design) -> tuple[HardwareUse, ...]:
    """Every use of hardware by joints, then by fits, in the order of the file."""
    of_joints = tuple(use for joint in design.joints for use in joint.hardware)
    return of_joints + tuple(fit.hardware for fit in design.fits)


def hardware_bill(design: Design, currency: str | None) -> tuple[HardwareLine, ...]:
    """Give a line for every item used, in the order the maker listed them, marked from 1 up.

    A price is for one piece; where a pack is known, whole packs are bought and paid; of several sizes of
    pack the cheapest together. Screws that lie in the box with other hardware are not bought. A price in
    another currency than ``currency`` is left out of the line (and reported elsewhere).
    """
    counts: dict[str, dict[str, int]] = {}
    for use in hardware_uses(design):
        by = counts.setdefault(use.item, {})
        by[use.by] = by.get(use.by, 0) + use.number
    totals = {name: sum(by.values()) for name, by in counts.items()}
    lines: list[HardwareLine] = []
    for name, item in design.hardware.items():
        count = totals.get(name, 0)
        if not count:
            continue
        host, included = _included(design, name, totals)
        needed = max(0, count - included)
        boxes = _boxes(item, needed, currency)
        pieces = sum(size * number for size, number in boxes)
        price = item.price if item.price and item.price.currency == currency else None
        lines.append(
            HardwareLine(
                number_mark=len(lines) + 1,
                item=name,
                title=item.title,
                size=item.size,
                count=count,
                packs=sum(number for _, number in boxes) if boxes and (item.pack or item.packs) else None,
                by=tuple(counts[name].items()),
                price=price,
                cost=_cost(item, boxes, price, currency) if needed else None,
                bought=boxes,
                left=pieces - needed,
                included=min(included, count),
                included_with=host,
            )
        )
    return tuple(lines)


def _included(design: Design, name: str, totals: Mapping[str, int]) -> tuple[str, int]:
    """Give the hardware that brings screws of a row in its own box, and how many screws that makes."""
    hosts = [
        (other.name, other.ware.screws.number * totals.get(other.name, 0))
        for other in design.hardware.values()
        if other.ware is not None and other.ware.screws is not None
        if other.ware.screws.included and other.ware.screws.name == name
    ]
    number = sum(number for _, number in hosts)
    return (hosts[0][0] if number else ""), number


def _boxes(item: Hardware, needed: int, currency: str | None) -> tuple[tuple[int, int], ...]:
    """Give the packs to buy: pieces in each, and how many; single pieces are packs of one."""
    if not needed:
        return ()
    priced = [(size, price.amount) for size, price in item.packs if price.currency == currency]
    if priced:
        return cheapest(needed, priced)
    size = item.pack or 1
    return ((size, -(-needed // size)),)


def _cost(
    item: Hardware, boxes: tuple[tuple[int, int], ...], price: Money | None, currency: str | None
) -> Money | None:
    of_packs = {size: money.amount for size, money in item.packs if money.currency == currency}
    if currency is not None and of_packs and all(size in of_packs for size, _ in boxes):
        amount = sum((of_packs[size] * number for size, number in boxes), Fraction(0))
        return Money(amount, currency)
    if price is None:
        return None
    return Money(price.amount * sum(size * number for size, number in boxes), price.currency)

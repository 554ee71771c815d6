"""The hardware bill: counted from the joints and fits, never typed."""

from __future__ import annotations

from fractions import Fraction

from plangen.design.model import Design, HardwareUse, Money
from plangen.takeoff.model import HardwareLine


def hardware_uses(design: Design) -> tuple[HardwareUse, ...]:
    """Every use of hardware by joints, then by fits, in the order of the file."""
    of_joints = tuple(use for joint in design.joints for use in joint.hardware)
    return of_joints + tuple(fit.hardware for fit in design.fits)


def hardware_bill(design: Design, currency: str | None) -> tuple[HardwareLine, ...]:
    """Give a line for every item used, in the order the maker listed them, marked from 1 up.

    A price is for one piece; where a pack is known, whole packs are bought and paid. A price in
    another currency than ``currency`` is left out of the line (and reported elsewhere).
    """
    counts: dict[str, dict[str, int]] = {}
    for use in hardware_uses(design):
        by = counts.setdefault(use.item, {})
        by[use.by] = by.get(use.by, 0) + use.number
    lines: list[HardwareLine] = []
    for name, item in design.hardware.items():
        by = counts.get(name, {})
        count = sum(by.values())
        if not count:
            continue
        packs = -(-count // item.pack) if item.pack else None
        price = item.price if item.price and item.price.currency == currency else None
        bought = packs * item.pack if packs and item.pack else count
        lines.append(
            HardwareLine(
                number_mark=len(lines) + 1,
                item=name,
                title=item.title,
                size=item.size,
                count=count,
                packs=packs,
                by=tuple(by.items()),
                price=price,
                cost=Money(Fraction(price.amount * bought), price.currency) if price else None,
            )
        )
    return tuple(lines)

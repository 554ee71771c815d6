"""How hardware is sold: singly, by the pack, or in packs of several sizes."""

from __future__ import annotations

from plangen.design.model import Money
from plangen.findings import Findings
from plangen.joinery.hardware.ware import HardwareBody


def check_packs(name: str, entry: HardwareBody, findings: Findings) -> None:
    """Add the errors ``zero-size``, ``price-unit`` and ``bad-value`` for sizes of box that cannot be."""
    for number, price in entry.packs.items():
        if number < 1:
            findings.error(
                "zero-size",
                f"`{name}` is sold in packs of {number}",
                entry.place_of("packs"),
                "say how many are in each pack, such as `packs: {25: 4.80 USD, 100: 9.50 USD}`",
            )
        elif price.per is not None:
            findings.error(
                "price-unit",
                f"the price of a pack of {number} `{name}` is for a {price.per}",
                price.place,
                f"give the price of the pack: `{float(price.amount):g} {price.currency}`",
            )
    if entry.packs and entry.pack is not None:
        findings.error(
            "bad-value",
            f"`{name}` says with `pack` and with `packs` how it is sold",
            entry.place_of("pack"),
            f"write the pack of {entry.pack} with its price among the `packs`",
            ((entry.place_of("packs"), "the packs"),),
        )


def packs_of(entry: HardwareBody) -> tuple[tuple[int, Money], ...]:
    """Give the sizes of box from small to large; one piece is a box of one where it has a price."""
    packs = {number: Money(price.amount, price.currency) for number, price in entry.packs.items()}
    if packs and entry.price is not None:
        packs.setdefault(1, Money(entry.price.amount, entry.price.currency))
    return tuple(sorted(packs.items()))


def piece_price(entry: HardwareBody) -> Money | None:
    """The price of one piece: where a pack is known, the price typed is the pack's unless it says piece."""
    if entry.price is None:
        return None
    pieces = entry.pack if entry.pack and entry.price.per != "piece" else 1
    return Money(entry.price.amount / pieces, entry.price.currency)

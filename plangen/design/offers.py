"""Sizes of board and sheet that are sold, each at its own price, or that stand on the rack."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from plangen.description.model import BoardEntry, SheetEntry, StockEntry
from plangen.design.model import Money, Offer
from plangen.expressions import PriceText, Scope
from plangen.findings import Findings
from plangen.handbook.lumber import board_feet
from plangen.units import Length, inches


def make_offers(
    name: str, entry: StockEntry, nominal: Length, scope: Scope, findings: Findings
) -> tuple[Offer, ...]:
    """Give the sizes that a stock lists one by one; ``nominal`` is the thickness that is paid for.

    Adds the errors ``bad-value`` where boards are listed as sheets or the other way round, or the size of a
    sheet stands in two places, and ``zero-size``. Raises ProjectError.
    """
    wrong, right = ("boards", "sheets") if entry.kind == "plywood" else ("sheets", "boards")
    if getattr(entry, wrong):
        findings.error(
            "bad-value",
            f"`{name}` is {'a sheet' if entry.kind == 'plywood' else 'solid wood'}, and lists {wrong}",
            entry.place_of(wrong),
            f"list them as `{right}`",
        )
    if entry.sheet is not None and entry.sheets:
        findings.error(
            "bad-value",
            f"`{name}` gives the size of its sheets with `sheet` and with `sheets`",
            entry.place_of("sheet"),
            f"write `- {{size: {entry.sheet.width.text} x {entry.sheet.length.text}}}` among the `sheets`",
            ((entry.place_of("sheets"), "the sheets"),),
        )
    _report_misplaced(name, entry, findings)
    rows: Sequence[BoardEntry | SheetEntry] = entry.sheets if entry.kind == "plywood" else entry.boards
    offers = []
    for row in rows:
        sides = (row.size.width, row.size.length) if isinstance(row, SheetEntry) else (row.width, row.length)
        width, length = (side.length(scope) for side in sides)
        if width.mm <= 0 or length.mm <= 0:
            findings.error(
                "zero-size",
                f"`{name}` lists a {right.removesuffix('s')} without a size",
                row.place,
                "give what it measures",
            )
        elif row.have is not None and row.have < 1:
            findings.error(
                "zero-size",
                f"`{name}` lists a {right.removesuffix('s')} of which there are {row.have}",
                row.place_of("have"),
                "say how many there are, or take the line out",
            )
        else:
            typed, per = row.price, "piece"
            if typed is None and row.have is None:
                typed, per = entry.price, "sheet" if entry.kind == "plywood" else "board foot"
            price = None if typed is None else price_of_one(typed, per, nominal, width, length)
            offers.append(Offer(width, length, price, row.have))
    return tuple(offers)


def _report_misplaced(name: str, entry: StockEntry, findings: Findings) -> None:
    """Report what boards are told that only sheets have, and the other way round."""
    if entry.kind == "solid" and entry.grain is not None:
        findings.error(
            "bad-value",
            f"`{name}` is solid wood, whose grain runs along the board",
            entry.place_of("grain"),
            "take `grain` out; it is for sheets",
        )
    if entry.kind == "plywood" and entry.defects is not None:
        findings.error(
            "bad-value",
            f"`{name}` is a sheet, and `defects` are what knots and checks take of the length of a board",
            entry.place_of("defects"),
            "take `defects` out, or allow for bad edges with `sheet edges` in `rough` under `shop`",
        )


def price_of_one(price: PriceText, usual: str, nominal: Length, width: Length, length: Length) -> Money:
    """Give what one board or sheet costs whose price is by the piece, its length, surface or volume.

    ``usual`` is what the price is for where it does not say.
    """
    area = width.mm * length.mm
    amounts: dict[str, Fraction] = {
        "board foot": board_feet(nominal, width, length),
        "foot": length.inches / 12,
        "metre": length.mm / 1000,
        "square foot": area / inches(12).mm ** 2,
        "square metre": area / 1_000_000,
        "cubic metre": area * nominal.mm / 10**9,
    }
    return Money(price.amount * amounts.get(price.per or usual, Fraction(1)), price.currency)

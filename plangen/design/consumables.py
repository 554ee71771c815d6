"""Glues and finishes: the maker's rows, how far each goes and how it is sold, checked against each other."""

from __future__ import annotations

from typing import Literal

from plangen.description.model import Description, FinishEntry, GlueEntry
from plangen.design.model import Consumable, Money
from plangen.findings import Findings


def make_glues(description: Description, findings: Findings) -> tuple[Consumable, ...]:
    """Give the shop's glues in its order. Adds errors ``price-unit``, ``coverage-unit``, ``missing-key``."""
    return tuple(
        _consumable(str(name), entry, "bottle", 1, findings) for name, entry in description.shop.glue.items()
    )


def make_finishes(description: Description, findings: Findings) -> tuple[Consumable, ...]:
    """Give the project's finishes in the order they go on. Adds the errors of glues, and ``bad-value``."""
    found = []
    for name, entry in description.finish.items():
        if entry.coats < 1:
            findings.error(
                "bad-value",
                f"`{name}` goes on in {entry.coats} coats",
                entry.place_of("coats"),
                "give how many coats it gets, at least `1`, or take the finish out",
            )
        found.append(_consumable(str(name), entry, "can", entry.coats, findings))
    return tuple(found)


def _consumable(
    name: str,
    entry: GlueEntry | FinishEntry,
    container: Literal["bottle", "can"],
    coats: int,
    findings: Findings,
) -> Consumable:
    holds = entry.bottle if isinstance(entry, GlueEntry) else entry.can
    covers, price = entry.covers, entry.price
    if price is not None and price.per not in (None, "piece"):
        findings.error(
            "price-unit",
            f"`{name}` is bought by the {container}, and its price is for a {price.per}",
            entry.place_of("price"),
            f"give the price of one {container}, such as `{float(price.amount):g} {price.currency}`, "
            f"and what it holds: `{container}: …`",
        )
    if price is not None and holds is None:
        findings.error(
            "missing-key",
            f"`{name}` has a price, and nothing says how much that buys",
            entry.place_of("price"),
            f"add `{container}: …`, what one {container} holds, such as `{container}: 1 pt`",
        )
    if covers is not None and holds is not None and covers.kind != holds.kind:
        findings.error(
            "coverage-unit",
            f"`{name}` covers {covers.words}, and its {container} holds {holds.words}: "
            "one is a volume and the other a weight",
            entry.place_of("covers"),
            f"write both by volume or both by weight, as the label of the {container} has them",
            ((entry.place_of(container), f"the {container}"),),
        )
        covers = None
    title = entry.title if isinstance(entry, FinishEntry) and entry.title is not None else name
    known = covers or holds
    return Consumable(
        name=name,
        title=f"{title[:1].upper()}{title[1:]}",
        container=container,
        coats=coats,
        holds=holds.amount if holds is not None else None,
        covers=covers.rate if covers is not None else None,
        measure=known.kind if known is not None else "volume",
        holds_words=holds.words if holds is not None else "",
        covers_words=covers.words if covers is not None else "",
        price=Money(price.amount, price.currency) if price is not None else None,
        place=entry.place,
    )

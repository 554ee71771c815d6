"""What the cover and the shop page say: the project's words and dates, and what the shop can do."""

from __future__ import annotations

from collections.abc import Iterator

from plangen.description.model import Description, ProjectEntry
from plangen.design.allowances import aims, allowances, rail, saw_bench
from plangen.design.frame import Frame
from plangen.design.materials import default_kerf
from plangen.design.model import Project, Revision, Shop
from plangen.design.moisture import moisture_change
from plangen.design.values import fault, meant
from plangen.expressions import PriceText


def make_project(entry: ProjectEntry, frame: Frame) -> Project:
    """Give the words of the title block and the cover. Raises ProjectError."""
    revisions = tuple(Revision(str(row.revision), row.date, str(row.words)) for row in entry.revisions)
    dated = next(
        (row.day for row in reversed(revisions) if row.letter == str(entry.revision) and row.day), None
    )
    prices = [price for _, price in prices_of(frame.description)]
    positions = [str(name) for name in frame.description.positions]
    if entry.cover is not None and str(entry.cover) not in positions:
        raise fault(
            "undefined-name",
            f"no position is called `{entry.cover}`",
            entry.place_of("cover"),
            meant(str(entry.cover), positions, "name one of the positions"),
        )
    currencies = sorted({price.currency for price in prices})
    return Project(
        title=str(entry.title),
        code=str(entry.code),
        revision=str(entry.revision),
        revised=entry.revised or dated,
        line=str(entry.line),
        maker=str(entry.maker),
        level=str(entry.level),
        hours=tuple((str(phase), hours.number(frame.values)) for phase, hours in entry.hours.items()),
        units=entry.units,
        standard=entry.standard or ("asme" if entry.units == "inch" else "iso"),
        licence=tuple(str(words) for words in entry.licence),
        revisions=revisions,
        contact=str(entry.contact),
        currency=currencies[0] if len(currencies) == 1 else None,
        priced=entry.prices_of,
        cover=str(entry.cover) if entry.cover is not None else "",
    )


def make_shop(description: Description, frame: Frame) -> Shop:
    """Give what the shop can do. Raises ProjectError."""
    entry, scope = description.shop, frame.values
    glues = tuple(
        (str(name), glue.open_time.number(scope) if glue.open_time is not None else None)
        for name, glue in entry.glue.items()
    )
    kerf = entry.kerf.length(scope) if entry.kerf is not None else default_kerf(description.project.units)
    planer = entry.planer.length(scope) if entry.planer is not None else None
    if kerf.mm < 0 or (planer is not None and planer.mm <= 0):
        key = "kerf" if kerf.mm < 0 else "planer"
        raise fault("zero-size", f"the {key} is not above zero", entry.place_of(key), "give what it measures")
    return Shop(
        kerf,
        planer,
        glues,
        moisture_change(description.shop),
        bench=saw_bench(entry, scope),
        guide=rail(entry, scope),
        first_cut=entry.first_cut,
        prefer=aims(entry),
        rough=allowances(entry, scope),
        waste=entry.waste.share if entry.waste is not None else None,
        spare=entry.spare or 0,
    )


def prices_of(description: Description) -> Iterator[tuple[str, PriceText]]:
    """Give every price of the file with the name of what it buys, in the order of the file."""
    rows: list[tuple[str, PriceText | None]] = []
    rows += [(name, glue.price) for name, glue in description.shop.glue.items()]
    for name, stock in description.stock.items():
        rows += [(name, stock.price), *((name, one.price) for one in stock.boards)]
        rows += [(name, one.price) for one in stock.sheets]
    for name, item in description.hardware.items():
        rows += [(name, item.price), *((name, price) for price in item.packs.values())]
    rows += [(name, finish.price) for name, finish in description.finish.items()]
    yield from ((str(name), price) for name, price in rows if price is not None)

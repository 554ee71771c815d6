"""What to buy: one list of the wood, the hardware, the banding, the glue and the finish."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from fractions import Fraction

from plangen.design.model import Design, Stock
from plangen.takeoff.model import HardwareLine, StockPlan, TakeOff, WasteRule
from plangen.takeoff.naming import stock_words
from plangen.takeoff.tables import Cell, Column, Table
from plangen.units import Phrase, phrase

_COLUMNS = (
    Column("Group"),
    Column("Item"),
    Column("Ask for"),
    Column("Number", "number"),
    Column("Unit"),
    Column("Thickness", "reading"),
    Column("Width", "length"),
    Column("Length", "length"),
    Column("Cost", "money", total=True),
)


def buying_table(design: Design, take_off: TakeOff) -> Table:
    """Give the shopping list.

    Wood is bought by its cutting plan, boards or sheets of one size in one row, or where the maker says so
    by the waste rule. A cost that is for several rows stands in the first of them.
    """
    rules = {rule.stock: rule for rule in take_off.waste_rules if rule.governs}
    rows: list[tuple[Cell, ...]] = []
    for plan in take_off.plans:
        rule = rules.get(plan.stock)
        rows += [_by_rule(design, rule)] if rule is not None else _by_plan(design, plan)
    for line in take_off.hardware:
        rows += _hardware(line)
    costs = {line.item: line.cost for line in take_off.costs if line.kind == "banding"}
    for band in take_off.banding:
        cost = costs.pop(band.item, None)  # lines of one item and two thicknesses are paid together
        size = (band.thickness, band.width, band.length)
        rows.append(("Edge banding", band.title, "", Fraction(1), "length", *size, cost))
    for one in take_off.consumables:
        number = Fraction(one.number) if one.number is not None else None
        rows.append((one.kind.capitalize(), one.title, one.words, number, "", None, None, None, one.cost))
    note = take_off.hardware_note
    return Table("to-buy", "To buy", _COLUMNS, tuple(rows), phrase(note))


def _by_plan(design: Design, plan: StockPlan) -> Iterator[tuple[Cell, ...]]:
    stock = design.stock[plan.stock]
    group = "Sheets" if stock.kind == "plywood" else "Boards"
    sizes = Counter((diagram.width, diagram.length) for diagram in plan.bought)
    for place, ((width, length), number) in enumerate(sizes.items()):
        unit = "sheet" if stock.kind == "plywood" else "board"
        cost = plan.cost if place == 0 else None
        size = (stock.thickness, width, length)
        yield (group, stock_words(design, stock.name), _ask(stock), Fraction(number), unit, *size, cost)


def _ask(stock: Stock) -> Phrase:
    # Never the label alone: a sheet of figures reads a bare ``4/4`` as a date.
    return phrase(stock.title, ", ", stock.label)


def _by_rule(design: Design, rule: WasteRule) -> tuple[Cell, ...]:
    stock = design.stock[rule.stock]
    group = "Sheets" if stock.kind == "plywood" else "Boards"
    ask = _ask(stock) + phrase(": ", rule.words)
    item = stock_words(design, stock.name)
    return (group, item, ask, rule.buy, rule.unit, stock.thickness, None, None, rule.cost)


def _hardware(line: HardwareLine) -> Iterator[tuple[Cell, ...]]:
    """Give a row for each size of pack; nothing for what lies in the box with other hardware."""
    for place, (size, number) in enumerate(line.bought):
        unit = "piece" if size == 1 else f"pack of {size}"
        cost = line.cost if place == 0 else None
        yield ("Hardware", line.title, line.size, Fraction(number), unit, None, None, None, cost)

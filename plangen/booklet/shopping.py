"""What to buy, what it costs and what it weighs, as tables."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from typing import Any

from plangen.booklet.context import stock_data
from plangen.booklet.markdown import inline
from plangen.booklet.numbers import Numbers, short
from plangen.booklet.setting import Setting
from plangen.booklet.style import MM
from plangen.booklet.tables import Cell, Column, LineTable, Row, TableLook
from plangen.takeoff.at_the_yard import yard_words
from plangen.takeoff.model import HardwareLine, StockPlan, WasteRule

BLANK = "________"
_LOW, _LOWEST = TableLook(row=7.5 * MM), TableLook(row=6.6 * MM)


def boards(setting: Setting, _: str, foot: str) -> list[Any]:
    """Boards and sheets by size, with boxes to tick; under each stock what its boards must give."""
    book, words = setting.book, setting.words
    columns = [Column("", "box"), Column(words("number"), "number"), Column(words("ask for"), share=1.5)]
    columns += [Column(words(side), "size") for side in ("thickness", "width", "length")]
    rules = {rule.stock: rule for rule in book.take_off.waste_rules if rule.governs}
    rows: list[Row] = []
    for plan in book.take_off.plans:
        if plan.stock in rules:
            rows.append(_by_rule(setting, rules[plan.stock]))
        else:
            rows += _by_plan(setting, plan)
    return [LineTable(setting, columns, rows, foot=foot)] if rows else []


def _by_plan(setting: Setting, plan: StockPlan) -> Iterator[Row]:
    """One row for each size; under the last what the wood is for and what its boards must give."""
    book, words = setting.book, setting.words
    numbers, stock = Numbers(book.style), book.design.stock[plan.stock]
    sizes = Counter((diagram.width, diagram.length) for diagram in plan.bought)
    title = f"{stock.title}, {numbers.words(stock.label)}"
    if stock.random_widths:
        title = words("at least so wide", title=title)
    said = stock_data(plan, book, numbers)
    key = "wood for counted" if said["counted"] else "wood for"
    under = [words(key, **said), said["waste"], numbers.words(yard_words(plan))]
    for place, ((width, length), number) in enumerate(sizes.items(), start=1):
        cells = (
            Cell(),
            Cell(str(number)),
            Cell(setting.xml(title)),
            Cell(setting.figures(numbers.column(stock.thickness, reading=True))),
            Cell(setting.figures(numbers.column(width))),
            Cell(setting.figures(numbers.column(length))),
        )
        last = place == len(sizes)
        yield Row(cells, setting.xml(" ".join(filter(None, under))) if last else "")


def _by_rule(setting: Setting, rule: WasteRule) -> Row:
    """One row for a stock that is bought by its waste rule and not board by board."""
    numbers, stock = Numbers(setting.book.style), setting.book.design.stock[rule.stock]
    title = setting.xml(f"{stock.title}, {numbers.words(stock.label)}")
    unit = setting.words(f"{rule.unit} word" if rule.buy == 1 else f"{rule.unit} words")
    thick = Cell(setting.figures(numbers.column(stock.thickness, reading=True)))
    amount = setting.xml(f"{short(rule.buy, 2)} {unit}")
    cells = (Cell(), Cell(), Cell(f"{amount}: {title}"), thick, Cell(), Cell())
    return Row(cells, setting.xml(numbers.words(rule.words)))


def shopping_hardware(setting: Setting, _: str, foot: str) -> list[Any]:
    """Hardware as it is sold, with boxes to tick: how many are needed, what to buy, and what is over."""
    book, words = setting.book, setting.words
    numbers = Numbers(book.style)
    columns = [Column("", "box"), Column("", "square"), Column(words("item")), Column(words("size"))]
    columns += [Column(words("needed"), "number"), Column(words("buy"), share=0.4)]
    left = any(line.left for line in book.take_off.hardware)
    if left:
        columns.append(Column(words("over"), "number"))
    rows = []
    for line in book.take_off.hardware:
        cells = [
            Cell(),
            Cell(str(line.number_mark), f"hardware:{line.item}"),
            Cell(setting.xml(line.title)),
            Cell(setting.xml(numbers.words(line.size))),
            Cell(str(line.count)),
            Cell(setting.xml(buy_words(setting, line))),
        ]
        if left:
            cells.append(Cell(str(line.left) if line.left else ""))
        rows.append(Row(tuple(cells)))
    return [LineTable(setting, columns, rows, foot=foot)] if rows else []


def buy_words(setting: Setting, line: HardwareLine) -> str:
    """Say what to buy of one item: packs by their size, single pieces, or where it comes with something."""
    words = setting.words
    said = [
        str(number) if pack == 1 else words("packs", packs=number, pack=pack) for pack, number in line.bought
    ]
    if line.included:
        marks = {one.item: one.number_mark for one in setting.book.take_off.hardware}
        said.append(words("comes with", mark=marks.get(line.included_with, "–")))
    return " + ".join(said) or str(line.count)


def costs(setting: Setting, _: str, foot: str) -> list[Any]:
    """What everything costs, line by line, with the total of what has a price."""
    words, take_off = setting.words, setting.book.take_off
    numbers = Numbers(setting.book.style)
    columns = [Column(words("item")), Column(words("quantity"), share=0.6), Column(words("cost"), "number")]
    rows = [
        Row(
            (
                Cell(setting.xml(numbers.words(line.named) if line.named else line.title)),
                Cell(setting.xml(numbers.words(line.words) if line.words else line.quantity)),
                Cell(numbers.money(line.cost) or BLANK),
            )
        )
        for line in take_off.costs
    ]
    if take_off.total_cost and rows:
        total = Cell(f"<b>{setting.xml(words('total'))}</b>")
        rows.append(Row((total, Cell(), Cell(numbers.money(take_off.total_cost)))))
    notes = " ".join(numbers.words(note) for note in take_off.cost_notes)
    foot = " ".join(part for part in (foot, inline(setting, notes) if notes else "") if part)
    return [LineTable(setting, columns, rows, foot=foot, look=_LOWEST)] if rows else []


def weights(setting: Setting, _: str, foot: str) -> list[Any]:
    """What each assembly weighs, one copy of it, and the whole; nothing where there are no assemblies."""
    book, words = setting.book, setting.words
    masses, numbers = book.take_off.assembly_mass, Numbers(book.style)
    columns = [
        Column(words("lift")),
        Column(words("number"), "number"),
        Column(words("each weighs"), "number"),
    ]
    rows = [
        Row(
            (
                Cell(setting.xml(one.title), f"assembly:{one.key}"),
                Cell(str(len(one.copies))),
                Cell(" ".join(numbers.mass(masses[one.key]))),
            )
        )
        for one in book.design.assemblies
        if one.key in masses
    ]
    if not rows:
        return []
    whole = Cell(f"<b>{setting.xml(words('whole piece'))}</b>")
    rows.append(Row((whole, Cell(), Cell(" ".join(numbers.mass(book.take_off.mass))))))
    return [LineTable(setting, columns, rows, foot=foot, look=_LOW)]

"""A stock's boards or sheets with the cuts of each: the picture, and under it what the saw is set to."""

from __future__ import annotations

from typing import Any

from reportlab.platypus import Paragraph

from plangen.booklet.blocks import Block, Gap, Picture
from plangen.booklet.keeping import Headed, words_over
from plangen.booklet.numbers import Numbers
from plangen.booklet.setting import Setting
from plangen.booklet.style import MM
from plangen.booklet.tables import NO_BOX, Cell, Column, LineTable, Row, TableLook
from plangen.takeoff.model import CuttingDiagram, StockPlan
from plangen.takeoff.saw_settings import SawSetting, alike, saw_settings

LEAVES, FIRST_LEAVES = 44.0, 90.0  # mm of a page for the words over a picture; where a chapter begins
MOST_LISTED = 0.36  # of a page, that is kept free for the cuts under a picture; longer lists run over
ROW = 6.6  # mm
LEAST_DRAWN = 0.8  # of its full height, that a sheet is drawn at with its cuts on the same page
_ANY = 10_000.0  # mm: room in which nothing has to be smaller
_IN_ONE_COLUMN = 3  # settings that stand under each other; more may stand in two columns, read down


def cutting_flow(setting: Setting, plan: StockPlan, words: str = "") -> list[Any]:
    """Set every way in which boards of a stock are cut: its picture over its cuts.

    ``words``, as paragraph markup, stand over the first and stay with it.
    """
    page = setting.look.page
    groups = [(group, _tables(setting, group[0])) for group in alike(plan.diagrams)]
    first = plan is setting.book.take_off.plans[0]
    listed = max(sum(_tall(table, page.measure) for table in tables) for _, tables in groups)
    listed = min(listed, MOST_LISTED * page.depth / MM)
    room = page.depth / MM - (FIRST_LEAVES if first else LEAVES)
    # A sheet that would be too small to read over its cuts is drawn as large as the page lets it be.
    whole = max(setting.book.pictures.cutting(group, page.measure / MM, _ANY).height for group, _ in groups)
    runs_over = plan.diagrams[0].kind == "sheet" and room - listed < LEAST_DRAWN * whole
    if not runs_over:
        room -= listed
    height = room * setting.shrink.get(setting.setting, 1.0)
    story: list[Any] = [*words_over(setting, words, after=0.0)]
    for group, tables in groups:
        drawing = setting.book.pictures.cutting(group, page.measure / MM, height)
        setting.note_picture(drawing, room)
        picture = Picture(setting, drawing, before=3 * MM)
        picture.spaceAfter = 2.5 * MM
        if tables and not runs_over:
            story += [Headed(setting, picture, tables[0]), *tables[1:]]
        else:
            story += [picture, *tables]
        story.append(Gap(4 * MM))
    return story


def _tall(table: Block, width: float) -> float:
    """Give the height in mm of a table with the air round it."""
    return float(table.wrap(width, 0)[1] + table.getSpaceBefore() + table.getSpaceAfter()) / MM


def _tables(setting: Setting, diagram: CuttingDiagram) -> list[Block]:
    """The cuts in order: one table, or one for the cuts by hand and one for those at the saw."""
    settings = saw_settings(diagram)
    by_hand = [one for one in settings if one.by == "hand"]
    at_saw = [one for one in settings if one.by == "bench"]
    if not by_hand:
        return [_table(setting, diagram, at_saw)] if at_saw else []
    tables: list[Block] = []
    for key, some in (("by hand", by_hand), ("at the saw", at_saw)):
        if some:
            head = Paragraph(setting.xml(setting.words(key)), setting.look.block)
            tables.append(Headed(setting, head, _table(setting, diagram, some)))
    return tables


def _table(setting: Setting, diagram: CuttingDiagram, settings: list[SawSetting]) -> LineTable:
    words, binder = setting.words, setting.book.edition == "binder"
    columns = [
        Column(words("cut"), "number"),
        Column(words("how"), share=0.3),
        Column(words("set to"), "size"),
        Column(words("gives"), share=1.5),
    ]
    if binder:
        columns.insert(0, Column("", "box"))
    rows = [_cells(setting, diagram, one) for one in settings]
    look = TableLook(row=ROW * MM)
    table = LineTable(setting, columns, [Row(cells) for cells in rows], look=look)
    if len(rows) <= _IN_ONE_COLUMN:
        return table
    half = -(-len(rows) // 2)
    blank = (Cell(NO_BOX if binder else ""), *[Cell()] * (len(columns) - 1))
    halves = zip(rows[:half], rows[half:] + [blank] * (2 * half - len(rows)), strict=True)
    beside = LineTable(
        setting, [*columns, *columns], [Row((*left, *right)) for left, right in halves], look=look
    )
    measure = setting.look.page.measure
    return table if _tall(table, measure) <= _tall(beside, measure) else beside


def _cells(setting: Setting, diagram: CuttingDiagram, one: SawSetting) -> tuple[Cell, ...]:
    words, numbers = setting.words, Numbers(setting.book.style)
    first, last = one.numbers[0], one.numbers[-1]
    number = str(first) if first == last else words("cut range", first=first, last=last)
    cells = [
        Cell(number),
        Cell(setting.xml(words("rip" if one.along == "x" else "crosscut"))),
        Cell(setting.figures(numbers.column(one.at))),
        Cell(_gives(setting, diagram, one)),
    ]
    if setting.book.edition == "binder":
        cells.insert(0, Cell())
    return tuple(cells)


def _gives(setting: Setting, diagram: CuttingDiagram, one: SawSetting) -> str:
    """Say what comes off at a setting: parts with their number, what to keep, an end or edge, or waste."""
    words = setting.words
    given = [
        setting.link(setting.xml(mark if number == 1 else f"{number}\u00a0×\u00a0{mark}"), f"part:{part}")
        for part, mark, number in one.gives
    ]
    if one.kept:
        kept = words("keep one") if one.kept == 1 else words("keep many", number=one.kept)
        given.append(setting.xml(kept))
    if given:
        return ", ".join(given)
    if one.trims:
        return setting.xml(words("end off" if diagram.kind == "board" and one.along == "y" else "edge off"))
    return setting.xml(words("waste"))

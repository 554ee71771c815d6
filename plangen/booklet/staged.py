"""What to mill now, what to cut now and what to cut later, stock by stock."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby
from typing import Any

from reportlab.platypus import Paragraph

from plangen.booklet.keeping import words_over
from plangen.booklet.model import Book
from plangen.booklet.numbers import Numbers
from plangen.booklet.setting import Setting
from plangen.booklet.style import MM
from plangen.booklet.tables import Cell, Column, LineTable, Row, TableLook
from plangen.takeoff.model import Stage, StagedLine
from plangen.takeoff.naming import stock_words
from plangen.units import phrase


def stages_of(book: Book) -> tuple[Stage, ...]:
    """Give the lists that say more than the cut list; what is cut now is left out where it is all of that."""
    finished = {(line.part, line.number, line.width, line.length) for line in book.take_off.cut_list}
    return tuple(
        stage
        for stage in book.take_off.stages
        if stage.name != "cut"
        or {(line.part, line.number, line.width, line.length) for line in stage.lines} != finished
    )


def staged(setting: Setting, name: str, words: str) -> list[Any]:
    """``table staged mill|cut|later``: its pieces, under the name of each stock where there are several.

    ``words``, as paragraph markup, stand over the first and stay with it.
    """
    lines = [line for stage in setting.book.take_off.stages if stage.name == name for line in stage.lines]
    groups = [(stock, list(some)) for stock, some in groupby(lines, key=lambda line: line.stock)]
    story: list[Any] = [*words_over(setting, words)]
    for stock, some in groups:
        if len(groups) > 1:
            story.append(Paragraph(setting.xml(_stock_name(setting, stock)), setting.look.block))
        story.append(_table(setting, some))
    return story


def _stock_name(setting: Setting, name: str) -> str:
    design, numbers = setting.book.design, Numbers(setting.book.style)
    words, stock = stock_words(design, name), design.stock[name]
    return numbers.words(words if words.pieces[1:] else phrase(words, ", ", stock.label))


def _table(setting: Setting, lines: Sequence[StagedLine]) -> LineTable:
    words, numbers = setting.words, Numbers(setting.book.style)
    binder = setting.book.edition == "binder"
    planed = any(line.rough_thickness is not None for line in lines)
    noted = any(line.notes for line in lines) and not binder
    columns = [Column("", "ring"), Column(words("part"), share=1.2), Column(words("number"), "number")]
    columns += [Column(words("planed from"), "size")] if planed else []
    columns += [Column(words(side), "size") for side in ("thickness", "width", "length")]
    columns += [Column(words("note"), share=0.8)] if noted else []
    columns = [Column("", "box"), *columns] if binder else columns
    rows = []
    for line in lines:
        place = f"part:{line.part}"
        note = setting.xml("; ".join(numbers.words(one) for one in line.notes))
        title = f"{line.title}\u00a0★" if line.starred else line.title
        cells = [Cell(line.mark, place), Cell(setting.xml(title), place), Cell(str(line.number))]
        if planed:
            rough = line.rough_thickness
            cells.append(Cell(setting.figures(numbers.column(rough, reading=True))) if rough else Cell())
        cells.append(Cell(setting.figures(numbers.column(line.thickness, reading=True))))
        cells += [Cell(setting.figures(numbers.column(size))) for size in (line.width, line.length)]
        cells += [Cell(note)] if noted else []
        cells = [Cell(), *cells] if binder else cells
        rows.append(Row(tuple(cells), note if binder else ""))
    look = TableLook(row=(10.0 if binder else 7.5) * MM)
    return LineTable(setting, columns, rows, look=look)

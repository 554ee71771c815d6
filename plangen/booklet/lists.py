"""The lists that templates ask for with ```` ```table NAME ````: views of the take-off and the order."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from plangen.booklet import shopping
from plangen.booklet.grids import HourBars, KeyGrid
from plangen.booklet.keeping import words_over
from plangen.booklet.markdown import inline
from plangen.booklet.numbers import Numbers
from plangen.booklet.setting import Setting
from plangen.booklet.staged import staged
from plangen.booklet.style import MM
from plangen.booklet.tables import NO_BOX, Cell, Column, LineTable, Row, TableLook, evenest
from plangen.design.model import Part
from plangen.findings import Finding, ProjectError
from plangen.joinery.space import Axis
from plangen.takeoff.model import CutLine
from plangen.takeoff.shop_order import in_shop_order
from plangen.units import Length

_BLANK = "________"
_TOOLS_IN_ONE_COLUMN = 5
_ORDER_ROWS = (7.5, 7.1, 6.7, 7.9, 8.3)  # mm; the first that does not leave a page nearly empty


def table(setting: Setting, arguments: list[str], text: str) -> list[Any]:
    """Make the list that a template names; the words in the fence stand under it."""
    name = arguments[0] if arguments else ""
    if name not in _LISTS:
        raise ProjectError(
            [
                Finding(
                    "unknown-list",
                    f"a template asks for the list '{name}'",
                    None,
                    f"lists: {', '.join(sorted(_LISTS))}",
                )
            ]
        )
    foot = inline(setting, " ".join(text.split())) if text else ""
    return _LISTS[name](setting, " ".join(arguments[1:]), foot)


def _cell(setting: Setting, text: str, place: str = "") -> Cell:
    return Cell(setting.xml(text), place)


def _size(setting: Setting, text: str) -> Cell:
    return Cell(setting.figures(text))


def _cut_list(setting: Setting, stock: str, foot: str) -> list[Any]:
    book, words = setting.book, setting.words
    numbers = Numbers(book.style)
    wanted = [line for line in book.take_off.cut_list if not stock or line.stock == stock]
    lines = in_shop_order(book.design, wanted)
    if not lines:
        return []
    binder = book.edition == "binder"
    shoulders = any(line.shoulder_length for line in lines)
    notes = not binder and any(line.notes or line.shoulder_width for line in lines)
    columns = [Column("", "ring"), Column(words("part"), share=1.2), Column(words("number"), "number")]
    columns += [Column(words(side), "size") for side in ("thickness", "width", "length")]
    if binder:
        columns.insert(0, Column("", "box"))
    if shoulders:
        columns.append(Column(words("shoulder"), "size"))
    if notes:
        columns.append(Column(words("note"), share=0.8))
    columns.append(Column(words("page"), "number"))
    rows = []
    for line in lines:
        place = f"part:{line.part}"
        note = "; ".join(
            [numbers.words(note) for note in line.notes] + _shoulder_width(setting, line, numbers)
        )
        title = f"{line.title}\u00a0★" if line.from_work else line.title
        cells = [Cell(line.mark, place), _cell(setting, title, place), Cell(str(line.number))]
        cells.append(_size(setting, numbers.column(line.thickness, reading=True)))
        cells += [_size(setting, numbers.column(size)) for size in (line.width, line.length)]
        if binder:
            cells.insert(0, Cell())
        if shoulders:
            long = line.shoulder_length
            cells.append(_size(setting, numbers.column(long)) if long else Cell())
        if notes:
            cells.append(_cell(setting, note))
        cells.append(Cell(setting.page(place), place))
        under = [_measured(setting, part, numbers, "measured short") for part in _from_work(setting, line)]
        if binder and note:
            under.insert(0, setting.xml(note))
        rows.append(Row(tuple(cells), "<br/>".join(under)))
    figure = setting.look.sizes.figure
    if book.style.system == "both":  # two lines in each size leave no room for the large figures
        figure = min(figure, setting.look.sizes.body * 1.15)
    look = TableLook(row=13 * MM if binder else 9 * MM, figure=figure)
    return [LineTable(setting, columns, rows, look=look, foot=foot)]


def _shoulder_width(setting: Setting, line: CutLine, numbers: Numbers) -> list[str]:
    if not line.shoulder_width:
        return []
    return [setting.words("shoulder width", size=numbers.length(line.shoulder_width, unit=True))]


def _from_work(setting: Setting, line: CutLine) -> list[Part]:
    part = setting.book.design.part(line.part)
    return [part] if line.from_work and part.from_work else []


def _measured(setting: Setting, part: Part, numbers: Numbers, words: str = "measured line") -> str:
    """Give the fill-in line of a part whose size is taken from the work."""
    texts = []
    for fact in part.from_work:
        side = part.side_word(fact.axis)
        texts.append(
            "★ "
            + setting.words(
                words,
                side=setting.words(f"{side} word"),
                measured=numbers.words(fact.measured or fact.formula),
                change=_change(setting, fact.change, numbers),
                blank=_BLANK,
                expected=numbers.length(fact.expected, unit=True),
                leave=numbers.length(fact.leave, unit=True),
            )
        )
    return "<br/>".join(setting.xml(text) for text in texts)


def _change(setting: Setting, change: Length, numbers: Numbers) -> str:
    """What is added to a reading, with a blank for the result; nothing where the reading is the size."""
    if not change:
        return ""
    key = "measured less" if change.mm < 0 else "measured plus"
    return setting.words(key, size=numbers.length(abs(change), unit=True), blank=_BLANK)


def _measured_sizes(setting: Setting, _: str, foot: str) -> list[Any]:
    book, words = setting.book, setting.words
    numbers = Numbers(book.style)
    rows = []
    for line in book.take_off.cut_list:
        for part in _from_work(setting, line):
            place = f"part:{part.key}"
            steps = tuple(step.number for step in book.order.steps if part.key in step.measured)
            rows.append(
                Row(
                    (
                        Cell(line.mark, place),
                        _cell(setting, line.title, place),
                        _cell(setting, words.steps(steps)),
                    ),
                    _measured(setting, part, numbers),
                )
            )
    columns = [Column("", "ring"), Column(words("part")), Column(words("measured in"), share=0.2)]
    return [LineTable(setting, columns, rows, foot=foot)] if rows else []


def _hardware(setting: Setting, _: str, foot: str) -> list[Any]:
    book, words = setting.book, setting.words
    numbers = Numbers(book.style)
    lines = book.take_off.hardware
    packs = any(line.bought != ((1, line.count),) for line in lines)
    columns = [Column("", "square"), Column(words("item")), Column(words("number"), "number")]
    columns.append(Column(words("size")))
    if packs:
        columns.append(Column(words("buy"), share=0.4))
    columns.append(Column(words("used in"), share=0.2, right=True))
    if book.edition == "binder":
        columns.insert(0, Column("", "box"))
    rows = []
    for line in lines:
        steps = [
            str(step.number)
            for step in book.order.steps
            if any(use.item == line.item for use in step.hardware)
        ]
        cells = [Cell(str(line.number_mark)), _cell(setting, line.title), Cell(str(line.count))]
        cells.append(_cell(setting, numbers.words(line.size)))
        if packs:
            cells.append(_cell(setting, shopping.buy_words(setting, line)))
        links = ", ".join(setting.link(step, f"step:{step}") for step in steps)
        cells.append(Cell(links or "–"))
        if book.edition == "binder":
            cells.insert(0, Cell())
        rows.append(Row(tuple(cells), anchors=(f"hardware:{line.item}",)))
    return [LineTable(setting, columns, rows, foot=foot)] if rows else []


def _tools(setting: Setting, _: str, words: str) -> list[Any]:
    """Tools with boxes to tick, under ``words``; many of them in two columns, read down."""
    numbers = Numbers(setting.book.style)
    cells = [_cell(setting, numbers.words(tool)) for tool in setting.book.take_off.tools]
    look = TableLook(row=6.8 * MM, heads=False)
    pair = (Column("", "box"), Column(""))
    if len(cells) <= _TOOLS_IN_ONE_COLUMN:
        rows = [Row((Cell(), cell)) for cell in cells]
        return [*words_over(setting, words), LineTable(setting, pair, rows, look=look)] if rows else []
    half = -(-len(cells) // 2)
    right: list[tuple[Cell, ...]] = [(Cell(), cell) for cell in cells[half:]]
    right += [(Cell(NO_BOX), Cell())] * (half - len(right))
    rows = [Row((Cell(), cell, *beside)) for cell, beside in zip(cells[:half], right, strict=True)]
    return [*words_over(setting, words), LineTable(setting, (*pair, *pair), rows, look=look)]


def _order(setting: Setting, _: str, foot: str) -> list[Any]:
    book, words = setting.book, setting.words
    marks = {part.key: part.mark for part in book.design.parts}
    part_of = book.design.part_of
    columns = [
        Column(words("step"), "number"),
        Column(words("what you do"), share=1.5),
        Column(words("marks"), share=0.5),
    ]
    columns.append(Column(words("page"), "number"))
    if book.edition == "binder":
        columns.insert(0, Column("", "box"))
    rows = []
    for step in book.order.steps:
        keys = [
            *step.made,
            *(key for key, _ in step.worked),
            *(part_of[copy].key for copy in step.placed),
            *step.measured,
        ]
        named = [
            setting.link(setting.xml(marks[key]), f"part:{key}")
            for key in dict.fromkeys(keys)
            if key in marks
        ]
        place = f"step:{step.number}"
        title = inline(setting, book.resolve(step.title))
        cells = [
            Cell(str(step.number), place),
            Cell(title, place),
            Cell(", ".join(named)),
            Cell(setting.page(place), place),
        ]
        if book.edition == "binder":
            cells.insert(0, Cell())
        rows.append(Row(tuple(cells)))
    looks = [TableLook(row=tall * MM) for tall in _ORDER_ROWS]
    tables = [LineTable(setting, columns, rows, look=look, foot=foot) for look in looks]
    return [evenest(tables)] if rows else []


def _revisions(setting: Setting, _: str, foot: str) -> list[Any]:
    words = setting.words
    columns = [Column(words("revision")), Column(words("date head")), Column(words("what changed"), share=3)]
    rows = [
        Row(
            (
                Cell(f"<b>{setting.xml(one.letter)}</b>"),
                _cell(setting, words.day(one.day) or "–"),
                _cell(setting, one.words),
            )
        )
        for one in setting.book.design.project.revisions
    ]
    return [LineTable(setting, columns, rows, foot=foot)] if rows else []


def _contents(setting: Setting, _: str, foot: str) -> list[Any]:
    rows = [
        Row(
            (
                _cell(setting, title, f"chapter:{name}"),
                Cell(setting.page(f"chapter:{name}"), f"chapter:{name}"),
            )
        )
        for name, title in setting.titles
    ]
    columns = [Column(""), Column("", "number")]
    return (
        [LineTable(setting, columns, rows, look=TableLook(row=8.4 * MM, heads=False), foot=foot)]
        if rows
        else []
    )


def _hours(setting: Setting, _: str, foot: str) -> list[Any]:
    return [HourBars(setting)] if setting.book.design.project.hours else []


def _key(setting: Setting, assembly: str, foot: str) -> list[Any]:
    """The key of the marks: of everything, or of one copy of an assembly."""
    return [KeyGrid(setting, assembly)]


def _positions(setting: Setting, _: str, foot: str) -> list[Any]:
    """The overall size in each position, where there are several."""
    positions = setting.book.design.positions
    if len(positions) < 2:
        return []
    words, numbers = setting.words, Numbers(setting.book.style)
    axes = (("overall width", Axis.ACROSS), ("overall height", Axis.UP), ("overall depth", Axis.DEEP))
    columns = [Column(words("position"), share=1.5), *(Column(words(name), "size") for name, _ in axes)]
    rows = [
        Row(
            (
                _cell(setting, one.title, f"position:{one.name}"),
                *(_size(setting, numbers.column(one.overall.size(axis))) for _, axis in axes),
            )
        )
        for one in positions
    ]
    return [LineTable(setting, columns, rows, look=TableLook(row=7.5 * MM), foot=foot)]


_LISTS: dict[str, Callable[[Setting, str, str], list[Any]]] = {
    "boards": shopping.boards,
    "contents": _contents,
    "costs": shopping.costs,
    "cut-list": _cut_list,
    "hardware": _hardware,
    "hours": _hours,
    "marks": _key,
    "measured": _measured_sizes,
    "order": _order,
    "positions": _positions,
    "revisions": _revisions,
    "shopping-hardware": shopping.shopping_hardware,
    "staged": staged,
    "tools": _tools,
    "weights": shopping.weights,
}

"""The pages of the steps: what to be careful of, the picture, what it takes, what to do, what to check."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

from reportlab.platypus import CondPageBreak, PageBreak

from plangen.booklet.blocks import Composed, Eyebrow, Gap, PageHead, Picture
from plangen.booklet.context import without_sizes
from plangen.booklet.markdown import inline, plain_words, sentences
from plangen.booklet.numbers import Numbers
from plangen.booklet.panels import Panel
from plangen.booklet.sentences import Checks, Sentences
from plangen.booklet.setting import Setting
from plangen.booklet.style import MM
from plangen.booklet.tables import SQUARE, Cell, Column, LineTable, Row, TableLook
from plangen.drawing.step_pictures import runs
from plangen.handbook.safety import SIGNALS, Caution, caution, has_caution
from plangen.sequence.model import PartUse, Step
from plangen.takeoff.weights import mass_of

LEAST_PICTURE = 52 * MM  # under this a picture of several parts cannot be read at the bench
LEAST_CROWD = 85 * MM  # and under this one of a whole frame: its words rather go over to the next page
CROWD = 8  # pieces that make one
LEAST_OVER_TABLE = 95 * MM  # height of a picture that shares its page with the table of the step
MOST_PICTURE = 140 * MM
MOST_PIECES = 110 * MM  # height of a picture of pieces lying apart
MOST_TEXTS = 8  # in one panel
PANEL_GAP = 3.5 * MM
BETWEEN = 14 * MM  # steps that share a page
ROW = 8.2 * MM
CLOSE_ROW = 6.4 * MM


@dataclass(frozen=True)
class _Laid:
    """The measured blocks of one step."""

    step: Step
    head: PageHead
    panels: tuple[Panel, ...]
    left: LineTable | None
    right: Sentences | None
    checks: Checks | None
    above: float  # height of head and panels
    below: float  # height of table and sentences, side by side
    foot: float  # height of the checks

    @property
    def least(self) -> float:
        """The least height the step can do with."""
        picture = self.least_picture + 6 * MM if self.step.picture.kind != "none" else 0.0
        return self.above + picture + self.below + self.foot

    @property
    def least_picture(self) -> float:
        """The least height of the step's picture."""
        shown = self.step.picture
        crowd = shown.kind == "assembly" and len(shown.new) + len(shown.context) >= CROWD
        return LEAST_CROWD if crowd else LEAST_PICTURE


def steps_flow(setting: Setting, steps: Sequence[Step]) -> list[Any]:
    """Set steps, each with a picture on its own page, those without sharing one where they fit."""
    depth = setting.look.page.depth
    story: list[Any] = []
    waiting: list[_Laid] = []
    all_laid = [_lay(setting, step) for step in steps]
    heights = _heights(setting, all_laid)

    def flush() -> None:
        for laid in waiting:
            story.extend([Gap(BETWEEN), *_without_picture(setting, laid)])
        waiting.clear()

    for laid in all_laid:
        if laid.step.picture.kind == "none":
            waiting.append(laid)
            continue
        taken = sum(one.least + BETWEEN for one in waiting)
        if waiting and taken + laid.least <= depth:
            tops = [(_block(setting, one), one.least) for one in waiting]
            waiting.clear()
            story.append(_page(setting, laid, heights[laid.step.number], tops))
        else:
            flush()
            if story:
                story.append(CondPageBreak(depth - 1))
            story.extend(_alone(setting, laid, heights[laid.step.number]))
    flush()
    return story


def step_cautions(setting: Setting, keys: Sequence[str], lifts: Fraction = Fraction(0)) -> tuple[Panel, ...]:
    """Give panels for safety texts, most severe first, those of one signal word together.

    ``lifts`` are the kg that a heavy thing weighs, which the caution about lifting then says.
    """
    texts: dict[str, list[str]] = {}
    for key in dict.fromkeys(keys):
        if has_caution(key):
            found = caution(key)
            weighs = key == "lifting" and lifts
            text = _heavy(setting, found, lifts) if weighs else found.text
            texts.setdefault(found.signal, []).append(text)
    return tuple(
        Panel(setting.look, signal, [setting.xml(text) for text in texts[signal][index : index + MOST_TEXTS]])
        for signal in SIGNALS
        for index in range(0, len(texts.get(signal, ())), MOST_TEXTS)
    )


def _lifted(setting: Setting, step: Step) -> Fraction:
    """Give the kg of the heavy thing that a step lifts, as the weights of the whole have it; zero: none."""
    book = setting.book
    return mass_of(book.design, step.lifts, book.take_off.part_mass)


def _heavy(setting: Setting, found: Caution, lifts: Fraction) -> str:
    """Give the caution about lifting with what the thing weighs, in place of that it is heavy."""
    number, unit = Numbers(setting.book.style).mass(lifts)
    hazard = setting.words("weighs", number=number, unit=unit)
    return f"{hazard} {found.consequence} {found.avoidance}"


def _lay(setting: Setting, step: Step) -> _Laid:
    words = setting.words
    width = setting.look.page.measure
    half = setting.look.page.span(6)
    say = _sayer(setting)
    head = PageHead(
        setting,
        _eyebrow(setting, step),
        inline(setting, say(step.title)),
        place=f"step:{step.number}",
        outline=(words("step title", n=step.number, title=plain_words(say(step.title))), 1),
    )
    panels = step_cautions(setting, step.cautions, _lifted(setting, step))
    above = head.wrap(width, 0)[1] + sum(panel.wrap(width, 0)[1] + PANEL_GAP for panel in panels)
    texts = [inline(setting, text) for text in sentences(say(step.say))]
    left = _needs(setting, step)
    right = Sentences(setting, words("do this"), texts, pitch=ROW) if texts else None
    checks = None
    if step.checks:
        checks = Checks(
            setting, words("before you go on"), [inline(setting, say(text)) for text in step.checks]
        )
    side = [block.wrap(half, 0)[1] for block in (left, right) if block]
    below = max(side) + 4 * MM if side else 0.0
    foot = checks.wrap(width, 0)[1] + 4 * MM if checks else 0.0
    return _Laid(step, head, panels, left, right, checks, above, below, foot)


def _eyebrow(setting: Setting, step: Step) -> str:
    """Say which step it is, and of what assembly, to be made how often."""
    words = setting.words
    which = words("step of", n=step.number, total=len(setting.book.order.steps))
    built = next((one for one in setting.book.design.assemblies if one.key == step.assembly), None)
    if built is None:
        return which
    number = len(built.copies)
    if number == 1:
        return words("step in assembly", step=which, title=built.title)
    return words("step in assemblies", step=which, title=built.title, number=number)


def _sayer(setting: Setting) -> Callable[[str], str]:
    """Give how words of steps are printed: references resolved, in the preview without sizes."""
    resolve = setting.book.resolve
    if setting.book.edition == "sample":
        return lambda text: without_sizes(resolve(text), setting.words("no size"))
    return resolve


def _needs(setting: Setting, step: Step) -> LineTable | None:
    """What a step takes: parts, hardware, tools."""
    book = setting.book
    sample = book.edition == "sample"
    numbers = Numbers(book.style)
    say = _sayer(setting)
    lines = {line.item: line for line in book.take_off.hardware}
    new = {book.design.part_of[copy].key for copy in step.picture.new if copy in book.design.part_of}
    worked = {key for key, _ in step.worked}
    rows = []
    for use in step.parts:
        part = book.design.part(use.part)
        place = f"part:{part.key}"
        title = _sized(setting, part.title, use, sample)
        if part.key in worked and place in setting.places:
            title = setting.words("sheet on page", title=title, page=setting.page(place))
        rows.append(
            Row(
                (
                    Cell(part.mark, place),
                    Cell(title, place),
                    Cell(str(use.number)),
                ),
                strong=part.key in new,
            )
        )
    called = {copy.name: one for one in book.design.assemblies for copy in one.copies}
    brought = Counter(called[name].key for name in step.brought if name in called)
    for one in book.design.assemblies:
        if brought[one.key]:
            place = f"assembly:{one.key}"
            rows.append(Row((Cell(), Cell(setting.xml(one.title), place), Cell(str(brought[one.key])))))
    for count in step.hardware:
        item = book.design.hardware[count.item]
        title = item.title if sample else f"{item.title}, {numbers.words(item.size)}"
        mark = f"{SQUARE}{lines[count.item].number_mark}" if count.item in lines else ""
        rows.append(
            Row((Cell(mark, f"hardware:{count.item}"), Cell(setting.xml(title)), Cell(str(count.number))))
        )
    rows += [Row((Cell(), Cell(inline(setting, say(tool))), Cell())) for tool in step.tools]
    counted = bool(step.parts or step.hardware or step.brought)
    return _need_table(setting, rows, ring=counted) if rows else None


def _sized(setting: Setting, title: str, use: PartUse, sample: bool) -> str:
    """A part's title, with the size it is cut to where the step cuts it."""
    if use.size is None or sample:
        return setting.xml(title)
    size = use.size.text(setting.book.style, unit=False)
    return f"{setting.xml(title)}, {setting.xml(size)}"


def _need_table(setting: Setting, rows: list[Row], *, ring: bool) -> LineTable:
    head = setting.words("for this step")
    columns = [Column("", "mark"), Column(head), Column("", "number")]
    if not ring:
        columns, rows = columns[1:2], [Row(row.cells[1:2]) for row in rows]
    return LineTable(setting, columns, rows, look=TableLook(row=ROW, title=head))


def _side_by_side(setting: Setting, laid: _Laid, down: float) -> list[tuple[Any, float, float, float]]:
    page = setting.look.page
    parts: list[tuple[Any, float, float, float]] = []
    half = page.span(6)
    if laid.left and laid.right:
        parts += [(laid.left, 0.0, down, half), (laid.right, page.column(6), down, half)]
    elif laid.left or laid.right:
        parts.append((laid.left or laid.right, 0.0, down, page.measure))
    return parts


def _top(setting: Setting, laid: _Laid, down: float) -> tuple[list[tuple[Any, float, float, float]], float]:
    """Head and panels from a height down; and where they end."""
    width = setting.look.page.measure
    parts: list[tuple[Any, float, float, float]] = [(laid.head, 0.0, down, width)]
    down += laid.head.wrap(width, 0)[1]
    for panel in laid.panels:
        parts.append((panel, 0.0, down, width))
        down += panel.wrap(width, 0)[1] + PANEL_GAP
    return parts, down


def _block(setting: Setting, laid: _Laid) -> Composed:
    """A step without a picture, as tall as it needs."""
    parts, down = _top(setting, laid, 0.0)
    parts += _side_by_side(setting, laid, down)
    down += laid.below
    if laid.checks:
        parts.append((laid.checks, 0.0, down, setting.look.page.measure))
    return Composed(down + laid.foot, parts)


def _heights(setting: Setting, laid: Sequence[_Laid]) -> dict[int, float]:
    """Give the height for each step's picture: one for those that follow each other on the same work.

    So the work stays where it is on the sheet, and the pages flick like a film: as tall as three in five of
    the pictures have room for. A step with less room takes what it has; one alone takes what it needs.
    """
    depth = setting.look.page.depth
    pictured = [one for one in laid if one.step.picture.kind != "none"]
    heights: dict[int, float] = {}
    for one in pictured:
        room = depth - one.above - one.below - one.foot - 6.5 * MM
        most = MOST_PICTURE if one.step.picture.kind == "assembly" else MOST_PIECES
        heights[one.step.number] = max(min(room, most), LEAST_PICTURE)
    for run in runs([one.step for one in pictured]):
        numbers = [step.number for step in run if step.kind != "dry fit"]
        tallest = sorted((heights[number] for number in numbers), reverse=True)
        if tallest:
            common = tallest[-(-len(tallest) * 3 // 5) - 1]
            heights |= {number: min(heights[number], common) for number in numbers}
    return heights


def _page(
    setting: Setting, laid: _Laid, tallest: float, tops: Sequence[tuple[Composed, float]] = ()
) -> Composed:
    """A step on a page of its own, under steps without pictures where there are some; checks at the foot."""
    page = setting.look.page
    depth, width = page.depth - 0.5, page.measure
    parts: list[tuple[Any, float, float, float]] = []
    down = 0.0
    for block, tall in tops:
        parts.append((block, 0.0, down, width))
        down += tall + BETWEEN
    more, down = _top(setting, laid, down)
    parts += more
    room = depth - down - laid.below - laid.foot - 6 * MM
    tall = min(room, tallest)
    drawing = setting.book.pictures.step(laid.step, width / MM, tall / MM)
    parts.append((Picture(setting, drawing), 0.0, down + 2 * MM, width))
    # what follows the picture stands on the foot of the page, so that it is found at the same place
    under = depth - laid.foot - laid.below
    under = min(under, down + tall + 8 * MM)
    parts += _side_by_side(setting, laid, under)
    if laid.checks:
        parts.append((laid.checks, 0.0, depth - laid.foot + 4 * MM, width))
    return Composed(depth, parts)


def _alone(setting: Setting, laid: _Laid, tallest: float) -> list[Any]:
    """A step with a picture; what does not fit under it goes over to the next page."""
    page = setting.look.page
    if laid.least <= page.depth - 1:
        return [_page(setting, laid, tallest)]
    story: list[Any] = []
    parts, down = _top(setting, laid, 0.0)
    room = page.depth - down - 6 * MM
    # The table stands under the picture where both have room, so that the sentences have a page to go on.
    table = laid.left.wrap(page.measure, 0)[1] if laid.left else 0.0
    under = table > 0 and room - table - 4 * MM >= LEAST_OVER_TABLE
    tall = min(room - (table + 4 * MM if under else 0.0), MOST_PICTURE + 30 * MM)
    if tall < LEAST_PICTURE:  # panels fill the page: they go first, the picture after
        story = [laid.head, *laid.panels, PageBreak()]
        tall, parts, down = MOST_PICTURE, [], 0.0
    drawing = setting.book.pictures.step(laid.step, page.measure / MM, tall / MM)
    parts.append((Picture(setting, drawing), 0.0, down + 2 * MM, page.measure))
    down += 2 * MM + drawing.height * MM
    if under and laid.left:
        parts.append((laid.left, 0.0, down + 4 * MM, page.measure))
        down += 4 * MM + table
    story.append(Composed(down, parts))
    return [*story, PageBreak(), *_continued(setting, replace(laid, left=None) if under else laid)]


def _continued(setting: Setting, laid: _Laid) -> list[Any]:
    """What goes over to the next page: side by side where that fills one page, else one under another."""
    head = Eyebrow(setting, setting.words("continued", chapter=_eyebrow(setting, laid.step)))
    page = setting.look.page
    room = page.depth - head.wrap(page.measure, 0)[1] - 8 * MM
    if laid.left and laid.right and laid.below + laid.foot <= room:
        parts = _side_by_side(setting, laid, 0.0)
        if laid.checks:
            parts.append((laid.checks, 0.0, laid.below, page.measure))
        return [head, Gap(6 * MM), Composed(laid.below + laid.foot, parts)]
    if laid.right and laid.left is None:  # no table beside them whose rows they have to keep to
        laid = replace(laid, right=laid.right.at_pitch(CLOSE_ROW))
    return [head, *_flowing(setting, laid)]


def _without_picture(setting: Setting, laid: _Laid) -> list[Any]:
    if laid.least <= setting.look.page.depth - 1:
        return [_block(setting, laid)]
    return [laid.head, *laid.panels, *_flowing(setting, laid)]


def _flowing(setting: Setting, laid: _Laid) -> list[Any]:
    """Table, sentences and checks one under another, free to run over pages."""
    blocks = [block for block in (laid.left, laid.right, laid.checks) if block]
    return [flow for block in blocks for flow in (Gap(6 * MM), block)]

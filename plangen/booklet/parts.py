"""The pages of the parts: the drawing, four facts, and what is done to the part in words."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from reportlab.platypus import CondPageBreak, PageBreak

from plangen.booklet.blocks import Composed, Facts, Gap, PageHead, Picture
from plangen.booklet.markdown import inline
from plangen.booklet.numbers import Numbers
from plangen.booklet.sentences import Numbered
from plangen.booklet.setting import Setting
from plangen.booklet.style import MM
from plangen.design.model import Part
from plangen.drawing.sheet.model import Drawing
from plangen.takeoff import naming

LEAST_DRAWING = 120 * MM
LEAST_LARGE = 150 * MM  # of a mirror pair in the binder edition, whose figures are larger
LEAST_SMALL = 62 * MM  # of a part that shares its page
MOST_SMALL = 1  # operations of a part that may share its page
BETWEEN = 10 * MM


def parts_flow(setting: Setting, parts: Sequence[Part]) -> list[Any]:
    """Set the sheets of parts, two to a page where two small ones follow each other.

    The words of a mirror pair that find no room on its sheets stand together on the page after them.
    """
    depth = setting.look.page.depth
    half = (depth - BETWEEN) / 2
    story: list[Any] = []
    index = 0
    waiting: list[Any] = []
    while index < len(parts):
        pair = parts[index : index + 2]
        if story:
            story.append(CondPageBreak(depth - 1))
        if len(pair) == 2 and all(_small(setting, part, half) for part in pair):
            width = setting.look.page.measure
            blocks = [_sheet(setting, part, half)[0] for part in pair]
            story.append(
                Composed(depth - 0.5, [(blocks[0], 0, 0, width), (blocks[1], 0, half + BETWEEN, width)])
            )
            index += 2
            continue
        block, rest = _sheet(setting, pair[0], depth - 0.5)
        story.append(block)
        index += 1
        if rest:
            waiting += [Gap(BETWEEN), rest] if waiting else [rest]
        if waiting and not (len(waiting) == 1 and len(pair) == 2 and _mates(*pair)):
            story += [PageBreak(), *waiting]
            waiting = []
    return story


def _mates(one: Part, two: Part) -> bool:
    return one.mirror is not None and one.mirror == two.key


def part_noun(part: Part) -> str:
    """The maker's name of a part within a sentence, the hand of a pair before it."""
    noun = naming.part_noun(part)
    return f"{part.hand} {noun}" if part.hand else noun


def what_is_done(setting: Setting, part: Part) -> list[str]:
    """The operations of a part in words, equal ones once with their number, as paragraph markup."""
    numbers = Numbers(setting.book.style)
    times: dict[str, int] = {}
    for operation in part.operations:
        text = numbers.words(operation.say)
        if text:
            times[text] = times.get(text, 0) + 1
    return [
        setting.xml(
            text if number == 1 else f"{text} {setting.words('times', number=setting.words.spelled(number))}"
        )
        for text, number in times.items()
    ] + ([inline(setting, setting.book.resolve(part.note))] if part.note else [])


def _small(setting: Setting, part: Part, half: float) -> bool:
    if len(part.operations) > MOST_SMALL or part.pattern or part.from_work:
        return False
    head, facts, work = _words(setting, part)
    return half - _taken(setting, head, facts, work) >= LEAST_SMALL


def _words(setting: Setting, part: Part) -> tuple[PageHead, Facts, Numbered | None]:
    words, book = setting.words, setting.book
    number = len(part.copies)
    noun = part_noun(part)
    heading = words("make one", noun=noun) if number == 1 else words("make many", noun=noun, number=number)
    place = f"part:{part.key}"
    outline = (words("part title", mark=part.mark, title=part.title), 1)
    head = PageHead(
        setting, words("part sheet"), setting.xml(heading), place=place, outline=outline, mark=part.mark
    )
    numbers = Numbers(book.style)
    stock = book.design.stock[part.stock]
    make = str(number)
    if part.mirror:
        make = words("mirror of", number=number, mark=book.design.part(part.mirror).mark)
    if part.glue_up:
        make = f"{make}, {words(f'glued of {part.glue_up.kind}', number=part.glue_up.number)}"
    facts = Facts(
        setting.look,
        [
            (
                setting.xml(words("stock")),
                setting.xml(f"{stock.title}, {numbers.thickness(part.thickness, unit=True)}"),
            ),
            (setting.xml(words("make")), setting.xml(make)),
            (setting.xml(words("made in")), _steps(setting, book.order.making(part.key))),
            (
                setting.xml(words("used in")),
                _steps(setting, book.order.using(part.key, tuple(copy.name for copy in part.copies))),
            ),
        ],
    )
    return head, facts, _numbered(setting, words("work on this part"), part)


def _numbered(setting: Setting, title: str, part: Part) -> Numbered | None:
    texts = what_is_done(setting, part)
    return Numbered(setting, title, texts, 2 if len(texts) > 3 else 1) if texts else None


def _steps(setting: Setting, numbers: tuple[int, ...]) -> str:
    if len(numbers) == 1:
        return setting.link(setting.xml(setting.words.steps(numbers)), f"step:{numbers[0]}")
    return setting.xml(setting.words.steps(numbers))


def _taken(setting: Setting, head: PageHead, facts: Facts, work: Numbered | None) -> float:
    """Height of all but the drawing."""
    width = setting.look.page.measure
    blocks: list[Any] = [head, facts] + ([work] if work else [])
    return float(sum(block.wrap(width, 0)[1] for block in blocks)) + 8 * MM + (4 * MM if work else 0)


def _sheet(setting: Setting, part: Part, depth: float) -> tuple[Composed, Numbered | None]:
    """One part's sheet of a given height; words that find no room on it come back for the next page."""
    width = setting.look.page.measure
    head, facts, work = _words(setting, part)
    over: Numbered | None = None
    large = part.mirror and setting.book.edition == "binder"
    whole = LEAST_LARGE if large else LEAST_DRAWING
    least = whole if depth > setting.look.page.depth * 0.75 else LEAST_SMALL
    if work and depth - _taken(setting, head, facts, work) < least:
        title = setting.words("work on part", mark=part.mark, noun=part_noun(part))
        over, work = _numbered(setting, title, part), None
    room = depth - _taken(setting, head, facts, work)
    drawing: Drawing = setting.book.pictures.part_sheet(part, width / MM, room / MM)
    top = head.wrap(width, 0)[1]
    facts_tall = facts.wrap(width, 0)[1]
    work_tall = work.wrap(width, 0)[1] + 4 * MM if work else 0.0
    parts: list[tuple[Any, float, float, float]] = [(head, 0, 0, width)]
    spare = (room - drawing.height * MM) / 2
    parts.append((Picture(setting, drawing), 0, top + 2 * MM + max(spare, 0), width))
    parts.append((facts, 0, depth - work_tall - facts_tall, width))
    if work:
        parts.append((work, 0, depth - work_tall + 4 * MM, width))
    return Composed(depth, parts), over

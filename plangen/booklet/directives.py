"""What a template may ask for between fences: pictures, lists, panels, rulers, steps, parts."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from reportlab.platypus import PageBreak, Paragraph

from plangen.booklet.blocks import BigFigures, Facts, Gap, NoteLines, Picture, Place
from plangen.booklet.cover import Cover
from plangen.booklet.cutting import cutting_flow
from plangen.booklet.grids import KeyGrid
from plangen.booklet.lists import table
from plangen.booklet.markdown import Directive, inline
from plangen.booklet.panels import Panel
from plangen.booklet.parts import parts_flow
from plangen.booklet.patterns import pattern_pages
from plangen.booklet.rulers import Rulers
from plangen.booklet.setting import Setting
from plangen.booklet.steps import step_cautions, steps_flow
from plangen.booklet.style import MM
from plangen.drawing.sheet.model import Drawing
from plangen.findings import Finding, ProjectError
from plangen.handbook.safety import general_cautions, general_deference, has_caution, signal_definitions

SHARES = {
    "hero": 0.58, "views": 0.68, "exploded": 0.66, "hardware": 0.36, "assembly": 0.6, "position": 0.3,
    "section": 0.8,
}  # fmt: skip
WHOLE_PAGE = 0.86  # of the exploded view where its key goes over to the next page
HEAD_AND_WORDS = 34.0  # mm of a page for the head of a chapter and two lines under a key


def _picture(setting: Setting, arguments: list[str], text: str) -> list[Any]:
    """``picture hero|views|exploded|hardware``, the words in the fence as its caption.

    ``picture assembly KEY`` draws an assembly apart, ``picture position NAME`` the piece in a position,
    ``picture section LETTER`` the piece cut through.
    """
    name = arguments[0] if arguments else ""
    if name not in SHARES:
        raise _unknown("picture", name, list(SHARES))
    page = setting.look.page
    of = " ".join(arguments[1:])
    if name == "hardware":
        rows = setting.book.pictures.hardware(page.measure / MM, page.depth / MM)
        return [Picture(setting, row) for row in rows]
    share = WHOLE_PAGE if name == "exploded" and not _key_fits(setting) else SHARES[name]
    room = page.depth / MM * share
    height = room * setting.shrink.get(setting.setting, 1.0)
    drawing = _drawn(setting, name, of, page.measure / MM, height)
    caption = inline(setting, " ".join(text.split())) if text else ""
    setting.note_picture(drawing, room)
    place = [Place(setting, f"assembly:{of}")] if name == "assembly" else []
    return [*place, Picture(setting, drawing, caption), Gap(3 * MM)]


def _key_fits(setting: Setting) -> bool:
    """Whether the key of all marks finds room under the exploded view."""
    page = setting.look.page
    _, tall = KeyGrid(setting).wrap(page.measure, page.depth)
    return bool(page.depth * SHARES["exploded"] + tall + HEAD_AND_WORDS * MM <= page.depth)


def _drawn(setting: Setting, name: str, of: str, width: float, height: float) -> Drawing:
    pictures, design = setting.book.pictures, setting.book.design
    if name == "assembly":
        known = [one.key for one in design.assemblies]
        if of not in known:
            raise _unknown("picture assembly", of, known)
        return pictures.assembly(of, width, height)
    if name == "position":
        known = [one.name for one in design.positions]
        if of not in known:
            raise _unknown("picture position", of, known)
        return pictures.position(of, width, height)
    if name == "section":
        known = [one.letter for one in setting.book.sections]
        if of not in known:
            raise _unknown("picture section", of, known)
        return pictures.section(of, width, height)
    plain: dict[str, Callable[[float, float], Drawing]] = {
        "hero": pictures.hero,
        "views": pictures.views,
        "exploded": pictures.exploded,
    }
    return plain[name](width, height)


def _cutting(setting: Setting, arguments: list[str], text: str) -> list[Any]:
    """``cutting STOCK``: its boards or sheets with the cuts of each, the words in the fence over them."""
    name = " ".join(arguments)
    plans = [plan for plan in setting.book.take_off.plans if plan.stock == name]
    if not plans:
        raise _unknown("cutting", name, [plan.stock for plan in setting.book.take_off.plans])
    return cutting_flow(setting, plans[0], inline(setting, " ".join(text.split())) if text else "")


def _caution(setting: Setting, arguments: list[str], text: str) -> list[Any]:
    """``caution KEY`` or ``general`` or ``signals`` from the handbook; ``caution WARNING`` with own words."""
    key = " ".join(arguments)
    if key == "general":
        return list(step_cautions(setting, [one.key for one in general_cautions()]))
    if key == "signals":
        return [
            Panel(setting.look, signal, [setting.xml(meaning)]) for signal, meaning in signal_definitions()
        ]
    if key == "deference":
        return [Paragraph(setting.xml(general_deference()), setting.look.body)]
    if key in ("DANGER", "WARNING", "CAUTION", "NOTICE"):
        return [Panel(setting.look, key, [inline(setting, " ".join(text.split()))])]
    if not has_caution(key):
        raise _unknown(
            "caution", key, ["general", "signals", "deference", "DANGER", "WARNING", "CAUTION", "NOTICE"]
        )
    return list(step_cautions(setting, [key]))


def _facts(setting: Setting, arguments: list[str], text: str) -> list[Any]:
    """``facts``: lines of ``label: value``, four to a row."""
    rows = [line.split(":", 1) for line in text.splitlines() if ":" in line]
    return [Facts(setting.look, [(inline(setting, a.strip()), inline(setting, b.strip())) for a, b in rows])]


def _figures(setting: Setting, arguments: list[str], text: str) -> list[Any]:
    """``figures``: lines of ``number | unit | what it means``."""
    rows = [[cell.strip() for cell in line.split("|")] for line in text.splitlines() if line.count("|") == 2]
    return [
        BigFigures(setting.look, [(setting.plain(a), setting.plain(b), setting.xml(c)) for a, b, c in rows])
    ]


def _steps(setting: Setting, arguments: list[str], text: str) -> list[Any]:
    """``steps``: all of them; ``steps 3``: that one."""
    steps: Sequence[Any] = setting.book.order.steps
    if arguments:
        steps = [step for step in steps if str(step.number) in arguments]
        if not steps:
            raise _unknown("steps", " ".join(arguments), [f"1 to {len(setting.book.order.steps)}"])
    return steps_flow(setting, steps)


def _parts(setting: Setting, arguments: list[str], text: str) -> list[Any]:
    return parts_flow(setting, setting.book.design.parts)


def _patterns(setting: Setting, arguments: list[str], text: str) -> list[Any]:
    return pattern_pages(setting)


def _rulers(setting: Setting, arguments: list[str], text: str) -> list[Any]:
    return [Rulers(setting.look)]


def _lines(setting: Setting, arguments: list[str], text: str) -> list[Any]:
    number = int(arguments[0]) if arguments and arguments[0].isdigit() else 40
    return [NoteLines(min(number, 40))]


def _cover(setting: Setting, arguments: list[str], text: str) -> list[Any]:
    rows = [line.split(":", 1) for line in text.splitlines() if ":" in line]
    facts = [(inline(setting, a.strip()), inline(setting, b.strip())) for a, b in rows]
    return [Cover(setting, facts)]


def _page(setting: Setting, arguments: list[str], text: str) -> list[Any]:
    return [PageBreak()]


def _unknown(directive: str, seen: str, known: list[str]) -> ProjectError:
    message = f"a template asks for '{directive} {seen}', which the booklet cannot make"
    return ProjectError([Finding("unknown-directive", message, None, f"known: {', '.join(known)}")])


DIRECTIVES: dict[str, Directive] = {
    "caution": _caution,
    "cover": _cover,
    "cutting": _cutting,
    "facts": _facts,
    "figures": _figures,
    "lines": _lines,
    "page": _page,
    "parts": _parts,
    "patterns": _patterns,
    "picture": _picture,
    "rulers": _rulers,
    "steps": _steps,
    "table": table,
}

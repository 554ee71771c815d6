"""What the templates may print: plain data, every number already set in the edition's units."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Any

from plangen.booklet.model import Book
from plangen.booklet.numbers import Numbers, rounded, short
from plangen.booklet.staged import stages_of
from plangen.booklet.templates import chapter_order
from plangen.booklet.words import Words
from plangen.design.model import Design, Row
from plangen.drawing.exploded import shows_hardware
from plangen.drawing.hero import cover_position
from plangen.joinery.space import Axis
from plangen.sequence.model import Step
from plangen.takeoff.model import StockPlan
from plangen.takeoff.naming import own_name

_REFERENCE = re.compile(r"<[^<>]*>")
_SIZE = re.compile(r"\d+(?:[\u00a0 -]\d+/\d+|/\d+|\.\d+)?[\u00a0 ](?:in|mm|cm|ft)\b|\d+/\d+")

FEW_POSITIONS = 4  # whose sizes stand side by side on the page that shows the whole


def template_data(book: Book, words: Words) -> dict[str, Any]:
    """Give everything that a template can name."""
    design, take_off = book.design, book.take_off
    numbers = Numbers(book.style)
    project = design.project
    total_hours = sum((hours for _, hours in project.hours), Fraction(0))
    cover = cover_position(design)
    stands = cover.overall if cover is not None else design.overall
    ways = (Axis.ACROSS, Axis.UP, Axis.DEEP)
    solid = [plan for plan in take_off.plans if design.stock[plan.stock].kind == "solid"]
    sheet = [plan for plan in take_off.plans if design.stock[plan.stock].kind != "solid"]
    mass, mass_unit = numbers.mass(take_off.mass)
    bought = sum((plan.board_feet or Fraction(0) for plan in solid), Fraction(0))
    volume = sum((plan.volume for plan in solid), Fraction(0))
    wood, wood_unit = numbers.wood(bought, volume)
    finish, area_unit = numbers.area(take_off.finish_area)
    shown = sample_step(book)
    return {
        "project": {
            "title": project.title,
            "code": project.code,
            "revision": project.revision,
            "revised": words.day(project.revised),
            "line": project.line.rstrip(" ."),
            "maker": project.maker,
            "level": project.level,
            "contact": project.contact,
            "hours": short(total_hours, 2),
            "has_hours": bool(project.hours),
            "licence": list(project.licence),
            "priced": words.day(project.priced),
            "built": "",
        },
        "edition": {
            "name": book.edition,
            "paper": words(book.paper),
            "units": words("inches" if book.style.system == "inch" else "millimetres"),
            "unit": book.style.unit_word,
            "system": book.style.system,
        },
        "overall": numbers.product([design.overall.size(axis) for axis in ways]),
        "cover_overall": numbers.product([stands.size(axis) for axis in ways]),
        "count": {
            "parts": len(design.parts),
            "pieces": sum(line.number for line in take_off.cut_list),
            "steps": len(book.order.steps),
            "boards": sum(len(plan.bought) for plan in solid),
            "sheets": sum(len(plan.bought) for plan in sheet),
            "hardware": sum(line.count for line in take_off.hardware),
            "hardware_kinds": len(take_off.hardware),
            "stocks": len(take_off.plans),
            "hardest": 0,
        },
        "mass": {"number": mass, "unit": mass_unit, "note": take_off.mass_note},
        "wood": {"number": wood, "unit": wood_unit},
        "cost": {
            "known": take_off.total_cost is not None,
            "number": rounded(take_off.total_cost.amount) if take_off.total_cost else "",
            "currency": take_off.total_cost.currency if take_off.total_cost else "",
            "unpriced": list(take_off.unpriced),
        },
        "stocks": [stock_data(plan, book, numbers) for plan in take_off.plans],
        "shop": {
            "kerf": numbers.length(design.shop.kerf, unit=True),
            "planer": numbers.length(design.shop.planer, unit=True) if design.shop.planer else "",
            "glues": [
                {"name": name, "minutes": short(minutes) if minutes is not None else ""}
                for name, minutes in take_off.glues
            ],
        },
        "stages": [
            {"name": one.name, "title": one.title, "includes": numbers.words(one.includes)}
            for one in stages_of(book)
        ],
        "consumables": _consumables(book, numbers),
        "consumable_note": numbers.words(take_off.consumable_note),
        "hardware_note": take_off.hardware_note,
        "banding": [{"title": one.title, "words": numbers.words(one.words)} for one in take_off.banding],
        "finish": {"area": finish, "unit": area_unit},
        "has": {
            "solid": bool(solid),
            "sheet": bool(sheet),
            "defects": any(design.stock[plan.stock].defects for plan in solid),
            "hardware": bool(take_off.hardware),
            "finish": any(line.kind == "finish" for line in take_off.consumables),
            "weights": bool(take_off.assembly_mass),
            "from_work": any(line.from_work for line in take_off.cut_list),
            "pairs": any(part.hand for part in design.parts),
            "shoulders": any(line.shoulder_length or line.shoulder_width for line in take_off.cut_list),
            "patterns": bool(book.patterns),
            "changes": bool(book.changes.strip()),
            "revisions": bool(project.revisions),
            "assemblies": bool(design.assemblies),
            "hardware_drawn": shows_hardware(design, take_off),
            "positions": len(design.positions) > 1,
            "few_positions": 1 < len(design.positions) <= FEW_POSITIONS,
        },
        "assemblies": [
            {"key": one.key, "title": one.title, "name": own_name(one.name), "number": len(one.copies)}
            for one in reversed(design.assemblies)
        ],
        "positions": [
            {
                "name": one.name,
                "title": one.title,
                "first": number == 0,
                "overall": numbers.product(
                    [one.overall.size(axis) for axis in (Axis.ACROSS, Axis.UP, Axis.DEEP)]
                ),
            }
            for number, one in enumerate(design.positions)
        ],
        "sections": [{"letter": one.letter, "name": one.name} for one in book.sections],
        "rows": _rows(design, numbers),
        "tools": [numbers.words(tool) for tool in take_off.tools],
        "parts": [
            {"mark": line.mark, "title": line.title, "number": line.number, "stock": line.stock}
            for line in take_off.cut_list
        ],
        "changes": book.changes,
        "notes": list(book.notes),
        "full_contents": [
            str(entry["title"])
            for entry in chapter_order(book.templates)
            if "publish" in entry["editions"]
            and not entry.get("unlisted")
            and _has_chapter(book, entry["name"])
        ],
        "sample_step": shown.number if shown else 0,
    }


_WAYS = {Axis.ACROSS: "from left to right", Axis.DEEP: "from front to back", Axis.UP: "from below upward"}


def _rows(design: Design, numbers: Numbers) -> list[dict[str, Any]]:
    """Rows of copies at equal gaps, those that read the same once."""
    found: list[dict[str, Any]] = []
    for row in design.rows:
        said = _row(row, design, numbers)
        if said is not None and said not in found:
            found.append(said)
    return found


def _row(row: Row, design: Design, numbers: Numbers) -> dict[str, Any] | None:
    """What a template says of copies spread at equal gaps; None where they are not called alike."""
    titles = {copy.name: one.title for one in design.assemblies for copy in one.copies}
    titles |= {name: part.title for name, part in design.part_of.items()}
    called = dict.fromkeys(titles.get(name, "") for name in row.copies)
    if len(called) != 1 or "" in called:
        return None
    return {
        "title": next(iter(called)),
        "number": len(row.copies),
        "way": _WAYS[row.axis],
        "gap": numbers.length(row.gap, unit=True),
        "pitch": numbers.length(row.pitch, unit=True) if row.pitch is not None else "",
    }


def _has_chapter(book: Book, name: object) -> bool:
    """Whether the booklet for sale has anything for a chapter that not every project needs."""
    return {
        "measured": any(line.from_work for line in book.take_off.cut_list),
        "patterns": any(part.pattern for part in book.design.parts),
        "revisions": bool(book.design.project.revisions),
        "positions": len(book.design.positions) > 1,
        "sections": bool(book.sections),
    }.get(str(name), True)


def _consumables(book: Book, numbers: Numbers) -> list[dict[str, str]]:
    """Glues and finishes, with how long a glue stays open."""
    minutes = dict(book.take_off.glues)
    found = []
    for line in book.take_off.consumables:
        opened = minutes.get(line.item) if line.kind == "glue" else None
        found.append(
            {
                "title": line.title,
                "minutes": short(opened) if opened is not None else "",
                "words": numbers.words(line.words),
            }
        )
    return found


def stock_data(plan: StockPlan, book: Book, numbers: Numbers) -> dict[str, Any]:
    """Give what is said of one stock."""
    stock = book.design.stock[plan.stock]
    lines = [line for line in book.take_off.cut_list if line.stock == stock.name]
    solid = stock.kind == "solid"
    if solid:
        net, net_unit = numbers.wood(plan.net_board_feet or Fraction(0), plan.net_volume)
        bought, unit = numbers.wood(plan.board_feet or Fraction(0), plan.volume)
    else:
        area = sum((Fraction(line.length.mm * line.width.mm * line.number) for line in lines), Fraction(0))
        net, net_unit = numbers.area(area)
        bought, unit = numbers.sheets(plan.square_feet or Fraction(0))
    return {
        "name": stock.name,
        "title": stock.title,
        "label": numbers.words(stock.label),
        "thickness": numbers.thickness(stock.thickness, unit=True),
        "solid": solid,
        "count": len(plan.diagrams),
        "bound": plan.bound,
        "reason": numbers.words(plan.bound_words) if plan.bound_words else plan.bound_reason,
        "kinds": len(lines),
        "pieces": sum(line.number for line in lines),
        "net": net,
        "net_unit": net_unit,
        # board feet count the rough thickness, whatever is planed off it
        "counted": numbers.words(stock.label) if solid and not numbers.metric else "",
        "bought": bought,
        "bought_unit": unit,
        "kerf": numbers.length(plan.kerf, unit=True),
        "over_length": numbers.length(plan.allowance_length, unit=True) if plan.allowance_length else "",
        "over_width": numbers.length(plan.allowance_width, unit=True) if plan.allowance_width else "",
        "used": [
            {"number": diagram.number, "percent": rounded(diagram.used * 100)} for diagram in plan.diagrams
        ],
        "cost": numbers.money(plan.cost),
        "waste": next(
            (
                numbers.words(rule.words)
                for rule in book.take_off.waste_rules
                if rule.stock == stock.name and not rule.governs
            ),
            "",
        ),
    }


def sample_step(book: Book) -> Step | None:
    """Choose the step that a shop preview shows: one with parts going together and no size in its words."""
    best: tuple[int, int, Step] | None = None
    for step in book.order.steps:
        if step.picture.kind == "none":
            continue
        said = " ".join((step.title, step.say, *step.checks, *step.tools))
        sizes = len(_REFERENCE.findall(said)) + len(_SIZE.findall(said))
        rank = (sizes, 0 if step.picture.kind == "assembly" else 1)
        if best is None or rank < best[:2]:
            best = (*rank, step)
    return best[2] if best else None


def without_sizes(text: str, instead: str) -> str:
    """Give a printed text with every length left out, for the preview."""
    return _SIZE.sub(instead, text)

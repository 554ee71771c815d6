"""Every list of a build as a table."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

from plangen.design.model import Design
from plangen.takeoff.buying_list import buying_table
from plangen.takeoff.model import CutLine, Stage, TakeOff
from plangen.takeoff.naming import copy_words, stock_words
from plangen.takeoff.part_labels import panel_words, part_labels
from plangen.takeoff.saw_settings import SawSetting, saw_settings
from plangen.takeoff.shop_order import in_shop_order
from plangen.takeoff.tables import Cell, Column, FileTable, Table, file_table
from plangen.units import LengthStyle, Phrase, phrase

SIZES = (Column("Thickness", "reading"), Column("Width", "length"), Column("Length", "length"))


def list_tables(design: Design, take_off: TakeOff) -> tuple[Table, ...]:
    """Give every list, in the order in which a maker takes them up; lists without rows are left out."""
    tables = (
        buying_table(design, take_off),
        *(stage_table(design, stage) for stage in take_off.stages),
        cut_table(design, take_off),
        stock_table(design, take_off),
        order_table(design, take_off),
        hardware_table(take_off),
        consumable_table(take_off),
        tool_table(take_off),
        cost_table(take_off),
        weight_table(design, take_off),
        assembly_weight_table(design, take_off),
        label_table(design, take_off),
    )
    return tuple(table for table in tables if table.rows)


def project_table(design: Design, settings: Sequence[str]) -> Table:
    """Give what the lists are of, the date of their prices, and the settings they were made with."""
    project = design.project
    facts = [
        ("Title", project.title),
        ("Code", project.code),
        ("Revision", project.revision),
        ("Date of revision", project.revised.isoformat() if project.revised else ""),
        ("Prices of", project.priced.isoformat() if project.priced else "no date given"),
        ("Maker", project.maker),
        *(("Made with", setting) for setting in settings),
    ]
    rows = tuple((name, fact) for name, fact in facts if fact)
    return Table("project", "Project", (Column("What"), Column("Said")), rows)


def cut_table(design: Design, take_off: TakeOff) -> Table:
    """Give the cut list, finished sizes, in the order in which the shop works."""
    lines = in_shop_order(design, take_off.cut_list)
    banded = any(line.cut_length or line.cut_width for line in lines)
    columns = [Column("Mark"), Column("Part"), Column("Number", "whole", total=True), Column("Stock")]
    columns += [*SIZES, Column("Between shoulders", "length")]
    if banded:
        columns += [Column("Width before banding", "length"), Column("Length before banding", "length")]
    columns.append(Column("Note"))
    rows = []
    for line in lines:
        cells: list[Cell] = [line.mark + ("*" if line.from_work else ""), line.title, line.number]
        cells += [stock_words(design, line.stock), line.thickness, line.width, line.length]
        cells.append(line.shoulder_length)
        if banded:
            cells += [line.cut_width, line.cut_length]
        cells.append(joined(_notes(line)))
        rows.append(tuple(cells))
    starred = any(line.from_work for line in lines)
    star = " * Take this size from the work before cutting." if starred else ""
    note = f"Finished sizes, everything that enters a joint included; the length runs along the grain.{star}"
    return Table("cut-list", "Cut list", tuple(columns), tuple(rows), phrase(note))


_STAGE_FILES: Final = {"mill": "mill-now", "cut": "cut-now", "later": "cut-later"}


def stage_table(design: Design, stage: Stage) -> Table:
    """Give what is milled now, cut now or cut later, in the order in which the shop works."""
    planed = any(line.rough_thickness for line in stage.lines)
    rows = []
    for line in stage.lines:
        mark = line.mark + ("*" if line.starred else "")
        cells: list[Cell] = [mark, line.title, line.number, stock_words(design, line.stock)]
        cells += [line.thickness, line.width, line.length]
        if planed:
            cells.append(line.rough_thickness)
        cells.append(joined(line.notes))
        rows.append(tuple(cells))
    columns = [Column("Mark"), Column("Part"), Column("Number", "whole", total=True), Column("Stock"), *SIZES]
    if planed:
        columns.append(Column("Planed from", "reading"))
    columns.append(Column("Note"))
    return Table(_STAGE_FILES[stage.name], stage.title, tuple(columns), tuple(rows), stage.includes)


def _notes(line: CutLine) -> Iterable[Phrase]:
    yield from line.notes
    if line.shoulder_width:
        yield phrase(line.shoulder_width, " wide between shoulders")


def hardware_table(take_off: TakeOff) -> Table:
    """Give the hardware bill."""
    rows = tuple(
        (
            line.number_mark,
            line.title,
            line.size,
            line.count,
            line.packs or None,
            pack_words(line.bought) if line.packs else "",
            line.left or None,
            "; ".join(f"{copy_words(name)}: {number}" for name, number in line.by),
            line.price,
            line.cost,
        )
        for line in take_off.hardware
    )
    columns = (
        Column("Mark", "whole"),
        Column("Item"),
        Column("Size"),
        Column("Number", "whole"),
        Column("Packs", "whole"),
        Column("Which packs"),
        Column("Left over", "whole"),
        Column("Used by"),
        Column("Price each", "price"),
        Column("Cost", "money", total=True),
    )
    return Table("hardware", "Hardware", columns, rows, phrase(take_off.hardware_note))


def pack_words(bought: Sequence[tuple[int, int]]) -> str:
    """Give packs as they are asked for: ``1 of 100, 2 of 25``."""
    return ", ".join(f"{number} of {size}" for size, number in bought)


def stock_table(design: Design, take_off: TakeOff) -> Table:
    """Give the boards and sheets of the cutting diagrams, one row for each."""
    rows = tuple(
        (
            stock_words(design, plan.stock),
            diagram.kind,
            diagram.number,
            diagram.thickness,
            diagram.width,
            diagram.length,
            diagram.used,
            "to buy" if diagram.bought else "on the rack",
        )
        for plan in take_off.plans
        for diagram in plan.diagrams
    )
    columns = (
        Column("Stock"),
        Column("Kind"),
        Column("No.", "whole"),
        *SIZES,
        Column("Used", "share"),
        Column("Where"),
    )
    notes = [
        phrase(stock_words(design, plan.stock), ": ", plan.bound_words, " ", plan.measure_note)
        for plan in take_off.plans
    ]
    return Table("boards-and-sheets", "Boards and sheets", columns, rows, joined(notes, " "))


def order_table(design: Design, take_off: TakeOff) -> Table:
    """Give the cuts of every board and sheet in order, a row for each setting of the saw."""
    rows = [
        (
            stock_words(design, plan.stock),
            diagram.kind,
            diagram.number,
            _cut_numbers(setting.numbers),
            "rip" if setting.along == "x" else "crosscut",
            "saw bench" if setting.by == "bench" else "hand-held saw along a rail",
            setting.at,
            _gives(setting),
        )
        for plan in take_off.plans
        for diagram in plan.diagrams
        for setting in saw_settings(diagram)
    ]
    columns = (
        Column("Stock"),
        Column("Kind"),
        Column("No.", "whole"),
        Column("Cut"),
        Column("How"),
        Column("With"),
        Column("Set to", "length"),
        Column("Gives"),
    )
    note = "Every cut goes straight through its piece, measured from the edge or end cut last."
    return Table("cutting-orders", "Cutting orders", columns, tuple(rows), phrase(note))


def _cut_numbers(numbers: Sequence[int]) -> str:
    first, last = numbers[0], numbers[-1]
    return str(first) if first == last else f"{first} to {last}"


def _gives(setting: SawSetting) -> str:
    """Say what comes off: marks with how many of each, off-cuts, or nothing that is kept."""
    words = [mark if number == 1 else f"{number} × {mark}" for _, mark, number in setting.gives]
    if setting.kept:
        words.append("an off-cut" if setting.kept == 1 else f"{setting.kept} off-cuts")
    return ", ".join(words) or ("a clean edge" if setting.trims else "waste")


def consumable_table(take_off: TakeOff) -> Table:
    """Give glues, finishes and edge banding."""
    rows: list[tuple[Cell, ...]] = [
        (line.kind.capitalize(), line.title, line.area or None, line.coats, None, line.words, line.cost)
        for line in take_off.consumables
    ]
    costs = {line.item: line.cost for line in take_off.costs if line.kind == "banding"}
    rows += [
        ("Edge banding", line.title, None, None, line.length, line.words, costs.get(line.item))
        for line in take_off.banding
    ]
    columns = (
        Column("Kind"),
        Column("Item"),
        Column("Area of one coat", "area"),
        Column("Coats", "whole"),
        Column("Length to buy", "length"),
        Column("In words"),
        Column("Cost", "money", total=True),
    )
    return Table("consumables", "Consumables", columns, tuple(rows), take_off.consumable_note)


def tool_table(take_off: TakeOff) -> Table:
    """Give the tools that the work asks for."""
    return Table("tools", "Tools", (Column("Tool"),), tuple((tool,) for tool in take_off.tools))


def cost_table(take_off: TakeOff) -> Table:
    """Give the costs; what has no price has an empty cell and is named in the note."""
    rows = tuple(
        (line.named or line.title, line.words or line.quantity, line.cost) for line in take_off.costs
    )
    columns = (Column("Item"), Column("Quantity"), Column("Cost", "money", total=True))
    return Table("costs", "Costs", columns, rows, joined(take_off.cost_notes, " "))


def weight_table(design: Design, take_off: TakeOff) -> Table:
    """Give the weight of one piece of each part and of all of them; empty where no density is known."""
    rows = []
    for line in take_off.cut_list:
        mass = take_off.part_mass.get(line.part)
        together = mass * line.number if mass is not None else None
        rows.append((line.mark, line.title, line.number, stock_words(design, line.stock), mass, together))
    columns = (
        Column("Mark"),
        Column("Part"),
        Column("Number", "whole", total=True),
        Column("Stock"),
        Column("Each", "mass"),
        Column("Together", "mass", total=True),
    )
    return Table("weights", "Weights", columns, tuple(rows), phrase(take_off.mass_note))


def assembly_weight_table(design: Design, take_off: TakeOff) -> Table:
    """Give the weight of one copy of each assembly, and of the whole."""
    rows: list[tuple[Cell, ...]] = [
        (one.title, len(one.copies), take_off.assembly_mass[one.key])
        for one in design.assemblies
        if one.key in take_off.assembly_mass
    ]
    if rows:
        rows.append(("The whole", 1, take_off.mass))
    columns = (Column("What is lifted"), Column("Number", "whole"), Column("Each", "mass"))
    note = "For lifting: an assembly weighs what its pieces weigh."
    return Table("assembly-weights", "Assembly weights", columns, tuple(rows), phrase(note))


def label_table(design: Design, take_off: TakeOff) -> Table:
    """Give what stands on the label of each piece."""
    rows = tuple(
        (
            label.mark + ("*" if label.from_work else ""),
            label.title,
            label.copy,
            label.copies,
            label.thickness,
            label.width,
            label.length,
            label.stock,
            panel_words(label),
            label.assembly,
            label.place,
            label.faces.word if label.faces is not None else "",
        )
        for label in part_labels(design, take_off)
    )
    columns = (
        Column("Mark"),
        Column("Part"),
        Column("Piece", "whole"),
        Column("Pieces", "whole"),
        *SIZES,
        Column("Stock"),
        Column("Cut from"),
        Column("Assembly"),
        Column("Place"),
        Column("Face side looks to"),
    )
    return Table("part-labels", "Part labels", columns, rows)


def joined(phrases: Iterable[Phrase], between: str = "; ") -> Phrase:
    """Join phrases into one, with words between them."""
    words = Phrase()
    for one in phrases:
        words += phrase(between, one) if words and one else one
    return words


def file_tables(design: Design, take_off: TakeOff, style: LengthStyle) -> tuple[FileTable, ...]:
    """Give every list as files hold it, sizes printed in ``style``."""
    return tuple(file_table(table, style) for table in list_tables(design, take_off))

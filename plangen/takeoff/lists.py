"""The lists as tables of text in one style of length, and as files for other programs."""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from itertools import groupby

from plangen.design.model import Design, Money
from plangen.takeoff.model import CuttingDiagram, SawCut, TakeOff
from plangen.takeoff.naming import copy_words
from plangen.units import Length, LengthStyle, print_length


@dataclass(frozen=True, slots=True)
class ListTable:
    """One list as text: a title, the heads of the columns, rows of as many cells, a note under it."""

    name: str
    title: str
    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    note: str = ""


def list_tables(design: Design, take_off: TakeOff, style: LengthStyle) -> tuple[ListTable, ...]:
    """Give the cut list, hardware, boards and sheets, and costs, sizes printed in ``style``."""
    return (
        cut_table(design, take_off, style),
        hardware_table(take_off, style),
        stock_table(design, take_off, style),
        cost_table(take_off, style),
    )


def cut_table(design: Design, take_off: TakeOff, style: LengthStyle) -> ListTable:
    """Give the cut list; the last columns hold the exact sizes in millimetres."""
    rows = []
    for line in take_off.cut_list:
        shoulder = line.shoulder_length
        rows.append(
            (
                line.mark + ("*" if line.from_work else ""),
                line.title,
                str(line.number),
                design.stock[line.stock].title,
                *(_plain(size, style) for size in (line.thickness, line.width, line.length)),
                _plain(shoulder, style) if shoulder else "",
                "; ".join(note.text(style) for note in line.notes),
                *(exact(size) for size in (line.thickness, line.width, line.length)),
            )
        )
    starred = any(line.from_work for line in take_off.cut_list)
    star = " * Take this size from the work before cutting." if starred else ""
    columns = ("Mark", "Part", "Number", "Stock", "Thickness", "Width", "Length", "Between shoulders", "Note")
    return ListTable(
        "cut-list",
        "Cut list",
        (*columns, *(f"{side} exact, mm" for side in ("Thickness", "Width", "Length"))),
        tuple(rows),
        f"Finished sizes, everything that enters a joint included; the length runs along the grain.{star}",
    )


def hardware_table(take_off: TakeOff, style: LengthStyle) -> ListTable:
    """Give the hardware bill."""
    rows = tuple(
        (
            str(line.number_mark),
            line.title,
            _breaking(line.size.text(style)),
            str(line.count),
            str(line.packs) if line.packs else "",
            "; ".join(f"{copy_words(name)}: {number}" for name, number in line.by),
            *_money(line.price),
            *_money(line.cost)[:1],
        )
        for line in take_off.hardware
    )
    columns = ("Mark", "Item", "Size", "Number", "Packs", "Used by", "Price each", "Currency", "Cost")
    return ListTable("hardware", "Hardware", columns, rows)


def stock_table(design: Design, take_off: TakeOff, style: LengthStyle) -> ListTable:
    """Give the boards and sheets to buy, one row for each."""
    rows = tuple(
        (
            design.stock[plan.stock].title,
            diagram.kind,
            str(diagram.number),
            *(_plain(size, style) for size in (diagram.thickness, diagram.width, diagram.length)),
            f"{round(100 * diagram.used)}",
            *(exact(size) for size in (diagram.thickness, diagram.width, diagram.length)),
        )
        for plan in take_off.plans
        for diagram in plan.diagrams
    )
    sides = ("Thickness", "Width", "Length")
    columns = ("Stock", "Kind", "No.", *sides, "Used, %", *(f"{side} exact, mm" for side in sides))
    notes = " ".join(
        f"{design.stock[plan.stock].title}: {plan.measure_note.text(style)}" for plan in take_off.plans
    )
    return ListTable("boards-and-sheets", "Boards and sheets", columns, rows, _breaking(notes))


def cost_table(take_off: TakeOff, style: LengthStyle) -> ListTable:
    """Give the costs; what has no price has an empty cell and is named in the note."""
    rows = tuple(
        (line.title, _breaking(line.words.text(style)) or line.quantity, *_money(line.cost))
        for line in take_off.costs
    )
    notes = []
    if take_off.total_cost:
        notes.append(f"Total of what has a price: {' '.join(_money(take_off.total_cost))}.")
    if take_off.unpriced:
        notes.append(f"Without a price, and not in any total: {', '.join(take_off.unpriced)}.")
    return ListTable("costs", "Costs", ("Item", "Quantity", "Cost", "Currency"), rows, " ".join(notes))


def cutting_order(diagram: CuttingDiagram, style: LengthStyle) -> ListTable:
    """Give the cuts of one board or sheet in order; equal cuts that follow each other share a row."""
    rows = []
    for (along, at), group in groupby(diagram.cuts, key=lambda cut: (cut.along, cut.at)):
        cuts = list(group)
        first, last = cuts[0].number, cuts[-1].number
        numbers = str(first) if first == last else f"{first} to {last}"
        action = "rip" if along == "x" else "crosscut"
        rows.append((numbers, action, print_length(at, style), _gives(diagram, cuts)))
    return ListTable(
        f"cutting-order-{diagram.stock}-{diagram.number}".replace(" ", "-"),
        f"Cutting order, {diagram.kind} {diagram.number}",
        ("Cut", "How", "Set to", "Gives"),
        tuple(rows),
        "Every cut goes straight through its piece, measured from the edge or end cut last.",
    )


def _gives(diagram: CuttingDiagram, cuts: list[SawCut]) -> str:
    """Name the marks whose pieces lie at the low side of the cuts, each once."""
    marks: dict[str, None] = {}
    for cut in cuts:
        low = cut.position - cut.at
        for piece in diagram.pieces:
            near, far = (piece.y, piece.width) if cut.along == "x" else (piece.x, piece.length)
            start, size = (piece.x, piece.length) if cut.along == "x" else (piece.y, piece.width)
            along = cut.low <= start and start + size <= cut.high
            if along and low <= near and near + far <= cut.position:
                marks.setdefault(piece.mark)
    return ", ".join(marks) or "waste"


def csv_files(design: Design, take_off: TakeOff, style: LengthStyle) -> Mapping[str, bytes]:
    """Give every list as a file by its name: UTF-8, RFC 4180, a header row, no note."""
    return {f"{table.name}.csv": csv_bytes(table) for table in list_tables(design, take_off, style)}


def csv_bytes(table: ListTable) -> bytes:
    """Write one table as RFC 4180 has it: commas, CRLF, quotes where they are needed."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(table.columns)
    writer.writerows(table.rows)
    return out.getvalue().encode("utf-8")


def exact(length: Length) -> str:
    """Print millimetres for a program: all places where they end, else to the nanometre."""
    return _decimal(length.mm, 6)


def _decimal(value: Fraction, places: int) -> str:
    scaled = round(value * 10**places)
    sign, digits = ("-" if scaled < 0 else ""), f"{abs(scaled):0{places + 1}}"
    text = f"{digits[:-places]}.{digits[-places:]}".rstrip("0").rstrip(".")
    return sign + text


def _money(money: Money | None) -> tuple[str, str]:
    """Print an amount to the hundredth, and its currency; both empty without one."""
    if money is None:
        return "", ""
    cents = round(money.amount * 100)
    return f"{cents // 100}.{cents % 100:02}", money.currency


def _plain(length: Length, style: LengthStyle) -> str:
    return _breaking(print_length(length, style))


def _breaking(text: str) -> str:
    """Give text with common spaces, which other programs read better."""
    return text.replace("\u00a0", " ")

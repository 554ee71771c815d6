"""The record of one build: all that a later build, or another program, may want to know of it."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Sequence
from fractions import Fraction
from pathlib import PurePosixPath
from typing import Any

from plangen.booklet.model import Edition, PageRecord, Paper
from plangen.booklet.numbers import Numbers
from plangen.design.model import Contact, Design, Joint, Money, Project
from plangen.findings import Finding, Findings, Severity
from plangen.joinery.space import Axis
from plangen.record.nesting import assembly_record, motion_record, position_record
from plangen.record.pages import page_records
from plangen.record.parts import part_record
from plangen.record.plain import box, digest, exact, measure, number, size
from plangen.sequence.model import OrderOfWork, Step
from plangen.takeoff.model import CuttingDiagram, HardwareLine, StockPlan, TakeOff
from plangen.units import Length, LengthStyle

FORMAT = 1  # counts up when an older reader would misread a record

Resolve = Callable[[str], str]


def make_record(
    design: Design,
    take_off: TakeOff,
    order: OrderOfWork,
    style: LengthStyle,
    paper: Paper,
    edition: Edition,
    findings: Findings | Iterable[Finding],
    pages: Sequence[PageRecord],
    version: str,
    page_texts: Sequence[str],
    resolve: Resolve | None = None,
    settings: Sequence[str] = (),
) -> dict[str, Any]:
    """Give the record of a build as plain JSON data.

    ``page_texts`` holds the words of every page (see ``page_texts`` in this room); ``resolve`` puts printed
    values for the references in a step's text, so that a step counts as changed when a size it names is.
    ``settings`` are those of the command line that the booklet was made with, in their order.
    Lengths are exact millimetres as text, floats to six places, and text as ``style`` prints them. Raises
    ValueError unless there is a text for every page.
    """
    numbers = Numbers(style)
    return {
        "format": FORMAT,
        "program": {"name": "plangen", "version": version},
        "edition": {
            "edition": edition,
            "paper": paper,
            "units": style.system,
            "denominator": style.denominator,
            "step": str(style.step),
            "settings": list(settings),
        },
        "project": _project(design.project),
        "sizes": {name: _named(value, style) for name, value in design.sizes.items()},
        "overall": [measure(axis.word, design.overall.size(axis), style) for axis in Axis],
        "parts": [part_record(part, style) for part in design.parts],
        "hardware": [_hardware(line, numbers) for line in take_off.hardware],
        "joints": [_joint(joint) for joint in design.joints],
        "assemblies": [assembly_record(one, design) for one in design.assemblies],
        "motions": [motion_record(motion, style) for motion in design.motions],
        "positions": [position_record(position, design, style) for position in design.positions],
        "totals": _totals(design, take_off, numbers),
        "plans": [_plan(plan, style) for plan in take_off.plans],
        "steps": [_step(step, resolve) for step in order.steps],
        "findings": [_finding(finding) for finding in _worth_keeping(findings)],
        "pages": page_records(pages, page_texts, design.project),
    }


def record_bytes(record: dict[str, Any]) -> bytes:
    """Write a record as UTF-8, keys in order of their names, a newline at the end."""
    text = json.dumps(record, ensure_ascii=False, sort_keys=True, indent=1, allow_nan=False)
    return f"{text}\n".encode()


def _project(project: Project) -> dict[str, Any]:
    return {
        "title": project.title,
        "code": project.code,
        "revision": project.revision,
        "revised": project.revised.isoformat() if project.revised else None,
    }


def _named(value: Length | Fraction, style: LengthStyle) -> dict[str, Any]:
    return size(value, style) if isinstance(value, Length) else number(value, f"{float(value):g}")


def _hardware(line: HardwareLine, numbers: Numbers) -> dict[str, Any]:
    return {
        "mark": line.number_mark,
        "item": line.item,
        "title": line.title,
        "size": numbers.words(line.size),
        "count": line.count,
        "packs": line.packs,
        "by": [{"name": name, "count": count} for name, count in line.by],
    }


def _joint(joint: Joint) -> dict[str, Any]:
    return {
        "name": joint.name,
        "kind": joint.kind,
        "title": joint.title,
        "glue": joint.glue,
        "assembly": joint.assembly,
        "contacts": [_contact(contact) for contact in joint.contacts],
    }


def _contact(contact: Contact) -> dict[str, Any]:
    return {
        "fixed": contact.fixed,
        "moving": contact.moving,
        "face": box(contact.face),
        "closes": contact.closes.word if contact.closes else None,
        "way": [round(part, 9) for part in contact.way] if contact.way is not None else None,
    }


def _totals(design: Design, take_off: TakeOff, numbers: Numbers) -> list[dict[str, Any]]:
    pieces = sum(line.number for line in take_off.cut_list)
    hardware = sum(line.count for line in take_off.hardware)
    boards = [plan for plan in take_off.plans if plan.board_feet is not None]
    sheets = [plan for plan in take_off.plans if design.stock[plan.stock].kind == "plywood"]
    bought = sum((plan.board_feet or Fraction(0) for plan in boards), Fraction(0))
    mass = " ".join(numbers.mass(take_off.mass))
    totals = [
        {"name": "pieces", **number(Fraction(pieces), str(pieces))},
        {"name": "hardware pieces", **number(Fraction(hardware), str(hardware))},
        {"name": "weight", **number(take_off.mass, mass)},
    ]
    if boards:
        count = sum(len(plan.diagrams) for plan in boards)
        totals.append({"name": "boards", **number(Fraction(count), str(count))})
        volume = sum((plan.volume for plan in take_off.plans if plan.board_feet is not None), Fraction(0))
        totals.append({"name": "wood to buy", **number(bought, " ".join(numbers.wood(bought, volume)))})
    if sheets:
        count = sum(len(plan.diagrams) for plan in sheets)
        totals.append({"name": "sheets", **number(Fraction(count), str(count))})
    if take_off.total_cost is not None:
        totals.append({"name": "cost", **_money(take_off.total_cost)})
    return totals


def _money(money: Money) -> dict[str, Any]:
    return number(money.amount, Numbers.money(money))


def _plan(plan: StockPlan, style: LengthStyle) -> dict[str, Any]:
    return {
        "stock": plan.stock,
        "bound": plan.bound,
        "reason": plan.bound_words.text(style) or plan.bound_reason,
        "kerf": exact(plan.kerf),
        "allowance_length": exact(plan.allowance_length),
        "allowance_width": exact(plan.allowance_width),
        "board_feet": None if plan.board_feet is None else str(plan.board_feet),
        "square_feet": None if plan.square_feet is None else str(plan.square_feet),
        "cost": None if plan.cost is None else _money(plan.cost),
        "diagrams": [_diagram(diagram, style) for diagram in plan.diagrams],
    }


def _diagram(diagram: CuttingDiagram, style: LengthStyle) -> dict[str, Any]:
    return {
        "number": diagram.number,
        "title": diagram.title.text(style),
        "length": exact(diagram.length),
        "width": exact(diagram.width),
        "thickness": exact(diagram.thickness),
        "used": str(diagram.used),
        "pieces": [
            {
                "part": piece.part,
                "mark": piece.mark,
                "x": exact(piece.x),
                "y": exact(piece.y),
                "length": exact(piece.length),
                "width": exact(piece.width),
                "turned": piece.turned,
            }
            for piece in diagram.pieces
        ],
        "cuts": [
            {
                "number": saw.number,
                "along": saw.along,
                "at": exact(saw.at),
                "low": exact(saw.low),
                "high": exact(saw.high),
                "position": exact(saw.position),
            }
            for saw in diagram.cuts
        ],
        "off_cuts": [
            [exact(left.x), exact(left.y), exact(left.length), exact(left.width)] for left in diagram.off_cuts
        ],
    }


def _step(step: Step, resolve: Resolve | None) -> dict[str, Any]:
    def printed(text: str) -> str:
        return resolve(text) if resolve is not None else text

    said = [step.say, *step.checks, *step.tools]
    return {
        "number": step.number,
        "title": printed(step.title),
        "kind": step.kind,
        "parts": [{"part": use.part, "count": use.number} for use in step.parts],
        "hardware": [{"item": use.item, "count": use.number} for use in step.hardware],
        "joints": list(step.joints),
        "assembly": step.assembly,
        "brought": list(step.brought),
        "drafted": step.drafted,
        "cautions": list(step.cautions),
        "digest": digest([printed(text) for text in said]),
    }


def _worth_keeping(findings: Findings | Iterable[Finding]) -> list[Finding]:
    """All but errors, which never come with a booklet, in the order of the maker's file."""
    ordered = findings if isinstance(findings, Findings) else Findings(list(findings))
    return [finding for finding in ordered.sorted() if finding.severity is not Severity.ERROR]


def _finding(finding: Finding) -> dict[str, Any]:
    place = finding.place
    return {
        "kind": finding.kind,
        "severity": finding.severity.value,
        "message": finding.message,
        "remedy": finding.remedy,
        "part": finding.part,
        # Only the file's own name: where the project lies on a disk is nobody's business.
        "file": PurePosixPath(place.file).name if place else None,
        "line": place.line if place else None,
        "column": place.column if place else None,
    }

"""The whole program on one screen: the rooms called in order, findings gathered at each door."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, Literal

from plangen.description import Description, apply_settings, read_description
from plangen.design.build import Solved, make_design
from plangen.design.marks import (
    FILE_NAME,
    KeptMarks,
    assign_marks,
    mark_name,
    mark_names,
    read_marks,
    with_marks,
    write_marks,
)
from plangen.findings import Findings, ProjectError
from plangen.prose import check_prose, resolver
from plangen.units import LengthStyle

if TYPE_CHECKING:
    from plangen.design.model import Design
    from plangen.drawing.label_sheets import LabelSheet
    from plangen.record import Comparison
    from plangen.sequence.model import OrderOfWork
    from plangen.solids import Solids
    from plangen.takeoff.model import TakeOff

Progress = Callable[[str], None]
RECORD, CHANGES = "record.json", "changes.md"


@dataclass(frozen=True)
class Source:
    """All that a build may know of the world, read before it begins."""

    folder_name: str
    file: str
    text: bytes
    kept: Mapping[str, bytes] = field(default_factory=dict)  # small files beside the project
    templates: Mapping[str, str] = field(default_factory=dict)  # the booklet's words, the maker's over ours
    settings: tuple[str, ...] = ()  # NAME=VALUE from the command line
    last_record: bytes | None = None  # the record.json of the last build


@dataclass(frozen=True)
class BuildOptions:
    """What the maker chose for this booklet; None is the project's own choice."""

    paper: Literal["letter", "a4"] | None = None
    units: Literal["inch", "mm", "both"] | None = None
    edition: Literal["publish", "binder", "sample"] = "publish"
    labels: str | None = None  # a sheet of labels, by how many it holds or by their size
    first_label: int = 1  # where a part-used sheet begins


@dataclass(frozen=True)
class Checked:
    """A project that has been through every check."""

    description: Description
    solved: Solved
    solids: Solids
    take_off: TakeOff
    order: OrderOfWork
    marks: KeptMarks

    @property
    def design(self) -> Design:
        """The design, marked."""
        return self.solved.design


@dataclass(frozen=True)
class CheckResult:
    """What ``check`` found; ``checked`` is None when errors stopped it."""

    findings: Findings
    checked: Checked | None

    @property
    def design(self) -> Design | None:
        """The design, when there is one."""
        return self.checked.design if self.checked is not None else None


@dataclass(frozen=True)
class BuildResult:
    """What a build made: files by name under the output folder, and what to keep beside the project."""

    findings: Findings
    files: Mapping[str, bytes] | None = None
    kept: Mapping[str, bytes] = field(default_factory=dict)
    comparison: Comparison | None = None
    stale: tuple[str, ...] = ()  # files of the last build that this one no longer makes


def _silent(_stage: str) -> None:
    pass


def check(source: Source, progress: Progress = _silent) -> CheckResult:
    """Read, solve and check a project; every fault of it is in the findings."""
    from plangen.checks import run_checks
    from plangen.sequence.order import order_of_work
    from plangen.solids import build_solids
    from plangen.takeoff import take_off

    findings = Findings()
    progress("Read the description")
    description = _read(source, findings)
    if description is None:
        return CheckResult(findings, None)
    progress("Solve the design")
    kept = read_marks(source.kept.get(FILE_NAME))
    solved = make_design(description, findings, kept)
    if solved is None:
        return CheckResult(findings, None)
    progress("Order the work")
    order = order_of_work(solved.design, description.steps, findings)
    marks = _marks_in_build_order(description, solved.design, order, kept)
    solved = Solved(with_marks(solved.design, marks), solved.resolve)
    check_prose(description, solved, findings)
    progress("Cut the solids and check them")
    solids = build_solids(solved.design)
    run_checks(solved.design, solids, findings)
    progress("Take off the lists")
    volumes = {key: solid.volume for key, solid in solids.parts.items()}
    lists = take_off(solved.design, order, findings, volumes)
    if findings.has_errors:
        return CheckResult(findings, None)
    return CheckResult(findings, Checked(description, solved, solids, lists, order, marks))


def build(source: Source, options: BuildOptions, progress: Progress = _silent) -> BuildResult:
    """Make every file of a booklet; nothing is made of a project with errors."""
    result = check(source, progress)
    if result.checked is None:
        return BuildResult(result.findings)
    from plangen import __version__
    from plangen.booklet import Book, set_booklet
    from plangen.drawing.gauge_model import gauges_csv
    from plangen.plates import Plates
    from plangen.record import changes_markdown, compare, make_record, page_texts, read_record, record_bytes
    from plangen.takeoff.list_files import list_files

    checked, findings = result.checked, result.findings
    style = style_of(options, checked.design)
    paper = options.paper or ("letter" if checked.design.project.units == "inch" else "a4")
    sheet = _label_sheet(options, paper, findings)
    if findings.has_errors:
        return BuildResult(findings)
    plates = Plates(
        checked.design, checked.solids, checked.take_off, checked.order, style, options.edition, paper
    )
    resolve = resolver(checked.solved, checked.take_off, style)
    progress("Set the booklet")
    try:
        booklet = set_booklet(
            Book(
                design=checked.design,
                solids=checked.solids,
                take_off=checked.take_off,
                order=checked.order,
                style=style,
                pictures=plates,
                resolve=resolve,
                templates=source.templates,
                paper=paper,
                edition=options.edition,
                patterns=plates.patterns(),
                sections=plates.sections,
                settings=source.settings,
            )
        )
    except ProjectError as error:
        findings.extend(error.findings)
        return BuildResult(findings)
    for defect in booklet.defects:
        findings.warning(
            "layout", f"page {defect.page}: {defect.words}", None, "tell the developers of plangen"
        )
    progress("Write drawings, lists and the record")
    gauges = plates.gauges()
    for picture, gauge in gauges:
        if gauge.fails_badly:
            figure = f"{gauge.figure:g}, where {gauge.bound:g} would be right"
            words = f"{picture}: {gauge.name}: {figure}" + (f" ({gauge.at})" if gauge.at else "")
            findings.warning("picture", words, None, "tell the developers of plangen")
    record = make_record(
        checked.design,
        checked.take_off,
        checked.order,
        style,
        paper,
        options.edition,
        findings,
        booklet.pages,
        __version__,
        page_texts(booklet.pdf),
        resolve,
        source.settings,
    )
    files = {"booklet.pdf": booklet.pdf, "drawings/gauges.csv": gauges_csv(gauges)}
    files |= {f"drawings/{name}": data for name, data in plates.svg_files().items()}
    files |= {f"drawings/{name}": data for name, data in plates.dxf_files().items()}
    if options.edition != "sample":  # a sample is given away; its lists would be the whole of the work
        lists = list_files(
            checked.design, checked.take_off, style, paper, source.folder_name, source.settings
        )
        files |= {f"lists/{name}": data for name, data in lists.items()}
        files["labels.pdf"] = _labels(checked, style, sheet, options.first_label)
    record["files"] = sorted([*files, RECORD])
    files[RECORD] = record_bytes(record)
    last = read_record(source.last_record)
    comparison = compare(last, record) if last is not None and _same_variant(last, record) else None
    if comparison is not None and (notice := changes_markdown(comparison, style)):
        files[CHANGES] = notice.encode()
    stale = tuple(name for name in _files_of(last) if name not in files)
    return BuildResult(findings, files, {FILE_NAME: write_marks(checked.marks)}, comparison, stale)


def _same_variant(last: dict[str, Any], record: dict[str, Any]) -> bool:
    """Whether two records are of one variant: what another has is different, and not changed."""
    edition = last.get("edition")
    settings = edition.get("settings", []) if isinstance(edition, dict) else []
    return bool(settings == record["edition"]["settings"])


def _files_of(record: dict[str, Any] | None) -> tuple[str, ...]:
    """What the last build wrote, by its record; a record that says nothing sound names nothing."""
    named = (record or {}).get("files")
    names = [name for name in named if isinstance(name, str)] if isinstance(named, list) else []
    return (*names, CHANGES) if record is not None else ()


def _label_sheet(options: BuildOptions, paper: Literal["letter", "a4"], findings: Findings) -> LabelSheet:
    """Give the sheet for the labels; adds the error ``label-sheet`` for one that cannot be printed on so."""
    from plangen.drawing.label_sheets import USUAL, find_sheet, sheets_said

    sheet = USUAL[paper] if options.labels is None else find_sheet(options.labels)
    if sheet is None:
        message = f"there is no label sheet `{options.labels}`"
        findings.error("label-sheet", message, None, f"there are {sheets_said()}")
        return USUAL[paper]
    if not 1 <= options.first_label <= sheet.number:
        message = f"the sheet has {sheet.number} labels and no label {options.first_label}"
        findings.error("label-sheet", message, None, f"begin at a label from 1 to {sheet.number}")
    return sheet


def _labels(checked: Checked, style: LengthStyle, sheet: LabelSheet, first: int) -> bytes:
    from plangen.booklet.label_file import label_pdf
    from plangen.drawing.part_label import label_pages
    from plangen.takeoff.part_labels import part_labels

    labels = part_labels(checked.design, checked.take_off)
    return label_pdf(label_pages(labels, sheet, style, first), checked.design.project)


def style_of(options: BuildOptions, design: Design) -> LengthStyle:
    """How this booklet prints lengths."""
    return LengthStyle(options.units or design.project.units)


def _read(source: Source, findings: Findings) -> Description | None:
    description = read_description(source.text, source.file, findings)
    if description is None or not source.settings:
        return description
    try:
        return apply_settings(description, source.settings, findings)
    except ProjectError as error:
        findings.extend(error.findings)
        return None


def _marks_in_build_order(
    description: Description, design: Design, order: OrderOfWork, kept: KeptMarks
) -> KeptMarks:
    """Mark parts in the order in which the steps put them in place, then those that are only cut."""
    part_of = design.part_of
    placed = [mark_name(part_of[copy]) for step in order.steps for copy in step.placed]
    typed = {name: str(entry.mark) for name, entry in description.parts.items() if entry.mark is not None}
    return assign_marks((*placed, *mark_names(design)), typed, kept)
